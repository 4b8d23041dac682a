"""Workings of what is lost in cords: resistance, drop out and back, volts at the plug."""

import math
from dataclasses import dataclass

from ..analysis import Analysis
from ..build import Item, Outlet
from ..findings.number import Number
from ..limits import conductor_resistance
from ..power.placed import PlacedLoad, PlacedWire
from ..power.results import EVERYTHING_ON, Limit
from ..power.trace import PowerTrace
from ..units import ConductorSize, Phrase, Value
from .making import Draft
from .model import Symbol, Working
from .power_parts import amperes, case_key, take_over, typical_loads, volts

_OUT_OF_STEP = 1e-4
"""Share of the supply's voltage below which drops out of step are left out of the formula: they
would change it by less than a hundred-millionth."""
_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Stretch:
    """A length of cord or of building wire between a supply and a load."""

    name: str
    segment: int
    ohm: float
    wire: PlacedWire | None = None
    outlet: Item | None = None


def stretches(trace: PowerTrace, placed: PlacedLoad) -> list[Stretch]:
    """Everything with resistance on the way to a load, from the supply on."""
    wires = {wire.segment: wire for wire in trace.tree.wires}
    outlets = _outlets(trace)
    found: list[Stretch] = []
    at = placed.draw.segment
    while at >= 0:
        segment = trace.tree.segments[at]
        ohm = segment.impedance_ohm.real
        if ohm > 0.0:
            wire = wires.get(at)
            outlet = outlets.get(at)
            name = wire.plug[0].name if wire is not None else ""
            if outlet is not None:
                name = outlet.name
            found.append(Stretch(name, at, ohm, wire, outlet))
        at = segment.parent
    return found[::-1]


def _outlets(trace: PowerTrace) -> dict[int, Item]:
    """Segment to the outlet at the end of that stretch of the venue's run."""
    found = {}
    for node, here in trace.tree.offered.items():
        item = trace.tree.items.get(node[0])
        if item is not None and isinstance(item.specification.electrical, Outlet):
            found[here.segment] = item
    return found


def resistance_steps(draft: Draft, stretch: Stretch, sub: str = "") -> Symbol:
    """How the resistance of one conductor of a stretch comes about.

    Args:
        draft: where the step goes.
        stretch: the cord, or the wires in the building.
        sub: put behind the letters: "_2" for the second stretch of a way.
    """
    result = Value(stretch.ohm, "resistance")
    size, length_m, wiring = _conductor(stretch)
    if size is None:
        says = f"resistance of the wires up to {stretch.name}"
        return draft.step(says, f"R{sub}", "", result)
    known = conductor_resistance(size, wiring="fixed" if wiring else "cord")
    by_length = Symbol(
        f"r{sub}",
        f"one conductor: {known.working}",
        Value(known.ohm_per_m, "resistance by length"),
        known.source,
    )
    length = Symbol(f"L{sub}", f"its length ({size.text})", Value(length_m, "distance"))
    says = f"one conductor of the cord of {stretch.name}"
    if wiring:
        says = f"one wire on the way to {stretch.name}"
        draft.assume(f"wires in the building at {known.temperature_c:g} °C of copper")
    else:
        draft.assume(f"cords at {known.temperature_c:g} °C of copper")
    return draft.step(says, f"R{sub}", f"r{sub} * L{sub}", result, by_length, length)


def _conductor(stretch: Stretch) -> tuple[ConductorSize | None, float, bool]:
    """Size, length [m], and whether it is a fixed wire."""
    if stretch.wire is not None and stretch.wire.cord is not None:
        return stretch.wire.cord.size, stretch.wire.length_m, False
    role = stretch.outlet.specification.electrical if stretch.outlet is not None else None
    if isinstance(role, Outlet) and role.run_size is not None:
        each = conductor_resistance(role.run_size, wiring="fixed").ohm_per_m
        return role.run_size, stretch.ohm / each, True
    return None, 0.0, False


# --- along the way to a load ------------------------------------------------------------------


