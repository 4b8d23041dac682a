"""Workings of what power passes on its way: cords, plugs, receptacles, strips, boxes."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..findings.number import Number
from ..findings.power_numbers import other_number
from ..limits import power_connector
from ..power.circuits import CircuitDraft
from ..power.equipment_check import cord_rating
from ..power.placed import PlacedWire
from ..power.results import EVERYTHING_ON, Limit
from ..power.trace import PowerTrace
from ..units import Phrase
from .making import Draft, phasor_sum
from .model import Step, Symbol, Working
from .power_circuit import conductor_steps
from .power_drop import cord_drop
from .power_parts import amperes, load_terms, take_over, trace_of

_TITLES = {
    "amps": "Amps in the cord of {item}",
    "cord": "Amps in the cord of {item}",
    "plug": "Amps in the plug of {item}",
    "receptacle": "Amps in the receptacle that {item} is plugged into",
    "cord protection": "What protects the cord of {item}",
    "strip": "Amps on {item}",
    "extension": "Amps on {item}",
    "main": "Amps through the main breaker of {item}",
}


def wire_numbers(analysis: Analysis) -> Iterator[Number]:
    """Of every cord that power reaches: amps, what it loses, and its limits."""
    trace = trace_of(analysis)
    if trace is None:
        return
    for placed in trace.tree.wires:
        yield Number("wire", placed.wire.id, "amps")
        yield Number("wire", placed.wire.id, "drop")
    for owner, limit in analysis.power.limits:
        number = other_number(owner, limit)
        if number.subject == "wire":
            yield number


def equipment_numbers(analysis: Analysis) -> Iterator[Number]:
    """Of strips, extension cords and boxes with a main breaker."""
    if trace_of(analysis) is None:
        return
    for owner, limit in analysis.power.limits:
        number = other_number(owner, limit)
        if number.subject == "equipment":
            yield number


def wire_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a number of a cord, of its plug or of its receptacle."""
    trace = trace_of(analysis)
    placed = next(
        (one for one in (trace.tree.wires if trace else ()) if one.wire.id == number.of), None
    )
    if trace is None or placed is None:
        return None
    if number.what == "drop":
        return cord_drop(analysis, trace, number, placed)
    if number.what == "in step":
        return _in_step(trace, number, placed)
    limit = _limit(analysis, number)
    if number.what not in _TITLES or (limit is None and number.what != "amps"):
        return None
    draft = Draft(number, Phrase.of(_TITLES[number.what], item=placed.plug[0].name))
    if number.what == "cord protection":
        assert limit is not None
        return _protection(analysis, trace, draft, placed, limit)
    row = trace.totals[EVERYTHING_ON].conductors[placed.meter]
    worst = max(range(len(row)), key=lambda at: row[at])
    value = conductor_steps(draft, trace, placed.meter, worst, EVERYTHING_ON)
    if limit is not None:
        steps = _rating_steps(analysis, placed) if number.what == "cord" else ()
        take_over(draft, limit, *steps)
    return draft.done(value)


def _in_step(trace: PowerTrace, number: Number, placed: PlacedWire) -> Working | None:
    """Amps of a cord with one leg, as drawn, that are in step with the leg's voltage."""
    case = number.case or EVERYTHING_ON
    if case not in trace.flows or len(placed.legs) != 1:
        return None
    flow, leg = trace.flows[case], placed.legs[0]
    along = placed.source.volts[leg]
    drawn = []
    for index in trace.tree.loads_behind.get(placed.meter, ()):
        load = trace.loads[case][index]
        sign = (leg == load.draw.p) - (leg == load.draw.q)
        if sign and trace.on[case][index]:
            drawn.append((load, sign * flow.load_a[index]))
    title = "Amps drawn through the cord of {item}, in step with the voltage"
    draft = Draft(number, Phrase.of(title, item=placed.plug[0].name))
    current = flow.segment_a[placed.segment][leg]
    value = amperes((current * along.conjugate()).real / abs(along))
    terms = load_terms(drawn, case, drawn=True)
    says = "as they draw behind their cords"
    found = phasor_sum(draft, says, "I", terms, along, only_in_step=True)
    return draft.done(value if found.name == "x" or value.si >= 0.0 else found.value)


def equipment_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of the amps on a strip, an extension cord or a box."""
    trace = trace_of(analysis)
    limit = _limit(analysis, number)
    if trace is None or limit is None or number.what not in _TITLES:
        return None
    meter = next(
        (
            index
            for index, each in enumerate(trace.tree.meters)
            if each.kind == number.what and each.key == number.of
        ),
        None,
    )
    item = trace.tree.items.get(number.of)
    if meter is None or item is None:
        return None
    draft = Draft(number, Phrase.of(_TITLES[number.what], item=item.name))
    row = trace.totals[EVERYTHING_ON].conductors[meter][:-1]
    worst = max(range(len(row)), key=lambda at: row[at])
    value = conductor_steps(draft, trace, meter, worst, EVERYTHING_ON)
    take_over(draft, limit)
    return draft.done(value)


def _limit(analysis: Analysis, number: Number) -> Limit | None:
    return next(
        (
            limit
            for owner, limit in analysis.power.limits
            if limit.name == number.what and other_number(owner, limit) == number
        ),
        None,
    )


def _rating_steps(analysis: Analysis, placed: PlacedWire) -> Iterator[Step]:
    rating = cord_rating(analysis.build, placed)
    if rating is not None:
        yield Step(rating.working, "I_a", "", (), amperes(rating.amps))


def _protection(
    analysis: Analysis, trace: PowerTrace, draft: Draft, placed: PlacedWire, limit: Limit
) -> Working:
    """What stands before a cord against what the cord carries."""
    plan = trace.tree.draft(placed.circuit)
    value = amperes(limit.value)
    plug = power_connector(placed.plug[1].connector)
    breaker = _breaker(plan)
    if plan is not None and plug is not None and limit.value != plan.rating_a:
        fuse = Symbol("I_f", f"fuse in its plug ({plug.key})", value, plug.citation)
        draft.step(
            "the smaller of the two protects it", "I_p", "min(I_r, I_f)", value, breaker, fuse
        )
    else:
        draft.step(breaker.meaning, "I_p", "", value)
    take_over(draft, limit, *_rating_steps(analysis, placed))
    return draft.done(value)


def _breaker(plan: CircuitDraft | None) -> Symbol:
    if plan is None:
        return Symbol("I_r", "the breaker before it", amperes(0.0))
    source = "assumed" if plan.assumed else "as entered"
    return Symbol("I_r", f"breaker of circuit {plan.letter}", amperes(plan.rating_a), source)
