"""Drawing of the cart: surface, leaves, legs, handle, rear panel, holes and kept-free zones.

What a zone is never hangs on a colour alone: a hole is crossed twice, a no-go
zone is hatched and says so, a reserved zone has a dashed edge and its name.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath

from ..lettering import Face, draw_text
from .ink import Ink, blend, brush, no_brush, no_pen, rounded_box, rounded_polygon
from .picture import Box, CartShape, LeafShape, LegShape, PlanPicture, ZoneShape

ZONE_PT = 6.6
LEAST_SHARE = 0.8
"""Words of a zone get so small before they are left out."""
LEAF_DASH = (3.0, 3.0)
ZONE_DASH = (6.0, 2.5)
GHOST_DASH = (4.0, 3.0)
CASTER_RADIUS_MM = 38.0
POST_AT = 0.16
"""The handle's posts stand so far from its ends, as a share of its length."""


def draw_cart(painter: QPainter, cart: CartShape, ink: Ink) -> None:
    """Leaves and handle, the surface over them, and what is fixed to it."""
    draw_around(painter, cart, ink)
    painter.setPen(ink.pen(ink.theme.ink, 1.6))
    painter.setBrush(brush(ink.theme.cart))
    painter.drawPath(rounded_polygon(cart.outline, 0.0))
    draw_fixtures(painter, cart, ink)


def draw_around(painter: QPainter, cart: CartShape, ink: Ink) -> None:
    """What stands out from the cart: leaves and handle."""
    for leaf in cart.leaves:
        _draw_leaf(painter, leaf, ink)
    _draw_handle(painter, cart, ink)


def draw_fixtures(painter: QPainter, cart: CartShape, ink: Ink, faint: bool = True) -> None:
    """What is fixed to it and under it: panel, wheels, legs."""
    if cart.panel is not None:
        _draw_panel(painter, cart.panel, ink)
    draw_casters(painter, cart, ink, faint)
    for leg in cart.legs:
        _draw_leg(painter, leg, ink)


def draw_casters(painter: QPainter, cart: CartShape, ink: Ink, faint: bool = True) -> None:
    """Wheels, hidden under the cart: faint, unless it is they that are looked at."""
    colour = blend(ink.theme.ghost, ink.theme.cart, 0.55) if faint else ink.theme.ink_muted
    painter.setPen(ink.pen(colour, 0.5 if faint else 0.9))
    painter.setBrush(no_brush())
    for x, y in cart.casters:
        painter.drawEllipse(QPointF(x, y), CASTER_RADIUS_MM, CASTER_RADIUS_MM)


def _draw_leg(painter: QPainter, leg: LegShape, ink: Ink) -> None:
    """A post: crossed where it stands on the floor."""
    colour = blend(ink.theme.ink_muted, ink.theme.cart, 0.75)
    box = leg.box
    painter.setPen(ink.pen(colour, 0.7, () if leg.carries else GHOST_DASH))
    painter.setBrush(brush(blend(ink.theme.ink_muted, ink.theme.cart, 0.12)))
    painter.drawRect(_rect(box))
    if leg.carries:
        painter.drawLine(QPointF(box.x, box.y), QPointF(box.right, box.bottom))
        painter.drawLine(QPointF(box.right, box.y), QPointF(box.x, box.bottom))


def _draw_leaf(painter: QPainter, leaf: LeafShape, ink: Ink) -> None:
    """Up: part of the surface, with its hinge. Down: the strip it is, and dashed where it goes."""
    theme = ink.theme
    if leaf.up:
        painter.setPen(ink.pen(theme.ink, 1.1))
        painter.setBrush(brush(theme.cart))
        painter.drawPath(rounded_box(leaf.box, 8.0))
    else:
        painter.setPen(ink.pen(theme.ghost, 0.8, LEAF_DASH))
        painter.setBrush(no_brush())
        painter.drawPath(rounded_box(leaf.box, 8.0))
        painter.setPen(ink.pen(theme.ink_muted, 0.8))
        painter.setBrush(brush(blend(theme.ink_muted, theme.paper, 0.25)))
        painter.drawRect(_rect(leaf.hanging))
    said = leaf_words(leaf, ink)
    if said is not None:
        _draw_leaf_words(painter, leaf, said[0], ink)
    (x1, y1), (x2, y2) = leaf.hinge
    painter.setPen(ink.pen(theme.ink_muted, 2.2, flat=True))
    for share in (0.18, 0.82):
        for reach in (-0.04, 0.04):
            at = share + reach
            painter.drawLine(
                QPointF(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share),
                QPointF(x1 + (x2 - x1) * at, y1 + (y2 - y1) * at),
            )


