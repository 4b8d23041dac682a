"""The cart, the bodies on it, the venue's band, and the marks that findings leave."""

import math

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from ...findings.finding import Severity
from .ink import Ink, blend, brush, no_brush, no_pen, polygon, rounded_box, rounded_polygon
from .picture import BodyShape, Box
from .silhouettes import Silhouette, laid_into
from .symbols import symbol

BODY_RADIUS_MM = 12.0
GHOST_DASH = (4.0, 3.0)
LEAST_SYMBOL_PT = 9.0
"""A silhouette smaller than this is a blot; none is drawn."""
LEAST_BODY_PT = 8.0
"""Nothing at all is drawn in a body smaller than this."""
SYMBOL_LINE_PT = 0.75
SYMBOL_INK = 0.62
"""Share of the ink in the lines and solid parts of a silhouette; quieter than names."""


def draw_venue(painter: QPainter, box: Box, ink: Ink) -> None:
    """The band that holds what belongs to the venue."""
    painter.setPen(ink.pen(ink.theme.line, 0.7))
    painter.setBrush(brush(ink.theme.venue))
    painter.drawPath(rounded_box(box, 18.0))


def draw_body(
    painter: QPainter, body: BodyShape, ink: Ink, label: Box | None = None, selected: bool = False
) -> None:
    """A piece of equipment; on another level only its dashed outline.

    Args:
        painter: scaled to millimetres of the plan.
        body: what to draw.
        ink: colours and sizes.
        label: where its name will stand; the silhouette keeps clear of it.
        selected: outlined in the selection's colour.
    """
    outline = rounded_polygon(body.corners, BODY_RADIUS_MM)
    if body.ghosted:
        draw_ghost(painter, body, ink, selected)
        return
    painter.setPen(
        ink.pen(ink.theme.selection, 1.8) if selected else ink.pen(ink.theme.body_edge, 0.9)
    )
    painter.setBrush(brush(ink.theme.panel_raised if body.venue else ink.theme.body))
    painter.drawPath(outline)
    if min(body.width, body.depth) < LEAST_BODY_PT * ink.unit:
        return
    ground = ink.theme.panel_raised if body.venue else ink.theme.body
    shape = silhouette_of(body, symbol_room(body, ink, label))
    painter.save()
    painter.translate(*body.centre)
    painter.rotate(body.rotation)
    _paint_silhouette(painter, shape, ink.theme.ink, ground, ink.pen("#000000", SYMBOL_LINE_PT))
    painter.restore()
    if label is not None and shape.under_name and body.box.meets(label):
        painter.setPen(no_pen())
        painter.setBrush(brush(ground))
        painter.drawPath(rounded_box(label, 2.0 * ink.unit))


def draw_ghost(painter: QPainter, body: BodyShape, ink: Ink, selected: bool = False) -> None:
    """The dashed outline of something on another level."""
    colour = ink.theme.selection if selected else ink.theme.ghost
    painter.setPen(ink.pen(colour, 1.4 if selected else 0.8, GHOST_DASH))
    painter.setBrush(no_brush())
    painter.drawPath(rounded_polygon(body.corners, BODY_RADIUS_MM))


def symbol_room(body: BodyShape, ink: Ink, label: Box | None) -> Box | None:
    """The largest part of the body that the label leaves free, or None where all are small."""
    inset = min(3.0 * ink.unit, 0.07 * min(body.width, body.depth))
    whole = body.inner.grown(-inset)
    if label is None or not whole.meets(label):
        rooms = [whole]
    else:
        gap = 1.0 * ink.unit
        rooms = [
            Box(whole.x, whole.y, whole.width, label.y - gap - whole.y),
            Box(whole.x, label.bottom + gap, whole.width, whole.bottom - label.bottom - gap),
            Box(whole.x, whole.y, label.x - gap - whole.x, whole.height),
            Box(label.right + gap, whole.y, whole.right - label.right - gap, whole.height),
        ]
    best = max(rooms, key=lambda room: round(min(room.width, room.height), 6))
    return best if min(best.width, best.height) >= LEAST_SYMBOL_PT * ink.unit else None


