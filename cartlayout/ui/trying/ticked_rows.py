"""Rows with a box to tick before them: the mouse on the box and the space bar throw it."""

from PySide6.QtCore import QAbstractItemModel, QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QListWidgetItem, QStyleOptionViewItem

from ...documents.theme import Theme
from .rows import Index
from .tall_rows import MARK_LEFT_PX, MARK_PX, TallList, TallRows

CHECK = Qt.ItemDataRole.CheckStateRole


class TickedRows(TallRows):
    """Paints a box in the place of the mark, in rows that have one."""

    def paint_mark_of(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        if index.data(CHECK) is None:
            super().paint_mark_of(painter, rect, index)
            return
        theme = self.theme
        box = QRectF(rect.left() + MARK_LEFT_PX, rect.top() + 5, MARK_PX, MARK_PX)
        on = _is_on(index)
        painter.setPen(QPen(QColor(theme.primary if on else theme.line_strong), 1.2))
        painter.setBrush(QColor(theme.primary if on else theme.field))
        painter.drawRoundedRect(box, 3, 3)
        if on:
            _paint_tick(painter, box, theme)

    def left(self, index: Index) -> float:
        return MARK_PX + 12 if index.data(CHECK) is not None else super().left(index)

    def editorEvent(
        self,
        event: QEvent,
        model: QAbstractItemModel,
        option: QStyleOptionViewItem,
        index: Index,
    ) -> bool:
        if index.data(CHECK) is None:
            return False
        if not self._throws(event, index):
            return False
        wanted = Qt.CheckState.Unchecked if _is_on(index) else Qt.CheckState.Checked
        return model.setData(index, wanted, CHECK)

    def _throws(self, event: QEvent, index: Index) -> bool:
        if isinstance(event, QMouseEvent):
            released = event.type() == QEvent.Type.MouseButtonRelease
            return released and event.position().x() < self.left(index)
        if isinstance(event, QKeyEvent):
            return event.type() == QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Space
        return False


class TickedList(TallList):
    """A list in which rows can be ticked."""

    ticked = Signal(object, object)
    """Key, and whether it is ticked now."""

    def __init__(self, theme: Theme, rows: type[TickedRows] = TickedRows) -> None:
        super().__init__(theme, rows)
        self.itemChanged.connect(self._changed)

    def add_ticked(
        self, key: str, verdict: str, title: str, words: tuple[str, str], *, on: bool
    ) -> None:
        """A row with a box."""
        row = self.add_row(key, verdict, title, words)
        row.setFlags(row.flags() | Qt.ItemFlag.ItemIsUserCheckable)
        row.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)

    def _changed(self, row: QListWidgetItem) -> None:
        key = row.data(Qt.ItemDataRole.UserRole)
        if key and row.data(CHECK) is not None:
            self.ticked.emit(key, row.checkState() == Qt.CheckState.Checked)


def _is_on(index: Index) -> bool:
    return Qt.CheckState(index.data(CHECK)) == Qt.CheckState.Checked


def _paint_tick(painter: QPainter, box: QRectF, theme: Theme) -> None:
    pen = QPen(QColor(theme.on_primary), 1.8)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    side = box.width()
    shape = ((0.24, 0.52), (0.43, 0.71), (0.78, 0.31))
    points = [box.topLeft() + QPointF(x * side, y * side) for x, y in shape]
    painter.drawPolyline(QPolygonF(points))
