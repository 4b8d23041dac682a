"""Bodies, runs and marks of a plan seen from so far that bends and silhouettes are blots.

Only the window uses this: a hall of carts is painted whole at every notch of the wheel.
"""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from ...findings.finding import Severity
from ..theme import Theme
from .ink import Ink, brush, no_brush, no_pen, polygon
from .kept import once
from .lines import DRAIN_DASH
from .paths import flattened
from .picture import XY, BodyShape, RunShape

OVERVIEW_MM = 11.5
"""Millimetres a typographic point covers: from here on the plan is an overview."""


def draw_body_far(painter: QPainter, body: BodyShape, ink: Ink, selected: bool) -> None:
    """The outline with plain corners."""
    theme = ink.theme
    if selected:
        painter.setPen(ink.pen(theme.selection, 1.8))
    else:
        painter.setPen(ink.pen(theme.ghost if body.ghosted else theme.body_edge, 0.7))
    if body.ghosted:
        painter.setBrush(no_brush())
    else:
        painter.setBrush(brush(theme.panel_raised if body.venue else theme.body))
    if body.rotation % 90.0 == 0.0:
        painter.drawRect(QRectF(*body.box))
    else:
        painter.drawPolygon(polygon(body.corners))


@once
def _line(run: RunShape) -> QPolygonF:
    return polygon(flattened(run, 6))


def draw_run_far(painter: QPainter, run: RunShape, ink: Ink) -> None:
    """One line in its medium's colour and dash."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # it is square to the screen
    painter.setPen(_pen(*_stroke(run, ink.theme)))
    painter.setBrush(no_brush())
    painter.drawPolyline(_line(run))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)


def _stroke(run: RunShape, theme: Theme) -> tuple[str, tuple[float, ...]]:
    if run.medium == "power":
        accent = theme.circuit(run.letter) if run.letter else None
        return (accent.fill, tuple(accent.dash)) if accent is not None else (theme.ink_muted, ())
    return (theme.water, ()) if run.medium == "water" else (theme.drain, DRAIN_DASH)


@lru_cache(maxsize=64)
def _pen(colour: str, dash: tuple[float, ...]) -> QPen:
    """One pixel wide at any zoom: by far the quickest to paint."""
    pen = QPen(QColor(colour), 1.0)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dash:
        pattern = [max(2.0, 1.5 * one) for one in dash]
        pen.setDashPattern(pattern if len(pattern) % 2 == 0 else [*pattern, pattern[-1]])
    return pen


def draw_mark_far(
    painter: QPainter, at: XY, size: float, severity: Severity | str, ink: Ink
) -> None:
    """The mark's shape without its sign."""
    mark = ink.theme.mark(severity)
    x, y = at
    half = 0.42 * size
    painter.setPen(no_pen())
    painter.setBrush(brush(mark.fill))
    if mark.shape == "diamond":
        painter.drawPolygon(polygon([(x, y - half), (x + half, y), (x, y + half), (x - half, y)]))
    elif mark.shape == "triangle":
        painter.drawPolygon(polygon([(x, y - half), (x + half, y + half), (x - half, y + half)]))
    else:
        painter.drawEllipse(QPointF(x, y), half, half)
