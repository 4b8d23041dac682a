"""Pieces of a diagram as pictures of a sheet: side by side where there is room, none cut off."""

from collections.abc import Iterable

from ..packet.content import Drawn, Picture
from ..plan.picture import Box
from ..sheet.elements import (
    BoxItem,
    Element,
    LineItem,
    MarkItem,
    PathItem,
    RoundItem,
    SampleItem,
    TextItem,
)
from .cutting import Room, pieces
from .model import Diagram
from .places import Laid

_BESIDE = 12.0
_ABOVE = 2.0


def pictures(diagram: Diagram, room: Room) -> tuple[Picture, ...]:
    """A diagram as pictures, each no higher than a page.

    Args:
        diagram: anything.
        room: width and height that a page has for a picture, millimetres.
    """
    found = []
    for row in _rows(pieces(diagram, room), room):
        height = min(max(one.height for one in row) + 2 * _ABOVE, room.height)
        found.append(Picture(_draws(row), height, height))
    return tuple(found)


def _rows(every: Iterable[Laid], room: Room) -> list[list[Laid]]:
    """Pieces in rows, in their order."""
    rows: list[list[Laid]] = []
    width = 0.0
    for one in every:
        if rows and width + _BESIDE + one.width <= room.width:
            rows[-1].append(one)
            width += _BESIDE + one.width
        else:
            rows.append([one])
            width = one.width
    return rows


class _draws:  # noqa: N801 - called like a function
    """Puts a row of pieces into the box that it is given; smaller if it has to be."""

    def __init__(self, row: list[Laid]) -> None:
        self.row = row

    def __call__(self, box: Box) -> Drawn:
        width = sum(one.width for one in self.row) + _BESIDE * (len(self.row) - 1)
        height = max(one.height for one in self.row)
        scale = min(
            1.0,
            box.width / width if width else 1.0,
            max(box.height - 2 * _ABOVE, 1.0) / height if height else 1.0,
        )
        x, y = box.x, box.y + _ABOVE
        found: list[Element] = []
        for one in self.row:
            found += [
                scaled(element, scale).moved(x, y) if scale < 1.0 else element.moved(x, y)
                for element in one.elements
            ]
            x += (one.width + _BESIDE) * scale
        return Drawn(tuple(found))


def scaled(element: Element, by: float) -> Element:
    """The same about the origin, larger or smaller, pens kept as they are."""
    match element:
        case TextItem(x, baseline, text, size, weight, colour, align, turn):
            return TextItem(x * by, baseline * by, text, size * by, weight, colour, align, turn)
        case LineItem(ax, ay, bx, by_, width_pt, colour, dash):
            return LineItem(ax * by, ay * by, bx * by, by_ * by, width_pt, colour, dash)
        case BoxItem(box, fill, edge, radius, width_pt):
            smaller = Box(box.x * by, box.y * by, box.width * by, box.height * by)
            return BoxItem(smaller, fill, edge, radius * by, width_pt)
        case MarkItem(x, y, size, severity):
            return MarkItem(x * by, y * by, size * by, severity)
        case SampleItem(x, y, length, medium, letter):
            return SampleItem(x * by, y * by, length * by, medium, letter)
        case PathItem(points, closed, fill, edge, width_pt, dash):
            moved = tuple((x * by, y * by) for x, y in points)
            return PathItem(moved, closed, fill, edge, width_pt, dash)
        case RoundItem(x, y, radius_x, radius_y, fill, edge, width_pt, dash):
            return RoundItem(
                x * by, y * by, radius_x * by, radius_y * by, fill, edge, width_pt, dash
            )
