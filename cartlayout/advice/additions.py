"""What can still be added: stock that a circuit has a free receptacle and enough room for."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..analysis import Analysis
from ..build import Load
from ..build.electrical import System
from ..limits import Profile, plug_fits, power_connector, profile
from ..network.results import Node
from ..power.circuits import receptacles_of
from ..power.limits_check import is_continuous_load, receptacle_rating_a
from ..power.loads import line_amps, load_model
from ..power.results import EVERYTHING_ON, Circuit
from ..power.room import Room, room, rooms
from ..power.systems import conductor_set
from ..stock import StockEntry, stock

_ROUNDING = 1.005
_TOLD_ONLY = ("neutral", "starts together")
"""Limits that what is added need not come to, so they do not bind: a load between two legs leaves
the neutral alone, and only a motor starts."""
_LEAST_V, _MOST_V = 0.9, 1.1


@dataclass(frozen=True, slots=True)
class Addition:
    """One entry of the stock on one circuit."""

    entry: StockEntry
    amps: float
    share_after: float
    """Of the circuit's rating."""
    receptacle: Node
    """Free, and takes its plug."""


@dataclass(frozen=True, slots=True)
class RoomLeft:
    """What one circuit has left, by each of its limits."""

    circuit: str
    left: Room
    watts: float
    """The same at the circuit's voltage."""
    by_limit: tuple[tuple[str, float], ...]
    """Name of each limit in amps and what it leaves."""
    free: tuple[Node, ...]
    """Receptacles with nothing in them."""


def room_on(analysis: Analysis, circuit: Circuit) -> RoomLeft:
    """Amps and watts that a circuit has left, and its free receptacles."""
    left = room(circuit, profile(analysis.build.region), analysis.power)
    by_limit = [
        (one.binding, one.amps)
        for one in rooms(circuit, profile(analysis.build.region), analysis.power)
    ]
    by_limit += [
        (one.name, max(one.limit - one.value, 0.0))
        for one in circuit.limits
        if one.name in _TOLD_ONLY
    ]
    return RoomLeft(
        circuit.key,
        left,
        left.amps * circuit.voltage_v,
        tuple(by_limit),
        tuple(_free(analysis, circuit)),
    )


def additions(analysis: Analysis, circuit: Circuit) -> tuple[Addition, ...]:
    """Stock that can be plugged into a circuit as it is, the largest first.

    Held against the circuit's room, the one-appliance rule of its receptacles, the continuous
    factor for what runs for hours, the plug and the voltage; every limit of the whole build is
    counted anew when it is placed.
    """
    if any(one.name == "own circuit" for one in circuit.limits):
        return ()  # what is on it wants it for itself
    found = []
    free = list(_free(analysis, circuit))
    left = room(circuit, profile(analysis.build.region), analysis.power).amps
    for entry in stock():
        if entry.regions and analysis.build.region not in entry.regions:
            continue
        one = _tried(analysis, circuit, entry, free, left)
        if one is not None:
            found.append(one)
    return tuple(sorted(found, key=lambda one: (-one.amps, one.entry.name)))


def _tried(
    analysis: Analysis, circuit: Circuit, entry: StockEntry, free: list[Node], left_a: float
) -> Addition | None:
    specification = entry.specification
    role = specification.electrical if specification is not None else None
    if (
        specification is None
        or not isinstance(role, Load)
        or (role.needs_own_circuit and circuit.loads)
    ):
        return None
    plug = next(
        (p.connector for p in specification.ports if p.medium == "power" and p.direction == "in"),
        None,
    )
    if plug is None:
        return None
    rules = profile(analysis.build.region)
    for node in free:
        item = analysis.build.item(node[0])
        port = item.specification.port(node[1]) if item is not None else None
        if port is None or not plug_fits(plug, port.connector):
            continue
        volts = _volts(circuit, port.connector)
        if not _LEAST_V * role.voltage.si <= volts <= _MOST_V * role.voltage.si:
            continue
        amps = line_amps(role, load_model(role), volts)
        if _fits(analysis, circuit, rules, role, node, amps, left_a):
            used = circuit.amps.get(EVERYTHING_ON, 0.0)
            share = (used + amps) / circuit.rating_a if circuit.rating_a else 0.0
            return Addition(entry, amps, share, node)
    return None


