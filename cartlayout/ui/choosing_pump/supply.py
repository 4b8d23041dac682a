"""Which supply is asked about."""

from ...build import Build, Item, Mains, Pump, Tank
from ..session import Session


def supply_of(session: Session) -> Item | None:
    """The pump, mains tap or tank that is selected; else the first pump, mains tap, tank."""
    build = session.build
    for item_id in session.selection.items:
        item = build.item(item_id)
        if item is not None and is_supply(build, item):
            return item
    for role in (Pump, Mains, Tank):
        for item in build.items:
            if isinstance(item.specification.water, role) and is_supply(build, item):
                return item
    return None


def is_supply(build: Build, item: Item) -> bool:
    """A pump; mains or fresh water that a tube leads away from."""
    role = item.specification.water
    if isinstance(role, Pump):
        return True
    outlets = {
        port.id
        for port in item.specification.ports
        if port.medium == "water" and port.direction != "in"
    }
    return isinstance(role, (Mains, Tank)) and any(
        end is not None and end.item == item.id and end.port in outlets
        for run in build.tubes
        for end in (run.a, run.b)
    )
