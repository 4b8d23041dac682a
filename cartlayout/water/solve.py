"""The one call of the water side: a Build and its network in, every tap in every case out."""

import math

from ..build import Accumulator, Build, Regulator, TubeRun
from ..network.results import Network
from .accumulator import useful_volume_m3
from .balance import water_balance
from .cases import Solved, cases, solve_case
from .hydraulics import Characteristic, Key, State
from .ladder import Ways
from .model import Model, PumpPlace, TapPlace, make_model, reads
from .results import (
    ALL_SHUT,
    CaseState,
    PumpState,
    RunState,
    Tap,
    TapState,
    Trouble,
    WaterResult,
    alone,
)

_SLACK_PA = 20.0
"""Of a window's ends: less than any gauge shows, more than the solver's tolerance."""
_SLACK_FLOW = 1e-3
"""Share of a required flow that is no shortfall."""


def solve_water(build: Build, network: Network, previous: WaterResult | None = None) -> WaterResult:
    """Solve the supply side of a build for every case. Never raises on a build that loads.

    Args:
        build: Any build.
        network: Made from it.
        previous: An earlier result. It is handed back where nothing that water
            depends on has changed, and lends its flows as a start where something has.
    """
    read = reads(build, network)
    balance = water_balance(build, network)
    if previous is not None and _same(previous.reads, read):
        if previous.balance == balance:
            return previous
        return WaterResult(
            previous.taps,
            previous.cases,
            previous.pumps,
            balance,
            previous.troubles,
            previous.reads,
            previous.starts,
        )
    model = make_model(build, network)
    starts = previous.starts if previous is not None else {}
    solved = [
        solve_case(model, case, starts.get(case.name, (None, None))) for case in cases(build, model)
    ]
    names = {item.id: item.name for item in build.items}
    names |= {run.id: run.tube.name for run in build.tubes}
    ways = Ways(model, names)
    teller = _Teller(build, model)
    return WaterResult(
        taps=tuple(_tap(model, tap, solved, ways) for tap in model.taps),
        cases={one.case.name: teller.case(one) for one in solved},
        pumps=tuple(_pump(build, network, model, pump) for pump in model.pumps),
        balance=balance,
        troubles=(*model.troubles, *_troubles(model, solved)),
        reads=read,
        starts={one.case.name: (one.high.start, one.low.start) for one in solved},
    )


def _same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    return len(old) == len(new) and all(a is b or a == b for a, b in zip(old, new, strict=True))


def _tap(model: Model, place: TapPlace, solved: list[Solved], ways: Ways) -> Tap:
    inlet = place.inlet
    static = next(one for one in solved if one.case.name == ALL_SHUT).high
    static_pa = static.pressures_pa.get(place.node, 0.0)
    fed = place.node in static.pressures_pa and static_pa > place.outlet_pa
    by_name = {one.case.name: one for one in solved}
    low = by_name[alone(place.name)].low
    return Tap(
        item=place.item.id,
        port=inlet.port,
        name=place.name,
        fed=fed,
        least_pa=inlet.least_pressure.si,
        greatest_pa=inlet.greatest_pressure.si,
        required_flow=inlet.required_flow.si,
        static_pa=static_pa if fed else 0.0,
        states={one.case.name: _tap_state(place, one, fed) for one in solved},
        ladder=ways.ladder(place, low) if fed and low.converged else (),
        assumed=place.assumed,
    )


def _tap_state(place: TapPlace, solved: Solved, fed: bool) -> TapState:
    """A tap at the end of the range that is worse for it."""
    inlet = place.inlet
    is_open = place.node in solved.case.open_taps
    if not fed or not (solved.high.converged and solved.low.converged):
        return TapState(is_open, 0.0, 0.0, not is_open and not fed, not is_open)
    high_pa = solved.high.pressures_pa[place.node]
    not_over = high_pa <= inlet.greatest_pressure.si + _SLACK_PA
    if not is_open:
        return TapState(False, max(high_pa, 0.0), 0.0, not_over, True, high_pa, high_pa)
    low_pa = solved.low.pressures_pa[place.node]
    flow = max(solved.low.flows.get(place.node, 0.0), 0.0)
    if flow <= 0.0:
        # The line hangs below the tap: air comes in, and no suction can be measured.
        low_pa = max(low_pa, place.outlet_pa)
    enough = low_pa >= inlet.least_pressure.si - _SLACK_PA
    return TapState(
        True,
        low_pa if not_over else high_pa,
        flow,
        enough and not_over,
        flow >= inlet.required_flow.si * (1.0 - _SLACK_FLOW),
        low_pa,
        high_pa,
    )


