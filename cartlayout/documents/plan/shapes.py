"""The cart, the bodies on it, the venue's band, and the marks that findings leave."""

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF

from ...findings.finding import Severity
from .ink import Ink, blend, brush, no_brush, no_pen, polygon, rounded_box, rounded_polygon
from .picture import BodyShape, Box, CartShape, ZoneShape
from .symbols import SIDE, symbol

BODY_RADIUS_MM = 12.0
GHOST_DASH = (4.0, 3.0)
LEAST_SYMBOL_PT = 11.0
"""A silhouette smaller than this is a blot; none is drawn."""


def draw_cart(painter: QPainter, cart: CartShape, ink: Ink) -> None:
    """The surface and its outline."""
    painter.setPen(ink.pen(ink.theme.ink, 1.6))
    painter.setBrush(brush(ink.theme.cart))
    painter.drawPath(rounded_polygon(cart.outline, cart.corner_radius))


def draw_casters(painter: QPainter, cart: CartShape, ink: Ink) -> None:
    """Wheels, hidden under the cart: faint."""
    painter.setPen(ink.pen(blend(ink.theme.ghost, ink.theme.cart, 0.55), 0.5))
    painter.setBrush(no_brush())
    for x, y in cart.casters:
        painter.drawEllipse(QPointF(x, y), 38.0, 38.0)


def draw_venue(painter: QPainter, box: Box, ink: Ink) -> None:
    """The band that holds what belongs to the venue."""
    painter.setPen(ink.pen(ink.theme.line, 0.7))
    painter.setBrush(brush(ink.theme.venue))
    painter.drawPath(rounded_box(box, 18.0))


def draw_zone(painter: QPainter, zone: ZoneShape, ink: Ink) -> None:
    """A hole or a kept-free place: hatched."""
    box = zone.box
    colour = ink.theme.ghost if zone.ghosted else ink.theme.ink_muted
    painter.save()
    painter.setPen(ink.pen(colour, 0.6, GHOST_DASH if zone.ghosted else ()))
    painter.setBrush(no_brush())
    painter.drawRect(QRectF(box.x, box.y, box.width, box.height))
    if not zone.ghosted:
        painter.setPen(ink.pen(blend(colour, ink.theme.cart, 0.45), 0.4))
        painter.drawPath(_hatching(box, 7.0 * ink.unit))
    painter.restore()


def _hatching(box: Box, step: float) -> QPainterPath:
    path = QPainterPath()
    at = step
    while at < box.width + box.height:
        # From the top or right edge down to the left or bottom edge.
        over = max(0.0, at - box.width)
        under = max(0.0, at - box.height)
        path.moveTo(box.x + at - over, box.y + over)
        path.lineTo(box.x + under, box.y + at - under)
        at += step
    return path


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
    room = symbol_room(body, ink, label)
    if room is not None:
        under = ink.theme.panel_raised if body.venue else ink.theme.body
        draw_symbol(
            painter,
            body.symbol,
            room,
            ink,
            blend(ink.theme.ink, under, 0.72 if body.venue else 0.5),
            body.rotation,
        )


def draw_ghost(painter: QPainter, body: BodyShape, ink: Ink, selected: bool = False) -> None:
    """The dashed outline of something on another level."""
    colour = ink.theme.selection if selected else ink.theme.ghost
    painter.setPen(ink.pen(colour, 1.4 if selected else 0.8, GHOST_DASH))
    painter.setBrush(no_brush())
    painter.drawPath(rounded_polygon(body.corners, BODY_RADIUS_MM))


def symbol_room(body: BodyShape, ink: Ink, label: Box | None) -> Box | None:
    """The largest square of the body that the label leaves free, or None where all are small."""
    inset = min(4.0 * ink.unit, 0.08 * min(body.width, body.depth))
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
    side = min(best.width, best.height, 0.86 * max(body.width, body.depth))
    if side < LEAST_SYMBOL_PT * ink.unit:
        return None
    x, y = best.centre
    return Box(x - side / 2, y - side / 2, side, side)


def draw_symbol(
    painter: QPainter,
    name: str,
    box: Box,
    ink: Ink,
    colour: str | None = None,
    rotation: float = 0.0,
) -> None:
    """A silhouette, as large as the box allows without stretching it."""
    drawing = symbol(name)
    side = min(box.width, box.height)
    if side <= 0:
        return
    colour = colour or ink.theme.body_edge
    painter.save()
    painter.translate(*box.centre)
    painter.rotate(rotation)
    painter.scale(side / SIDE, side / SIDE)
    painter.translate(-SIDE / 2, -SIDE / 2)
    pen = ink.pen(colour, 0.75)
    pen.setWidthF(pen.widthF() * SIDE / side)
    painter.setPen(pen)
    painter.setBrush(no_brush())
    painter.drawPath(drawing.lines)
    if not drawing.fills.isEmpty():
        painter.setPen(no_pen())
        painter.setBrush(brush(colour))
        painter.drawPath(drawing.fills)
    painter.restore()


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
