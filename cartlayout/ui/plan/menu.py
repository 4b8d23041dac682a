"""The context menu of the plan; also the keyboard's way to everything a drag can do."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from ...build import VENUE, Build, End, Item, Mains, Pump, Run, TubeRun, Wire
from ...build.edits import EditError, remove
from ...network import connect, free_receptacles, plug_end, replug
from ...network.fit import Fitter, is_plug
from .. import commands
from ..choosing_pump import open_choosing_pump
from ..details.cord_sizes import CordMenu
from ..details.tube_menu import TubeMenu
from ..inserting import InsertMenu, is_supply
from ..modules import can_be_module, is_module, make_module, mount_module
from ..replacing import ReplaceMenu
from ..selection import Selection
from ..session import Session
from .bends import remove_bend
from .handles import Handle
from .menu_arrange import (
    add_copies,
    add_ends,
    add_order,
    add_paper,
    add_port,
    add_turning,
    doing,
)

if TYPE_CHECKING:
    from .view import PlanView

_MOST = 14
"""Ports a submenu lists; more are found with the mouse."""


class MenuActions(QObject):
    """Owns the actions' functions while the menu is open, so that nothing outlives it."""

    def __init__(self, view: "PlanView", menu: QMenu) -> None:
        super().__init__(menu)
        self.view = view
        self.session: Session = view.session

    def add(self, menu: QMenu, text: str, does: object, shortcut: str = "") -> QAction:
        """Add an entry; its key is shown, the plan itself answers to it."""
        action = QAction(f"{text}\t{shortcut}" if shortcut else text, menu)
        action.triggered.connect(does)
        menu.addAction(action)
        return action


def make_menu(
    view: "PlanView", handle: Handle | None, at: tuple[float, float] | None = None
) -> QMenu:
    """The menu for what is selected, for the bend that was clicked, and for the place on a tube."""
    menu = QMenu(view)
    actions = MenuActions(view, menu)
    session = view.session
    items = [item for item in session.build.items if item.id in session.selection.items]
    runs = [run for run in session.build.runs if run.id in session.selection.runs]
    if handle is not None and handle.kind == "bend":
        actions.add(menu, "Remove this bend", partial(_remove_bend, session, handle), "Del")
        menu.addSeparator()
    if handle is not None and handle.kind == "port":
        add_port(menu, actions, session, handle)
        menu.addSeparator()
    if items:
        _for_items(menu, actions, session, items)
    if runs:
        if len(runs) == 1 and not items and is_supply(session.build, runs[0].id):
            menu.addMenu(InsertMenu(session, runs[0].id, at, menu))
        _for_runs(menu, actions, session, [run.id for run in runs])
    if not items and not runs:
        add_paper(menu, actions, view)
    elif len(items) + len(runs) == 1:
        menu.addSeparator()
        asks = partial(_ask_working, session, (*items, *runs)[0].id)
        actions.add(menu, "Show working", asks, "Ctrl+Shift+W")
    return menu


def _ask_working(session: Session, one: str, *_: object) -> None:
    """Offer the numbers of an item or a run with how they came about."""
    from ...workings.headlines import numbers_of

    cases = (session.power_case, session.water_case)
    session.working_requested.emit(numbers_of(session.analysis, one, cases))


def _for_items(menu: QMenu, actions: MenuActions, session: Session, items: list[Item]) -> None:
    add = actions.add
    if len(items) == 1:
        add(menu, "Edit label", partial(_edit_label, session, items[0].id), "F2")
        add(menu, "Connect…", doing(actions.view.boxes.ask_connection), "C")
        _joins(menu, actions, session, items[0])
        menu.addSeparator()
    locked = all(item.locked for item in items)
    if not locked:
        add_turning(menu, actions, actions.view)
    add_order(menu, actions, session, items)
    menu.addSeparator()
    add_copies(menu, actions, session)
    if len(items) == 1:
        _exchanges(menu, actions, session, items[0])
    if any(item.level != VENUE for item in items) and len(session.build.cart.levels) > 1:
        levels = menu.addMenu("Put on level")
        here = {item.level for item in items}
        for level in session.build.cart.levels:
            action = add(levels, level.name, partial(_to_level, session, level.name))
            action.setEnabled(here != {level.name})
    add(
        menu,
        "Unlock" if locked else "Lock in place",
        partial(_command, commands.toggle_lock, session),
    )
    if is_module(session):
        add(menu, "Mount in the cart", partial(_command, mount_module, session))
    elif can_be_module(session):
        add(menu, "Make lift-out module", partial(_command, make_module, session), "Ctrl+M")
    ids = {item.id for item in items}
    attached = [run.id for run in session.build.runs if _ends(run) & ids]
    if attached:
        add(menu, "Disconnect", partial(_disconnect, session, tuple(attached)))
    keys = {session.analysis.power.item_circuit.get(item.id) for item in items} - {None}
    if len(keys) == 1:
        key = next(iter(keys))
        circuit = session.analysis.power.circuit(key) if key else None
        if circuit is not None:
            text = f"Select all on circuit {circuit.letter}"
            add(menu, text, partial(_select_circuit, session, circuit.key))
    menu.addSeparator()
    if not locked:
        add(menu, "Delete", partial(_command, commands.delete, session), "Del")


