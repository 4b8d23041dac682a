"""The supply side falls into islands that no tube joins: each is solved for itself, once.

A cart with two tanks has two islands, a hall of stands has dozens. Water in one
knows nothing of the others, so a case that opens a tap here leaves every other
island as it is, and moving a tube here solves this one alone.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from ..build import Build, Gauge, Item, TubeRun
from ..network.results import Network, Node
from . import parts
from .cases import Case, Solved, solve_case
from .duty import Duty
from .hydraulics import Characteristic, Key, Start, State, laid_together
from .ladder import Ways
from .model import Model, TapPlace, make_model
from .pump_results import Plan, PumpDuty, Suction, Surge
from .results import LadderStep, RunState
from .statics import tube_statics
from .suction import suction
from .supply_results import TubeStatic
from .surge import Lines
from .tap_state import is_fed, tap_state
from .together import Meeting, Together
from .window import Line, Supply, supplies

Taps = frozenset[Key]
Starts = dict[Taps, tuple[Start, Start]]


@dataclass(frozen=True, slots=True)
class Part:
    """Items joined by supply tubes, and these tubes, in the order of the build."""

    items: tuple[Item, ...]
    tubes: tuple[TubeRun, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """An island in one case: at rest the greatest pressures, with water flowing the least."""

    pressures_pa: dict[Node, float] = field(default_factory=dict)
    runs: dict[str, RunState] = field(default_factory=dict)
    source_flow: dict[str, float] = field(default_factory=dict)

    def alike(self, other: "Told") -> bool:
        """Whether the same places, tubes and sources are told of."""
        return (
            self.pressures_pa.keys() == other.pressures_pa.keys()
            and self.runs.keys() == other.runs.keys()
            and self.source_flow.keys() == other.source_flow.keys()
        )


def split(build: Build, network: Network) -> Iterator[Part]:
    """The islands of a build, in the order of their first items."""
    supply = network.supply
    watery = {
        item.id: item
        for item in build.items
        if item.specification.water is not None
        or any(port.medium == "water" for port in item.specification.ports)
    }
    group = {item_id: item_id for item_id in watery}

    def root(item_id: str) -> str:
        while group[item_id] != item_id:
            group[item_id] = group[group[item_id]]
            item_id = group[item_id]
        return item_id

    tubes = [
        run
        for run in build.tubes
        if run.b is not None
        and supply.has_edge((run.a.item, run.a.port), (run.b.item, run.b.port), run.id)
    ]
    for run in tubes:
        if run.b is not None:
            group[root(run.b.item)] = root(run.a.item)
    items: dict[str, list[Item]] = {}
    for item_id, item in watery.items():
        items.setdefault(root(item_id), []).append(item)
    runs: dict[str, list[TubeRun]] = {}
    for run in tubes:
        runs.setdefault(root(run.a.item), []).append(run)
    for key, members in items.items():
        yield Part(tuple(members), tuple(runs.get(key, ())))


def reads(build: Build, network: Network, part: Part) -> tuple[Any, ...]:
    """Everything that an island depends on, in an order that can be compared.

    An appliance that no tube touches can be dragged about without changing any of it.
    """
    supply, heights, routes = network.supply, network.heights_m, network.routes
    read: list[Any] = [build.venue]
    for item in part.items:
        read += (item.id, item.specification, item.fill, item.name)
        for port in item.specification.ports:
            if port.medium == "water":
                node = (item.id, port.id)
                read.append(heights.get(node) if supply.degree(node) else None)
    for run in part.tubes:
        read += (run, parts.length_m(run, routes.get(run.id)))
    return tuple(read)


@dataclass(frozen=True, slots=True)
class PumpSide:
    """What an island's pumps and valves have to put up with."""

    duties: tuple[PumpDuty, ...] = ()
    suctions: tuple[Suction, ...] = ()
    surges: tuple[Surge, ...] = ()


