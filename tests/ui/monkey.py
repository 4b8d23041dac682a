"""A hand that does anything a person could do, at random, with real events.

It answers no modal dialog, so it leaves alone what would open one.
"""

import random
from collections.abc import Callable

from plan_hand import settle
from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLineEdit,
    QPushButton,
    QToolButton,
    QWidget,
)

from cartlayout.stock import stock
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.stock_panel import stock_mime
from cartlayout.ui.trying import TryingPanel

Button = Qt.MouseButton
Key = Qt.Key
NO_KEY = Qt.KeyboardModifier.NoModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier

_MODAL = ("file.", "help.about", "help.tour", "view.full-screen", "help.guide")
"""Actions that ask in a modal dialog, leave the build, or need a window manager."""
_PLAN_KEYS = (
    *(Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down) * 3,
    *(Key.Key_Tab, Key.Key_Backtab, Key.Key_Escape, Key.Key_Return, Key.Key_Delete),
    *(Key.Key_R, Key.Key_C, Key.Key_T, Key.Key_S, Key.Key_I, Key.Key_Plus, Key.Key_Minus),
    *(Key.Key_PageUp, Key.Key_PageDown, Key.Key_Space, Key.Key_Home, Key.Key_F2, Key.Key_A),
)
_PANEL_KEYS = (
    *(Key.Key_Down, Key.Key_Up) * 4,
    *(Key.Key_Space, Key.Key_PageDown, Key.Key_Backspace, Key.Key_Return, Key.Key_Escape),
)
_WITH_CONTROL = (
    *(Key.Key_Z,) * 5,
    *(Key.Key_Y,) * 3,
    *(Key.Key_D, Key.Key_C, Key.Key_X, Key.Key_V, Key.Key_A, Key.Key_L, Key.Key_G, Key.Key_M),
    *(Key.Key_R, Key.Key_B, Key.Key_K, Key.Key_F, Key.Key_0, Key.Key_1, Key.Key_2, Key.Key_4),
)
_TEXTS = (
    *("14 1/2 in", "37 cm", "-5", "0", "1e9 m", "abc", "", "12 AWG", "2.8 bar", "1.2 gal/min"),
    *("90", "359.9", "7 lb", "20 A", "1 h", "½ in", "nan", "inf", "3 3/4", "espresso", "250 mm"),
)


