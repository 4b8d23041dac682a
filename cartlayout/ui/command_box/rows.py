"""How a line of the command box is painted."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from .search import Line

Index = QModelIndex | QPersistentModelIndex
LINE = Qt.ItemDataRole.UserRole
ROW_PX = 30
_PAD = 10.0
_LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
_RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
_MIDDLE = Qt.AlignmentFlag.AlignCenter


class LineRows(QStyledItemDelegate):
    """A text, a tick if it is on, where it is found, and its key."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(100, ROW_PX)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        line: Line = index.data(LINE)
        theme = self.theme
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(option.rect).adjusted(2, 1, -2, -1)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setPen(QPen(QColor(theme.selection), 1))
            painter.setBrush(QColor(theme.selection_tint))
            painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        inner = rect.adjusted(_PAD, 0, -_PAD, 0)
        inner.setRight(inner.right() - self._key(painter, inner, line))
        self._words(painter, inner, line)
        painter.restore()

    def _words(self, painter: QPainter, inner: QRectF, line: Line) -> None:
        theme = self.theme
        text = (
            line.text if line.is_on is None else f"{line.text}  ({'on' if line.is_on else 'off'})"
        )
        face = font(TYPE.strong)
        room = inner.width()
        width = QFontMetricsF(face).horizontalAdvance(text)
        small = font(TYPE.caption)
        place_width = QFontMetricsF(small).horizontalAdvance(line.place)
        if line.place and width + place_width + 16 <= room:
            painter.setFont(small)
            painter.setPen(QColor(theme.ink_muted if line.enabled else theme.ghost_ink))
            painter.drawText(inner, _RIGHT, line.place)
        painter.setFont(face)
        painter.setPen(QColor(theme.ink if line.enabled else theme.ghost_ink))
        elided = QFontMetricsF(face).elidedText(text, Qt.TextElideMode.ElideRight, room)
        painter.drawText(inner, _LEFT, elided)

    def _key(self, painter: QPainter, inner: QRectF, line: Line) -> float:
        """Paint the shortcut as the cap of a key; returns the room it took."""
        if not line.key_text:
            return 0.0
        face = font(TYPE.caption, QFont.Weight.Medium)
        width = QFontMetricsF(face).horizontalAdvance(line.key_text) + 12
        cap = QRectF(inner.right() - width, inner.center().y() - 9, width, 18)
        painter.setBrush(QColor(self.theme.field))
        painter.setPen(QPen(QColor(self.theme.line_strong), 1))
        painter.drawRoundedRect(cap.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        painter.setFont(face)
        painter.setPen(QColor(self.theme.ink_muted if line.enabled else self.theme.ghost_ink))
        painter.drawText(cap, _MIDDLE, line.key_text)
        return width + 10
