"""The way a run takes over the plan: orthogonal, short, and clear of bodies where it can be.

Every run gets a handful of candidate ways; the candidates of all runs are
weighed together in one numpy pass. The choice depends on the build alone,
never on an earlier choice, so equal builds have equal routes.
"""

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from ..build import Item, Port, Run
from ..build.geometry import XY, XYZ, bounds, turned
from .places import Places
from .results import Node, Route

STUB_M = 0.04
"""How far a run goes straight out of a body before it turns."""
LANE_M = 0.06
"""Distance at which a detour passes the ends."""
BEND_COST_M = 0.03
INSIDE_COST = 3.0
"""A metre hidden behind a body of the same level counts as so many more."""
GHOST_COST = 0.4
"""The same for bodies of other levels, which are drawn faintly."""

_Path = tuple[XY, ...]
_Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Ways:
    """The candidates of one run, with their segments as boxes for the weighing."""

    paths: tuple[_Path, ...]
    boxes: _Floats
    """Least x, least y, greatest x, greatest y; one row a segment."""
    owner: npt.NDArray[np.int64]
    """Index of the path each segment belongs to."""
    bend_cost: _Floats

    @classmethod
    def of(cls, paths: tuple[_Path, ...]) -> "_Ways":
        boxes = []
        owner = []
        for at, path in enumerate(paths):
            for (x1, y1), (x2, y2) in itertools.pairwise(path):
                owner.append(at)
                boxes.append((min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)))
        bends = np.array([float(len(path) - 2) for path in paths])
        return cls(paths, np.array(boxes), np.array(owner), BEND_COST_M * bends)


def make_routes(places: Places, runs: Iterable[Run]) -> dict[str, Route]:
    """Find the way of every run that has two known ends."""
    joined: list[tuple[Run, Node, Node]] = []
    candidates: list[_Ways] = []
    for run in runs:
        a, b = places.known(run.a), places.known(run.b)
        if a is None or b is None:
            continue
        joined.append((run, a, b))
        candidates.append(_ways(places, run, a, b))
    if not joined:
        return {}
    chosen = _cheapest(places, joined, candidates)
    return {
        run.id: _in_space(path, places.positions[a], places.positions[b])
        for (run, a, b), path in zip(joined, chosen, strict=True)
    }


def _ways(places: Places, run: Run, a: Node, b: Node) -> _Ways:
    start, start_out = _stub(places, a)
    end, end_out = _stub(places, b)
    if run.waypoints:
        between = tuple((point.x.si, point.y.si) for point in run.waypoints)
        return _Ways.of((_clean((start, start_out, *between, end_out, end)),))
    return _square_ways(start, start_out, end_out, end)


@lru_cache(maxsize=4096)
def _square_ways(start: XY, start_out: XY, end_out: XY, end: XY) -> _Ways:
    """The candidates between two ports; kept, because most runs stay where they are in a drag."""
    paths = (
        _clean((start, start_out, *middle, end_out, end)) for middle in _middles(start_out, end_out)
    )
    return _Ways.of(tuple(dict.fromkeys(paths)))


def _middles(p: XY, q: XY) -> list[_Path]:
    (px, py), (qx, qy) = p, q
    mid_x, mid_y = (px + qx) / 2, (py + qy) / 2
    rear, front = min(py, qy) - LANE_M, max(py, qy) + LANE_M
    left, right = min(px, qx) - LANE_M, max(px, qx) + LANE_M
    return [
        ((qx, py),),
        ((px, qy),),
        ((mid_x, py), (mid_x, qy)),
        ((px, mid_y), (qx, mid_y)),
        ((px, rear), (qx, rear)),
        ((px, front), (qx, front)),
        ((left, py), (left, qy)),
        ((right, py), (right, qy)),
    ]


def _stub(places: Places, node: Node) -> tuple[XY, XY]:
    """The port on the plan, and the place straight out of the body from it."""
    x, y, _ = places.positions[node]
    dx, dy = _outward(places.items[node[0]], places.ports[node])
    return (x, y), (x + dx * STUB_M, y + dy * STUB_M)


