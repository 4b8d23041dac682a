"""The one call of the water side: a Build and its network in, every tap in every case out."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from ..build import Build
from ..network.results import Network, Node
from .balance import water_balance
from .cases import Case, Solved, cases
from .drains import DrainSide, drain_side
from .elements import ElementSide, Uses, element_side
from .gauges import gauge_states
from .islands import Island, PumpSide, Taps, find_islands
from .mixing import warmer_taps, warmer_tubes
from .model import TapPlace
from .pump_results import Plan
from .results import ALL_SHUT, CaseState, Tap, TapState, Trouble, WaterResult
from .surge import warmer_surges
from .tap_state import is_fed, tap_state
from .telling import Told

K = TypeVar("K")
V = TypeVar("V")


def solve_water(build: Build, network: Network, previous: WaterResult | None = None) -> WaterResult:
    """Solve the supply side of a build for every case. Never raises on a build that loads.

    Args:
        build: Any build.
        network: Made from it.
        previous: An earlier result. It is handed back where nothing that water
            depends on has changed. Where something has, it lends the islands that
            are as they were, and its flows as a start for the others.
    """
    before = previous.islands if previous is not None else ()
    islands = find_islands(build, network, before)
    balance = water_balance(build, network, previous.balance if previous is not None else None)
    plan = build.service
    planned = (
        plan.drinks_per_hour,
        plan.water_per_drink.si,
        plan.rinse_per_drink.si,
        plan.hours.si,
    )
    reads = (
        (build.cases, planned),
        tuple(item.id for item in build.items if item.specification.water),
    )
    if (
        previous is not None
        and len(islands) == len(before)
        and all(old is new for old, new in zip(before, islands, strict=True))
        and previous.reads[0] == reads[0]
        and previous.reads[1] == reads[1]
    ):
        gauges = gauge_states(build, islands, previous.opened)
        arriving = _arriving(islands, previous.opened)
        side = drain_side(build, network, arriving, previous.drain_side)
        if (
            side is previous.drain_side
            and previous.balance == balance
            and previous.gauges == gauges
        ):
            return previous
        return _drained(replace(previous, balance=balance, gauges=gauges), side)
    taps = _named(build, islands)
    wanted = [_Wanted(case, islands) for case in cases(build, [tap for tap, _ in taps])]
    lent = _Lent(previous, islands, wanted)
    merged = {one.case.name: _merged(one, lent) for one in wanted}
    sides = _pump_sides(build, islands, wanted, {tap.node: tap.name for tap, _ in taps})
    elements = _element_sides(build, islands, wanted)
    mixed_k = _all({}, (one.mix.tubes_k for one in elements))
    opened = tuple((one.case.name, one.case.open_taps) for one in wanted)
    side = drain_side(
        build,
        network,
        _arriving(islands, opened),
        previous.drain_side if previous is not None else None,
    )
    made = WaterResult(
        taps=warmer_taps(
            tuple(lent.tap(tap) or _tap(tap, island, wanted) for tap, island in taps),
            _all({}, (one.mix.taps_k for one in elements)),
        ),
        cases=merged,
        statics=warmer_tubes(
            tuple(one for island in islands for one in island.statics), mixed_k, build.tubes
        ),
        pumps=tuple(pump for island in islands for pump in island.pumps),
        duties=tuple(one for side in sides for one in side.duties),
        suctions=tuple(one for side in sides for one in side.suctions),
        surges=warmer_surges(
            tuple(one for side in sides for one in side.surges), mixed_k, build.tubes
        ),
        heaters=tuple(one for side in elements for one in side.heaters),
        filters=tuple(one for side in elements for one in side.filters),
        regulators=tuple(one for side in elements for one in side.regulators),
        temperatures_k=_all(mixed_k, (island.model.temperatures_k for island in islands)),
        gauges=gauge_states(build, islands, opened),
        balance=balance,
        troubles=tuple(_troubles(islands, wanted)),
        fastest=_fastest(islands, wanted),
        reads=reads,
        islands=tuple(islands),
        opened=opened,
    )
    return _drained(made, side)


def _drained(result: WaterResult, side: DrainSide) -> WaterResult:
    """A result with everything about its drains."""
    return replace(
        result,
        drains=side.drains,
        drain_pumps=side.pumps,
        air_gaps=side.air_gaps,
        drain_side=side,
    )


def _arriving(
    islands: list[Island], opened: tuple[tuple[str, Taps], ...]
) -> dict[str, dict[Node, float]]:
    """Case name to the flow through each open inlet, where the sources push hardest."""
    arriving: dict[str, dict[Node, float]] = {}
    for name, taps in opened:
        flows: dict[Node, float] = {}
        for island in islands:
            here = taps & island.taps
            state = island.solved(here).high if here else None
            if state is not None and state.converged:
                flows |= {
                    tap.node: max(state.flows.get(tap.node, 0.0), 0.0)
                    for tap in island.model.taps
                    if tap.node in here
                }
        if flows:
            arriving[name] = flows
    return arriving


class _Wanted:
    """A case with what every island has open in it."""

    def __init__(self, case: Case, islands: list[Island]) -> None:
        self.case = case
        self.opened: list[tuple[Island, Taps]] = [
            (island, case.open_taps & island.taps) for island in islands
        ]

    def solved(self) -> list[Solved]:
        """All islands in this case."""
        return [island.solved(opened) for island, opened in self.opened]


class _Lent:
    """What an earlier result lends to one with the same cases, island by island."""

    def __init__(
        self, previous: WaterResult | None, islands: list[Island], wanted: list[_Wanted]
    ) -> None:
        opened = tuple((one.case.name, one.case.open_taps) for one in wanted)
        self.changed: list[tuple[Island, Island]] = []
        self._cases: dict[str, CaseState] = {}
        self._taps: dict[tuple[str, str], Tap] = {}
        if previous is None or previous.opened != opened:
            return
        if len(previous.islands) != len(islands):
            return
        pairs = list(zip(previous.islands, islands, strict=True))
        if any(old.taps != new.taps for old, new in pairs):
            return
        self.changed = [(old, new) for old, new in pairs if old is not new]
        self._cases = previous.cases
        anew = {new.read[1] for _, new in self.changed}
        kept = {
            tap.node
            for island in islands
            if island.read[1] not in anew
            for tap in island.model.taps
        }
        self._taps = {
            (tap.item, tap.port): tap for tap in previous.taps if (tap.item, tap.port) in kept
        }

    def tap(self, place: TapPlace) -> Tap | None:
        """A tap of an island that is as it was."""
        tap = self._taps.get(place.node)
        return tap if tap is not None and tap.name == place.name else None

    def case(self, case: Case) -> tuple[CaseState, list[Told]] | None:
        """The earlier state of a case, and what in it is told anew; None where more changed."""
        state = self._cases.get(case.name)
        if state is None or not state.converged:
            return None
        told = []
        for old, new in self.changed:
            opened = case.open_taps & new.taps
            before, after = old.told(opened), new.told(opened)
            if not before.alike(after):
                return None
            told.append(after)
        return state, told


def _pump_sides(
    build: Build, islands: list[Island], wanted: list[_Wanted], names: dict[Node, str]
) -> list[PumpSide]:
    """Pumps and knocks, island by island; cases that open nothing in one are told once."""
    service = build.service
    drink, rinse = max(service.water_per_drink.si, 0.0), max(service.rinse_per_drink.si, 0.0)
    plan = Plan(max(service.drinks_per_hour, 0.0) * (drink + rinse), drink, rinse)
    sides = []
    for at, island in enumerate(islands):
        cases: dict[str, Taps] = {}
        for one in wanted:
            opened = one.opened[at][1]
            if opened or one.case.name == ALL_SHUT:
                cases[one.case.name] = opened
        sides.append(island.pump_side(tuple(cases.items()), names, plan))
    return sides


def _element_sides(build: Build, islands: list[Island], wanted: list[_Wanted]) -> list[ElementSide]:
    """Heaters, filters and regulators, island by island."""
    uses = Uses(build)
    sides = []
    for at, island in enumerate(islands):
        if not island.model.passed:
            continue
        opened = {
            one.case.name: one.opened[at][1]
            for one in wanted
            if one.opened[at][1] or one.case.name == ALL_SHUT
        }
        cases = [(name, island.solved(taps)) for name, taps in opened.items()]
        sides.append(element_side(island.model, cases, uses))
    return sides


def _named(build: Build, islands: list[Island]) -> list[tuple[TapPlace, Island]]:
    """Every tap in the order of the build, by a name that no other has."""
    order = {item.id: at for at, item in enumerate(build.items)}
    found = [(tap, island) for island in islands for tap in island.model.taps]
    found.sort(key=lambda one: order[one[0].item.id])
    inlets: dict[str, int] = {}
    for tap, _ in found:
        inlets[tap.item.id] = inlets.get(tap.item.id, 0) + 1
    taken: dict[str, int] = {}
    named = []
    for tap, island in found:
        name = tap.name if inlets[tap.item.id] == 1 else f"{tap.name} {tap.inlet.port}"
        taken[name] = taken.get(name, 0) + 1
        if taken[name] > 1:
            name = f"{name} ({taken[name]})"
        named.append((tap if tap.name == name else replace(tap, name=name), island))
    return named


def _merged(wanted: _Wanted, lent: _Lent) -> CaseState:
    """A case of the whole build, put together from its islands."""
    name = wanted.case.name
    solved = wanted.solved()
    iterations = max((max(one.high.iterations, one.low.iterations) for one in solved), default=0)
    imbalance = max((max(one.high.imbalance, one.low.imbalance) for one in solved), default=0.0)
    if not all(one.low.converged and one.high.converged for one in solved):
        return CaseState(name, False, iterations, imbalance)
    found = lent.case(wanted.case)
    if found is None:
        start = CaseState(name, True, 0, 0.0)
        told = [island.told(opened) for island, opened in wanted.opened]
    else:
        start, told = found
    return CaseState(
        name=name,
        converged=True,
        iterations=iterations,
        worst_imbalance=imbalance,
        pressures_pa=_all(start.pressures_pa, (one.pressures_pa for one in told)),
        runs=_all(start.runs, (one.runs for one in told)),
        source_flow=_all(start.source_flow, (one.source_flow for one in told)),
    )


def _fastest(islands: list[Island], wanted: list[_Wanted]) -> dict[str, float]:
    asked: list[dict[Taps, None]] = [{} for _ in islands]  # in order, so that ties stay as they are
    for one in wanted:
        for sets, (_, opened) in zip(asked, one.opened, strict=True):
            sets[opened] = None
    return _all({}, (island.fastest(sets) for island, sets in zip(islands, asked, strict=True)))


def _all(start: Mapping[K, V], parts: Iterable[Mapping[K, V]]) -> dict[K, V]:
    whole = dict(start)
    for part in parts:
        whole.update(part)
    return whole


def _tap(place: TapPlace, island: Island, wanted: list[_Wanted]) -> Tap:
    inlet = place.inlet
    at_rest = island.solved(frozenset())
    static_pa = at_rest.high.pressures_pa.get(place.node, 0.0)
    fed = is_fed(place, at_rest)
    made: dict[Taps, TapState] = {}
    states = {}
    for one in wanted:
        opened = one.case.open_taps & island.taps
        if opened not in made:
            made[opened] = tap_state(place, island.solved(opened), fed)
        states[one.case.name] = made[opened]
    return Tap(
        item=place.item.id,
        port=inlet.port,
        name=place.name,
        fed=fed,
        least_pa=inlet.least_pressure.si,
        greatest_pa=inlet.greatest_pressure.si,
        required_flow=inlet.required_flow.si,
        static_pa=static_pa if fed else 0.0,
        states=states,
        ladder=island.ladder(place) if fed else (),
        assumed=place.assumed,
        temperature_k=island.model.warm_nodes_k.get(place.node, island.model.temperature_k),
    )


def _troubles(islands: list[Island], wanted: list[_Wanted]) -> Iterator[Trouble]:
    """What could not be solved as drawn, and pumps that cannot draw what they would give."""
    for island in islands:
        yield from island.model.troubles
    failed: dict[str, None] = {}
    items: dict[str, None] = {}
    starved: set[str] = set()
    for one in wanted:
        for (island, _), solved in zip(one.opened, one.solved(), strict=True):
            starved |= solved.starved
            if not (solved.high.converged and solved.low.converged):
                failed[one.case.name] = None
                items |= dict.fromkeys(tap.item.id for tap in island.model.taps)
    if failed:
        yield Trouble("not converged", tuple(items), (), ", ".join(failed))
    for pump in sorted(starved):
        yield Trouble("starved", (pump,))
    if not any(island.model.sources for island in islands):
        thirsty = dict.fromkeys(tap.item.id for island in islands for tap in island.model.taps)
        if thirsty:
            yield Trouble("no source", tuple(thirsty))
