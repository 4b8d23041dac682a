"""Dimensions of an elevation: the cart's width below, heights above the floor at both sides."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...units import UnitSystem, show
from ..plan.picture import Box
from ..plan.texts import scale_bar_steps
from ..sheet.elements import SMALL, BoxItem, Element, LineItem, PathItem, TextItem
from .layout import (
    COLUMN_GAP,
    DIMENSION_ROW,
    LINE,
    MARK_GAP,
    NUMBER_FACE,
    Place,
    name_lines,
    number_text,
    parts_m,
)
from .model import Elevation, Height

THIN_PT = 0.4
_SLASH = 0.8
_BAR = 44.0
"""Longest length of the scale bar."""


def width_dimensions(drawn: Elevation, place: Place, system: UnitSystem) -> Iterator[Element]:
    """Under the floor: the cart, and in a second row with what stands out from it."""
    yield from _dimension(place, 0.0, drawn.width_m, 1, show(drawn.width_m, "tape", system))
    left, right = parts_m(drawn)
    if (left, right) != (0.0, drawn.width_m):
        yield from _dimension(place, left, right, 2, show(right - left, "tape", system))


def _dimension(
    place: Place, left_m: float, right_m: float, row: int, text: str
) -> Iterator[Element]:
    (ax, floor), (bx, _) = place.on_sheet((left_m, 0.0)), place.on_sheet((right_m, 0.0))
    y = floor + row * DIMENSION_ROW - 1.2
    for x in (ax, bx):
        yield LineItem(x, floor + 1.0, x, y + 0.9, THIN_PT, "ink_muted")
        yield LineItem(x - _SLASH, y + _SLASH, x + _SLASH, y - _SLASH, THIN_PT, "ink_muted")
    half = NUMBER_FACE.width(text) / 2 + 1.0
    middle = (ax + bx) / 2
    if bx - ax > 2 * half:
        yield LineItem(ax, y, middle - half, y, THIN_PT, "ink_muted")
        yield LineItem(middle + half, y, bx, y, THIN_PT, "ink_muted")
    yield TextItem(middle, y + NUMBER_FACE.cap / 2, text, SMALL, 600, "ink", 0.5)


def spread(
    wanted: Sequence[float], rooms: Sequence[float], top: float, bottom: float
) -> list[float]:
    """Move places on a line so that each has its room before the next, as little as may be.

    Args:
        wanted: in order, each where it would like to be.
        rooms: how much each takes until the next may come.
        top: least value; the first may not be less.
        bottom: greatest value, as long as there is room for all.
    """
    before = [sum(rooms[:at]) for at in range(len(rooms))]
    groups: list[tuple[float, int]] = []  # where a group would begin, and how many are in it
    for value, offset in zip(wanted, before, strict=True):
        groups.append((value - offset, 1))
        while len(groups) > 1 and groups[-1][0] < groups[-2][0]:
            (mean, count), (other, many) = groups.pop(), groups.pop()
            groups.append(((mean * count + other * many) / (count + many), count + many))
    starts = [mean for mean, count in groups for _ in range(count)]
    most = max(bottom - (before[-1] if before else 0.0), top)
    return [
        min(max(start, top), most) + offset for start, offset in zip(starts, before, strict=True)
    ]


@dataclass(frozen=True, slots=True)
class MarkPlace:
    """Where a height is written: middle of the number's line, at the end that faces the drawing."""

    height: Height
    x: float
    y: float


def mark_places(drawn: Elevation, place: Place, system: UnitSystem) -> list[MarkPlace]:
    """Every height in its place beside the drawing, none on another."""
    found = []
    left, right, _, _ = drawn.bounds
    for side in ("left", "right"):
        marks = sorted(
            (one for one in drawn.heights if one.side == side), key=lambda one: -one.height_m
        )
        ys = spread(
            [place.on_sheet((0.0, one.height_m))[1] for one in marks],
            [LINE * (1 + len(name_lines(one, system))) + MARK_GAP for one in marks],
            place.area.y + LINE,
            place.origin[1],
        )
        edge = place.on_sheet((left if side == "left" else right, 0.0))[0]
        x = edge + (-COLUMN_GAP if side == "left" else COLUMN_GAP)
        found += [MarkPlace(mark, x, y) for mark, y in zip(marks, ys, strict=True)]
    return found


def height_marks(
    drawn: Elevation, place: Place, system: UnitSystem
) -> tuple[list[Element], list[Element]]:
    """Lines that belong under the drawing, and numbers with names beside it."""
    under: list[Element] = []
    over: list[Element] = []
    for mark in mark_places(drawn, place, system):
        under.append(_mark_line(mark, place))
        over += _mark_texts(mark, system)
    return under, over


def _mark_line(mark: MarkPlace, place: Place) -> PathItem:
    x, z = place.on_sheet((mark.height.at_m, mark.height.height_m))
    sign = -1.0 if mark.height.side == "left" else 1.0
    kink = mark.x - sign * (COLUMN_GAP - 1.2)
    points = ((x, z), (kink, z), (mark.x - sign * 0.8, mark.y))
    return PathItem(points, False, "", "line_strong", THIN_PT)


def _mark_texts(mark: MarkPlace, system: UnitSystem) -> Iterator[TextItem]:
    align = 1.0 if mark.height.side == "left" else 0.0
    baseline = mark.y + NUMBER_FACE.cap / 2
    number = number_text(mark.height, system)
    yield TextItem(mark.x, baseline, number, SMALL, 600, "ink", align)
    for at, text in enumerate(name_lines(mark.height, system), 1):
        yield TextItem(mark.x, baseline + LINE * at, text, SMALL, 400, "ink_muted", align)


def scale_bar(place: Place, area: Box, system: UnitSystem) -> Iterator[Element]:
    """Two steps, one filled, one empty, at the right end of a row."""
    step, texts = scale_bar_steps(system, _BAR * place.denominator)
    step /= place.denominator
    x, y = area.right - 2 * step - 6.0, area.y + 0.8
    yield BoxItem(Box(x, y, step, 1.1), "ink", "ink", 0.0, 0.5)
    yield BoxItem(Box(x + step, y, step, 1.1), "panel", "ink", 0.0, 0.5)
    for at, text in enumerate(texts):
        yield TextItem(x + at * step, y + 4.1, text, SMALL, 400, "ink", 0.5)
