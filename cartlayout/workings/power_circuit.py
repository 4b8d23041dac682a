"""Workings of a circuit: every sum that its breaker is held against, and what is left of it."""

from collections.abc import Callable, Iterator, Sequence

from ..analysis import Analysis
from ..findings.number import Number
from ..findings.power_numbers import circuit_number
from ..power.circuits import CircuitDraft
from ..power.limits_check import OnCircuit, loads_on
from ..power.placed import PlacedLoad
from ..power.results import EVERYTHING_ON, Circuit, Limit
from ..power.trace import PowerTrace
from ..units import Phrase, Value
from .making import Draft, Term, phasor_sum, plain
from .model import Held, Step, Symbol, Working
from .power_load import counted_steps
from .power_parts import (
    amperes,
    case_key,
    counted_number,
    load_terms,
    take_over,
    trace_of,
    typical_loads,
    watts,
)
from .power_room import room_working
from .power_trip import trip_working
from .provenance import provenance

_ABOVE = 1e-9
"""Share by which currents behind cords have to exceed the counted ones to be worth a line."""


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Every circuit's total in every case, its conductors, limits, trip time and room."""
    if trace_of(analysis) is None:
        return
    for circuit in analysis.power.circuits:
        for case in analysis.power.cases:
            yield total_number(circuit, case)
            if len(circuit.legs) > 1:
                for conductor in (*circuit.legs, "N"):
                    yield conductor_number(circuit, conductor, case)
        for limit in circuit.limits:
            number = circuit_number(circuit, limit)
            if number.what not in ("total", "neutral"):
                yield number
        if circuit.trip is not None:
            yield Number("circuit", circuit.key, "trip")
        yield room_number(circuit)


def total_number(circuit: Circuit, case: str = EVERYTHING_ON) -> Number:
    """Of the amps on the heaviest conductor of a circuit."""
    return Number("circuit", circuit.key, "total", case_key(case))


def room_number(circuit: Circuit) -> Number:
    """Of what can still be added to a circuit."""
    return Number("circuit", circuit.key, "room")


def conductor_number(circuit: Circuit, conductor: str, case: str = EVERYTHING_ON) -> Number:
    """Of the amps on one conductor of a circuit: "L1", "N"."""
    what = "neutral" if conductor == "N" else f"conductor {conductor}"
    return Number("circuit", circuit.key, what, case_key(case))


