"""A scale of pressures with a handle that is dragged or stepped."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF

from ...documents.fonts import font
from ...documents.theme import TYPE
from ...units import show, show_plain
from ...units.display import unit_label
from .. import widgets
from ..session import Session
from .set_point_value import BAR_STEP_PA, SetPointValue

_MARGIN = 12.0
_TALL = 52
_KEYS = {
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 5,
    Qt.Key.Key_PageDown: -5,
}


class PressureSlider(widgets.PaintedRow):
    """A scale from nothing to more than is allowed, what is of use shaded, and the handle."""

    moved = Signal(object)
    """Pascals, while it is dragged."""
    set_down = Signal(object)
    stepped = Signal(object)
    """By the keyboard."""
    given_up = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.value: SetPointValue | None = None
        self._dragged: float | None = None
        self._top_pa = 1.0
        self.setFixedHeight(_TALL)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip("Drag it; the taps answer meanwhile. Arrows step, Escape gives up.")

    def sizeHint(self) -> QSize:
        return QSize(240, _TALL)

    def show_value(self, value: SetPointValue) -> None:
        """Show another set point; a scale that is being dragged along stays as it is."""
        if value == self.value:
            return
        self.value = value
        if self._dragged is None:
            self._top_pa = max(value.top_pa, 1.0)
        self.setAccessibleName(value.spoken)
        self.update()

    def x_of(self, pressure_pa: float) -> float:
        """Where a pressure is on the scale."""
        share = min(max(pressure_pa / self._top_pa, 0.0), 1.0)
        return _MARGIN + share * (self.width() - 2 * _MARGIN)

    def _pressure_at(self, x: float) -> float:
        value = self.value
        room = max(self.width() - 2 * _MARGIN, 1.0)
        raw = (x - _MARGIN) / room * self._top_pa
        step = value.step_pa if value is not None else BAR_STEP_PA
        return min(max(round(raw / step) * step, step), self._top_pa)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.value is not None:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._drag(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged is not None:
            self._drag(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._dragged is not None:
            pressure_pa, self._dragged = self._dragged, None
            self.set_down.emit(pressure_pa)
            self.update()

    def _drag(self, where: QPointF) -> None:
        pressure_pa = self._pressure_at(where.x())
        if pressure_pa != self._dragged:
            self._dragged = pressure_pa
            self.moved.emit(pressure_pa)
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        value = self.value
        if key == Qt.Key.Key_Escape and self._dragged is not None:
            self._dragged = None
            self.given_up.emit()
            self.update()
        elif key in _KEYS and value is not None and self._dragged is None:
            step = value.step_pa
            stepped = (round(value.set_pa / step) + _KEYS[key]) * step
            self.stepped.emit(max(stepped, step))
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        value, theme = self.value, self._session.theme
        if value is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.track))
        track = QRectF(_MARGIN, 24, self.width() - 2 * _MARGIN, 8)
        painter.drawRoundedRect(track, 4, 4)
        set_pa = self._dragged if self._dragged is not None else value.set_pa
        inside = value.least_pa <= set_pa <= value.greatest_pa
        mark = theme.mark("ok" if inside else "stop") if value.allowed else theme.mark("note")
        if value.allowed and value.least_pa <= value.greatest_pa:
            left, right = self.x_of(value.least_pa), self.x_of(value.greatest_pa)
            painter.setBrush(QColor(theme.ok.fill))
            painter.drawRoundedRect(QRectF(left, 24, max(right - left, 2.0), 8), 4, 4)
        x = self.x_of(set_pa)
        painter.setBrush(QColor(mark.fill))
        painter.setPen(QPen(QColor(theme.selection if self.hasFocus() else theme.panel), 2))
        handle = [QPointF(x, 20), QPointF(x + 8, 28), QPointF(x, 36), QPointF(x - 8, 28)]
        painter.drawPolygon(QPolygonF(handle))
        painter.setFont(font(TYPE.caption, 600, tabular=True))
        painter.setPen(QColor(mark.ink))
        text = show(set_pa, "pressure", value.system)
        wide = 80.0
        at = min(max(x - wide / 2, 0.0), self.width() - wide)
        painter.drawText(QRectF(at, 2, wide, 16), Qt.AlignmentFlag.AlignCenter, text)
        self._paint_scale(painter, value)
        painter.end()

    def _paint_scale(self, painter: QPainter, value: SetPointValue) -> None:
        painter.setFont(font(TYPE.caption, tabular=True))
        painter.setPen(QColor(self._session.theme.ink_muted))
        flags = Qt.AlignmentFlag.AlignVCenter
        row = QRectF(_MARGIN, 37, self.width() - 2 * _MARGIN, 15)
        painter.drawText(row, flags | Qt.AlignmentFlag.AlignLeft, "0")
        top = show_plain(self._top_pa, "pressure", value.system, 1)
        unit = unit_label("pressure", value.system)
        painter.drawText(row, flags | Qt.AlignmentFlag.AlignRight, f"{top} {unit}")
