"""The bends of a run: way-points that a person adds, moves and takes away."""

import math
from collections.abc import Sequence

from msgspec.structs import replace

from ...build import Build, Run, WayPoint
from ...build.edits import EditError, replace_run
from ...build.geometry import XY, end_position
from ...units import Length

_IN_LINE_M = 0.0005


def _run(build: Build, run_id: str) -> Run:
    run = build.run(run_id)
    if run is None:
        raise EditError(f"there is no run '{run_id}'")
    return run


def point_at(build: Build, x_m: float, y_m: float) -> WayPoint:
    """A place on the plan, written in the build's unit."""
    unit = "in" if build.units == "US" else "mm"
    return WayPoint(x=Length.from_si(x_m, unit, 3), y=Length.from_si(y_m, unit, 3))


def place_for_bend(points: Sequence[XY], x_m: float, y_m: float) -> int:
    """Index of the leg, among those from point to point, that comes nearest to a place."""

    def detour(index: int) -> float:
        start, stop, here = points[index], points[index + 1], (x_m, y_m)
        return math.dist(start, here) + math.dist(here, stop) - math.dist(start, stop)

    return min(range(len(points) - 1), key=lambda index: (round(detour(index), 9), index))


def add_bend(
    build: Build, run_id: str, x_m: float, y_m: float, corners: Sequence[XY] = ()
) -> tuple[Build, int]:
    """Add a bend. Returns the build and the bend's index.

    A run without bends takes the corners of its automatic way first, so that
    it stays where it was seen and only the new bend moves it.

    Raises:
        EditError: there is no such run, or its ends are not known.
    """
    run = _run(build, run_id)
    start = end_position(build, run.a)
    stop = end_position(build, run.b) if run.b is not None else None
    if start is None or stop is None:
        raise EditError("a run with a free end has no way to bend")
    bends = run.waypoints or tuple(point_at(build, *corner) for corner in corners)
    places = [start[:2], *((point.x.si, point.y.si) for point in bends), stop[:2]]
    index = place_for_bend(places, x_m, y_m)
    points = (*bends[:index], point_at(build, x_m, y_m), *bends[index:])
    return replace_run(build, replace(run, waypoints=points)), index


def move_bend(build: Build, run_id: str, index: int, x_m: float, y_m: float) -> Build:
    """Put a bend elsewhere; bends beside it that are in line with it stay in line.

    Raises:
        EditError: there is no such run or bend.
    """
    run = _run(build, run_id)
    if not 0 <= index < len(run.waypoints):
        raise EditError(f"'{run_id}' has no bend number {index + 1}")
    here = run.waypoints[index]
    points = list(run.waypoints)
    points[index] = replace(point_at(build, x_m, y_m), height=here.height)
    for beside in (index - 1, index + 1):
        if not 0 <= beside < len(points):
            continue
        there = points[beside]
        if abs(there.x.si - here.x.si) < _IN_LINE_M:
            points[beside] = replace(there, x=points[index].x)
        elif abs(there.y.si - here.y.si) < _IN_LINE_M:
            points[beside] = replace(there, y=points[index].y)
    return replace_run(build, replace(run, waypoints=tuple(points)))


def remove_bend(build: Build, run_id: str, index: int) -> Build:
    """Take a bend away.

    Raises:
        EditError: there is no such run or bend.
    """
    run = _run(build, run_id)
    if not 0 <= index < len(run.waypoints):
        raise EditError(f"'{run_id}' has no bend number {index + 1}")
    points = (*run.waypoints[:index], *run.waypoints[index + 1 :])
    return replace_run(build, replace(run, waypoints=points))
