"""The list of pumps: those that fit, best first, and the others with what is wrong with them."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QIcon, QPainter
from PySide6.QtWidgets import QListWidgetItem

from ...advice.pumps import PumpChoice, best_first
from ...documents.theme import TYPE, Theme
from ...units import UnitSystem, capitalised
from ..marks import paint_mark
from ..trying import KEY, VERDICT, WORDS, Index, TrialList, TrialRows, write
from ..trying.rows import MARK_PX
from .words import short_words, verdict

FITS, FITS_NOT = "Fit, best first", "Do not fit"


class PumpRows(TrialRows):
    """Paints a pump in two lines after the mark of its verdict."""

    def paint_row(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        theme = self.theme
        square = QRectF(rect.left() + 5, rect.top() + 4, MARK_PX, MARK_PX)
        paint_mark(painter, theme.mark(index.data(VERDICT)), square)
        left = rect.left() + MARK_PX + 12
        upper = QRectF(left, rect.top() + 1, rect.right() - left - 4, rect.height() / 2)
        write(painter, str(index.data()), upper, TYPE.body, theme.ink)
        lower = upper.translated(0, rect.height() / 2 - 2)
        write(painter, str(index.data(WORDS)), lower, TYPE.caption, theme.ink_muted)


class PumpList(TrialList):
    """Pumps under two headings; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(PumpRows, theme)
        self.setAccessibleName("Pumps of the stock")

    def fill(self, choices: Sequence[PumpChoice], theme: Theme, system: UnitSystem) -> None:
        """Show other pumps; the current one stays current."""
        before = self.current_key()
        self.rows.theme = theme
        self.blockSignals(True)
        self.clear()
        ordered = best_first(choices)
        for heading, fits in ((FITS, True), (FITS_NOT, False)):
            found = [one for one in ordered if one.fits is fits]
            if found:
                self.add_heading(f"{heading} ({len(found)})")
            for one in found:
                self.addItem(_row(one, system))
        if before:
            self.choose(before)
        self.blockSignals(False)


def _row(choice: PumpChoice, system: UnitSystem) -> QListWidgetItem:
    _, _, rest = choice.name.partition(", ")  # "Demand pump" says nothing among pumps
    name = capitalised(rest) if rest else choice.name
    if choice.current:
        name = f"There now: {name}"
    words = short_words(choice, system)
    row = QListWidgetItem(QIcon(), name)
    row.setData(KEY, choice.key)
    row.setData(VERDICT, verdict(choice))
    row.setData(WORDS, words)
    row.setToolTip(f"{name}\n{words}")
    row.setData(Qt.ItemDataRole.AccessibleTextRole, f"{name}: {words}")
    return row