def leaf_words(leaf: LeafShape, ink: Ink) -> tuple[str, Box] | None:
    """What is written on a leaf along its longer side, and where; None where there is no room."""
    words = leaf.name if leaf.up else f"{leaf.name}, down"
    face = _leaf_face(leaf, ink)
    box = leaf.box
    along, across = max(box.width, box.height), min(box.width, box.height)
    long, high = face.width(words), face.line
    if not words or long > along - 2 * ink.unit or high > across:
        return None
    wide, high = (long, high) if box.width >= box.height else (high, long)
    x, y = box.centre
    return words, Box(x - wide / 2, y - high / 2, wide, high)


def _leaf_face(leaf: LeafShape, ink: Ink) -> Face:
    return ink.face(ZONE_PT, 600 if leaf.up else 400)


def _draw_leaf_words(painter: QPainter, leaf: LeafShape, words: str, ink: Ink) -> None:
    face = _leaf_face(leaf, ink)
    painter.save()
    painter.translate(*leaf.box.centre)
    if leaf.box.width < leaf.box.height:
        painter.rotate(-90.0)
    draw_text(painter, 0.0, face.cap / 2, words, face, ink.theme.ink_muted, 0.5)
    painter.restore()


def ground_words(picture: PlanPicture, ink: Ink) -> list[Box]:
    """Where words of zones and leaves stand: no label may lie on them."""
    zones = (zone_words(zone, ink) for zone in picture.zones)
    leaves = (leaf_words(leaf, ink) for leaf in picture.cart.leaves)
    return [*(one.box for one in zones if one), *(one[1] for one in leaves if one)]


def _draw_handle(painter: QPainter, cart: CartShape, ink: Ink) -> None:
    """A bar on two posts, outside of the cart."""
    box = cart.handle
    if box is None:
        return
    painter.setBrush(no_brush())
    level = cart.handle_side in ("rear", "front")
    length = box.width if level else box.height
    near = {"rear": box.bottom, "front": box.y, "left": box.right, "right": box.x}
    far = {"rear": box.y, "front": box.bottom, "left": box.x, "right": box.right}
    start, end = near[cart.handle_side], far[cart.handle_side]
    low = box.x if level else box.y

    def at(along: float, across: float) -> QPointF:
        return QPointF(low + along, across) if level else QPointF(across, low + along)

    first, last = length * POST_AT, length * (1.0 - POST_AT)
    for width, colour in ((3.4, ink.theme.ink_muted), (2.0, ink.theme.body)):
        painter.setPen(ink.pen(colour, width))
        painter.drawPolyline([at(first, start), at(first, end), at(last, end), at(last, start)])


def _draw_panel(painter: QPainter, box: Box, ink: Ink) -> None:
    """The upright board, never so thin that it cannot be seen."""
    painter.setPen(ink.pen(ink.theme.ink, 0.6))
    painter.setBrush(brush(blend(ink.theme.ink_muted, ink.theme.cart, 0.55)))
    painter.drawRect(_rect(box))


# Zones


@dataclass(frozen=True, slots=True)
class ZoneWords:
    """What is written in a zone."""

    lines: tuple[str, ...]
    box: Box
    size_pt: float


def zone_words(zone: ZoneShape, ink: Ink) -> ZoneWords | None:
    """What there is room to write in a zone, and where; None for nothing."""
    if zone.ghosted:
        return None
    name = zone.name or {"opening": "hole", "no-go": "no-go"}.get(zone.kind, "")
    room = zone.box.grown(-1.5 * ink.unit)
    for lines in ((name, *zone.words), (name, *zone.words[-1:]), (name,)):
        shown = tuple(line for line in lines if line)
        for share in (1.0, LEAST_SHARE):
            face, small = ink.face(ZONE_PT * share, 600), ink.face(ZONE_PT * share)
            if not shown:
                return None
            width = max(face.width(shown[0]), *(small.width(one) for one in shown[1:]), 0.0)
            height = face.line * len(shown)
            if width <= room.width and height <= room.height:
                x, y = zone.box.centre
                box = Box(x - width / 2, y - height / 2, width, height)
                return ZoneWords(shown, box, ZONE_PT * share)
    return None


