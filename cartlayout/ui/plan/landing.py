"""Stock that is dragged over the plan: seen in its place with everything computed, then dropped."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent

from ...build import Build
from ...build.edits import EditError
from ...stock import StockEntry, entry, placed
from ..selection import Selection
from .dropping import XY, dragged_entry, drop, free_spot, level_for
from .gestures.base import free_of_snap
from .gestures.move import SNAP_PX

if TYPE_CHECKING:
    from .view import PlanView

SIGHT_PX = 10.0
"""What was placed stays so far from the edge of the view."""
MOST_STEPS_BACK = 40
"""From the nearest zoom to the furthest it is fewer."""


class Landing:
    """What the view's drag and drop events do."""

    def __init__(self, view: "PlanView") -> None:
        self.view = view
        self.session = view.session
        self._made: tuple[Build, tuple[str, ...]] | None = None
        self._at: XY | None = None
        self._placed: tuple[str, ...] = ()
        """Not on the plan yet: it is drawn with the next analysis."""

    def entered(self, event: QDragEnterEvent) -> None:
        """Take what the stock panel drags."""
        if dragged_entry(event.mimeData()) is not None and self.view.gesture is None:
            event.acceptProposedAction()
        else:
            event.ignore()

    def moved(self, event: QDragMoveEvent) -> None:
        """Preview it here."""
        chosen = dragged_entry(event.mimeData())
        if chosen is None or not self._preview(chosen, event):
            event.ignore()
        else:
            event.acceptProposedAction()

    def left(self) -> None:
        """It went away again."""
        self._made = self._at = None
        self.session.cancel_preview()

    def dropped(self, event: QDropEvent) -> None:
        """One undo step."""
        chosen = dragged_entry(event.mimeData())
        if chosen is None or not self._preview(chosen, event) or self._made is None:
            self.left()
            event.ignore()
            return
        (build, ids), self._made, self._at = self._made, None, None
        self.session.apply(f"Place {chosen.name}", build, select=Selection(items=ids))
        event.acceptProposedAction()
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def place(self, key: str) -> bool:
        """Place an entry at the free spot nearest to the middle of the view; one undo step."""
        view, session = self.view, self.session
        try:
            chosen = entry(key)
            level = level_for(session.build, session.level, chosen)
            middle = view.camera.to_metres(QPointF(view.viewport().rect().center()))
            spot = free_spot(session.build, chosen, level, middle, session.system)
            build, ids = placed(session.build, chosen, level, *spot)
        except KeyError:
            session.tell(f"There is no '{key}' in stock.")
            return False
        except EditError as error:
            session.tell(f"{error}.")
            return False
        session.apply(f"Place {chosen.name}", build, select=Selection(items=ids))
        self._placed = ids
        return True

    def refreshed(self) -> None:
        """All of what was placed is seen, with its names; the paper moves no more than it must."""
        view = self.view
        ids = tuple(one for one in self._placed if not view.plan.polygon(one).isEmpty())
        if not ids:
            return
        self._placed = ()
        if self._in_sight(ids):
            return
        if view.frame() is not None:  # the whole plan was seen: it still is
            view.fit()
            return
        for _ in range(MOST_STEPS_BACK):
            whole, seen = self._whole(ids), view.camera.seen()
            if whole.width() <= seen.width() and whole.height() <= seen.height():
                break
            view.zoom_out()
        whole, seen = self._whole(ids), view.camera.seen()
        dx = max(seen.left() - whole.left(), 0.0) or min(seen.right() - whole.right(), 0.0)
        dy = max(seen.top() - whole.top(), 0.0) or min(seen.bottom() - whole.bottom(), 0.0)
        view.shift(dx / 1000.0, dy / 1000.0)

    def _in_sight(self, ids: tuple[str, ...]) -> bool:
        return self.view.camera.seen().contains(self._whole(ids))

    def _whole(self, ids: tuple[str, ...]) -> QRectF:
        """Around the bodies and their names, with a little room, in millimetres."""
        plan = self.view.plan
        whole = QRectF()
        for item_id in ids:
            whole |= plan.polygon(item_id).boundingRect()
            name = plan.arranged.names.get(item_id)
            if name is not None:
                whole |= QRectF(name.box.x, name.box.y, name.box.width, name.box.height)
        room = SIGHT_PX / self.view.camera.scale
        return whole.adjusted(-room, -room, room, room)

    def _preview(self, chosen: StockEntry, event: QDropEvent) -> bool:
        at = self.view.camera.to_metres(event.position())
        if at == self._at:
            return self._made is not None
        self._at = at
        session = self.session
        reach_m = SNAP_PX / self.view.pixels_per_m
        try:
            made = drop(
                session.build,
                chosen,
                session.level,
                at,
                session.system,
                reach_m,
                free=free_of_snap(event.modifiers()) or not session.snapping,
            )
        except EditError as error:
            self._made = None
            session.tell(f"{error}.")
            return False
        if self._made is None or made[0] != self._made[0]:  # the grid holds it a while
            self._made = made
            session.preview(made[0])
        return True
