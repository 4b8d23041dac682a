"""Runs that would lie on one another are drawn side by side.

Straight pieces that run along x or along y, closer together than a lane, and
side by side over some of their length, form a bundle. Each piece of a bundle
gets a lane; lanes are laid out evenly around the bundle's middle.
"""

import itertools
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .paths import simplified
from .picture import XY


@dataclass(slots=True)
class _Piece:
    run: str
    index: int
    at: float
    """The coordinate that stays the same along the piece."""
    low: float
    high: float
    before: float
    """Which way the run turns off at the low and high ends; orders the lanes."""
    lane: int = 0
    moved: float = 0.0


def in_lanes(
    polylines: Mapping[str, Sequence[XY]], lane: float, clear: float = 0.0
) -> dict[str, tuple[XY, ...]]:
    """Move pieces apart that share a way.

    Args:
        polylines: corners by run id.
        lane: distance between neighbouring lanes, mm.
        clear: length along which two pieces may touch before they count as side by side, mm.

    Returns:
        The corners, moved; the two ends of every run stay where they are.
    """
    corners = {run: simplified(points) for run, points in polylines.items()}
    offsets: dict[tuple[str, int], float] = {}
    for across in (0, 1):
        pieces = _pieces(corners, across)
        for bundle in _bundles(pieces, lane, clear):
            _spread(bundle, lane, clear)
            offsets.update({(piece.run, piece.index): piece.moved for piece in bundle})
    return {run: tuple(_moved(points, run, offsets)) for run, points in corners.items()}


def _pieces(corners: Mapping[str, list[XY]], across: int) -> list[_Piece]:
    along = 1 - across
    pieces = []
    for run, points in corners.items():
        for index, (a, b) in enumerate(itertools.pairwise(points)):
            if abs(a[across] - b[across]) > 0.01 or abs(a[along] - b[along]) <= 0.01:
                continue
            before = points[index - 1] if index > 0 else a
            after = points[index + 2] if index + 2 < len(points) else b
            pieces.append(
                _Piece(
                    run,
                    index,
                    a[across],
                    min(a[along], b[along]),
                    max(a[along], b[along]),
                    (before[across] - a[across]) + (after[across] - a[across]),
                )
            )
    return pieces


def _bundles(pieces: list[_Piece], lane: float, clear: float) -> list[list[_Piece]]:
    """Connected groups of pieces that are side by side and nearer than a lane."""
    pieces = sorted(pieces, key=lambda p: (p.at, p.low, p.high, p.run, p.index))
    group = list(range(len(pieces)))

    def root(i: int) -> int:
        while group[i] != i:
            group[i] = group[group[i]]
            i = group[i]
        return i

    for i, one in enumerate(pieces):
        for j in range(i + 1, len(pieces)):
            other = pieces[j]
            if other.at - one.at >= lane * 0.999:
                break
            if min(one.high, other.high) - max(one.low, other.low) > clear and (
                one.run != other.run
            ):
                group[root(j)] = root(i)
    gathered: defaultdict[int, list[_Piece]] = defaultdict(list)
    for i, piece in enumerate(pieces):
        gathered[root(i)].append(piece)
    return [bundle for _, bundle in sorted(gathered.items()) if len(bundle) > 1]


def _spread(bundle: list[_Piece], lane: float, clear: float) -> None:
    middle = sum(piece.at for piece in bundle) / len(bundle)
    # Runs that turn off upwards lie above those that turn off downwards, so
    # that they do not cross where they part.
    ordered = sorted(bundle, key=lambda p: (p.before, p.at, p.low, p.run, p.index))
    taken: list[list[_Piece]] = []
    for piece in ordered:
        for number, others in enumerate(taken):
            if all(
                min(piece.high, other.high) - max(piece.low, other.low) <= clear for other in others
            ):
                piece.lane = number
                others.append(piece)
                break
        else:
            piece.lane = len(taken)
            taken.append([piece])
    for piece in bundle:
        piece.moved = middle + (piece.lane - (len(taken) - 1) / 2) * lane - piece.at


def _moved(points: list[XY], run: str, offsets: Mapping[tuple[str, int], float]) -> list[XY]:
    last = len(points) - 1
    made: list[XY] = []
    for index, (x, y) in enumerate(points):
        dx = dy = 0.0
        for piece in (index - 1, index):
            offset = offsets.get((run, piece), 0.0)
            if offset and 0 <= piece < last:
                a, b = points[piece], points[piece + 1]
                if abs(a[0] - b[0]) <= 0.01:
                    dx = offset
                else:
                    dy = offset
        if index == 0 and (dx or dy):
            made.append((x, y))
        made.append((x + dx, y + dy))
        if index == last and (dx or dy):
            made.append((x, y))
    return simplified(made)
