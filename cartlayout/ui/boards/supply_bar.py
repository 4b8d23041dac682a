"""A supply's window as a bar, with the range that it gives laid over it."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen

from .pressure_row import BAR, HEAD, INSET, PressureRow
from .supply_rows import SupplyRow

WORDS, FOOT = 15, 5


class SupplyBar(PressureRow[SupplyRow]):
    """One pump or mains tap: what it has to give as a bar, what it gives as a bracket."""

    def needed_height(self) -> int:
        return HEAD + BAR + WORDS + FOOT

    def least_height(self) -> int:
        """Head, bar and the line under it."""
        return self.needed_height()

    def grow(self, spare: int) -> None:
        """It keeps its height: taps have more use for room."""

    def paint_values(self, painter: QPainter) -> None:
        if self.row.is_open:
            self.paint_window(painter)
        else:
            self._paint_gap(painter)
        self._paint_range(painter)
        bad = self.row.state in ("care", "stop")
        colour = self._theme.mark(self.row.state).ink if bad else self._theme.ink_muted
        line = QRectF(INSET, HEAD + BAR + 2, self.width() - 2 * INSET, WORDS)
        self.paint_words(painter, self.row.words, line, colour)

    def _paint_gap(self, painter: QPainter) -> None:
        """The edges have passed each other: what lies between them cannot be had."""
        stop = QColor(self._theme.stop.fill)
        least, greatest = self._x(self.row.least_pa), self._x(self.row.greatest_pa)
        painter.setPen(QPen(stop, 1.2))
        painter.setBrush(QBrush(stop, Qt.BrushStyle.BDiagPattern))
        left, width = min(least, greatest), abs(least - greatest)
        painter.drawRect(QRectF(left, HEAD, max(width, 4), BAR))

    def _paint_range(self, painter: QPainter) -> None:
        """A bracket from where it gives least to where it gives most."""
        theme, row = self._theme, self.row
        y = HEAD + BAR / 2
        low, high = self._x(row.low_pa), self._x(row.high_pa)
        lines = (
            (QPointF(low, y), QPointF(high, y)),
            (QPointF(low, y - 5), QPointF(low, y + 5)),
            (QPointF(high, y - 5), QPointF(high, y + 5)),
        )
        for colour, width in ((theme.panel, 5.0), (theme.ink, 2.2)):
            painter.setPen(QPen(QColor(colour), width, Qt.PenStyle.SolidLine))
            for a, b in lines:
                painter.drawLine(a, b)