def _exchanges(menu: QMenu, actions: MenuActions, session: Session, item: Item) -> None:
    """What else could stand in an item's place."""
    menu.addMenu(ReplaceMenu(session, item, actions.view.window(), menu))
    if isinstance(item.specification.water, (Pump, Mains)):
        asks = partial(_which_pump, session, actions.view)
        actions.add(menu, "Which pump?", asks, "Ctrl+Shift+P")


def _for_runs(menu: QMenu, actions: MenuActions, session: Session, ids: list[str]) -> None:
    run = session.build.run(ids[0])
    if len(ids) == 1 and isinstance(run, Wire):
        _replugs(menu, actions, session, run)
        menu.addMenu(CordMenu(session, run, menu))
    if len(ids) == 1 and isinstance(run, TubeRun):
        menu.addMenu(TubeMenu(session, run, menu))
    bent = [one for one in ids if (found := session.build.run(one)) and found.waypoints]
    if bent:
        text = "Route Automatically"
        actions.add(menu, text, partial(_straighten, session, tuple(bent)))
    if len(ids) == 1 and run is not None:
        add_ends(menu, actions, session, run)
    text = "Disconnect" if len(ids) == 1 else f"Disconnect {len(ids)}"
    actions.add(menu, text, partial(_disconnect, session, tuple(ids)), "Del")


def _joins(menu: QMenu, actions: MenuActions, session: Session, item: Item) -> None:
    """One submenu for every port of the item that could be joined to something."""
    build = session.build
    fitter = Fitter(build)
    for port in item.specification.ports:
        end = End(item=item.id, port=port.id)
        ends = tuple(
            other
            for node in fitter.places.ports
            if fitter.fits(end, other := End(item=node[0], port=node[1])).ok
        )
        if not ends:
            continue
        verb = {"power": "Plug into" if is_plug(port) else "Plug in here"}.get(
            port.medium, "Run a tube to" if port.medium == "water" else "Run a drain to"
        )
        several = sum(one.medium == port.medium for one in item.specification.ports) > 1
        under = menu.addMenu(f"{verb} ({port.id})" if several else verb)
        for other in ends[:_MOST]:
            actions.add(under, port_name(build, other), partial(_join, session, end, other))


def _replugs(menu: QMenu, actions: MenuActions, session: Session, wire: Wire) -> None:
    plug = plug_end(Fitter(session.build), wire)
    ends = free_receptacles(session.build, plug) if plug is not None else ()
    if ends:
        under = menu.addMenu("Plug into")
        for end in ends[:_MOST]:
            name = port_name(session.build, end)
            actions.add(under, name, partial(_replug, session, wire.id, end))


def port_name(build: Build, end: End) -> str:
    """Such as "Outlet 2" or, where an item has several alike, "Strip: receptacle 3"."""
    item = build.item(end.item)
    port = item.specification.port(end.port) if item is not None else None
    if item is None or port is None:
        return "?"
    alike = [one for one in item.specification.ports if one.medium == port.medium]
    return f"{item.name}: {port.id}" if len(alike) > 1 else item.name


def _ends(run: Run) -> set[str]:
    return {run.a.item} | ({run.b.item} if run.b is not None else set())


# What the entries do. QAction.triggered hands over `checked`, which nobody needs.


def _command(command: Callable[[Session], None], session: Session, _checked: bool = False) -> None:
    command(session)


def _which_pump(session: Session, view: "PlanView", _checked: bool = False) -> None:
    open_choosing_pump(session, view.window())


def _to_level(session: Session, level: str, _checked: bool = False) -> None:
    commands.to_level(session, level)


def _edit_label(session: Session, item_id: str, _checked: bool = False) -> None:
    session.label_requested.emit(item_id)


def _disconnect(session: Session, run_ids: tuple[str, ...], _checked: bool = False) -> None:
    left = remove(session.build, run_ids=run_ids)
    text = "Disconnect" if len(run_ids) == 1 else f"Disconnect {len(run_ids)} wires and tubes"
    session.apply(text, left)


def _straighten(session: Session, run_ids: tuple[str, ...], _checked: bool = False) -> None:
    build = session.build
    for run_id in run_ids:
        while (run := build.run(run_id)) is not None and run.waypoints:
            build = remove_bend(build, run_id, 0)
    session.apply("Route automatically", build)


def _remove_bend(session: Session, handle: Handle, _checked: bool = False) -> None:
    session.apply("Remove bend", remove_bend(session.build, handle.run, handle.index))


def _select_circuit(session: Session, key: str, _checked: bool = False) -> None:
    power = session.analysis.power
    items = tuple(one for one, owner in power.item_circuit.items() if owner == key)
    runs = tuple(one for one, state in power.wires.items() if state.circuit == key)
    session.select(Selection(items=items, runs=runs))


def _join(session: Session, end: End, other: End, _checked: bool = False) -> None:
    try:
        build, run_id = connect(session.build, end, other)
    except EditError as error:
        session.tell(str(error))
        return
    names = f"{port_name(session.build, end)} and {port_name(session.build, other)}"
    session.apply(f"Join {names}", build, select=Selection(runs=(run_id,)))


def _replug(session: Session, wire_id: str, end: End, _checked: bool = False) -> None:
    try:
        build = replug(session.build, wire_id, end)
    except EditError as error:
        session.tell(str(error))
        return
    session.apply(f"Plug into {port_name(session.build, end)}", build)
