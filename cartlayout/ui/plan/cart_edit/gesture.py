"""Dragging a part of the cart, with everything computed anew at every step."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build, Leaf, Zone
from ....build.cart_edits import settled
from ....build.cart_geometry import extent
from ....build.cart_moves import moved
from ....build.cart_parts import name_of, part_of, ref_of
from ....build.edits import EditError
from ....build.geometry import XY, outline
from ....units import UnitSystem, show
from ...commands import sentence
from ...selection import Selection
from ..gestures.base import NOTHING, Cursor, Gesture, Measure, Trace, free_of_snap
from ..moving import box_of
from ..snapping import Box, Guide, Snap, grid_step_m, snap_move
from .dragging import dragged
from .grips import Grip, box_of_part

if TYPE_CHECKING:
    from ..view import PlanView

SNAP_PX = 7.0
_CURSORS = {
    (1, 0): Cursor.SizeHorCursor,
    (0, 1): Cursor.SizeVerCursor,
    (1, 1): Cursor.SizeFDiagCursor,
    (1, -1): Cursor.SizeBDiagCursor,
}


def cursor_of(grip: Grip | None) -> Qt.CursorShape:
    """The shape that says what a press would do."""
    if grip is None:
        return Cursor.ArrowCursor
    if grip.sort in ("size", "edge"):
        way = grip.way if grip.way[0] >= 0 else (-grip.way[0], -grip.way[1])
        if grip.sort == "edge" and way == (1, 1):
            return Cursor.SizeAllCursor
        return _CURSORS.get((way[0], abs(way[1]) if way[0] == 0 else way[1]), Cursor.SizeAllCursor)
    return Cursor.SizeAllCursor


class CartGesture(Gesture):
    """Moves or pulls what was taken hold of; several selected parts move together."""

    kind = "move"

    def __init__(self, view: "PlanView", start: XY, grip: Grip, parts: tuple[str, ...]) -> None:
        super().__init__(view)
        self.start = start
        self.grip = grip
        self.before: Build = self.session.build
        together = grip.sort == "body" and grip.part in parts and len(parts) > 1
        self.parts = parts if together else (grip.part,)
        self.cursor = cursor_of(grip)
        self.box = self._snapping_box()
        self.neighbours = self._neighbours()
        self.made: Build = self.before
        self.last: tuple[float, float, bool] = (0.0, 0.0, True)

    def _snapping_box(self) -> Box:
        """What comes to rest on the grid and in line: the whole of a part, or the side pulled."""
        box = box_of_part(self.before.cart, self.grip.part) or Box(*self.start, *self.start)
        if self.grip.sort == "size":
            x, y = self.grip.at
            return Box(x, y, x, y)
        return box

    def _neighbours(self) -> list[Box]:
        cart, level = self.before.cart, self.session.level
        boxes = [box_of(item) for item in self.before.items if item.level == level]
        for at, zone in enumerate(cart.zones):
            part = f"zone:{at}"
            if zone.level == level and part not in self.parts:
                boxes.append(box_of_part(cart, part) or Box(0, 0, 0, 0))
        if self.grip.sort not in ("corner", "edge"):
            boxes.append(Box.around(outline(cart)))
        for kind, count in (("caster", len(cart.casters)), ("leg", len(cart.legs))):
            for at in range(count):
                if (part := f"{kind}:{at}") not in self.parts and kind in self.grip.part:
                    boxes.append(box_of_part(cart, part) or Box(0, 0, 0, 0))
        return boxes

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview the cart as it would be."""
        dx, dy = at[0] - self.start[0], at[1] - self.start[1]
        shift = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
        square = not (self.grip.sort == "corner" and shift)
        if self.grip.sort == "body" and shift:
            dx, dy = (dx, 0.0) if abs(dx) >= abs(dy) else (0.0, dy)
        free = free_of_snap(modifiers) or not self.session.snapping
        snap = self._snap(dx, dy, free)
        if (snap.dx, snap.dy, square) != self.last:
            self.last = (snap.dx, snap.dy, square)
            try:
                self.made = self._make(snap, square, at)
            except EditError as error:
                self.view.say(sentence(str(error)))
                return
            self.session.preview(self.made)
        self.view.say(self._words())
        self.view.trace(Trace(guides=snap.guides, measures=self._measures()))

    def _make(self, snap: Snap, square: bool, at: XY) -> Build:
        if len(self.parts) > 1:
            return moved(self.before, self.parts, snap.dx, snap.dy)
        if self.grip.sort == "body" and self.grip.part.startswith(("leaf", "handle", "panel")):
            return moved(self.before, self.parts, snap.dx, snap.dy, at)
        return dragged(self.before, self.grip, snap.dx, snap.dy, square)

    def _snap(self, dx: float, dy: float, free: bool) -> Snap:
        across, along = self._directions()
        dx, dy = dx if across else 0.0, dy if along else 0.0
        if free or not self.session.snapping or self.grip.way == (1, 1) == self._slanted():
            return Snap(dx, dy)
        reach = SNAP_PX / self.view.pixels_per_m
        step = grid_step_m(self.session.system)
        snap = snap_move(self.box, dx, dy, self.neighbours, step, reach)
        guides = tuple(one for one in snap.guides if (across if _upright(one) else along))
        return Snap(snap.dx if across else 0.0, snap.dy if along else 0.0, guides)

    def _slanted(self) -> tuple[int, int]:
        """The way of an edge that runs askew, which no grid can hold."""
        return (1, 1) if self.grip.sort == "edge" else (0, 0)

    def _directions(self) -> tuple[bool, bool]:
        """Whether it goes to left and right, and to rear and front."""
        if self.grip.sort in ("size", "edge"):
            return self.grip.way[0] != 0, self.grip.way[1] != 0
        return True, True

    def _words(self) -> str:
        """The size that is being changed, beside the mouse."""
        cart, system = self.made.cart, self.session.system
        part = part_of(cart, self.grip.part)
        if self.grip.sort in ("corner", "edge"):
            whole = extent(cart)
            return _times(whole.width, whole.depth, system)
        if isinstance(part, Zone):
            return _times(part.width.si, part.depth.si, system)
        if isinstance(part, Leaf):
            return f"{_times(part.length.si, part.depth.si, system)} on the {part.side}"
        if self.grip.part == "handle" and cart.handle is not None:
            reach = show(cart.handle.reach.si, "length", system)
            return f"{reach} out on the {cart.handle.side}"
        if self.grip.part == "panel" and cart.rear_panel is not None:
            return f"on the {cart.rear_panel.side}"
        return ""

    def _measures(self) -> tuple[Measure, ...]:
        cart, system = self.made.cart, self.session.system
        ref = ref_of(self.grip.part)
        if ref is not None and self.grip.sort in ("corner", "edge"):
            points = outline(cart)
            count = len(points)
            edges = (
                ((ref.index, ref.index - 1), (ref.index, ref.index + 1))
                if self.grip.sort == "corner"
                else ((ref.index, ref.index - 1), (ref.index + 1, ref.index + 2))
            )
            return tuple(
                Measure(points[a % count], points[b % count], show(size, "length", system))
                for a, b in edges
                if (size := math.dist(points[a % count], points[b % count])) > 1e-4
            )
        box = box_of_part(cart, self.grip.part)
        if box is None or self.grip.part in ("handle", "panel"):
            return ()
        if self.grip.part.startswith("leaf"):
            return ()
        return to_edges(box, Box.around(outline(cart)), system)

    def finished(self) -> None:
        """One undo step for the whole way."""
        self.view.trace(NOTHING)
        if self.made is self.before:
            self.session.cancel_preview()
            return
        build, by = settled(self.made)
        self.view.cart_edit.remember_shift(self.before, build, by)
        self.session.apply(self._label(), build, select=Selection(parts=self.parts))

    def _label(self) -> str:
        if self.grip.sort in ("corner", "edge"):
            return "Change the cart's outline"
        if len(self.parts) > 1:
            return f"Move {len(self.parts)} parts of the cart"
        verb = "Resize" if self.grip.sort == "size" else "Move"
        return f"{verb} {name_of(self.before.cart, self.grip.part)}"

    def cancelled(self) -> None:
        """The cart is as it was."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()


def _upright(guide: Guide) -> bool:
    return abs(guide.x1 - guide.x2) < 1e-9


def _times(width_m: float, depth_m: float, system: UnitSystem) -> str:
    """Such as "12.0 × 8.0 in"."""
    return f"{show(width_m, 'length', system).split(' ')[0]} × {show(depth_m, 'length', system)}"


def to_edges(rest: Box, cart: Box, system: UnitSystem) -> tuple[Measure, ...]:
    """Distances from a part to the edges of the cart that it has not crossed."""
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
