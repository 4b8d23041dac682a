"""A rubber band around bodies selects them."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ..moving import box_of
from ..snapping import Box
from .base import NOTHING, XY, Cursor, Gesture, Trace

if TYPE_CHECKING:
    from ..view import PlanView


class BandGesture(Gesture):
    """Selects the bodies of the shown level and of the venue that the band touches."""

    kind = "band"
    cursor = Cursor.CrossCursor

    def __init__(self, view: "PlanView", start: XY, *, adds: bool) -> None:
        super().__init__(view)
        self.start = start
        self.kept = view.selected_items if adds else frozenset()
        self.kept_runs = view.selected_runs if adds else frozenset()
        self.original = (view.selected_items, view.selected_runs)

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Select what the band touches now."""
        band = Box.around((self.start, at))
        self.view.trace(Trace(band=band))
        found = {
            item.id
            for item in self.session.build.items
            if self.view.is_solid(item) and _touch(band, box_of(item))
        }
        self.view.choose(self.kept | found, self.kept_runs)

    def finished(self) -> None:
        """Keep the selection."""
        self.view.trace(NOTHING)

    def cancelled(self) -> None:
        """Give back the selection that was there before."""
        self.view.trace(NOTHING)
        self.view.choose(*self.original)


def _touch(a: Box, b: Box) -> bool:
    return a.left <= b.right and b.left <= a.right and a.top <= b.bottom and b.top <= a.bottom
