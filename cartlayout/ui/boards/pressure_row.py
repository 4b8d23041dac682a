"""A row of the taps board: a name, its numbers and a bar on the scale of all of them."""

from typing import Generic, Protocol, TypeVar

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ...findings.number import Number
from .. import widgets
from ..marks import paint_mark
from ..typical import SIGN, tip_of
from ..workings.asking import Spots
from .tap_rows import PressureScale

HEAD, BAR = 18, 9
INSET = 8
APART = "   "
"""Between two numbers of a row."""
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
    @property
    def told(self) -> tuple[Number, ...]: ...


Shown = TypeVar("Shown", bound=Pressures)


def scale_x(pressure_pa: float, scale: PressureScale, width: float) -> float:
    """Where a pressure lies on a scale that is so wide; what is off the scale lies at its end."""
    share = min(max(pressure_pa / scale.top_pa, 0.0), 1.0)
    return INSET + (width - 2 * INSET) * share


class PressureRow(widgets.ChoosableRow, Generic[Shown]):
    """Paints its ground and its head; what lies on the track is the subclass's."""

    working_asked = Signal(object)
    """Tuple of Numbers: how they came about."""

    def __init__(self, row: Shown, scale: PressureScale, theme: Theme) -> None:
        super().__init__()
        self.setMouseTracking(True)
        self.spots = Spots(self)
        self._asks: tuple[Number, ...] = ()
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
        about = tip_of(self._about)
        self.setAccessibleName(self.row.spoken)
        self.setAccessibleDescription(about)
        self.setToolTip("\n".join(text for text in (self.row.tip, about) if text))

    @property
    def _about(self) -> tuple[str, ...]:
        """Typical figures that its numbers rest on."""
        about: tuple[str, ...] = getattr(self.row, "about", ())
        return about

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
        painter.setPen(QColor(theme.ink_muted if row.state in ("ok", "note") else mark.ink))
        self._paint_numbers(painter, left)
        used.setUnderline(False)
        painter.setFont(used)
        if self._about:
            left -= metrics.horizontalAdvance(f"{SIGN} ")
            painter.setPen(QColor(theme.ink_muted))
            painter.drawText(QRectF(left, 1, 16, HEAD - 2), LEFT, SIGN)
        paint_mark(painter, mark, QRectF(left - 18, 3, 13, 13))
        room = max(left - 18 - INSET - 6, 20)
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, room)
        painter.setPen(QColor(theme.ink))
        painter.drawText(QRectF(INSET, 1, room, HEAD - 2), LEFT, name)

    def _paint_numbers(self, painter: QPainter, left: float) -> None:
        """Each number of the row, from left to right, leads to its own working."""
        self.spots.begin()
        parts = self.row.numbers.split(APART)
        for at, part in enumerate(parts):
            used = font(TYPE.body, 600, tabular=True)
            wide = QFontMetricsF(used).horizontalAdvance(part)
            where = QRectF(left, 1, wide + 2, HEAD - 2)
            told = self.row.told if len(parts) == 1 else self.row.told[at : at + 1]
            used.setUnderline(self.spots.add(where, told))
            painter.setFont(used)
            painter.drawText(where, LEFT, part)
            left += QFontMetricsF(used).horizontalAdvance(part + APART)

    # Numbers that lead to their workings

    def told_numbers(self) -> tuple[Number, ...]:
        """All that the row tells."""
        return self.row.told

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._asks = self.spots.at(event.position())
        if not self._asks:
            super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.spots.hover(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        asks, self._asks = self._asks, ()
        if asks and asks == self.spots.at(event.position()):
            self.working_asked.emit(asks)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.spots.hover(None)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if self.row.told:
            self.working_asked.emit(self.row.told)

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
