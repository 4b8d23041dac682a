"""Wires, supply tubes and drains."""

import math
from functools import lru_cache

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF

from .ink import Ink, brush, no_brush, no_pen, rounded_line
from .paths import at_share, far_part, flattened, length, longest_piece, near_part
from .picture import XY, Box, RunShape

WIRE_PT = 1.5
DRAIN_PT = 1.7
DRAIN_DASH = (3.2, 1.8)
TUBE_LEAST_PT = 2.4
TUBE_PER_MM_PT = 0.22
HOT_PT = 1.1
HOT_DASH = (1.2, 2.0)
"""Along the middle of a tube that carries hot water."""
RISER_PT = 2.3
"""Radius of the mark where a run goes to another level."""
FAR_OPACITY = 0.45
ARROW_ROOM_MM = 60.0
LONG_MM = 420.0
"""A flow arrow for each so much of a straight piece."""


@lru_cache(maxsize=512)
def run_path(run: RunShape) -> QPainterPath:
    """The way of a run, with its bends: all of it, on whatever level."""
    return _path(run.points, run.bend_mm, run.curve)


@lru_cache(maxsize=1024)
def _path(points: tuple[XY, ...], bend_mm: float, curve: bool = False) -> QPainterPath:
    if curve and len(points) == 4:
        path = QPainterPath()
        path.moveTo(*points[0])
        (ax, ay), (bx, by), (cx, cy) = points[1:]
        path.cubicTo(ax, ay, bx, by, cx, cy)
        return path
    return rounded_line(points, bend_mm)


def tube_width_pt(bore_mm: float) -> float:
    """Drawn width of a supply tube: grows with its bore, the thinnest still two lines."""
    return TUBE_LEAST_PT + TUBE_PER_MM_PT * min(max(bore_mm, 0.0), 25.0)


