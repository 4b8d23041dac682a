"""Putting a laid-out sheet on paper."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QPainter, QPolygonF

from ..lettering import draw_text
from ..plan.cart import draw_zone
from ..plan.clearance import draw_over, draw_spaces
from ..plan.ink import PT_MM, Ink, brush, no_brush, no_pen, rounded_box
from ..plan.lines import draw_climb, draw_far, draw_run
from ..plan.paint import draw_ground
from ..plan.picture import Box, Medium, Note, RunShape, ZoneShape
from ..plan.shapes import GHOST_DASH, draw_body, draw_mark
from ..plan.texts import (
    draw_dimension,
    draw_leader,
    draw_name,
    draw_note,
    draw_scale_bar,
    note_size,
)
from ..plan.weight import draw_weight
from ..theme import Theme
from .drawing import MARK_MM, NameLabel, PlanDrawing
from .elements import (
    BoxItem,
    Element,
    LineItem,
    MarkItem,
    PathItem,
    RoundItem,
    SampleItem,
    Sheet,
    TextItem,
)

_MEDIA: dict[str, Medium] = {"power": "power", "drain": "drain"}
"""What runs in a sample; in all others water does."""
_PLATE = 0.82
"""How much a plate under letters hides of what runs below."""


def paint_sheet(painter: QPainter, sheet: Sheet, theme: Theme) -> None:
    """Paint a sheet; the painter is scaled to millimetres."""
    paint_page(painter, (sheet.drawing,), sheet.elements, theme)


def paint_page(
    painter: QPainter, plans: Sequence[PlanDrawing], elements: Sequence[Element], theme: Theme
) -> None:
    """Paint plans, and over them elements; the painter is scaled to millimetres."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    ink = Ink(theme, PT_MM)
    for drawing in plans:
        paint_drawing(painter, drawing, theme)
    for element in elements:
        _paint_element(painter, element, ink)


def _paint_element(painter: QPainter, element: Element, ink: Ink) -> None:
    match element:
        case TextItem():
            _text(painter, element, ink)
        case LineItem():
            _line(painter, element, ink)
        case BoxItem():
            _box(painter, element, ink)
        case MarkItem():
            draw_mark(painter, element.x, element.y, element.size, element.severity, ink)
        case SampleItem():
            _sample(painter, element, ink)
        case PathItem():
            _path(painter, element, ink)
        case RoundItem():
            _round(painter, element, ink)


def paint_drawing(painter: QPainter, drawing: PlanDrawing, theme: Theme) -> None:
    """The plan, then its labels on top."""
    picture = drawing.picture
    plan_ink = Ink(theme, PT_MM * drawing.denominator)
    ink = Ink(theme, PT_MM)
    painter.save()
    painter.translate(*drawing.origin)
    painter.scale(1.0 / drawing.denominator, 1.0 / drawing.denominator)
    _paint_plan(painter, drawing, plan_ink)
    x, y = drawing.scale_bar
    bar = drawing.box_on_plan(Box(x, y, 0.0, 0.0))
    draw_scale_bar(
        painter, bar.x, bar.y, picture.options.system, drawing.scale_bar_longest, plan_ink
    )
    painter.restore()
    for name in drawing.names:
        draw_leader(painter, name.leader, ink)
    for note in drawing.notes:
        draw_leader(painter, note.leader, ink)
    for name in drawing.names:
        _plate(painter, name, drawing, theme)
        draw_name(painter, name.box, name.lines, name.body.sub, name.body, ink)
    for note in drawing.notes:
        draw_note(painter, note.note, note.box, ink)
    for mark in drawing.marks:
        draw_mark(painter, mark.x, mark.y, MARK_MM, mark.severity, ink)


def _paint_plan(painter: QPainter, drawing: PlanDrawing, ink: Ink) -> None:
    """Ground, bodies and runs; spaces lie under the bodies, drips and weight over the runs."""
    picture = drawing.picture
    rooms = {one.body.id: drawing.box_on_plan(one.box) for one in drawing.names}
    draw_ground(painter, picture, ink)
    if picture.clearance is not None:
        draw_spaces(painter, picture.clearance, ink)
    for body in sorted(picture.bodies, key=lambda one: one.ghosted):
        draw_body(painter, body, ink, rooms.get(body.id))
    # On paper no level can be switched: what lies on others shows through, faintly.
    for run in picture.runs:
        draw_far(painter, run, ink)
    for medium in ("drain", "water", "power"):
        for run in picture.runs:
            if run.medium == medium and not run.ghosted:
                draw_run(painter, run, ink)
    if picture.clearance is not None:
        draw_over(painter, picture.clearance, ink)
    if picture.weight is not None:
        draw_weight(painter, picture.weight, ink)
    for dimension in picture.dimensions:
        draw_dimension(painter, dimension, ink)


