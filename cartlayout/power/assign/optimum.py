"""The best assignment, aim by aim: each is made as good as the ones before it allow.

A mixed-integer program for scipy's HiGHS, solved once for each aim with the earlier ones held:
no overload and no rule broken; lowest peak share; legs even; fewest moves; least cord. HiGHS
proves its optimum or says how far from it the answer may still be.
"""

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from .bounds import least_peak, must_come, must_leave, no_needless_moves
from .nearby import Choice, Nearby
from .problem import Problem
from .program import ROUNDING, Program

if TYPE_CHECKING:
    from scipy.optimize import Bounds

_NEARBY_SHARE = 0.08
"""Of the time, for a good assignment to start an aim from."""
GAP = 0.01
"""An aim that cannot be proven is held to so much above what it cannot be below: later aims,
such as few moves, may use what nobody would notice."""
_INFEASIBLE = 2
_USUAL_SHARE = 0.5
_SHARES = {"overload": 0.35, "moves": 0.85, "cord": 1.0}
"""Of what is left of the time, for an aim. Few moves are the hardest to prove."""
_NEAR_ENOUGH_SHARE = 0.4
"""Of an aim's time, for what is within the gap already: the later aims have more use for it."""
_WHOLE = ("moves",)
"""Aims that are whole numbers: what is less than one better is no better."""

Goes = Callable[[str, float], bool]
"""Told the aim and the share done; False: stop."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What was found."""

    chosen: tuple[int | None, ...]
    """Place of each load; None where it has none."""
    overload: float
    """Sum of what is over, as shares of the limits."""
    broken: int
    """Rules that single loads break where they are."""
    peak: float
    """The highest share of any circuit's rating."""
    uneven_a: float
    moves: int
    cord_m: float
    proven: bool
    gap: float
    """Greatest of all aims; 0 where every optimum is proven."""
    seconds: float
    stopped: bool = False
    gaps: tuple[tuple[str, float], ...] = ()
    """Of each aim that was reached, in their order: name and greatest share of what it comes to
    in this assignment by which it may be better, with the aims before it held as they were."""


def best(
    problem: Problem,
    most_s: float = 2.0,
    goes: Goes | None = None,
    *,
    only_whether: bool = False,
    may_drop: bool = False,
) -> Answer:
    """The best assignment there is, or the best that was found in time.

    Args:
        problem: of `make_problem`.
        most_s: time for all aims together [s]. What is not proven by then has a gap.
        goes: asked between the aims; False ends the search with what there is.
        only_whether: look no further than whether all goes without overload.
        may_drop: loads may be left out, the fewest that make the rest go.
    """
    if not problem.loads:
        return rated(problem, (), proven=True)
    import scipy.optimize  # noqa: F401  (late and slow: no part of the time for the search)

    started = time.perf_counter()
    until = started + most_s
    program = Program(problem)
    aims = program.aims(may_drop)[: 1 if only_whether else None]
    near = Nearby(program, [terms for _, terms in aims])
    chosen: Choice = tuple(load.now for load in problem.loads)
    held: list[float] = []
    reached: list[tuple[_Aim, float]] = []
    stopped = False
    for at, (name, terms) in enumerate(aims):
        if goes is not None and not goes(name, at / len(aims)):
            stopped = True
            break
        left = max(until - time.perf_counter(), 0.05)
        aim = _Aim(name, terms, left * _SHARES.get(name, _USUAL_SHARE))
        least = _least(program, aim)
        if not _reached(program, aim, chosen, least):
            chosen = near.better(chosen, held, _NEARBY_SHARE * most_s)
        chosen, value, bound = _better(program, aim, chosen, least)
        reached.append((aim, bound))
        gap = _gap(value, bound, aim.whole)
        kept = max(value, bound * (1.0 + GAP)) if 1e-6 < gap < GAP else value
        held.append(kept)
        program.hold(terms, kept)
        if name == "peak":
            _count_moves(program, kept, left)
    point = program.point(chosen)
    # Of what came out: a later aim may have used what an earlier one was not held to.
    gaps = tuple(
        (aim.name, _gap(_value(aim.terms, point), bound, aim.whole)) for aim, bound in reached
    )
    gap = max((one for _, one in gaps), default=0.0)
    proven = gap <= 1e-6 and not stopped and len(gaps) == len(aims)
    seconds = time.perf_counter() - started
    return replace(rated(problem, chosen, proven, gap, seconds, stopped), gaps=gaps)


def _count_moves(program: Program, peak: float, most_s: float) -> None:
    """Say how many loads at least have to leave, and to come to, every circuit.

    It follows from the rest, but in whole numbers: without it, fewest moves are hard to prove.
    """
    problem = program.problem
    sums = program.sums()
    for at, row in enumerate(problem.rows):
        if not row.shares or row.limit <= 0.0 or not sums[at]:
            continue
        ways, most = must_leave(problem, at, peak * row.limit)
        program.at_most(ways, most)
        least = problem.fixed[at] + _relaxed(program, sums[at], most_s / len(problem.rows))
        ways, count = must_come(problem, at, least)
        program.at_least(ways, count)


@dataclass(frozen=True, slots=True)
class _Aim:
    name: str
    terms: dict[int, float]
    most_s: float

    @property
    def whole(self) -> bool:
        return self.name in _WHOLE


def _least(program: Program, aim: _Aim) -> float:
    """What an aim cannot be below, as far as that is quick to tell."""
    least = _relaxed(program, aim.terms, aim.most_s)
    return least_peak(program.problem, least) if aim.name == "peak" else max(least, 0.0)


