"""The weight overlay: where the centre of gravity goes, what it may not leave, what wheels bear."""

import math
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from ...analysis import Analysis
from ...body.results import Balance, BodyResult
from ...body.support import shrunk
from ...limits import profile
from ...units import UnitSystem, show, show_plain
from .ink import Ink, blend, brush, no_brush, no_pen, polygon
from .picture import XY, Box, Note, State

MM = 1000.0
STEADY_MM = 6.0
Role = Literal["full", "served", "worst", "now"]


@dataclass(frozen=True, slots=True)
class Centre:
    """The centre of gravity in one state."""

    role: Role
    at: XY


@dataclass(frozen=True, slots=True)
class WeightOverlay:
    """Everything to draw of it, in millimetres of the plan."""

    support: tuple[XY, ...]
    """Corners of what the feet span."""
    safe: tuple[XY, ...]
    """Where the centre may be, as high as it is now, and the cart still stands its lean."""
    path: tuple[XY, ...]
    """From fresh tanks full to what a service leaves."""
    centres: tuple[Centre, ...]
    edge: tuple[XY, XY] | None
    """The one it goes over first."""
    state: State

    @property
    def box(self) -> Box | None:
        """Around all of it."""
        points = [*self.support, *self.path, *(one.at for one in self.centres)]
        return Box.around(points) if points else None


def weight_overlay(analysis: Analysis) -> WeightOverlay:
    """Prepare the overlay."""
    body = analysis.body
    edges = body.support.edges if body.support is not None else ()
    limit = profile(analysis.build.region).tilt_degrees.value
    worst = body.tilts[0] if body.tilts else None
    safe: tuple[XY, ...] = ()
    if edges and body.now is not None:
        safe = shrunk(edges, body.now.z_m * math.tan(math.radians(limit)))
    return WeightOverlay(
        support=tuple(_mm(edge.a) for edge in edges),
        safe=tuple(_mm(point) for point in safe),
        path=tuple(_at(one) for one in body.path),
        centres=tuple(_centres(body)),
        edge=(_mm(worst.a), _mm(worst.b)) if worst is not None else None,
        state="" if worst is None else "ok" if worst.worst_deg >= limit else "stop",
    )


def _mm(point: XY) -> XY:
    return point[0] * MM, point[1] * MM


def _at(state: Balance) -> XY:
    return state.x_m * MM, state.y_m * MM


def _centres(body: BodyResult) -> list[Centre]:
    found = []
    if body.path:
        found = [Centre("full", _at(body.path[0])), Centre("served", _at(body.path[-1]))]
    if body.worst is not None and body.tilts:
        found.append(Centre("worst", _at(body.worst)))
    if body.now is not None:
        found.insert(0, Centre("now", _at(body.now)))  # the largest: the others lie over it
    return found


def weight_notes(analysis: Analysis, system: UnitSystem) -> list[Note]:
    """Numbers of the overlay: what each foot bears, the lean it stands, the states by name."""
    return [*_feet(analysis, system), *_lean(analysis, system), *_states(analysis)]


def _feet(analysis: Analysis, system: UnitSystem) -> list[Note]:
    feet = analysis.body.feet
    if feet is None:
        return []
    least = max(feet.thirds_kg, feet.one_less_kg)
    notes = []
    for at, one in enumerate(feet.loads):
        text, state = show(one.worst_kg, "mass", system), "ok"
        if one.rating_kg is not None:
            text = f"{show_plain(one.worst_kg, 'mass', system)} / "
            text += show(one.rating_kg, "mass", system)
            state = "stop" if one.worst_kg > one.rating_kg else "ok"
            if state == "ok" and least > one.rating_kg:
                state = "care"
        notes.append(_note(f"foot {at}", text, _mm((one.x_m, one.y_m)), state))
    return notes


