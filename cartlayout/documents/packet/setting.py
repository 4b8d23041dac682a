"""Sizes of type on a page. Millimetres."""

from dataclasses import dataclass

from ..lettering import Face
from ..sheet.elements import BODY, SMALL, STRONG, TITLE

LEAST_SMALL = 2.3
"""6.5 pt, below which print is not read on a wall (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Setting:
    """All sizes of one sheet, together smaller where it has to stay on one page."""

    share: float = 1.0
    """Of the usual sizes."""

    @property
    def small(self) -> float:
        """Cells, names of facts, notes."""
        return SMALL * self.share

    @property
    def body(self) -> float:
        """Sentences."""
        return BODY * self.share

    @property
    def heading(self) -> float:
        """A part of a sheet."""
        return STRONG * 1.12 * self.share

    @property
    def title(self) -> float:
        """The sheet."""
        return TITLE * self.share

    def gap(self, usual_mm: float) -> float:
        """A distance; it shrinks somewhat more than the type does."""
        return usual_mm * self.share**2

    def face(self, size: float, weight: int = 400) -> Face:
        """Lettering."""
        return Face(size, weight)


SETTINGS = tuple(Setting(share) for share in (1.0, 0.96, LEAST_SMALL / SMALL))
"""From the usual one down to the least."""
