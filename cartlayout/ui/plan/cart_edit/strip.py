"""The bar over the plan while the cart is edited: what can be added, and the way out."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QMenu, QPushButton, QToolButton

from ....documents.theme import SPACE
from ....units import capitalised
from ... import widgets
from .placing import PLACEABLE

if TYPE_CHECKING:
    from ..view import PlanView

_WORDS = {
    "opening": "Hole",
    "no-go": "No-go",
    "reserved": "Reserved",
    "caster": "Caster",
    "leg": "Leg",
    "leaf": "Leaf",
    "panel": "Panel",
    "handle": "Handle",
    "corner": "Corner",
}


class CartStrip(QFrame):
    """Stands at the top of the plan. Where that is narrow, one button holds all the others."""

    chosen = Signal(object)
    """Key of what is to be placed next."""
    done = Signal()

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self.setObjectName("cartStrip")
        self.setProperty("raised", True)
        self.setAccessibleName("Editing the cart")
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self._view = view
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.medium, SPACE.small, SPACE.small, SPACE.small)
        row.setSpacing(SPACE.small)
        self.title = QLabel("Add")
        self.title.setProperty("role", "muted")
        row.addWidget(self.title)
        self.buttons: dict[str, QToolButton] = {}
        for key, words in _WORDS.items():
            button = QToolButton()
            button.setText(words)
            button.setCheckable(True)
            button.setProperty("chip", True)
            button.setAccessibleName(f"Add {PLACEABLE[key][0]}")
            button.setToolTip(PLACEABLE[key][1])
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.setProperty("part", key)
            button.clicked.connect(self._clicked)
            self.buttons[key] = button
            row.addWidget(button)
        self.more = QToolButton()
        self.more.setText("Add a part")
        self.more.setProperty("chip", True)
        self.more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.more.setAccessibleName("Add a part of the cart")
        menu = QMenu(self.more)
        for key in _WORDS:
            name = PLACEABLE[key][0]
            action = menu.addAction(capitalised(name))
            action.setData(key)
        menu.triggered.connect(self._listed)
        self.more.setMenu(menu)
        row.addWidget(self.more)
        self.leave = QPushButton("Done")
        self.leave.setToolTip("Go back to what stands on the cart (Escape)")
        self.leave.clicked.connect(self._done)
        row.addWidget(self.leave)
        self.hide()

    def show_placing(self, key: str) -> None:
        """Mark what is being placed."""
        for one, button in self.buttons.items():
            button.setChecked(one == key)

    def settle(self) -> None:
        """Take the place at the top, in the form that there is room for."""
        room = self._view.width() - 2 * SPACE.medium
        self._show_all(True)
        if self.sizeHint().width() > room:
            self._show_all(False)
        self.adjustSize()
        self.move(max(0, (self._view.width() - self.width()) // 2), SPACE.medium)
        self.raise_()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.done.emit()
        else:
            super().keyPressEvent(event)

    def _show_all(self, every: bool) -> None:
        for button in (*self.buttons.values(), self.title):
            button.setVisible(every)
        self.more.setVisible(not every)
        layout = self.layout()
        if layout is not None:
            layout.activate()

    def _clicked(self) -> None:
        button = self.sender()
        if button is not None:
            self.chosen.emit(button.property("part"))

    def _listed(self, action: QAction) -> None:
        self.chosen.emit(action.data())

    def _done(self) -> None:
        self.done.emit()


def make_strip(view: "PlanView") -> CartStrip:
    """The bar, hidden, in the font of the window."""
    strip = CartStrip(view)
    widgets.set_state(strip, "raised", True)
    return strip
