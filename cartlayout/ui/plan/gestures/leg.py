"""Pulling a straight part of a run sideways."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ..legs import corners, is_level, led_along, leg_at, other_lines, pulled
from ..snapping import Box, grid_step_m, snap_move
from .base import NOTHING, XY, Cursor, Gesture, free_of_snap
from .move import SNAP_PX

if TYPE_CHECKING:
    from ..view import PlanView


class LegGesture(Gesture):
    """One part of a run goes where the mouse is; what it hangs on follows, square."""

    kind = "bend"

    def __init__(self, view: "PlanView", place: XY, run_id: str) -> None:
        super().__init__(view)
        self.base = self.session.build
        self.run_id = run_id
        self.made: Build | None = None
        self.points = corners(self.session.analysis.network.routes[run_id])
        self.leg = leg_at(self.points, *place)
        self.level = is_level(self.points, self.leg)
        self.cursor = Cursor.SizeVerCursor if self.level else Cursor.SizeHorCursor
        self.beside = [
            Box(0.0, line, 0.0, line) if self.level else Box(line, 0.0, line, 0.0)
            for line in other_lines(self.points, self.leg)
        ]

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview the run with its part here."""
        x, y = at
        if not free_of_snap(modifiers) and self.session.snapping:
            spot = Box(0.0, 0.0, 0.0, 0.0)
            reach = SNAP_PX / self.view.pixels_per_m
            snap = snap_move(spot, x, y, self.beside, grid_step_m(self.session.system), reach)
            x, y = snap.dx, snap.dy
        points = pulled(self.points, self.leg, y if self.level else x)
        made = led_along(self.base, self.run_id, points)
        if made != self.made:
            self.made = made
            self.session.preview(made)

    def finished(self) -> None:
        """One undo step."""
        self.view.trace(NOTHING)
        if self.made is None or self.made == self.base:
            self.session.cancel_preview()
        else:
            kind = "wire" if self.run_id in {run.id for run in self.base.wires} else "tube"
            self.session.apply(f"Lead {kind} another way", self.made)

    def cancelled(self) -> None:
        """The run is as it was."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()