def _lean(analysis: Analysis, system: UnitSystem) -> list[Note]:
    limit = profile(analysis.build.region).tilt_degrees.value
    notes = []
    for at, one in enumerate(analysis.body.tilts):
        holds = one.worst_deg >= limit
        if at and holds:
            continue
        middle = ((one.a[0] + one.b[0]) / 2, (one.a[1] + one.b[1]) / 2)
        text = f"{one.edge} {show(one.worst_deg, 'angle', system)}"
        notes.append(_note(f"lean {at}", text, _mm(middle), "ok" if holds else "stop"))
    return notes


_NAMES: dict[Role, str] = {"full": "fresh full", "served": "after service", "worst": "worst mix"}


def _states(analysis: Analysis) -> list[Note]:
    centres = [one for one in _centres(analysis.body) if one.role in _NAMES]
    return [_note(f"centre {one.role}", _NAMES[one.role], _steady(one.at), "") for one in centres]


def _steady(at: XY) -> XY:
    """To a few millimetres, so that in a drag the label stays, and its neighbours with it."""
    return round(at[0] / STEADY_MM) * STEADY_MM, round(at[1] / STEADY_MM) * STEADY_MM


def _note(key: str, text: str, at: XY, state: str) -> Note:
    return Note(
        key=key,
        kind="weight",
        text=text,
        anchor=at,
        target=Box(at[0], at[1], 0.0, 0.0),
        state="stop" if state == "stop" else "care" if state == "care" else "ok" if state else "",
    )


def draw_weight(painter: QPainter, overlay: WeightOverlay, ink: Ink) -> None:
    """Draw it: the support and the edge it goes over first, the safe area, path and points."""
    theme = ink.theme
    painter.save()
    painter.setBrush(no_brush())
    if len(overlay.support) > 2:
        painter.setPen(ink.pen(theme.ink_muted, 1.0, (6.0, 3.0)))
        painter.drawPolygon(polygon(overlay.support))
    if len(overlay.safe) > 2:
        painter.setPen(ink.pen(theme.ok.ink, 1.3, (2.0, 2.0)))
        fill = brush(theme.ok.fill)
        colour = fill.color()
        colour.setAlphaF(0.10)
        fill.setColor(colour)
        painter.setBrush(fill)
        painter.drawPolygon(polygon(overlay.safe))
        painter.setBrush(no_brush())
    if overlay.edge is not None:
        mark = theme.mark(overlay.state or "note")
        painter.setPen(ink.pen(mark.ink, 2.2, flat=True))
        painter.drawLine(QPointF(*overlay.edge[0]), QPointF(*overlay.edge[1]))
    if len(overlay.path) > 1:
        painter.setPen(ink.pen(theme.panel_raised, 4.0))
        painter.drawPolyline(polygon(overlay.path))
        painter.setPen(ink.pen(theme.ink, 1.6))
        painter.drawPolyline(polygon(overlay.path))
    for centre in overlay.centres:
        _draw_centre(painter, centre, ink)
    painter.restore()


def _draw_centre(painter: QPainter, centre: Centre, ink: Ink) -> None:
    """Each state has its shape: a disc, a ring, a triangle, and a quartered disc for now."""
    theme, (x, y) = ink.theme, centre.at
    half = (5.2 if centre.role == "now" else 3.0) * ink.unit
    at = QPointF(x, y)
    painter.setPen(ink.pen(theme.ink, 1.2))
    if centre.role == "worst":
        painter.setBrush(brush(theme.care.fill))
        painter.drawPolygon(
            polygon([(x, y - 1.2 * half), (x + 1.1 * half, y + half), (x - 1.1 * half, y + half)])
        )
        return
    filled = theme.ink if centre.role == "full" else theme.panel_raised
    painter.setBrush(brush(filled))
    painter.drawEllipse(at, half, half)
    if centre.role == "now":
        painter.setPen(no_pen())
        painter.setBrush(brush(blend(theme.ink, theme.panel_raised, 0.9)))
        painter.drawPie(_around(x, y, half), 0, 90 * 16)
        painter.drawPie(_around(x, y, half), 180 * 16, 90 * 16)


def _around(x: float, y: float, half: float) -> QRectF:
    return QRectF(x - half, y - half, 2 * half, 2 * half)
