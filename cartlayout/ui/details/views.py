"""What the details show without editing: facts, the pressure on its way, sections to fold."""

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import widgets
from ..icons import icon
from ..typical import SIGN, tip_of
from ..workings.asking import NumberLabel
from .editors import LABEL_WIDTH
from .fact import Fact
from .fields import Editor
from .rungs import LadderView, RungBar

_SIGN_PX = 12

__all__ = ["FactsView", "LadderView", "RungBar", "Section"]


class FactsView(QWidget):
    """Facts one under the other: label left, value right. A value may lead to its working."""

    working_asked = Signal(object)
    """Tuple of the Numbers of a fact."""

    def __init__(self) -> None:
        super().__init__()
        self._facts: tuple[Fact, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnMinimumWidth(0, LABEL_WIDTH)
        self._grid.setColumnStretch(1, 1)
        self._rows: list[tuple[QLabel, NumberLabel]] = []
        self._signs: list[QLabel] = []

    def show_facts(self, facts: tuple[Fact, ...]) -> None:
        """Show other facts; rows that stay the same are left alone."""
        if facts == self._facts:
            return
        while len(self._rows) > len(facts):
            for one in (*self._rows.pop(), self._signs.pop()):
                one.hide()
                one.deleteLater()
        while len(self._rows) < len(facts):
            left = widgets.wrapped("", "muted")
            left.setFixedWidth(LABEL_WIDTH)
            right = NumberLabel()
            right.asked.connect(self.working_asked)
            sign = widgets.label("", "muted")
            sign.setFixedWidth(_SIGN_PX)
            at = len(self._rows)
            self._grid.addWidget(left, at, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(right, at, 1, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(sign, at, 2, Qt.AlignmentFlag.AlignTop)
            self._rows.append((left, right))
            self._signs.append(sign)
        for (left, right), sign, fact in zip(self._rows, self._signs, facts, strict=True):
            self._show_row(left, right, fact)
            sign.setText(SIGN if fact.about else "")
            sign.setVisible(bool(fact.about))
            sign.setToolTip(tip_of(fact.about))
            sign.setAccessibleName(tip_of(fact.about))
        self._facts = facts

    def _show_row(self, left: QLabel, right: NumberLabel, fact: Fact) -> None:
        word = {"stop": "  ✕", "care": "  !", "ok": "  ✓"}.get(fact.state, "")
        spoken = {"stop": "does not hold", "care": "check", "ok": "holds"}.get(fact.state, "")
        left.setText(fact.label)
        right.setText(f"{fact.value}{word}")
        right.setAccessibleName(f"{fact.label}: {fact.value} {spoken}".strip())
        right.show_numbers(fact.numbers)
        more = "Click to see how it came about." if fact.numbers else ""
        left.setToolTip(fact.tip)
        tips = (fact.tip, tip_of(fact.about), more)
        right.setToolTip("\n".join(text for text in tips if text))
        widgets.set_state(right, "state", fact.state)


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
