"""The power side of a build: one tree, every operating case, every limit."""

from dataclasses import replace
from typing import Any

from ..build import Battery, Build, Generator, Wire
from ..limits import Profile, profile
from ..limits.breaker_times import breaker_standard
from ..network.results import Network
from .cases import operating_cases
from .circuits import CircuitDraft
from .equipment_check import cord_rating, equipment_limits
from .leakage import leakages
from .limits_check import circuit_limits, loads_on
from .loads import load_model
from .placed import PlacedLoad, PowerTree
from .results import EVERYTHING_ON, ApplianceState, Circuit, PowerResult, WireState
from .running import Runnings, in_case
from .starts import circuit_starts
from .supplies import battery_hours, fuel_hours
from .sweep import Flow, sweep
from .totals import Totals, add_up
from .trace import PowerTrace
from .tree import make_tree
from .trip import TripBound, trip_bound


def solve_power(
    build: Build,
    network: Network,
    previous: PowerResult | None = None,
    running: Runnings | None = None,
) -> PowerResult:
    """Amps, volts and limits of every operating case. Never raises on a build that loads.

    Args:
        build: any build that loads.
        network: the graphs of that build.
        previous: an earlier result; returned as it is if nothing it read has changed.
        running: what motors take where they work, by their makers' tables.
    """
    running = running or {}
    reads = _reads(build, network, running)
    if previous is not None and _same(previous.reads, reads):
        return previous
    rules = profile(build.region)
    tree = make_tree(build, network, rules, running)
    cases = operating_cases(build, tree, running)
    loads = {name: _loads(tree, running, name) for name in cases}
    flows = {
        name: sweep(tree.segments, [placed.draw for placed in loads[name]], on)
        for name, on in cases.items()
    }
    totals = {
        name: add_up(tree, loads[name], flows[name], on, circuits_only=name != EVERYTHING_ON)
        for name, on in cases.items()
    }
    governing = totals[EVERYTHING_ON]
    receptacles = {
        meter.node: governing.heaviest(index)
        for index, meter in enumerate(tree.meters)
        if meter.node is not None
    }
    return PowerResult(
        circuits=tuple(_circuit(build, tree, draft, totals) for draft in tree.circuits),
        appliances=_appliances(tree, flows, cases),
        wires=_wires(build, tree, flows[EVERYTHING_ON], governing),
        receptacle_amps=receptacles,
        item_circuit=tree.item_circuit,
        limits=tuple(equipment_limits(build, tree, governing, flows[EVERYTHING_ON], rules)),
        cases=tuple(cases),
        battery_hours={
            meter.key: battery_hours(role, governing.taken_w[index])
            for index, meter in enumerate(tree.meters)
            if meter.kind == "supply" and isinstance(role := _role(build, meter.key), Battery)
        },
        fuel_hours={
            meter.key: hours
            for index, meter in enumerate(tree.meters)
            if meter.kind == "supply"
            and isinstance(role := _role(build, meter.key), Generator)
            and (hours := fuel_hours(role, governing.taken_w[index])) is not None
        },
        fed_from=tree.fed_from,
        conductor_amps=_conductor_amps(tree, totals),
        above_nameplate={
            placed.item.id: (placed.model.rated_w, nameplate_w)
            for placed in tree.loads
            if placed.item.id in running
            and placed.model.rated_w > (nameplate_w := load_model(placed.load).rated_w)
        },
        leakages=tuple(leakages(build, tree, rules)),
        converged=all(flow.converged for flow in flows.values()),
        trace=PowerTrace(tree, rules, running, cases, loads, flows, totals),
        reads=reads,
    )


def _conductor_amps(
    tree: PowerTree, totals: dict[str, Totals]
) -> dict[str, dict[str, dict[str, float]]]:
    """Of every generator, battery and box: what each of its conductors carries in each case."""
    return {
        meter.key: {
            case: {meter.source.names[leg]: total.conductors[index][leg] for leg in meter.legs}
            | {"N": total.conductors[index][-1]}
            for case, total in totals.items()
        }
        for index, meter in enumerate(tree.meters)
        if meter.kind in ("supply", "main")
    }


def _role(build: Build, item_id: str) -> Any:
    item = build.item(item_id)
    return item.specification.electrical if item is not None else None


def _loads(tree: PowerTree, running: Runnings, case: str) -> list[PlacedLoad]:
    """The loads with what they draw in a case: motors whose work is known there draw for that."""
    if case == EVERYTHING_ON:
        return tree.loads
    found = []
    for placed in tree.loads:
        motor = running.get(placed.item.id)
        if motor is not None and placed.parts == 1:
            model = in_case(placed.load, load_model(placed.load), motor, case)
            placed = replace(placed, model=model, draw=replace(placed.draw, model=model))
        found.append(placed)
    return found


