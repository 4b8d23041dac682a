"""What was computed for the selection, in short lines: prepared values, no widgets."""

from collections.abc import Iterator

from ...analysis import Analysis
from ...build import (
    Build,
    Item,
    Mains,
    Pump,
    Run,
    Tank,
    TubeRun,
    Wire,
)
from ...documents.body_lines import BodyLine, body_lines, item_lines
from ...findings.body_numbers import run_number
from ...findings.number import Number
from ...network import Route, tight_bends
from ...units import UnitSystem, counted, show, show_pair
from ...water.results import Tap
from ...workings.water_taps import flow_number, pressure_number, static_number
from ..boards.tap_rows import case_in, state_in
from .fact import Fact
from .power_facts import power_facts
from .tee_facts import tee_facts
from .water_facts import tube_facts, water_facts

_FLAT_M = 0.05
"""Less up and down than this is not worth a word."""


def item_facts(
    analysis: Analysis, item: Item, power_case: str, water_case: str, system: UnitSystem
) -> tuple[Fact, ...]:
    """What was computed for one item."""
    return (
        *_body(item, system),
        *(_fact(line) for line in item_lines(analysis, item.id, system)),
        *power_facts(analysis, item, power_case, system),
        *_taps(analysis, item, water_case, system),
        *_vessel(analysis, item, system),
        *_pump(analysis, item, system),
        *water_facts(analysis, item, system),
        *tee_facts(analysis, item, water_case, system),
    )


def _fact(line: BodyLine) -> Fact:
    return Fact(line.label, line.value, line.state, line.tip, line.numbers)


def _body(item: Item, system: UnitSystem) -> Iterator[Fact]:
    size = item.specification.size
    measures = " × ".join(
        show(side.si, "length", system).removesuffix(" in").removesuffix(" mm")
        for side in (size.width, size.depth, size.height)
    )
    unit = "in" if system is UnitSystem.US else "mm"
    yield Fact("Size", f"{measures} {unit}", tip="Width, depth and height of the body")


