"""Dragging the paper itself."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from .base import XY, Cursor, Gesture

if TYPE_CHECKING:
    from ..view import PlanView


class PanGesture(Gesture):
    """Moves what is seen; nothing of the build changes."""

    kind = "pan"
    cursor = Cursor.ClosedHandCursor

    def __init__(self, view: "PlanView", start: XY) -> None:
        super().__init__(view)
        self.start = start

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Keep the place that was taken hold of under the mouse."""
        self.view.shift(at[0] - self.start[0], at[1] - self.start[1])

    def finished(self) -> None:
        """Stay here."""

    def cancelled(self) -> None:
        """Stay here too: looking is no edit."""