def draw_zone(painter: QPainter, zone: ZoneShape, ink: Ink, words: bool = True) -> None:
    """A hole, a no-go zone or a reserved one; of another level only its dashed edge."""
    path = zone_path(zone)
    theme = ink.theme
    if zone.ghosted:
        painter.setPen(ink.pen(theme.ghost, 0.6, GHOST_DASH))
        painter.setBrush(no_brush())
        painter.drawPath(path)
        return
    if zone.kind == "reserved":
        ground = blend(theme.ok.fill, theme.cart, 0.14)
        painter.setPen(ink.pen(theme.ok.ink, 0.9, ZONE_DASH))
        painter.setBrush(brush(ground))
        painter.drawPath(path)
    elif zone.kind == "opening":
        ground = theme.paper
        painter.setPen(no_pen())
        painter.setBrush(brush(ground))
        painter.drawPath(path)
        colour = blend(theme.ink, theme.paper, 0.38)
        _hatch(painter, zone, 5.0 * ink.unit, ink, colour, (1, -1))
        _edge(painter, path, theme.ink, 1.2, ink)
    else:
        ground = blend(theme.ink_muted, theme.cart, 0.07)
        painter.setPen(no_pen())
        painter.setBrush(brush(ground))
        painter.drawPath(path)
        colour = blend(theme.ink_muted, theme.cart, 0.55)
        _hatch(painter, zone, 6.0 * ink.unit, ink, colour, (1,))
        _edge(painter, path, theme.ink_muted, 0.9, ink)
    said = zone_words(zone, ink) if words else None
    if said is not None:
        _draw_words(painter, said, ground, ink)


def zone_path(zone: ZoneShape) -> QPainterPath:
    """The zone's edge."""
    path = QPainterPath()
    if zone.round:
        path.addEllipse(_rect(zone.box))
    else:
        path.addRect(_rect(zone.box))
    return path


def _edge(painter: QPainter, path: QPainterPath, colour: str, width_pt: float, ink: Ink) -> None:
    painter.setPen(ink.pen(colour, width_pt))
    painter.setBrush(no_brush())
    painter.drawPath(path)


def _hatch(
    painter: QPainter, zone: ZoneShape, step: float, ink: Ink, colour: str, ways: tuple[int, ...]
) -> None:
    painter.setPen(ink.pen(colour, 0.5))
    for way in ways:
        painter.drawLines(_lines(zone.box, step, way, zone.round))


@lru_cache(maxsize=64)
def _lines(box: Box, step: float, way: int, is_round: bool) -> list[QLineF]:
    """Slanting lines over a box or the ellipse in it; `way` 1 falls to the left, -1 to the right.

    Worked out to end at the edge: a painter that has to clip to an ellipse is slow.
    """
    lines = []
    at = step
    while at < box.width + box.height:
        top, bottom = max(0.0, at - box.width), min(at, box.height)
        if is_round:
            top, bottom = _chord(box, at)
        if top < bottom:
            x1, x2 = at - top, at - bottom
            if way < 0:
                x1, x2 = box.width - x1, box.width - x2
            lines.append(QLineF(box.x + x1, box.y + top, box.x + x2, box.y + bottom))
        at += step
    return lines


def _chord(box: Box, at: float) -> tuple[float, float]:
    """Where the line x + y = `at` enters and leaves the ellipse in a box: y from its top.

    The first is not less than the second where the line passes the ellipse by.
    """
    a, b = box.width / 2, box.height / 2
    # With x = at - y: ((at - y - a) / a)^2 + ((y - b) / b)^2 = 1.
    offset = at - a
    square = 1 / a**2 + 1 / b**2
    half = offset / a**2 + 1 / b
    inside = half**2 - square * (offset / a) ** 2
    if inside <= 0.0:
        return 0.0, 0.0
    root = math.sqrt(inside)
    return (half - root) / square, (half + root) / square


def _draw_words(painter: QPainter, words: ZoneWords, ground: str, ink: Ink) -> None:
    """Letters on a patch of the zone's ground, so that no hatching runs through them."""
    painter.setPen(no_pen())
    painter.setBrush(brush(ground))
    painter.drawPath(rounded_box(words.box.grown(1.0 * ink.unit), 1.5 * ink.unit))
    x, _ = words.box.centre
    top = words.box.y
    for at, line in enumerate(words.lines):
        face = ink.face(words.size_pt, 600 if at == 0 else 400)
        colour = ink.theme.ink if at == 0 else ink.theme.ink_muted
        draw_text(painter, x, top + (face.line + face.cap) / 2, line, face, colour, 0.5)
        top += face.line


def _rect(box: Box) -> QRectF:
    return QRectF(box.x, box.y, box.width, box.height)
