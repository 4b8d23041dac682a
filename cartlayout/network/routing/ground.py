"""The cart as a run sees it: boards that it cannot pass through, and where it can pass them."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from ...build import Cart, Zone
from ...build.geometry import XY, outline
from .bodies import Flags, Floats

GAP_M = 0.025
"""Between the boards and the edge of the cart: lets plugs by. Common practice, no source."""
NEAR_M = 0.012
"""A line so near another is the same line."""
SAME_HEIGHT_M = 0.001
MOST_HOLES = 4
"""So many holes of a board are thought of between two places."""


@dataclass(frozen=True, slots=True)
class Board:
    """The surface of one level, with its holes."""

    level: str
    height_m: float
    holes: tuple[Zone, ...]

    @property
    def middles(self) -> list[XY]:
        """Of the holes."""
        return [_middle(hole) for hole in self.holes]

    def with_near_holes(self, a: XY, b: XY) -> "Board":
        """The board with those few holes only that are least out of the way between two places."""
        if len(self.holes) <= MOST_HOLES:
            return self

        def detour(hole: Zone) -> tuple[float, XY]:
            x, y = middle = _middle(hole)
            away = abs(x - a[0]) + abs(y - a[1]) + abs(x - b[0]) + abs(y - b[1])
            return round(away, 9), middle

        return replace(self, holes=tuple(sorted(self.holes, key=detour)[:MOST_HOLES]))


def _middle(hole: Zone) -> XY:
    return hole.x.si + hole.width.si / 2, hole.y.si + hole.depth.si / 2


class Gap(NamedTuple):
    """The line in the gap along an edge of the cart."""

    axis: int
    """0: it runs along x at one y; 1: along y at one x."""
    place_m: float
    low_m: float
    high_m: float


@dataclass(frozen=True, slots=True)
class Ground:
    """Outline, boards, and the lines along which runs are led."""

    corners: tuple[XY, ...]
    box: tuple[float, float, float, float]
    boards: tuple[Board, ...]
    trunk_axis: int
    """0: the trunk runs along x at one y, as at the rear; 1: along y at one x."""
    trunk_m: float
    """Where it is on the other axis."""
    edges: tuple["Gap", ...]
    """The gaps along all straight edges."""
    kept_free: tuple[Zone, ...]
    """Where nothing may stand, or what is kept for something else."""
    kept_free_boxes: Floats
    is_rectangle: bool
    """Whether the outline is its own box."""

    def crossed(self, low_m: float, high_m: float) -> tuple[Board, ...]:
        """Boards that an upright piece between two heights goes through."""
        return tuple(
            board
            for board in self.boards
            if low_m + SAME_HEIGHT_M < board.height_m < high_m - SAME_HEIGHT_M
        )

    def inside(self, xs: Floats, ys: Floats) -> Flags:
        """Which places are within the outline; its edge counts."""
        x0, y0, x1, y1 = self.box
        within: Flags = ((xs >= x0) & (xs <= x1)) & ((ys >= y0) & (ys <= y1))
        if not self.is_rectangle:
            within &= self._in_polygon(xs, ys)
        return within

    def near_edge(self, xs: Floats, ys: Floats) -> Flags:
        """Which places are in the gap along the edge, or outside."""
        reach = GAP_M + NEAR_M / 2
        x0, y0, x1, y1 = self.box
        if self.is_rectangle:
            near: Flags = ((xs <= x0 + reach) | (xs >= x1 - reach)) | (
                (ys <= y0 + reach) | (ys >= y1 - reach)
            )
            return near
        near = ~self._in_polygon(xs, ys)
        for gap in self.edges:
            across, along = (ys, xs) if gap.axis == 0 else (xs, ys)
            on = (along >= gap.low_m) & (along <= gap.high_m)
            near |= on & (np.abs(across - gap.place_m) <= NEAR_M / 2)
        return near

    def _in_polygon(self, xs: Floats, ys: Floats) -> Flags:
        within = np.zeros(np.broadcast(xs, ys).shape, dtype=bool)
        last = self.corners[-1]
        for corner in self.corners:
            (ax, ay), (bx, by) = last, corner
            if ay != by:
                spans = (ys < ay) != (ys < by)
                within ^= spans & (xs < ax + (ys - ay) / (by - ay) * (bx - ax))
            last = corner
        return within


@lru_cache(maxsize=64)
def ground_of(cart: Cart) -> Ground:
    """Take from a cart what runs need to know."""
    corners = outline(cart)
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    box = (min(xs), min(ys), max(xs), max(ys))
    panel = cart.rear_panel
    side = panel.side if panel is not None else "rear"
    off = GAP_M + (panel.thickness.si if panel is not None else 0.0)
    trunk_axis, trunk_m = {
        "rear": (0, box[1] + off),
        "front": (0, box[3] - off),
        "left": (1, box[0] + off),
        "right": (1, box[2] - off),
    }[side]
    holes = [zone for zone in cart.zones if zone.kind == "opening"]
    kept = tuple(zone for zone in cart.zones if zone.kind != "opening")
    x0, y0, x1, y1 = box
    return Ground(
        corners,
        box,
        tuple(
            Board(level.name, level.height.si, tuple(z for z in holes if z.level == level.name))
            for level in cart.levels
        ),
        trunk_axis,
        trunk_m,
        tuple(dict.fromkeys(_gaps(corners))),
        kept,
        np.array([_box(zone) for zone in kept]).reshape(len(kept), 4),
        set(corners) == {(x0, y0), (x1, y0), (x1, y1), (x0, y1)},
    )


def _box(zone: Zone) -> tuple[float, float, float, float]:
    x, y = zone.x.si, zone.y.si
    return x, y, x + zone.width.si, y + zone.depth.si


def _gaps(corners: tuple[XY, ...]) -> list[Gap]:
    """A line inside every straight edge. The way round the corners says where inside is."""
    area = sum(
        ax * by - bx * ay
        for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
    turn = 1.0 if area > 0 else -1.0
    gaps: list[Gap] = []
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if ay == by and ax != bx:
            inward = GAP_M if (bx - ax) * turn > 0 else -GAP_M
            gaps.append(Gap(0, ay + inward, min(ax, bx), max(ax, bx)))
        elif ax == bx and ay != by:
            inward = GAP_M if (by - ay) * turn < 0 else -GAP_M
            gaps.append(Gap(1, ax + inward, min(ay, by), max(ay, by)))
    return gaps
