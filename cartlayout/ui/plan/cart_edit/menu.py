"""The context menu of the cart's parts; also the keyboard's way to everything a drag can do."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from ....build import Leaf
from ....build.cart_parts import part_of
from ....build.geometry import XY
from ....units import capitalised
from ... import cart_commands as commands
from ...session import Session
from ..menu import MenuActions
from ..snapping import Box
from .placing import PLACEABLE, place

if TYPE_CHECKING:
    from ..view import PlanView


def make_cart_menu(view: "PlanView", at: XY, parts: tuple[str, ...]) -> QMenu:
    """The menu for the selected parts, and for what can be added at a place."""
    menu = QMenu(view)
    actions = MenuActions(view, menu)
    session = view.session
    if parts:
        if any(isinstance(part_of(session.build.cart, one), Leaf) for one in parts):
            actions.add(menu, "Fold up or down", partial(_do, commands.fold, session))
        if all(one.startswith(("zone", "caster", "leg")) for one in parts):
            actions.add(menu, "Duplicate", partial(_do, commands.duplicate, session), "Ctrl+D")
        actions.add(menu, "Edit in Details", partial(_fields, session), "Enter")
        if not any(one.startswith("edge") for one in parts):
            actions.add(menu, "Delete", partial(_do, commands.delete, session), "Del")
        menu.addSeparator()
    under = menu.addMenu("Add here")
    for what, (name, _) in PLACEABLE.items():
        words = capitalised(name)
        actions.add(under, words, partial(_place, view, what, at))
    actions.add(menu, "Done", partial(_leave, view), "Esc")
    return menu


def _do(command, session: Session, _checked: bool = False) -> None:
    command(session)


def _fields(session: Session, _checked: bool = False) -> None:
    session.fields_requested.emit(session.selection)


def _place(view: "PlanView", what: str, at: XY, _checked: bool = False) -> None:
    place(view, what, Box(*at, *at), clicked=True)


def _leave(view: "PlanView", _checked: bool = False) -> None:
    view.cart_edit.leave()
