"""One step of a working: a heading that folds, the formula line by line, the symbols."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from ...documents.theme import Theme
from ...findings.number import Number
from .. import widgets
from ..icons import icon
from .asking import NumberLabel
from .rows import StepRow, SymbolRow

_INDENT = 20


class _Says(QLabel):
    """What a step is; a click on it folds the step."""

    clicked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setMinimumWidth(10)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.clicked.emit()


class StepView(QWidget):
    """Shows one `StepRow`; widgets stay while a build is dragged and only their texts change."""

    asked = Signal(object)
    """Number of a symbol whose own working is to be seen."""
    folded = Signal(object)
    """True once it is unfolded, False once it is folded."""

    def __init__(self, row: StepRow, theme: Theme, is_open: bool) -> None:
        super().__init__()
        self._theme = theme
        self._row: StepRow | None = None
        self.head = QToolButton()
        self.head.setCheckable(True)
        self.head.setIconSize(QSize(12, 12))
        self.head.setFixedSize(QSize(18, 18))
        self.head.setProperty("in-bar", True)
        self.says = _Says()
        self.says.clicked.connect(self.head.toggle)
        self.symbol = widgets.label("", "strong")
        self.lines = widgets.wrapped("", "strong")
        self.lines.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 2, 0, 2)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(2, 1)
        self._cells: list[tuple[QLabel, NumberLabel, QLabel]] = []
        self._box = QWidget()
        self._box.setObjectName("scrolled")
        self._box.setLayout(self._grid)
        inner = QVBoxLayout()
        inner.setContentsMargins(_INDENT, 0, 0, 0)
        inner.setSpacing(2)
        formula = widgets.row(self.symbol, self.lines, spacing=4)
        formula.setAlignment(self.symbol, Qt.AlignmentFlag.AlignTop)
        formula.setStretch(1, 1)
        inner.addLayout(formula)
        inner.addWidget(self._box)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(1)
        top = widgets.row(self.head, self.says, spacing=2)
        top.setStretch(1, 1)
        top.setAlignment(self.head, Qt.AlignmentFlag.AlignTop)
        column.addLayout(top)
        column.addLayout(inner)
        self.head.setChecked(is_open)
        self.head.toggled.connect(self._toggled)
        self.show_row(row, theme)

    @property
    def is_open(self) -> bool:
        """Whether formula and symbols are seen, not only the result."""
        return self.head.isChecked()

    @property
    def links(self) -> tuple[NumberLabel, ...]:
        """Values that lead to workings of their own."""
        return tuple(value for _, value, _ in self._cells if value.told_numbers())

    def show_row(self, row: StepRow, theme: Theme) -> None:
        """Show other numbers of the same step."""
        if row == self._row and theme is self._theme:
            return
        self._row, self._theme = row, theme
        self.says.setText(row.says)
        while len(self._cells) < len(row.symbols):
            self._add_cells()
        for at, cells in enumerate(self._cells):
            symbol = row.symbols[at] if at < len(row.symbols) else None
            self._fill(cells, symbol)
        self._fold()

    def _add_cells(self) -> None:
        at = len(self._cells)
        name = widgets.label("", "")
        value = NumberLabel()
        value.setWordWrap(False)
        value.asked.connect(self._asked)
        meaning = widgets.wrapped("", "muted")
        for cell in (name, meaning):
            cell.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        top = Qt.AlignmentFlag.AlignTop
        self._grid.addWidget(name, at, 0, top)
        self._grid.addWidget(value, at, 1, top | Qt.AlignmentFlag.AlignLeft)
        self._grid.addWidget(meaning, at, 2, top)
        self._cells.append((name, value, meaning))

    def _fill(self, cells: tuple[QLabel, NumberLabel, QLabel], symbol: SymbolRow | None) -> None:
        name, value, meaning = cells
        for cell in cells:
            cell.setVisible(symbol is not None)
        if symbol is None:
            return
        name.setText(f"{symbol.name} =")
        said = f"{symbol.meaning} · {symbol.origin}" if symbol.origin else symbol.meaning
        meaning.setText(said)
        value.setText(symbol.value)
        leads = symbol.number is not None
        value.show_numbers((symbol.number,) if symbol.number is not None else ())
        widgets.set_state(value, "role", "link" if leads else "")
        what = f"{symbol.name} = {symbol.value}: {said}"
        value.setAccessibleName(f"Working of {what}" if leads else what)
        value.setToolTip(f"Show how this came about: {symbol.meaning}" if leads else "")

    def _asked(self, numbers: tuple[Number, ...]) -> None:
        self.asked.emit(numbers[0])

    def _toggled(self, is_open: bool) -> None:
        self._fold()
        self.folded.emit(is_open)

    def _fold(self) -> None:
        row = self._row
        if row is None:
            return
        lines = row.lines if self.is_open else row.lines[-1:]
        self.symbol.setText(row.symbol)
        self.lines.setText("\n".join(f"= {line}" for line in lines))
        self._box.setVisible(self.is_open and bool(row.symbols))
        self.head.setIcon(icon("opened" if self.is_open else "closed", self._theme))
        self.head.setAccessibleName(f"{row.spoken}, step")
        self.head.setToolTip("Fold this step" if self.is_open else "Show formula and symbols")
