"""The taps board: the pressure each inlet allows, sees when shut, and keeps when open."""

from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
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
from ..selection import Selection
from ..session import Session
from ..typical import marks_of
from .board import Board, Growing
from .pressure_row import scale_x
from .supply_bar import SupplyBar
from .supply_rows import SupplyRow, supply_rows
from .tap_gauge import TapGauge
from .tap_rows import PressureScale, pressure_scale, tap_rows

_REST_MS = 120


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
        self._marks = marks_of(session)
        self._marks.changed.connect(self._refresh)
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
        rows = tuple(
            replace(row, about=self._marks.of(row.told))
            for row in tap_rows(session.analysis, session.water_case, session.system)
        )
        supplies = self._supply_rows()
        highest_pa = max((one.top_pa for one in supplies), default=0.0)
        scale = pressure_scale(rows, session.system, highest_pa)
        there = [*self._supplies, *self._gauges]
        if [*(one.item for one in supplies), *(row.key for row in rows)] != there:
            self.area.clear()
            self._supplies = {one.item: SupplyBar(one, scale, session.theme) for one in supplies}
            self._gauges = {row.key: TapGauge(row, scale, session.theme) for row in rows}
            rows_made: list[SupplyBar | TapGauge] = [*self.supplies, *self.gauges]
            for made in rows_made:
                made.chosen.connect(self._chosen)
                made.working_asked.connect(self._session.working_requested)
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
        for supply in self.supplies:
            supply.show_selected(supply.row.item in selection.items)
        for gauge in self.gauges:
            gauge.show_selected(gauge.row.item in selection.items)

    def _chosen(self, item_id: str) -> None:
        self._session.show_on_plan(Selection(items=(item_id,)))
