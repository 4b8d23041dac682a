"""The table of a gauge: what it should show in every case, and fields for what it does."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from ...documents.theme import Theme
from ...units import Pressure, UnitSystem
from ...units.display import unit_for
from .. import widgets
from ..details.editors import small_button
from ..details.fields import QuantityField
from ..marks import mark_pixmap
from .rows import GaugeRow, GaugeTable

_FIELD_PX = 78
_SHOULD_PX = 84
_MARK_PX = 13


class ReadingField(QuantityField):
    """What was read off; a bare number is in the units that are shown."""

    def __init__(self, value: Pressure | None, system: UnitSystem) -> None:
        super().__init__(Pressure, value, "Reading", "pressure", optional=True, unknown="not read")
        self.system = system
        self.setFixedWidth(_FIELD_PX)

    def value_of(self, text: str) -> object:
        if text.strip() and not any(letter.isalpha() for letter in text):
            before = self._value
            unit = (
                before.unit if isinstance(before, Pressure) else unit_for("pressure", self.system)
            )
            text = f"{text} {unit}"
        return super().value_of(text)


class _Row:
    """The widgets of one case."""

    def __init__(self, grid: QGridLayout, at: int, system: UnitSystem) -> None:
        self.case = widgets.wrapped("", "")
        self.should = widgets.wrapped("", "muted")
        self.should.setFixedWidth(_SHOULD_PX)
        self.field = ReadingField(None, system)
        self.mark = QLabel()
        self.mark.setFixedSize(QSize(_MARK_PX + 2, _MARK_PX + 2))
        self.word = widgets.wrapped("", "caption")
        self.verdict = QWidget()
        line = widgets.row(self.mark, self.word, spacing=4)
        line.setStretch(1, 1)
        self.verdict.setLayout(line)
        top = Qt.AlignmentFlag.AlignTop
        for label in (self.case, self.should):
            label.setContentsMargins(0, 4, 0, 0)
        grid.addWidget(self.case, at, 0, top)
        grid.addWidget(self.should, at, 1, top)
        grid.addWidget(self.field, at, 2, top)
        grid.addWidget(self.verdict, at + 1, 0, 1, 3)

    def show_row(self, row: GaugeRow, theme: Theme, system: UnitSystem) -> None:
        """Show another state of it."""
        self.field.system = system
        self.case.setText(row.case)
        self.should.setText(row.should)
        self.field.show_value(row.read)
        self.field.name_it(
            f"{row.case}: reads",
            f"What the gauge shows in '{row.case}', in any unit; it should show {row.should}",
        )
        self.verdict.setVisible(bool(row.state))
        if row.state:
            mark = theme.mark(row.state)
            self.mark.setPixmap(mark_pixmap(mark, _MARK_PX, self.mark.devicePixelRatioF()))
            self.word.setText(row.word)
            self.word.setAccessibleName(f"{mark.word}: {row.case}, {row.word}")
            widgets.set_state(self.word, "state", row.state)

    def remove(self) -> None:
        """Take it away."""
        for widget in (self.case, self.should, self.field, self.verdict):
            widget.hide()
            widget.deleteLater()


class ReadingsTable(QWidget):
    """One gauge."""

    typed = Signal(object, object, object)
    """Id of the gauge, name of the case, Pressure or None."""
    forgotten = Signal(object)
    """Id of a gauge whose readings in cases that are gone are to be dropped."""

    def __init__(self, system: UnitSystem) -> None:
        super().__init__()
        self._system = system
        self._table: GaugeTable | None = None
        self._cases: tuple[str, ...] = ()
        self.rows: dict[str, _Row] = {}
        self.title = widgets.wrapped("", "strong")
        self.remark = widgets.wrapped("", "caption")
        self.gone = widgets.wrapped("", "caption")
        self.forget = small_button("Forget these", "Drop what was read in cases that are gone")
        self.forget.clicked.connect(self._forget)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(6)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(0, 1)
        self._heads = [
            widgets.label(words, "caption") for words in ("Case", "Should show", "It shows")
        ]
        for at, head in enumerate(self._heads):
            self._grid.addWidget(head, 0, at)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.title)
        column.addLayout(self._grid)
        column.addWidget(self.gone)
        column.addWidget(self.forget, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.remark)

    def show_table(self, table: GaugeTable, theme: Theme, system: UnitSystem, titled: bool) -> None:
        """Show a gauge; fields keep what is being typed while its cases stay the same."""
        self._table = table
        self.title.setText(table.name)
        self.title.setVisible(titled)
        self.remark.setText(table.remark)
        cases = tuple(row.case for row in table.rows)
        if cases != self._cases:
            self._make(cases)
        for row in table.rows:
            self.rows[row.case].show_row(row, theme, system)
        for head in self._heads:
            head.setVisible(bool(cases))
        gone = ", ".join(f"'{case}'" for case in table.forgotten)
        self.gone.setText(f"It was read in {gone} as well, which cannot be compared now.")
        self.gone.setVisible(bool(gone))
        self.forget.setVisible(bool(gone))

    def _make(self, cases: tuple[str, ...]) -> None:
        for row in self.rows.values():
            row.remove()
        self.rows, self._cases = {}, cases
        for at, case in enumerate(cases):
            row = _Row(self._grid, 1 + 2 * at, self._system)
            row.field.setProperty("case", case)
            row.field.edited.connect(self._edited)
            self.rows[case] = row

    def _edited(self, value: object, _words: object) -> None:
        field = self.sender()
        if field is not None and self._table is not None:
            self.typed.emit(self._table.gauge, field.property("case"), value)

    def _forget(self) -> None:
        if self._table is not None:
            self.forgotten.emit(self._table.gauge)