Maker = Callable[["_On", Draft, Limit], Value]


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a number of a circuit."""
    trace, circuit = trace_of(analysis), analysis.power.circuit(number.of)
    if trace is None or circuit is None:
        return None
    plan = trace.tree.draft(circuit.key)
    if plan is None:
        return None
    one = _On(analysis, trace, circuit, plan)
    if number.what == "room":
        return room_working(analysis, trace, circuit, number)
    if number.what == "trip":
        return trip_working(circuit, number, total_number(circuit))
    if number.what in ("total", "neutral") or number.what.startswith("conductor "):
        return one.conductor(number)
    limit = next((each for each in circuit.limits if circuit_number(circuit, each) == number), None)
    make = _MAKERS.get(number.what)
    if limit is None or make is None:
        return None
    draft = Draft(number, Phrase.of(_TITLES[number.what], letter=circuit.letter))
    value = make(one, draft, limit)
    take_over(draft, limit, *_limit_steps(one, limit))
    return draft.done(value)


class _On:
    """One circuit with everything that its sums are made of."""

    def __init__(
        self, analysis: Analysis, trace: PowerTrace, circuit: Circuit, plan: CircuitDraft
    ) -> None:
        self.analysis = analysis
        self.trace = trace
        self.circuit = circuit
        self.plan = plan
        self._loads: list[OnCircuit] | None = None

    @property
    def loads(self) -> list[OnCircuit]:
        """Loads as the solver saw them with everything on, the heaviest first."""
        if self._loads is None:
            self._loads = loads_on(
                self.analysis.build,
                self.trace.tree,
                self.plan,
                self.trace.totals[EVERYTHING_ON],
                self.trace.rules,
            )
        return self._loads

    def conductor(self, number: Number) -> Working | None:
        """Amps of one conductor, or of the heaviest live one."""
        case = number.case or EVERYTHING_ON
        if case not in self.trace.totals:
            return None
        index = self._index(number.what, case)
        plan = self.plan
        title = {"total": "Amps on circuit {letter}", "neutral": "Amps in the neutral of {letter}"}
        draft = Draft(
            number,
            Phrase.of(
                title.get(
                    number.what,
                    f"Amps on {number.what.removeprefix('conductor ')} of circuit {{letter}}",
                ),
                letter=self.circuit.letter,
            ),
        )
        if plan.meter < 0 or plan.source is None or index is None:
            draft.step("nothing feeds it, so nothing flows", "I", "", amperes(0.0))
            value = amperes(0.0)
        else:
            value = conductor_steps(draft, self.trace, plan.meter, index, case)
        name = number.what if number.what in ("total", "neutral") else "total"
        limit = next((one for one in self.circuit.limits if one.name == name), None)
        if limit is not None:
            self._hold(draft, limit, value)
        return draft.done(value)

    def _hold(self, draft: Draft, limit: Limit, value: Value) -> None:
        if value.si == limit.value:
            take_over(draft, limit)
            return
        held = Held(
            Value(limit.limit, limit.dimension),
            limit.rule,
            limit.source,
            value.si <= limit.limit * (1.0 + 5e-3),
        )
        draft.held.append(held)
        draft.assume(limit.assumed)

    def _index(self, what: str, case: str) -> int | None:
        """Which conductor is meant, as an index into its supply's."""
        plan = self.plan
        if plan.meter < 0 or plan.source is None:
            return None
        if what == "neutral":
            return plan.source.neutral
        if what.startswith("conductor "):
            name = what.removeprefix("conductor ")
            return plan.source.names.index(name) if name in plan.source.names else None
        row = self.trace.totals[case].conductors[plan.meter]
        live = plan.legs if case != EVERYTHING_ON else plan.source.legs
        return max(live, key=lambda leg: row[leg], default=None)


def conductor_steps(
    draft: Draft, trace: PowerTrace, meter: int, conductor: int, case: str
) -> Value:
    """Add how the amps of one conductor come about at a place where they are added up.

    Args:
        draft: where the steps go.
        trace: of the solver.
        meter: index of the place.
        conductor: index of the conductor among its supply's.
        case: operating case.
    """
    totals = trace.totals[case]
    result = amperes(totals.conductors[meter][conductor])
    source = trace.tree.meters[meter].source
    along = source.volts[conductor]
    counted: list[tuple[PlacedLoad, complex]] = []
    drawn: list[tuple[PlacedLoad, complex]] = []
    for index in trace.tree.loads_behind.get(meter, ()):
        placed = trace.loads[case][index]
        sign = (conductor == placed.draw.p) - (conductor == placed.draw.q)
        size = abs(placed.volts)
        if not sign or not size or not trace.on[case][index]:
            continue
        counted.append((placed, sign * totals.load_a[index] * placed.volts / size))
        drawn.append((placed, sign * trace.flows[case].load_a[index]))
    if not counted:
        draft.step("nothing draws on this conductor", "I", "", result)
        return result
    along = along or counted[0][1] or 1.0
    typical_loads(draft, [placed.item for placed, _ in counted])
    counted_a = abs(sum(one for _, one in counted))
    drawn_a = abs(sum(one for _, one in drawn))
    terms = load_terms(counted, case)
    if not drawn_a > counted_a * (1.0 + _ABOVE):
        phasor_sum(draft, "loads together, each at the supply's own voltage", "I", terms, along)
        return result
    one = phasor_sum(draft, "loads at the supply's own voltage", "I_s", terms, along)
    other = phasor_sum(
        draft,
        "the same as they draw behind their cords",
        "I_t",
        load_terms(drawn, case, drawn=True),
        along,
        letter="J",
    )
    draft.step("the larger counts", "I", "max(I_s, I_t)", result, one, other)
    return result


