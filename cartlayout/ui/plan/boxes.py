"""The one box that asks on the plan, and where something pasted goes."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF

from .. import commands
from .asking import AskBox, ask_angle
from .connect_box import ask_connection
from .snapping import grid_step_m

if TYPE_CHECKING:
    from .view import PlanView


class Boxes:
    """Opens a box and remembers it until it has closed itself."""

    def __init__(self, view: "PlanView") -> None:
        self.view = view
        self.box: AskBox | None = None

    def ask_angle(self) -> None:
        """Ask how the selected items shall stand."""
        self._open(ask_angle(self.view))

    def ask_connection(self) -> None:
        """Ask what the selected item shall be joined to."""
        self._open(ask_connection(self.view))

    def close(self) -> None:
        """Give up what is being asked."""
        if self.box is not None:
            self.box.give_up()

    def closed(self, box: AskBox) -> None:
        """A box has gone."""
        if box is self.box:
            self.box = None

    def _open(self, box: AskBox | None) -> None:
        self.close()
        if box is not None:
            self.box = box
            box.open_box()

    def paste(self, at: tuple[float, float] | None = None) -> None:
        """Paste at a place in metres; else where the mouse is, or in the middle of the view."""
        view = self.view
        middle = QPointF(view.viewport().rect().center())
        x, y = at or view.camera.to_metres(view.mouse.at if view.mouse.over else middle)
        step = grid_step_m(view.session.system)
        on_grid = (round(x / step) * step, round(y / step) * step)
        commands.paste(view.session, on_grid)
