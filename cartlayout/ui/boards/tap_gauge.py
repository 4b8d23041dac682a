"""One tap: the pressures it allows as a bar, a dot for shut, a ring for open."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from ..marks import paint_mark
from .pressure_row import BAR, HEAD, INSET, PressureRow
from .tap_rows import TapRow

FOOT = 9
MOST_BAR, MOST_FOOT = 15, 24
"""What of a row may grow to where there is room."""
LINE = 14
"""Where a row has a line of words under its bar."""


class TapGauge(PressureRow[TapRow]):
    """One tap, with a bar and a foot that grow where there is room."""

    _foot = FOOT

    def needed_height(self) -> int:
        return HEAD + self._bar + self._line_height() + self._foot

    def least_height(self) -> int:
        """Head, bar and the space under it."""
        return HEAD + BAR + self._line_height() + FOOT

    def _line_height(self) -> int:
        return LINE if self.row.line else 0

    def grow(self, spare: int) -> None:
        """A higher bar, and more space under it."""
        bar = BAR + min(spare // 3, MOST_BAR - BAR)
        foot = FOOT + min(spare - (bar - BAR), MOST_FOOT - FOOT)
        if (bar, foot) != (self._bar, self._foot):
            self._bar, self._foot = bar, foot
            self.setFixedHeight(self.needed_height())
            self.update()

    def paint_values(self, painter: QPainter) -> None:
        self.paint_window(painter)
        if self.row.static_pa is not None:
            self._paint_readings(painter)
        if self.row.line:
            self._paint_line(painter)

    def _paint_readings(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        y = HEAD + self._bar / 2
        if row.static_pa is not None:
            colour = QColor(theme.ink if row.static_ok else theme.stop.fill)
            painter.setPen(QPen(QColor(theme.panel), 1.2))
            painter.setBrush(colour)
            painter.drawEllipse(QPointF(self._x(row.static_pa), y), 5.2, 5.2)
        if row.open_pa is not None:
            colour = QColor(theme.ok.ink if row.open_ok else theme.stop.fill)
            painter.setPen(QPen(QColor(theme.panel), 5.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            centre = QPointF(self._x(row.open_pa), y)
            painter.drawEllipse(centre, 4.6, 4.6)
            painter.setPen(QPen(colour, 2.4))
            painter.setBrush(QColor(theme.panel))
            painter.drawEllipse(centre, 4.6, 4.6)

    def _paint_line(self, painter: QPainter) -> None:
        """Shut, alone, and with whom it falls most."""
        theme, row = self._theme, self.row
        top = HEAD + self._bar + 1
        left = float(INSET)
        if row.line_bad:
            paint_mark(painter, theme.stop, QRectF(left, top + 2, 11, 11))
            left += 15
        line = QRectF(left, top, self.width() - INSET - left, LINE)
        colour = theme.stop.ink if row.line_bad else theme.ink_muted
        self.paint_words(painter, row.line, line, colour)
