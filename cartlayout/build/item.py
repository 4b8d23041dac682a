"""A piece of equipment in its place."""

from typing import Literal

from ..units import Length, Pressure
from .base import Part
from .specification import Specification

VENUE = "venue"
"""The level of things that are not on the cart: outlets, mains taps, floor drains."""


class Reading(Part, frozen=True):
    """What a gauge showed."""

    case: str
    """Name of the operating case it was read in, such as "All shut"."""
    pressure: Pressure


class Item(Part, frozen=True):
    """Something placed on the cart, or something of the venue's."""

    id: str
    specification: Specification
    level: str
    """Name of a level of the cart, or "venue"."""
    x: Length
    """Of the middle of the body."""
    y: Length
    label: str = ""
    """What the person calls it; empty: the specification's name."""
    rotation: float = 0.0
    """Degrees clockwise as seen on the plan."""
    mount: Literal["standing", "hanging", "wall"] = "standing"
    raised: Length = Length("0 in")
    """Height of the underside above the level's surface."""
    fill: float = 1.0
    """Share of a tank that is full now."""
    readings: tuple[Reading, ...] = ()
    """What the person read off, where it is a gauge."""
    locked: bool = False
    group: str | None = None
    """Items of one group move and turn together; a group that does not travel lifts out as one."""
    travels: bool = True
    """Stays on the cart while the cart is moved; False: is carried in by hand."""

    @property
    def name(self) -> str:
        """What to call it on the screen."""
        return self.label or self.specification.name
