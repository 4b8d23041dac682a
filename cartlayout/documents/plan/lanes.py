"""Runs that would lie on one another are drawn side by side.

Straight pieces that run along x or along y, closer together than a lane, and
side by side over some of their length, form a bundle. Each piece of a bundle
gets a lane; lanes are laid out evenly around the bundle's middle.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
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
    polylines: Mapping[str, Sequence[XY]],
    lane: float,
    clear: float = 0.0,
    widest: float = math.inf,
) -> dict[str, tuple[XY, ...]]:
    """Move pieces apart that share a way.

    Args:
        polylines: corners by run id.
        lane: distance between neighbouring lanes, mm.
        widest: of a bundle, mm; the lanes of one with many runs are closer together.
        clear: length along which two pieces may touch before they count as side by side, mm.

    Returns:
        The corners, moved; the two ends of every run stay where they are.
    """
    return lay(polylines, lane, clear, widest).drawn


@dataclass(frozen=True, slots=True)
class Laid:
    """Runs side by side, and what the next step of a drag takes over of it."""

    given: dict[str, Sequence[XY]]
    drawn: dict[str, tuple[XY, ...]]
    mates: dict[str, set[str]]
    """Run to the runs that it shares a bundle with."""


def lay(
    polylines: Mapping[str, Sequence[XY]],
    lane: float,
    clear: float = 0.0,
    widest: float = math.inf,
    before: Laid | None = None,
) -> Laid:
    """The same, for the cost of what has changed since before, which had the same measures.

    A bundle is laid out by itself: runs that neither share one with a changed
    run, before or now, nor with such a run, stay where they are.
    """
    anew = dict(polylines)
    drawn: dict[str, tuple[XY, ...]] = {}
    mates: dict[str, set[str]] = {}
    if before is not None:
        touched = _touched(polylines, before, lane, clear)
        anew = {run: points for run, points in polylines.items() if run in touched}
        drawn = {run: before.drawn[run] for run in polylines if run not in touched}
        mates = {run: before.mates[run] for run in drawn if run in before.mates}
    corners = {run: simplified(points) for run, points in anew.items()}
    offsets: dict[tuple[str, int], float] = {}
    for across in (0, 1):
        pieces = _pieces(corners, across)
        for bundle in _bundles(pieces, lane, clear):
            _spread(bundle, lane, clear, widest)
            offsets.update({(piece.run, piece.index): piece.moved for piece in bundle})
            together = {piece.run for piece in bundle}
            for run in together:
                mates[run] = mates.get(run, set()) | together
    for run, points in corners.items():
        made = tuple(_moved(points, run, offsets))
        old = before.drawn.get(run) if before is not None else None
        drawn[run] = old if old is not None and old == made else made
    return Laid(dict(polylines), drawn, mates)


def _touched(
    polylines: Mapping[str, Sequence[XY]], before: Laid, lane: float, clear: float
) -> set[str]:
    """The changed runs, and all whose bundles that changes."""
    changed = {
        run
        for run, points in polylines.items()
        if (old := before.given.get(run)) is not points and old != points
    }
    gone = before.given.keys() - polylines.keys()
    left = [*changed, *gone]
    left += _beside(polylines, changed, lane, clear)
    touched: set[str] = set()
    while left:
        run = left.pop()
        if run not in touched:
            touched.add(run)
            left += before.mates.get(run, ())
    return touched


def _beside(
    polylines: Mapping[str, Sequence[XY]], changed: set[str], lane: float, clear: float
) -> list[str]:
    """Runs with a piece beside a piece of a changed one."""
    new = {run: simplified(polylines[run]) for run in changed}
    beside = []
    pieces = [_pieces(new, across) for across in (0, 1)]
    low_x, high_x, low_y, high_y = _reach(new.values())
    for run, points in polylines.items():
        x1, x2, y1, y2 = _reach([points])
        if run in changed or x1 > high_x + lane or x2 < low_x - lane:
            continue
        if y1 > high_y + lane or y2 < low_y - lane:
            continue
        corners = {run: simplified(points)}
        if any(
            abs(one.at - other.at) < lane
            and min(one.high, other.high) - max(one.low, other.low) > clear
            for across in (0, 1)
            for one in _pieces(corners, across)
            for other in pieces[across]
        ):
            beside.append(run)
    return beside


def _reach(lines: Collection[Sequence[XY]]) -> tuple[float, float, float, float]:
    xs = [x for points in lines for x, _ in points]
    ys = [y for points in lines for _, y in points]
    if not xs:
        return math.inf, -math.inf, math.inf, -math.inf
    return min(xs), max(xs), min(ys), max(ys)


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


def _spread(bundle: list[_Piece], lane: float, clear: float, widest: float) -> None:
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
    if len(taken) > 1:
        lane = min(lane, widest / (len(taken) - 1))
    for piece in bundle:
        piece.moved = middle + (piece.lane - (len(taken) - 1) / 2) * lane - piece.at


def _moved(points: list[XY], run: str, offsets: Mapping[tuple[str, int], float]) -> list[XY]:
    """The corners, each moved with the pieces that meet there."""
    last = len(points) - 1
    made: list[XY] = [points[0]]
    for index, corner in enumerate(points):
        into = _shift(points, index - 1, offsets.get((run, index - 1), 0.0))
        out = _shift(points, index, offsets.get((run, index), 0.0)) if index < last else (0.0, 0.0)
        if 0 < index < last and _parallel(points, index):
            # There and back on one line: the two pieces may lie in lanes of their own.
            made += [(corner[0] + dx, corner[1] + dy) for dx, dy in (into, out)]
        else:
            made.append((corner[0] + into[0] + out[0], corner[1] + into[1] + out[1]))
    made.append(points[-1])
    return simplified(made)


def _shift(points: list[XY], piece: int, offset: float) -> XY:
    """How a piece moves that is moved aside by so much."""
    if piece < 0 or not offset:
        return 0.0, 0.0
    upright = abs(points[piece][0] - points[piece + 1][0]) <= 0.01
    return (offset, 0.0) if upright else (0.0, offset)


def _parallel(points: list[XY], index: int) -> bool:
    (ax, ay), (bx, by), (cx, cy) = points[index - 1 : index + 2]
    return (abs(ax - bx) <= 0.01 and abs(bx - cx) <= 0.01) or (
        abs(ay - by) <= 0.01 and abs(by - cy) <= 0.01
    )
