"""Numbers on the screen that lead to their workings: labels, and spots in rows that are painted."""

from collections.abc import Sequence
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QLabel, QMenu, QWidget

from ...findings.number import Number


@runtime_checkable
class Telling(Protocol):
    """A widget that knows which numbers it shows."""

    def told_numbers(self) -> Sequence[Number]:
        """The one that is meant first."""
        ...


def numbers_at(widget: QWidget | None) -> tuple[Number, ...]:
    """The numbers of a widget, or of the first around it that knows any."""
    while widget is not None:
        if isinstance(widget, Telling):
            numbers = tuple(widget.told_numbers())
            if numbers:
                return numbers
        widget = widget.parentWidget()
    return ()


class NumberLabel(QLabel):
    """Words that end in numbers: a click, Enter or Space shows how they came about."""

    asked = Signal(object)
    """Tuple of Numbers."""

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setMinimumWidth(10)
        self._numbers: tuple[Number, ...] = ()
        self._is_over = False
        self._pressed = False
        self.show_numbers(())

    def told_numbers(self) -> Sequence[Number]:
        """What its words stand for."""
        return self._numbers

    def show_numbers(self, numbers: tuple[Number, ...]) -> None:
        """Lead to other workings; none: plain words that can be marked with the mouse."""
        self._numbers = numbers
        leads = bool(numbers)
        flags = Qt.TextInteractionFlag.TextSelectableByMouse
        self.setTextInteractionFlags(Qt.TextInteractionFlag.NoTextInteraction if leads else flags)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if leads else Qt.FocusPolicy.NoFocus)
        if leads:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
        else:
            self.unsetCursor()

    # Mouse

    def enterEvent(self, event: object) -> None:
        self._underline(True)

    def leaveEvent(self, event: object) -> None:
        self._underline(False)

    def _underline(self, is_over: bool) -> None:
        is_over = is_over and bool(self._numbers)
        if is_over != self._is_over:
            self._is_over = is_over
            used = self.font()
            used.setUnderline(is_over)
            self.setFont(used)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed = event.button() == Qt.MouseButton.LeftButton
        if not self._numbers:
            super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if not self._numbers:
            super().mouseReleaseEvent(event)
        elif self._pressed and self.rect().contains(event.position().toPoint()):
            self.asked.emit(self._numbers)
        self._pressed = False

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if not self._numbers:
            super().contextMenuEvent(event)
            return
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        numbers, words = self._numbers, self.text()
        menu.addAction("Show Working").triggered.connect(lambda: self.asked.emit(numbers))
        menu.addAction("Copy").triggered.connect(lambda: QGuiApplication.clipboard().setText(words))
        menu.popup(event.globalPos())

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
        if self._numbers and event.key() in keys:
            self.asked.emit(self._numbers)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 3, 3)
            painter.end()


class Spots:
    """Places in a painted row that lead to workings; the one under the mouse is underlined."""

    def __init__(self, row: QWidget) -> None:
        self._row = row
        self._places: list[tuple[QRectF, tuple[Number, ...]]] = []
        self._over: tuple[Number, ...] = ()

    def begin(self) -> None:
        """A new painting begins: its numbers may stand elsewhere."""
        self._places = []

    def add(self, where: QRectF, numbers: tuple[Number, ...]) -> bool:
        """Note where numbers were painted; the answer says whether to underline them."""
        if not numbers:
            return False
        self._places.append((where, numbers))
        return numbers == self._over

    def at(self, position: QPointF) -> tuple[Number, ...]:
        """The numbers there."""
        return next((numbers for where, numbers in self._places if where.contains(position)), ())

    def hover(self, position: QPointF | None) -> bool:
        """Follow the mouse; the answer says whether it is over a number."""
        over = self.at(position) if position is not None else ()
        if over != self._over:
            self._over = over
            self._row.update()
        return bool(over)
