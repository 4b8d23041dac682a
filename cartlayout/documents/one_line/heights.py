"""Heights in the columns: straight lines where they can be, and never nearer than allowed."""

import itertools
from collections.abc import Callable, Mapping, Sequence

_CHAIN, _MET, _ALONE, _LOOSE = 40.0, 4.0, 1.0, 0.05
"""How much a place counts: in a chain, beside several, beside none once the others stand."""
_SWEEPS = 9
"""Odd: the last one puts what feeds in the middle of what it feeds."""


def spread(
    wanted: Sequence[float], weights: Sequence[float], apart: Sequence[float]
) -> list[float]:
    """Places as near to the wanted ones as keeping apart allows, least squares.

    Args:
        wanted: in their order.
        weights: how much each counts.
        apart: least distance between each and the next; one fewer.

    The places less the distances before them have to rise, which is isotonic regression; blocks
    that would fall are pooled (pool adjacent violators, Barlow and others 1972).
    """
    before = [0.0]
    for one in apart:
        before.append(before[-1] + one)
    blocks: list[tuple[float, float, int]] = []  # mean, weight, count
    for at, (place, weight) in enumerate(zip(wanted, weights, strict=True)):
        block = (place - before[at], weight, 1)
        while blocks and blocks[-1][0] > block[0]:
            mean, heavy, count = blocks.pop()
            together = heavy + block[1]
            block = ((mean * heavy + block[0] * block[1]) / together, together, count + block[2])
        blocks.append(block)
    placed = [mean for mean, _, count in blocks for _ in range(count)]
    return [one + offset for one, offset in zip(placed, before, strict=True)]


def heights(
    columns: Sequence[Sequence[str]],
    pairs: Sequence[tuple[str, str]],
    extents: Mapping[str, tuple[float, float]],
    gap: float,
    ports: Mapping[tuple[str, str], float],
) -> dict[str, float]:
    """Height of the line through every part and stand-in, positive downwards.

    Args:
        columns: keys from the left, each column from the top.
        pairs: keys that a line joins, each in the column before the other.
        extents: how far each reaches above and below its line.
        gap: least distance between what stands one above the other.
        ports: of pairs, how far under the middle of the second the line comes in.
    """
    after: dict[str, list[str]] = {}
    before: dict[str, list[str]] = {}
    for a, b in pairs:
        after.setdefault(a, []).append(b)
        before.setdefault(b, []).append(a)
    if max(map(len, before.values()), default=0) <= 1:
        return _tree(columns, after, extents, gap)
    if max(map(len, after.values()), default=0) <= 1:
        return _tree(columns[::-1], before, extents, gap)
    return _settled(columns, after, before, ports, extents, gap)


def _tree(
    columns: Sequence[Sequence[str]],
    after: Mapping[str, list[str]],
    extents: Mapping[str, tuple[float, float]],
    gap: float,
) -> dict[str, float]:
    """Every parent half-way between its first and its last child, as Reingold and Tilford (1981).

    A branch is moved down as a whole until it keeps its distance in every column.
    """
    place = {key: at for column in columns for at, key in enumerate(column)}
    found: dict[str, float] = {}
    members: dict[str, list[str]] = {}
    floors: dict[str, dict[int, float]] = {}
    tops: dict[str, dict[int, float]] = {}
    for rank in range(len(columns) - 1, -1, -1):
        for key in columns[rank]:
            children = sorted(after.get(key, ()), key=lambda one: place[one])
            own: list[str] = []
            floor: dict[int, float] = {}
            top: dict[int, float] = {}
            for child in children:
                _below(child, found, members, floors, tops, floor, top, gap)
                own += members[child]
            middle = (found[children[0]] + found[children[-1]]) / 2 if children else 0.0
            found[key] = middle
            members[key] = [key, *own]
            up, down = extents[key]
            floors[key] = floor | {rank: middle + down}
            tops[key] = top | {rank: middle - up}
    floor, top = {}, {}
    for key in columns[0] if columns else ():
        _below(key, found, members, floors, tops, floor, top, gap)
    return found


def _below(
    branch: str,
    found: dict[str, float],
    members: Mapping[str, list[str]],
    floors: Mapping[str, dict[int, float]],
    tops: Mapping[str, dict[int, float]],
    floor: dict[int, float],
    top: dict[int, float],
    gap: float,
) -> None:
    """Put a branch under what stands above it; `floor` and `top` then hold it too."""
    down = max(
        (floor[rank] + gap - high for rank, high in tops[branch].items() if rank in floor),
        default=0.0,
    )
    for key in members[branch]:
        found[key] += down
    for rank, low in floors[branch].items():
        floor[rank] = low + down
        top.setdefault(rank, tops[branch][rank] + down)


def _settled(
    columns: Sequence[Sequence[str]],
    after: Mapping[str, list[str]],
    before: Mapping[str, list[str]],
    ports: Mapping[tuple[str, str], float],
    extents: Mapping[str, tuple[float, float]],
    gap: float,
) -> dict[str, float]:
    """Where lines part and join: every column in turn moved towards its neighbours."""
    found: dict[str, float] = {}
    for column in columns:
        y = 0.0
        for key in column:
            up, down = extents[key]
            found[key] = y + up
            y += up + down + gap
    count = len(columns)

    def shift(key: str, other: str) -> float:
        """By how much a key stands under another where their line is level."""
        return ports.get((key, other), 0.0) - ports.get((other, key), 0.0)

    for sweep in range(_SWEEPS):
        for at in range(count)[:: 1 if sweep % 2 else -1]:
            near, back = (before, after) if sweep % 2 else (after, before)
            _settle(columns[at], near, back, shift, found, extents, gap, sweep > 0)
    return found


def _settle(
    column: Sequence[str],
    near: Mapping[str, list[str]],
    back: Mapping[str, list[str]],
    shift: Callable[[str, str], float],
    found: dict[str, float],
    extents: Mapping[str, tuple[float, float]],
    gap: float,
    keep: bool,
) -> None:
    """Move a column's keys towards the mean of their neighbours."""
    if not column:
        return
    wanted, weights = [], []
    for key in column:
        others = near.get(key, [])
        if len(others) == 1 and len(back.get(others[0], ())) == 1:
            weights.append(_CHAIN)  # rather move the others than bend it
        else:
            weights.append(_MET if others else _ALONE if keep else _LOOSE)
        places = [found[one] + shift(key, one) for one in others]
        wanted.append(sum(places) / len(places) if places else found[key])
    apart = [extents[one][1] + gap + extents[other][0] for one, other in itertools.pairwise(column)]
    found.update(zip(column, spread(wanted, weights, apart), strict=True))