def volts_steps(draft: Draft, trace: PowerTrace, case: str, index: int) -> Symbol:
    """Add how the volts at a load's terminals come about; the answer is these."""
    placed, flow = trace.loads[case][index], trace.flows[case]
    unit = placed.volts / abs(placed.volts)
    p, q = placed.draw.p, placed.draw.q
    supply = Symbol("V_s", "voltage of the supply between its contacts", volts(abs(placed.volts)))
    along: list[Symbol] = []
    across: list[Symbol] = []
    out_of_step_v = 0.0
    way = stretches(trace, placed)
    for at, stretch in enumerate(way, 1):
        sub = f"_{at}" if len(way) > 1 else ""
        resistance = resistance_steps(draft, stretch, sub)
        amps = flow.segment_a[stretch.segment]
        out, back = amps[p] / unit, -amps[q] / unit
        along.append(_lost(draft, stretch, resistance, out.real, back.real, f"D{sub}", case))
        out_of_step_v += stretch.ohm * (out.imag + back.imag)
        across += _across(stretch, resistance, out.imag, back.imag, f"E{sub}", draft, placed)
    at_v = volts(abs(flow.load_v[index]))
    if not along:
        says = "nothing is lost on the way: no cord of known size"
        return draft.step(says, "U", "V_s", at_v, supply)
    names = " - ".join(symbol.name for symbol in along)
    if abs(out_of_step_v) <= _OUT_OF_STEP * abs(placed.volts):
        says = "left at its terminals"
        in_step_v = abs(placed.volts) - sum(symbol.value.si for symbol in along)
        if in_step_v >= 0.0:
            return draft.step(says, "U", f"V_s - {names}", at_v, supply, *along)
    beside = " + ".join(symbol.name for symbol in across) or "0"
    return draft.step(
        "left at its terminals, what is a quarter turn off included",
        "U",
        f"sqrt((V_s - {names})**2 + ({beside})**2)",
        at_v,
        supply,
        *along,
        *across,
    )


def _lost(
    draft: Draft,
    stretch: Stretch,
    resistance: Symbol,
    out_a: float,
    back_a: float,
    name: str,
    case: str,
) -> Symbol:
    """Volts lost in a stretch, in step with the supply's voltage."""
    sub = name[1:]
    lost = volts(stretch.ohm * (out_a + back_a))
    says = f"lost in {_what(stretch)}, out and back"
    if abs(out_a - back_a) <= _SAME * max(abs(out_a), abs(back_a)):
        current = Symbol(
            f"I{sub}", _carries(stretch), amperes(out_a), number=in_step_number(stretch, case)
        )
        expression = f"2 * {resistance.name} * I{sub}"
        return draft.step(says, name, expression, lost, resistance, current)
    there = Symbol(f"I_a{sub}", f"{_carries(stretch)}, out", amperes(out_a))
    return_ = Symbol(f"I_r{sub}", "the same, back on the other conductor", amperes(back_a))
    expression = f"{resistance.name} * ({there.name} + {return_.name})"
    return draft.step(says, name, expression, lost, resistance, there, return_)


def _across(
    stretch: Stretch,
    resistance: Symbol,
    out_a: float,
    back_a: float,
    name: str,
    draft: Draft,
    placed: PlacedLoad,
) -> list[Symbol]:
    """Volts lost a quarter turn off, where they are worth a line."""
    lost_v = stretch.ohm * (out_a + back_a)
    if abs(lost_v) <= 1e-7 * abs(placed.volts):
        return []
    sub = name[1:]
    says = f"lost in {_what(stretch)} a quarter turn off the voltage"
    what = f"amps in {_what(stretch)} a quarter turn off the voltage"
    lost = volts(lost_v)
    if abs(out_a - back_a) <= _SAME * max(abs(out_a), abs(back_a)):
        both = Symbol(f"J{sub}", f"{what}; below zero: behind it", amperes(out_a))
        return [draft.step(says, name, f"2 * {resistance.name} * J{sub}", lost, resistance, both)]
    there = Symbol(f"J_a{sub}", f"{what}, out", amperes(out_a))
    return_ = Symbol(f"J_r{sub}", "the same, back on the other conductor", amperes(back_a))
    expression = f"{resistance.name} * ({there.name} + {return_.name})"
    return [draft.step(says, name, expression, lost, resistance, there, return_)]


def _what(stretch: Stretch) -> str:
    if stretch.wire is None:
        return f"the building's wires to {stretch.name}"
    return f"the cord of {stretch.name}"


def _carries(stretch: Stretch) -> str:
    return f"amps in {_what(stretch)}, in step with the voltage"


