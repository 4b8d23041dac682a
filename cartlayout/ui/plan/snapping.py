"""Where a body that is being dragged comes to rest: on the grid, or in line with its neighbours.

Pure geometry in metres, without Qt, so that it can be tested alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ...units import UnitSystem

INCH = 0.0254


class Box(NamedTuple):
    """An upright rectangle on the plan, metres."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle_x(self) -> float:
        """Middle from left to right."""
        return (self.left + self.right) / 2

    @property
    def middle_y(self) -> float:
        """Middle from rear to front."""
        return (self.top + self.bottom) / 2

    def moved(self, dx: float, dy: float) -> "Box":
        """The same rectangle elsewhere."""
        return Box(self.left + dx, self.top + dy, self.right + dx, self.bottom + dy)

    @classmethod
    def around(cls, points: Iterable[tuple[float, float]]) -> "Box":
        """The smallest upright rectangle that holds all points; there must be one."""
        xs, ys = zip(*points, strict=True)
        return cls(min(xs), min(ys), max(xs), max(ys))

    def joined(self, other: "Box") -> "Box":
        """The smallest upright rectangle that holds both."""
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )


class Guide(NamedTuple):
    """A line that shows what a dragged body is in line with, metres."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Snap:
    """How far to move, after snapping, and the lines that explain it."""

    dx: float
    dy: float
    guides: tuple[Guide, ...] = ()


def grid_step_m(system: UnitSystem) -> float:
    """Step of the grid that bodies rest on: half an inch, or a centimetre."""
    return INCH / 2 if system is UnitSystem.US else 0.01


def fine_step_m(system: UnitSystem) -> float:
    """Step of a fine nudge: a sixteenth of an inch, or a millimetre."""
    return INCH / 16 if system is UnitSystem.US else 0.001


def drawn_grid_m(system: UnitSystem, pixels_per_m: float, least_px: float = 14.0) -> float:
    """Distance of the drawn grid lines: the finest of the person's steps that stays calm.

    Every step is a multiple of the one before, so that lines only come and go when zooming.
    """
    steps: Sequence[float] = (
        (INCH / 2, INCH, 6 * INCH, 12 * INCH, 60 * INCH)
        if system is UnitSystem.US
        else (0.01, 0.05, 0.1, 0.5, 1.0, 5.0)
    )
    return next((step for step in steps if step * pixels_per_m >= least_px), steps[-1])


def snap_move(
    box: Box,
    dx: float,
    dy: float,
    neighbours: Sequence[Box],
    grid_m: float,
    reach_m: float,
) -> Snap:
    """Adjust a move of `box` so that it rests in line with something.

    A neighbour's edge or middle within reach wins over the grid; otherwise the
    left and rear edges come to rest on the grid. The two directions are
    looked at apart from each other.
    """
    moved = box.moved(dx, dy)
    pull_x = _pull(
        (moved.left, moved.right),
        moved.middle_x,
        [(other.left, other.right, other.middle_x) for other in neighbours],
        reach_m,
    )
    pull_y = _pull(
        (moved.top, moved.bottom),
        moved.middle_y,
        [(other.top, other.bottom, other.middle_y) for other in neighbours],
        reach_m,
    )
    ddx = pull_x if pull_x is not None else _to_grid(moved.left, grid_m)
    ddy = pull_y if pull_y is not None else _to_grid(moved.top, grid_m)
    rest = moved.moved(ddx, ddy)
    guides: list[Guide] = []
    if pull_x is not None:
        guides.extend(_upright_guides(rest, neighbours))
    if pull_y is not None:
        guides.extend(_level_guides(rest, neighbours))
    return Snap(dx + ddx, dy + ddy, tuple(guides))


def _to_grid(value: float, grid_m: float) -> float:
    return round(value / grid_m) * grid_m - value if grid_m > 0 else 0.0


def _pull(
    edges: tuple[float, float],
    middle: float,
    lines: list[tuple[float, float, float]],
    reach: float,
) -> float | None:
    """The shortest way to the nearest line: edges look at edges, middles at middles."""
    best: float | None = None
    for low, high, centre in lines:
        for step in (
            low - edges[0],
            high - edges[1],
            high - edges[0],
            low - edges[1],
            centre - middle,
        ):
            if abs(step) <= reach and (best is None or abs(step) < abs(best) - 1e-9):
                best = step
    return best


_SAME = 1e-6


def _upright_guides(rest: Box, neighbours: Sequence[Box]) -> list[Guide]:
    """Vertical lines, one for every x at which the resting body meets a neighbour's line."""
    found: dict[int, Guide] = {}
    for other in neighbours:
        pairs = [(e, o) for e in (rest.left, rest.right) for o in (other.left, other.right)]
        pairs.append((rest.middle_x, other.middle_x))
        for mine, theirs in pairs:
            if abs(mine - theirs) < _SAME:
                key = round(theirs / _SAME)
                old = found.get(key)
                top, bottom = min(rest.top, other.top), max(rest.bottom, other.bottom)
                if old:
                    top, bottom = min(top, old.y1), max(bottom, old.y2)
                found[key] = Guide(theirs, top, theirs, bottom)
    return list(found.values())


def _level_guides(rest: Box, neighbours: Sequence[Box]) -> list[Guide]:
    """Horizontal lines, by turning the picture on its side."""
    turned = _upright_guides(_turned(rest), [_turned(other) for other in neighbours])
    return [Guide(guide.y1, guide.x1, guide.y2, guide.x2) for guide in turned]


def _turned(box: Box) -> Box:
    return Box(box.top, box.left, box.bottom, box.right)
