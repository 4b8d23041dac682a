"""Where the numbers and words of a drag stand, so that none lies on another. Metres, without Qt."""

import math
from collections.abc import Callable, Iterator, Sequence

from .gestures.base import Measure
from .snapping import Box, Guide

SizeOf = Callable[[str], tuple[float, float]]
"""Width and height of a text with its margin, metres."""

NUMBER_AT_PX = 38.0
"""Distance of a measured number from what is dragged: near the eye, not on things half way."""
_AWAY_PX = 4.0
_ON_LINE_PX = 14.0
"""A line shows so much on either side of a number that stands on it."""


def place_measures(
    measures: Sequence[Measure], size_of: SizeOf, px_m: float, dragged: Box | None
) -> list[Box]:
    """A box for the number of every measure: on its line, or beside it where that is short."""
    placed: list[Box] = []
    for measure in measures:
        spots = list(_spots(measure, size_of(measure.text), px_m))
        free = [box for box in spots if not _on_any(box, placed)]
        clear = [box for box in free if dragged is None or not _meet(box, dragged)]
        placed.append((clear or free or spots)[0])
    return placed


def place_words(
    guides: Sequence[Guide], size_of: SizeOf, px_m: float, taken: Sequence[Box]
) -> list[tuple[str, Box]]:
    """Boxes for what guides say; what has no free place at its line is left out."""
    found: list[tuple[str, Box]] = []
    for guide in guides:
        if not guide.says:
            continue
        for box in _beside(guide, size_of(guide.says), px_m):
            if not _on_any(box, [*taken, *(other for _, other in found)]):
                found.append((guide.says, box))
                break
    return found


def _spots(measure: Measure, size: tuple[float, float], px_m: float) -> Iterator[Box]:
    """Good places for a number, best first."""
    (ax, ay), (bx, by) = measure.a, measure.b
    length = math.dist(measure.a, measure.b)
    level = abs(bx - ax) >= abs(by - ay)
    long = size[0] if level else size[1]
    shares = []
    if length > long + 2 * _ON_LINE_PX * px_m:
        half = (long / 2 + _ON_LINE_PX * px_m) / length
        shares = [min(max(NUMBER_AT_PX * px_m / length, half), 1 - half), 0.5, 1 - half]
        for share in shares:
            yield _around(ax + (bx - ax) * share, ay + (by - ay) * share, size)
    away = (size[1] if level else size[0]) / 2 + _AWAY_PX * px_m
    for share in (0.5, *shares):
        x, y = ax + (bx - ax) * share, ay + (by - ay) * share
        for far in (away, away + (size[1] if level else size[0]) + _AWAY_PX * px_m):
            for side in (-1, 1):
                yield _around(*((x, y + side * far) if level else (x + side * far, y)), size)


def _beside(guide: Guide, size: tuple[float, float], px_m: float) -> Iterator[Box]:
    """Beyond the ends of a guide, then along it."""
    x1, y1, x2, y2, _ = guide
    away = _AWAY_PX * px_m
    width, height = size
    if x1 == x2:
        low, high = min(y1, y2), max(y1, y2)
        yield _around(x1, low - away - height / 2, size)
        yield _around(x1, high + away + height / 2, size)
        for share in (0.15, 0.85, 0.5):
            for side in (1, -1):
                y = low + (high - low) * share
                yield _around(x1 + side * (away + width / 2), y, size)
        return
    low, high = min(x1, x2), max(x1, x2)
    yield _around(high + away + width / 2, y1, size)
    yield _around(low - away - width / 2, y1, size)
    for share in (0.15, 0.85, 0.5):
        for side in (-1, 1):
            yield _around(low + (high - low) * share, y1 + side * (away + height / 2), size)


def _around(x: float, y: float, size: tuple[float, float]) -> Box:
    return Box(x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2)


def _on_any(box: Box, others: Sequence[Box]) -> bool:
    return any(_meet(box, other) for other in others)


def _meet(a: Box, b: Box) -> bool:
    return a.left < b.right and b.left < a.right and a.top < b.bottom and b.top < a.bottom
