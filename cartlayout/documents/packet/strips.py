"""What is poured on pages: strips that are not broken, from upper left corners of their own."""

from collections.abc import Callable
from dataclasses import dataclass, field

from ..plan.picture import Box
from ..sheet.elements import Element
from .content import Drawn


@dataclass(frozen=True, slots=True)
class Strip:
    """So much of a sheet as stays together. Millimetres."""

    height: float
    elements: tuple[Element, ...] = ()
    gap: float = 0.0
    """Before it, unless it stands at the top of a page."""
    holds_next: bool = False
    """Never the last on a page: a heading."""
    repeated: tuple["Strip", ...] = ()
    """Set again above it where it is the first of a page: heads of a table."""


@dataclass(frozen=True, slots=True)
class PictureStrip:
    """A drawing that fits itself into what is left of the page."""

    draw: Callable[[Box], Drawn]
    least_height: float
    height: float | None = None
    gap: float = 0.0
    above: tuple[Strip, ...] = field(default=())
    """Its title: on the same page."""


AnyStrip = Strip | PictureStrip
