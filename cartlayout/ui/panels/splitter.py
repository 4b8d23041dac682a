"""Dividers that can be seen, taken hold of, and clicked twice to hide what is beside them."""

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import QEnterEvent, QMouseEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QSplitter, QSplitterHandle, QWidget

HANDLE_PX = 5


class Divider(QSplitterHandle):
    """A hairline with room about it for the mouse."""

    def __init__(self, way: Qt.Orientation, splitter: "PanelSplitter") -> None:
        super().__init__(way, splitter)
        self._over = False
        self._splitter = splitter
        self.setToolTip("Drag to resize, click twice to hide")

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        palette = self.palette()
        painter.fillRect(self.rect(), palette.color(QPalette.ColorRole.Window))
        role = QPalette.ColorRole.Highlight if self._over else QPalette.ColorRole.Mid
        wide = 3 if self._over else 1
        if self.orientation() == Qt.Orientation.Horizontal:
            line = QRect((self.width() - wide) // 2, 0, wide, self.height())
        else:
            line = QRect(0, (self.height() - wide) // 2, self.width(), wide)
        painter.fillRect(line, palette.color(role))

    def enterEvent(self, event: QEnterEvent) -> None:
        self._over = True
        self.update()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self._over = False
        self.update()
        super().leaveEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self._splitter.handle_clicked_twice(self)
        event.accept()


class PanelSplitter(QSplitter):
    """A splitter whose dividers can be clicked twice."""

    clicked_twice = Signal(int)
    """Number of the divider, from 1."""

    def __init__(self, way: Qt.Orientation, parent: QWidget | None = None) -> None:
        super().__init__(way, parent)
        self.setChildrenCollapsible(False)
        self.setHandleWidth(HANDLE_PX)

    def createHandle(self) -> QSplitterHandle:
        return Divider(self.orientation(), self)

    def handle_clicked_twice(self, handle: Divider) -> None:
        """Say which one it was."""
        for number in range(1, self.count()):
            if self.handle(number) is handle:
                self.clicked_twice.emit(number)