# --- limits -----------------------------------------------------------------------------------


def _leg_terms(one: _On, times: Callable[[OnCircuit], Symbol | None]) -> tuple[complex, list[Term]]:
    """The voltage of the leg whose sum is the largest, with what each load adds to it."""
    by_leg: dict[int, list[Term]] = {}
    for load in one.loads:
        size = abs(load.placed.volts)
        if not size:
            continue
        draw = load.placed.draw
        source, is_typical = provenance(load.placed.item, "electrical")
        for conductor, sign in ((draw.p, 1), (draw.q, -1)):
            if conductor in one.plan.legs:
                term = Term(
                    load.placed.item.name,
                    sign * load.amps * load.placed.volts / size,
                    counted_number(load.placed.item.id),
                    source,
                    is_typical,
                    times(load),
                )
                by_leg.setdefault(conductor, []).append(term)
    if not by_leg or one.plan.source is None:
        return 1.0, []
    leg = max(by_leg, key=lambda at: abs(sum(term.counted for term in by_leg[at])))
    return one.plan.source.volts[leg], _joined(by_leg[leg])


def _joined(terms: list[Term]) -> list[Term]:
    """Thirds of one load on one leg put together."""
    found: dict[tuple[str, str], Term] = {}
    for term in terms:
        of = term.number.of if term.number is not None else term.meaning
        key = (of, term.times.name if term.times is not None else "")
        old = found.get(key)
        value = term.value + (old.value if old is not None else 0j)
        found[key] = Term(
            term.meaning, value, term.number, term.source, term.is_typical, term.times
        )
    return list(found.values())


def _continuous(one: _On, draft: Draft, limit: Limit) -> Value:
    rule = one.trace.rules.continuous_factor
    assert rule is not None
    factor = Symbol("F", rule.rule, Value(rule.value, "number"), rule.citation)
    along, terms = _leg_terms(one, lambda load: factor if load.continuous else None)
    typical_loads(draft, [load.placed.item for load in one.loads])
    says = "what runs for hours counts more, the rest as it is"
    phasor_sum(draft, says, "I", terms, along)
    assumed = [load.placed.item.name for load in one.loads if load.assumed_continuous]
    if assumed:
        draft.assume(f"nobody knows how long these run: {', '.join(assumed)}")
    return amperes(limit.value)


def _starts(one: _On, draft: Draft, limit: Limit) -> Value:
    multiples: dict[float, Symbol] = {}

    def times(load: OnCircuit) -> Symbol | None:
        multiple = max(load.placed.load.start_multiple, 1.0)
        if multiple == 1.0:
            return None
        source, is_typical = provenance(load.placed.item, "start", "electrical")
        return multiples.setdefault(
            multiple,
            Symbol(
                f"m_{len(multiples) + 1}",
                f"amps of {load.placed.item.name} at its start, against running",
                Value(multiple, "number"),
                source,
                is_typical,
            ),
        )

    along, terms = _leg_terms(one, times)
    typical_loads(draft, [load.placed.item for load in one.loads])
    says = "every start in one moment, the rest running"
    phasor_sum(draft, says, "I", terms, along)
    return amperes(limit.value)


def _one_appliance(one: _On, draft: Draft, limit: Limit) -> Value:
    load = next(each for each in one.loads if each.placed.item.id == limit.items[0])
    return counted_steps(draft, one.trace, load.placed, EVERYTHING_ON)


def _fastened(one: _On, draft: Draft, limit: Limit) -> Value:
    loads = [load for load in one.loads if load.placed.item.id in limit.items and load.is_first]
    _plain_sum(draft, loads, "all that is fastened in place together")
    return amperes(limit.value)


