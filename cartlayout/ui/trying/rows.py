"""A list of what can be tried, under headings, every row with the mark of its verdict."""

from collections.abc import Iterator

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QCursor, QFontMetricsF, QMouseEvent, QPainter, QShowEvent
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .. import widgets

Index = QModelIndex | QPersistentModelIndex
KEY = Qt.ItemDataRole.UserRole
VERDICT = Qt.ItemDataRole.UserRole + 1
WORDS = Qt.ItemDataRole.UserRole + 2
MARK_PX = 13


class TrialRows(QStyledItemDelegate):
    """Paints headings and the ground of rows; what stands in a row is the subclass's."""

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
            self.paint_ground(painter, rect, option)
            self.paint_row(painter, rect, index)
        else:
            painter.setFont(font(TYPE.caption, 600))
            painter.setPen(QColor(self.theme.ink_muted))
            flags = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft
            painter.drawText(rect.adjusted(4, 0, 0, -3), flags, str(index.data()))
        painter.restore()

    def paint_ground(self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem) -> None:
        """What a row stands on."""
        widgets.paint_row_ground(painter, rect, option.state, self.theme)

    def paint_row(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        """A row that has a key."""
        raise NotImplementedError


def write(
    painter: QPainter, text: str, where: QRectF, size: int, colour: str, *, right: bool = False
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


class TrialList(QListWidget):
    """Rows with keys under headings; one of them is current."""

    pointed = Signal(object)
    """QListWidgetItem with a key that the mouse has moved to."""

    def __init__(self, rows: type[TrialRows], theme: Theme) -> None:
        super().__init__()
        self._mouse = QPoint()
        self.rows = rows(theme, self)
        self.setItemDelegate(self.rows)
        self.setMouseTracking(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._mouse = QCursor.pos()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Only a mouse that moves points: rows that scroll along under it are not meant.

        Qt's `itemEntered` comes with those too, and takes the current row from the arrow keys.
        """
        super().mouseMoveEvent(event)
        now = event.globalPosition().toPoint()
        if now == self._mouse:
            return
        self._mouse = now
        row = self.itemAt(event.position().toPoint())
        if row is not None and row.data(KEY):
            self.pointed.emit(row)

    def empty(self) -> None:
        """Take every row away; nothing is told of it."""
        was = self.blockSignals(True)
        self.clear()
        self.blockSignals(was)

    def add_heading(self, text: str) -> None:
        """A line that cannot be current."""
        head = QListWidgetItem(text)
        head.setFlags(Qt.ItemFlag.NoItemFlags)
        self.addItem(head)

    def keyed(self) -> Iterator[tuple[str, QListWidgetItem]]:
        """Keys with their rows, from the top; headings have none."""
        for at in range(self.count()):
            row = self.item(at)
            if row is not None and row.data(KEY):
                yield row.data(KEY), row

    def current_key(self) -> str:
        """Key of the current row, or nothing."""
        row = self.currentItem()
        return str(row.data(KEY) or "") if row is not None else ""

    def choose(self, key: str) -> bool:
        """Make a row current. False: there is none with this key."""
        for one, row in self.keyed():
            if one == key:
                self.setCurrentItem(row)
                return True
        return False

    def step(self, way: int) -> None:
        """Go so many rows down, or up; headings are passed over."""
        keys = [one for one, _ in self.keyed()]
        if not keys:
            return
        now = self.current_key()
        at = keys.index(now) + way if now in keys else 0
        self.choose(keys[max(0, min(at, len(keys) - 1))])
