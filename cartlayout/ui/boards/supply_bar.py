"""A supply's window as a bar, with the range that it gives laid over it."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPaintEvent, QPen

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets
from ..marks import paint_mark
from .supply_rows import SupplyRow
from .tap_rows import PressureScale

HEAD, BAR, WORDS, FOOT = 18, 9, 15, 5
INSET = 8


def scale_x(pressure_pa: float, scale: PressureScale, width: float) -> float:
    """Where a pressure lies on a scale that is so wide; what is off the scale lies at its end."""
    share = min(max(pressure_pa / scale.top_pa, 0.0), 1.0)
    return INSET + (width - 2 * INSET) * share


class SupplyBar(widgets.ChoosableRow):
    """One pump or mains tap: what it has to give as a bar, what it gives as a bracket."""

    def __init__(self, row: SupplyRow, scale: PressureScale, theme: Theme) -> None:
        super().__init__()
        self.row = row
        self._scale = scale
        self._theme = theme
        self._selected = False
        self.setFixedHeight(self.least_height())
        self._say()

    def sizeHint(self) -> QSize:
        return QSize(260, self.height())

    def least_height(self) -> int:
        """Head, bar and the line under it."""
        return HEAD + BAR + WORDS + FOOT

    def grow(self, spare: int) -> None:
        """It keeps its height: taps have more use for room."""

    def show_row(self, row: SupplyRow, scale: PressureScale, theme: Theme) -> None:
        """Show other values."""
        if row == self.row and scale == self._scale and theme is self._theme:
            return
        self.row, self._scale, self._theme = row, scale, theme
        self._say()
        self.update()

    def show_selected(self, selected: bool) -> None:
        """Set it off where its item is selected."""
        if selected != self._selected:
            self._selected = selected
            self.update()

    def choice(self) -> object:
        """Id of the item to select."""
        return self.row.item

    def _say(self) -> None:
        self.setAccessibleName(self.row.spoken)
        self.setToolTip(self.row.tip)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = self._theme
        if self._selected:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.selection_tint))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0, 0, 0, -1), 5, 5)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.selection), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -2), 5, 5)
        self._paint_head(painter)
        self._paint_window(painter)
        self._paint_range(painter)
        self._paint_words(painter)
        painter.end()

    def _paint_head(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        used = font(TYPE.body, 600, tabular=True)
        metrics = QFontMetricsF(used)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        left = self.width() - INSET - metrics.horizontalAdvance(row.numbers)
        mark = theme.mark(row.state)
        painter.setFont(used)
        painter.setPen(QColor(theme.ink_muted if row.state == "ok" else mark.ink))
        painter.drawText(QRectF(left, 1, self.width() - left, HEAD - 2), flags, row.numbers)
        paint_mark(painter, mark, QRectF(left - 18, 3, 13, 13))
        room = max(left - 18 - INSET - 6, 20)
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, room)
        painter.setPen(QColor(theme.ink))
        painter.drawText(QRectF(INSET, 1, room, HEAD - 2), flags, name)

    def _x(self, pressure_pa: float) -> float:
        return scale_x(pressure_pa, self._scale, self.width())

    def _paint_window(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        track = QRectF(INSET, HEAD, self.width() - 2 * INSET, BAR)
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.setBrush(QColor(theme.track))
        painter.drawRoundedRect(track, BAR / 2, BAR / 2)
        least, greatest = self._x(row.least_pa), self._x(row.greatest_pa)
        if row.is_open:
            painter.setPen(QPen(QColor(theme.ok.fill), 1.2))
            painter.setBrush(QColor(theme.ok.tint))
            window = QRectF(least, HEAD, max(greatest - least, 3), BAR)
            painter.drawRoundedRect(window, BAR / 2, BAR / 2)
            return
        # The edges have passed each other: what lies between them cannot be had.
        gap = QRectF(min(greatest, least), HEAD, max(abs(least - greatest), 4), BAR)
        painter.setPen(QPen(QColor(theme.stop.fill), 1.2))
        painter.setBrush(QBrush(QColor(theme.stop.fill), Qt.BrushStyle.BDiagPattern))
        painter.drawRect(gap)

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

    def _paint_words(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        used = font(TYPE.caption, tabular=True)
        metrics = QFontMetricsF(used)
        room = self.width() - 2 * INSET
        painter.setFont(used)
        bad = row.state in ("care", "stop")
        painter.setPen(QColor(theme.mark(row.state).ink if bad else theme.ink_muted))
        text = metrics.elidedText(row.words, Qt.TextElideMode.ElideRight, room)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(QRectF(INSET, HEAD + BAR + 2, room, WORDS), flags, text)
