"""A chart on the screen: drawn by the plotting library, with nothing of its own menus and tools.

The library is loaded when the first chart is made, which takes some tenths of a second.
"""

import itertools
import math
import sys
from collections.abc import Iterable
from typing import Any

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QToolTip, QVBoxLayout, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .values import Chart, Curve, Spot

HEIGHT = 190
_REACH = 14.0
"""So near to a point, in pixels, counts as pointing at it."""
_ROOM = 1.12
"""Axes end this much beyond what is drawn."""
_GAP = 7.0
_PIECE = 5.0
_MOST_PIECES = 500


def is_loaded() -> bool:
    """Whether the library is there, so that a chart takes no time to speak of."""
    return "pyqtgraph" in sys.modules


class ChartView(QWidget):
    """One chart. Arrows walk from point to point; what a point means is told in its tip."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        import pyqtgraph  # type: ignore[import-untyped]

        self._library: Any = pyqtgraph
        self.setFixedHeight(HEIGHT)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.plot = pyqtgraph.PlotWidget(self)
        self.plot.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.plot.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.plot.setMenuEnabled(False)
        self.plot.hideButtons()
        self.plot.setMouseEnabled(False, False)
        self.plot.setFrameShape(self.plot.Shape.NoFrame)
        self._marks = _Marks(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.plot)
        self._levels: list[Any] = []
        self._curves: list[Any] = []
        self._theme = theme
        self.chart: Chart | None = None
        self.current: int | None = None
        self.setMouseTracking(True)
        self._marks.raise_()

    @property
    def theme(self) -> Theme:
        """The colours it is drawn with."""
        return self._theme

    def show_chart(self, chart: Chart, theme: Theme) -> None:
        """Show other values; nothing is done where they are the same."""
        if chart == self.chart and theme is self._theme:
            return
        before, inked = self.chart, theme is not self._theme
        self.chart, self._theme = chart, theme
        if self.current is not None and self.current >= len(chart.spots):
            self.current = None
        self.setAccessibleName(chart.spoken)
        self._draw(chart, before, inked=inked)
        self._marks.update()

    def pixel(self, x: float, y: float) -> QPointF:
        """Where a point of the chart is on this widget."""
        view = self.plot.getPlotItem().getViewBox()
        at = self.plot.mapFromScene(view.mapViewToScene(QPointF(x, y)))
        return QPointF(self.plot.mapTo(self, at))

    def spot_at(self, where: QPointF) -> int | None:
        """Which point is pointed at."""
        found, least = None, _REACH
        for at, spot in enumerate(self.chart.spots if self.chart is not None else ()):
            off = self.pixel(spot.x, spot.y) - where
            distance = math.hypot(off.x(), off.y())
            if distance < least:
                found, least = at, distance
        return found

    def _draw(self, chart: Chart, before: Chart | None, *, inked: bool) -> None:
        """Draw what is not as it was: in a drag most of it is."""
        item = self.plot.getPlotItem()
        names = (chart.x_name, chart.y_name)
        if inked or before is None or names != (before.x_name, before.y_name):
            self.plot.setBackground(QColor(self._theme.panel))
            for side, name in zip(("bottom", "left"), names, strict=True):
                self._draw_axis(item.getAxis(side), name)
        if inked or before is None or chart.levels != before.levels:
            self._take_away(self._levels)
            self._levels = [self._level(level.y) for level in chart.levels]
        if inked or before is None or chart.curves != before.curves:
            self._take_away(self._curves)
            self._curves = [self._curve(curve) for curve in chart.curves]
        if before is None or chart.top != before.top:
            x_top, y_top = chart.top
            item.setXRange(0.0, max(x_top * _ROOM, 1e-9), padding=0)
            item.setYRange(0.0, max(y_top * _ROOM, 1e-9), padding=0)

    def _draw_axis(self, axis: Any, name: str) -> None:
        pg, theme = self._library, self._theme
        axis.setPen(pg.mkPen(QColor(theme.line_strong), width=1))
        axis.setTextPen(pg.mkPen(QColor(theme.ink_muted)))
        axis.setStyle(tickFont=font(TYPE.caption, tabular=True), tickLength=-4)
        axis.enableAutoSIPrefix(False)
        axis.setLabel(name)
        axis.label.setFont(font(TYPE.caption))

    def _take_away(self, drawn: list[Any]) -> None:
        for one in drawn:
            self.plot.getPlotItem().removeItem(one)

    def _level(self, y: float) -> Any:
        pg = self._library
        pen = pg.mkPen(QColor(self._theme.ink_muted), width=1, style=Qt.PenStyle.DashLine)
        made = pg.InfiniteLine(y, angle=0, pen=pen)
        self.plot.getPlotItem().addItem(made)
        return made

    def _curve(self, curve: Curve) -> Any:
        pg, theme = self._library, self._theme
        colour = QColor(theme.water_ink if curve.strong else theme.selection)
        pen = pg.mkPen(colour, width=2 if curve.strong else 4)
        xs, ys = zip(*curve.points, strict=True) if curve.points else ((), ())
        made = pg.PlotDataItem(list(xs), list(ys), pen=pen, antialias=True)
        self.plot.getPlotItem().addItem(made)
        return made

    def _walk(self, step: int) -> None:
        spots = self.chart.spots if self.chart is not None else ()
        if not spots:
            return
        at = -1 if self.current is None and step > 0 else self.current or 0
        self._point_at((at + step) % len(spots))

    def _point_at(self, at: int | None) -> None:
        if at == self.current:
            return
        self.current = at
        spot = self.spot
        self.setAccessibleDescription(spot.tip if spot is not None else "")
        if spot is not None:
            where = self.mapToGlobal(self.pixel(spot.x, spot.y).toPoint())
            QToolTip.showText(where, spot.tip, self)
        self._marks.update()

    @property
    def spot(self) -> Spot | None:
        """What is pointed at."""
        if self.chart is None or self.current is None:
            return None
        return self.chart.spots[self.current]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}
        key = Qt.Key(event.key())
        if key in steps:
            self._walk(steps[key])
        elif key == Qt.Key.Key_Escape and self.current is not None:
            self._point_at(None)
        else:
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._point_at(self.spot_at(event.position()))

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._point_at(None)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._marks.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._marks.update()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent):
            at = self.spot_at(QPointF(event.pos()))
            if at is None:
                QToolTip.hideText()
            elif self.chart is not None:
                QToolTip.showText(event.globalPos(), self.chart.spots[at].tip, self)
            return True
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._marks.setGeometry(self.rect())


class _Marks(QWidget):
    """Points and words over the plot, so placed that no word lies on another."""

    def __init__(self, view: ChartView) -> None:
        super().__init__(view)
        self._view = view
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.labels: list[tuple[str, QRectF]] = []

    def paintEvent(self, event: QPaintEvent) -> None:
        view, chart, theme = self._view, self._view.chart, self._view.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if chart is not None:
            self._paint(painter, chart)
        if view.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.selection), 1.5))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.75, 0.75, -0.75, -0.75), 4, 4)
        painter.end()

    def _paint(self, painter: QPainter, chart: Chart) -> None:
        view, theme = self._view, self._view.theme
        face = font(TYPE.caption, tabular=True)
        metrics = QFontMetricsF(face)
        painter.setFont(face)
        box = view.plot.getPlotItem().getViewBox()
        inside = QRectF(view.plot.mapFromScene(box.sceneBoundingRect()).boundingRect())
        spots = [view.pixel(one.x, one.y) for one in chart.spots]
        taken = [QRectF(at.x() - 5, at.y() - 5, 10, 10) for at in spots]
        taken += self._lines(chart, inside)
        self.labels = []
        for number, (spot, at) in enumerate(zip(chart.spots, spots, strict=True)):
            current = number == view.current
            painter.setPen(QPen(QColor(theme.panel), 1.5))
            painter.setBrush(QColor(theme.selection if current else theme.water_ink))
            painter.drawEllipse(at, 6.0 if current else 4.5, 6.0 if current else 4.5)
            if spot.labelled:
                painter.setPen(QColor(theme.ink))
                size = (metrics.horizontalAdvance(spot.name), metrics.height())
                self._put(painter, spot.name, _places(at, *size), inside, taken)
        painter.setPen(QColor(theme.ink_muted))
        for level in chart.levels:
            y, height = view.pixel(0.0, level.y).y(), metrics.height()
            width = metrics.horizontalAdvance(level.name)
            rights = (inside.right() - width - 5, inside.left() + 5)
            places = [
                QRectF(left, top, width, height)
                for left in rights
                for top in (y - height - 2, y + 2)
            ]
            self._put(painter, level.name, places, inside, taken)

    def _lines(self, chart: Chart, inside: QRectF) -> list[QRectF]:
        """Where lines run, in small pieces: no word is struck through."""
        view = self._view
        found = [
            QRectF(inside.left(), view.pixel(0.0, one.y).y() - 0.5, inside.width(), 1.0)
            for one in chart.levels
        ]
        for curve in chart.curves:
            ends = [view.pixel(*point) for point in curve.points]
            for a, b in itertools.pairwise(ends):
                pieces = max(1, math.ceil(math.hypot(b.x() - a.x(), b.y() - a.y()) / _PIECE))
                for at in range(pieces):
                    middle = a + (b - a) * ((at + 0.5) / pieces)
                    found.append(QRectF(middle.x() - 2, middle.y() - 2, 4, 4))
                    if len(found) > _MOST_PIECES:
                        return found
        return found

    def _put(
        self,
        painter: QPainter,
        text: str,
        places: Iterable[QRectF],
        inside: QRectF,
        taken: list[QRectF],
    ) -> None:
        """Write at the first place that is free; nowhere if none is: its tip tells it still."""
        for where in places:
            if inside.contains(where) and not any(one.intersects(where) for one in taken):
                flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
                painter.drawText(where, flags, text)
                taken.append(where)
                self.labels.append((text, where))
                return


def _places(at: QPointF, width: float, height: float) -> tuple[QRectF, ...]:
    """Beside a point, the best place first."""
    x, y = at.x(), at.y()
    return (
        QRectF(x + _GAP, y - height / 2, width, height),
        QRectF(x - _GAP - width, y - height / 2, width, height),
        QRectF(x + _GAP, y - height - 2, width, height),
        QRectF(x + _GAP, y + 2, width, height),
        QRectF(x - _GAP - width, y + 2, width, height),
        QRectF(x - _GAP - width, y - height - 2, width, height),
        QRectF(x - width / 2, y + _GAP, width, height),
        QRectF(x - width / 2, y - _GAP - height, width, height),
    )
