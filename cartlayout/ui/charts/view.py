"""A chart on the screen: drawn by the plotting library, with nothing of its own menus and tools.

The library is loaded when the first chart is made, which takes some tenths of a second.
"""

import math
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
from .values import Chart, Spot

HEIGHT = 190
_REACH = 14.0
"""So near to a point, in pixels, counts as pointing at it."""
_ROOM = 1.12
"""Axes end this much beyond what is drawn."""
_GAP = 7.0


class ChartView(QWidget):
    """One chart. Arrows walk from point to point; what a point means is told in its tip."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        import pyqtgraph

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
        self.chart, self._theme = chart, theme
        if self.current is not None and self.current >= len(chart.spots):
            self.current = None
        self.setAccessibleName(chart.spoken)
        self._draw(chart)
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

    def _draw(self, chart: Chart) -> None:
        pg, theme, item = self._library, self._theme, self.plot.getPlotItem()
        item.clear()
        self.plot.setBackground(QColor(theme.panel))
        for side, name in (("bottom", chart.x_name), ("left", chart.y_name)):
            axis = item.getAxis(side)
            axis.setPen(pg.mkPen(QColor(theme.line_strong), width=1))
            axis.setTextPen(pg.mkPen(QColor(theme.ink_muted)))
            axis.setStyle(tickFont=font(TYPE.caption, tabular=True), tickLength=-4)
            axis.enableAutoSIPrefix(False)
            axis.setLabel(name)
            axis.label.setFont(font(TYPE.caption))
        for level in chart.levels:
            pen = pg.mkPen(QColor(theme.ink_muted), width=1, style=Qt.PenStyle.DashLine)
            item.addItem(pg.InfiniteLine(level.y, angle=0, pen=pen))
        for curve in chart.curves:
            colour = QColor(theme.water_ink if curve.strong else theme.selection)
            pen = pg.mkPen(colour, width=2 if curve.strong else 4)
            xs, ys = zip(*curve.points, strict=True) if curve.points else ((), ())
            item.addItem(pg.PlotDataItem(list(xs), list(ys), pen=pen, antialias=True))
        x_top, y_top = chart.top
        item.setXRange(0.0, max(x_top * _ROOM, 1e-9), padding=0)
        item.setYRange(0.0, max(y_top * _ROOM, 1e-9), padding=0)

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
        self.labels = []
        painter.setPen(QColor(theme.ink_muted))
        for level in chart.levels:
            y = view.pixel(0.0, level.y).y()
            width = metrics.horizontalAdvance(level.name)
            for top in (y - metrics.height() - 1, y + 1):
                where = QRectF(inside.left() + 5, top, width, metrics.height())
                if self._put(painter, level.name, where, inside, taken):
                    break
        for number, (spot, at) in enumerate(zip(chart.spots, spots, strict=True)):
            current = number == view.current
            painter.setPen(QPen(QColor(theme.panel), 1.5))
            painter.setBrush(QColor(theme.selection if current else theme.water_ink))
            painter.drawEllipse(at, 6.0 if current else 4.5, 6.0 if current else 4.5)
            if spot.labelled:
                painter.setPen(QColor(theme.ink))
                size = (metrics.horizontalAdvance(spot.name), metrics.height())
                for where in _places(at, *size):
                    if self._put(painter, spot.name, where, inside, taken):
                        break

    def _put(
        self, painter: QPainter, text: str, where: QRectF, inside: QRectF, taken: list[QRectF]
    ) -> bool:
        if not inside.contains(where) or any(one.intersects(where) for one in taken):
            return False
        painter.drawText(where, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
        taken.append(where)
        self.labels.append((text, where))
        return True


def _places(at: QPointF, width: float, height: float) -> tuple[QRectF, ...]:
    """Beside a point, the best place first."""
    x, y = at.x(), at.y()
    return (
        QRectF(x + _GAP, y - height - 2, width, height),
        QRectF(x + _GAP, y + 2, width, height),
        QRectF(x - _GAP - width, y + 2, width, height),
        QRectF(x - _GAP - width, y - height - 2, width, height),
        QRectF(x - width / 2, y + _GAP, width, height),
        QRectF(x - width / 2, y - _GAP - height, width, height),
    )
