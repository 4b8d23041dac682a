"""A raised panel over the details: it asks about something while the plan shows what is tried."""

import weakref

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from ...analysis import Analysis
from ...build import Build, Item
from .. import widgets
from ..selection import Selection
from ..session import Session
from .report import TrialReport
from .rows import TrialList

_STEPS: dict[int, int] = {
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_PageDown: 5,
    Qt.Key.Key_PageUp: -5,
}
_MOVED = (QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.Show)

_LEAST_HIGH = 360
"""Pixels that heading, list, report and buttons want together."""


class TryingPanel(QFrame):
    """A heading, a list, a report on its current row, and two buttons: take it or leave it.

    The list, what a row stands for and what the session's signals mean are the subclass's. It
    lays its parts out in `column` and calls `listen` once it has made them.
    """

    list: TrialList
    report: TrialReport
    width_px = 320
    """How wide it is at the edge of the plan, while the details are hidden."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("panel")
        self.setProperty("raised", True)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._session = session
        self._window = window
        self._over: QWidget | None = getattr(window, "details", None)
        self._asks = False
        self._item: Item | None = None
        self._shows: Build | None = None
        """The scratch build that this panel has put on the screen."""
        self._typed_in: tuple[QWidget, ...] = ()
        self._came_from: weakref.ref[QWidget] | None = None
        """What had the keyboard before."""
        self.heading = widgets.wrapped("", "heading")
        self.take = QPushButton()
        self.take.setDefault(True)
        self.take.clicked.connect(self.accept)
        self.leave = QPushButton()
        self.leave.clicked.connect(self.cancel)
        self.leave.setToolTip("Leave everything as it was (Escape)")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(14, 10, 10, 10)
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), window)
        self._escape.setEnabled(False)
        self._escape.activated.connect(self.cancel)
        self.hide()

    def listen(self, *typed_in: QWidget) -> None:
        """Follow the session, the window's size and the keys pressed in some widgets."""
        session = self._session
        session.selection_changed.connect(self._selection_changed)
        session.build_changed.connect(self._build_changed)
        session.analysis_changed.connect(self._analysis_changed)
        session.theme_changed.connect(self._look_changed)
        session.system_changed.connect(self._look_changed)
        self.list.currentItemChanged.connect(self._current_changed)
        self.list.itemActivated.connect(self._activated)
        self._typed_in = typed_in
        for one in (self._window, self._over, *typed_in):
            if one is not None:
                one.installEventFilter(self)

    # Opening and closing

    @property
    def is_open(self) -> bool:
        """Whether it asks just now."""
        return self._asks

    def accept(self) -> None:
        """Make what is shown: one undo step."""
        raise NotImplementedError

    def cancel(self) -> None:
        """Leave everything as it was."""
        if self.is_open:
            mine = self._session.shown is self._shows
            had_keyboard = self._has_keyboard()
            self._close()
            if mine:
                self._session.cancel_preview()
            if had_keyboard:
                self._give_keyboard_back()

    def _open(self, item: Item | None) -> None:
        leave_trials(self._window, but=self)  # two that hear Escape would both be deaf to it
        self._session.cancel_preview()
        self._asks, self._item = True, item
        focus = self._window.focusWidget()
        self._came_from = weakref.ref(focus) if focus is not None else None
        self._place()
        self.show()
        self.raise_()
        self._escape.setEnabled(True)

    def _close(self) -> None:
        self._asks, self._item, self._shows = False, None, None
        self._forget()
        self._escape.setEnabled(False)
        if self._has_keyboard():  # before it is hidden, or Qt looks for whoever is next
            plan = self._window.findChild(QWidget, "plan")
            if plan is not None:
                plan.setFocus(Qt.FocusReason.PopupFocusReason)
        self.hide()
        self.list.empty()

    def _has_keyboard(self) -> bool:
        focus = self._window.focusWidget()
        return focus is not None and self.isAncestorOf(focus)

    def _give_keyboard_back(self) -> None:
        """Whoever left everything as it was goes on where this was asked for."""
        focus = self._came_from() if self._came_from is not None else None
        if focus is not None and focus.isVisible():
            focus.setFocus(Qt.FocusReason.PopupFocusReason)

    def _forget(self) -> None:
        """Stop trying and drop what came of it."""
        raise NotImplementedError

    # What is tried

    def _preview(self, build: Build | None, analysis: Analysis | None = None) -> None:
        """Put a trial on the screen, or take away the last one."""
        self._shows = build
        self.take.setEnabled(build is not None)
        if build is None:
            self._session.cancel_preview()
        else:  # what follows is told when it is analysed
            self._session.preview(build, analysis)

    def _current_changed(self, *_: object) -> None:
        raise NotImplementedError

    def _activated(self, _row: QListWidgetItem) -> None:
        self.accept()

    # What the session says

    def _selection_changed(self, selection: Selection) -> None:
        raise NotImplementedError

    def _build_changed(self, build: Build) -> None:
        raise NotImplementedError

    def _analysis_changed(self, analysis: Analysis) -> None:
        raise NotImplementedError

    def _look_changed(self, _value: object) -> None:
        raise NotImplementedError

    # Keys and place

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched in self._typed_in and isinstance(event, QKeyEvent):
            return event.type() == QEvent.Type.KeyPress and self._key(event.key())
        if event.type() in _MOVED and self.is_open:
            self._place()
        return super().eventFilter(watched, event)

    def _key(self, key: int) -> bool:
        if key in _STEPS:
            self.list.step(_STEPS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accept()
        elif key == Qt.Key.Key_Escape:
            self.cancel()
        else:
            return False
        return True

    def _place(self) -> None:
        """Stand where the details are, or at the right of the plan while they are hidden."""
        window, over = self._window, self._over
        if over is not None and over.isVisible():
            around = QRect(over.mapTo(window, QPoint(0, 0)), over.size())
        else:
            plan = window.findChild(QWidget, "plan")
            around = window.rect()
            if plan is not None:
                around = QRect(plan.mapTo(window, QPoint(0, 0)), plan.size())
            around.setLeft(max(around.left(), around.right() - self.width_px))
        self.setGeometry(self._high_enough(around))

    def _high_enough(self, around: QRect) -> QRect:
        """In a low window it reaches over the boards: a list of one row is no list."""
        whole = self._window.rect()
        widgets.set_state(self, "afloat", around.height() < _LEAST_HIGH)
        if around.height() < _LEAST_HIGH:
            around.setHeight(min(_LEAST_HIGH, whole.height()))
            around.moveBottom(min(around.bottom(), whole.bottom()))
        return around


def leave_trials(window: QWidget, but: TryingPanel | None = None) -> None:
    """Close every panel of a window that tries something, and what it shows with it."""
    for other in window.findChildren(TryingPanel):
        if other is not but:
            other.cancel()
