"""What no assignment gets below, since loads do not come in halves."""

from collections.abc import Iterable, Iterator

import numpy as np
import numpy.typing as npt

from .problem import Problem, Way

_MOST_SUMS = 20_000
"""Different sums of a circuit's loads beyond which they lie too close to tell anything."""
_DIGITS = 7
_SAME = 1e-6


def least_peak(problem: Problem, relaxed: float) -> float:
    """The lowest peak share that is no less than a bound and that some loads together make.

    The peak is the share of one circuit, and that is what its own loads add up to: of all such
    sums the least that reaches the bound.

    Args:
        problem: the loads, where they can go and what they add.
        relaxed: a bound of the peak share, for loads that could be divided.
    """
    amounts: list[list[float]] = [[] for _ in problem.rows]
    for way in problem.ways:
        for to, amount in way.adds:
            amounts[to].append(amount)
    known: dict[tuple[float, ...], float | None] = {}
    found = []
    for at, row in enumerate(problem.rows):
        if not row.shares or row.limit <= 0.0:
            continue
        key = (row.limit, problem.fixed[at], *sorted(amounts[at]))
        if key not in known:
            known[key] = _least_sum(problem.fixed[at], amounts[at], relaxed * row.limit)
        least = known[key]
        if least is not None:
            found.append(least / row.limit)
    return max(min(found, default=relaxed), relaxed)


def _least_sum(fixed: float, amounts: list[float], bound: float) -> float | None:
    """The least of what is fixed and any of the amounts together that is not below a bound."""
    total = fixed + sum(amounts)
    if total < bound - _SAME:
        return None
    sums: npt.NDArray[np.float64] = np.array([fixed])
    for amount in amounts:
        sums = np.unique(np.round(np.concatenate([sums, sums + amount]), _DIGITS))
        if len(sums) > _MOST_SUMS:
            return bound
    return float(sums[np.searchsorted(sums, bound - _SAME)]) if len(sums) else None


def must_leave(problem: Problem, row: int, most: float) -> tuple[list[int], int]:
    """Ways by which loads that are behind a row stay behind it, and how many of them may.

    Args:
        problem: with the loads where they are now.
        row: whose sum has to come down to at most `most`.
        most: the sum that is left, in the row's own unit.
    """
    here = _now_behind(problem, row)
    ways = [at for at, way in enumerate(problem.ways) if way.load in here and _adds(way, row)]
    excess = problem.fixed[row] + sum(here.values()) - most
    return ways, len(here) - _fewest(excess, here.values())


def must_come(problem: Problem, row: int, least: float) -> tuple[list[int], int]:
    """Ways by which loads from elsewhere come behind a row, and how many of them have to.

    Args:
        problem: with the loads where they are now.
        row: whose sum has to come up to at least `least`.
        least: the sum that is needed there, in the row's own unit.
    """
    here = _now_behind(problem, row)
    coming: dict[int, float] = {}
    ways = []
    for at, way in enumerate(problem.ways):
        amount = _adds(way, row)
        if way.load not in here and amount:
            ways.append(at)
            coming[way.load] = max(coming.get(way.load, 0.0), amount)
    lacking = least - problem.fixed[row] - sum(here.values())
    return ways, _fewest(lacking, coming.values())


def _now_behind(problem: Problem, row: int) -> dict[int, float]:
    return {
        way.load: amount
        for way in problem.ways
        if way.place == problem.loads[way.load].now and (amount := _adds(way, row))
    }


def _adds(way: Way, row: int) -> float:
    return sum(amount for at, amount in way.adds if at == row)


def _fewest(needed: float, amounts: Iterable[float]) -> int:
    """How many of the largest amounts reach what is needed, if all together do."""
    count = 0
    for amount in sorted(amounts, reverse=True):
        if needed <= _SAME:
            break
        needed -= amount
        count += 1
    return count


def no_needless_moves(problem: Problem) -> Iterator[tuple[dict[int, float], float]]:
    """Rows (what each way counts, the most) that keep fewest moves and spare trying them twice.

    Of loads that are alike and in one place, the first leaves first; two that are alike never
    change places. Which of them moves is then left to the way of the cords.
    """
    at = {(way.load, way.place): index for index, way in enumerate(problem.ways)}
    groups: dict[object, list[int]] = {}
    for load, one in enumerate(problem.loads):
        ways = tuple((w.place, w.adds, w.breaks) for w in problem.ways if w.load == load)
        if one.now is not None and (load, one.now) in at:
            groups.setdefault((one.alone, ways), []).append(load)
    for alike in groups.values():
        for number, load in enumerate(alike):
            for other in alike[number + 1 :]:
                here, there = problem.loads[load].now, problem.loads[other].now
                assert here is not None
                assert there is not None
                if here == there:
                    yield {at[load, here]: 1.0, at[other, here]: -1.0}, 0.0
                else:
                    yield {at[load, there]: 1.0, at[other, here]: 1.0}, 1.0
