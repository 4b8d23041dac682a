"""Dragging bodies, with everything computed anew at every step."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ....build.edits import move, with_groups
from ....build.geometry import outline
from ....units import UnitSystem, show
from ...commands import named
from ..distances import distances
from ..moving import box_of, boxes_of, movable, zone_boxes
from ..snapping import Box, Gap, Snap, grid_step_m, snap_move
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
        self.neighbours += zone_boxes(self.before, levels)
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
        if free_of_snap(modifiers) or not self.session.snapping:
            snap = Snap(dx, dy)
        else:
            reach = SNAP_PX / self.view.pixels_per_m
            grid = grid_step_m(system)
            snap = snap_move(self.box, dx, dy, self.neighbours, grid, reach, self.cart_box)
            if modifiers & Qt.KeyboardModifier.ShiftModifier:
                snap = _straight(snap, across=bool(dx))
        rest = self.box.moved(snap.dx, snap.dy)
        measures = self._measures(rest, snap.gaps)
        self.view.trace(Trace(guides=snap.guides, measures=measures, dragged=rest))
        if (snap.dx, snap.dy) != self.last:
            self.last = (snap.dx, snap.dy)
            self.made = move(self.before, self.ids, snap.dx, snap.dy)
            self.session.preview(self.made)

    def _measures(self, rest: Box, gaps: tuple[Gap, ...]) -> tuple[Measure, ...]:
        """What is free on the four sides; where gaps are equal, those instead."""
        system = self.session.system
        equal = [measured(one[:2], one[2:], one.length_m, system, "= ") for one in gaps]
        told = {one.y1 == one.y2 for one in gaps}
        free = [
            measured(one.a, one.b, one.length_m, system)
            for one in distances(rest, self.neighbours, self.cart_box)
            if one.across not in told
        ]
        return (*equal, *free)

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


def _straight(snap: Snap, *, across: bool) -> Snap:
    """Of a snap only what belongs to one direction."""
    guides = tuple(one for one in snap.guides if (one.x1 == one.x2) == across)
    gaps = tuple(one for one in snap.gaps if (one.y1 == one.y2) == across)
    return Snap(snap.dx if across else 0.0, 0.0 if across else snap.dy, guides, gaps)


def measured(a: XY, b: XY, length_m: float, system: UnitSystem, before: str = "") -> Measure:
    """A distance with its number in the person's units."""
    return Measure(a, b, f"{before}{show(length_m, 'length', system)}")
