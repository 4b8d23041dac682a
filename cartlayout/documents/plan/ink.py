"""Pens, brushes and sizes: one unit of measure for lines and letters on every device."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainterPath, QPen, QPolygonF

from ..lettering import Face
from ..theme import Theme
from .picture import XY, Box

PT_MM = 25.4 / 72.0
"""A typographic point."""

# In points, as seen on paper or at 100 % on the screen.
NAME_PT = 7.6
SUB_PT = 7.1
PILL_PT = 7.3
TAG_PT = 7.1


@dataclass(frozen=True, slots=True)
class Ink:
    """A theme, and how large a typographic point is in the painter's coordinates.

    Painting at 1:12 in millimetres of the plan, a point is 12 * 25.4 / 72 units.
    """

    theme: Theme
    unit: float

    def pen(
        self, colour: str, width_pt: float, dash: Sequence[float] = (), flat: bool = False
    ) -> QPen:
        """A pen of the caller's own; dashes are counted in pen widths."""
        return QPen(_pen(colour, width_pt * self.unit, tuple(dash), flat))

    def face(self, size_pt: float, weight: int = 400) -> Face:
        """Lettering of a size in points."""
        return Face(size_pt * self.unit, weight)


@lru_cache(maxsize=1024)
def _pen(colour: str, width: float, dash: tuple[float, ...], flat: bool) -> QPen:
    """Kept, because dozens of the same pens are asked for at every step of a drag."""
    pen = QPen(QColor(colour), width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap if dash or flat else Qt.PenCapStyle.RoundCap)
    if dash:
        pen.setDashPattern(list(dash) if len(dash) % 2 == 0 else [*dash, dash[-1]])
    return pen


@lru_cache(maxsize=256)
def brush(colour: str) -> QBrush:
    """A plain fill."""
    return QBrush(QColor(colour))


def no_brush() -> QBrush:
    """Nothing inside."""
    return QBrush(Qt.BrushStyle.NoBrush)


def no_pen() -> QPen:
    """No outline."""
    return QPen(Qt.PenStyle.NoPen)


@lru_cache(maxsize=256)
def blend(over: str, under: str, share: float) -> str:
    """A colour between two: `share` of the first over the second, opaque for print."""
    a, b = QColor(over), QColor(under)
    mixed = (
        round(x * share + y * (1.0 - share))
        for x, y in zip((a.red(), a.green(), a.blue()), (b.red(), b.green(), b.blue()), strict=True)
    )
    return "#{:02x}{:02x}{:02x}".format(*mixed)


def polygon(points: Sequence[XY]) -> QPolygonF:
    """Corners for Qt."""
    return QPolygonF([QPointF(x, y) for x, y in points])


def rounded_box(box: Box, radius: float) -> QPainterPath:
    """A box with round corners."""
    radius = min(radius, box.width / 2, box.height / 2)
    path = QPainterPath()
    path.addRoundedRect(box.x, box.y, box.width, box.height, radius, radius)
    return path


def rounded_line(points: Sequence[XY], radius: float) -> QPainterPath:
    """A polyline whose corners are rounded as far as its pieces are long enough."""
    path = QPainterPath()
    path.moveTo(*points[0])
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        into = _towards(corner, before, radius)
        out = _towards(corner, after, radius)
        path.lineTo(*into)
        path.quadTo(corner[0], corner[1], *out)
    path.lineTo(*points[-1])
    return path


@lru_cache(maxsize=512)
def rounded_polygon(points: tuple[XY, ...], radius: float) -> QPainterPath:
    """A closed outline with rounded corners: bodies are painted anew many times where they are."""
    path = QPainterPath()
    if radius <= 0:
        path.addPolygon(polygon(points))
        path.closeSubpath()
        return path
    count = len(points)
    for at, corner in enumerate(points):
        into = _towards(corner, points[at - 1], radius)
        out = _towards(corner, points[(at + 1) % count], radius)
        if at == 0:
            path.moveTo(*into)
        else:
            path.lineTo(*into)
        path.quadTo(corner[0], corner[1], *out)
    path.closeSubpath()
    return path


def _towards(start: XY, end: XY, by: float) -> XY:
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = (dx * dx + dy * dy) ** 0.5
    if size == 0:
        return start
    by = min(by, size / 2)
    return start[0] + dx / size * by, start[1] + dy / size * by
