"""Everything on the plan that has letters: names, pills, tags, dimensions, the scale bar."""

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPolygonF

from ...units import UnitSystem
from ..lettering import Face, draw_text
from .ink import NAME_PT, PILL_PT, SUB_PT, TAG_PT, Ink, brush, no_pen, polygon, rounded_box
from .picture import XY, BodyShape, Box, Dimension, Note
from .shapes import draw_mark

LEAST_AWAY_PT = 13.0
"""A dimension line stands at least so far from what it measures."""


def name_faces(body: BodyShape, ink: Ink, share: float = 1.0) -> tuple[Face, Face]:
    """Lettering of a body's name and of the number under it, at a share of its usual size."""
    weight = 400 if body.ghosted else 600
    return ink.face(NAME_PT * share, weight), ink.face(SUB_PT * share)


def name_size(
    lines: Sequence[str], sub: str, body: BodyShape, ink: Ink, share: float = 1.0
) -> tuple[float, float]:
    """Width and height of a body's name in lines with its number, and more lines, under it."""
    name, small = name_faces(body, ink, share)
    under = sub.split("\n") if sub else []
    widths = [name.width(line) for line in lines] + [small.width(line) for line in under]
    height = len(lines) * name.line + len(under) * small.line
    return max(widths, default=0.0), height


def draw_name(
    painter: QPainter,
    box: Box,
    lines: Sequence[str],
    sub: str,
    body: BodyShape,
    ink: Ink,
    share: float = 1.0,
) -> None:
    """A body's name and number, centred in a box."""
    name, small = name_faces(body, ink, share)
    _, height = name_size(lines, sub, body, ink, share)
    x, y = box.centre
    top = y - height / 2
    colour = ink.theme.ghost_ink if body.ghosted else ink.theme.ink
    for line in lines:
        draw_text(painter, x, top + _rise(name), line, name, colour, 0.5)
        top += name.line
    colour = ink.theme.ghost_ink if body.ghosted else ink.theme.ink_muted
    for line in sub.split("\n") if sub else ():
        draw_text(painter, x, top + _rise(small), line, small, colour, 0.5)
        top += small.line


def _rise(face: Face) -> float:
    """From the top of a line to its baseline, capitals in the middle."""
    return (face.line + face.cap) / 2


def note_size(note: Note, ink: Ink) -> tuple[float, float]:
    """Width and height of a note's frame."""
    if note.kind == "tag":
        face = ink.face(TAG_PT, 700)
        side = face.size * 1.42
        return max(side, face.width(note.text) + 0.7 * face.size), side
    face = ink.face(PILL_PT, 600)
    mark = face.size * 1.2 if note.state in ("stop", "care") else 0.0
    return face.steady_width(note.text) + mark + 1.5 * face.size, face.size * 1.72


def draw_note(painter: QPainter, note: Note, box: Box, ink: Ink) -> None:
    """A note in its frame."""
    if note.kind == "tag":
        _draw_tag(painter, note, box, ink)
    else:
        _draw_pill(painter, note, box, ink)


def _draw_tag(painter: QPainter, note: Note, box: Box, ink: Ink) -> None:
    accent = ink.theme.circuit(note.letter)
    face = ink.face(TAG_PT, 700)
    painter.setPen(ink.pen(ink.theme.cart, 0.9))
    painter.setBrush(brush(accent.fill))
    painter.drawPath(rounded_box(box, box.height / 2))
    x, y = box.centre
    draw_text(painter, x, y + face.cap / 2, note.text, face, accent.on_fill, 0.5)


def _draw_pill(painter: QPainter, note: Note, box: Box, ink: Ink) -> None:
    theme = ink.theme
    bad = note.state in ("stop", "care")
    if bad:
        mark = theme.mark(note.state)
        edge, letters = mark.fill, mark.ink
    elif note.letter:
        accent = theme.circuit(note.letter)
        edge, letters = accent.line, accent.ink
    elif note.kind in ("weight", "water") and not note.state:
        edge, letters = theme.line_strong, theme.ink
    else:
        edge, letters = theme.ok.fill, theme.ok.ink
    face = ink.face(PILL_PT, 600)
    painter.setPen(ink.pen(edge, 1.0))
    painter.setBrush(brush(theme.panel_raised))
    painter.drawPath(rounded_box(box.grown(-0.5 * ink.unit), box.height / 2))
    x, y = box.centre
    if bad:
        size = face.size * 0.95
        at = box.x + 0.62 * face.size + size / 2
        draw_mark(painter, at, y, size, note.state, ink)
        x += 0.6 * face.size
    draw_text(painter, x, y + face.cap / 2, note.text, face, letters, 0.5)


def draw_leader(painter: QPainter, points: Sequence[XY], ink: Ink, colour: str = "") -> None:
    """A thin line from a label to what it speaks about, with a dot there."""
    if len(points) < 2:
        return
    colour = colour or ink.theme.ink_muted
    painter.setPen(ink.pen(colour, 0.5))
    painter.drawPolyline(polygon(points))
    painter.setPen(no_pen())
    painter.setBrush(brush(colour))
    painter.drawEllipse(QPointF(*points[-1]), 0.9 * ink.unit, 0.9 * ink.unit)


