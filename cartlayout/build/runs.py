"""What joins ports: wires and tubes."""

from ..units import Length, Pressure, Temperature
from .base import Part
from .cart import Point
from .ports import Cord


class End(Part, frozen=True):
    """A port of an item."""

    item: str
    port: str


class Wire(Part, frozen=True, tag="wire", tag_field="type"):
    """A plug in a receptacle, with the cord between."""

    id: str
    a: End
    b: End | None = None
    """None while the other end hangs free."""
    cord: Cord | None = None
    """Conductors and length where they are not those of the plug's own cord."""
    waypoints: tuple[Point, ...] = ()


class Tube(Part, frozen=True):
    """A kind of tube; kept whole in the build so that it opens the same anywhere."""

    name: str
    outer: Length
    bore: Length
    material: str
    roughness: Length = Length("0.0015 mm")
    rating: Pressure | None = None
    rating_at: Temperature | None = None
    potable: bool = True
    least_bend_radius: Length | None = None


class PipeFitting(Part, frozen=True):
    """A loss along a tube: elbows, couplings, adapters."""

    name: str
    loss_coefficient: float
    """Velocity heads in the tube's bore."""
    count: int = 1


class TubeRun(Part, frozen=True, tag="tube", tag_field="type"):
    """A tube between two ports, for supply water or for drain."""

    id: str
    a: End
    tube: Tube
    b: End | None = None
    length: Length | None = None
    """None: worked out from the route, plus the spare."""
    spare: Length = Length("0 in")
    fittings: tuple[PipeFitting, ...] = ()
    waypoints: tuple[Point, ...] = ()


Run = Wire | TubeRun
