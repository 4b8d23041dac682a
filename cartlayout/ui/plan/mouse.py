"""The mouse on the plan: what a press takes hold of, and when a click becomes a drag."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent

from ...build import Build
from ...build.edits import EditError, with_groups
from ..commands import sentence
from ..selection import Selection
from .bends import add_bend
from .gestures import (
    BandGesture,
    BendGesture,
    ConnectGesture,
    Gesture,
    LegGesture,
    MoveGesture,
    PanGesture,
    ReplugGesture,
    TubeEndGesture,
    TurnGesture,
)
from .handles import NO_HIT, XY, Handle, Hit, hit

if TYPE_CHECKING:
    from .view import PlanView

Button = Qt.MouseButton
Modifiers = Qt.KeyboardModifier
Shape = Qt.CursorShape

DRAG_PX = 4
"""So far the mouse has to go with the button down before a click becomes a drag."""


_CURSORS = {
    "port": Shape.CrossCursor,
    "plug": Shape.PointingHandCursor,
    "bend": Shape.PointingHandCursor,
    "turn": Shape.OpenHandCursor,
}


def adds(modifiers: Qt.KeyboardModifier) -> bool:
    """Whether Shift or Ctrl is held: a click adds to the selection or takes away."""
    return bool(modifiers & (Modifiers.ShiftModifier | Modifiers.ControlModifier))


class Mouse:
    """What the view's mouse events do. Holds the one drag that is going on."""

    def __init__(self, view: "PlanView") -> None:
        self.view = view
        self.session = view.session
        self.gesture: Gesture | None = None
        self.hovered = NO_HIT
        self.at = QPointF()
        """Where the mouse was last, in the viewport."""
        self.over = False
        """The mouse is over the plan."""
        self.panning_key = False
        """The space bar is held: a drag moves the paper."""
        self._pressed: tuple[QPointF, Hit, Qt.MouseButton] | None = None

    def hit(self, at: QPointF) -> Hit:
        """What is at a place of the viewport."""
        view = self.view
        if view.plan.picture is None or view.cart_edit.on:
            return NO_HIT
        return hit(
            view.plan.picture,
            view.plan.lines,
            view.plan.handles.handles,
            view.camera.to_metres(at),
            view.pixels_per_m,
        )

    def press(self, event: QMouseEvent) -> None:
        """Select what is pressed, and remember it in case a drag follows."""
        self.at = at = event.position()
        self.over = True
        button = event.button()
        if self.gesture is not None:
            return
        if button == Button.MiddleButton or (button == Button.LeftButton and self.panning_key):
            self._pressed = (at, NO_HIT, button)
            self._begin(PanGesture(self.view, self.view.camera.to_metres(at)))
        elif button == Button.LeftButton:
            self.hover(at)
            found = self.hit(at)
            self._pressed = (at, found, button)
            self._take(found, event.modifiers())
        elif button == Button.RightButton and self.view.cart_edit.on:
            self.view.cart_edit.press(adds=False)
        elif button == Button.RightButton:
            self.hover(at)
            found = self.hit(at)
            knob = found.handle is not None and found.handle.kind == "turn"
            if not knob and not self._is_selected(found):
                self._select(found, Modifiers.NoModifier)

    def move(self, event: QMouseEvent) -> None:
        """Go on with a drag, begin one, or see what is under the mouse."""
        self.at = at = event.position()
        self.over = True
        if self.gesture is None and self._pressed is not None and event.buttons():
            start, found, _ = self._pressed
            if (at - start).manhattanLength() >= DRAG_PX:
                self._begin_drag(start, found, event.modifiers())
        if self.gesture is not None:
            self.gesture.moved(self.view.camera.to_metres(at), event.modifiers())
        elif self._pressed is None:
            self.hover(at)

    def release(self, event: QMouseEvent) -> None:
        """End a drag with its one undo step, or finish a click."""
        self.at = event.position()
        pressed = self._pressed
        if pressed is None or event.button() != pressed[2]:
            return
        self._pressed = None
        if self.gesture is not None:
            self._let_go().finished()
            self.view.say("")
            self.hover(event.position())
            self.view.update_handles()
        elif event.button() == Button.LeftButton:
            self._clicked(pressed[1], event.modifiers())
        self.update_cursor()

    def cancel(self) -> None:
        """Escape: everything is as it was before the drag."""
        self._pressed = None
        if self.gesture is not None:
            self._let_go().cancelled()
            self.view.say("")
        self.view.update_handles()
        self.update_cursor()

    def double_click(self, at: QPointF) -> None:
        """An item: edit its label. A run: add a bend. A ghost: go to its level.

        One of a group is first picked out of it.
        """
        if self.gesture is not None:
            return
        self._pressed = None
        if self.view.cart_edit.on:
            self.view.cart_edit.double_click()
            return
        found = self.hit(at)
        session = self.session
        if found.kind == "ghost":
            item = session.build.item(found.item)
            if item is not None:
                session.set_level(item.level)
                self.view.choose(frozenset({found.item}), frozenset())
        elif found.kind == "run":
            made = self._with_bend(found.run, self.view.camera.to_metres(at))
            if made is not None:
                session.apply("Add bend", made[0], select=Selection(runs=(found.run,)))
                self.view.set_active_bend((found.run, made[1]))
        elif found.kind == "body" or (found.handle is not None and found.handle.kind == "port"):
            grouped = len(with_groups(session.build, (found.item,))) > 1
            picked = session.selection.alone and session.selection.items == (found.item,)
            self.view.choose(frozenset({found.item}), frozenset(), alone=grouped)
            if picked or not grouped:
                session.label_requested.emit(found.item)

    def left(self) -> None:
        """The mouse has left the plan."""
        self.over = False
        if self.gesture is None and self.hovered != NO_HIT:
            self.hovered = NO_HIT
            self.view.update_handles()

    def forget(self) -> None:
        """Another document: nothing is held or hovered any more."""
        if self.gesture is not None:
            self.cancel()
        self._pressed = None
        self.hovered = NO_HIT

    def hover(self, at: QPointF) -> None:
        """See what is under the mouse, and show what can be taken hold of there."""
        if self.view.cart_edit.on:
            self.view.cart_edit.hover()
            self.update_cursor()
            return
        found = self.hit(at)
        if found == self.hovered:
            return
        changed = (found.item, found.run) != (self.hovered.item, self.hovered.run)
        self.hovered = found
        self.view.update_handles()
        if changed:
            # The ports of what is under the mouse have appeared, and may be hit themselves.
            again = self.hit(at)
            if again != found:
                self.hovered = again
                self.view.update_handles()
        self.update_cursor()

    def update_cursor(self) -> None:
        """The shape says what a press would do."""
        cursor = self._cursor()
        if self.view.viewport().cursor().shape() != cursor:
            self.view.viewport().setCursor(cursor)

    def _cursor(self) -> Qt.CursorShape:
        if self.gesture is not None:
            return self.gesture.cursor
        if self.panning_key:
            return Shape.OpenHandCursor
        if self.view.cart_edit.on:
            return self.view.cart_edit.cursor()
        handle = self.hovered.handle
        if handle is not None:
            return _CURSORS[handle.kind]
        if self.hovered.kind == "body":
            item = self.session.build.item(self.hovered.item)
            return Shape.ArrowCursor if item is not None and item.locked else Shape.SizeAllCursor
        known = self.hovered.kind in ("run", "ghost")
        return Shape.PointingHandCursor if known else Shape.ArrowCursor

    def _take(self, found: Hit, modifiers: Qt.KeyboardModifier) -> None:
        """Select at once what is pressed, unless a drag from there may mean something else.

        On one of several selected it may move them all; on the paper or a ghost
        it may be a rubber band, after which Escape gives the old selection back.
        """
        if self.view.cart_edit.on:
            self.view.cart_edit.press(adds=adds(modifiers))
            return
        handle = found.handle
        self.view.set_active_bend(None)
        if handle is not None and handle.kind == "bend":
            self.view.choose(frozenset(), frozenset({handle.run}))
            self.view.set_active_bend((handle.run, handle.index))
        elif found.kind in ("body", "run") and (adds(modifiers) or not self._is_selected(found)):
            self._select(found, modifiers)

    def _is_selected(self, found: Hit) -> bool:
        """Whether it is selected, and all of its group with it unless it was picked out."""
        if found.kind == "run":
            return found.run in self.view.selected_runs
        if self.session.selection.alone:
            return found.item in self.view.selected_items
        return bool(found.item) and self._with_its_group(found.item) <= self.view.selected_items

    def _with_its_group(self, item_id: str) -> frozenset[str]:
        return frozenset(with_groups(self.session.build, (item_id,)))

    def _select(self, found: Hit, modifiers: Qt.KeyboardModifier) -> None:
        """Select what was hit: a click takes the group, Alt or another click in it the one."""
        items, runs = self.view.selected_items, self.view.selected_runs
        if found.kind == "run":
            one = frozenset({found.run})
            chosen = (items, runs ^ one) if adds(modifiers) else (frozenset(), one)
            self.view.choose(*chosen)
            return
        group = self._with_its_group(found.item) if found.item else frozenset()
        if adds(modifiers):
            self.view.choose(items - group if found.item in items else items | group, runs)
            return
        within = self.session.selection.alone and bool(group & items)
        if len(group) > 1 and (within or modifiers & Modifiers.AltModifier):
            self.view.choose(frozenset({found.item}), frozenset(), alone=True)
        else:
            self.view.choose(group, frozenset())

    def _clicked(self, found: Hit, modifiers: Qt.KeyboardModifier) -> None:
        """A click that became no drag: what was put off at the press."""
        if self.view.cart_edit.on:
            self.view.cart_edit.click(adds=adds(modifiers))
            return
        several = len(self.view.selected_items) + len(self.view.selected_runs) > 1
        handle = found.handle
        picks = several or bool(modifiers & Modifiers.AltModifier)
        loose = found.kind == "nothing" or (handle is None and picks)
        if found.kind == "ghost" or (loose and not adds(modifiers)):
            self._select(found, modifiers)
        elif handle is not None and handle.kind == "port":
            self.view.choose(frozenset({handle.item}), frozenset())
        elif handle is not None and handle.kind == "plug":
            self.view.choose(frozenset(), frozenset({handle.run}))

    def _begin_drag(self, start: QPointF, found: Hit, modifiers: Qt.KeyboardModifier) -> None:
        view, place, handle = self.view, self.view.camera.to_metres(start), found.handle
        if view.cart_edit.on:
            self._begin(view.cart_edit.gesture(place, adds=adds(modifiers)))
        elif handle is not None and handle.kind == "bend":
            build = self.session.build
            self._begin(BendGesture(view, build, handle.run, handle.index, "Move bend"))
        elif handle is not None and handle.kind == "turn":
            self._begin(TurnGesture(view, place))
        elif handle is not None and handle.kind == "plug":
            self._begin(ReplugGesture(view, place, handle.run))
        elif handle is not None:
            self._begin(self._from_port(handle))
        elif found.kind == "body" and found.item in view.selected_items:
            self._begin(MoveGesture(view, place, view.selected_items))
        elif found.kind == "run" and found.run in view.selected_runs:
            self._pull_leg(place, found.run)
        elif found.kind in ("nothing", "ghost"):
            self._begin(BandGesture(view, place, adds=adds(modifiers)))
        else:
            self._pressed = None

    def _from_port(self, handle: Handle) -> Gesture:
        """A taken port gives its tube's end; a free one, or a plug, starts a run of its own."""
        tube = next((run for run in self.session.build.tubes if handle.end in (run.a, run.b)), None)
        if tube is not None and tube.b is not None:
            return TubeEndGesture(self.view, handle.at, tube, handle.end)
        return ConnectGesture(self.view, handle.at, handle.end)

    def _pull_leg(self, place: XY, run_id: str) -> None:
        """A straight part of a run goes sideways; a run with a free end has none."""
        if run_id not in self.session.analysis.network.routes:
            self.session.tell("A run with a free end has no way yet: drag its end to a port.")
            self._pressed = None
            return
        self._begin(LegGesture(self.view, place, run_id))

    def _with_bend(self, run_id: str, place: XY) -> tuple[Build, int] | None:
        session = self.session
        route = session.analysis.network.routes.get(run_id)
        corners = tuple(point[:2] for point in route.points[1:-1]) if route is not None else ()
        try:
            return add_bend(session.build, run_id, *place, corners=corners)
        except EditError as error:
            session.tell(sentence(str(error)))
            return None

    def _begin(self, gesture: Gesture) -> None:
        self.gesture = gesture
        self.update_cursor()
        self.view.update_handles()

    def _let_go(self) -> Gesture:
        """The drag that ends now."""
        if self.gesture is None:
            raise RuntimeError("nothing is being dragged")
        gesture, self.gesture = self.gesture, None
        return gesture