def _fits(
    analysis: Analysis,
    circuit: Circuit,
    rules: Profile,
    role: Load,
    node: Node,
    amps: float,
    left_a: float,
) -> bool:
    """Room by `room` is for what runs for hours; what does not may take the total instead."""
    factor = rules.continuous_factor.value if rules.continuous_factor is not None else 1.0
    total = circuit.rating_a - circuit.amps.get(EVERYTHING_ON, 0.0)
    longer = is_continuous_load(analysis.build, role, rules)
    counted = next((one.value for one in circuit.limits if one.name == "continuous"), None)
    spare = total if counted is None else min(total, circuit.rating_a - counted)
    most = min(left_a, spare / factor) if longer else min(spare, max(left_a, 0.0) * factor)
    if amps > min(most, room_behind(analysis, circuit, node[0])) * _ROUNDING:
        return False
    rating_a = receptacle_rating_a({item.id: item for item in analysis.build.items}, node)
    row = rules.receptacle_load(circuit.rating_a, rating_a) if rating_a is not None else None
    share = rules.one_appliance_share
    limit = row.greatest_load_a if row is not None else None
    if limit is None and share is not None and circuit.rating_a <= 30.0:
        limit = share.value * circuit.rating_a
    return limit is None or role.fastened or amps <= limit * _ROUNDING


def room_behind(analysis: Analysis, circuit: Circuit, item_id: str) -> float:
    """Amps that strips, extension cords, their cords and plugs leave on the way to an item.

    Infinite for what offers the circuit's own receptacles.
    """
    power, left, at = analysis.power, math.inf, item_id
    ahead: set[str] = set()
    while at not in circuit.items and at not in ahead and at in power.fed_from:
        ahead.add(at)
        for key, one in power.limits:
            of_item = key == at and one.name in ("strip", "extension", "plug")
            if of_item or (one.name == "cord" and one.items == (at,)):
                left = min(left, one.limit - one.value)
        host = power.fed_from[at]
        left = min(left, _receptacle_room(analysis, circuit, at, host))
        at = host
    return max(left, 0.0)


def _receptacle_room(analysis: Analysis, circuit: Circuit, item_id: str, host: str) -> float:
    """What is left of the receptacle that an item is plugged into."""
    items = {item.id: item for item in analysis.build.items}
    rules = profile(analysis.build.region)
    for wire in analysis.build.wires:
        ends = [(end.item, end.port) for end in (wire.a, wire.b) if end is not None]
        node = next((end for end in ends if end in analysis.power.receptacle_amps), None)
        if node is None or node[0] != host or item_id not in (end[0] for end in ends):
            continue
        rating_a = receptacle_rating_a(items, node)
        if rating_a is None:
            return math.inf
        row = rules.receptacle_load(circuit.rating_a, rating_a) if host in circuit.items else None
        limit_a = rating_a if row is None else min(rating_a, row.greatest_load_a)
        return limit_a - analysis.power.receptacle_amps[node]
    return math.inf


def _volts(circuit: Circuit, connector_key: str) -> float:
    """Between the contacts of a receptacle: a leg and the neutral, or two legs."""
    connector = power_connector(connector_key)
    live = sum(1 for pole in connector.poles if pole.startswith("L")) if connector else 1
    if len(circuit.legs) > 1 and live < 2:
        system: System = "split-phase" if len(circuit.legs) == 2 else "three-phase"
        return abs(conductor_set(system, circuit.voltage_v).volts[0])
    return circuit.voltage_v


def _free(analysis: Analysis, circuit: Circuit) -> Iterator[Node]:
    """Receptacles of a circuit, and of strips and cords on it, with nothing in them."""
    build, power = analysis.build, analysis.power
    taken = {(end.item, end.port) for wire in build.wires for end in (wire.a, wire.b) if end}
    for item in build.items:
        role = item.specification.electrical
        branches = getattr(role, "branches", None)
        own = item.id in circuit.items
        if not own and power.item_circuit.get(item.id) != circuit.key:
            continue
        ports = None
        if branches is not None:
            if not own:
                continue
            ports = {
                port
                for branch in branches
                if circuit.key == f"{item.id}/{branch.name}"
                for port in branch.ports
            }
        for node in receptacles_of(item):
            if node not in taken and (ports is None or node[1] in ports):
                yield node
