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


class Zone(Part, frozen=True):
    """A rectangle on a level: a hole, a place nothing may stand, or one kept free."""

    name: str
    kind: Literal["opening", "no-go", "reserved"]
    level: str
    x: Length
    y: Length
    width: Length
    depth: Length


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
    door_width: Length | None = None
    """Narrowest passage on the way in, if known."""

    def level(self, name: str) -> Level | None:
        """The level of that name, or None."""
        return next((level for level in self.levels if level.name == name), None)
