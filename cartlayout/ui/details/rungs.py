"""The pressure on its way to a tap, drawn step by step."""

from functools import cache

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QComboBox, QSizePolicy, QVBoxLayout, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets
from .ladders import Ladder, Node, Rung


@cache
def _faces() -> tuple[QFont, QFont, QFontMetricsF]:
    """Plain and strong small print; made once, because bars are painted at every step of a drag."""
    plain, strong = font(TYPE.caption, tabular=True), font(TYPE.caption, 600, tabular=True)
    return plain, strong, QFontMetricsF(plain)


class RungBar(widgets.ChoosableRow):
    """One step on the way to a tap: its name, what it takes, what is left as a bar."""

    def __init__(self, rung: Rung, theme: Theme) -> None:
        super().__init__()
        self.rung = rung
        self._theme = theme
        self.setFixedHeight(32)
        self._say()

    def sizeHint(self) -> QSize:
        return QSize(240, 32)

    def show_rung(self, rung: Rung, theme: Theme) -> None:
        """Show another step."""
        if rung == self.rung and theme is self._theme:
            return
        self.rung, self._theme = rung, theme
        self._say()
        self.update()

    def _say(self) -> None:
        rung = self.rung
        self.setAccessibleName(f"{rung.name}: {rung.value} left, {rung.loss}")
        self.setToolTip(f"{rung.name}: {rung.loss}, {rung.value} left after it. Click to select.")

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme, rung = self._theme, self.rung
        plain, strong, metrics = _faces()
        left_flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        right_flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        loss_width = metrics.horizontalAdvance(rung.loss)
        room = self.width() - loss_width - 12
        name = metrics.elidedText(rung.name, Qt.TextElideMode.ElideRight, room)
        painter.setFont(plain)
        painter.setPen(QColor(theme.ink))
        painter.drawText(QRectF(2, 0, room, 16), left_flags, name)
        painter.setPen(QColor(theme.ink_muted))
        painter.drawText(QRectF(2, 0, self.width() - 4, 16), right_flags, rung.loss)
        value_width = 62.0
        track = QRectF(2, 18, self.width() - value_width - 8, 9)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.track))
        painter.drawRoundedRect(track, 4, 4)
        mark = theme.mark(rung.state) if rung.state else None
        painter.setBrush(QColor(mark.fill if mark is not None else theme.water))
        filled = QRectF(track.left(), track.top(), max(4.0, track.width() * rung.share), 9)
        if rung.took > 0.0:
            # What this step took is seen beside what it left.
            taken = QRectF(filled).adjusted(0, 0, track.width() * rung.took, 0) & track
            painter.save()
            painter.setBrush(QColor(theme.line_strong))
            painter.drawRoundedRect(taken, 4, 4)
            painter.restore()
        painter.drawRoundedRect(filled, 4, 4)
        painter.setFont(strong)
        painter.setPen(QColor(mark.ink if mark is not None else theme.ink))
        where = QRectF(self.width() - value_width - 2, 14, value_width, 16)
        painter.drawText(where, right_flags, rung.value)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.selection), 1.5))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.75, 0.75, -0.75, -0.75), 4, 4)
        painter.end()

    def choice(self) -> object:
        """Id of the item or run."""
        return self.rung.id


class LadderView(QWidget):
    """Where the pressure goes on the way to one tap or more, each in a case that can be chosen."""

    chosen = Signal(object)
    """Id of the item or run of a step."""
    case_chosen = Signal(object, object)
    """The tap, and the name of the case."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 4, 0, 4)
        self._column.setSpacing(1)
        self._shape: tuple[object, ...] = ()
        self.bars: list[RungBar] = []
        self.choosers: list[CaseChooser] = []

    def show_ladders(self, ladders: tuple[Ladder, ...], theme: Theme) -> None:
        """Show other values."""
        shape = tuple((one.title, one.node, one.choices, len(one.rungs)) for one in ladders)
        rungs = [rung for ladder in ladders for rung in ladder.rungs]
        if shape != self._shape:
            self._rebuild(ladders, shape, theme)
        for chooser, ladder in zip(self.choosers, ladders, strict=True):
            chooser.show_case(ladder.case)
        for bar, rung in zip(self.bars, rungs, strict=True):
            bar.show_rung(rung, theme)
        self.setVisible(bool(rungs))

    def _rebuild(
        self, ladders: tuple[Ladder, ...], shape: tuple[object, ...], theme: Theme
    ) -> None:
        focused = next((at for at, one in enumerate(self.choosers) if one.hasFocus()), None)
        self._shape = shape
        while self._column.count():
            taken = self._column.takeAt(0)
            if taken is not None and (widget := taken.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self.bars, self.choosers = [], []
        for ladder in ladders:
            self._column.addWidget(widgets.label(ladder.title, "title"))
            chooser = CaseChooser(ladder)
            chooser.case_chosen.connect(self.case_chosen)
            self.choosers.append(chooser)
            self._column.addWidget(chooser)
            if len(ladder.choices) < 2:
                chooser.hide()
            for rung in ladder.rungs:
                bar = RungBar(rung, theme)
                bar.chosen.connect(self.chosen)
                self.bars.append(bar)
                self._column.addWidget(bar)
        if focused is not None and focused < len(self.choosers):
            self.choosers[focused].setFocus()


class CaseChooser(QComboBox):
    """Which taps are open while one looks at the way to one of them."""

    case_chosen = Signal(object, object)

    def __init__(self, ladder: Ladder) -> None:
        super().__init__()
        self._node: Node = ladder.node
        self._cases = [case for case, _ in ladder.choices]
        for _, words in ladder.choices:
            self.addItem(words)
        self.setAccessibleName("Taps that are open")
        self.setToolTip("Which taps are open: this one alone, with another, or everything")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.activated.connect(self._activated)

    def show_case(self, case: str) -> None:
        """Show which is chosen."""
        if case in self._cases:
            self.setCurrentIndex(self._cases.index(case))

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()  # the wheel scrolls the page

    def _activated(self, index: int) -> None:
        self.case_chosen.emit(self._node, self._cases[index])
