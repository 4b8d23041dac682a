"""A part that can be hidden and leaves a slim edge by which it comes back."""

from typing import Literal

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QSizePolicy,
    QStyle,
    QStyleOption,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from ...documents.fonts import font
from ...documents.theme import TYPE

EDGE_PX = 24
_MOST = 16_777_215
Side = Literal["left", "right", "bottom"]


class Edge(QAbstractButton):
    """The slim strip that stands for a hidden part: its name, along the strip."""

    def __init__(self, title: str, side: Side, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._side = side
        self._note = ""
        self.setText(title)
        self.setAccessibleName(f"Show {title}")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        fixed, grows = QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding
        if side == "bottom":
            self.setSizePolicy(grows, fixed)
        else:
            self.setSizePolicy(fixed, grows)

    def set_note(self, note: str) -> None:
        """Say beside the name what the hidden part would show."""
        if note != self._note:
            self._note = note
            self.setAccessibleDescription(note)
            self.updateGeometry()
            self.update()

    def _words(self) -> str:
        return f"{self.text()}:  {self._note}" if self._note else self.text()

    def sizeHint(self) -> QSize:
        length = round(QFontMetricsF(self._face()).horizontalAdvance(self._words())) + 20
        return QSize(length, EDGE_PX) if self._side == "bottom" else QSize(EDGE_PX, length)

    def minimumSizeHint(self) -> QSize:
        return QSize(EDGE_PX, EDGE_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        palette = self.palette()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        warm = self.underMouse() or self.hasFocus()
        ground = QPalette.ColorRole.AlternateBase if warm else QPalette.ColorRole.Window
        painter.fillRect(self.rect(), palette.color(ground))
        if self.hasFocus():
            painter.setPen(QPen(palette.color(QPalette.ColorRole.Highlight), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.setPen(QColor(palette.color(QPalette.ColorRole.WindowText)))
        painter.setFont(self._face())
        room = QRectF(self.rect())
        if self._side != "bottom":
            painter.rotate(-90.0 if self._side == "left" else 90.0)
            along, across = room.height(), room.width()
            room = (
                QRectF(-along, 0, along, across)
                if self._side == "left"
                else QRectF(0, -across, along, across)
            )
        shown = QFontMetricsF(self._face()).elidedText(
            self._words(), Qt.TextElideMode.ElideRight, room.width() - 20
        )
        top = Qt.AlignmentFlag.AlignRight if self._side == "left" else Qt.AlignmentFlag.AlignLeft
        painter.drawText(room.adjusted(10, 0, -10, 0), top | Qt.AlignmentFlag.AlignVCenter, shown)

    def _face(self) -> QFont:
        return font(TYPE.caption, QFont.Weight.DemiBold)


class FoldButton(QToolButton):
    """An arrow towards the edge where the part goes."""

    def __init__(self, side: Side, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._side = side
        self.setFixedSize(22, 22)
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        option = QStyleOption()
        option.initFrom(self)
        over = bool(option.state & QStyle.StateFlag.State_MouseOver) or self.hasFocus()
        role = QPalette.ColorRole.WindowText if over else QPalette.ColorRole.PlaceholderText
        pen = QPen(self.palette().color(role), 1.6)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.translate(self.width() / 2, self.height() / 2)
        painter.rotate({"left": 180.0, "right": 0.0, "bottom": 90.0}[self._side])
        painter.drawPolyline(_chevron())
        painter.drawLine(5, -5, 5, 5)


def _chevron() -> list[QPointF]:
    return [QPointF(-3, -4), QPointF(1, 0), QPointF(-3, 4)]


class Foldable(QWidget):
    """Holds a part, or the edge that stands for it."""

    asked = Signal(object)
    """True: the person wants to see it; False: to hide it."""

    def __init__(self, title: str, side: Side, content: QWidget, extent_px: int) -> None:
        super().__init__()
        self.title = title
        self.side = side
        self.content = content
        self.extent_px = extent_px
        """Width, of one at the bottom height, that it had last while it was open."""
        self.edge = Edge(title, side)
        self.edge.hide()
        self.edge.clicked.connect(self._show_asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(content)
        column.addWidget(self.edge)

    @property
    def folded(self) -> bool:
        """Whether only the edge is seen."""
        return not self.edge.isHidden()

    def extent(self) -> int:
        """Width it has now, of one at the bottom height."""
        return self.height() if self.side == "bottom" else self.width()

    def make_button(self, key: str) -> QToolButton:
        """A button that hides this part; the caller puts it into a heading.

        Args:
            key: the shortcut that does the same, in the platform's words.
        """
        self.edge.setToolTip(f"Show {self.title} ({key})")
        made = FoldButton(self.side)
        made.setAccessibleName(f"Hide {self.title}")
        made.setToolTip(f"Hide {self.title} ({key})")
        made.clicked.connect(self._hide_asked)
        return made

    def set_folded(self, folded: bool) -> None:
        """Show the edge, or the part."""
        if folded == self.folded:
            return
        focused = self.window().focusWidget()
        had_keyboard = focused is not None and self.isAncestorOf(focused)
        self.content.setVisible(not folded)
        self.edge.setVisible(folded)
        most = EDGE_PX if folded else _MOST
        if self.side == "bottom":
            self.setMaximumHeight(most)
        else:
            self.setMaximumWidth(most)
        if folded and had_keyboard:
            self.edge.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_asked(self) -> None:
        self.asked.emit(True)

    def _hide_asked(self) -> None:
        self.asked.emit(False)
