"""The cart itself: outline, levels, wheels, what must stay clear.

Coordinates of the plan: x runs to the right from the left edge, y runs from
the rear edge towards the front (down on the screen), z runs up from the floor.
"""

from typing import Literal

from ..units import Length, Mass
from .base import Part

Side = Literal["rear", "front", "left", "right"]


class Point(Part, frozen=True):
    """A place on the plan."""

    x: Length
    y: Length


class Level(Part, frozen=True):
    """A height band on which things stand."""

    name: str
    height: Length
    """Height of the standing surface above the floor."""
    clear_height: Length
    """Free height above the surface; on the counter up to what is overhead."""


class Caster(Part, frozen=True):
    """A wheel, with the load its maker allows."""

    x: Length
    y: Length
    rating: Mass


class CartLeg(Part, frozen=True):
    """A post from the floor up; it takes room, and carries where there are no wheels."""

    x: Length
    """Of the middle."""
    y: Length
    width: Length
    """Of the square or round post."""
    carries: bool = True
    """Stands on the floor; False: a post between wheels that only takes room."""


class Handle(Part, frozen=True):
    """What the cart is pushed by."""

    side: Side
    height: Length
    """Above the floor."""
    reach: Length = Length("4 in")
    """How far it stands out from the cart."""


class RearPanel(Part, frozen=True):
    """An upright board at one edge: gear hangs on it, wires and tubes run along it."""

    bottom: Length
    """Height of its lower edge above the floor."""
    top: Length
    side: Side = "rear"
    thickness: Length = Length("0.5 in")


class Leaf(Part, frozen=True):
    """A folding flap that lengthens the counter while it is up."""

    name: str
    side: Side
    start: Length
    """From the left end of the side it hangs on, or from its rear end."""
    length: Length
    """Along that side."""
    depth: Length
    """How far it stands out when it is up."""
    up: bool = True
    mass: Mass = Mass("0 kg")
    rating: Mass | None = None
    """The load its maker or builder allows on it."""
    thickness: Length = Length("1 in")
    """What it adds to the cart's width when it hangs down."""


class Zone(Part, frozen=True):
    """A place on a level: a hole, one where nothing may stand, or one kept free."""

    name: str
    kind: Literal["opening", "no-go", "reserved"]
    level: str
    x: Length
    """Of its left edge."""
    y: Length
    """Of its rear edge."""
    width: Length
    depth: Length
    round: bool = False
    """An ellipse in that rectangle, such as a drilled hole."""
    use: str = ""
    """What it is for, such as "jugs", "cups", "knock-out"."""


class Cart(Part, frozen=True):
    """The body that everything stands on."""

    width: Length
    depth: Length
    levels: tuple[Level, ...]
    outline: tuple[Point, ...] = ()
    """Corners in order where the cart is no rectangle; empty for width x depth."""
    corner_radius: Length = Length("0 in")
    casters: tuple[Caster, ...] = ()
    empty_mass: Mass = Mass("0 kg")
    centre_of_mass_height: Length = Length("0 in")
    operator_side: Side = "rear"
    zones: tuple[Zone, ...] = ()
    legs: tuple[CartLeg, ...] = ()
    handle: Handle | None = None
    rear_panel: RearPanel | None = None
    leaves: tuple[Leaf, ...] = ()

    def level(self, name: str) -> Level | None:
        """The level of that name, or None."""
        return next((level for level in self.levels if level.name == name), None)
