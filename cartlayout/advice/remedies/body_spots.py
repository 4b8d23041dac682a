"""Where on its level a body, or several that move as one, would stand free of everything.

The places that are looked at are those where an edge meets an edge: nearest to where it stands
now, a body always ends up against something, or on the grid of the measures people write.
"""

import math
from collections.abc import Callable, Collection, Iterable
from typing import Any

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ...analysis import Analysis
from ...body.frame import TOLERANCE_M, Frame
from ...body.solids import Solid, solids
from ...build import Build
from ...build.edits import with_

Bounds = tuple[float, float, float, float]
Offset = tuple[float, float]
Wants = Callable[[float, float], bool]

_GRID_M = {"US": 0.00254, "metric": 0.005}
"""A tenth of an inch, half a centimetre: what is shown is what it is."""
_LINES = 70
"""So many places in each direction are looked at, the nearest first."""
_COVERED = 60
"""So many are held against the outline of the cart, which costs more than the rest."""
_HAIR_M = TOLERANCE_M / 2
"""Bodies may touch; they meet where they share more than that."""


def spots(
    analysis: Analysis,
    build: Build,
    ids: Collection[str],
    *,
    wants: Wants | None = None,
    near_clearances: bool = True,
    off_leaves: bool = False,
) -> list[Offset]:
    """Offsets [m] at which some items stand on their level and in nothing's way, nearest first.

    Args:
        analysis: of the build as it is; what does not move is read from it.
        build: the same, perhaps with the items turned or on another level already.
        ids: what moves, all by the same.
        wants: says of an offset whether it will do; all will unless said.
        near_clearances: whether the spaces that equipment asks for are kept free as well.
        off_leaves: whether leaves are no place to stand on.
    """
    frame = analysis.body.frame
    moving = _moving(build, ids)
    if frame is None or not moving:
        return []
    levels = {body.item.level for body in moving}
    surface = _surface(frame, levels, off_leaves)
    if surface is None:
        return []
    rest = [one for key, one in analysis.body.solids.items() if key not in set(ids)]
    pairs = list(_pairs(frame, moving, rest, near_clearances))
    grid = _GRID_M[build.units]
    xs = _lines(pairs, moving, surface.bounds, grid, 0)
    ys = _lines(pairs, moving, surface.bounds, grid, 1)
    free = _free(xs, ys, pairs)
    free.sort(key=lambda at: (round(math.hypot(*at), 6), at))
    found = []
    for tried, (dx, dy) in enumerate(at for at in free if wants is None or wants(*at)):
        if tried >= _COVERED:
            break
        if _stands(moving, surface, dx, dy):
            found.append((dx, dy))
    return found


def _moving(build: Build, ids: Collection[str]) -> list[Solid]:
    items = tuple(item for item in build.items if item.id in set(ids))
    return solids(with_(build, items=items), {})


def _surface(frame: Frame, levels: Collection[str], off_leaves: bool) -> BaseGeometry | None:
    if len(levels) != 1:
        return None
    level = next(iter(levels))
    if not off_leaves or frame.outline is None or level not in frame.reached:
        return frame.reached.get(level)
    near = frame.outline.buffer(TOLERANCE_M, join_style="mitre")
    shapely.prepare(near)
    return near


def _pairs(
    frame: Frame, moving: list[Solid], rest: list[Solid], near_clearances: bool
) -> Iterable[tuple[Bounds, Bounds]]:
    """(bounds that move, bounds that they must not meet), of those that share a height."""
    for body in moving:
        for fixed in _fixed(frame, body, rest, near_clearances):
            yield body.bounds, fixed
        if not near_clearances:
            continue
        for space in body.spaces:
            for other in rest:
                if _share(space.bottom_m, space.top_m, other.bottom_m, other.top_m):
                    yield space.bounds, other.bounds
            panel = frame.panel
            if (
                panel is not None
                and space.side != "top"
                and _share(space.bottom_m, space.top_m, panel.bottom_m, panel.top_m)
            ):
                yield space.bounds, panel.bounds


def _fixed(frame: Frame, body: Solid, rest: list[Solid], near_clearances: bool) -> Iterable[Bounds]:
    for other in rest:
        if _share(body.bottom_m, body.top_m, other.bottom_m, other.top_m):
            yield other.bounds
        for space in other.spaces if near_clearances else ():
            if _share(body.bottom_m, body.top_m, space.bottom_m, space.top_m):
                yield space.bounds
    prisms = list(frame.legs)
    if frame.panel is not None and body.item.mount != "wall":
        prisms.append(frame.panel)
    for prism in prisms:
        if _share(body.bottom_m, body.top_m, prism.bottom_m, prism.top_m):
            yield prism.bounds
    for zone, shape in frame.zones:
        if zone.level == body.item.level and body.item.mount == "standing":
            yield shape.bounds


def _share(bottom_m: float, top_m: float, other_bottom_m: float, other_top_m: float) -> bool:
    return min(top_m, other_top_m) - max(bottom_m, other_bottom_m) >= TOLERANCE_M


def _lines(
    pairs: list[tuple[Bounds, Bounds]],
    moving: list[Solid],
    ground: Bounds,
    grid: float,
    axis: int,
) -> "np.ndarray[Any, Any]":
    """Offsets along one axis at which an edge meets an edge, rounded away from it.

    The ground is grown by the tolerance, which is taken off again.
    """
    found = {0.0}
    for body in moving:
        found.add(_up(ground[axis] + TOLERANCE_M - body.bounds[axis], grid))
        found.add(_down(ground[axis + 2] - TOLERANCE_M - body.bounds[axis + 2], grid))
    for mine, other in pairs:
        found.add(_up(other[axis + 2] - mine[axis], grid))
        found.add(_down(other[axis] - mine[axis + 2], grid))
    nearest = sorted(found, key=abs)[:_LINES]
    return np.array(sorted(nearest))


def _up(by_m: float, grid: float) -> float:
    return math.ceil(by_m / grid - 1e-6) * grid


def _down(by_m: float, grid: float) -> float:
    return math.floor(by_m / grid + 1e-6) * grid


def _free(
    xs: "np.ndarray[Any, Any]",
    ys: "np.ndarray[Any, Any]",
    pairs: list[tuple[Bounds, Bounds]],
) -> list[Offset]:
    """Every pair of offsets at which nothing meets."""
    met = np.zeros((len(xs), len(ys)), dtype=bool)
    for (left, rear, right, front), (left2, rear2, right2, front2) in set(pairs):
        across = (xs + left < right2 - _HAIR_M) & (xs + right > left2 + _HAIR_M)
        along = (ys + rear < front2 - _HAIR_M) & (ys + front > rear2 + _HAIR_M)
        met |= across[:, None] & along[None, :]
    return [(float(xs[i]), float(ys[j])) for i, j in zip(*np.nonzero(~met), strict=True)]


def _stands(moving: list[Solid], surface: BaseGeometry, dx_m: float, dy_m: float) -> bool:
    there = [
        affinity.translate(body.shape, dx_m, dy_m) for body in moving if body.item.mount != "wall"
    ]
    return bool(shapely.covers(surface, there).all())