class Island:
    """One island, solved for every set of open taps that is asked for, and no more."""

    def __init__(
        self,
        build: Build,
        network: Network,
        part: Part,
        read: tuple[Any, ...],
        starts: Starts | None = None,
    ) -> None:
        self.read = read
        self.glance: tuple[object, ...] = ()
        """What is compared first of another build's island."""
        self.model: Model = make_model(build, network, part.items)
        self.taps: Taps = frozenset(tap.node for tap in self.model.taps)
        self._starts = starts or {}
        self._solved: dict[Taps, Solved] = {}
        self._told: dict[Taps, Told] = {}
        self._names = {item.id: item.name for item in part.items}
        self._names |= {run.id: run.tube.name for run in part.tubes}
        self._bores = [
            (run.id, 0.25 * math.pi * run.tube.bore.si**2, self.model.sketch.lines[run.id][2])
            for run in part.tubes
            if run.id in self.model.sketch.lines
        ]
        self.gives = {*self.model.sources, *(pump.item.id for pump in self.model.pumps)}
        """Ids of what water comes from: tanks, mains taps, pumps."""
        self.gauges = tuple(
            item.id for item in part.items if isinstance(item.specification.water, Gauge)
        )
        self._leaving = self._ways_out()
        self._ladders = Ways(self.model, self._names)
        self._items = {item.id: item for item in part.items}
        self._tubes = part.tubes
        self._network = network
        self._duties = [Duty(self._items, network, self.model, pump) for pump in self.model.pumps]
        self._pump_side: tuple[object, PumpSide] | None = None
        self._together: tuple[object, Together] | None = None
        self._statics: tuple[TubeStatic, ...] | None = None
        self._supplies: tuple[object, tuple[Supply, ...]] | None = None
        self.pumps = tuple(duty.state for duty in self._duties)

    def holds(self, item_id: str) -> bool:
        """Whether an item is part of it."""
        return item_id in self._items

    @property
    def starts(self) -> Starts:
        """What the solutions of a similar island may start from."""
        return {taps: (one.high.start, one.low.start) for taps, one in self._solved.items()}

    def solved(self, open_taps: Taps) -> Solved:
        """The island with these of its taps open."""
        found = self._solved.get(open_taps)
        if found is None:
            found = self._solved[open_taps] = solve_case(
                self.model, Case("", open_taps), self._start(open_taps)
            )
        return found

    def _start(self, open_taps: Taps) -> tuple[Start | None, Start | None]:
        """From the same taps of a similar island; for two taps, from both alone laid together."""
        known = self._starts.get(open_taps)
        if known is not None:
            return known
        if len(open_taps) == 2:
            a, b = (self._solved.get(frozenset({tap})) for tap in open_taps)
            if a is not None and b is not None:
                return laid_together(a.high, b.high), laid_together(a.low, b.low)
        return None, None

    def fastest(self, cases: Iterable[Taps]) -> dict[str, float]:
        """Tube id to the greatest velocity in these cases [m/s]."""
        fastest: dict[str, float] = {}
        for taps in cases:
            for run_id, state in self.told(taps).runs.items():
                if state.velocity_m_s > fastest.get(run_id, 0.0):
                    fastest[run_id] = state.velocity_m_s
        return fastest

    def told(self, open_taps: Taps) -> Told:
        """The same in items and runs; nothing where it did not converge."""
        told = self._told.get(open_taps)
        if told is None:
            told = self._told[open_taps] = self._tell(self.solved(open_taps))
        return told

    def pump_side(
        self, cases: tuple[tuple[str, Taps], ...], names: dict[Node, str], plan: Plan
    ) -> PumpSide:
        """Duty and suction of its pumps, and the knock of its taps, over some cases."""
        asked = (cases, tuple(names.get(tap.node, "") for tap in self.model.taps), plan)
        if self._pump_side is None or self._pump_side[0] != asked:
            self._pump_side = asked, self._pump_side_of(cases, names, plan)
        return self._pump_side[1]

    def _pump_side_of(
        self, cases: tuple[tuple[str, Taps], ...], names: dict[Node, str], plan: Plan
    ) -> PumpSide:
        solved = [(name, self.solved(opened)) for name, opened in cases]
        model, items, network = self.model, self._items, self._network
        static = self.solved(frozenset()).high.pressures_pa
        suctions = (
            suction(items, network, model, pump, [one for _, one in solved], plan)
            for pump in model.pumps
        )
        lines = Lines(items, network, model, static)
        knocks = (
            lines.surge(
                replace(tap, name=names.get(tap.node, tap.name)),
                self.solved(frozenset({tap.node})),
            )
            for tap in model.taps
            if tap.node in static
        )
        return PumpSide(
            duties=tuple(duty.told(solved, names, plan) for duty in self._duties),
            suctions=tuple(one for one in suctions if one is not None),
            surges=tuple(one for one in knocks if one is not None),
        )

    def together(self, taps: tuple[TapPlace, ...], cases: tuple[tuple[str, Taps], ...]) -> Together:
        """What its taps do to each other.

        Args:
            taps: its own, by the names they have in the whole build.
            cases: that open any of them.
        """
        asked = tuple(tap.name for tap in taps), cases
        if self._together is None or self._together[0] != asked:
            at_rest = self.solved(frozenset())
            meeting = Meeting(
                [tap for tap in taps if is_fed(tap, at_rest)],
                lambda tap, opened: tap_state(tap, self.solved(opened), True),
                self._is_steady,
            )
            self._together = asked, meeting.told(cases)
        return self._together[1]

    def _is_steady(self, opened: Taps) -> bool:
        low = self.solved(opened).low
        return all(low.modes.get(pump.item.id) == "holding" for pump in self.model.pumps)

    @property
    def statics(self) -> tuple[TubeStatic, ...]:
        """How high each of its tubes goes."""
        if self._statics is None:
            pressures = self.solved(frozenset()).high.pressures_pa
            self._statics = tuple(tube_statics(self.model, self._tubes, pressures))
        return self._statics

    def supplies(
        self, names: Mapping[Node, str], cases: tuple[tuple[str, Taps, bool], ...]
    ) -> tuple[Supply, ...]:
        """Its pumps and mains taps, each with what hangs on it.

        Args:
            names: of its taps in the whole build.
            cases: that open any of them; whether each is the person's own.
        """
        taps = tuple(
            tap if names[tap.node] == tap.name else replace(tap, name=names[tap.node])
            for tap in self.model.taps
            if tap.node in names
        )
        asked = tuple(tap.name for tap in taps), cases
        if self._supplies is None or self._supplies[0] != asked:
            tubes = {
                run.id: (run.tube.name, (run.a.item, run.a.port), (run.b.item, run.b.port))
                for run in self._tubes
                if run.b is not None
            }
            solved = self._solved
            line = Line(self.model, self._items, taps, self.statics, tubes, cases, solved)
            self._supplies = asked, tuple(supplies(line))
        return self._supplies[1]

    def ladder(self, tap: TapPlace, opened: Taps | None = None) -> tuple[LadderStep, ...]:
        """Who eats the pressure on the way to a tap, by default while it alone is open."""
        low = self.solved(opened or frozenset({tap.node})).low
        return self._ladders.ladder(tap, low) if low.converged else ()

    def _tell(self, solved: Solved) -> Told:
        state = solved.low
        if not (state.converged and solved.high.converged):
            return Told()
        return Told(
            pressures_pa={
                key: pressure_pa
                for key, pressure_pa in state.pressures_pa.items()
                if isinstance(key, tuple) and len(key) == 2  # no far end of a service pipe
            },
            runs={
                run_id: _run_state(state.flows.get(run_id, 0.0), area_m2, characteristic)
                for run_id, area_m2, characteristic in self._bores
            },
            source_flow=self._given(state),
        )

    def _ways_out(self) -> dict[str, list[tuple[Key, float]]]:
        """Links and taps at the nodes of every source, with the sign that means outwards."""
        sketch = self.model.sketch
        root = sketch.root
        owner = {root(key): item for item, keys in self.model.sources.items() for key in keys}
        leaving: dict[str, list[tuple[Key, float]]] = {item: [] for item in owner.values()}
        ends = [(key, a, b) for key, (a, b, _) in sketch.lines.items()]
        ends += [(key, a, b) for key, (a, b, _) in sketch.limiters.items()]
        for key, a, b in ends:
            for node, sign in ((root(a), 1.0), (root(b), -1.0)):
                if node in owner:
                    leaving[owner[node]].append((key, sign))
        for tap in self.model.taps:
            if root(tap.node) in owner:
                leaving[owner[root(tap.node)]].append((tap.node, 1.0))
        return leaving

    def _given(self, state: State) -> dict[str, float]:
        """What each source and each pump gives."""
        flows = state.flows
        given = {
            item: sum(sign * flows.get(key, 0.0) for key, sign in leaving)
            for item, leaving in self._leaving.items()
        }
        for pump in self.model.pumps:
            given[pump.item.id] = flows.get(pump.item.id, 0.0)
        return given


