"""What a way asks of a tube: how often it bends, how far it climbs, how tight it gets."""

import itertools
import math
from collections.abc import Sequence

from ...build.geometry import XYZ

_NOTHING_M = 1e-9
PLAY_M = 0.006
"""A step so small is no bend: the tube gives. Common practice, no source."""


def cleaned(points: Sequence[XYZ], *, keep_spurs: bool = False) -> tuple[XYZ, ...]:
    """Drop corners that stand on each other or on a straight line, and tips of spurs.

    Args:
        points: corners of a square way.
        keep_spurs: leave in what goes somewhere and straight back: a person wants it there.
    """
    kept: list[XYZ] = []
    for point in points:
        if kept and math.dist(kept[-1], point) < _NOTHING_M:
            continue
        if (
            len(kept) > 1
            and _in_line(kept[-2], kept[-1], point)
            and not (keep_spurs and _turns_back(kept[-2], kept[-1], point))
        ):
            kept.pop()
            if math.dist(kept[-1], point) < _NOTHING_M:
                continue
        kept.append(point)
    return tuple(kept) if len(kept) > 1 else (points[0], points[-1])


def _in_line(a: XYZ, b: XYZ, c: XYZ) -> bool:
    """Whether three points lie on one line along an axis, in whatever order."""
    differ = [
        axis
        for axis in range(3)
        if abs(a[axis] - b[axis]) > _NOTHING_M or abs(b[axis] - c[axis]) > _NOTHING_M
    ]
    return len(differ) <= 1


def _turns_back(a: XYZ, b: XYZ, c: XYZ) -> bool:
    return sum((b[axis] - a[axis]) * (c[axis] - b[axis]) for axis in range(3)) < 0


def length_of(points: Sequence[XYZ]) -> float:
    """Along the way, in metres."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


def climbs(points: Sequence[XYZ]) -> float:
    """Metres up and down taken together."""
    return sum(abs(b[2] - a[2]) for a, b in itertools.pairwise(points))


def first_climb(points: Sequence[XYZ]) -> int | None:
    """Index of the first point that the way leaves upright."""
    for at, (a, b) in enumerate(itertools.pairwise(points)):
        if abs(b[2] - a[2]) > _NOTHING_M:
            return at
    return None


def bend_room(points: Sequence[XYZ]) -> tuple[float, ...]:
    """The largest radius of the middle line that each bend of a square way has room for.

    A quarter bend of radius r needs r of straight leg before and behind it; a leg
    between two bends is shared by them. Two opposite bends with an offset d
    between them may turn less than a quarter: two arcs need a length s along the
    way with s² = d (4 r - d), the reverse curve of road and track surveying.

    Returns:
        Metres, one number a bend; steps of a few millimetres are no bends.
    """
    legs = _legs(points)
    if len(legs) < 2:
        return ()
    last = len(legs) - 1
    shares = [leg if at in (0, last) else leg / 2 for at, (leg, _) in enumerate(legs)]
    radii = [min(shares[at], shares[at + 1]) for at in range(last)]
    for at in range(1, last):
        offset = legs[at][0]
        along = shares[at - 1] + shares[at + 1]
        if legs[at - 1][1] == legs[at + 1][1] and along >= offset > 0:
            reverse = (along * along + offset * offset) / (4 * offset)
            radii[at - 1] = max(radii[at - 1], reverse)
            radii[at] = max(radii[at], reverse)
    return tuple(radii)


def _legs(points: Sequence[XYZ]) -> list[tuple[float, tuple[int, int]]]:
    """Lengths and directions; legs that go on straight are one, small steps are none."""
    legs: list[tuple[float, tuple[int, int]]] = []
    for a, b in itertools.pairwise(points):
        length, direction = math.dist(a, b), _direction(a, b)
        if length <= PLAY_M:
            continue
        if legs and legs[-1][1] == direction:
            legs[-1] = (legs[-1][0] + length, direction)
        else:
            legs.append((length, direction))
    return legs


def _direction(a: XYZ, b: XYZ) -> tuple[int, int]:
    """The axis a leg runs along and which way."""
    axis = max(range(3), key=lambda one: abs(b[one] - a[one]))
    return axis, 1 if b[axis] > a[axis] else -1
