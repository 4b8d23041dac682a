"""A rubber band around parts of the cart selects them."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build.cart_parts import all_parts
from ....build.geometry import XY
from ...selection import Selection
from ..gestures.base import NOTHING, Cursor, Gesture, Trace
from ..snapping import Box
from .grips import box_of_part

if TYPE_CHECKING:
    from ..view import PlanView

BANDED = ("zone", "caster", "leg", "leaf")


class CartBandGesture(Gesture):
    """Selects the zones, casters, legs and leaves that lie wholly in the band."""

    kind = "band"
    cursor = Cursor.CrossCursor

    def __init__(self, view: "PlanView", start: XY, *, adds: bool) -> None:
        super().__init__(view)
        self.start = start
        self.original = self.session.selection
        self.kept = self.original.parts if adds else ()

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Select what the band holds now."""
        band = Box.around((self.start, at))
        self.view.trace(Trace(band=band))
        cart = self.session.build.cart
        found = tuple(
            part
            for part in all_parts(cart, self.session.level)
            if part.startswith(BANDED)
            and part not in self.kept
            and (box := box_of_part(cart, part)) is not None
            and band.joined(box) == band
        )
        self.session.select(Selection(parts=(*self.kept, *found)))

    def finished(self) -> None:
        """Keep the selection."""
        self.view.trace(NOTHING)

    def cancelled(self) -> None:
        """Give back the selection that was there before."""
        self.view.trace(NOTHING)
        self.session.select(self.original)