def dimension_text_box(dimension: Dimension, ink: Ink) -> Box:
    """Where the letters of a dimension stand."""
    face = ink.face(SUB_PT, 600)
    (ax, ay), (bx, by) = _dimension_line(dimension, ink)
    x, y = (ax + bx) / 2, (ay + by) / 2
    width, height = face.width(dimension.text) + 4 * ink.unit, face.line
    if abs(by - ay) > abs(bx - ax):
        width, height = height, width
    return Box(x - width / 2, y - height / 2, width, height)


def dimension_line_box(dimension: Dimension, ink: Ink) -> Box:
    """The strip along a dimension line that must stay free of letters."""
    return Box.around(list(_dimension_line(dimension, ink))).grown(1.2 * ink.unit)


def _dimension_line(dimension: Dimension, ink: Ink) -> tuple[XY, XY]:
    (ax, ay), (bx, by) = dimension.a, dimension.b
    size = math.hypot(bx - ax, by - ay) or 1.0
    # From far its letters would reach over what it measures.
    away = math.copysign(max(abs(dimension.offset), LEAST_AWAY_PT * ink.unit), dimension.offset)
    nx, ny = -(by - ay) / size * away, (bx - ax) / size * away
    return (ax + nx, ay + ny), (bx + nx, by + ny)


def draw_dimension(painter: QPainter, dimension: Dimension, ink: Ink) -> None:
    """Extension lines, the dimension line with slashes, and the number in its gap."""
    a, b = _dimension_line(dimension, ink)
    size = math.dist(a, b)
    if size == 0:
        return
    ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
    face = ink.face(SUB_PT, 600)
    painter.setPen(ink.pen(ink.theme.ink_muted, 0.5))
    for start, end in ((dimension.a, a), (dimension.b, b)):
        reach = math.dist(start, end) or 1.0
        ex, ey = (end[0] - start[0]) / reach, (end[1] - start[1]) / reach
        gap, over = 2.5 * ink.unit, 2.5 * ink.unit
        painter.drawLine(
            QPointF(start[0] + ex * gap, start[1] + ey * gap),
            QPointF(end[0] + ex * over, end[1] + ey * over),
        )
        slash = 2.2 * ink.unit
        painter.drawLine(
            QPointF(end[0] - (ux - uy) * slash, end[1] - (uy + ux) * slash),
            QPointF(end[0] + (ux - uy) * slash, end[1] + (uy + ux) * slash),
        )
    half = face.width(dimension.text) / 2 + 2 * ink.unit
    if size > 2 * half:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for end, sign in ((a, -1.0), (b, 1.0)):
            painter.drawLine(
                QPointF(middle[0] + sign * ux * half, middle[1] + sign * uy * half), QPointF(*end)
            )
    painter.save()
    painter.translate((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    angle = math.degrees(math.atan2(uy, ux)) % 180.0
    painter.rotate(angle - 180.0 if angle >= 90.0 else angle)
    draw_text(painter, 0.0, face.cap / 2, dimension.text, face, ink.theme.ink, 0.5)
    painter.restore()


def scale_bar_steps(system: UnitSystem, longest_mm: float) -> tuple[float, list[str]]:
    """Length of one step in mm, and the texts under the ends of the steps."""
    if system is UnitSystem.US:
        steps = [(12.0, "ft", 12.0), (6.0, "in", 1.0), (3.0, "in", 1.0), (1.0, "in", 1.0)]
        for inches, unit, per in steps:
            if 2 * inches * 25.4 <= longest_mm:
                return inches * 25.4, [
                    "0", f"{inches / per:g}", f"{2 * inches / per:g} {unit}"
                ]  # fmt: skip
        return 12.7, ["0", "1/2", "1 in"]
    for step in (1000.0, 500.0, 250.0, 200.0, 100.0, 50.0, 20.0, 10.0):
        if 2 * step <= longest_mm:
            return step, ["0", f"{step:g}", f"{2 * step:g} mm"]
    return 5.0, ["0", "5", "10 mm"]


def draw_scale_bar(
    painter: QPainter, x: float, y: float, system: UnitSystem, longest_mm: float, ink: Ink
) -> Box:
    """Two steps, one filled, one empty; `y` is its top. Returns the room it took."""
    step, texts = scale_bar_steps(system, longest_mm)
    height = 3.0 * ink.unit
    painter.setPen(ink.pen(ink.theme.ink, 0.7))
    for place, fill in enumerate((ink.theme.ink, ink.theme.panel_raised)):
        painter.setBrush(brush(fill))
        painter.drawRect(QRectF(x + place * step, y, step, height))
    face = ink.face(SUB_PT)
    baseline = y + height + 1.2 * ink.unit + face.cap + 0.8 * ink.unit
    for place, text in enumerate(texts):
        draw_text(painter, x + place * step, baseline, text, face, ink.theme.ink, 0.5)
    side = face.width(texts[-1]) / 2
    return Box(x - side, y, 2 * step + 2 * side, baseline - y + 1.0 * ink.unit)


def draw_operator_side(painter: QPainter, x: float, y: float, text: str, ink: Ink) -> None:
    """Which side is whose: a small dart and a word."""
    face = ink.face(SUB_PT)
    dart = 2.4 * ink.unit
    painter.setPen(no_pen())
    painter.setBrush(brush(ink.theme.ink_muted))
    painter.drawPolygon(
        QPolygonF([QPointF(x, y), QPointF(x + 2 * dart, y), QPointF(x + dart, y + dart * 1.3)])
    )
    draw_text(painter, x + 3 * dart, y + face.cap, text, face, ink.theme.ink_muted)
