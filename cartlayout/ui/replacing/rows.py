"""The list of what could take an item's place, with a mark for what would come of it."""

from collections.abc import Iterator

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QIcon, QPainter, QPen
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ...stock import StockEntry
from ..marks import paint_mark
from ..stock_panel import symbol_pixmap

Index = QModelIndex | QPersistentModelIndex
KEY = Qt.ItemDataRole.UserRole
VERDICT = Qt.ItemDataRole.UserRole + 1
WORDS = Qt.ItemDataRole.UserRole + 2
_SIDE = 24
_MARK = 13


class CandidateRows(QStyledItemDelegate):
    """Paints an entry in two lines, and at its right the mark of its verdict."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, 36 if index.data(KEY) else 24)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(option.rect).adjusted(0, 1, -4, -1)
        if index.data(KEY):
            self._ground(painter, option, rect)
            self._entry(painter, rect, index)
        else:
            painter.setFont(font(TYPE.caption, 600))
            painter.setPen(QColor(self.theme.ink_muted))
            flags = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft
            painter.drawText(rect.adjusted(4, 0, 0, -3), flags, str(index.data()))
        painter.restore()

    def _ground(self, painter: QPainter, option: QStyleOptionViewItem, rect: QRectF) -> None:
        state, theme = option.state, self.theme
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        if not chosen and not state & QStyle.StateFlag.State_MouseOver:
            return
        painter.setBrush(QColor(theme.selection_tint if chosen else theme.track))
        painter.setPen(QPen(QColor(theme.selection), 1.5) if chosen else Qt.PenStyle.NoPen)
        painter.drawRoundedRect(rect.adjusted(0.75, 0.75, -0.75, -0.75), 4, 4)

    def _entry(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        picture: QIcon = index.data(Qt.ItemDataRole.DecorationRole)
        middle = rect.center().y()
        picture.paint(painter, int(rect.left()) + 4, int(middle - _SIDE / 2), _SIDE, _SIDE)
        left = rect.left() + _SIDE + 12
        right = rect.right() - 4
        verdict = index.data(VERDICT)
        if verdict:
            square = QRectF(right - _MARK, middle - _MARK / 2, _MARK, _MARK)
            paint_mark(painter, self.theme.mark(verdict), square)
            right -= _MARK + 6
        name, _, rest = str(index.data()).partition(", ")
        height = rect.height() / (2 if rest else 1)
        upper = QRectF(left, rect.top() + 1, right - left, height)
        words = str(index.data(WORDS) or "")
        taken = self._write(painter, words, upper, TYPE.caption, self.theme.ink_muted, right=True)
        room = upper.adjusted(0, 0, -taken - 8 if taken else 0, 0)
        self._write(painter, name, room, TYPE.body, self.theme.ink)
        lower = QRectF(left, rect.top() + height - 1, right - left, height)
        self._write(painter, rest, lower, TYPE.caption, self.theme.ink_muted)

    def _write(
        self,
        painter: QPainter,
        text: str,
        where: QRectF,
        size: int,
        colour: str,
        *,
        right: bool = False,
    ) -> float:
        """One line, cut where it has no room. Returns how wide it is."""
        used = font(size)
        metrics = QFontMetricsF(used)
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, where.width())
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        painter.setFont(used)
        painter.setPen(QColor(colour))
        painter.drawText(where, Qt.AlignmentFlag.AlignVCenter | side, shown)
        return metrics.horizontalAdvance(shown)


class Candidates(QListWidget):
    """Entries under short headings; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.rows = CandidateRows(theme, self)
        self.setItemDelegate(self.rows)
        self.setMouseTracking(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Equipment that could take its place")

    def fill(self, sections: list[tuple[str, tuple[StockEntry, ...]]], theme: Theme) -> None:
        """Show other entries."""
        self.rows.theme = theme
        self.clear()
        for heading, entries in sections:
            if not entries:
                continue
            head = QListWidgetItem(heading)
            head.setFlags(Qt.ItemFlag.NoItemFlags)
            self.addItem(head)
            for one in entries:
                row = QListWidgetItem(_picture(one.symbol, theme), one.name)
                row.setData(KEY, one.key)
                self.addItem(row)

    def entries(self) -> Iterator[tuple[str, QListWidgetItem]]:
        """Keys of the entries with their rows, from the top."""
        for at in range(self.count()):
            row = self.item(at)
            if row is not None and row.data(KEY):
                yield row.data(KEY), row

    def current_key(self) -> str:
        """Key of the current entry, or nothing."""
        row = self.currentItem()
        return str(row.data(KEY) or "") if row is not None else ""

    def choose(self, key: str) -> bool:
        """Make an entry current."""
        for one, row in self.entries():
            if one == key:
                self.setCurrentItem(row)
                return True
        return False

    def step(self, way: int) -> None:
        """Go to the entry above or below; headings are passed over."""
        keys = [one for one, _ in self.entries()]
        if not keys:
            return
        now = self.current_key()
        at = keys.index(now) + way if now in keys else 0
        self.choose(keys[max(0, min(at, len(keys) - 1))])


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
