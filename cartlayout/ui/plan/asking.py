"""Small boxes on the plan that ask for one thing, and show its answer while it is being typed."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QVBoxLayout

from ...build import Build
from ...build.arranging import turn_to
from .. import commands, widgets
from ..commands import named, sentence
from .moving import boxes_of

if TYPE_CHECKING:
    from .view import PlanView

_AWAY_PX = 14
_WIDE_PX = 250


class AskLine(QLineEdit):
    """Takes every key for itself: the plan's own keys do nothing while it is typed in."""

    given_up = Signal()
    left = Signal()
    stepped = Signal(object)
    """1 or -1: Down or Up."""
    emptied = Signal()
    """Backspace in an empty line: one question back."""

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.given_up.emit()
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.stepped.emit(1 if key == Qt.Key.Key_Down else -1)
        elif key == Qt.Key.Key_Backspace and not self.text():
            self.emptied.emit()
        else:
            super().keyPressEvent(event)
        event.accept()

    def focusNextPrevChild(self, forwards: bool) -> bool:
        self.stepped.emit(1 if forwards else -1)
        return True

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.ActiveWindowFocusReason:
            self.left.emit()


class AskBox(QFrame):
    """One question with a line to answer it in. Escape, or a click elsewhere, changes nothing."""

    def __init__(self, view: "PlanView", title: str) -> None:
        super().__init__(view)
        self.view = view
        self.session = view.session
        self.closed = False
        self.setProperty("card", True)
        self.setAutoFillBackground(True)
        self.setAccessibleName(title)
        self.title = widgets.wrapped(title, "strong")
        self.line = AskLine()
        self.line.setAccessibleName(title)
        self.said = widgets.wrapped("", "muted")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(10, 8, 10, 8)
        self.column.setSpacing(5)
        for one in (self.title, self.line, self.said):
            self.column.addWidget(one)
        self.line.given_up.connect(self.give_up)
        self.line.left.connect(self.give_up)
        self.line.returnPressed.connect(self.accept)
        self.line.textEdited.connect(self.typed)

    def typed(self, text: str) -> None:
        """The line was changed: show what would follow."""

    def accept(self) -> None:
        """Enter: do it, with one undo step."""
        raise NotImplementedError

    def say(self, text: str, *, wrong: bool = False) -> None:
        """A sentence under the line."""
        self.said.setText(text)
        self.said.setVisible(bool(text))
        widgets.set_state(self.said, "state", "stop" if wrong else "")
        self.line.setAccessibleDescription(text)
        self.fit()

    def show_build(self, build: Build) -> None:
        """Preview a build; the committed one ends the preview."""
        if build is self.session.build:
            self.session.cancel_preview()
        else:
            self.session.preview(build)

    def give_up(self) -> None:
        """Everything is as it was."""
        if not self.closed:
            self.session.cancel_preview()
            self.close_box()

    def close_box(self) -> None:
        """Go away, and give the keyboard back to the plan."""
        if self.closed:
            return
        self.closed = True
        # Before hiding: Qt would look for the next widget, and Tab on the plan walks through it.
        if self.line.hasFocus():
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)
        self.hide()
        self.view.boxes.closed(self)
        self.deleteLater()

    def open_box(self) -> None:
        """Come up beside what is selected, with the cursor in the line."""
        self.fit()
        self.move(self._place())
        self.show()
        self.raise_()
        self.line.setFocus(Qt.FocusReason.PopupFocusReason)
        self.line.selectAll()

    def fit(self) -> None:
        """As large as its words need."""
        self.setFixedWidth(_WIDE_PX)
        self.column.activate()
        self.resize(_WIDE_PX, self.column.totalHeightForWidth(_WIDE_PX))

    def _place(self) -> QPoint:
        """To the right of what is selected, else to its left; always within the plan."""
        view = self.view
        box = boxes_of(self.session.build, self.session.selection.items)
        if box is None:
            return QPoint((view.width() - self.width()) // 2, _AWAY_PX)
        right = view.camera.to_viewport((box.right, box.top))
        left = view.camera.to_viewport((box.left, box.top))
        x = right.x() + _AWAY_PX
        if x + self.width() > view.width() - 4:
            x = left.x() - _AWAY_PX - self.width()
        x = min(max(x, 4.0), float(view.width() - self.width() - 4))
        y = min(max(right.y(), 4.0), float(max(view.height() - self.height() - 4, 4)))
        return QPoint(round(x), round(y))


def read_angle(text: str) -> float:
    """Degrees clockwise, 0 to 360.

    Raises:
        ValueError: it is no number.
    """
    plain = text.strip().removesuffix("deg").removesuffix("°").strip().replace(",", ".")
    try:
        degrees = float(plain)
    except ValueError:
        raise ValueError(f"'{text}' is no angle; try '37.5'") from None
    if not math.isfinite(degrees):
        raise ValueError(f"'{text}' is no angle; try '37.5'")
    return round(degrees % 360.0, 3) % 360.0


class AngleBox(AskBox):
    """Asks how the selected items shall stand."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view, "Turn to, degrees clockwise")
        session = self.session
        first = session.build.item(session.selection.items[0])
        self.line.setText(f"{first.rotation:g}" if first is not None else "0")
        self.say("Enter turns, Escape leaves it as it was")

    def typed(self, text: str) -> None:
        """Show the items turned while the angle is typed."""
        made = self._made(text)
        self.show_build(self.session.build if made is None else made)

    def _made(self, text: str) -> Build | None:
        session = self.session
        try:
            degrees = read_angle(text)
        except ValueError as error:
            self.say(sentence(str(error)), wrong=True)
            return None
        self.say("Enter turns, Escape leaves it as it was")
        chosen = session.selection
        return turn_to(session.build, chosen.items, degrees, alone=chosen.alone)

    def accept(self) -> None:
        """Turn them."""
        made = self._made(self.line.text())
        if made is None:
            return
        session = self.session
        ids = session.selection.items
        text = f"{named(session.build, 'Turn', ids)} to {read_angle(self.line.text()):g}°"
        session.apply(text, made)
        self.close_box()


def ask_angle(view: "PlanView") -> AskBox | None:
    """Open the box for an angle, or say why not."""
    session = view.session
    items = [item for item in session.build.items if item.id in session.selection.items]
    if not items:
        session.tell("Select an item first.")
        return None
    if session.previewing:
        session.tell(commands.IN_MID_DRAG)
        return None
    if all(item.locked for item in items):
        session.tell("What is selected is locked.")
        return None
    return AngleBox(view)
