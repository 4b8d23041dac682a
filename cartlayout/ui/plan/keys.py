"""The keyboard on the plan: walking through what is drawn, nudging, turning."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal, NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from .. import commands
from ..selection import NOTHING, Selection
from .cart_edit import keys as cart_keys
from .handles import solid
from .snapping import fine_step_m, grid_step_m

if TYPE_CHECKING:
    from .view import PlanView

Key = Qt.Key
_ARROWS = {
    Key.Key_Left: (-1, 0),
    Key.Key_Right: (1, 0),
    Key.Key_Up: (0, -1),
    Key.Key_Down: (0, 1),
}
_PAN_PX = 48.0


def pressed(view: "PlanView", event: QKeyEvent) -> bool:
    """Do what a key asks for. False: it is none of the plan's."""
    key = Key(event.key())
    modifiers = event.modifiers()
    shift = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
    control = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
    if view.gesture is not None:
        return _during_a_drag(view, key)
    if view.cart_edit.on and cart_keys.pressed(view, key, modifiers):
        return True
    if key in _ARROWS and not control:
        _arrow(view, _ARROWS[key], fine=shift)
        return True
    if control:
        return _with_control(view, key, shift=shift)
    return _plain(view, key, shift=shift)


def _during_a_drag(view: "PlanView", key: Qt.Key) -> bool:
    if key == Key.Key_Escape:
        view.cancel_gesture()
    return True  # nothing else changes the build in mid-drag


def _arrow(view: "PlanView", way: tuple[int, int], *, fine: bool) -> None:
    session = view.session
    if session.selection.items:
        step_m = fine_step_m(session.system) if fine else grid_step_m(session.system)
        commands.nudge(session, way[0] * step_m, way[1] * step_m)
    else:
        step_m = _PAN_PX / view.pixels_per_m
        view.shift(-way[0] * step_m, -way[1] * step_m)


def _with_control(view: "PlanView", key: Qt.Key, *, shift: bool) -> bool:
    does = {
        Key.Key_D: commands.duplicate,
        Key.Key_C: commands.copy,
        Key.Key_X: commands.cut,
        Key.Key_A: commands.select_all,
        Key.Key_G: commands.group,
    }.get(key)
    if shift:
        does = {Key.Key_D: commands.duplicate_connected, Key.Key_G: commands.ungroup}.get(key)
    if does is not None:
        does(view.session)
        return True
    if key == Key.Key_V:
        view.boxes.paste()
        return True
    if key == Key.Key_0:
        view.fit()
        return True
    return False


def _plain(view: "PlanView", key: Qt.Key, *, shift: bool) -> bool:
    session = view.session
    if key in (Key.Key_Delete, Key.Key_Backspace):
        if not view.remove_active_bend():
            commands.delete(session)
    elif key == Key.Key_R:
        commands.rotate(session, -90.0 if shift else 90.0)
    elif key == Key.Key_Escape and view.boxes.box is not None:
        view.boxes.close()
    elif key == Key.Key_Escape:
        session.select(NOTHING)
    elif key in (Key.Key_PageUp, Key.Key_PageDown):
        _next_level(view, 1 if key == Key.Key_PageDown else -1)
    elif key in _WORDS:
        _WORDS[key](view)
    else:
        return False
    return True


def _fields(view: "PlanView") -> None:
    commands.edit_fields(view.session)


def _label(view: "PlanView") -> None:
    commands.edit_label(view.session)


def _angle(view: "PlanView") -> None:
    view.boxes.ask_angle()


def _connection(view: "PlanView") -> None:
    view.boxes.ask_connection()


def _snapping(view: "PlanView") -> None:
    view.session.set_snapping(not view.session.snapping)


def _isolate(view: "PlanView") -> None:
    view.session.set_isolated(not view.session.isolated)


def _nearer(view: "PlanView") -> None:
    view.zoom_in()


def _further(view: "PlanView") -> None:
    view.zoom_out()


_WORDS: dict[Qt.Key, Callable[["PlanView"], None]] = {
    Key.Key_Return: _fields,
    Key.Key_Enter: _fields,
    Key.Key_F2: _label,
    Key.Key_T: _angle,
    Key.Key_C: _connection,
    Key.Key_S: _snapping,
    Key.Key_I: _isolate,
    Key.Key_Plus: _nearer,
    Key.Key_Equal: _nearer,
    Key.Key_Minus: _further,
}
"""What a key without Control does."""


def _next_level(view: "PlanView", way: int) -> None:
    names = [level.name for level in view.session.build.cart.levels]
    if view.session.level in names:
        index = names.index(view.session.level) + way
        if 0 <= index < len(names):
            view.session.set_level(names[index])


class Thing(NamedTuple):
    """An item or a run on the plan."""

    kind: Literal["item", "run"]
    id: str


def things_in_order(view: "PlanView") -> tuple[Thing, ...]:
    """What is drawn solid, items from rear left to front right, then runs."""
    session = view.session
    build = session.build
    items = [item for item in build.items if solid(item, session.level)]
    items.sort(key=lambda item: (round(item.y.si, 2), item.x.si))
    order = [Thing("item", item.id) for item in items]
    drawn = view.drawn_runs
    return (*order, *(Thing("run", run.id) for run in build.runs if run.id in drawn))


def walk(view: "PlanView", way: int) -> bool:
    """Select the next thing that is drawn solid, items before runs.

    False past the last one, so that Tab leaves the plan for the next panel
    instead of holding the keyboard for ever.
    """
    if view.cart_edit.on:
        return cart_keys.walk(view, way)
    session = view.session
    order = things_in_order(view)
    if not order:
        return False
    chosen = session.selection
    now = [Thing("item", one) for one in chosen.items[-1:]]
    now = now or [Thing("run", one) for one in chosen.runs[-1:]]
    if now and now[0] in order:
        index = order.index(now[0]) + way
    else:
        index = 0 if way > 0 else len(order) - 1
    if not 0 <= index < len(order):
        return False
    kind, one = order[index]
    session.select(Selection(items=(one,)) if kind == "item" else Selection(runs=(one,)))
    view.reveal(session.selection)
    return True
