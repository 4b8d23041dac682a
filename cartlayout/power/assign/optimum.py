"""The best assignment, aim by aim: each is made as good as the ones before it allow.

A mixed-integer program for scipy's HiGHS, solved once for each aim with the earlier ones held:
no overload and no rule broken; lowest peak share; legs even; fewest moves; least cord. HiGHS
proves its optimum or says how far from it the answer may still be.
"""

import math
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from .problem import Problem

if TYPE_CHECKING:
    from scipy.optimize import LinearConstraint

GAP = 0.01
_HELD = 1e-6
"""By so much an earlier aim may be missed for a later one; rounding, no more."""
_UNPLUGGED = 1e3
"""Worth of a load that has a place at all, in overloads of a whole circuit."""
_BROKEN = 10.0
"""Worth of a rule that one load breaks in one place, in the same."""
ROUNDING = 1.005
"""Nameplates are rounded; a limit holds up to this (see `power.limits_check`)."""

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


@dataclass(slots=True)
class _Program:
    """Variables: one a way, one overload a row, the peak share, one unevenness a group of legs."""

    problem: Problem
    count: int = field(init=False)
    over: int = field(init=False)
    peak: int = field(init=False)
    uneven: int = field(init=False)
    none: int = field(init=False)
    alone: int = field(init=False)
    rows: list[Any] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    pairs: list[tuple[int, int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        problem = self.problem
        self.pairs = self._own_circuits()
        self.over = len(problem.ways)
        self.none = self.over + len(problem.rows)
        self.alone = self.none + len(problem.loads)
        self.peak = self.alone + len(self.pairs)
        self.uneven = self.peak + 1
        self.count = self.uneven + len(problem.legs)
        self._one_place_each()
        self._room_in_places()
        self._limits()
        self._legs()
        for at, (one, other) in enumerate(self.pairs):
            self._add({one: 1.0, other: 1.0, self.alone + at: -1.0}, -math.inf, 1.0)

    def _own_circuits(self) -> list[tuple[int, int]]:
        """Pairs of ways that would put a load beside one that wants its circuit for itself."""
        problem = self.problem
        pairs = []
        for at, one in enumerate(problem.ways):
            if not problem.loads[one.load].alone:
                continue
            for beside, other in enumerate(problem.ways):
                same = problem.places[one.place].circuit == problem.places[other.place].circuit
                if (
                    same
                    and other.load != one.load
                    and (beside > at or not problem.loads[other.load].alone)
                ):
                    pairs.append((at, beside))
        return pairs

    def _add(self, terms: dict[int, float], low: float, high: float) -> None:
        self.rows.append(terms)
        self.low.append(low)
        self.high.append(high)

    def _one_place_each(self) -> None:
        for load in range(len(self.problem.loads)):
            terms = {at: 1.0 for at, way in enumerate(self.problem.ways) if way.load == load}
            terms[self.none + load] = 1.0
            self._add(terms, 1.0, 1.0)

    def _room_in_places(self) -> None:
        for at, place in enumerate(self.problem.places):
            terms = {way: 1.0 for way, one in enumerate(self.problem.ways) if one.place == at}
            if len(terms) > len(place.nodes):
                self._add(terms, -math.inf, float(len(place.nodes)))

    def _limits(self) -> None:
        terms = self.sums()
        for at, row in enumerate(self.problem.rows):
            allowed, fixed = row.limit * ROUNDING, self.problem.fixed[at]
            self._add(terms[at] | {self.over + at: -1.0}, -math.inf, allowed - fixed)
            if row.shares and row.limit > 0.0:
                self._add(terms[at] | {self.peak: -row.limit}, -math.inf, -fixed)

    def sums(self) -> list[dict[int, float]]:
        """What every way adds to every row."""
        terms: list[dict[int, float]] = [{} for _ in self.problem.rows]
        for way, one in enumerate(self.problem.ways):
            for row, amount in one.adds:
                terms[row][way] = terms[row].get(way, 0.0) + amount
        return terms

    def _legs(self) -> None:
        sums, fixed = self.sums(), self.problem.fixed
        for group, rows in enumerate(self.problem.legs):
            for one in rows:
                for other in rows:
                    if one == other:
                        continue
                    terms = dict(sums[one])
                    for way, amount in sums[other].items():
                        terms[way] = terms.get(way, 0.0) - amount
                    terms[self.uneven + group] = -1.0
                    self._add(terms, -math.inf, fixed[other] - fixed[one])

    # --- aims --------------------------------------------------------------------------------

    def aims(self, may_drop: bool = False) -> list[tuple[str, dict[int, float]]]:
        """Name of each aim and what it adds up; the first is that nothing is over or broken.

        Args:
            may_drop: whether a load may be left out to reach that, the fewest and lightest.
        """
        problem = self.problem
        left_out = {
            self.none + at: 1e-3 + 1e-6 * load.rated_a if may_drop else _UNPLUGGED
            for at, load in enumerate(problem.loads)
        }
        first = {
            self.over + at: 1.0 / row.limit for at, row in enumerate(problem.rows) if row.limit
        }
        first |= left_out
        first |= {self.alone + at: _BROKEN for at in range(len(self.pairs))}
        moves: dict[int, float] = {}
        cord: dict[int, float] = {}
        for at, way in enumerate(problem.ways):
            place, load = problem.places[way.place], problem.loads[way.load]
            broken = len(way.breaks)
            if place.circuit in problem.alone_kept:
                broken += 1
            if load.alone and place.circuit in problem.used_kept:
                broken += 1
            if broken:
                first[at] = first.get(at, 0.0) + _BROKEN * broken
            if way.place != load.now:
                moves[at] = 1.0
            cord[at] = way.cord_m
        legs = {self.uneven + group: 1.0 for group in range(len(problem.legs))}
        aims = [("overload", first), ("peak", {self.peak: 1.0})]
        if legs:
            aims.append(("legs", legs))
        return [*aims, ("moves", moves), ("cord", cord)]

    def hold(self, terms: dict[int, float], value: float) -> None:
        """Never let an aim be worse than this again."""
        self._add(terms, -math.inf, value + _HELD * max(1.0, abs(value)))

    def constraint(self) -> "LinearConstraint":
        """All rows as scipy takes them."""
        from scipy.optimize import LinearConstraint
        from scipy.sparse import csr_array

        at, columns, values = [], [], []
        for row, terms in enumerate(self.rows):
            for column, value in terms.items():
                at.append(row)
                columns.append(column)
                values.append(value)
        shape = (len(self.rows), self.count)
        return LinearConstraint(
            csr_array((values, (at, columns)), shape=shape), self.low, self.high
        )


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
    started = time.perf_counter()
    program = _Program(problem)
    found: np.ndarray[Any, Any] | None = None
    gap, stopped = 0.0, False
    aims = program.aims(may_drop)[: 1 if only_whether else None]
    for at, (name, terms) in enumerate(aims):
        if goes is not None and not goes(name, at / len(aims)):
            stopped = True
            break
        left = max(most_s - (time.perf_counter() - started), 0.05) / (len(aims) - at)
        solved = _solve(program, terms, left if at else max(left, 0.5 * most_s))
        if solved is None:
            gap = max(gap, 1.0)
            break
        found, value, missed = solved
        gap = max(gap, missed)
        program.hold(terms, value)
    return _answer(problem, program, found, gap, time.perf_counter() - started, stopped)


def _solve(
    program: _Program, terms: dict[int, float], most_s: float
) -> "tuple[np.ndarray[Any, Any], float, float] | None":
    from scipy.optimize import Bounds, milp

    cost = np.zeros(program.count)
    for column, value in terms.items():
        cost[column] = value
    whole = np.zeros(program.count)
    whole[: program.over] = 1
    whole[program.none : program.peak] = 1
    upper = np.full(program.count, np.inf)
    upper[: program.over] = 1.0
    upper[program.none : program.peak] = 1.0
    result = milp(
        cost,
        constraints=program.constraint(),
        integrality=whole,
        bounds=Bounds(0.0, upper),
        options={"time_limit": most_s, "mip_rel_gap": 1e-6},
    )
    if result.x is None:
        return None
    missed = 0.0 if result.status == 0 else float(getattr(result, "mip_gap", 1.0) or 0.0)
    return result.x, float(result.fun), missed


def _answer(
    problem: Problem,
    program: _Program,
    found: "np.ndarray[Any, Any] | None",
    gap: float,
    seconds: float,
    stopped: bool,
) -> Answer:
    chosen: list[int | None] = [None] * len(problem.loads)
    if found is not None:
        for at, way in enumerate(problem.ways):
            if found[at] > 0.5:
                chosen[way.load] = way.place
    else:
        chosen = [load.now for load in problem.loads]
    return rated(
        problem, chosen, found is not None and gap <= 1e-6 and not stopped, gap, seconds, stopped
    )


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
        others = len(loads) - 1 + (circuit in problem.used_kept)
        broken += alone * others if others else 0
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
