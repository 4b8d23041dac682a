"""The taps board: the pressure each inlet allows, sees when shut, and keeps when open."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets
from ..marks import paint_mark
from ..selection import Selection
from ..session import Session
from .board import Board, Growing
from .supply_bar import INSET, SupplyBar, scale_x
from .supply_rows import SupplyRow, supply_rows
from .tap_rows import PressureScale, TapRow, pressure_scale, tap_rows

HEAD = 18
BAR = 9
FOOT = 9
MOST_BAR, MOST_FOOT = 15, 24
"""What of a row may grow to where there is room."""
_REST_MS = 120
LINE = 14
"""Where a row has a line of words under its bar."""


class TapGauge(widgets.ChoosableRow):
    """One tap: its window as a bar, a dot for shut, a ring for open."""

    def __init__(self, row: TapRow, scale: PressureScale, theme: Theme) -> None:
        super().__init__()
        self.row = row
        self._scale = scale
        self._theme = theme
        self._selected = False
        self._bar, self._foot = BAR, FOOT
        self.setFixedHeight(self.least_height())
        self.setAccessibleName(row.spoken)
        self.setToolTip(row.tip)

    def sizeHint(self) -> QSize:
        return QSize(260, self.height())

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
            self.setFixedHeight(HEAD + bar + self._line_height() + foot)
            self.update()

    def show_row(self, row: TapRow, scale: PressureScale, theme: Theme) -> None:
        """Show other values."""
        if row == self.row and scale == self._scale and theme is self._theme:
            return
        self.row, self._scale, self._theme = row, scale, theme
        self.setFixedHeight(HEAD + self._bar + self._line_height() + self._foot)
        self.setAccessibleName(row.spoken)
        self.setToolTip(row.tip)
        self.update()

    def show_selected(self, selected: bool) -> None:
        """Set it off where its item is selected."""
        if selected != self._selected:
            self._selected = selected
            self.update()

    def _x(self, pressure_pa: float) -> float:
        return scale_x(pressure_pa, self._scale, self.width())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme, row = self._theme, self.row
        if self._selected:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(theme.selection_tint))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0, 0, 0, -1), 5, 5)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.selection), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -2), 5, 5)
        self._paint_head(painter)
        self._paint_scale(painter)
        if row.static_pa is not None:
            self._paint_readings(painter)
        if row.line:
            self._paint_line(painter)
        painter.end()

    def _paint_head(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        mark = theme.mark(row.state)
        used = font(TYPE.body, 600, tabular=True)
        metrics = QFontMetricsF(used)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        width = metrics.horizontalAdvance(row.numbers)
        left = self.width() - INSET - width
        painter.setFont(used)
        painter.setPen(QColor(theme.ink_muted if row.state in ("ok", "note") else mark.ink))
        painter.drawText(QRectF(left, 1, width + 2, HEAD - 2), flags, row.numbers)
        paint_mark(painter, mark, QRectF(left - 18, 3, 13, 13))
        room = left - 18 - INSET - 6
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, max(room, 20))
        painter.setPen(QColor(theme.ink))
        painter.drawText(QRectF(INSET, 1, max(room, 20), HEAD - 2), flags, name)

    def _paint_scale(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        track = QRectF(INSET, HEAD, self.width() - 2 * INSET, self._bar)
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.setBrush(QColor(theme.track))
        painter.drawRoundedRect(track, self._bar / 2, self._bar / 2)
        left, right = self._x(row.least_pa), self._x(row.greatest_pa)
        painter.setPen(QPen(QColor(theme.ok.fill), 1.2))
        painter.setBrush(QColor(theme.ok.tint))
        window = QRectF(left, HEAD, max(right - left, 3), self._bar)
        painter.drawRoundedRect(window, self._bar / 2, self._bar / 2)

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
        used = font(TYPE.caption, tabular=True)
        room = self.width() - 2 * INSET
        top = HEAD + self._bar + 1
        left = float(INSET)
        if row.line_bad:
            paint_mark(painter, theme.stop, QRectF(left, top + 2, 11, 11))
            left += 15
        text = QFontMetricsF(used).elidedText(
            row.line, Qt.TextElideMode.ElideRight, room - left + INSET
        )
        painter.setFont(used)
        painter.setPen(QColor(theme.stop.ink if row.line_bad else theme.ink_muted))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(QRectF(left, top, room, LINE), flags, text)

    def choice(self) -> object:
        """Id of the item to select."""
        return self.row.item


class PressureAxis(QWidget):
    """The scale over all taps."""

    def __init__(self, scale: PressureScale, theme: Theme) -> None:
        super().__init__()
        self._scale = scale
        self._theme = theme
        self.setFixedHeight(16)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_scale(self, scale: PressureScale, theme: Theme) -> None:
        """Show another scale."""
        if scale == self._scale and theme is self._theme:
            return
        self._scale, self._theme = scale, theme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        used = font(TYPE.caption, tabular=True)
        metrics = QFontMetricsF(used)
        painter.setFont(used)
        painter.setPen(QColor(self._theme.ink_muted))
        last = len(self._scale.ticks) - 1
        for index, (pressure_pa, text) in enumerate(self._scale.ticks):
            x = scale_x(pressure_pa, self._scale, self.width())
            painter.drawLine(QPointF(x, 12), QPointF(x, 15))
            shown = f"{text} {self._scale.unit}" if index == last else text
            width = metrics.horizontalAdvance(shown)
            left = min(x - metrics.horizontalAdvance(text) / 2, self.width() - width - 1)
            painter.drawText(QRectF(left, 0, width + 2, 12), Qt.AlignmentFlag.AlignVCenter, shown)
        painter.end()


class Legend(QWidget):
    """What bar, dot and ring mean."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._texts = ("allowed", "shut", "open")
        self.setFixedHeight(16)
        metrics = QFontMetricsF(font(TYPE.caption))
        self.setFixedWidth(
            round(sum(metrics.horizontalAdvance(text) for text in self._texts) + 3 * 30)
        )
        self.setAccessibleName("Bar: what the maker allows. Dot: tap shut. Ring: tap open.")
        self.setToolTip(
            "Bar: the pressures the maker allows. Dot: tap shut, the highest its line can see. "
            "Ring: tap open, what is left while water runs."
        )

    def show_theme(self, theme: Theme) -> None:
        """Use other colours."""
        if theme is not self._theme:
            self._theme = theme
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = self._theme
        used = font(TYPE.caption)
        metrics = QFontMetricsF(used)
        painter.setFont(used)
        x = 2.0
        for text in self._texts:
            middle = QPointF(x + 8, 8)
            if text == "allowed":
                painter.setPen(QPen(QColor(theme.ok.fill), 1.2))
                painter.setBrush(QColor(theme.ok.tint))
                painter.drawRoundedRect(QRectF(x, 4.5, 16, 7), 3.5, 3.5)
            elif text == "shut":
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(theme.ink))
                painter.drawEllipse(middle, 4.6, 4.6)
            else:
                painter.setPen(QPen(QColor(theme.ok.ink), 2.4))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(middle, 4, 4)
            painter.setPen(QColor(theme.ink_muted))
            width = metrics.horizontalAdvance(text)
            painter.drawText(QRectF(x + 19, 0, width + 2, 16), Qt.AlignmentFlag.AlignVCenter, text)
            x += 30 + width
        painter.end()


