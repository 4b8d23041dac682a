"""A row of the taps board: a name, its numbers and a bar on the scale of all of them."""

from typing import Generic, Protocol, TypeVar

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets
from ..marks import paint_mark
from .tap_rows import PressureScale

HEAD, BAR = 18, 9
INSET = 8
LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft


class Pressures(Protocol):
    """What there is to say of one tap or supply; pressures in pascals, gauge."""

    @property
    def item(self) -> str: ...
    @property
    def name(self) -> str: ...
    @property
    def numbers(self) -> str: ...
    @property
    def state(self) -> str: ...
    @property
    def least_pa(self) -> float: ...
    @property
    def greatest_pa(self) -> float: ...
    @property
    def spoken(self) -> str: ...
    @property
    def tip(self) -> str: ...


Shown = TypeVar("Shown", bound=Pressures)


def scale_x(pressure_pa: float, scale: PressureScale, width: float) -> float:
    """Where a pressure lies on a scale that is so wide; what is off the scale lies at its end."""
    share = min(max(pressure_pa / scale.top_pa, 0.0), 1.0)
    return INSET + (width - 2 * INSET) * share


class PressureRow(widgets.ChoosableRow, Generic[Shown]):
    """Paints its ground and its head; what lies on the track is the subclass's."""

    def __init__(self, row: Shown, scale: PressureScale, theme: Theme) -> None:
        super().__init__()
        self.row = row
        self._scale = scale
        self._theme = theme
        self._selected = False
        self._bar = BAR
        self._fit()

    def sizeHint(self) -> QSize:
        return QSize(260, self.height())

    def needed_height(self) -> int:
        """Pixels that what it shows now takes."""
        raise NotImplementedError

    def show_row(self, row: Shown, scale: PressureScale, theme: Theme) -> None:
        """Show other values."""
        if row == self.row and scale == self._scale and theme is self._theme:
            return
        self.row, self._scale, self._theme = row, scale, theme
        self._fit()
        self.update()

    def show_selected(self, selected: bool) -> None:
        """Set it off where its item is selected."""
        if selected != self._selected:
            self._selected = selected
            self.update()

    def choice(self) -> object:
        """Id of the item to select."""
        return self.row.item

    def _fit(self) -> None:
        self.setFixedHeight(self.needed_height())
        self.setAccessibleName(self.row.spoken)
        self.setToolTip(self.row.tip)

    def _x(self, pressure_pa: float) -> float:
        return scale_x(pressure_pa, self._scale, self.width())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter)
        self._paint_head(painter)
        self._paint_track(painter)
        self.paint_values(painter)
        painter.end()

    def paint_values(self, painter: QPainter) -> None:
        """What lies on the track, and what stands under it."""
        raise NotImplementedError

    def _paint_ground(self, painter: QPainter) -> None:
        theme = self._theme
        if self._selected:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.selection_tint))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0, 0, 0, -1), 5, 5)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.selection), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -2), 5, 5)

    def _paint_head(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        used = font(TYPE.body, 600, tabular=True)
        metrics = QFontMetricsF(used)
        width = metrics.horizontalAdvance(row.numbers)
        left = self.width() - INSET - width
        mark = theme.mark(row.state)
        painter.setFont(used)
        painter.setPen(QColor(theme.ink_muted if row.state in ("ok", "note") else mark.ink))
        painter.drawText(QRectF(left, 1, width + 2, HEAD - 2), LEFT, row.numbers)
        paint_mark(painter, mark, QRectF(left - 18, 3, 13, 13))
        room = max(left - 18 - INSET - 6, 20)
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, room)
        painter.setPen(QColor(theme.ink))
        painter.drawText(QRectF(INSET, 1, room, HEAD - 2), LEFT, name)

    def _paint_track(self, painter: QPainter) -> None:
        track = QRectF(INSET, HEAD, self.width() - 2 * INSET, self._bar)
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.setBrush(QColor(self._theme.track))
        painter.drawRoundedRect(track, self._bar / 2, self._bar / 2)

    def paint_window(self, painter: QPainter) -> None:
        """From the least to the greatest pressure that is allowed."""
        left, right = self._x(self.row.least_pa), self._x(self.row.greatest_pa)
        painter.setPen(QPen(QColor(self._theme.ok.fill), 1.2))
        painter.setBrush(QColor(self._theme.ok.tint))
        window = QRectF(left, HEAD, max(right - left, 3), self._bar)
        painter.drawRoundedRect(window, self._bar / 2, self._bar / 2)

    def paint_words(self, painter: QPainter, words: str, where: QRectF, colour: str) -> None:
        """A line of small words under the bar, cut where it has no room."""
        used = font(TYPE.caption, tabular=True)
        shown = QFontMetricsF(used).elidedText(words, Qt.TextElideMode.ElideRight, where.width())
        painter.setFont(used)
        painter.setPen(QColor(colour))
        painter.drawText(where, LEFT, shown)