def _taps(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Iterator[Fact]:
    taps = [tap for tap in analysis.water.taps if tap.item == item.id]
    for tap in taps:
        prefix = f"{tap.port}: " if len(taps) > 1 else ""
        yield Fact(
            f"{prefix}Allowed",
            f"{show(tap.least_pa, 'pressure', system)} to "
            f"{show(tap.greatest_pa, 'pressure', system)}",
            tip="The least while water runs, and the most it may ever see: as its maker says",
        )
        yield Fact(f"{prefix}Needs", show(tap.required_flow, "flow", system))
        yield from _tap_now(tap, case, system)


def _tap_now(tap: Tap, case: str, system: UnitSystem) -> Iterator[Fact]:
    if not tap.fed:
        yield Fact("Water", "not fed", "care", "No water reaches it as drawn")
        return
    state = state_in(tap, case)
    if state is not None:
        yield Fact(
            "Tap open",
            f"{show(state.pressure_pa, 'pressure', system)} · {show(state.flow, 'flow', system)}",
            "ok" if state.pressure_ok and state.flow_ok else "stop",
            "While water runs, at the end of the pump's range that is worse",
            (pressure_number(tap, case_in(tap, case)), flow_number(tap, case_in(tap, case))),
        )
    yield Fact(
        "Tap shut",
        show(tap.static_pa, "pressure", system),
        "ok" if tap.static_pa <= tap.greatest_pa else "stop",
        "Static: the highest its line can see with everything shut",
        (static_number(tap),),
    )


def _vessel(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    tank = item.specification.water
    balance = analysis.water.balance
    if not isinstance(tank, Tank):
        return
    yield Fact("Holds", show(tank.volume.si, "volume", system))
    if balance is None:
        return
    if tank.contents == "fresh":
        yield Fact(
            "A day uses",
            show(balance.fresh_per_day, "volume", system),
            "ok" if balance.fresh_per_day <= balance.fresh else "care",
            "As the service plan says: drinks, and water to rinse",
            (Number("tank", "fresh", "day"),),
        )
    elif not balance.to_drain:
        yield Fact(
            "A day brings",
            show(balance.waste_per_day, "volume", system),
            "ok" if balance.waste_per_day <= balance.waste else "care",
            "As the service plan says: rinse water, and what is poured away besides",
            (Number("tank", "waste", "day"),),
        )
        yield Fact(
            "Waste, all",
            f"{show(balance.waste, 'volume', system)} of "
            f"{show(balance.waste_needed, 'volume', system)} asked",
            "ok" if balance.waste >= balance.waste_needed else "stop",
            balance.source,
            (Number("tank", "waste", "needed"),),
        )


def _pump(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    if not isinstance(item.specification.water, Pump):
        return
    for state in analysis.water.pumps:
        if state.item == item.id:
            yield Fact(
                "Holds",
                f"{show(state.cut_in_pa, 'pressure', system)} to "
                f"{show(state.cut_out_pa, 'pressure', system)}",
                tip="A pump that cycles gives a range: it starts at cut-in, stops at cut-out",
            )
            yield Fact(
                "Accumulator",
                f"gives {show(state.useful_volume, 'small volume', system, 0)} between the two"
                if state.accumulator
                else "none",
                "" if state.accumulator else "care",
                numbers=(Number("pump", item.id, "useful volume"),) if state.accumulator else (),
            )


def run_facts(
    analysis: Analysis, run: Run, water_case: str, system: UnitSystem
) -> tuple[Fact, ...]:
    """What was computed for one wire or tube."""
    return tuple(
        _wire(analysis, run, system)
        if isinstance(run, Wire)
        else _tube(analysis, run, water_case, system)
    )


def _wire(analysis: Analysis, run: Wire, system: UnitSystem) -> Iterator[Fact]:
    state = analysis.power.wires.get(run.id)
    route = analysis.network.routes.get(run.id)
    if state is None:
        yield Fact("Carries", "nothing", tip="It joins no supply")
    else:
        circuit = analysis.power.circuit(state.circuit) if state.circuit else None
        yield Fact(
            "Carries",
            show_pair(state.amps, state.ampacity_a, "current", system)
            if state.ampacity_a > 0
            else show(state.amps, "current", system),
            "ok" if state.amps <= state.ampacity_a or state.ampacity_a <= 0 else "stop",
            "With everything on, against what its conductors may carry",
            (Number("wire", run.id, "cord" if state.ampacity_a > 0 else "amps"),),
        )
        yield Fact(
            "Loses",
            show(state.drop_v, "voltage", system, 2),
            tip="Out and back: a cord of 50 ft has 100 ft of copper",
            numbers=(Number("wire", run.id, "drop"),),
        )
        yield Fact("Length", show(state.length_m, "distance", system))
        if circuit is not None:
            yield Fact("Circuit", f"{circuit.letter}, {circuit.name}")
    if route is not None:
        yield from _way(run, route, system)


def _tube(analysis: Analysis, run: TubeRun, water_case: str, system: UnitSystem) -> Iterator[Fact]:
    route = analysis.network.routes.get(run.id)
    if run.length is not None:
        yield Fact("Length", show(run.length.si, "distance", system), tip="As entered")
    elif route is not None:
        length_m = route.length_m + run.spare.si
        yield Fact(
            "Length",
            show(length_m, "distance", system),
            tip="From the way as drawn, and the spare",
            numbers=(run_number(run.id),),
        )
    if route is not None:
        yield from _way(run, route, system)
    case = analysis.water.cases.get(water_case)
    state = case.runs.get(run.id) if case is not None else None
    if state is not None:
        yield Fact("Flow", show(abs(state.flow), "flow", system), tip=f"In '{water_case}'")
        speed = show(state.velocity_m_s, "velocity", system)
        yield Fact("Speed", speed, numbers=(Number("tube", run.id, "velocity", water_case),))
        yield Fact(
            "Takes",
            show(abs(state.loss_pa), "pressure", system),
            tip="Friction, fittings and the difference in height of its ends",
            numbers=(Number("tube", run.id, "loss", water_case),),
        )
    yield from tube_facts(analysis, run, system)


def _way(run: Run, route: Route, system: UnitSystem) -> Iterator[Fact]:
    """The way as drawn: how long, how far up and down, how often and how tightly it bends."""
    way = show(route.length_m, "distance", system)
    if route.vertical_m > _FLAT_M:
        way += f", {show(route.vertical_m, 'length', system)} of it upright"
    tip = "From end to end as drawn, up and down included"
    yield Fact("Way", way, tip=tip, numbers=(run_number(run.id),))
    if not route.bend_room_m:
        return
    least = run.tube.least_bend_radius if isinstance(run, TubeRun) else None
    tight = tight_bends(run, route)
    room = counted(len(route.bend_room_m), "bend")
    if least is not None:
        pair = show_pair(min(route.bend_room_m), least.si, "length", system)
        yield Fact(
            "Bends",
            f"{room}, tightest {pair}",
            "care" if tight else "ok",
            "Radius that the tightest bend has room for, of the least this tube bends to; "
            "elbows among its fittings are taken off",
            (run_number(run.id, "bend"),),
        )
    else:
        yield Fact("Bends", room)


def build_facts(analysis: Analysis, system: UnitSystem) -> tuple[Fact, ...]:
    """What was computed for the cart as a whole."""
    return tuple(_whole(analysis, system))


def _whole(analysis: Analysis, system: UnitSystem) -> Iterator[Fact]:
    balance = analysis.water.balance
    yield from (_fact(line) for line in body_lines(analysis, system))
    if balance is not None:
        mains = any(isinstance(one.specification.water, Mains) for one in analysis.build.items)
        fresh = show(balance.fresh, "volume", system)
        source = "from the venue's tap" if mains and balance.fresh <= 0 else fresh
        yield Fact(
            "Fresh water",
            f"{source}, a day uses {show(balance.fresh_per_day, 'volume', system)}",
            "" if mains or balance.fresh_per_day <= balance.fresh else "care",
            "What the service plan takes: drinks, and water to rinse",
            (Number("tank", "fresh", "day"),),
        )
    if balance is not None and (balance.to_drain or balance.waste or balance.waste_needed):
        yield Fact(
            "Waste",
            "to the venue's drain"
            if balance.to_drain
            else f"{show(balance.waste, 'volume', system)} of "
            f"{show(balance.waste_needed, 'volume', system)} asked",
            "ok" if balance.to_drain or balance.waste >= balance.waste_needed else "stop",
            balance.source,
            () if balance.to_drain else (Number("tank", "waste", "needed"),),
        )


def several_facts(
    analysis: Analysis, items: tuple[Item, ...], case: str, system: UnitSystem
) -> tuple[Fact, ...]:
    """Sums over several items."""
    watts = amps = 0.0
    for item in items:
        state = analysis.power.appliances.get(item.id, {}).get(case)
        if state is not None and state.fed:
            watts, amps = watts + state.watts, amps + state.amps
    mass_kg = sum(item.specification.mass.si for item in items)
    facts = [Fact("Mass, empty", show(mass_kg, "mass", system))]
    if amps > 0:
        facts.append(
            Fact(
                "Draw",
                f"{show(amps, 'current', system)} · {show(watts, 'power', system)}",
                tip="Amps of each added up",
            )
        )
    return tuple(facts)


def end_name(build: Build, item_id: str, port_id: str) -> str:
    """An end of a run for people, such as "Outlet 1, receptacle 2"."""
    item = build.item(item_id)
    if item is None:
        return "nothing"
    alike = len(item.specification.ports) > 1
    return f"{item.name}, {port_id}" if alike else item.name
