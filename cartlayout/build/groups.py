"""Sets that belong together: what stands around a pump, and what lifts out of the cart as one."""

from collections.abc import Iterable

from .document import Build
from .item import VENUE, Item
from .runs import Run, TubeRun
from .water import (
    Accumulator,
    CheckValve,
    Filter,
    Fitting,
    Gauge,
    Pump,
    Regulator,
    ShutOff,
)

_PARTS = (Pump, Accumulator, Filter, Regulator, CheckValve, ShutOff, Gauge)
_ENDS_OF_A_JOINT = 2


def pump_set(build: Build, item_id: str) -> tuple[str, ...]:
    """The pump and what is on its line: vessel, filters, valves, gauges of the same level.

    The line is followed from part to part; it ends at a tank, at a tap, and at the fitting
    where it parts, because those stay when a pump is taken out. Empty where the line has no
    pump. Ids in the order of the build.
    """
    start = build.item(item_id)
    if start is None or start.level == VENUE or not _is_part(build, start):
        return ()
    found, waiting = {start.id}, [start]
    while waiting:
        item = waiting.pop()
        for other in _neighbours(build, item.id):
            if other.id not in found and other.level == start.level and _is_part(build, other):
                found.add(other.id)
                waiting.append(other)
    items = [item for item in build.items if item.id in found]
    if not any(isinstance(item.specification.water, Pump) for item in items):
        return ()
    return tuple(item.id for item in items)


def _is_part(build: Build, item: Item) -> bool:
    role = item.specification.water
    if isinstance(role, Fitting):  # a joint belongs to the line, a branch does not
        return sum(1 for tube in build.tubes if item.id in ends(tube)) <= _ENDS_OF_A_JOINT
    return isinstance(role, _PARTS)


def _neighbours(build: Build, item_id: str) -> list[Item]:
    """What supply tubes join an item to."""
    found = []
    for tube in build.tubes:
        if item_id not in ends(tube):
            continue
        for end in (tube.a, tube.b):
            item = build.item(end.item) if end is not None and end.item != item_id else None
            port = item.specification.port(end.port) if item is not None and end else None
            if item is not None and port is not None and port.medium == "water":
                found.append(item)
    return found


def ends(run: Run) -> set[str]:
    """Ids of the items that a run ends at."""
    return {run.a.item} | ({run.b.item} if run.b is not None else set())


def lift_outs(build: Build) -> dict[str, tuple[Item, ...]]:
    """Group name to its items, for every group that is carried in and out as one."""
    groups: dict[str, list[Item]] = {}
    for item in build.items:
        if item.group is not None and item.level != VENUE:
            groups.setdefault(item.group, []).append(item)
    return {
        name: tuple(items)
        for name, items in groups.items()
        if len(items) > 1 and not any(item.travels for item in items)
    }


def crossing(build: Build, ids: Iterable[str]) -> tuple[Run, ...]:
    """Runs that join one of the items to something that is not among them."""
    inside = set(ids)
    return tuple(
        run
        for run in build.runs
        if run.b is not None and len(ends(run)) > 1 and len(ends(run) & inside) == 1
    )


def crossing_tubes(build: Build, ids: Iterable[str]) -> tuple[TubeRun, ...]:
    """The tubes among them."""
    return tuple(run for run in crossing(build, ids) if isinstance(run, TubeRun))