def _outward(item: Item, port: Port) -> XY:
    """Direction out of the side the port is nearest to; none for one well inside."""
    size = item.specification.size
    to_side = (
        (port.x.si, (-1.0, 0.0)),
        (size.width.si - port.x.si, (1.0, 0.0)),
        (port.y.si, (0.0, -1.0)),
        (size.depth.si - port.y.si, (0.0, 1.0)),
    )
    distance, direction = min(to_side, key=lambda one: one[0])
    if distance > 0.3 * min(size.width.si, size.depth.si):
        return (0.0, 0.0)
    return turned(item, *direction)


def _clean(path: _Path) -> _Path:
    """Drop corners that stand on each other or on a straight line."""
    kept: list[XY] = []
    for point in path:
        if kept and abs(kept[-1][0] - point[0]) + abs(kept[-1][1] - point[1]) < 1e-9:
            continue
        if len(kept) > 1 and _straight(kept[-2], kept[-1], point):
            kept[-1] = point
            continue
        kept.append(point)
    return tuple(kept) if len(kept) > 1 else (path[0], path[-1])


def _straight(a: XY, b: XY, c: XY) -> bool:
    cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return abs(cross) < 1e-12 and ahead >= 0


def _cheapest(
    places: Places, joined: list[tuple[Run, Node, Node]], candidates: list[_Ways]
) -> list[_Path]:
    """Pick for each run the candidate with the least cost."""
    segments = np.concatenate([ways.boxes for ways in candidates])
    counts = np.array([len(ways.paths) for ways in candidates])
    firsts = np.cumsum(counts) - counts
    owner = np.concatenate(
        [ways.owner + first for ways, first in zip(candidates, firsts, strict=True)]
    )
    run_of = np.repeat(np.arange(len(candidates)), [len(ways.owner) for ways in candidates])
    lengths = (segments[:, 2] - segments[:, 0]) + (segments[:, 3] - segments[:, 1])
    hidden = (_inside(segments, places) * _weights(places, joined)[run_of]).sum(axis=1)
    cost = np.bincount(owner, weights=lengths + hidden, minlength=int(counts.sum()))
    cost = cost + np.concatenate([ways.bend_cost for ways in candidates])
    rounded = np.round(cost, 6)  # so that a tie is not decided by the last bit of a sum
    return [
        ways.paths[int(np.argmin(rounded[first : first + count]))]
        for ways, first, count in zip(candidates, firsts, counts, strict=True)
    ]


def _inside(segments: _Floats, places: Places) -> _Floats:
    """Length of each segment (row) inside each body (column), in metres."""
    bodies = np.array([bounds(item) for item in places.items.values()])
    along_x = np.minimum(segments[:, 2:3], bodies[:, 2]) - np.maximum(
        segments[:, 0:1], bodies[:, 0]
    )
    along_y = np.minimum(segments[:, 3:4], bodies[:, 3]) - np.maximum(
        segments[:, 1:2], bodies[:, 1]
    )
    meets = (along_x >= 0) & (along_y >= 0)
    overlap: _Floats = np.where(meets, along_x + along_y, 0.0)
    return overlap


def _weights(places: Places, joined: list[tuple[Run, Node, Node]]) -> _Floats:
    levels = [item.level for item in places.items.values()]
    rows = []
    for _, a, b in joined:
        own = {places.items[a[0]].level, places.items[b[0]].level}
        rows.append([INSIDE_COST if level in own else GHOST_COST for level in levels])
    return np.array(rows)


def _in_space(path: _Path, a: XYZ, b: XYZ) -> Route:
    """Lift a way on the plan to heights: level at the first end, up or down at the second."""
    points: list[XYZ] = [(x, y, a[2]) for x, y in path]
    if abs(b[2] - a[2]) > 1e-9:
        points.append(b)
    else:
        points[-1] = b
    length_m = sum(
        abs(q[0] - p[0]) + abs(q[1] - p[1]) + abs(q[2] - p[2])
        if q[0] == p[0] or q[1] == p[1]
        else ((q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2 + (q[2] - p[2]) ** 2) ** 0.5
        for p, q in itertools.pairwise(points)
    )
    return Route(tuple(points), length_m)