def _reached(program: Program, aim: _Aim, chosen: Choice, least: float) -> bool:
    return _gap(_value(aim.terms, program.point(chosen)), least, aim.whole) <= 1e-6


def _better(
    program: Program, aim: _Aim, chosen: Choice, least: float
) -> tuple[Choice, float, float]:
    """The best assignment for one aim, its value, and what no assignment is below."""
    value = _value(aim.terms, program.point(chosen))
    solved = _solve(program, aim, value, min(least, value))
    if solved.point is not None:
        other = program.chosen(solved.point)
        reached = _value(aim.terms, program.point(other))
        if reached < value:
            return other, reached, solved.bound
    return chosen, value, solved.bound


def _value(terms: dict[int, float], point: "np.ndarray[Any, Any]") -> float:
    return math.fsum(weight * float(point[at]) for at, weight in terms.items())


def _gap(value: float, bound: float, whole: bool) -> float:
    if whole:
        bound = math.ceil(bound - 1e-6)
    missed = value - bound
    return max(missed / abs(value), 0.0) if missed > 1e-6 * max(1.0, abs(value)) else 0.0


@dataclass(frozen=True, slots=True)
class _Solved:
    point: "np.ndarray[Any, Any] | None"
    bound: float
    """What no assignment is below."""


def _solve(program: Program, aim: _Aim, known: float, least: float) -> _Solved:
    """Better one aim, of which a value is known to be reached, or prove that nothing is better."""
    from scipy.optimize import milp

    terms, whole = aim.terms, aim.whole
    gap = _gap(known, least, whole)
    if known <= 1e-9 or gap <= 1e-6:  # no aim goes below nothing
        return _Solved(None, least)
    lower = np.zeros(program.count)
    if aim.name == "peak":
        lower[program.peak] = least
    integral = np.zeros(program.count)
    integral[: program.over] = 1
    integral[program.none : program.peak] = 1
    also = [(terms, known - 0.5 if whole else known)]
    if aim.name == "moves":
        also += no_needless_moves(program.problem)
    result = milp(
        _cost(program, terms),
        constraints=program.constraint(*also),
        integrality=integral,
        bounds=_bounds(program, lower),
        options={
            "time_limit": aim.most_s * (_NEAR_ENOUGH_SHARE if gap < GAP else 1.0),
            "mip_rel_gap": 1e-6,
        },
    )
    if result.status == _INFEASIBLE:
        return _Solved(None, known)
    bound = result.mip_dual_bound
    bound = least if bound is None or not math.isfinite(bound) else max(bound, least)
    if result.status == 0 and result.x is not None:
        bound = result.fun
    return _Solved(result.x, float(bound))


def _relaxed(program: Program, terms: dict[int, float], most_s: float) -> float:
    """What an aim does not go below even if loads could be divided: quick, and often enough."""
    from scipy.optimize import milp

    result = milp(
        _cost(program, terms),
        constraints=program.constraint(),
        bounds=_bounds(program, np.zeros(program.count)),
        options={"time_limit": most_s},
    )
    return float(result.fun) if result.status == 0 and result.x is not None else 0.0


def _cost(program: Program, terms: dict[int, float]) -> "np.ndarray[Any, Any]":
    cost = np.zeros(program.count)
    for column, value in terms.items():
        cost[column] = value
    return cost


def _bounds(program: Program, lower: "np.ndarray[Any, Any]") -> "Bounds":
    from scipy.optimize import Bounds

    upper = np.full(program.count, np.inf)
    upper[: program.over] = 1.0
    upper[program.none : program.peak] = 1.0
    return Bounds(lower, upper)


def rated(
    problem: Problem,
    chosen: Sequence[int | None],
    proven: bool = False,
    gap: float = 0.0,
    seconds: float = 0.0,
    stopped: bool = False,
) -> Answer:
    """What an assignment comes to, counted anew from the assignment itself."""
    sums = list(problem.fixed)
    broken, moves, cord_m = 0, 0, 0.0
    circuits: dict[str, list[int]] = {}
    for way in problem.ways:
        if chosen[way.load] != way.place:
            continue
        for row, amount in way.adds:
            sums[row] += amount
        broken += len(way.breaks)
        cord_m += way.cord_m
        circuits.setdefault(problem.places[way.place].circuit, []).append(way.load)
    for load, place in zip(problem.loads, chosen, strict=True):
        moves += place is not None and place != load.now
    for circuit, loads in circuits.items():
        alone = sum(problem.loads[one].alone for one in loads)
        # Pairs of which at least one wants the circuit for itself.
        broken += math.comb(len(loads), 2) - math.comb(len(loads) - alone, 2)
        broken += alone * (circuit in problem.used_kept)
        broken += len(loads) * (circuit in problem.alone_kept)
    over = sum(
        max(total - row.limit * ROUNDING, 0.0) / row.limit
        for total, row in zip(sums, problem.rows, strict=True)
        if row.limit > 0.0
    )
    peak = max(
        (
            total / row.limit
            for total, row in zip(sums, problem.rows, strict=True)
            if row.shares and row.limit > 0.0
        ),
        default=0.0,
    )
    uneven = sum(
        max(sums[row] for row in rows) - min(sums[row] for row in rows) for rows in problem.legs
    )
    return Answer(
        tuple(chosen), over, broken, peak, uneven, moves, cord_m, proven, gap, seconds, stopped
    )
