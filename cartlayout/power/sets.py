"""Which loads together are too much, and which to take off."""

from collections.abc import Sequence
from itertools import combinations, islice
from math import comb

Named = tuple[str, float]
"""(item id, amps)."""

_MOST_SETS = 6
_MOST_TRIED = 2000
"""Sets of one size to look through; with more, only the heaviest loads are named."""


def smallest_removals(loads: Sequence[Named], limit_a: float) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of loads to take off so that the rest is within a limit.

    All of the returned sets have the same number of loads; those that take
    off the least come first. Empty if nothing needs to go.

    >>> smallest_removals([("urn", 8.5), ("kettle", 6.3), ("warmer", 5.8)], 20.0)
    (('warmer',), ('kettle',), ('urn',))
    """
    total = sum(amps for _, amps in loads)
    if total <= limit_a:
        return ()
    ordered = _heaviest_first(loads)
    size, taken = 0, 0.0
    while total - taken > limit_a and size < len(ordered):
        taken += ordered[size][1]
        size += 1
    if comb(len(ordered), size) > _MOST_TRIED:
        return (_names(ordered[:size]),)
    found = [chosen for chosen in combinations(ordered, size) if total - _sum(chosen) <= limit_a]
    found.sort(key=_sum)
    return tuple(_names(chosen) for chosen in found[:_MOST_SETS])


def smallest_overloads(loads: Sequence[Named], limit_a: float) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of loads that are over a limit when they are on together.

    Sets of which a part would do are left out, and so are sets of two loads
    more than the smallest.

    >>> smallest_overloads([("urn", 12.0), ("kettle", 12.5), ("lights", 0.5)], 20.0)
    (('kettle', 'urn'),)
    """
    ordered = _heaviest_first(loads)
    size = next(
        (size for size in range(1, len(ordered) + 1) if _sum(ordered[:size]) > limit_a), None
    )
    if size is None:
        return ()
    if comb(len(ordered), size) > _MOST_TRIED:
        return (_names(ordered[:size]),)
    found: list[tuple[str, ...]] = []
    for count in (size, size + 1):
        for chosen in islice(combinations(ordered, count), _MOST_TRIED):
            names = _names(chosen)
            if _sum(chosen) > limit_a and not any(set(one) <= set(names) for one in found):
                found.append(names)
            if len(found) >= _MOST_SETS:
                return tuple(found)
    return tuple(found)


def _heaviest_first(loads: Sequence[Named]) -> list[Named]:
    return sorted(loads, key=lambda load: (-load[1], load[0]))


def _sum(loads: Sequence[Named]) -> float:
    return sum(amps for _, amps in loads)


def _names(loads: Sequence[Named]) -> tuple[str, ...]:
    return tuple(name for name, _ in loads)
