"""The operating cases, each solved at both ends of what its sources may do."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..build import Build
from .hydraulics import Conditions, Key, Start, State, solve
from .model import Model, PumpPlace, TapPlace
from .results import ALL_OPEN, ALL_SHUT, alone

_TRICKLE = 1e-9
"""m3/s; a pump that gives less is at rest."""
_STARVED_TRIES = 40
_STARVED_TOLERANCE_PA = 50.0


@dataclass(frozen=True, slots=True)
class Case:
    """A name and the taps open in it."""

    name: str
    open_taps: frozenset[Key]


@dataclass(frozen=True, slots=True)
class Solved:
    """A case at both ends: where the sources push hardest, and where they push least.

    A demand pump that can give more than is drawn goes on and off, and its
    pressure goes to and fro between cut-in and cut-out; one that cannot runs on
    its curve and has one pressure. A mains tap lies between its least and
    greatest. Where nothing has a range both ends are the same state.
    """

    case: Case
    high: State
    low: State
    starved: frozenset[str] = frozenset()
    """Ids of pumps whose suction limits what they give."""


def cases(build: Build, taps: Sequence[TapPlace]) -> Iterator[Case]:
    """All shut, each tap alone, everything open, and the person's own; no name twice."""
    everything = frozenset(tap.node for tap in taps)
    taken = {ALL_SHUT, ALL_OPEN}
    yield Case(ALL_SHUT, frozenset())
    for tap in taps:
        name = alone(tap.name)
        taken.add(name)
        yield Case(name, frozenset({tap.node}))
    if len(everything) > 1:
        yield Case(ALL_OPEN, everything)
    for own in build.cases:
        name = own.name or "Own case"
        number = 2
        while name in taken:
            name = f"{own.name or 'Own case'} ({number})"
            number += 1
        taken.add(name)
        items = set(own.taps)
        yield Case(name, frozenset(tap.node for tap in taps if tap.node[0] in items))


def solve_case(
    model: Model, case: Case, starts: tuple[Start | None, Start | None] = (None, None)
) -> Solved:
    """Solve a case; the starts are `State.start` of a similar high and low state."""
    greatest = {one.key: one.greatest_pa for one in model.mains}
    high, starved = _fed(
        model, Conditions(case.open_taps, fixed_pa=greatest), starts[0], frozenset()
    )
    cut_in: dict[Key, float] = {
        pump.item.id: min(pump.role.cut_in.si, pump.role.cut_out.si)
        for pump in model.pumps
        if high.modes.get(pump.item.id) == "holding"
        and high.flows.get(pump.item.id, 0.0) > _TRICKLE
    }
    varies = any(one.least_pa < one.greatest_pa for one in model.mains)
    if not case.open_taps or not (cut_in or varies):
        return Solved(case, high, high, starved)
    least = {one.key: one.least_pa for one in model.mains}
    low, starved = _fed(
        model,
        Conditions(case.open_taps, cut_in, least),
        starts[1] or high.start,
        starved,
    )
    return Solved(case, high, low, starved)


def solve_low(model: Model, open_taps: frozenset[Key], start: Start | None = None) -> State:
    """Where the sources of a line without pumps push least; half of what a case costs."""
    least = {one.key: one.least_pa for one in model.mains}
    return solve(model.system, Conditions(open_taps, fixed_pa=least), start)


def _fed(
    model: Model,
    conditions: Conditions,
    start: Start | None,
    starved: frozenset[str],
) -> tuple[State, frozenset[str]]:
    """Solve, and hold back every pump whose inlet would have to go below boiling."""
    state = solve(model.system, conditions, start)
    limit_pa = model.fluid.lowest_gauge_pa
    caps: dict[Key, float] = {}
    for pump in model.pumps:
        if state.converged and state.pressures_pa.get(pump.inlet, 0.0) < limit_pa:
            state = _hold_back(model, conditions, state, pump, limit_pa, caps)
            starved |= {pump.item.id}
    return state, starved


def _hold_back(
    model: Model,
    conditions: Conditions,
    state: State,
    pump: PumpPlace,
    limit_pa: float,
    caps: dict[Key, float],
) -> State:
    """Find the flow at which a pump's inlet stands just at boiling.

    The suction falls steadily with the flow, so halving the interval cannot miss.
    """
    least, most = 0.0, max(state.flows.get(pump.item.id, 0.0), 0.0)
    for _ in range(_STARVED_TRIES):
        caps[pump.item.id] = middle = 0.5 * (least + most)
        limited = Conditions(
            conditions.open_taps, conditions.set_pa, conditions.fixed_pa, dict(caps)
        )
        state = solve(model.system, limited, state.start)
        over_pa = state.pressures_pa.get(pump.inlet, 0.0) - limit_pa
        if not state.converged or 0.0 <= over_pa < _STARVED_TOLERANCE_PA:
            break
        least, most = (middle, most) if over_pa > 0.0 else (least, middle)
        if math.isclose(least, most, rel_tol=1e-9, abs_tol=1e-12):
            break
    return state
