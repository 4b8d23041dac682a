"""The list of pumps: those that fit, best first, and the others with what is wrong with them."""

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QIcon, QPainter
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from ...advice.pumps import PumpChoice, best_first
from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ...units import UnitSystem
from .. import widgets
from ..marks import paint_mark
from .words import short_words, verdict

Index = QModelIndex | QPersistentModelIndex
KEY = Qt.ItemDataRole.UserRole
VERDICT = Qt.ItemDataRole.UserRole + 1
WORDS = Qt.ItemDataRole.UserRole + 2
_MARK = 13
FITS, FITS_NOT = "Fit, best first", "Do not fit"


class PumpRows(QStyledItemDelegate):
    """Paints a pump in two lines after the mark of its verdict."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, 36 if index.data(KEY) else 22)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(option.rect).adjusted(0, 1, -4, -1)
        theme = self.theme
        if index.data(KEY):
            widgets.paint_row_ground(painter, rect, option.state, theme)
            square = QRectF(rect.left() + 5, rect.top() + 4, _MARK, _MARK)
            paint_mark(painter, theme.mark(index.data(VERDICT)), square)
            left = rect.left() + _MARK + 12
            upper = QRectF(left, rect.top() + 1, rect.right() - left - 4, rect.height() / 2)
            self._write(painter, str(index.data()), upper, TYPE.body, theme.ink)
            lower = upper.translated(0, rect.height() / 2 - 2)
            self._write(painter, str(index.data(WORDS)), lower, TYPE.caption, theme.ink_muted)
        else:
            under = rect.adjusted(4, 0, 0, -2)
            self._write(painter, str(index.data()), under, TYPE.caption, theme.ink_muted, 600)
        painter.restore()

    def _write(
        self, painter: QPainter, text: str, where: QRectF, size: int, colour: str, weight: int = 400
    ) -> None:
        used = font(size, weight)
        shown = QFontMetricsF(used).elidedText(text, Qt.TextElideMode.ElideRight, where.width())
        painter.setFont(used)
        painter.setPen(QColor(colour))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(where, flags, shown)


class PumpList(QListWidget):
    """Pumps under two headings; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.rows = PumpRows(theme, self)
        self.setItemDelegate(self.rows)
        self.setMouseTracking(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
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
                head = QListWidgetItem(f"{heading} ({len(found)})")
                head.setFlags(Qt.ItemFlag.NoItemFlags)
                self.addItem(head)
            for one in found:
                self.addItem(_row(one, system))
        if before:
            self.choose(before)
        self.blockSignals(False)

    def pumps(self) -> Iterator[tuple[str, QListWidgetItem]]:
        """Keys of the pumps with their rows, from the top."""
        for at in range(self.count()):
            row = self.item(at)
            if row is not None and row.data(KEY):
                yield row.data(KEY), row

    def current_key(self) -> str:
        """Key of the current pump, or nothing."""
        row = self.currentItem()
        return str(row.data(KEY) or "") if row is not None else ""

    def choose(self, key: str) -> bool:
        """Make a pump current."""
        for one, row in self.pumps():
            if one == key:
                self.setCurrentItem(row)
                return True
        return False

    def step(self, way: int) -> None:
        """Go up or down; headings are passed over."""
        keys = [one for one, _ in self.pumps()]
        if not keys:
            return
        now = self.current_key()
        at = keys.index(now) + way if now in keys else 0
        self.choose(keys[max(0, min(at, len(keys) - 1))])


def _row(choice: PumpChoice, system: UnitSystem) -> QListWidgetItem:
    _, _, rest = choice.name.partition(", ")  # "Demand pump" says nothing among pumps
    name = f"{rest[:1].upper()}{rest[1:]}" if rest else choice.name
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