def _plain_sum(draft: Draft, loads: Sequence[OnCircuit], says: str) -> None:
    terms = [
        Term(
            load.placed.item.name,
            complex(load.line_a),
            counted_number(load.placed.item.id),
            *provenance(load.placed.item, "electrical"),
        )
        for load in loads
    ]
    typical_loads(draft, [load.placed.item for load in loads])
    phasor_sum(draft, says, "I", terms, 1.0)


def _limit_steps(one: _On, limit: Limit) -> Iterator[Step]:
    """How a limit comes about that is a share or a multiple of the circuit's rating."""
    rating_a = one.plan.rating_a
    if rating_a <= 0.0 or limit.name not in ("one appliance", "fastened", "starts together"):
        return
    rating = Symbol("I_r", "rating of the breaker", amperes(rating_a))
    is_multiple = limit.name == "starts together"
    times = Symbol(
        "n",
        "times its rating" if is_multiple else "share of its rating",
        Value(limit.limit / rating_a, "number" if is_multiple else "share"),
        limit.source,
    )
    yield Step("the limit", "I_max", "n * I_r", (times, rating), amperes(limit.limit))


def _own_circuit(one: _On, draft: Draft, limit: Limit) -> Value:
    names = ", ".join(load.placed.item.name for load in one.loads if load.is_first)
    value = Value(limit.value, limit.dimension)
    draft.step(f"appliances on this circuit, counted: {names}", "n", "", value)
    return value


def _venue_limit(one: _On, draft: Draft, limit: Limit) -> Value:
    outlet = limit.items[0]
    meter = next(
        index
        for index, each in enumerate(one.trace.tree.meters)
        if each.kind == "outlet" and each.key == outlet
    )
    power_terms(draft, one.trace, meter, "watts behind this outlet together")
    return watts(limit.value)


def power_terms(draft: Draft, trace: PowerTrace, meter: int, says: str) -> Symbol:
    """Add the watts of everything behind a place, before any cord."""
    terms: dict[str, Term] = {}
    for placed in trace.tree.behind(meter):
        item = placed.item
        power_w = placed.model.watts(placed.volts) if abs(placed.volts) else 0.0
        old = terms[item.id].value.real if item.id in terms else 0.0
        terms[item.id] = Term(
            f"{item.name} on {abs(placed.volts) * placed.across:.4g} V",
            complex(old + power_w),
            None,
            *provenance(item, "electrical"),
        )
    typical_loads(draft, [placed.item for placed in trace.tree.behind(meter)])
    return phasor_sum(draft, says, "P", list(terms.values()), 1.0, "power", "P")


def _receptacle(one: _On, draft: Draft, limit: Limit) -> Value:
    item = one.trace.tree.items.get(limit.items[0]) if limit.items else None
    value = Value(limit.value, limit.dimension)
    where = f" of {item.name}" if item is not None else ""
    draft.step(f"rating of the receptacle{where}, read off its pattern", "I_r", "", value)
    draft.assumptions.append(plain("the receptacle is of the pattern drawn"))
    return value


_MAKERS: dict[str, Maker] = {
    "continuous": _continuous,
    "one appliance": _one_appliance,
    "fastened": _fastened,
    "own circuit": _own_circuit,
    "venue limit": _venue_limit,
    "receptacle for circuit": _receptacle,
    "starts together": _starts,
}
_TITLES = {
    "continuous": "What runs for hours on circuit {letter}",
    "one appliance": "The largest plug-in appliance on circuit {letter}",
    "fastened": "Equipment fastened in place on circuit {letter}",
    "own circuit": "Appliances on circuit {letter}",
    "venue limit": "What the venue allows at an outlet of circuit {letter}",
    "receptacle for circuit": "A receptacle on circuit {letter}",
    "starts together": "Everything on circuit {letter} starting at once",
}
