"""The card that says what comes next, and the outline around where it is done."""

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import widgets

_WIDTH = 300
_GAP = 12


class Outline(QWidget):
    """A frame around a part of the window; the mouse goes through it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.colour = "#000000"
        self.hide()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self.colour), 3))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 6, 6)


class Ticks(QWidget):
    """One small bar a step: done, the one that is on, still to come."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ticks: tuple[bool, ...] = ()
        self._at: int | None = None
        self._theme: Theme | None = None
        self.setFixedHeight(8)

    def show_ticks(self, ticks: tuple[bool, ...], at: int | None, theme: Theme) -> None:
        """Show how far it has come."""
        self._ticks, self._at, self._theme = ticks, at, theme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._ticks or self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        wide = (self.width() + 3) / len(self._ticks)
        for at, ticked in enumerate(self._ticks):
            theme = self._theme
            high = 6.0 if at == self._at else 4.0
            colour = (
                theme.selection if at == self._at else (theme.ok.fill if ticked else theme.line)
            )
            painter.setBrush(QColor(colour))
            box = QRectF(at * wide, (self.height() - high) / 2, wide - 3, high)
            painter.drawRoundedRect(box, 2, 2)


class Card(QFrame):
    """Not modal: one goes on working beside it."""

    left = Signal()
    skipped = Signal()
    find_asked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._held: QPoint | None = None
        self.was_dragged = False
        """The person has put it somewhere: it stays there for this step."""
        self.setProperty("raised", True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.count = widgets.label("", "caption")
        self.title = widgets.wrapped("", "heading")
        self.text = widgets.wrapped("")
        self.ticks = Ticks()
        self.find_it = QPushButton("Find It in Stock")
        self.skip = QPushButton("Skip")
        self.leave = QPushButton("Leave")
        self.skip.setToolTip("Go on without this step")
        self.leave.setToolTip("Close the guide; Help > Guided First Cart takes it up again")
        self.find_it.clicked.connect(self.find_asked)
        self.skip.clicked.connect(self.skipped)
        self.leave.clicked.connect(self.left)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 12)
        column.setSpacing(6)
        column.addLayout(widgets.row(self.count, None))
        column.addWidget(self.ticks)
        column.addWidget(self.title)
        column.addWidget(self.text)
        column.addSpacing(4)
        column.addLayout(widgets.row(self.find_it, self.skip, None, self.leave))
        self.hide()

    # It may lie on what one wants to see: it is dragged away like a sheet of paper.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = event.position().toPoint()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        parent = self.parentWidget()
        if self._held is not None and parent is not None:
            wanted = self.mapToParent(event.position().toPoint()) - self._held
            room = parent.rect().adjusted(0, 0, -self.width(), -self.height())
            self.move(
                max(room.left(), min(wanted.x(), room.right())),
                max(room.top(), min(wanted.y(), room.bottom())),
            )
            self.was_dragged = True
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._held = None
        self.unsetCursor()
        event.accept()

    def show_words(self, count: str, title: str, text: str) -> None:
        """Say something else."""
        self.count.setText(count)
        self.title.setText(title)
        self.text.setText(text)
        self.setAccessibleName(f"Guide, {count}: {title}")
        self.setAccessibleDescription(text)

    def size_in(self, room: QSize) -> QSize:
        """The size it wants in a window of that size."""
        width = min(_WIDTH, room.width() - 2 * _GAP)
        self.ensurePolished()
        for label in (self.title, self.text):
            label.ensurePolished()
        return QSize(width, min(self.heightForWidth(width), room.height() - 2 * _GAP))


def place_beside(target: QRect, where: str, size: QSize, room: QRect) -> QPoint:
    """Upper left corner of a card beside a part of the window, within the window.

    Args:
        target: the part.
        where: which part it is.
        size: of the card.
        room: what the card may stand in.
    """
    if where == "stock":
        corner = QPoint(target.right() + _GAP, target.bottom() - _GAP - size.height())
    elif where == "details":
        corner = QPoint(target.left() - _GAP - size.width(), target.top() + _GAP)
    elif where == "plan":
        corner = QPoint(target.left() + _GAP, target.bottom() - _GAP - size.height())
    elif where == "tools":
        corner = QPoint(target.left() + _GAP, target.bottom() + _GAP)
    else:
        corner = QPoint(
            target.center().x() - size.width() // 2, target.top() - _GAP - size.height()
        )
    x = max(room.left() + _GAP, min(corner.x(), room.right() - _GAP - size.width()))
    y = max(room.top() + _GAP, min(corner.y(), room.bottom() - _GAP - size.height()))
    return QPoint(x, y)
