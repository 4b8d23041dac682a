"""Exchanging an item for another: what was joined stays joined wherever it fits."""

from dataclasses import dataclass
from typing import Literal

from msgspec.structs import replace

from ..build import VENUE, Build, End, Item, Load, Port, Run, Specification, Tank, TubeRun, Wire
from ..build.edits import EditError, remove, replace_item, replace_run, with_
from ..limits import plug_fit_reason
from ..stock import StockEntry
from ..stock.labels import short_label
from ..stock.placing import with_plug_of
from .connect import best_tube, free_receptacles, tube_from
from .fit import is_plug
from .places import Places
from .room import find_room
from .stand_in import Held, flows_alike, held_runs, take_over, tube_goes_on

What = Literal["kept", "changed", "moved", "dropped"]


@dataclass(frozen=True, slots=True)
class RunChange:
    """What became of one wire or tube."""

    run: str
    what: What
    """kept: as it was. changed: at its port, with another tube. moved: the plug is in another
    receptacle. dropped: it is gone."""
    text: str
    """For people, such as "Tube from Tee" or "Plug: Outlet 2 takes no 6-20P"."""


@dataclass(frozen=True, slots=True)
class Replacement:
    """A build with one item exchanged."""

    build: Build
    item: str
    """The same id as before."""
    runs: tuple[RunChange, ...]
    remarks: tuple[str, ...] = ()
    """What else is different, such as that it stands against the rear edge."""

    def of(self, what: What) -> tuple[RunChange, ...]:
        """The runs that fared so."""
        return tuple(one for one in self.runs if one.what == what)


