"""Dimensions of an elevation: the cart's width below, heights above the floor at both sides."""

from collections.abc import Iterator, Sequence

from ...units import UnitSystem, show
from ..plan.picture import Box
from ..plan.texts import scale_bar_steps
from ..sheet.elements import SMALL, BoxItem, Element, LineItem, PathItem, TextItem
from .elevation import Elevation, Height
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

THIN_PT = 0.4
_SLASH = 0.8


def width_dimensions(drawn: Elevation, place: Place, system: UnitSystem) -> Iterator[Element]:
    """Under the floor: the cart, and in a second row with what stands out from it."""
    yield from _dimension(place, 0.0, drawn.width_m, 1, show(drawn.width_m, "length", system))
    left, right = parts_m(drawn)
    if (left, right) != (0.0, drawn.width_m):
        yield from _dimension(place, left, right, 2, show(right - left, "length", system))


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


def height_marks(
    drawn: Elevation, place: Place, system: UnitSystem
) -> tuple[list[Element], list[Element]]:
    """Lines that belong under the drawing, and numbers with names beside it."""
    under: list[Element] = []
    over: list[Element] = []
    for side in ("left", "right"):
        marks = sorted(
            (one for one in drawn.heights if one.side == side), key=lambda one: -one.height_m
        )
        ys = spread(
            [place.on_sheet((0.0, one.height_m))[1] for one in marks],
            [LINE * (1 + len(name_lines(one))) + MARK_GAP for one in marks],
            place.area.y + LINE,
            place.origin[1],
        )
        for mark, y in zip(marks, ys, strict=True):
            lines, texts = _mark(drawn, place, mark, y, system)
            under += lines
            over += texts
    return under, over


def _mark(
    drawn: Elevation, place: Place, mark: Height, y: float, system: UnitSystem
) -> tuple[list[Element], list[Element]]:
    x, z = place.on_sheet((mark.at_m, mark.height_m))
    left, right, _, _ = drawn.bounds
    sign = -1.0 if mark.side == "left" else 1.0
    edge = place.on_sheet((left if sign < 0 else right, 0.0))[0]
    text_x = edge + sign * COLUMN_GAP
    kink = edge + sign * 1.2
    points = ((x, z), (kink, z), (text_x - sign * 0.8, y))
    line = PathItem(points, False, "", "line_strong", THIN_PT)
    align = 1.0 if sign < 0 else 0.0
    number = TextItem(
        text_x, y + NUMBER_FACE.cap / 2, number_text(mark, system), SMALL, 600, "ink", align
    )
    names: list[Element] = [
        TextItem(text_x, number.baseline + LINE * (at + 1), text, SMALL, 400, "ink_muted", align)
        for at, text in enumerate(name_lines(mark))
    ]
    return [line], [number, *names]


def scale_bar(place: Place, area: Box, system: UnitSystem) -> Iterator[Element]:
    """Two steps, one filled, one empty, at the right end of a row."""
    step, texts = scale_bar_steps(system, min(60.0, area.width / 4) * place.denominator)
    step /= place.denominator
    x, y = area.right - 2 * step - 6.0, area.y + 0.8
    yield BoxItem(Box(x, y, step, 1.1), "ink", "ink", 0.0, 0.5)
    yield BoxItem(Box(x + step, y, step, 1.1), "panel", "ink", 0.0, 0.5)
    for at, text in enumerate(texts):
        yield TextItem(x + at * step, y + 4.1, text, SMALL, 400, "ink", 0.5)
