"""The keyboard while the cart is edited: walking through its parts, moving, stretching, adding."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build.cart_parts import all_parts
from ... import cart_commands as commands
from ...selection import NOTHING, Selection
from ...session import Session
from ..snapping import fine_step_m, grid_step_m

if TYPE_CHECKING:
    from ..view import PlanView

Key = Qt.Key
Modifier = Qt.KeyboardModifier
_ARROWS = {
    Key.Key_Left: (-1, 0),
    Key.Key_Right: (1, 0),
    Key.Key_Up: (0, -1),
    Key.Key_Down: (0, 1),
}


def pressed(view: "PlanView", key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
    """Do what a key asks for. False: it means what it always means."""
    session, mode = view.session, view.cart_edit
    if key == Key.Key_Escape:
        mode.escape()
    elif key in _ARROWS and session.selection.parts:
        _arrow(view, _ARROWS[key], modifiers)
    elif key in (Key.Key_Delete, Key.Key_Backspace):
        commands.delete(session)
    elif key in (Key.Key_Return, Key.Key_Enter):
        _enter(view)
    elif key == Key.Key_A and modifiers & Modifier.ControlModifier:
        select_all(session)
    elif key == Key.Key_D and modifiers & Modifier.ControlModifier:
        commands.duplicate(session)
    else:
        return False
    return True


def select_all(session: Session) -> None:
    """Select every zone of the level, every caster, leg and leaf."""
    parts = all_parts(session.build.cart, session.level)
    loose = ("zone", "caster", "leg", "leaf")
    session.select(Selection(parts=tuple(one for one in parts if one.startswith(loose))))


def _arrow(view: "PlanView", way: tuple[int, int], modifiers: Qt.KeyboardModifier) -> None:
    """Move by the grid, with Shift by less; with Ctrl make larger or smaller."""
    system = view.session.system
    fine = bool(modifiers & Modifier.ShiftModifier)
    step = fine_step_m(system) if fine else grid_step_m(system)
    does = commands.stretch if modifiers & Modifier.ControlModifier else commands.nudge
    does(view.session, way[0] * step, way[1] * step)


def _enter(view: "PlanView") -> None:
    """Put what is being placed in the middle; otherwise go to the fields of what is selected."""
    if view.cart_edit.placing:
        view.cart_edit.place_in_middle()
    elif view.session.selection.parts:
        view.session.fields_requested.emit(view.session.selection)


def walk(view: "PlanView", way: int) -> bool:
    """Select the next part of the cart. False past the last one, so that Tab leaves the plan."""
    session = view.session
    order = all_parts(session.build.cart, session.level)
    if not order:
        return False
    now = session.selection.parts[-1:]
    if now and now[0] in order:
        index = order.index(now[0]) + way
    else:
        index = 0 if way > 0 else len(order) - 1
    if not 0 <= index < len(order):
        session.select(NOTHING)
        return False
    session.select(Selection(parts=(order[index],)))
    return True