def replace_with(build: Build, item_id: str, new: StockEntry | Specification) -> Replacement:
    """Exchange an item for another, and keep every wire and tube that still fits.

    The id, the level, the mount, the turn, the lock, the group, and a label of the person's own
    stay. The middle stays where it is, unless the new body would hang over the cart's edge or
    stand in a neighbour there and does not with one of its edges kept. A tube that does not
    go onto the new port gives way to one that does; a plug that does not go into its receptacle
    takes the nearest free one that it goes into.

    Raises:
        EditError: there is no such item, or the new one cannot stand in its place.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    specification = _specification(build, item, new)
    places = Places.of(build)
    held = held_runs(build, places, item)
    put, remarks = _new_item(build, item, specification)
    taken = take_over(held, item.specification, specification)
    after = _changed_cases(replace_item(build, put), put)
    changes: dict[str, RunChange] = {}
    loose: list[Held] = []
    for one in held:
        port = taken.get(one.run.id)
        if port is None:
            loose.append(one)
            continue
        after, changes[one.run.id] = _kept(after, places, one, port)
    # Every loose run leaves its place before any looks for another.
    after = remove(after, run_ids=[one.run.id for one in loose])
    for one in loose:
        after, changes[one.run.id] = _elsewhere(after, build, places, one, put)
    order = {run.id: at for at, run in enumerate(build.runs)}
    after = with_(after, runs=tuple(sorted(after.runs, key=lambda run: order[run.id])))
    told = tuple(changes[one.run.id] for one in held)
    return Replacement(after, item_id, told, remarks)


def _specification(build: Build, item: Item, new: StockEntry | Specification) -> Specification:
    if isinstance(new, Specification):
        return new
    if new.specification is None:
        raise EditError(f"{new.name} is a module of several; it cannot stand in for one item")
    if (new.stands == "venue") != (item.level == VENUE):
        where = "belongs to the venue" if new.stands == "venue" else "stands on the cart"
        raise EditError(f"{new.name} {where}; it cannot stand in for {item.name}")
    if build.region in new.regions:
        return with_plug_of(new.specification, build.region)
    return new.specification


def _new_item(build: Build, item: Item, new: Specification) -> tuple[Item, tuple[str, ...]]:
    """The item as the other piece of equipment, in its place."""
    others = with_(build, items=tuple(one for one in build.items if one.id != item.id))
    tanks = isinstance(item.specification.water, Tank) and isinstance(new.water, Tank)
    put = replace(
        item,
        specification=new,
        label=_label(others, item, new),
        fill=item.fill if tanks else 1.0,
    )
    if item.locked or item.level == VENUE:
        return put, ()
    return find_room(others, item, put)


def _label(others: Build, item: Item, new: Specification) -> str:
    """What the person called it; or what such equipment is called, if that is what it had."""
    stem, _, number = item.label.rpartition(" ")
    given = stem if stem and number.isdigit() else item.label
    usual, wanted = (_short(one.name) for one in (item.specification, new))
    if usual not in (item.label, given) or usual == wanted:
        return item.label
    return short_label(others, new.name)


def _short(name: str) -> str:
    return name.split(",")[0].strip()


def _changed_cases(build: Build, item: Item) -> Build:
    """Operating cases forget a load that draws nothing now, a tap that has no inlet."""
    draws = isinstance(item.specification.electrical, Load)
    taps = any(
        port.medium == "water" and port.direction == "in" for port in item.specification.ports
    )
    cases = tuple(
        replace(
            case,
            loads=case.loads if draws else tuple(one for one in case.loads if one != item.id),
            taps=case.taps if taps else tuple(one for one in case.taps if one != item.id),
        )
        if (not draws and item.id in case.loads) or (not taps and item.id in case.taps)
        else case
        for case in build.cases
    )
    same = all(new is old for new, old in zip(cases, build.cases, strict=True))
    return build if same else with_(build, cases=cases)


def _kept(build: Build, places: Places, held: Held, port: Port) -> tuple[Build, RunChange]:
    """Put a run on its new port."""
    run = held.run
    end = End(item=held.near.item, port=port.id)
    text = describe(places, held)
    after: Run = _with_end(run, held.near, end)
    what: What = "kept"
    if isinstance(after, Wire) and after.cord is not None and is_plug(port):
        # The cord belonged to the old one's plug.
        after = replace(after, cord=None)
    if isinstance(after, TubeRun) and not tube_goes_on(after, port):
        other = held.far_port.connector if held.far_port is not None else port.connector
        tube = tube_from(best_tube(build, port.connector, other, port.medium))
        after = replace(after, tube=tube)
        what, text = "changed", f"{text}: now {tube.name}"
    return (build if after == run else replace_run(build, after)), RunChange(run.id, what, text)


def _elsewhere(
    build: Build, before: Build, places: Places, held: Held, item: Item
) -> tuple[Build, RunChange]:
    """Find another receptacle for a plug that has none now; a tube has nowhere else to go."""
    run = held.run
    text = describe(places, held)
    if not isinstance(run, Wire):
        return build, RunChange(run.id, "dropped", f"{text}: {_tube_reason(held, item)}")
    plug = _plug(held, item)
    if plug is None:
        return build, RunChange(run.id, "dropped", f"{text}: {item.name} has no plug")
    fitting = free_receptacles(build, plug)
    if not fitting:
        return build, RunChange(run.id, "dropped", f"{text}: {_plug_reason(build, held, plug)}")
    was = held.far if plug.item == item.id else held.near
    best = min(fitting, key=lambda end: was is None or end.item != was.item)
    own = plug.item == item.id
    moved = replace(run, a=plug, b=best, waypoints=(), cord=None if own else run.cord)
    host = build.item(best.item)
    name = host.name if host is not None else best.item
    who = before.item(plug.item)
    whose = "" if own or who is None else f" of {who.name}"
    change = RunChange(run.id, "moved", f"Plug{whose}: now in {name}, {best.port}")
    return with_(build, runs=(*build.runs, moved)), change


def _plug(held: Held, item: Item) -> End | None:
    """The plug of a loose wire: of the new body, or of whatever was plugged into the old one."""
    if held.far_port is not None and held.far is not None and is_plug(held.far_port):
        return held.far
    for port in item.specification.ports:
        if port.medium == "power" and is_plug(port) and not _was_receptacle(held):
            return End(item=item.id, port=port.id)
    return None


def _was_receptacle(held: Held) -> bool:
    return held.port is not None and not is_plug(held.port)


def _plug_reason(build: Build, held: Held, plug: End) -> str:
    """Why a plug is in nothing now."""
    item = build.item(plug.item)
    port = item.specification.port(plug.port) if item is not None else None
    if port is None or held.far_port is None or is_plug(held.far_port):
        return "no free receptacle takes its plug"
    reason = plug_fit_reason(port.connector, held.far_port.connector)
    return f"{reason}; nothing else is free that takes it" if reason else "no receptacle is free"


def _tube_reason(held: Held, item: Item) -> str:
    """Why a tube has no port on the new body."""
    if held.port is None:
        return "it was on a port that did not exist"
    medium = held.port.medium
    word = {"water": "water", "drain": "drain"}.get(medium, medium)
    ports = [port for port in item.specification.ports if port.medium == medium]
    if not ports:
        return f"{item.name} has no {word} connection"
    alike = [port for port in ports if flows_alike(held, port)]
    if not alike:
        way = {"in": "inlet", "out": "outlet"}.get(held.port.direction, "connection")
        return f"{item.name} has no {word} {way}"
    other = held.far_port.connector if held.far_port is not None else held.port.connector
    run = held.run
    if isinstance(run, TubeRun) and any(tube_goes_on(run, port) for port in alike):
        return f"{item.name} has fewer of these"
    return f"no tube fits both {alike[0].connector} and {other}"


def _with_end(run: Run, old: End, new: End) -> Run:
    if old == new:
        return run
    return replace(run, a=new) if run.a == old else replace(run, b=new)


def describe(places: Places, held: Held) -> str:
    """A run as seen from the body: "Plug in Outlet 2", "Tube from Tee", "Drain to Waste jug"."""
    far = places.items.get(held.far.item) if held.far is not None else None
    name = far.name if far is not None else "nothing"
    if isinstance(held.run, Wire):
        return f"Plug of {name}" if _was_receptacle(held) else f"Plug in {name}"
    port = held.port
    word = "Drain" if port is not None and port.medium == "drain" else "Tube"
    way = held.side or (port.direction if port is not None else "")
    if port is not None and port.direction != "through":
        way = port.direction
    return f"{word} {'from' if way == 'in' else 'to'} {name}"
