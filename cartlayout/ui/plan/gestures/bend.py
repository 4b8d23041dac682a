"""Dragging a bend of a run, or pulling a new one out of it."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ..bends import move_bend
from ..snapping import Box, grid_step_m, snap_move
from .base import NOTHING, XY, Cursor, Gesture, Trace, free_of_snap
from .move import SNAP_PX

if TYPE_CHECKING:
    from ..view import PlanView


class BendGesture(Gesture):
    """Moves one bend; `start_build` already has it, so that a new one is the same step."""

    kind = "bend"
    cursor = Cursor.CrossCursor

    def __init__(
        self,
        view: "PlanView",
        start_build: Build,
        run_id: str,
        index: int,
        label: str,
    ) -> None:
        super().__init__(view)
        self.base = start_build
        self.run_id = run_id
        self.index = index
        self.text = label
        self.made: Build | None = None
        run = start_build.run(run_id)
        # A bend lines up with the bends beside it, so that legs can be made straight.
        self.beside = [
            Box(point.x.si, point.y.si, point.x.si, point.y.si)
            for number, point in enumerate(run.waypoints if run else ())
            if abs(number - index) == 1
        ]

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview the run with its bend here."""
        x, y = at
        if not free_of_snap(modifiers) and self.session.snapping:
            spot = Box(0.0, 0.0, 0.0, 0.0)
            reach = SNAP_PX / self.view.pixels_per_m
            snap = snap_move(spot, x, y, self.beside, grid_step_m(self.session.system), reach)
            x, y = snap.dx, snap.dy
            self.view.trace(Trace(guides=snap.guides))
        made = move_bend(self.base, self.run_id, self.index, x, y)
        if made != self.made:
            self.made = made
            self.session.preview(made)

    def finished(self) -> None:
        """One undo step."""
        self.view.trace(NOTHING)
        if self.made is None:
            self.session.cancel_preview()
        else:
            self.session.apply(self.text, self.made)

    def cancelled(self) -> None:
        """The run is as it was."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()
