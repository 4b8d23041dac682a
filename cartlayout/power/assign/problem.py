"""Which plug can go where, and what each way would cost: a build as an assignment problem.

Receptacles of one kind on one host are alike, so what is chosen is a place (a group of them) for
each load, not a hole. What a load would add to every breaker, strip, cord and supply on its way is
known beforehand for each place, because a limit counts amps at the supply's own voltage
(`power.totals`); so the sums are linear in the choice.
"""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, replace

from ...build import (
    Battery,
    Box,
    Build,
    Extension,
    Generator,
    Item,
    Load,
    Outlet,
    Port,
    Strip,
    Wire,
)
from ...build.geometry import port_position
from ...limits import Profile, plug_fits, power_connector, profile
from ...network.results import Network, Node
from ..circuits import CircuitDraft
from ..equipment_check import cord_rating
from ..limits_check import is_continuous_load, receptacle_rating_a
from ..loads import a_third, load_model
from ..placed import Here, PowerTree
from ..supplies import derated_share, leg_limit_a, most_behind_w
from ..tree import connection, make_tree, narrowed, third_pairs

_ROOT_3 = math.sqrt(3)
_SLACK = 1.01
"""As the finding that a cord is too short allows: lengths are rounded."""
REACH = "reach"
"""What a way breaks for which the cord is too short."""
RowKey = tuple[str, str, str]
"""(what is limited, its key, the conductor or "W" or "continuous" and the conductor)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Receptacles that are alike: on one host, of one connector, behind one breaker."""

    host: str
    circuit: str
    connector: str
    nodes: tuple[Node, ...]
    at_m: tuple[float, float, float]
    extra: bool = False
    """Of a circuit that is not there: what one would have to ask for."""


@dataclass(frozen=True, slots=True)
class Row:
    """A sum that must not exceed its limit."""

    key: RowKey
    limit: float
    shares: bool
    """Counts for the peak share: a circuit's own total, not a rule beside it."""


@dataclass(frozen=True, slots=True)
class Way:
    """One load in one place."""

    load: int
    place: int
    adds: tuple[tuple[int, float], ...]
    """(row, amps or watts)."""
    breaks: tuple[str, ...]
    """Rules between this load and this place alone that it would break."""
    cord_m: float


@dataclass(frozen=True, slots=True)
class Placeable:
    """A load with a plug."""

    item: str
    name: str
    plug: Node
    wire: str | None
    now: int | None
    """Index of the place it is in."""
    receptacle: Node | None
    """That it is in."""
    alone: bool
    """Its maker asks for a circuit that feeds nothing else."""
    rated_a: float
    rated_v: float


@dataclass(slots=True)
class Problem:
    """What the optimiser reads."""

    loads: list[Placeable] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    fixed: list[float] = field(default_factory=list)
    """What loads that stay put add to each row."""
    ways: list[Way] = field(default_factory=list)
    legs: list[tuple[int, ...]] = field(default_factory=list)
    """Rows of the legs of one supply, to be evened."""
    kept: tuple[str, ...] = ()
    """Ids of loads that stay where they are."""
    alone_kept: frozenset[str] = frozenset()
    """Circuits that a load which stays put wants for itself."""
    used_kept: frozenset[str] = frozenset()
    """Circuits that loads which stay put are on."""


def barred(problem: Problem, ways: Collection[tuple[str, str]]) -> Problem:
    """The problem with some ways counted as too far for their cords.

    Args:
        problem: what is to be solved again.
        ways: (item id of a load, id of a host that its cord does not reach).
    """
    return replace(
        problem,
        ways=[
            replace(way, breaks=(*way.breaks, REACH))
            if (problem.loads[way.load].item, problem.places[way.place].host) in ways
            and REACH not in way.breaks
            else way
            for way in problem.ways
        ],
    )


def make_problem(build: Build, network: Network) -> Problem:
    """A build's movable loads, where each could go, and every limit on the way."""
    return _Maker(build, network).make()


