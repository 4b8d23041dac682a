"""How a line of the list of items is painted: picture, name, remark, mark."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QIcon, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from ..documents.fonts import font
from ..documents.theme import TYPE, Theme
from .marks import mark_icon
from .widgets import paint_row_ground

Index = QModelIndex | QPersistentModelIndex
NOTE, SEVERITY = Qt.ItemDataRole.UserRole + 1, Qt.ItemDataRole.UserRole + 2
_LINE_PX, _HEAD_PX, _ICON_PX, _MARK_PX = 25, 28, 18, 14
_MOST_OF_NOTE = 0.4
"""Share of the line that a remark may take from the name."""
_LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
_RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight


class ItemRows(QStyledItemDelegate):
    """Paints headings and lines; the name gets all the room that remark and mark leave."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(120, _LINE_PX if index.parent().isValid() else _HEAD_PX)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(option.rect).adjusted(0, 1, -4, -1)
        paint_row_ground(painter, rect, option.state, self.theme)
        if index.parent().isValid():
            self._line(painter, rect, index)
        else:
            self._head(painter, rect, index)
        painter.restore()

    def _line(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        picture: QIcon = index.data(Qt.ItemDataRole.DecorationRole)
        top = int(rect.center().y() - _ICON_PX / 2)
        picture.paint(painter, int(rect.left()) + 14, top, _ICON_PX, _ICON_PX)
        left, right = rect.left() + _ICON_PX + 20, rect.right() - 4
        severity = index.data(SEVERITY)
        if severity:
            side = _MARK_PX
            mark_icon(self.theme, severity).paint(
                painter, int(right - side), int(rect.center().y() - side / 2), side, side
            )
            right -= side + 5
        right -= self._note(painter, rect, str(index.data(NOTE) or ""), left, right)
        self._text(
            painter, QRectF(left, rect.top(), right - left, rect.height()), str(index.data())
        )

    def _note(self, painter: QPainter, rect: QRectF, note: str, left: float, right: float) -> float:
        """Paint the remark at the right; gives the width it takes."""
        if not note:
            return 0.0
        used = font(TYPE.caption)
        metrics = QFontMetricsF(used)
        room = (right - left) * _MOST_OF_NOTE
        shown = metrics.elidedText(note, Qt.TextElideMode.ElideRight, room)
        wide = metrics.horizontalAdvance(shown) + 1
        painter.setFont(used)
        painter.setPen(QColor(self.theme.ink_muted))
        painter.drawText(QRectF(right - wide, rect.top(), wide, rect.height()), _RIGHT, shown)
        return wide + 6

    def _text(self, painter: QPainter, room: QRectF, text: str) -> None:
        used = font(TYPE.body)
        painter.setFont(used)
        painter.setPen(QColor(self.theme.ink))
        shown = QFontMetricsF(used).elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room.adjusted(0, 0, 2, 0), _LEFT, shown)

    def _head(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        arrow: QIcon = index.data(Qt.ItemDataRole.DecorationRole)
        arrow.paint(painter, int(rect.left()) + 2, int(rect.center().y()) - 5, 11, 11)
        painter.setFont(font(TYPE.body, 600))
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(rect.adjusted(19, 0, 0, 0), _LEFT, str(index.data()))
