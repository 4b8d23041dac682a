"""Polylines and curves as points: the drawing rounds them, the label placement avoids them."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from .picture import XY, RunShape


def simplified(points: Sequence[XY], tolerance: float = 0.01) -> list[XY]:
    """Without repeated points, and without corners at which nothing turns."""
    kept: list[XY] = []
    for point in points:
        if kept and math.dist(kept[-1], point) <= tolerance:
            continue
        if len(kept) >= 2 and _straight(kept[-2], kept[-1], point, tolerance):
            kept[-1] = point
        else:
            kept.append(point)
    return kept


def _straight(a: XY, b: XY, c: XY, tolerance: float) -> bool:
    across = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    along = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return along > 0 and abs(across) <= tolerance * math.dist(a, b)


def cubic(points: Sequence[XY], t: float) -> XY:
    """Point of a cubic curve (start, two handles, end) at 0 <= t <= 1."""
    s = 1.0 - t
    weights = (s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t)
    return (
        sum(w * p[0] for w, p in zip(weights, points, strict=True)),
        sum(w * p[1] for w, p in zip(weights, points, strict=True)),
    )


def flattened(run: RunShape, pieces: int = 16) -> tuple[XY, ...]:
    """The run as straight pieces, for hit tests and for keeping labels off it."""
    if not run.curve:
        return run.points
    return tuple(cubic(run.points, i / pieces) for i in range(pieces + 1))


def split(points: Sequence[XY], at: XY) -> tuple[tuple[XY, ...], tuple[XY, ...]]:
    """The polyline in two parts, at the place on it that is nearest to a point."""
    best: tuple[float, int, XY] | None = None
    for index, (a, b) in enumerate(itertools.pairwise(points)):
        piece = (b[0] - a[0], b[1] - a[1])
        square = piece[0] ** 2 + piece[1] ** 2 or 1.0
        t = ((at[0] - a[0]) * piece[0] + (at[1] - a[1]) * piece[1]) / square
        t = min(max(t, 0.0), 1.0)
        place = (a[0] + t * piece[0], a[1] + t * piece[1])
        away = round(math.dist(place, at), 6)
        if best is None or away < best[0]:
            best = (away, index, place)
    if best is None:
        return tuple(points), ()
    _, index, place = best
    return (
        tuple(simplified([*points[: index + 1], place])),
        tuple(simplified([place, *points[index + 1 :]])),
    )


def length(points: Sequence[XY]) -> float:
    """Along the polyline."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


def at_share(points: Sequence[XY], share: float) -> tuple[XY, XY]:
    """Point at a share of the length, and the unit direction there."""
    total = length(points)
    left = share * total
    a, b = points[0], points[-1]
    for a, b in itertools.pairwise(points):
        piece = math.dist(a, b)
        if piece > 0 and left <= piece:
            break
        left -= piece
    piece = math.dist(a, b) or 1.0
    direction = ((b[0] - a[0]) / piece, (b[1] - a[1]) / piece)
    left = min(max(left, 0.0), piece)
    return (a[0] + direction[0] * left, a[1] + direction[1] * left), direction


def longest_piece(points: Sequence[XY]) -> tuple[XY, XY]:
    """Ends of the longest straight piece; of equals the first."""
    return max(itertools.pairwise(points), key=lambda pair: round(math.dist(*pair), 6))


@lru_cache(maxsize=512)
def near_part(run: RunShape) -> RunShape:
    """The run as if there were no more of it than is on the shown level."""
    if not run.near:
        return run
    starts = run.near[0] == run.points[0]
    ends = (run.ends[0], "") if starts else ("", run.ends[1])
    return replace(run, points=run.near, near=(), far=(), ends=ends, curve=False)


@lru_cache(maxsize=512)
def far_part(run: RunShape) -> RunShape:
    """The other part."""
    starts = run.far[0] == run.points[0]
    ends = (run.ends[0], "") if starts else ("", run.ends[1])
    return replace(run, points=run.far, near=(), far=(), climb=None, ends=ends, ghosted=True)