class _Maker:
    def __init__(self, build: Build, network: Network) -> None:
        self.build = build
        self.rules: Profile = profile(build.region)
        self.tree: PowerTree = make_tree(build, network, self.rules)
        self.problem = Problem()
        self.rows: dict[RowKey, int] = {}
        self.by_meter: dict[int, CircuitDraft] = {
            draft.meter: draft for draft in self.tree.circuits if draft.meter >= 0
        }
        self.taken = {
            (end.item, end.port): wire
            for wire in build.wires
            for end in (wire.a, wire.b)
            if end is not None
        }

    def make(self) -> Problem:
        movable = list(self._movable())
        moving = {plug: wire for _, _, plug, wire in movable}
        freed = {node for node, wire in self.taken.items() if wire.id in set(moving.values())}
        self._places(freed)
        where = {node: at for at, place in enumerate(self.problem.places) for node in place.nodes}
        for item, role, plug, wire_id in movable:
            self._load(item, role, plug, wire_id, where)
        self._keep({item.id for item, _, _, _ in movable})
        self._pair_legs()
        return self.problem

    # --- loads -------------------------------------------------------------------------------

    def _movable(self) -> Iterator[tuple[Item, Load, Node, str | None]]:
        for item in self.build.items:
            role = item.specification.electrical
            if not isinstance(role, Load) or item.locked or role.hardwired:
                continue
            plugs = [p for p in item.specification.ports if _is_plug(p)]
            if len(plugs) != 1:
                continue
            plug = (item.id, plugs[0].id)
            wire = self.taken.get(plug)
            if role.fastened and wire is not None:
                continue  # fixed beside the outlet that was chosen for it
            yield item, role, plug, wire.id if wire is not None else None

    def _load(
        self, item: Item, role: Load, plug: Node, wire: str | None, where: dict[Node, int]
    ) -> None:
        port = item.specification.port(plug[1])
        assert port is not None
        index = len(self.problem.loads)
        now, node = None, None
        if wire is not None:
            run = self.taken[plug]
            ends = [(end.item, end.port) for end in (run.a, run.b) if end is not None]
            node = next((end for end in ends if end in where), None)
            now = where[node] if node is not None else None
        model = load_model(role)
        self.problem.loads.append(
            Placeable(
                item.id,
                item.name,
                plug,
                wire,
                now,
                node,
                role.needs_own_circuit,
                model.rated_amps,
                role.voltage.si,
            )
        )
        here_m = port_position(self.build.cart, item, port)
        for at, place in enumerate(self.problem.places):
            if plug_fits(port.connector, place.connector):
                away = sum(abs(a - b) for a, b in zip(here_m, place.at_m, strict=True))
                adds, breaks = self.adds(role, item, port, place.nodes[0])
                if not self._reaches(wire, port, here_m, place):
                    breaks = (*breaks, REACH)
                if adds is not None:
                    self.problem.ways.append(Way(index, at, adds, breaks, away))

    def _reaches(
        self, wire: str | None, plug: Port, here_m: tuple[float, float, float], place: Place
    ) -> bool:
        """Whether a cord is at least as long as the shortest way there can be, square as ways are.

        What stands in between may make the way longer: that is seen when the answer is tried.
        """
        run = self.build.run(wire) if wire is not None else None
        cord = run.cord if isinstance(run, Wire) and run.cord is not None else plug.cord
        if cord is None:
            return True  # cut to its way
        ports = [
            (self.tree.items[host], self.tree.items[host].specification.port(name))
            for host, name in place.nodes
        ]
        shortest_m = min(
            sum(
                abs(a - b)
                for a, b in zip(here_m, port_position(self.build.cart, item, port), strict=True)
            )
            for item, port in ports
            if port is not None
        )
        return shortest_m <= cord.length.si * _SLACK

    def adds(
        self, role: Load, item: Item, plug: Port, node: Node
    ) -> tuple[tuple[tuple[int, float], ...] | None, tuple[str, ...]]:
        """What a load adds to every row on its way from a receptacle, and what it breaks alone."""
        given = self.tree.items[node[0]].specification.port(node[1])
        here = self.tree.offered[node]
        if given is not None:
            here = narrowed(narrowed(here, given), plug)
        if role.phases == 3 and len(here.legs) > 2:
            star, pairs = third_pairs(here, plug.connector)
            model = load_model(a_third(role, to_neutral=star))
            part_v = abs(here.source.between(*pairs[0]))
            amps = model.governing_amps(part_v) * (1.0 if star else _ROOT_3)
            watts = 3.0 * model.watts(complex(part_v))
            volts, live = part_v * (_ROOT_3 if star else 1.0), list(here.legs[:3])
        else:
            p, q = connection(here.source, here.legs, plug.connector, role.voltage.si)
            volts = abs(here.source.between(p, q))
            model = load_model(role)
            amps, watts = model.governing_amps(volts), model.watts(complex(volts))
            live = [conductor for conductor in (p, q) if conductor != here.source.neutral]
        if volts <= 0.0:
            return None, ()
        continuous = is_continuous_load(self.build, role, self.rules)
        adds: list[tuple[int, float]] = []
        for meter in self.tree.chain(here.meter):
            adds += self._at(meter, live, amps, watts, continuous)
        return tuple(adds), tuple(self._breaks(role, node, here, amps, volts))

    def _at(
        self, meter: int, live: list[int], amps: float, watts: float, continuous: bool
    ) -> Iterator[tuple[int, float]]:
        passed = self.tree.meters[meter]
        names = passed.source.names
        limit = self._limit_a(meter)
        if limit is not None:
            shares = passed.kind in ("circuit", "supply")
            for conductor in live:
                key = (passed.kind, passed.key, names[conductor])
                yield self._row(key, limit, shares), amps
        draft = self.by_meter.get(meter)
        factor = self.rules.continuous_factor
        if draft is not None and draft.kind != "supply" and factor is not None:
            counted = amps * (factor.value if continuous else 1.0)
            for conductor in live:
                key = ("continuous", passed.key, names[conductor])
                yield self._row(key, draft.rating_a, False), counted
        most_w = self._limit_w(meter)
        if most_w is not None:
            yield self._row((passed.kind, passed.key, "W"), most_w, False), watts

    def _row(self, key: RowKey, limit: float, shares: bool) -> int:
        found = self.rows.get(key)
        if found is None:
            found = self.rows[key] = len(self.problem.rows)
            self.problem.rows.append(Row(key, limit, shares))
            self.problem.fixed.append(0.0)
        return found

    def _limit_a(self, meter: int) -> float | None:
        """Amps that a meter may carry on each conductor; None where nothing limits it."""
        passed = self.tree.meters[meter]
        if passed.kind == "circuit":
            return self.by_meter[meter].rating_a
        if passed.kind == "wire":
            placed = next((one for one in self.tree.wires if one.meter == meter), None)
            rating = cord_rating(self.build, placed) if placed is not None else None
            return rating.amps if rating is not None else None
        item = self.tree.items.get(passed.key)
        role = item.specification.electrical if item is not None else None
        if passed.kind in ("strip", "extension") and isinstance(role, (Strip, Extension)):
            return role.rating.si
        if passed.kind == "main" and isinstance(role, Box):
            return role.main.si if role.main is not None else None
        if passed.kind == "supply" and isinstance(role, Generator):
            legs = passed.source.legs
            volts = abs(passed.source.volts[legs[0]]) if legs else 0.0
            return leg_limit_a(role, self.build.venue, len(legs), volts) or None
        return None

    def _limit_w(self, meter: int) -> float | None:
        passed = self.tree.meters[meter]
        item = self.tree.items.get(passed.key)
        role = item.specification.electrical if item is not None else None
        if passed.kind == "outlet" and isinstance(role, Outlet) and role.limit is not None:
            return role.limit.si
        if passed.kind == "supply" and isinstance(role, Generator):
            return derated_share(role, self.build.venue)[0] * role.running.si
        if passed.kind == "supply" and isinstance(role, Battery):
            return min(role.running.si, most_behind_w(role))
        return None

    def _breaks(
        self, role: Load, node: Node, here: Here, amps: float, volts: float
    ) -> Iterator[str]:
        draft = self.tree.draft(here.circuit)
        if draft is not None and draft.several and not role.fastened and draft.kind != "supply":
            rating_a = receptacle_rating_a(self.tree.items, node)
            row = (
                self.rules.receptacle_load(draft.rating_a, rating_a)
                if rating_a is not None and not here.through
                else None
            )
            share = self.rules.one_appliance_share
            most = row.greatest_load_a if row is not None else None
            if most is None and share is not None and draft.rating_a <= 30.0:
                most = share.value * draft.rating_a
            if most is not None and amps > most * 1.005:
                yield "one appliance"
        low = role.lowest_voltage.si if role.lowest_voltage is not None else 0.9 * role.voltage.si
        high = (
            role.highest_voltage.si if role.highest_voltage is not None else 1.1 * role.voltage.si
        )
        if not low <= volts <= high:
            yield "voltage"

    # --- places ------------------------------------------------------------------------------

    def _places(self, freed: set[Node]) -> None:
        groups: dict[tuple[str, str, str], list[Node]] = {}
        for node, here in self.tree.offered.items():
            item = self.tree.items[node[0]]
            port = item.specification.port(node[1])
            if port is None or (node in self.taken and node not in freed):
                continue
            groups.setdefault((node[0], here.circuit, port.connector), []).append(node)
        for (host, circuit, connector), nodes in groups.items():
            item = self.tree.items[host]
            port = item.specification.port(nodes[0][1])
            assert port is not None
            at_m = port_position(self.build.cart, item, port)
            self.problem.places.append(Place(host, circuit, connector, tuple(nodes), at_m))

    def _keep(self, moved: set[str]) -> None:
        """Add what stays put."""
        kept, alone, used = [], set(), set()
        for placed in self.tree.loads:
            if placed.item.id in moved or placed.part:
                continue
            kept.append(placed.item.id)
            used.add(placed.circuit)
            if placed.load.needs_own_circuit:
                alone.add(placed.circuit)
            adds, _ = self.adds(placed.load, placed.item, placed.plug, placed.receptacle)
            for row, amount in adds or ():
                self.problem.fixed[row] += amount
        self.problem.kept = tuple(kept)
        self.problem.alone_kept, self.problem.used_kept = frozenset(alone), frozenset(used)

    def _pair_legs(self) -> None:
        """Rows that are the legs of one supply, box or two-leg circuit."""
        groups: dict[tuple[str, str], list[int]] = {}
        for at, row in enumerate(self.problem.rows):
            kind, key, conductor = row.key
            if kind in ("supply", "main") and conductor.startswith("L"):
                groups.setdefault((kind, key), []).append(at)
        self.problem.legs = [tuple(rows) for rows in groups.values() if len(rows) > 1]


def _is_plug(port: Port) -> bool:
    if port.medium != "power" or port.direction != "in":
        return False
    connector = power_connector(port.connector)
    return connector is None or connector.kind == "plug"