def volts_working(
    analysis: Analysis, trace: PowerTrace, number: Number, case: str, indices: list[int]
) -> Working:
    """Volts at an appliance, held against its range with everything on."""
    item = trace.tree.loads[indices[0]].item
    state = analysis.power.appliances[number.of][case]
    draft = Draft(number, Phrase.of("Volts at {item}", item=item.name))
    flow = trace.flows[case]
    index = min(indices, key=lambda at: abs(flow.load_v[at]))
    placed = trace.loads[case][index]
    if abs(placed.volts) == 0.0:
        draft.step("its plug finds no voltage between its contacts", "U", "", volts(0.0))
        return draft.done(volts(state.volts))
    there = volts_steps(draft, trace, case, index)
    if placed.across != 1.0:
        draft.step("between two legs", "U_12", "sqrt(3) * U", volts(state.volts), there)
    typical_loads(draft, [item])
    draft.assume("amps and volts are found together, until both agree")
    for limit in _limits(analysis, number.of, "voltage", case):
        take_over(draft, limit, is_least=limit.limit < placed.load.voltage.si)
    return draft.done(volts(state.volts))


def drop_working(
    analysis: Analysis, trace: PowerTrace, number: Number, case: str, indices: list[int]
) -> Working:
    """Voltage lost on the way to an appliance, as a share of the supply's."""
    item = trace.tree.loads[indices[0]].item
    state = analysis.power.appliances[number.of][case]
    draft = Draft(number, Phrase.of("Voltage lost on the way to {item}", item=item.name))
    flow = trace.flows[case]
    index = min(indices, key=lambda at: abs(flow.load_v[at]))
    placed = trace.loads[case][index]
    share = Value(state.drop_share, "percent")
    if abs(placed.volts) == 0.0:
        draft.step("its plug finds no voltage between its contacts", "d", "", share)
        return draft.done(share)
    there = volts_steps(draft, trace, case, index)
    supply = Symbol("V_s", "voltage of the supply between its contacts", volts(abs(placed.volts)))
    draft.step("lost, as a share of the supply's", "d", "(V_s - U) / V_s", share, supply, there)
    typical_loads(draft, [item])
    draft.assume("amps and volts are found together, until both agree")
    for limit in _limits(analysis, number.of, "drop", case):
        take_over(draft, limit)
    return draft.done(share)


def _limits(analysis: Analysis, item_id: str, name: str, case: str) -> list[Limit]:
    if case != EVERYTHING_ON:
        return []
    return [
        limit for owner, limit in analysis.power.limits if owner == item_id and limit.name == name
    ]


def in_step_number(stretch: Stretch, case: str) -> Number | None:
    """Of the amps of a cord that are in step with the voltage; only one leg has one direction."""
    if stretch.wire is None or len(stretch.wire.legs) != 1:
        return None
    return Number("wire", stretch.wire.wire.id, "in step", case_key(case))


# --- of one cord ------------------------------------------------------------------------------


def cord_drop(analysis: Analysis, trace: PowerTrace, number: Number, placed: PlacedWire) -> Working:
    """Volts lost in one cord between the two of its conductors that lose most."""
    state = analysis.power.wires[placed.wire.id]
    draft = Draft(number, Phrase.of("Voltage lost in the cord of {item}", item=placed.plug[0].name))
    result = volts(state.drop_v)
    currents = trace.flows[EVERYTHING_ON].segment_a[placed.segment]
    pairs = [(abs(a - b), a, b) for a in currents for b in currents]
    size_a, one, other = max(pairs, key=lambda pair: pair[0], default=(0.0, 0j, 0j))
    if placed.ohm <= 0.0:
        draft.step("no cord of known size and length", "D", "", result)
        return draft.done(result)
    resistance = resistance_steps(
        draft, Stretch(placed.plug[0].name, placed.segment, placed.ohm, placed)
    )
    if abs(one + other) <= _SAME * max(size_a, 1e-300):
        current = Symbol("I", "amps that flow out and back", amperes(abs(one)))
        draft.step("out and back", "D", "2 * R * I", result, resistance, current)
    else:
        turned = math.degrees(math.atan2((other / one).imag, (other / one).real)) if one else 0.0
        draft.note(f"the two currents stand {turned:.1f}° apart")
        current = Symbol("I", "difference of the amps in the two conductors", amperes(size_a))
        draft.step("between the two that lose most", "D", "R * I", result, resistance, current)
    return draft.done(result)
