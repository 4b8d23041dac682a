"""Dragging bodies, with everything computed anew at every step."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ....build.edits import move, with_groups
from ....build.geometry import outline
from ....units import UnitSystem, show
from ...commands import named
from ..moving import box_of, boxes_of, movable
from ..snapping import Box, Snap, grid_step_m, snap_move
from .base import NOTHING, XY, Cursor, Gesture, Measure, Trace, free_of_snap

if TYPE_CHECKING:
    from ..view import PlanView

SNAP_PX = 7.0


class MoveGesture(Gesture):
    """Moves the selected items, their groups with them; locked ones stay."""

    kind = "move"
    cursor = Cursor.ClosedHandCursor

    def __init__(self, view: "PlanView", start: XY, ids: frozenset[str]) -> None:
        super().__init__(view)
        self.start = start
        self.before: Build = self.session.build
        alone = self.session.selection.alone
        self.ids = movable(self.before, ids, alone=alone)
        self.box = boxes_of(self.before, self.ids)
        carried = ids if alone else frozenset(with_groups(self.before, ids))
        levels = {item.level for item in self.before.items if item.id in self.ids}
        self.cart_box = Box.around(outline(self.before.cart))
        self.neighbours = [
            box_of(item)
            for item in self.before.items
            if item.level in levels and item.id not in carried
        ]
        self.neighbours.append(self.cart_box)
        self.last = (0.0, 0.0)
        self.made: Build = self.before
        if not self.ids:
            view.say("Locked. Unlock it in its menu to move it.")

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview the build with everything moved so far."""
        if self.box is None:
            return
        dx, dy = at[0] - self.start[0], at[1] - self.start[1]
        if modifiers & Qt.KeyboardModifier.ShiftModifier:  # straight along one direction
            dx, dy = (dx, 0.0) if abs(dx) >= abs(dy) else (0.0, dy)
        system = self.session.system
        if free_of_snap(modifiers):
            snap = Snap(dx, dy)
        else:
            reach = SNAP_PX / self.view.pixels_per_m
            snap = snap_move(self.box, dx, dy, self.neighbours, grid_step_m(system), reach)
            if modifiers & Qt.KeyboardModifier.ShiftModifier:
                snap = Snap(snap.dx if dx else 0.0, snap.dy if dy else 0.0, snap.guides)
        rest = self.box.moved(snap.dx, snap.dy)
        self.view.trace(Trace(guides=snap.guides, measures=to_edges(rest, self.cart_box, system)))
        if (snap.dx, snap.dy) != self.last:
            self.last = (snap.dx, snap.dy)
            self.made = move(self.before, self.ids, snap.dx, snap.dy)
            self.session.preview(self.made)

    def finished(self) -> None:
        """One undo step for the whole way."""
        self.view.trace(NOTHING)
        chosen = tuple(item.id for item in self.before.items if item.id in self.ids)
        # The very build that was previewed: its analysis is there already.
        self.session.apply(named(self.before, "Move", chosen), self.made)

    def cancelled(self) -> None:
        """Everything is back where it was."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()


def to_edges(rest: Box, cart: Box, system: UnitSystem) -> tuple[Measure, ...]:
    """Distances from a body to the edges of the cart that it has not crossed."""
    if rest.right < cart.left or rest.left > cart.right:
        return ()
    if rest.bottom < cart.top or rest.top > cart.bottom:
        return ()
    x, y = rest.middle_x, rest.middle_y
    pairs = (
        ((rest.left, y), (cart.left, y), rest.left - cart.left),
        ((rest.right, y), (cart.right, y), cart.right - rest.right),
        ((x, rest.top), (x, cart.top), rest.top - cart.top),
        ((x, rest.bottom), (x, cart.bottom), cart.bottom - rest.bottom),
    )
    return tuple(
        Measure(a, b, show(length, "length", system)) for a, b, length in pairs if length > 1e-4
    )