class _Teller:
    """Tells a state of a model in items and runs; what is the same in every case is kept."""

    def __init__(self, build: Build, model: Model) -> None:
        self.model = model
        self._runs = [
            (run.id, 0.25 * math.pi * run.tube.bore.si**2, model.sketch.lines[run.id][2])
            for run in build.runs
            if isinstance(run, TubeRun) and run.id in model.sketch.lines
        ]
        self._leaving = self._ways_out()

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

    def case(self, solved: Solved) -> CaseState:
        """What the plan shows: at rest the greatest pressures, with water flowing the least."""
        state = solved.low
        name = solved.case.name
        if not (state.converged and solved.high.converged):
            return CaseState(name, False, state.iterations, state.imbalance)
        return CaseState(
            name=name,
            converged=True,
            iterations=max(solved.high.iterations, state.iterations),
            worst_imbalance=max(solved.high.imbalance, state.imbalance),
            pressures_pa={
                key: pressure_pa
                for key, pressure_pa in state.pressures_pa.items()
                if isinstance(key, tuple) and len(key) == 2  # no far end of a service pipe
            },
            runs={
                run_id: _run_state(state.flows.get(run_id, 0.0), area_m2, characteristic)
                for run_id, area_m2, characteristic in self._runs
            },
            source_flow=self._given(state),
        )

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


def _run_state(flow: float, area_m2: float, characteristic: Characteristic) -> RunState:
    if flow == 0.0:
        return RunState(0.0, 0.0, 0.0)
    return RunState(flow, abs(flow) / area_m2, abs(characteristic.loss(flow)[0]))


def _pump(build: Build, network: Network, model: Model, pump: PumpPlace) -> PumpState:
    """A pump with the vessel that its outlet reaches before any regulator."""
    cut_in, cut_out = pump.role.cut_in.si, pump.role.cut_out.si
    items = {item.id: item for item in build.items}
    supply = network.supply
    seen, queue = {pump.inlet, pump.outlet}, [pump.outlet]
    while queue:
        node = queue.pop(0)
        role = items[node[0]].specification.water if node[0] in items else None
        if isinstance(role, Accumulator):
            useful = useful_volume_m3(
                role.volume.si, role.pre_charge.si, cut_in, cut_out, model.fluid.air_pa
            )
            return PumpState(pump.item.id, cut_in, cut_out, node[0], useful)
        for _, other, data in supply.edges(node, data=True):
            within = data.get("item")
            blocked = within is not None and isinstance(within.specification.water, Regulator)
            if other not in seen and not blocked:
                seen.add(other)
                queue.append(other)
    return PumpState(pump.item.id, cut_in, cut_out, None, 0.0)


def _troubles(model: Model, solved: list[Solved]) -> list[Trouble]:
    """What could not be solved as drawn, and pumps that cannot draw what they would give."""
    troubles: list[Trouble] = []
    failed = [one.case.name for one in solved if not (one.high.converged and one.low.converged)]
    if failed:
        items = tuple(dict.fromkeys(tap.item.id for tap in model.taps))
        troubles.append(Trouble("not converged", items, (), ", ".join(failed)))
    starved = sorted({pump for one in solved for pump in one.starved})
    troubles += [Trouble("starved", (pump,)) for pump in starved]
    if model.taps and not model.sources:
        items = tuple(dict.fromkeys(tap.item.id for tap in model.taps))
        troubles.append(Trouble("no source", items))
    return troubles
