"""A good assignment found quickly: loads moved and swapped one step at a time.

The mixed-integer program starts from it and has to prove it or better it. Steps are judged by the
same aims in the same order; between steps of equal peak the one that evens all circuits is taken,
since that is what a lower peak comes from.
"""

import random
import time
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from .program import HELD, Program

Choice = tuple[int | None, ...]
Reals = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

_KICKS_A_LOAD = 5
"""Times a load that the best is shaken and improved again, as far as the time goes."""
_KICKED = 3
"""Steps that a shake takes wherever they lead."""


class Nearby:
    """Steps from one assignment to the next.

    Inside, a load always has a way: one of the problem's, or the last of its own, which is to
    stay unplugged.
    """

    def __init__(self, program: Program, aims: Sequence[dict[int, float]]) -> None:
        problem = program.problem
        self.program = program
        loads, ways = len(problem.loads), len(problem.ways)
        self.aims = np.zeros((program.count, len(aims)))
        for column, terms in enumerate(aims):
            for at, value in terms.items():
                self.aims[at, column] = value
        self.load_of = np.array([*(way.load for way in problem.ways), *range(loads)], dtype=np.intp)
        out = len(problem.places)
        self.place_of = np.array(
            [*(way.place for way in problem.ways), *[out] * loads], dtype=np.intp
        )
        self.way_at = np.full((loads, out + 1), -1, dtype=np.intp)
        self.way_at[self.load_of, self.place_of] = np.arange(ways + loads)
        self.room = np.array(
            [*(len(place.nodes) for place in problem.places), loads], dtype=np.intp
        )
        self.adds: Reals = np.zeros((ways + loads, len(problem.rows)))
        for at, way in enumerate(problem.ways):
            for row, amount in way.adds:
                self.adds[at, row] += amount
        none = self.aims[program.none : program.none + loads]
        self.worth = np.vstack([self.aims[:ways], none])
        self.fixed = np.array(problem.fixed)
        self.limits = np.array([row.limit for row in problem.rows])
        self.shared = np.flatnonzero([row.shares and row.limit > 0.0 for row in problem.rows])
        self.beside = np.zeros((ways + loads, ways + loads))
        for one, other in program.pairs:
            self.beside[one, other] = self.beside[other, one] = 1.0
        self.beside_worth = self.aims[program.alone : program.peak].max(axis=0, initial=0.0)
        self.one, self.other = np.triu_indices(loads, 1)

    def better(self, start: Choice, held: Sequence[float], most_s: float) -> Choice:
        """The best that is found from an assignment, and from a fresh one.

        Args:
            start: an assignment.
            held: what each of the first aims need not be better than.
            most_s: time for it [s].
        """
        until = time.perf_counter() + most_s
        begun = self._inside(start)
        best = self._best_of(held, begun, self._down(begun, held, until))
        if not held:
            best = self._best_of(held, best, self._down(self._fresh(held), held, until))
        now = self._inside([load.now for load in self.program.problem.loads])
        best = self._best_of(held, best, self._down(now, held, until))
        rng = random.Random(1)
        for kick in range(_KICKS_A_LOAD * len(start)):
            if time.perf_counter() > until:
                break
            # Once the peak is held few moves are wanted, and those begin where everything is now.
            begin = now if held and kick % 2 else best
            best = self._best_of(held, best, self._down(self._kicked(begin, rng), held, until))
        places = self.place_of[best]
        out = len(self.room) - 1
        return tuple(None if place == out else int(place) for place in places)

    def _inside(self, places: Sequence[int | None]) -> Ints:
        """Those with no such way, or no room any more, are unplugged."""
        out = len(self.room) - 1
        counts = [0] * (out + 1)
        chosen = []
        for load, place in enumerate(places):
            at = out if place is None else place
            way = int(self.way_at[load, at])
            if way < 0 or counts[at] >= self.room[at]:
                at, way = out, int(self.way_at[load, out])
            counts[at] += 1
            chosen.append(way)
        return np.array(chosen, dtype=np.intp)

    def _fresh(self, held: Sequence[float]) -> Ints:
        """The heaviest load first, each where it does the least harm."""
        loads = self.program.problem.loads
        chosen = self.way_at[:, -1].copy()
        for load in sorted(range(len(loads)), key=lambda at: -loads[at].rated_a):
            steps = self._moves(chosen)
            steps = steps[self.load_of[steps] == load]
            steps = np.concatenate([chosen[[load]], steps])
            table = np.tile(chosen, (len(steps), 1))
            table[:, load] = steps
            chosen = table[self._first(self._whole(table), held)]
        return chosen

    def _best_of(self, held: Sequence[float], one: Ints, other: Ints) -> Ints:
        table = np.stack([one, other])
        found: Ints = table[self._first(self._whole(table, above=None), held)]
        return found

    def _down(self, chosen: Ints, held: Sequence[float], until: float) -> Ints:
        chosen = chosen.copy()
        peak = held[1] if len(held) > 1 else 0.0
        for above in (peak, None):
            while time.perf_counter() < until:
                moves, swaps = self._moves(chosen), self._swaps(chosen)
                found = self._first(self._steps(chosen, moves, swaps, above), held)
                if found == 0:
                    break
                self._take(chosen, moves, swaps, found - 1)
        return chosen

    def _kicked(self, best: Ints, rng: random.Random) -> Ints:
        chosen = best.copy()
        out = len(self.room) - 1
        for _ in range(_KICKED):
            moves, swaps = self._moves(chosen), self._swaps(chosen)
            moves = moves[self.place_of[moves] != out]
            if len(moves) + len(swaps):
                self._take(chosen, moves, swaps, rng.randrange(len(moves) + len(swaps)))
        return chosen

    # --- steps -------------------------------------------------------------------------------

    def _moves(self, chosen: Ints) -> Ints:
        """Ways that one load could take instead of its own."""
        counts = np.bincount(self.place_of[chosen], minlength=len(self.room))
        free = counts < self.room
        free[-1] = True
        allowed = free[self.place_of]
        allowed[chosen] = False
        return np.flatnonzero(allowed)

    def _swaps(self, chosen: Ints) -> Ints:
        """Pairs of loads in each other's place: (load, load, way, way) a row."""
        here, there = self.place_of[chosen[self.one]], self.place_of[chosen[self.other]]
        to_there = self.way_at[self.one, there]
        to_here = self.way_at[self.other, here]
        ok = (here != there) & (to_there >= 0) & (to_here >= 0)
        rows: Ints = np.stack([self.one[ok], self.other[ok], to_there[ok], to_here[ok]], axis=1)
        return rows

    def _take(self, chosen: Ints, moves: Ints, swaps: Ints, at: int) -> None:
        if at < len(moves):
            chosen[self.load_of[moves[at]]] = moves[at]
        else:
            one, other, way, back = swaps[at - len(moves)]
            chosen[one], chosen[other] = way, back

    # --- judging -----------------------------------------------------------------------------

    def _steps(self, chosen: Ints, moves: Ints, swaps: Ints, above: float | None) -> Reals:
        """Scores of staying, of every move and of every swap."""
        left = chosen[self.load_of[moves]]
        one, other = chosen[swaps[:, 0]], chosen[swaps[:, 1]]
        way, back = swaps[:, 2], swaps[:, 3]
        adds, worth = self.adds, self.worth
        sums = self.fixed + adds[chosen].sum(axis=0)
        sums = np.vstack(
            [
                sums,
                sums + adds[moves] - adds[left],
                sums + adds[way] - adds[one] + adds[back] - adds[other],
            ]
        )
        plain = worth[chosen].sum(axis=0)
        plain = np.vstack(
            [
                plain,
                plain + worth[moves] - worth[left],
                plain + worth[way] - worth[one] + worth[back] - worth[other],
            ]
        )
        if self.program.pairs:
            plain += self._beside(chosen, moves, left, one, other, way, back)
        return self._scores(sums, plain, above)

    def _beside(self, chosen: Ints, moves: Ints, left: Ints, *pairs: Ints) -> Reals:
        """What loads that want their circuits for themselves cost after each step."""
        one, other, way, back = pairs
        beside = self.beside
        met = beside[:, chosen].sum(axis=1)
        now = met[chosen].sum() / 2.0
        moved = now + met[moves] - beside[moves, left] - met[left]
        swapped = (
            now
            - (met[one] + met[other] - beside[one, other])
            + (met[way] - beside[way, one] - beside[way, other])
            + (met[back] - beside[back, one] - beside[back, other])
            + beside[way, back]
        )
        count: Reals = np.concatenate([[now], moved, swapped])
        cost: Reals = count[:, None] * self.beside_worth
        return cost

    def _whole(self, table: Ints, above: float | None = 0.0) -> Reals:
        """Scores of whole assignments."""
        sums = self.fixed + self.adds[table].sum(axis=1)
        plain = self.worth[table].sum(axis=1)
        if self.program.pairs:
            met = [float(self.beside[np.ix_(row, row)].sum()) / 2.0 for row in table]
            plain = plain + np.array(met)[:, None] * self.beside_worth
        return self._scores(sums, plain, above)

    def _scores(self, sums: Reals, plain: Reals, above: float | None) -> Reals:
        """One row a step: the aims in their order.

        If `above` is a share, how uneven the circuits are above it stands before the later aims.
        """
        program, aims = self.program, self.aims
        over = np.maximum(sums - self.limits * program.rounding, 0.0)
        values = plain + over @ aims[program.over : program.none]
        shares = sums[:, self.shared] / self.limits[self.shared]
        values += np.max(shares, axis=1, initial=0.0)[:, None] * aims[program.peak]
        for group, rows in enumerate(program.problem.legs):
            legs = sums[:, list(rows)]
            spread = legs.max(axis=1) - legs.min(axis=1)
            values += spread[:, None] * aims[program.uneven + group]
        if above is not None and values.shape[1] > 1:
            evenness = np.sum(np.maximum(shares - above, 0.0) ** 2, axis=1)[:, None]
            values = np.hstack([values[:, :2], evenness, values[:, 2:]])
        found: Reals = values
        return found

    def _first(self, scores: Reals, held: Sequence[float]) -> int:
        """The option that is best; of equal ones the first."""
        left = np.arange(len(scores))
        for column, values in enumerate(scores.T):
            mine = values[left]
            if column < len(held):
                mine = np.maximum(mine, held[column])
            least = mine.min()
            left = left[mine <= least + HELD * max(1.0, abs(least))]
            if len(left) == 1:
                break
        return int(left[0])