class Monkey:
    """Acts on a window; `seed` decides on everything."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window = window
        self.session = window.session
        self.dice = random.Random(seed)
        self.done: list[str] = []
        """What it did, for whoever has to do it again."""
        self._actions = [
            action for action in window.actions_ if not action.entry.key.startswith(_MODAL)
        ]
        self._does: tuple[tuple[Callable[[], str], int], ...] = (
            (self._click, 16),
            (self._drag, 20),
            (self._hover, 8),
            (self._plan_key, 14),
            (self._control_key, 10),
            (self._menu_action, 14),
            (self._type, 10),
            (self._press_button, 4),
            (self._choose, 3),
            (self._drop_stock, 4),
            (self._context_menu, 5),
            (self._wheel, 5),
            (self._board, 6),
            (self._ask_panel, 3),
            (self._in_panel, 8),
            (self._resize, 1),
        )

    def act(self) -> None:
        """Do one thing, and let the event loop turn."""
        does = self.dice.choices(
            [one for one, _ in self._does], [weight for _, weight in self._does]
        )[0]
        self.done.append(does.__name__)
        self.done[-1] = does()
        self.settle()
        if self.session.previewing and self.dice.random() < 0.5:
            # Nothing is edited while something is only shown: most people would leave it now.
            QTest.keyClick(self._focus(), Key.Key_Escape)
            self.settle()

    def settle(self) -> None:
        """Let the event loop turn, and close what would swallow the next events."""
        settle(self.session)
        for _ in range(4):
            popup = QApplication.activePopupWidget()
            if popup is None:
                break
            QTest.keyClick(popup, Key.Key_Escape)
            QApplication.processEvents()
        modal = QApplication.activeModalWidget()
        if modal is not None:
            raise AssertionError(f"a modal dialog: {modal.windowTitle()} after {self.done[-3:]}")

    def let_go(self) -> None:
        """End whatever is going on without committing anything more."""
        plan = self.window.plan
        for _ in range(3):
            self._send(QEvent.Type.MouseButtonRelease, QPoint(1, 1), Button.LeftButton, NO_KEY)
            plan.setFocus()
            QTest.keyClick(plan, Key.Key_Escape)
            self.settle()

    # On the plan

    def _spot(self) -> QPoint:
        """Somewhere on the plan, more often than not on something."""
        port = self.window.plan.viewport().rect()
        items = self.session.shown.items
        handles = self.window.plan.plan.handles.handles
        camera = self.window.plan.camera
        roll = self.dice.random()
        spot = QPoint(self.dice.randrange(port.width()), self.dice.randrange(port.height()))
        if roll < 0.45 and items:
            item = self.dice.choice(items)
            at = camera.to_viewport((item.x.si, item.y.si))
            spot = at.toPoint() + QPoint(self.dice.randint(-14, 14), self.dice.randint(-14, 14))
        elif roll < 0.7 and handles:
            spot = camera.to_viewport(self.dice.choice(handles).at).toPoint()
        return spot if port.contains(spot) else port.center()

    def _send(self, kind, spot: QPoint, button, modifiers, buttons=None) -> None:
        port = self.window.plan.viewport()
        held = buttons if buttons is not None else button
        if kind == QEvent.Type.MouseButtonRelease:
            held = Button.NoButton
        what = Button.NoButton if kind == QEvent.Type.MouseMove else button
        place = QPointF(spot)
        event = QMouseEvent(kind, place, QPointF(port.mapToGlobal(spot)), what, held, modifiers)
        QApplication.sendEvent(port, event)

    def _modifiers(self):
        return self.dice.choices((NO_KEY, SHIFT, CONTROL, ALT), (8, 2, 1, 1))[0]

    def _click(self) -> str:
        spot, modifiers = self._spot(), self._modifiers()
        self._send(QEvent.Type.MouseMove, spot, Button.NoButton, NO_KEY)
        port = self.window.plan.viewport()
        if self.dice.random() < 0.12:
            QTest.mouseDClick(port, Button.LeftButton, modifiers, spot)
            return f"double click {spot}"
        QTest.mouseClick(port, Button.LeftButton, modifiers, spot)
        return f"click {spot} {modifiers}"

    def _hover(self) -> str:
        spot = self._spot()
        self._send(QEvent.Type.MouseMove, spot, Button.NoButton, NO_KEY)
        return f"hover {spot}"

    def _drag(self) -> str:
        start, end, modifiers = self._spot(), self._spot(), self._modifiers()
        button = self.dice.choices((Button.LeftButton, Button.MiddleButton), (9, 1))[0]
        self._send(QEvent.Type.MouseMove, start, Button.NoButton, NO_KEY)
        self._send(QEvent.Type.MouseButtonPress, start, button, modifiers)
        steps = self.dice.randint(1, 5)
        for step in range(1, steps + 1):
            at = start + (end - start) * (step / steps)
            self._send(QEvent.Type.MouseMove, at, button, modifiers)
            if self.dice.random() < 0.5:
                QApplication.processEvents()
            if self.dice.random() < 0.06:
                key = self.dice.choice((Key.Key_Escape, Key.Key_R, Key.Key_Delete, Key.Key_Z))
                QTest.keyClick(self.window.plan, key, self.dice.choice((NO_KEY, CONTROL)))
        self._send(QEvent.Type.MouseButtonRelease, end, button, modifiers)
        return f"drag {start} to {end} {modifiers}"

    def _plan_key(self) -> str:
        key = self.dice.choice(_PLAN_KEYS)
        shift = self.dice.choice((NO_KEY, NO_KEY, SHIFT))
        if self.dice.random() < 0.7:
            self.window.plan.setFocus()
        QTest.keyClick(self._focus(), key, shift)
        return f"key {key} {shift}"

    def _focus(self) -> QWidget:
        return QApplication.focusWidget() or self.window.plan

    def _control_key(self) -> str:
        key = self.dice.choice(_WITH_CONTROL)
        modifiers = CONTROL | SHIFT if self.dice.random() < 0.2 else CONTROL
        QTest.keyClick(self._focus(), key, modifiers)
        return f"key {key} {modifiers}"

    def _wheel(self) -> str:
        spot = self._spot()
        port = self.window.plan.viewport()
        turn = QPoint(0, self.dice.choice((-240, -120, 120, 240)))
        event = QWheelEvent(
            QPointF(spot),
            QPointF(port.mapToGlobal(spot)),
            QPoint(),
            turn,
            Button.NoButton,
            NO_KEY,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(port, event)
        return f"wheel {turn.y()} at {spot}"

    def _context_menu(self) -> str:
        spot = self._spot()
        port = self.window.plan.viewport()
        QTest.mouseClick(port, Button.RightButton, NO_KEY, spot)
        from PySide6.QtGui import QContextMenuEvent

        event = QContextMenuEvent(
            QContextMenuEvent.Reason.Mouse, spot, port.mapToGlobal(spot), NO_KEY
        )
        QApplication.sendEvent(port, event)
        QApplication.processEvents()
        keys = [self.dice.choice((Key.Key_Down, Key.Key_Right)) for _ in range(6)]
        for key in (*keys[: self.dice.randint(0, 6)], self._last_key()):
            popup = QApplication.activePopupWidget()
            if popup is None:
                break
            QTest.keyClick(popup, key)
            QApplication.processEvents()
        return f"context menu at {spot}"

    def _last_key(self):
        return self.dice.choice((Key.Key_Return, Key.Key_Escape))

    def _drop_stock(self) -> str:
        key = self.dice.choice(stock()).key
        spot = self._spot()
        data: QMimeData = stock_mime(key)
        port = self.window.plan.viewport()
        where = Qt.DropAction.CopyAction
        entered = QDragEnterEvent(spot, where, data, Button.LeftButton, NO_KEY)
        QApplication.sendEvent(port, entered)
        QApplication.processEvents()
        dropped = QDropEvent(QPointF(spot), where, data, Button.LeftButton, NO_KEY)
        QApplication.sendEvent(port, dropped)
        return f"drop {key} at {spot}"

    # Elsewhere in the window

    def _menu_action(self) -> str:
        action = self.dice.choice(self._actions)
        if action.isEnabled():
            action.trigger()
        return action.entry.key

    def _shown(self, kind: type) -> list:
        parts = (
            *(self.window.details, self.window.stock, *self.window.plan.children()),
            *self._panels(),
        )
        return [
            one
            for part in parts
            if isinstance(part, QWidget)
            for one in part.findChildren(kind)
            if one.isVisible() and one.isEnabled()
        ]

    def _type(self) -> str:
        fields = self._shown(QLineEdit)
        if not fields:
            return "no field"
        field = self.dice.choice(fields)
        field.setFocus()
        QTest.keyClick(field, Key.Key_A, CONTROL)
        text = self.dice.choice(_TEXTS)
        QTest.keyClicks(field, text)
        end = self.dice.choice((Key.Key_Return, Key.Key_Tab, Key.Key_Escape, Key.Key_Return))
        QTest.keyClick(field, end)
        return f"type {text!r} in {field.accessibleName()!r}"

    def _press_button(self) -> str:
        buttons = [one for one in self._shown(QAbstractButton) if not _opens_a_menu(one)]
        if not buttons:
            return "no button"
        button = self.dice.choice(buttons)
        name = button.text() or button.accessibleName()
        QTest.mouseClick(button, Button.LeftButton)
        return f"button {name!r}"

    def _choose(self) -> str:
        boxes = self._shown(QComboBox)
        if not boxes:
            return "no list"
        box = self.dice.choice(boxes)
        box.setFocus()
        key = self.dice.choice((Key.Key_Down, Key.Key_Up, Key.Key_End, Key.Key_Home))
        QTest.keyClick(box, key)
        return f"list {box.accessibleName()!r}"

    def _board(self) -> str:
        boards = [self.window.circuits, self.window.taps, self.window.findings, self.window.tools]
        board = self.dice.choice([one for one in boards if one.isVisible()] or [self.window.plan])
        place = QPoint(
            self.dice.randrange(max(1, board.width())), self.dice.randrange(max(1, board.height()))
        )
        target = board.childAt(place) or board
        if target.window() is not self.window or self._asks(target):
            return "kept off"
        spot = target.mapFrom(board, place)
        QTest.mousePress(target, Button.LeftButton, NO_KEY, spot)
        if self.dice.random() < 0.4:
            far = spot + QPoint(self.dice.randint(-200, 200), self.dice.randint(-60, 60))
            QTest.mouseMove(target, (spot + far) / 2)
            QApplication.processEvents()
            QTest.mouseMove(target, far)
            spot = far
        QTest.mouseRelease(target, Button.LeftButton, NO_KEY, spot)
        return f"board {type(board).__name__} at {place}"

    def _asks(self, target: QWidget) -> bool:
        """Whether a button of the tool row would open a modal dialog, or a menu that waits."""
        if _opens_a_menu(target):
            return True
        action = getattr(target, "defaultAction", lambda: None)()
        entry = getattr(action, "entry", None)
        return entry is not None and entry.key.startswith(_MODAL)

    def _panels(self) -> list[QWidget]:
        """What stands over the rest just now: trials, a working, a comparison."""
        window = self.window
        found = [*window.findChildren(TryingPanel), window.workings.panel]
        return [one for one in found if one.isVisible()]

    def _ask_panel(self) -> str:
        """Ask for remedies, a working, an earlier state: lines of submenus."""
        keys = ("findings.remedies", "view.workings", "file.compare-state")
        asked = self.dice.choice([one for one in self.window.actions_.choices if one.key in keys])
        offered = asked.list(self.window)
        if not offered:
            return "nothing to ask for"
        choice = self.dice.choice(offered)
        asked.choose(self.window, choice.value)
        return f"{asked.key}: {choice.text}"

    def _in_panel(self) -> str:
        """Keys in the list of a panel; whatever is sought may be found first, or not."""
        panels = self._panels()
        if not panels:
            return "no panel"
        panel = self.dice.choice(panels)
        if self.dice.random() < 0.4:
            QTest.qWait(self.dice.choice((1, 40, 200)))
        typed = getattr(panel, "list", panel)
        typed.setFocus()
        for _ in range(self.dice.randint(1, 4)):
            QTest.keyClick(typed, self.dice.choice(_PANEL_KEYS))
            if not panel.isVisible():
                break
        return f"keys in {panel.accessibleName()}"

    def _resize(self) -> str:
        size = self.dice.choice(((1280, 800), (1440, 900), (700, 500), (1920, 1080)))
        self.window.resize(*size)
        return f"resize {size}"


def _opens_a_menu(widget: QWidget) -> bool:
    """Whether a press would not come back before somebody chooses from a menu."""
    return isinstance(widget, (QToolButton, QPushButton)) and widget.menu() is not None
