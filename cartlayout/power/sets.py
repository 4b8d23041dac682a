"""Which loads together are too much, and which to take off."""

from collections.abc import Sequence
from itertools import combinations

Named = tuple[str, float]
"""(item id, amps)."""

_MOST_LOADS = 16
_MOST_SETS = 6


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
    ordered = _heaviest(loads)
    for size in range(1, len(ordered) + 1):
        found = [
            chosen
            for chosen in combinations(ordered, size)
            if total - sum(amps for _, amps in chosen) <= limit_a
        ]
        if found:
            found.sort(key=lambda chosen: sum(amps for _, amps in chosen))
            return tuple(tuple(name for name, _ in chosen) for chosen in found[:_MOST_SETS])
    return ()


def smallest_overloads(loads: Sequence[Named], limit_a: float) -> tuple[tuple[str, ...], ...]:
    """The smallest sets of loads that are over a limit when they are on together.

    Sets of which a part would do are left out.

    >>> smallest_overloads([("urn", 12.0), ("kettle", 12.5), ("lights", 0.5)], 20.0)
    (('kettle', 'urn'),)
    """
    found: list[tuple[str, ...]] = []
    ordered = _heaviest(loads)
    for size in range(1, min(len(ordered), 5) + 1):
        for chosen in combinations(ordered, size):
            if sum(amps for _, amps in chosen) <= limit_a:
                continue
            names = tuple(name for name, _ in chosen)
            if not any(set(smaller) <= set(names) for smaller in found):
                found.append(names)
            if len(found) >= _MOST_SETS:
                return tuple(found)
    if not found and sum(amps for _, amps in ordered) > limit_a:
        found.append(tuple(name for name, _ in ordered))
    return tuple(found)


def _heaviest(loads: Sequence[Named]) -> list[Named]:
    """The loads worth trying: a set of many is made of the heaviest."""
    return sorted(loads, key=lambda load: (-load[1], load[0]))[:_MOST_LOADS]
