"""What an elevation is: plain values in metres."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from ..plan.picture import Medium
from .hiding import Line
from .things import Kind
from .view import UZ, View

Ring = tuple[UZ, ...]
Area = tuple[Ring, ...]
"""Its outline, then its holes: what stands before it and within its outline."""
SEEN_SHARE = 0.06
"""A body of which less is in sight has no name on the elevation."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the cart or a body."""

    key: str
    name: str
    kind: Kind
    level: str
    outline: Ring
    """Closed: the last corner joins the first."""
    areas: tuple[Area, ...]
    """What is in sight of it; behind the upright panel, what would be without that."""
    seen: tuple[Line, ...]
    unseen: tuple[Line, ...]
    bottom_m: float
    top_m: float
    seen_share: float
    """Of its area, in sight."""
    is_behind_panel: bool = False
    """Only the upright panel hides it."""

    @property
    def left_m(self) -> float:
        """Of its leftmost point."""
        return min(u for u, _ in self.outline)

    @property
    def right_m(self) -> float:
        """Of its rightmost point."""
        return max(u for u, _ in self.outline)


@dataclass(frozen=True, slots=True)
class RunPiece:
    """A wire or tube."""

    key: str
    medium: Medium
    letter: str
    points: Line
    """Of its whole way, as seen."""
    seen: tuple[Line, ...]
    unseen: tuple[Line, ...]
    ends: tuple[tuple[UZ, bool], ...]
    """Where its ports are, and whether they are in sight."""
    is_hot: bool = False
    """Its water comes from a heater."""
    is_cut: bool = False
    """It goes on beyond the drawing."""


@dataclass(frozen=True, slots=True)
class Height:
    """A height that is worth measuring."""

    name: str
    height_m: float
    at_m: float
    """Where it is, to the right."""
    side: Literal["left", "right"]
    """On which side of the drawing it is written."""
    kind: Literal["level", "venue", "tank", "top", "handle"]
    off_m: float = 0.0
    """How far beside the cart it is, where that is beyond the drawing."""


@dataclass(frozen=True)
class Elevation:
    """What is seen from one side.

    In metres: to the right from the cart's left edge, up from the floor.
    """

    view: View
    title: str
    width_m: float
    """Of the cart, without what stands out from it."""
    counter_m: float
    pieces: tuple[Piece, ...]
    """Nearest first."""
    runs: tuple[RunPiece, ...]
    heights: tuple[Height, ...]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest to the right, least and greatest height."""
        places = [place for piece in self.pieces for place in piece.outline]
        places += [place for run in self.runs for place in run.points]
        places += [(0.0, 0.0), (self.width_m, self.counter_m)]
        us, zs = zip(*places, strict=True)
        return min(us), max(us), min(*zs, 0.0), max(zs)
