"""What joins ports: wires and tubes."""

from ..units import Length, Pressure, Temperature
from .base import Part
from .ports import Cord


class WayPoint(Part, frozen=True):
    """A place on the plan that a run is led over."""

    x: Length
    y: Length
    height: Length | None = None
    """Above the floor; None: as high as the run is there by itself."""


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
    waypoints: tuple[WayPoint, ...] = ()


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
    warm_rating: Pressure | None = None
    """At the highest temperature that a rating is stated for."""
    warm_rating_at: Temperature | None = None
    elastic_modulus: Pressure | None = None
    """Of its wall, for the speed of a pressure wave; None: typical of its material."""


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
    waypoints: tuple[WayPoint, ...] = ()


Run = Wire | TubeRun
