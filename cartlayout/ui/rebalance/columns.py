"""Circuits before and after, side by side, painted as on the board."""

from PySide6.QtWidgets import QGridLayout, QWidget

from ...analysis import Analysis
from ...documents.theme import Theme
from ...power.results import EVERYTHING_ON
from ...units import UnitSystem
from .. import widgets
from ..boards.circuit_bar import CircuitBar
from ..boards.circuit_rows import circuit_rows, scale_of
from ..boards.circuits import Scale

_BAR_WIDTH = 390


class BeforeAfter(QWidget):
    """One row a circuit; its bar now, and its bar then."""

    def __init__(
        self,
        before: Analysis,
        after: Analysis,
        moved: frozenset[str],
        theme: Theme,
        system: UnitSystem,
    ) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 14, 0)
        grid.setHorizontalSpacing(24)
        grid.setVerticalSpacing(2)
        now = circuit_rows(before, EVERYTHING_ON, system)
        then = circuit_rows(after, EVERYTHING_ON, system)
        scale = max(scale_of(now), scale_of(then))
        by_key = {row.key: row for row in then}
        for column, text in enumerate(("Now", "Proposed")):
            grid.addWidget(widgets.label(text, "strong"), 0, column)
            marks = Scale(theme)
            marks.show_scale(scale, theme)
            grid.addWidget(marks, 1, column)
        for at, row in enumerate(now, 2):
            for column, shown in ((0, row), (1, by_key.get(row.key))):
                if shown is None:
                    continue
                bar = CircuitBar(shown, scale, theme)
                bar.setMinimumWidth(_BAR_WIDTH)
                bar.setEnabled(False)
                bar.show_selection(moved)
                grid.addWidget(bar, at, column)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
