"""What the details show without editing: facts, the pressure on its way, sections to fold."""

from collections.abc import Callable
from functools import cache

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets
from ..icons import icon
from .editors import LABEL_WIDTH
from .facts import Fact, Ladder, Rung
from .fields import Editor


class FactsView(QWidget):
    """Facts one under the other: label left, value right."""

    def __init__(self) -> None:
        super().__init__()
        self._facts: tuple[Fact, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnMinimumWidth(0, LABEL_WIDTH)
        self._grid.setColumnStretch(1, 1)
        self._rows: list[tuple[QLabel, QLabel]] = []

    def show_facts(self, facts: tuple[Fact, ...]) -> None:
        """Show other facts; rows that stay the same are left alone."""
        if facts == self._facts:
            return
        while len(self._rows) > len(facts):
            for one in self._rows.pop():
                one.hide()
                one.deleteLater()
        while len(self._rows) < len(facts):
            left = widgets.wrapped("", "muted")
            left.setFixedWidth(LABEL_WIDTH)
            right = widgets.wrapped("", "")
            right.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            at = len(self._rows)
            self._grid.addWidget(left, at, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(right, at, 1, Qt.AlignmentFlag.AlignTop)
            self._rows.append((left, right))
        for (left, right), fact in zip(self._rows, facts, strict=True):
            self._show_row(left, right, fact)
        self._facts = facts

    def _show_row(self, left: QLabel, right: QLabel, fact: Fact) -> None:
        word = {"stop": "  ✕", "care": "  !", "ok": "  ✓"}.get(fact.state, "")
        spoken = {"stop": "does not hold", "care": "check", "ok": "holds"}.get(fact.state, "")
        left.setText(fact.label)
        right.setText(f"{fact.value}{word}")
        right.setAccessibleName(f"{fact.label}: {fact.value} {spoken}".strip())
        for one in (left, right):
            one.setToolTip(fact.tip)
        widgets.set_state(right, "state", fact.state)


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
    """Where the pressure goes on the way to one tap or more."""

    chosen = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 4, 0, 4)
        self._column.setSpacing(1)
        self._shape: tuple[tuple[str, int], ...] = ()
        self.bars: list[RungBar] = []

    def show_ladders(self, ladders: tuple[Ladder, ...], theme: Theme) -> None:
        """Show other values."""
        shape = tuple((ladder.title, len(ladder.rungs)) for ladder in ladders)
        rungs = [rung for ladder in ladders for rung in ladder.rungs]
        if shape != self._shape:
            self._shape = shape
            while self._column.count():
                taken = self._column.takeAt(0)
                if taken is not None and (widget := taken.widget()) is not None:
                    widget.hide()
                    widget.deleteLater()
            self.bars = []
            for ladder in ladders:
                self._column.addWidget(widgets.label(ladder.title, "title"))
                for rung in ladder.rungs:
                    bar = RungBar(rung, theme)
                    bar.chosen.connect(self.chosen)
                    self.bars.append(bar)
                    self._column.addWidget(bar)
        for bar, rung in zip(self.bars, rungs, strict=True):
            bar.show_rung(rung, theme)
        self.setVisible(bool(rungs))


class Section(QWidget):
    """A heading that folds; what is under it is made when it is first opened."""

    toggled = Signal(object, object)
    """Title, and whether it is open now."""
    edited = Signal(object, object)

    def __init__(
        self,
        title: str,
        value: object,
        make: Callable[[object], Editor],
        is_open: bool,
        theme: Theme,
    ) -> None:
        super().__init__()
        self.title = title
        self._value = value
        self._make = make
        self.editor: Editor | None = None
        self.head = QToolButton()
        self.head.setText(title)
        self.head.setProperty("section", True)
        self.head.setCheckable(True)
        self.head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.head.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.head.setIconSize(QSize(12, 12))
        self.head.setAccessibleName(f"{title}, section")
        self.head.toggled.connect(self._toggled)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addWidget(self.head)
        self._theme = theme
        self.head.setChecked(is_open)
        self.ink(theme)
        if is_open:
            self._unfold()

    def ink(self, theme: Theme) -> None:
        """Use the theme's colour for the arrow."""
        self._theme = theme
        self.head.setIcon(icon("opened" if self.head.isChecked() else "closed", theme))

    def show_value(self, value: object) -> None:
        """Show another value."""
        self._value = value
        if self.editor is not None:
            self.editor.show_value(value)

    def open(self) -> None:
        """Unfold it."""
        self.head.setChecked(True)

    def _toggled(self, is_open: bool) -> None:
        if is_open:
            self._unfold()
        if self.editor is not None:
            self.editor.setVisible(is_open)
        self.ink(self._theme)
        self.toggled.emit(self.title, is_open)

    def _unfold(self) -> None:
        if self.editor is None:
            self.editor = self._make(self._value)
            self.editor.setContentsMargins(0, 2, 0, 8)
            self.editor.edited.connect(self.edited)
            self._column.addWidget(self.editor)
            self.editor.show()