class TapsBoard(Board):
    """One gauge a tap on a common scale, over them what each supply has to give."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Taps", parent)
        self._session = session
        self._gauges: dict[tuple[str, str], TapGauge] = {}
        self._supplies: dict[str, SupplyBar] = {}
        self._supply_rows_before: tuple[SupplyRow, ...] = ()
        self._rests = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_REST_MS)
        self._later.timeout.connect(self._rested)
        self.legend = Legend(session.theme)
        self.head.addWidget(self.legend)
        scale = pressure_scale((), session.system)
        self.axis = PressureAxis(scale, session.theme)
        self.add_scale(self.axis)
        self.area.column.setSpacing(2)
        session.analysis_changed.connect(self._refresh)
        session.system_changed.connect(self._refresh)
        session.theme_changed.connect(self._refresh)
        session.case_changed.connect(self._refresh)
        session.selection_changed.connect(self._show_selection)
        self._refresh()

    @property
    def gauges(self) -> tuple[TapGauge, ...]:
        """The gauges from top to bottom."""
        return tuple(self._gauges.values())

    @property
    def supplies(self) -> tuple[SupplyBar, ...]:
        """The bars of the pumps and mains taps."""
        return tuple(self._supplies.values())

    def growing(self) -> tuple[Growing, ...]:
        return (*self.supplies, *self.gauges)

    def _refresh(self, *_: object) -> None:
        session = self._session
        rows = tap_rows(session.analysis, session.water_case, session.system)
        supplies = self._supply_rows()
        highest_pa = max((one.top_pa for one in supplies), default=0.0)
        scale = pressure_scale(rows, session.system, highest_pa)
        there = [*self._supplies, *self._gauges]
        if [*(one.item for one in supplies), *(row.key for row in rows)] != there:
            self.area.clear()
            self._supplies = {one.item: SupplyBar(one, scale, session.theme) for one in supplies}
            self._gauges = {row.key: TapGauge(row, scale, session.theme) for row in rows}
            for made in (*self.supplies, *self.gauges):
                made.chosen.connect(self._chosen)
                self.area.add(made)
        for one in supplies:
            self._supplies[one.item].show_row(one, scale, session.theme)
        for row in rows:
            self._gauges[row.key].show_row(row, scale, session.theme)
        self.share_room()
        self.axis.show_scale(scale, session.theme)
        self.axis.setVisible(bool(rows))
        self.legend.setVisible(bool(rows))
        self.legend.show_theme(session.theme)
        self.say_empty(
            ""
            if rows
            else "No tap yet. Place something that takes water, "
            "then run a tube to its inlet from a tank, a pump or the mains."
        )
        self._show_selection(session.selection)

    def _supply_rows(self) -> tuple[SupplyRow, ...]:
        """What each supply has to give: as long to work out as all the rest of a drag's step.

        While something moves the last ones stay, and follow when it rests.
        """
        session = self._session
        if session.previewing and not self._rests:
            self._later.start()
            return self._supply_rows_before
        self._supply_rows_before = supply_rows(session.analysis, session.system)
        return self._supply_rows_before

    def _rested(self) -> None:
        self._rests = True
        self._refresh()
        self._rests = False

    def _show_selection(self, selection: Selection) -> None:
        for one in (*self.supplies, *self.gauges):
            one.show_selected(one.row.item in selection.items)

    def _chosen(self, item_id: str) -> None:
        self._session.show_on_plan(Selection(items=(item_id,)))
