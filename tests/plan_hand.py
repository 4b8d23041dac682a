"""A hand that works the mouse and the keyboard on a plan as a person does."""

import time

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.build import Build
from cartlayout.documents.fonts import load_fonts
from cartlayout.ui.plan import PlanView
from cartlayout.ui.session import Session

Button = Qt.MouseButton
NO_KEY = Qt.KeyboardModifier.NoModifier


def settle(session: Session, most_s: float = 10.0) -> None:
    """Let the event loop turn until the analysis is of what is shown."""
    QApplication.processEvents()
    end = time.monotonic() + most_s
    while session.behind and time.monotonic() < end:
        QApplication.processEvents()
    QApplication.processEvents()


class Hand:
    """Works the mouse and the keyboard on a plan; places are in millimetres of the plan."""

    def __init__(self, view: PlanView) -> None:
        self.view = view
        self.session = view.session

    def at(self, place: tuple[float, float]) -> QPoint:
        return self.view.camera.to_viewport((place[0] / 1000, place[1] / 1000)).toPoint()

    def _send(self, kind, place, button, buttons, modifiers):
        self._event(kind, place, button, buttons, modifiers)
        self.settle()

    def _event(self, kind, place, button, buttons, modifiers):
        spot = QPointF(self.at(place))
        port = self.view.viewport()
        event = QMouseEvent(kind, spot, QPointF(port.mapToGlobal(spot)), button, buttons, modifiers)
        QApplication.sendEvent(port, event)

    def follow(self, place, button=Button.LeftButton) -> None:
        """Move with the button held until the plan is painted; the answer comes later."""
        self._event(QEvent.Type.MouseMove, place, Button.NoButton, button, NO_KEY)
        QApplication.sendPostedEvents()

    def settle(self) -> None:
        """Let the event loop turn until what is shown is answered."""
        settle(self.session)

    def hover(self, place) -> None:
        self._send(QEvent.Type.MouseMove, place, Button.NoButton, Button.NoButton, NO_KEY)

    def press(self, place, modifiers=NO_KEY, button=Button.LeftButton) -> None:
        self._send(QEvent.Type.MouseButtonPress, place, button, button, modifiers)

    def move(self, place, modifiers=NO_KEY, button=Button.LeftButton) -> None:
        self._send(QEvent.Type.MouseMove, place, Button.NoButton, button, modifiers)

    def release(self, place, modifiers=NO_KEY, button=Button.LeftButton) -> None:
        self._send(QEvent.Type.MouseButtonRelease, place, button, Button.NoButton, modifiers)

    def click(self, place, modifiers=NO_KEY, button=Button.LeftButton) -> None:
        self.hover(place)
        QTest.mouseClick(self.view.viewport(), button, modifiers, self.at(place))
        self.settle()

    def double_click(self, place) -> None:
        self.click(place)
        QTest.mouseDClick(self.view.viewport(), Button.LeftButton, NO_KEY, self.at(place))
        self.settle()

    def start(self, place, to, modifiers=NO_KEY) -> None:
        """Press, and go a little way: the drag has begun and is near `to`."""
        self.hover(place)
        self.press(place, modifiers)
        halfway = ((place[0] + to[0]) / 2, (place[1] + to[1]) / 2)
        self.move(halfway, modifiers)
        self.move(to, modifiers)

    def drag(self, place, to, modifiers=NO_KEY) -> None:
        self.start(place, to, modifiers)
        self.release(to, modifiers)

    def key(self, key, modifiers=NO_KEY) -> None:
        QTest.keyClick(self.view.viewport(), key, modifiers)
        self.settle()

    # Where things are

    def middle(self, item_id: str) -> tuple[float, float]:
        item = self.session.shown.item(item_id)
        return item.x.si * 1000, item.y.si * 1000

    def handle(self, kind: str, owner: str, name: str = "") -> tuple[float, float]:
        """Where a handle that is shown now stands: of an item's port, or of a run."""
        found = [
            one
            for one in self.view.plan.handles.handles
            if one.kind == kind
            and owner in (one.item, one.run)
            and name in ("", one.port, str(one.index))
        ]
        assert found, f"no {kind} handle of {owner} is shown"
        return found[0].at[0] * 1000, found[0].at[1] * 1000

    @property
    def undo_texts(self) -> list[str]:
        stack = self.session.undo_stack
        return [stack.text(number) for number in range(stack.count())]


def shown_plan(qtbot, build: Build, size: tuple[int, int] = (900, 640)) -> Hand:
    """Show a build on a plan of its own, fitted."""
    load_fonts()
    view = PlanView(Session(build))
    # The session has no parent: it must live as long as the view does.
    qtbot.addWidget(view)
    view.resize(*size)
    view.show()
    QApplication.processEvents()
    view.setFocus()
    return Hand(view)
