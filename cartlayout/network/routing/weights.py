"""What makes one way better than another."""

from collections.abc import Sequence

import numpy as np

from .bodies import Flags, Floats
from .ground import SAME_HEIGHT_M
from .lattice import Lines, Weights
from .task import Task
from .terms import CLEAR_M, Plane

# What is to be avoided, in metres of run that one would rather lay.
BEND_M = 0.05
EARLY_BEND_M = 0.15
"""A bend nearer to a port than the tube's bend radius."""
TRUNK = 0.85
"""A metre along the rear panel, or the gap at the rear, counts as so much: runs gather there."""
ACROSS = 1.0005
"""Of two equal ways the one along the cart is taken."""
OUTSIDE = 3.0
KEPT_FREE = 2.0
INSIDE = 1000.0
"""A metre through a body: only where there is no other way."""
THROUGH_BODY_M = 100.0
THROUGH_BOARD_M = 50.0
OVER_OTHER_EDGE_M = 0.3


def lines_for(task: Task, known: Flags) -> Lines:
    """The lines of interest: ends, edges, holes, and the sides of the known bodies."""
    ground = task.ground
    exact: tuple[list[float], list[float]] = ([], [])
    wished: tuple[list[float], list[float]] = ([], [])
    for axis in (0, 1):
        exact[axis].extend((task.first[axis], task.last[axis]))
        for end in (task.a, task.b):
            if end.out[axis] and task.radius_m > CLEAR_M:
                wished[axis].append(end.at[axis] + end.out[axis] * task.radius_m)
    wished[1 - ground.trunk_axis].append(ground.trunk_m)
    for along, place in ground.edges:
        wished[1 - along].append(place)
    for board in task.boards:
        for hole in board.holes:
            wished[0].append(hole.x.si + hole.width.si / 2)
            wished[1].append(hole.y.si + hole.depth.si / 2)
    for x0, y0, x1, y1 in task.bodies.boxes[known].tolist():
        wished[0].extend((x0 - CLEAR_M, x1 + CLEAR_M))
        wished[1].extend((y0 - CLEAR_M, y1 + CLEAR_M))
    return Lines.of(exact, wished)


