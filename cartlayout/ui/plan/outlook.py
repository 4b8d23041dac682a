"""When a large plan finds places for its labels anew: not at every notch of the wheel.

On a cart all labels are arranged at every zoom, at once. In a hall of carts
that takes longer than a frame: while the wheel turns or the paper slides, what
is drawn is only enlarged and moved, and as soon as the view rests, the labels
of what is in sight are arranged for the new zoom.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from ...documents.plan import Box

if TYPE_CHECKING:
    from .view import PlanView

REST_MS = 120
"""The view rests when nothing has moved it for so long."""
BEYOND = 0.35
"""Labels are arranged so far beyond what is seen, in shares of its size: paper that slides a
little brings in things that have theirs."""


class Outlook(QObject):
    """Tells the scene what is seen, now or when the view rests."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self._view = view
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.settle)

    def zoomed(self) -> None:
        """The zoom is another one."""
        view = self._view
        if not view.plan.is_large:
            self.settle()
            return
        view.plan.look_over(view.session.theme, view.camera.scale)
        self._rest.start()

    def moved(self) -> None:
        """The paper was moved."""
        plan = self._view.plan
        if plan.is_large and not plan.arranges(self._seen()):
            self._rest.start()

    def refreshed(self) -> None:
        """Something else about the look has changed; a zoom that is under way can wait."""
        if not self._rest.isActive():
            self.settle()

    def settle(self) -> None:
        """Arrange everything for what is seen now."""
        view = self._view
        self._rest.stop()
        view.plan.look(view.session.theme, view.camera.scale, view.frame(), self._seen())

    def _seen(self) -> Box:
        seen = self._view.camera.seen()
        box = Box(seen.x(), seen.y(), seen.width(), seen.height())
        return box.grown(BEYOND * max(box.width, box.height) / 2)