def find_islands(build: Build, network: Network, previous: tuple[Island, ...]) -> list[Island]:
    """The islands of a build; those that are as they were are taken over, solutions and all."""
    known = {island.read[1]: island for island in previous}
    found = []
    for part in split(build, network):
        quick = _at_a_glance(build, network, part)
        old = known.get(part.items[0].id)
        if old is None or old.glance != quick:
            read = reads(build, network, part)
            if old is None or not same(old.read, read):
                old = Island(build, network, part, read, old.starts if old is not None else None)
            old.glance = quick
        found.append(old)
    return found


def _at_a_glance(build: Build, network: Network, part: Part) -> tuple[object, ...]:
    """Enough to know that an island is as it was; mostly these are the same objects."""
    routes = network.routes
    lengths = tuple(
        route.length_m for run in part.tubes if (route := routes.get(run.id)) is not None
    )
    return build.venue, build.cart, part.items, part.tubes, lengths


def same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    """Whether two lists of what was read are alike."""
    return len(old) == len(new) and all(a is b or a == b for a, b in zip(old, new, strict=True))


def _run_state(flow: float, area_m2: float, characteristic: Characteristic) -> RunState:
    if flow == 0.0:
        return RunState(0.0, 0.0, 0.0)
    return RunState(flow, abs(flow) / area_m2, abs(characteristic.loss(flow)[0]))
