"""Workings of what an appliance takes and gets behind its cords: amps and watts."""

from ..analysis import Analysis
from ..findings.number import Number
from ..power.loads import LoadModel
from ..power.placed import PlacedLoad
from ..power.trace import PowerTrace
from ..units import Phrase, Value
from .making import Draft, plain
from .model import Symbol, Working
from .power_parts import amperes, counted_number, typical_loads, volts, watts
from .provenance import provenance


def drawn_working(
    analysis: Analysis, trace: PowerTrace, number: Number, case: str, indices: list[int]
) -> Working:
    """Amps that an appliance takes at the voltage it has behind its cords, in one case."""
    states = analysis.power.appliances[number.of][case]
    draft = Draft(
        number,
        Phrase.of("Amps that {item} takes behind its cords", item=_name(trace, indices)),
    )
    flow = trace.flows[case]
    index = max(indices, key=lambda at: abs(flow.load_a[at]) * trace.loads[case][at].line)
    placed = trace.loads[case][index]
    if not trace.on[case][index]:
        draft.step("it is off in this case", "I", "", amperes(0.0))
        return draft.done(amperes(states.amps))
    _by_model(draft, number, case, placed, abs(flow.load_v[index]), states.amps)
    draft.assumptions.append(plain("volts and amps are found together, until both agree"))
    typical_loads(draft, [placed.item])
    return draft.done(amperes(states.amps))


def _by_model(
    draft: Draft, number: Number, case: str, placed: PlacedLoad, at_v: float, result_a: float
) -> None:
    model = placed.model
    pieces = _plain_model(draft, placed)
    there = Symbol(
        "U",
        "volts at its terminals",
        volts(at_v),
        number=Number("appliance", number.of, "volts", number.case)
        if placed.across == 1.0
        else None,
    )
    low = at_v < 0.7 * model.rated_v and model.held_va != 0
    held = Symbol("V_h", "voltage down to which it holds its power", volts(0.7 * model.rated_v))
    line = "sqrt(3) * " if placed.line != 1.0 else ""
    used: tuple[Symbol, ...] = (*pieces, there)
    expression = "sqrt((G * U + P_k / U)**2 + (Q / U)**2)"
    if not model.held_va:
        expression, used = "G * U", (pieces[0], there)
    elif low:
        expression = "U * sqrt((G + P_k / V_h**2)**2 + (Q / V_h**2)**2)"
        used = (*pieces, there, held)
    draft.step("what it takes at that voltage", "I", line + expression, amperes(result_a), *used)


def _plain_model(draft: Draft, placed: PlacedLoad) -> tuple[Symbol, Symbol, Symbol]:
    """Heater, held watts and vars as the solver has them; how they come about is another number."""
    model = placed.model
    counted = counted_number(placed.item.id)
    source, is_typical = provenance(placed.item, "electrical")
    heater = Symbol("P_h", "watts of its heater", watts(model.heater_w), source, is_typical)
    rated = Symbol("V_r", "rated voltage between its contacts", volts(model.rated_v))
    if model.rated_v > 0.0 and model.heater_w > 0.0:
        conductance = draft.step(
            "conductance of its heater",
            "G",
            "P_h / V_r**2",
            Value(model.conductance, "conductance"),
            heater,
            rated,
        )
    else:
        conductance = Symbol("G", "no heater in it", Value(0.0, "conductance"))
    return (
        conductance,
        Symbol(
            "P_k", "watts that it holds", watts(model.held_va.real), source, is_typical, counted
        ),
        Symbol("Q", "its vars", watts(model.held_va.imag), source, is_typical),
    )


def watts_working(
    analysis: Analysis, trace: PowerTrace, number: Number, case: str, indices: list[int]
) -> Working:
    """Watts that it gets there."""
    state = analysis.power.appliances[number.of][case]
    draft = Draft(
        number, Phrase.of("Watts that {item} gets behind its cords", item=_name(trace, indices))
    )
    flow = trace.flows[case]
    if not trace.on[case][indices[0]]:
        draft.step("it is off in this case", "P", "", watts(0.0))
        return draft.done(watts(state.watts))
    thirds = []
    for at, index in enumerate(indices, 1):
        placed = trace.loads[case][index]
        name = f"P_{at}" if len(indices) > 1 else "P"
        u = flow.load_v[index]
        result = watts(placed.model.watts(u) if len(indices) > 1 else state.watts)
        thirds.append(_watts_of(draft, number, case, placed, abs(u), name, result))
    if len(thirds) > 1:
        draft.step(
            "its thirds together",
            "P",
            " + ".join(third.name for third in thirds),
            watts(state.watts),
            *thirds,
        )
    typical_loads(draft, [trace.tree.loads[indices[0]].item])
    return draft.done(watts(state.watts))


def _watts_of(
    draft: Draft,
    number: Number,
    case: str,
    placed: PlacedLoad,
    at_v: float,
    name: str,
    result: Value,
) -> Symbol:
    model: LoadModel = placed.model
    source, is_typical = provenance(placed.item, "electrical")
    heater = Symbol(
        "P_h", "watts of its heater when rated", watts(model.heater_w), source, is_typical
    )
    held = Symbol("P_k", "watts that it holds", watts(model.held_va.real), source, is_typical)
    rated = Symbol("V_r", "rated voltage", volts(model.rated_v))
    there = Symbol(
        "U",
        "volts at its terminals",
        volts(at_v),
        number=Number("appliance", number.of, "volts", number.case)
        if placed.across == 1.0
        else None,
    )
    if not model.held_va.real:
        return draft.step(
            "a heater's watts follow the square of the voltage",
            name,
            "P_h * (U / V_r)**2",
            result,
            heater,
            there,
            rated,
        )
    if at_v < 0.7 * model.rated_v:
        low = Symbol("V_h", "voltage down to which it holds its power", volts(0.7 * model.rated_v))
        return draft.step(
            "so little voltage holds no power",
            name,
            "P_h * (U / V_r)**2 + P_k * (U / V_h)**2",
            result,
            heater,
            held,
            there,
            rated,
            low,
        )
    if not model.heater_w:
        return draft.step("it holds its power at any usual voltage", name, "P_k", result, held)
    return draft.step(
        "the heater's watts follow the square of the voltage, the rest is held",
        name,
        "P_h * (U / V_r)**2 + P_k",
        result,
        heater,
        held,
        there,
        rated,
    )


def _name(trace: PowerTrace, indices: list[int]) -> str:
    return trace.tree.loads[indices[0]].item.name
