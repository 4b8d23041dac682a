"""A mounted set becomes a module that lifts out in one piece, and goes back."""

from collections.abc import Iterable

from msgspec.structs import replace

from ..build import VENUE, Build, Item, PipeFitting, TubeRun
from ..build.edits import EditError, free_name, replace_item, replace_run, with_, with_groups
from ..build.groups import crossing_tubes, lift_outs, pump_set
from ..limits.joints import QUICK_CONNECT, comes_apart, loosened_by_hand, quick_connect_loss
from .trays import is_tray, on_a_tray, raised_by

_STEM = "module"


def chosen_set(build: Build, ids: Iterable[str]) -> tuple[str, ...]:
    """What a module would be made of: the chosen items and their groups, or the set of a pump.

    A single item stands for the pump's line that it is part of.

    Raises:
        EditError: it is no set; the message says why.
    """
    chosen = with_groups(build, ids)
    if len(chosen) == 1:
        chosen = pump_set(build, chosen[0]) or chosen
    items = [item for item in build.items if item.id in set(chosen)]
    if len(items) < 2:
        raise EditError(
            "a module is made of several parts: select them, or a pump with its vessel and filter"
        )
    if any(item.level == VENUE for item in items):
        raise EditError("what belongs to the venue is no part of the cart")
    if len({item.level for item in items}) > 1:
        raise EditError("the parts stand on different levels; a module stands on one")
    locked = next((item for item in items if item.locked), None)
    if locked is not None:
        raise EditError(f"{locked.name} is locked in place")
    return tuple(item.id for item in items)


def lift_out(build: Build, ids: Iterable[str]) -> tuple[Build, str]:
    """Make a set a module: on a tray, carried by hand, a quick-connect on every tube that leaves.

    Wires need none: they leave by their plugs. Asked again of a module, it gets what it lacks.

    Args:
        build: the build.
        ids: of the items, or of one part of a pump's line.

    Returns:
        The build and the name of the module's group.

    Raises:
        EditError: they make no module, or are one with nothing lacking.
    """
    chosen = chosen_set(build, ids)
    items = [item for item in build.items if item.id in set(chosen)]
    names = {item.group for item in items}
    group = next(iter(names)) if len(names) == 1 else None
    if group is None:
        group = free_name(_STEM, {item.group for item in build.items if item.group})
    after = build
    if not any(is_tray(item) for item in items):
        after, _ = on_a_tray(after, chosen, group)
    for item in items:
        now = after.item(item.id) or item
        after = replace_item(after, replace(now, group=group, travels=False))
    members = [item.id for item in after.items if item.group == group]
    after = _with_quick_connects(after, members)
    if after == build:
        raise EditError("this is a lift-out module already")
    return after, group


def mount(build: Build, ids: Iterable[str]) -> Build:
    """Mount a module in the cart again: no tray, no quick-connects, it travels with the cart.

    Raises:
        EditError: none of the items is part of a lift-out module.
    """
    chosen = set(with_groups(build, ids))
    modules = {
        name: items
        for name, items in lift_outs(build).items()
        if any(item.id in chosen for item in items)
    }
    if not modules:
        raise EditError("this is no part of a lift-out module")
    for name, items in modules.items():
        build = _mounted(build, name, items)
    return build


def _mounted(build: Build, name: str, items: tuple[Item, ...]) -> Build:
    ids = [item.id for item in items]
    for tube in crossing_tubes(build, ids):
        left = tuple(one for one in tube.fittings if one.name != QUICK_CONNECT)
        if left != tube.fittings:
            build = replace_run(build, replace(tube, fittings=left))
    trays = [item for item in items if is_tray(item)]
    lower_m = max((item.specification.size.height.si for item in trays), default=0.0)
    for item in items:
        if not is_tray(item):
            stays = item.group if not name.startswith(_STEM) else None
            raised = item.raised
            if lower_m and item.mount == "standing":
                raised = raised_by(raised, -min(lower_m, raised.si))
            build = replace_item(build, replace(item, group=stays, travels=True, raised=raised))
    gone = {item.id for item in trays}
    return with_(build, items=tuple(item for item in build.items if item.id not in gone))


def _with_quick_connects(build: Build, members: list[str]) -> Build:
    """Fit one on every tube that leaves the module and does not come apart by hand already."""
    for tube in crossing_tubes(build, members):
        if not parts_by_hand(build, tube):
            joint = PipeFitting(name=QUICK_CONNECT, loss_coefficient=quick_connect_loss())
            build = replace_run(build, replace(tube, fittings=(*tube.fittings, joint)))
    return build


def parts_by_hand(build: Build, tube: TubeRun) -> bool:
    """Tell whether a tube comes off by hand: a quick-connect on it, a hose thread, an open end."""
    if any(comes_apart(one.name) for one in tube.fittings):
        return True
    for end in (tube.a, tube.b):
        item = build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is not None and loosened_by_hand(tube.tube.name, port.connector):
            return True
    return False
