"""Where a body that is being dragged comes to rest: on the grid, or in line with its neighbours.

Pure geometry in metres, without Qt, so that it can be tested alone.
"""

import itertools
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
    says: str = ""
    """What it is, such as "middle" or "cart edge"; empty: the line says enough."""


class Gap(NamedTuple):
    """A free distance between two bodies, metres."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length_m(self) -> float:
        """How wide it is."""
        return abs(self.x2 - self.x1) + abs(self.y2 - self.y1)


@dataclass(frozen=True, slots=True)
class Snap:
    """How far to move, after snapping, and the lines that explain it."""

    dx: float
    dy: float
    guides: tuple[Guide, ...] = ()
    gaps: tuple[Gap, ...] = ()
    """Gaps that are equal now."""


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
    cart: Box | None = None,
) -> Snap:
    """Adjust a move of `box` so that it rests in line with something.

    A neighbour's or the cart's edge or middle within reach wins over the grid,
    and so does the place where gaps become equal; otherwise the left and rear
    edges come to rest on the grid. The two directions are looked at apart from
    each other.
    """
    moved = box.moved(dx, dy)
    things = (*neighbours, *((cart,) if cart is not None else ()))
    across = _pull(moved, things, neighbours, cart, reach_m)
    turned_cart = _turned(cart) if cart is not None else None
    along = _pull(
        _turned(moved),
        tuple(_turned(one) for one in things),
        [_turned(one) for one in neighbours],
        turned_cart,
        reach_m,
    )
    ddx = across if across is not None else _to_grid(moved.left, grid_m)
    ddy = along if along is not None else _to_grid(moved.top, grid_m)
    rest = moved.moved(ddx, ddy)
    guides: list[Guide] = []
    gaps: list[Gap] = []
    if across is not None:
        guides.extend(_upright_guides(rest, neighbours, cart))
        gaps.extend(equal_gaps(rest, neighbours, cart))
    if along is not None:
        guides.extend(_level_guides(rest, neighbours, cart))
        turned = [_turned(one) for one in neighbours]
        gaps.extend(
            Gap(one.y1, one.x1, one.y2, one.x2)
            for one in equal_gaps(_turned(rest), turned, turned_cart)
        )
    return Snap(dx + ddx, dy + ddy, tuple(guides), tuple(gaps))


def _to_grid(value: float, grid_m: float) -> float:
    return round(value / grid_m) * grid_m - value if grid_m > 0 else 0.0


def _pull(
    box: Box,
    things: Sequence[Box],
    neighbours: Sequence[Box],
    cart: Box | None,
    reach: float,
) -> float | None:
    """The shortest way across to a line or to equal gaps; lines go before gaps.

    Edges look at edges, middles at middles.
    """
    best: float | None = None
    steps = [
        step
        for other in things
        for step in (
            other.left - box.left,
            other.right - box.right,
            other.left - box.right,
            other.right - box.left,
            other.middle_x - box.middle_x,
        )
    ]
    steps += [place - box.left for place in _evenly_spaced(box, neighbours, cart, reach)]
    for step in steps:
        if abs(step) <= reach and (best is None or abs(step) < abs(best) - 1e-9):
            best = step
    return best


_SAME = 1e-6
_LEAST_GAP = 0.004
_ENDS = 3
"""So many neighbours to either side are looked at for equal gaps."""


def _row(
    box: Box, neighbours: Sequence[Box], cart: Box | None, slack: float
) -> tuple[list[Box], list[Box]]:
    """What stands left and right of a body in its row, the nearest first; the cart's edges last."""
    beside = [one for one in neighbours if one.top < box.bottom - _SAME and box.top < one.bottom]
    left = sorted(
        (one for one in beside if one.right <= box.left + slack), key=lambda one: -one.right
    )
    right = sorted(
        (one for one in beside if one.left >= box.right - slack), key=lambda one: one.left
    )
    if cart is not None and cart.left <= box.left + slack and box.right - slack <= cart.right:
        left.append(Box(cart.left, cart.top, cart.left, cart.bottom))
        right.append(Box(cart.right, cart.top, cart.right, cart.bottom))
    return left[:_ENDS], right[:_ENDS]


def _evenly_spaced(
    box: Box, neighbours: Sequence[Box], cart: Box | None, slack: float
) -> list[float]:
    """Left edges at which a gap beside the body is equal to the next one in the row."""
    left, right = _row(box, neighbours, cart, slack)
    width = box.right - box.left
    places = []
    if left and right:
        room = right[0].left - left[0].right - width
        if room > 2 * _LEAST_GAP:
            places.append(left[0].right + room / 2)
    if len(left) > 1 and (gap := left[0].left - left[1].right) > _LEAST_GAP:
        places.append(left[0].right + gap)
    if len(right) > 1 and (gap := right[1].left - right[0].right) > _LEAST_GAP:
        places.append(right[0].left - gap - width)
    return places


def equal_gaps(rest: Box, neighbours: Sequence[Box], cart: Box | None) -> list[Gap]:
    """The gaps in a resting body's row that are equal to one beside it; none or at least two."""
    left, right = _row(rest, neighbours, cart, _SAME)
    chain = [*reversed(left), rest, *right]
    at = len(left)
    gaps = [
        (number, _gap(first, second))
        for number, (first, second) in enumerate(itertools.pairwise(chain))
    ]
    beside = {number: gap for number, gap in gaps if number in (at - 1, at)}
    for gap in beside.values():
        same = [
            (number, one) for number, one in gaps if abs(one.length_m - gap.length_m) < 10 * _SAME
        ]
        near = [one for number, one in same if at - 2 <= number <= at + 1]
        if gap.length_m > _LEAST_GAP and len(near) > 1:
            return near
    return []


def _gap(first: Box, second: Box) -> Gap:
    top, bottom = max(first.top, second.top), min(first.bottom, second.bottom)
    y = (top + bottom) / 2
    return Gap(first.right, y, second.left, y)


def _upright_guides(rest: Box, neighbours: Sequence[Box], cart: Box | None) -> list[Guide]:
    """Vertical lines, one for every x at which the resting body meets a line of something."""
    found: dict[int, Guide] = {}
    things = [(other, "") for other in neighbours]
    things += [(cart, "cart ")] if cart is not None else []
    for other, whose in things:
        pairs = [(e, o, "edge") for e in (rest.left, rest.right) for o in (other.left, other.right)]
        pairs.append((rest.middle_x, other.middle_x, "middle"))
        for mine, theirs, what in pairs:
            if abs(mine - theirs) < _SAME:
                key = round(theirs / _SAME)
                top, bottom = min(rest.top, other.top), max(rest.bottom, other.bottom)
                says = f"{whose}{what}"
                old = found.get(key)
                if old is not None:
                    top, bottom = min(top, old.y1), max(bottom, old.y2)
                    says = says if len(says) > len(old.says) else old.says
                found[key] = Guide(theirs, top, theirs, bottom, says)
    return list(found.values())


def _level_guides(rest: Box, neighbours: Sequence[Box], cart: Box | None) -> list[Guide]:
    """Horizontal lines, by turning the picture on its side."""
    turned = _upright_guides(
        _turned(rest),
        [_turned(other) for other in neighbours],
        _turned(cart) if cart is not None else None,
    )
    return [Guide(one.y1, one.x1, one.y2, one.x2, one.says) for one in turned]


def _turned(box: Box) -> Box:
    return Box(box.top, box.left, box.bottom, box.right)
