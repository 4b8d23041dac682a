"""The assignment as a mixed-integer program: variables, rows, aims.

Aims are solved one after the other, each with the earlier ones held; see `optimum`.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from .problem import Problem

if TYPE_CHECKING:
    from scipy.optimize import LinearConstraint

HELD = 1e-6
"""By so much an earlier aim may be missed for a later one; rounding, no more."""
_UNPLUGGED = 1e3
"""Worth of a load that has a place at all, in overloads of a whole circuit."""
_BROKEN = 10.0
"""Worth of a rule that one load breaks in one place, in the same."""
ROUNDING = 1.005
"""Nameplates are rounded; a limit holds up to this (see `power.limits_check`)."""


@dataclass(slots=True)
class Program:
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
    rounding: float = ROUNDING

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
        self._add(terms, -math.inf, value + HELD * max(1.0, abs(value)))

    def at_most(self, ways: Sequence[int], count: int) -> None:
        """No more than so many of some ways are taken."""
        self._add(dict.fromkeys(ways, 1.0), -math.inf, float(count))

    def at_least(self, ways: Sequence[int], count: int) -> None:
        """So many of some ways are taken at the least."""
        self._add(dict.fromkeys(ways, 1.0), float(count), math.inf)

    def constraint(self, *also: tuple[dict[int, float], float]) -> "LinearConstraint":
        """All rows as scipy takes them, and sums that stay at or below a number."""
        from scipy.optimize import LinearConstraint
        from scipy.sparse import csr_array

        at, columns, values = [], [], []
        for row, terms in enumerate((*self.rows, *(terms for terms, _ in also))):
            for column, value in terms.items():
                at.append(row)
                columns.append(column)
                values.append(value)
        shape = (len(self.rows) + len(also), self.count)
        return LinearConstraint(
            csr_array((values, (at, columns)), shape=shape),
            [*self.low, *(-math.inf for _ in also)],
            [*self.high, *(most for _, most in also)],
        )

    # --- an assignment as a point ------------------------------------------------------------

    def point(self, chosen: Sequence[int | None]) -> "np.ndarray[Any, Any]":
        """Every variable as small as an assignment allows."""
        problem = self.problem
        found = np.zeros(self.count)
        sums = list(problem.fixed)
        for at, way in enumerate(problem.ways):
            if chosen[way.load] == way.place:
                found[at] = 1.0
                for to, amount in way.adds:
                    sums[to] += amount
        for load, place in enumerate(chosen):
            found[self.none + load] = float(place is None)
        for at, (one, other) in enumerate(self.pairs):
            found[self.alone + at] = max(found[one] + found[other] - 1.0, 0.0)
        for at, row in enumerate(problem.rows):
            found[self.over + at] = max(sums[at] - row.limit * ROUNDING, 0.0)
            if row.shares and row.limit > 0.0:
                found[self.peak] = max(found[self.peak], sums[at] / row.limit)
        for group, rows in enumerate(problem.legs):
            legs = [sums[row] for row in rows]
            found[self.uneven + group] = max(legs) - min(legs)
        return found

    def chosen(self, point: "np.ndarray[Any, Any]") -> tuple[int | None, ...]:
        """The assignment of a point."""
        found: list[int | None] = [None] * len(self.problem.loads)
        for at, way in enumerate(self.problem.ways):
            if point[at] > 0.5:
                found[way.load] = way.place
        return tuple(found)