def weights_for(task: Task, lines: Lines, known: Flags, blocking: Sequence[Flags]) -> Weights:
    """What every piece, bend and climb between those lines costs, past the known bodies."""
    xs, ys = lines.xs, lines.ys
    between_x, between_y = (xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2
    long_x, long_y = np.diff(xs)[None, :], np.diff(ys)[:, None] * ACROSS
    turn = _turns(task, lines)
    along_x, along_y, turns = [], [], []
    for height, plane in enumerate(task.planes):
        boxes = task.bodies.boxes[known & blocking[height]]
        dear_x = _dearness(task, plane, between_x, ys, boxes)
        dear_y = _dearness(task, plane, xs, between_y, boxes)
        if task.ground.trunk_axis == 0:
            dear_x *= _trunk(task, between_x, ys)
        else:
            dear_y *= _trunk(task, xs, between_y)
        along_x.append(long_x * dear_x)
        along_y.append(long_y * dear_y)
        here = turn.copy()
        for end, place, at in ((task.a, task.first, 0), (task.b, task.last, len(task.planes) - 1)):
            if at == height and end.out == (0.0, 0.0):
                column, row = lines.at(*place)
                here[row, column] = 0.0
        turns.append(here)
    climb = _climbs(task, lines, known) if len(task.planes) == 2 else None
    return Weights(along_x, along_y, turns, climb)


def _dearness(task: Task, plane: Plane, xs: Floats, ys: Floats, boxes: Floats) -> Floats:
    """What a metre costs at every crossing of these lines."""
    inside = task.ground.inside(xs[None, :], ys[:, None])
    dear = ~inside if not task.from_venue else inside & plane.venue
    cost: Floats = np.where(dear, OUTSIDE, 1.0)
    zones = [
        (zone.x.si, zone.y.si, zone.x.si + zone.width.si, zone.y.si + zone.depth.si)
        for zone in task.ground.kept_free
        if zone.level == plane.level
    ]
    if zones:
        cost *= np.where(_covered(xs, ys, np.array(zones)), KEPT_FREE, 1.0)
    if len(boxes):
        cost += np.where(_covered(xs, ys, boxes), INSIDE, 0.0)
    return cost


def _covered(xs: Floats, ys: Floats, boxes: Floats) -> Flags:
    """Which crossings lie in any of the boxes: rows of y, columns of x."""
    in_x = (xs > boxes[:, 0:1] + 0.001) & (xs < boxes[:, 2:3] - 0.001)
    in_y = (ys > boxes[:, 1:2] + 0.001) & (ys < boxes[:, 3:4] - 0.001)
    covered: Flags = (in_y.T.astype(np.float32) @ in_x.astype(np.float32)) > 0
    return covered


def _trunk(task: Task, xs: Floats, ys: Floats) -> Floats:
    """The share of its length that a piece along the trunk counts."""
    ground = task.ground
    across = ys[:, None] if ground.trunk_axis == 0 else xs[None, :]
    on = (np.abs(across - ground.trunk_m) < 1e-9) & ground.inside(xs[None, :], ys[:, None])
    cheap: Floats = np.where(on, TRUNK, 1.0)
    return cheap


def _turns(task: Task, lines: Lines) -> Floats:
    """What a bend costs at every crossing; dearer just before a port."""
    turn = np.full((len(lines.ys), len(lines.xs)), BEND_M + 0.25 * task.radius_m)
    for end in (task.a, task.b):
        for axis in (0, 1):
            if not end.out[axis]:
                continue
            ahead = (lines.xs if axis == 0 else lines.ys) - end.at[axis]
            early = (ahead * end.out[axis] > 0) & (
                ahead * end.out[axis] < task.radius_m - SAME_HEIGHT_M
            )
            beside = np.abs((lines.ys if axis == 0 else lines.xs) - end.at[1 - axis]) < 1e-9
            tight = np.outer(beside, early) if axis == 0 else np.outer(early, beside)
            turn[tight] += EARLY_BEND_M
    return turn


def _climbs(task: Task, lines: Lines, known: Flags) -> Floats:
    """What going up or down costs at every crossing."""
    xs, ys = lines.xs[None, :], lines.ys[:, None]
    climb = np.full((len(lines.ys), len(lines.xs)), 2 * BEND_M)
    if task.boards:
        climb += board_costs(task, xs, ys)
    boxes = task.bodies.boxes[known & climb_blocks(task)]
    if len(boxes):
        climb += np.where(_covered(lines.xs, lines.ys, boxes), THROUGH_BODY_M, 0.0)
    if task.from_venue and any(plane.venue for plane in task.planes):
        climb += np.where(task.ground.inside(xs, ys) & ~task.ground.near_edge(xs, ys), BEND_M, 0.0)
    for end, place in ((task.a, task.first), (task.b, task.last)):
        if end.out == (0.0, 0.0):  # it may leave upright, without a bend
            column, row = lines.at(*place)
            climb[row, column] = max(climb[row, column] - 2 * BEND_M, 0.0)
    return climb


def board_costs(task: Task, xs: Floats, ys: Floats) -> Floats:
    """What it costs to pass the boards at these places (arrays that go together).

    Boards are passed at the edge of the cart, best along the trunk, or through holes.
    """
    ground = task.ground
    outside = ~ground.inside(xs, ys)
    across = ys if ground.trunk_axis == 0 else xs
    trunk = (np.abs(across - ground.trunk_m) < 1e-9) & ~outside
    edge = ground.near_edge(xs, ys)
    at_edge = np.where(trunk, 0.0, np.where(edge, OVER_OTHER_EDGE_M, THROUGH_BOARD_M))
    if task.from_venue:
        at_edge = np.where(outside, 0.0, at_edge)
    costs: Floats = np.zeros(at_edge.shape)
    for board in task.boards:
        here = at_edge
        for hole in board.holes:
            x0, y0 = hole.x.si, hole.y.si
            within = (xs >= x0) & (xs <= x0 + hole.width.si)
            within = within & (ys >= y0) & (ys <= y0 + hole.depth.si)
            here = np.where(within, 0.0, here)
        costs = np.maximum(costs, here)
    return costs


def climb_blocks(task: Task) -> Flags:
    """Which bodies an upright piece can run into."""
    if len(task.planes) == 1:
        return np.zeros(len(task.bodies.boxes), dtype=bool)
    return task.bodies.block(*task.span)