def silhouette_of(body: BodyShape, room: Box | None) -> Silhouette:
    """The body's symbol around its middle, un-turned, laid into a room on the plan."""
    whole = Box(-body.width / 2, -body.depth / 2, body.width, body.depth)
    if room is None:
        return laid_into(body.symbol, whole, None)
    x, y = room.centre
    angle = math.radians(-body.rotation)
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = x - body.centre[0], y - body.centre[1]
    x, y = x * cos - y * sin, x * sin + y * cos
    width, height = room.width, room.height
    if body.rotation % 180.0 == 90.0:
        width, height = height, width
    elif body.rotation % 90.0:
        width = height = min(width, height)
    # Rounded, so that a body that is carried about finds what was made for it before.
    turned = (round(one, 2) for one in (x - width / 2, y - height / 2, width, height))
    return laid_into(body.symbol, whole, Box(*turned))


def draw_symbol(painter: QPainter, name: str, box: Box, ink: str, ground: str, line: float) -> None:
    """A silhouette with its own outline, as a picture that stands alone.

    Args:
        painter: any painter.
        name: of the symbol.
        box: where, in the painter's coordinates.
        ink: the theme's ink; lines and tones are mixed from it and the ground.
        ground: colour of what it is drawn on.
        line: width of its lines.
    """
    whole = symbol(name).box
    scale = min(box.width / whole.width, box.height / whole.height)
    width, height = whole.width * scale, whole.height * scale
    x, y = box.centre
    box = Box(x - width / 2, y - height / 2, width, height)
    pen = QPen(QColor(ink), line)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    _paint_silhouette(painter, laid_into(name, box, box, outlined=True), ink, ground, pen)


def _paint_silhouette(
    painter: QPainter, shape: Silhouette, ink: str, ground: str, pen: QPen
) -> None:
    painter.setPen(no_pen())
    for tone, path in shape.tones:
        painter.setBrush(brush(blend(ink, ground, SYMBOL_INK * tone)))
        painter.drawPath(path)
    pen.setColor(QColor(blend(ink, ground, SYMBOL_INK)))
    painter.setPen(pen)
    painter.setBrush(no_brush())
    painter.drawPath(shape.lines)


def draw_mark(
    painter: QPainter, x: float, y: float, size: float, severity: Severity | str, ink: Ink
) -> None:
    """The mark of a verdict: colour and shape together; `size` is its whole height."""
    mark = ink.theme.mark(severity)
    half = size / 2
    painter.setPen(ink.pen(ink.theme.cart, 0.8))
    painter.setBrush(brush(mark.fill))
    if mark.shape == "diamond":
        grown = half * 1.12
        painter.drawPolygon(
            polygon([(x, y - grown), (x + grown, y), (x, y + grown), (x - grown, y)])
        )
    elif mark.shape == "triangle":
        painter.drawPolygon(
            polygon(
                [(x, y - half), (x + half * 1.1, y + half * 0.9), (x - half * 1.1, y + half * 0.9)]
            )
        )
    else:
        painter.drawEllipse(QPointF(x, y), half, half)
    _sign(painter, x, y, half, mark.shape, mark.on_fill, ink)


def _sign(
    painter: QPainter, x: float, y: float, half: float, shape: str, colour: str, ink: Ink
) -> None:
    pen = ink.pen(colour, 1.0)
    pen.setWidthF(half * 0.26)
    painter.setPen(pen)
    painter.setBrush(no_brush())
    if shape == "tick":
        painter.drawPolyline(
            QPolygonF(
                [
                    QPointF(x - half * 0.45, y + half * 0.02),
                    QPointF(x - half * 0.1, y + half * 0.38),
                    QPointF(x + half * 0.48, y - half * 0.34),
                ]
            )
        )
        return
    top, stem, dot = (-0.5, 0.12, 0.46) if shape != "triangle" else (-0.3, 0.22, 0.56)
    painter.drawLine(QPointF(x, y + half * top), QPointF(x, y + half * stem))
    painter.setPen(no_pen())
    painter.setBrush(brush(colour))
    painter.drawEllipse(QPointF(x, y + half * dot), half * 0.14, half * 0.14)
