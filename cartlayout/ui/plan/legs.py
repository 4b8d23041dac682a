"""The straight parts of a run, which can be pulled sideways: the way becomes a person's own.

Pure geometry on the plan, in metres.
"""

import itertools
import math
from collections.abc import Sequence

from msgspec.structs import replace

from ...build import Build
from ...build.edits import EditError, replace_run
from ...build.geometry import XY
from ...network import Route
from ...network.routing.bends import cleaned
from .bends import point_at

STUB_M = 0.04
"""The first and the last part keep so much straight at their port."""


def corners(route: Route) -> tuple[XY, ...]:
    """The corners of a route as seen from above, its two ends among them."""
    return _square([point[:2] for point in route.points], keep_spurs=True)


def leg_at(points: Sequence[XY], x_m: float, y_m: float) -> int:
    """Index of the leg that comes nearest to a place; of equals the longer one."""

    def away(index: int) -> tuple[float, float]:
        (ax, ay), (bx, by) = points[index], points[index + 1]
        near_x = min(max(x_m, min(ax, bx)), max(ax, bx))
        near_y = min(max(y_m, min(ay, by)), max(ay, by))
        length = math.dist((ax, ay), (bx, by))
        return round(math.dist((near_x, near_y), (x_m, y_m)), 6), -length

    return min(range(len(points) - 1), key=away)


def is_level(points: Sequence[XY], leg: int) -> bool:
    """Whether a leg runs along x, so that it is pulled along y."""
    (ax, ay), (bx, by) = points[leg], points[leg + 1]
    return abs(bx - ax) >= abs(by - ay)


def pulled(points: Sequence[XY], leg: int, to_m: float) -> tuple[XY, ...]:
    """The corners after a leg was pulled sideways; both ends of the run stay.

    Args:
        points: corners with both ends.
        leg: index of the leg.
        to_m: where it goes: a y for a leg along x, else an x.
    """
    level = is_level(points, leg)

    def aside(point: XY) -> XY:
        return (point[0], to_m) if level else (to_m, point[1])

    a, b = points[leg], points[leg + 1]
    stub = min(STUB_M, math.dist(a, b) / 3)
    start = list(points[:leg])
    if leg == 0:
        first = _towards(a, b, stub)
        start += [a, first, aside(first)]
    else:
        start.append(aside(a))
    stop = list(points[leg + 2 :])
    if leg == len(points) - 2:
        last = _towards(b, a, stub)
        stop = [aside(last), last, b]
    else:
        stop.insert(0, aside(b))
    return _square([*start, *stop])


def led_along(build: Build, run_id: str, points: Sequence[XY]) -> Build:
    """Give a run the corners between its ends as way-points; heights stay with those nearest.

    Raises:
        EditError: there is no such run.
    """
    run = build.run(run_id)
    if run is None:
        raise EditError(f"there is no run '{run_id}'")
    waypoints = [point_at(build, x, y) for x, y in points[1:-1]]
    for old in run.waypoints:
        if old.height is not None and waypoints:
            place = (old.x.si, old.y.si)
            near = min(
                range(len(waypoints)),
                key=lambda at: math.dist((waypoints[at].x.si, waypoints[at].y.si), place),
            )
            waypoints[near] = replace(waypoints[near], height=old.height)
    return replace_run(build, replace(run, waypoints=tuple(waypoints)))


def _towards(a: XY, b: XY, by_m: float) -> XY:
    share = by_m / (math.dist(a, b) or 1.0)
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _square(points: Sequence[XY], *, keep_spurs: bool = False) -> tuple[XY, ...]:
    upright = [(x, y, 0.0) for x, y in points]
    return tuple((x, y) for x, y, _ in cleaned(upright, keep_spurs=keep_spurs))


def other_lines(points: Sequence[XY], leg: int) -> list[float]:
    """Places that a pulled leg may be in line with: the run's other legs of its direction."""
    level = is_level(points, leg)
    return [
        (a[1] if level else a[0])
        for index, (a, _) in enumerate(itertools.pairwise(points))
        if index != leg and is_level(points, index) == level
    ]
