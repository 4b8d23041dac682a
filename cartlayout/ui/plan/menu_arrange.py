"""Parts of the plan's context menu: a port, several items, the paper, keeping things in order."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from ...build import Build, End, Item, Run
from ...build.arranging import Axis, Line, Spacing
from ...build.edits import remove, with_groups
from .. import commands
from ..selection import Selection
from ..session import Session
from .handles import Handle

if TYPE_CHECKING:
    from .menu import MenuActions
    from .view import PlanView

ALIGNMENTS: tuple[tuple[str, Line, str], ...] = (
    ("Left edges", "left", "Ctrl+Shift+Left"),
    ("Right edges", "right", "Ctrl+Shift+Right"),
    ("Rear edges", "rear", "Ctrl+Shift+Up"),
    ("Front edges", "front", "Ctrl+Shift+Down"),
    ("Middles, left to right", "middle across", ""),
    ("Middles, rear to front", "middle along", ""),
)
SPACINGS: tuple[tuple[str, Axis, Spacing], ...] = (
    ("Gaps, left to right", "across", "gaps"),
    ("Gaps, rear to front", "along", "gaps"),
    ("Middles, left to right", "across", "centres"),
    ("Middles, rear to front", "along", "centres"),
)


def doing(function: Callable[..., object], *args: object) -> Callable[..., None]:
    """What QAction.triggered can call: it hands over `checked`, which nobody needs."""
    return partial(_do, function, args)


def _do(function: Callable[..., object], args: tuple[object, ...], _checked: bool = False) -> None:
    function(*args)


def add_order(menu: QMenu, actions: "MenuActions", session: Session, items: list[Item]) -> None:
    """Align, space, group, ungroup: whatever makes sense for the selected items."""
    bodies = _bodies(session.build, items)
    if bodies > 1:
        align = menu.addMenu("Align")
        for text, line, key in ALIGNMENTS:
            actions.add(align, text, doing(commands.align, session, line), key)
    if bodies > 2:
        space = menu.addMenu("Space evenly")
        for text, axis, spacing in SPACINGS:
            actions.add(space, text, doing(commands.distribute, session, axis, spacing))
    if bodies > 1:
        actions.add(menu, "Group", doing(commands.group, session), "Ctrl+G")
    if any(item.group for item in items):
        actions.add(menu, "Ungroup", doing(commands.ungroup, session), "Ctrl+Shift+G")


def _bodies(build: Build, items: list[Item]) -> int:
    """How many things there are to put in order: a group counts as one."""
    return len({("group", item.group) if item.group else ("item", item.id) for item in items})


def add_copies(menu: QMenu, actions: "MenuActions", session: Session) -> None:
    """Cut, copy, and the two ways to duplicate."""
    actions.add(menu, "Cut", doing(commands.cut, session), "Ctrl+X")
    actions.add(menu, "Copy", doing(commands.copy, session), "Ctrl+C")
    actions.add(menu, "Duplicate", doing(commands.duplicate, session), "Ctrl+D")
    ids = set(with_groups(session.build, session.selection.items))
    if any(_leaves(run, ids) for run in session.build.runs):
        text = "Duplicate with wires and tubes"
        actions.add(menu, text, doing(commands.duplicate_connected, session), "Ctrl+Shift+D")


def _leaves(run: Run, ids: set[str]) -> bool:
    return run.b is not None and (run.a.item in ids) != (run.b.item in ids)


def add_turning(menu: QMenu, actions: "MenuActions", view: "PlanView") -> None:
    """Quarter turns, and to any angle."""
    session = view.session
    actions.add(menu, "Rotate clockwise", doing(commands.rotate, session, 90.0), "R")
    actions.add(menu, "Rotate back", doing(commands.rotate, session, -90.0), "Shift+R")
    actions.add(menu, "Turn to…", doing(view.boxes.ask_angle), "T")


def add_paper(menu: QMenu, actions: "MenuActions", view: "PlanView") -> None:
    """Nothing is selected: paste here, select, and how the plan is looked at."""
    session = view.session
    at = view.camera.to_metres(view.mouse.at)
    actions.add(menu, "Paste here", doing(view.boxes.paste, at), "Ctrl+V")
    actions.add(menu, "Select all", doing(commands.select_all, session), "Ctrl+A")
    menu.addSeparator()
    actions.add(menu, "Edit the cart", doing(view.cart_edit.enter), "Ctrl+B")
    actions.add(menu, "Show the whole plan", doing(view.fit), "Ctrl+0")
    alone = actions.add(
        menu, "Only this level", doing(session.set_isolated, not session.isolated), "I"
    )
    alone.setCheckable(True)
    alone.setChecked(session.isolated)
    snap = actions.add(
        menu,
        "Snap to grid and neighbours",
        doing(session.set_snapping, not session.snapping),
        "S",
    )
    snap.setCheckable(True)
    snap.setChecked(session.snapping)


def add_port(menu: QMenu, actions: "MenuActions", session: Session, handle: Handle) -> None:
    """What can be done with the one port that was clicked, besides joining it."""
    on_it = tuple(run.id for run in session.build.runs if handle.end in (run.a, run.b))
    if on_it:
        item = session.build.item(handle.item)
        name = item.name if item is not None else handle.item
        actions.add(menu, "Select what is on this port", doing(_select_runs, session, on_it))
        text = f"Disconnect {name}, {handle.port}"
        actions.add(menu, text, doing(_disconnect, session, on_it, text))


def add_ends(menu: QMenu, actions: "MenuActions", session: Session, run: Run) -> None:
    """From a run to the things at its ends."""
    ends: list[End] = [end for end in (run.a, run.b) if end is not None]
    ids = tuple(dict.fromkeys(end.item for end in ends))
    known = tuple(one for one in ids if session.build.item(one) is not None)
    if known:
        actions.add(menu, "Select both ends", doing(_select_items, session, known))


def _select_items(session: Session, ids: tuple[str, ...]) -> None:
    session.show_on_plan(Selection(items=ids))


def _select_runs(session: Session, ids: tuple[str, ...]) -> None:
    session.select(Selection(runs=ids))


def _disconnect(session: Session, ids: tuple[str, ...], text: str) -> None:
    session.apply(text, remove(session.build, run_ids=ids))
