"""The way of a run that a person has led: square from way-point to way-point."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ...build.geometry import XY, XYZ
from .bends import cleaned
from .ground import SAME_HEIGHT_M
from .search import Way
from .task import Task
from .weights import BEND_M, board_costs

_SPUR_M = 1.0
"""Going back the way one came, in metres of run one would rather lay."""
_NOTHING_M = 1e-9


def led_way(task: Task, waypoints: Sequence[XY], heights_m: Sequence[float | None] = ()) -> Way:
    """Follow the way-points. What stands in the way is the person's business.

    Args:
        task: the run's ends and the cart.
        waypoints: places on the plan, in order.
        heights_m: above the floor at each of them; None, or none left: as high as it is there.
    """
    square = _squared(task, [task.first, *waypoints, task.last])
    flat = _from_ports(task, square)
    given = [
        (place, height_m)
        for place, height_m in zip(waypoints, heights_m, strict=False)
        if height_m is not None
    ]
    points = _over_heights(task, flat, given) if given else _in_space(task, flat)
    return Way(cleaned(points, keep_spurs=True), task.probed)


def _squared(task: Task, stops: Sequence[XY]) -> list[XY]:
    """Put a corner between stops that are not in line, so that there are few bends on the whole."""
    ways: dict[int, tuple[float, list[XY]]] = {
        axis: (0.0 if task.a.out == (0.0, 0.0) or task.a.out[axis] else BEND_M, [stops[0]])
        for axis in (0, 1)
    }
    for here, there in itertools.pairwise(stops):
        ways = _onwards(ways, here, there)
    if task.b.out != (0.0, 0.0):
        wrong = 0 if task.b.out[1] else 1
        cost, points = ways[wrong]
        ways[wrong] = (cost + BEND_M, points)
    return min((ways[axis] for axis in (0, 1)), key=lambda way: way[0])[1]


def _onwards(
    ways: dict[int, tuple[float, list[XY]]], here: XY, there: XY
) -> dict[int, tuple[float, list[XY]]]:
    """The best ways on to the next stop, by the axis they arrive along."""
    onwards: dict[int, tuple[float, list[XY]]] = {}
    for arrives in (0, 1):
        found = []
        for leaves in (0, 1):
            for came in (0, 1):
                step = _step(here, there, leaves, arrives)
                if step is None:
                    continue
                cost, points = ways[came]
                spur = _turns_back([*points[-2:], *step])
                bend = BEND_M * ((came != leaves) + (leaves != arrives))
                found.append((cost + bend + (_SPUR_M if spur else 0.0), [*points, *step]))
        if found:
            onwards[arrives] = min(found, key=lambda way: way[0])
    for axis in (0, 1):  # a straight step arrives along one axis only: a bend serves the other
        if axis not in onwards:
            cost, points = onwards[1 - axis]
            onwards[axis] = (cost + BEND_M, points)
    return onwards


def _step(here: XY, there: XY, leaves: int, arrives: int) -> list[XY] | None:
    differs = [abs(there[axis] - here[axis]) > _NOTHING_M for axis in (0, 1)]
    if all(differs):
        if leaves == arrives:
            return None
        corner = (there[0], here[1]) if leaves == 0 else (here[0], there[1])
        return [corner, there]
    along = 0 if differs[0] else 1 if differs[1] else leaves
    return [there] if leaves == arrives == along else None


def _turns_back(points: Sequence[XY]) -> bool:
    for a, b, c in zip(points, points[1:], points[2:], strict=False):
        ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
        if ahead < -_NOTHING_M:
            return True
    return False


def _from_ports(task: Task, square: list[XY]) -> list[XY]:
    """Add the ports; a stub that the way comes straight back over is left out."""
    points = [task.a.place, *square, task.b.place]
    if len(points) > 3 and _turns_back(points[:3]):
        del points[1]
    if len(points) > 3 and _turns_back(points[-3:]):
        del points[-2]
    return [(x, y) for x, y, _ in cleaned([(x, y, 0.0) for x, y in points], keep_spurs=True)]


def _in_space(task: Task, flat: Sequence[XY]) -> list[XYZ]:
    """Go up or down where the boards can be passed, as late as possible."""
    start_m, stop_m = task.a.at[2], task.b.at[2]
    if len(task.planes) == 1:
        x, y = flat[-2]  # where what little the ports differ in height is made up for
        square = [(u, v, start_m) for u, v in flat[1:-1]]
        return [task.a.at, *square, (x, y, stop_m), task.b.at]
    return _climbing(task, flat, start_m, stop_m)


def _climbing(task: Task, flat: Sequence[XY], start_m: float, stop_m: float) -> list[XYZ]:
    """A way between two heights that changes from one to the other in one place."""
    places = _candidates(task, flat)
    xs, ys = np.array([x for _, (x, _) in places]), np.array([y for _, (_, y) in places])
    costs = np.round(board_costs(task, xs, ys), 6)
    leg, (x, y) = places[len(places) - 1 - int(np.argmin(costs[::-1]))]
    return [
        *((u, v, start_m) for u, v in flat[: leg + 1]),
        (x, y, start_m),
        (x, y, stop_m),
        *((u, v, stop_m) for u, v in flat[leg + 1 :]),
    ]


def _over_heights(task: Task, flat: Sequence[XY], given: Sequence[tuple[XY, float]]) -> list[XYZ]:
    """From height to height: each change is made at its way-point, or where a board lets it by.

    It keeps the height of one way-point until it gets to the next that has one.
    """
    points: list[XYZ] = []
    height_m, rest = task.a.at[2], list(flat)
    for place, next_m in given:
        before, rest = _split(rest, place)
        points += _section(task, before, height_m, next_m)
        height_m = next_m
    return points + _section(task, rest, height_m, task.b.at[2])


def _section(task: Task, flat: Sequence[XY], start_m: float, stop_m: float) -> list[XYZ]:
    if abs(stop_m - start_m) < SAME_HEIGHT_M:
        return [*((x, y, start_m) for x, y in flat), (*flat[-1], stop_m)]
    low_m, high_m = sorted((start_m, stop_m))
    crossing = replace(task, boards=task.ground.crossed(low_m, high_m))
    return _climbing(crossing, flat, start_m, stop_m)


def _split(flat: list[XY], place: XY) -> tuple[list[XY], list[XY]]:
    """A way up to the first time it comes by a place, and what is left of it."""

    def detour(leg: int) -> float:
        a, b = flat[leg], flat[leg + 1]
        return round(math.dist(a, place) + math.dist(place, b) - math.dist(a, b), 9)

    if len(flat) < 2:
        return [*flat, place], [place, *flat]
    leg = min(range(len(flat) - 1), key=detour)
    return [*flat[: leg + 1], place], [place, *flat[leg + 1 :]]


def _candidates(task: Task, flat: Sequence[XY]) -> list[tuple[int, XY]]:
    """Corners, and places where a leg crosses the trunk, another edge or a hole, in order."""
    ground = task.ground
    lines = [(ground.trunk_axis, ground.trunk_m)]
    lines += [(gap.axis, gap.place_m) for gap in ground.edges]
    for board in task.boards:
        for x, y in board.middles:
            lines += [(0, y), (1, x)]
    found: list[tuple[int, XY]] = []
    for leg, (a, b) in enumerate(itertools.pairwise(flat)):
        here = [(leg, a)]
        for axis, place in lines:
            across = 1 - axis
            low, high = sorted((a[across], b[across]))
            if low < place < high:
                here.append((leg, (a[0], place) if across == 1 else (place, a[1])))
        here.sort(key=lambda one: math.dist(a, one[1]))
        found += here
    found.append((len(flat) - 1, flat[-1]))
    return found