def draw_run(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """A run of any medium: what is on the shown level, or all of it where nothing is."""
    if len(run.points) < 2:
        return
    near = near_part(run)
    {"power": draw_wire, "water": draw_supply_tube, "drain": draw_drain}[run.medium](
        painter, near, ink
    )
    if run.climb is not None:
        _riser(painter, run, ink)


def draw_far(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """What of a run is on other levels, faint."""
    part = run if run.ghosted else far_part(run) if run.far else None
    if part is None or len(part.points) < 2:
        return
    painter.save()
    painter.setOpacity(FAR_OPACITY * painter.opacity())
    draw_run(painter, part, ink)
    painter.restore()


def _riser(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """Where a run leaves its level."""
    if run.climb is None:
        return
    colour = {
        "power": ink.theme.circuit(run.letter).ink if run.letter else ink.theme.ink_muted,
        "water": ink.theme.water_ink,
        "drain": ink.theme.drain_ink,
    }[run.medium]
    draw_climb(painter, run.climb, colour, run.rises, ink)


def draw_climb(painter: QPainter, at: XY, colour: str, rises: bool, ink: Ink) -> None:
    """A ring where a run leaves its level; a dot in it where it comes up towards the eye."""
    middle = QPointF(*at)
    painter.setPen(ink.pen(colour, 0.9))
    painter.setBrush(brush(ink.theme.cart))
    painter.drawEllipse(middle, RISER_PT * ink.unit, RISER_PT * ink.unit)
    if rises:
        painter.setPen(no_pen())
        painter.setBrush(brush(colour))
        painter.drawEllipse(middle, 0.4 * RISER_PT * ink.unit, 0.4 * RISER_PT * ink.unit)


def draw_wire(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """A cord in its circuit's colour and dash; grey and thin while it is on no circuit."""
    path = run_path(run)
    painter.setBrush(no_brush())
    _casing(painter, path, WIRE_PT, ink)
    if run.letter:
        accent = ink.theme.circuit(run.letter)
        painter.setPen(ink.pen(accent.line, WIRE_PT, accent.dash))
        colour = accent.line
    else:
        colour = ink.theme.ink_muted
        painter.setPen(ink.pen(colour, WIRE_PT * 0.7))
    painter.drawPath(path)
    _ends(painter, run, colour, WIRE_PT, ink)


def draw_supply_tube(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """Two lines, as far apart as the bore asks, with an arrow where the water goes."""
    path = run_path(run)
    width_pt = tube_width_pt(run.bore_mm)
    painter.setBrush(no_brush())
    _casing(painter, path, width_pt, ink)
    painter.setPen(ink.pen(ink.theme.water, width_pt, flat=True))
    painter.drawPath(path)
    painter.setPen(ink.pen(ink.theme.water_fill, width_pt - 1.5, flat=True))
    painter.drawPath(path)
    if run.hot:
        painter.setPen(ink.pen(ink.theme.water_ink, HOT_PT, HOT_DASH))
        painter.drawPath(path)
    _ends(painter, run, ink.theme.water, width_pt * 0.8, ink)
    _arrows(painter, run, ink.theme.water_ink, width_pt, ink)


def draw_drain(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """Dashed, with an arrow where the waste goes."""
    path = run_path(run)
    painter.setBrush(no_brush())
    _casing(painter, path, DRAIN_PT, ink)
    painter.setPen(ink.pen(ink.theme.drain, DRAIN_PT, DRAIN_DASH))
    painter.drawPath(path)
    _ends(painter, run, ink.theme.drain, DRAIN_PT, ink)
    _arrows(painter, run, ink.theme.drain_ink, DRAIN_PT + 1.6, ink)


def _casing(painter: QPainter, path: QPainterPath, width_pt: float, ink: Ink) -> None:
    """A rim of paper, so that one line is seen to pass over another."""
    painter.setPen(ink.pen(ink.theme.cart, width_pt + 1.5, flat=True))
    painter.drawPath(path)


def _ends(painter: QPainter, run: RunShape, colour: str, width_pt: float, ink: Ink) -> None:
    radius = (width_pt * 0.5 + 0.7) * ink.unit
    for point, item in ((run.points[0], run.ends[0]), (run.points[-1], run.ends[1])):
        if item == "":  # goes on, on another level
            continue
        if item is not None:
            painter.setPen(no_pen())
            painter.setBrush(brush(colour))
        else:  # hangs free: an open end
            painter.setPen(ink.pen(colour, 1.1))
            painter.setBrush(brush(ink.theme.paper))
            radius *= 1.5
        painter.drawEllipse(QPointF(*point), radius, radius)


@lru_cache(maxsize=512)
def arrow_places(run: RunShape) -> tuple[tuple[XY, XY], ...]:
    """Where flow arrows stand and which way they point."""
    if not run.flow:
        return ()
    points = flattened(run)
    points = points if run.flow > 0 else points[::-1]
    if length(points) < ARROW_ROOM_MM and (run.far or run.near or "" in run.ends):
        return ()  # it would hide the piece; the part on the other level has room for it
    if length(points) < 1.0:
        return ()
    piece = longest_piece(points)
    count = max(1, int(math.dist(*piece) // LONG_MM))
    return tuple(at_share(piece, (place + 0.5) / count) for place in range(count))


def arrow_boxes(run: RunShape, ink: Ink) -> list[Box]:
    """The room of every flow arrow, and of the ring where a run leaves its level.

    A label had better hide neither.
    """
    width_pt = DRAIN_PT + 1.6 if run.medium == "drain" else tube_width_pt(run.bore_mm)
    reach = 1.25 * (width_pt * 0.5 + 1.1) * ink.unit
    places = [(at, reach) for at, _ in arrow_places(near_part(run))]
    if run.climb is not None:
        places.append((run.climb, (RISER_PT + 0.5) * ink.unit))
    return [Box(x - half, y - half, 2 * half, 2 * half) for (x, y), half in places]


def _arrows(painter: QPainter, run: RunShape, colour: str, width_pt: float, ink: Ink) -> None:
    for (x, y), (dx, dy) in arrow_places(run):
        half = (width_pt * 0.5 + 1.1) * ink.unit
        tip = half * 1.25
        if run.still:  # in the case shown: the way it goes in another one, as an outline
            painter.setPen(ink.pen(colour, 0.6))
            painter.setBrush(brush(ink.theme.cart))
        else:
            painter.setPen(no_pen())
            painter.setBrush(brush(colour))
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(x + dx * tip, y + dy * tip),
                    QPointF(x - dx * tip - dy * half, y - dy * tip + dx * half),
                    QPointF(x - dx * tip * 0.45, y - dy * tip * 0.45),
                    QPointF(x - dx * tip + dy * half, y - dy * tip - dx * half),
                ]
            )
        )
