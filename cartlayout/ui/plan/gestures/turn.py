"""Turning what is selected by its knob."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ....build.arranging import turn_about
from ...commands import named
from ..moving import boxes_of, movable
from ..snapping import Guide
from ..turning import direction, middle_of, rest_angle
from .base import NOTHING, XY, Cursor, Gesture, Trace, free_of_snap

if TYPE_CHECKING:
    from ..view import PlanView


class TurnGesture(Gesture):
    """Turns all that is selected about its common middle; rests on every 15 degrees."""

    kind = "turn"
    cursor = Cursor.ClosedHandCursor

    def __init__(self, view: "PlanView", start: XY) -> None:
        super().__init__(view)
        self.before: Build = self.session.build
        chosen = self.session.selection
        self.ids = movable(self.before, chosen.items, alone=chosen.alone)
        self.names = tuple(item.id for item in self.before.items if item.id in self.ids)
        self.made: Build = self.before
        box = boxes_of(self.before, self.ids)
        first = self.before.item(self.names[0]) if len(self.names) == 1 else None
        self.single = first.rotation if first is not None else None
        if first is not None:
            self.pivot: XY = (first.x.si, first.y.si)
        else:
            self.pivot = middle_of(box) if box is not None else start
        self.start = direction(self.pivot, start)
        self.by = 0.0

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview it turned, and say the angle."""
        shift = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
        free = shift or free_of_snap(modifiers) or not self.session.snapping
        by = rest_angle(self.start, direction(self.pivot, at), single=self.single, free=free)
        self.view.say(self._words(by))
        guide = Guide(*self.pivot, *at)
        self.view.trace(Trace(guides=(guide,)))
        if by != self.by:
            self.by = by
            self.made = turn_about(self.before, self.ids, by, self.pivot)
            self.session.preview(self.made)

    def _words(self, by: float) -> str:
        if self.single is not None:
            return f"{round((self.single + by) % 360.0, 3) % 360.0:g}°"
        turned = (by + 180.0) % 360.0 - 180.0
        return f"turned by {round(turned, 3):g}°"

    def finished(self) -> None:
        """One undo step."""
        self.view.trace(NOTHING)
        if self.single is not None:
            text = f"{named(self.before, 'Turn', self.names)} to {self._words(self.by)}"
        else:
            text = named(self.before, "Turn", self.names)
        self.session.apply(text, self.made)

    def cancelled(self) -> None:
        """Everything stands as it did."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()
