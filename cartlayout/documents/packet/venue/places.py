"""Where something of the venue's has to be, seen from the cart."""

from shapely import Point, Polygon

from ....build import Build, Item, Port
from ....build.cart_geometry import surface
from ....build.geometry import port_position
from ....units import Phrase, Value


def where(build: Build, item: Item, port: Port, name: str) -> Phrase:
    """A name, how far from the cart, how high above the floor."""
    x_m, y_m, z_m = port_position(build.cart, item, port)
    return Phrase.of(
        "{name}: {away} from the cart, {high} above the floor",
        name=name,
        away=Value(_distance_m(build, x_m, y_m), "distance"),
        high=Value(z_m, "distance"),
    )


def _distance_m(build: Build, x_m: float, y_m: float) -> float:
    """From a place on the plan to the nearest edge of the cart; 0 over it."""
    return float(Polygon(surface(build.cart)).distance(Point(x_m, y_m)))