def _reads(build: Build, network: Network, running: Runnings) -> tuple[Any, ...]:
    """What the power side depends on: moving a thing about is not part of it."""
    venue = build.venue
    reads: list[Any] = [
        build.region,
        build.service.hours,
        venue.ambient,
        venue.altitude_m,
        build.cases,
    ]
    reads += (len(running), *running.items())
    cords: dict[tuple[str, str], bool] = {}
    for item in build.items:
        specification = item.specification
        has_port = False
        for port in specification.ports:
            if port.medium == "power":
                has_port = True
                cords[item.id, port.id] = port.cord is not None
        if has_port or specification.electrical is not None:
            reads += (item.id, item.label, specification)
    for run in build.runs:
        if not isinstance(run, Wire):
            continue
        reads.append(run)
        ends = [(end.item, end.port) for end in (run.a, run.b) if end is not None]
        if run.cord is None and not any(cords.get(end) for end in ends):
            route = network.routes.get(run.id)
            reads.append(route.length_m if route is not None else 0.0)
    return tuple(reads)


def _same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    return len(old) == len(new) and all(
        a is b or (isinstance(a, (str, float, int, tuple)) and a == b)
        for a, b in zip(old, new, strict=True)
    )


def _circuit(
    build: Build, tree: PowerTree, draft: CircuitDraft, totals: dict[str, Totals]
) -> Circuit:
    rules = profile(build.region)
    governing = totals[EVERYTHING_ON]
    loads = loads_on(build, tree, draft, governing, rules) if draft.meter >= 0 else []
    amps: dict[str, float] = {}
    by_leg: dict[str, dict[str, float]] = {}
    for case, total in totals.items():
        if draft.meter < 0 or draft.source is None:
            amps[case] = 0.0
            by_leg[case] = dict.fromkeys((*draft.leg_names, "N"), 0.0)
            continue
        row = total.conductors[draft.meter]
        amps[case] = max((row[leg] for leg in draft.legs), default=0.0)
        by_leg[case] = {draft.source.names[leg]: row[leg] for leg in draft.legs} | {"N": row[-1]}
    return Circuit(
        key=draft.key,
        letter=draft.letter,
        name=draft.name,
        items=draft.items,
        rating_a=draft.rating_a,
        rating_assumed=bool(draft.assumed),
        voltage_v=draft.voltage_v,
        legs=draft.leg_names,
        amps=amps,
        leg_amps=by_leg,
        loads=tuple(one.summary for one in loads if one.is_first),
        limits=(
            *circuit_limits(tree, draft, loads, governing, rules),
            *circuit_starts(draft, loads, breaker_standard(rules.region)),
        ),
        parent=draft.parent,
        trip=_trip(draft, amps, rules),
    )


def _trip(draft: CircuitDraft, amps: dict[str, float], rules: Profile) -> TripBound | None:
    if draft.key.endswith("/inverter") or draft.rating_a <= 0.0:
        return None
    return trip_bound(amps[EVERYTHING_ON], draft.rating_a, breaker_standard(rules.region))


def _appliances(
    tree: PowerTree, flows: dict[str, Flow], cases: dict[str, list[bool]]
) -> dict[str, dict[str, ApplianceState]]:
    found: dict[str, dict[str, ApplianceState]] = {}
    for index, placed in enumerate(tree.loads):
        supply = abs(placed.volts)
        states = found.setdefault(placed.item.id, {})
        for case, flow in flows.items():
            u, current = flow.load_v[index], flow.load_a[index]
            one = ApplianceState(
                amps=abs(current) * placed.line,
                volts=abs(u) * placed.across,
                watts=(u * current.conjugate()).real if cases[case][index] else 0.0,
                drop_share=(supply - abs(u)) / supply if supply else 0.0,
                fed=supply > 0,
            )
            states[case] = _together(states[case], one) if placed.part else one
    for item, _ in tree.dark:
        found[item.id] = {case: ApplianceState(0.0, 0.0, 0.0, 0.0, False) for case in flows}
    return found


def _together(one: ApplianceState, other: ApplianceState) -> ApplianceState:
    """Thirds of one load: watts add up, of amps and volts the worse is told."""
    return ApplianceState(
        amps=max(one.amps, other.amps),
        volts=min(one.volts, other.volts),
        watts=one.watts + other.watts,
        drop_share=max(one.drop_share, other.drop_share),
        fed=one.fed and other.fed,
    )


def _wires(build: Build, tree: PowerTree, flow: Flow, governing: Totals) -> dict[str, WireState]:
    states: dict[str, WireState] = {}
    for placed in tree.wires:
        rating = cord_rating(build, placed)
        states[placed.wire.id] = WireState(
            amps=max(governing.conductors[placed.meter], default=0.0),
            ampacity_a=rating.amps if rating is not None else 0.0,
            length_m=placed.length_m,
            drop_v=_drop_v(placed.ohm, flow.segment_a[placed.segment]),
            circuit=placed.circuit,
        )
    return states


def _drop_v(ohm: float, currents: list[complex]) -> float:
    """Largest drop along a cord between two of its conductors, out and back."""
    return ohm * max(abs(a - b) for a in currents for b in currents)
