"""The list of what could take an item's place, with a mark for what would come of it."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen
from PySide6.QtWidgets import QListWidgetItem, QStyle, QStyleOptionViewItem

from ...documents.theme import TYPE, Theme
from ...stock import StockEntry
from ..marks import paint_mark
from ..stock_panel import symbol_pixmap
from ..trying import KEY, VERDICT, WORDS, Index, TrialList, TrialRows, write
from ..trying.rows import MARK_PX

_SIDE = 24


class CandidateRows(TrialRows):
    """Paints an entry in two lines, and at its right the mark of its verdict."""

    def paint_ground(self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem) -> None:
        state, theme = option.state, self.theme
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        if not chosen and not state & QStyle.StateFlag.State_MouseOver:
            return
        painter.setBrush(QColor(theme.selection_tint if chosen else theme.track))
        painter.setPen(QPen(QColor(theme.selection), 1.5) if chosen else Qt.PenStyle.NoPen)
        painter.drawRoundedRect(rect.adjusted(0.75, 0.75, -0.75, -0.75), 4, 4)

    def paint_row(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        picture: QIcon = index.data(Qt.ItemDataRole.DecorationRole)
        middle = rect.center().y()
        picture.paint(painter, int(rect.left()) + 4, int(middle - _SIDE / 2), _SIDE, _SIDE)
        left = rect.left() + _SIDE + 12
        right = rect.right() - 4
        verdict = index.data(VERDICT)
        if verdict:
            square = QRectF(right - MARK_PX, middle - MARK_PX / 2, MARK_PX, MARK_PX)
            paint_mark(painter, self.theme.mark(verdict), square)
            right -= MARK_PX + 6
        name, _, rest = str(index.data()).partition(", ")
        height = rect.height() / (2 if rest else 1)
        upper = QRectF(left, rect.top() + 1, right - left, height)
        words = str(index.data(WORDS) or "")
        taken = write(painter, words, upper, TYPE.caption, self.theme.ink_muted, right=True)
        room = upper.adjusted(0, 0, -taken - 8 if taken else 0, 0)
        write(painter, name, room, TYPE.body, self.theme.ink)
        lower = QRectF(left, rect.top() + height - 1, right - left, height)
        write(painter, rest, lower, TYPE.caption, self.theme.ink_muted)


class Candidates(TrialList):
    """Entries under short headings; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(CandidateRows, theme)
        self.setAccessibleName("Equipment that could take its place")

    def fill(self, sections: list[tuple[str, tuple[StockEntry, ...]]], theme: Theme) -> None:
        """Show other entries; none is current."""
        self.rows.theme = theme
        self.blockSignals(True)
        self.clear()
        for heading, entries in sections:
            if not entries:
                continue
            self.add_heading(heading)
            for one in entries:
                row = QListWidgetItem(_picture(one.symbol, theme), one.name)
                row.setData(KEY, one.key)
                self.addItem(row)
        self.blockSignals(False)


_PICTURES: dict[tuple[str, str], QIcon] = {}


def _picture(symbol: str, theme: Theme) -> QIcon:
    """A silhouette as an icon; kept, because the list is filled at every letter typed."""
    key = (symbol, theme.name)
    if key not in _PICTURES:
        made = QIcon()
        for ratio in (1, 2, 3):
            made.addPixmap(symbol_pixmap(symbol, theme, _SIDE, ratio))
        _PICTURES[key] = made
    return _PICTURES[key]