def _plate(painter: QPainter, name: NameLabel, drawing: PlanDrawing, theme: Theme) -> None:
    """A quiet ground under a name, so that a line passing below does not cut its letters."""
    colour = QColor(_ground(name, drawing, theme))
    colour.setAlphaF(_PLATE)
    painter.setPen(no_pen())
    painter.setBrush(colour)
    painter.drawPath(rounded_box(name.box, 0.8))


def _ground(name: NameLabel, drawing: PlanDrawing, theme: Theme) -> str:
    """The colour of what lies under the middle of a name."""
    x, y = name.box.centre
    middle = Box(x, y, 0.0, 0.0)
    picture = drawing.picture
    for body in reversed(picture.bodies):
        if not body.ghosted and drawing.box_on_sheet(body.box).holds(middle):
            return theme.panel_raised if body.venue else theme.body
    if drawing.box_on_sheet(picture.cart.box).holds(middle):
        return theme.cart
    if picture.venue is not None and drawing.box_on_sheet(picture.venue).holds(middle):
        return theme.venue
    return "#ffffff"


def colour_of(name: str, theme: Theme) -> str:
    """A colour by its name on the theme; "stop" is the ink of that verdict."""
    if not name or name.startswith("#"):
        return name
    if name.startswith("circuit "):
        return theme.circuit(name.removeprefix("circuit ")).line
    if name in ("stop", "care", "ok", "note"):
        return theme.mark(name).ink
    return str(getattr(theme, name))


def _text(painter: QPainter, item: TextItem, ink: Ink) -> None:
    colour = colour_of(item.colour, ink.theme)
    if not item.turn:
        draw_text(painter, item.x, item.baseline, item.text, item.face, colour, item.align)
        return
    painter.save()
    painter.translate(item.x, item.baseline)
    painter.rotate(item.turn)
    draw_text(painter, 0.0, 0.0, item.text, item.face, colour, item.align)
    painter.restore()


def _line(painter: QPainter, item: LineItem, ink: Ink) -> None:
    pen = ink.pen(colour_of(item.colour, ink.theme), item.width_pt, item.dash, flat=True)
    painter.setPen(pen)
    painter.drawLine(QPointF(item.ax, item.ay), QPointF(item.bx, item.by))


def _path(painter: QPainter, item: PathItem, ink: Ink) -> None:
    _pen_and_brush(painter, item, ink)
    points = QPolygonF([QPointF(x, y) for x, y in item.points])
    if item.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _round(painter: QPainter, item: RoundItem, ink: Ink) -> None:
    _pen_and_brush(painter, item, ink)
    painter.drawEllipse(QPointF(item.x, item.y), item.radius_x, item.radius_y)


def _pen_and_brush(painter: QPainter, item: PathItem | RoundItem, ink: Ink) -> None:
    edge, fill = colour_of(item.edge, ink.theme), colour_of(item.fill, ink.theme)
    painter.setPen(ink.pen(edge, item.width_pt, item.dash) if edge else no_pen())
    painter.setBrush(brush(fill) if fill else no_brush())


def _box(painter: QPainter, item: BoxItem, ink: Ink) -> None:
    edge, fill = colour_of(item.edge, ink.theme), colour_of(item.fill, ink.theme)
    painter.setPen(ink.pen(edge, item.width_pt) if edge else no_pen())
    painter.setBrush(brush(fill) if fill else no_brush())
    painter.drawPath(rounded_box(item.box, item.radius))


def _sample(painter: QPainter, item: SampleItem, ink: Ink) -> None:
    if item.medium == "ghost":
        painter.setPen(ink.pen(ink.theme.ghost, 0.8, GHOST_DASH))
        painter.setBrush(no_brush())
        painter.drawPath(rounded_box(Box(item.x, item.y - 1.4, item.length, 2.8), 0.8))
        return
    if item.medium == "climb":
        for share, rises in ((0.3, False), (0.75, True)):
            draw_climb(painter, (item.x + share * item.length, item.y), ink.theme.ink, rises, ink)
        return
    if item.medium in ("opening", "no-go", "reserved"):
        box = Box(item.x, item.y - 1.4, item.length, 2.8)
        draw_zone(painter, ZoneShape("", item.medium, box, False), ink, words=False)
        return
    run = RunShape(
        id="",
        medium=_MEDIA.get(item.medium, "water"),
        points=((item.x + 0.6, item.y), (item.x + item.length - 0.6, item.y)),
        curve=False,
        ends=("a", "b"),
        letter=item.letter,
        bore_mm=6.0,
        flow=1 if item.medium != "power" else 0,
        still=item.medium == "still",
        hot=item.medium == "hot",
    )
    draw_run(painter, run, ink)
    if item.letter:
        note = Note("", "tag", item.letter, (0.0, 0.0), Box(0, 0, 0, 0), letter=item.letter)
        width, height = note_size(note, ink)
        x = item.x + item.length / 2
        draw_note(painter, note, Box(x - width / 2, item.y - height / 2, width, height), ink)
