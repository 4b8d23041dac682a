"""What makes one way better than another."""

from collections.abc import Sequence

import numpy as np

from .bodies import SHRUNK_M, Flags, Floats
from .ground import SAME_HEIGHT_M
from .lattice import Lines, Weights
from .task import Task
from .terms import CLEAR_M, Plane

# What is to be avoided, in metres of run that one would rather lay.
BEND_M = 0.05
BEND_PER_RADIUS = 0.25
EARLY_BEND_M = 0.15
"""A bend nearer to a port than the tube's bend radius."""
TRUNK = 0.85
"""A metre along the rear panel, or the gap at the rear, counts as so much: runs gather there."""
ACROSS = 1.0005
"""Of two equal ways the one along the cart is taken."""
OUTSIDE = 3.0
HANGING = 1.2
"""A metre of a lead outside the cart that keeps to the height of the cart: it goes down at once."""
KEPT_FREE = 1.0
"""A metre over what is kept free counts as one more."""
INSIDE = 1000.0
"""A metre through a body: only where there is no other way."""
OUT_OF_OWN = 10.0
"""A metre from a port well inside a body to its side."""
THROUGH_BODY_M = 100.0
THROUGH_BOARD_M = 500.0
OVER_OTHER_EDGE_M = 0.6


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
    for gap in ground.edges if task.boards or task.from_venue else ():
        wished[1 - gap.axis].append(gap.place_m)
    for x, y in (middle for board in task.boards for middle in board.middles):
        wished[0].append(x)
        wished[1].append(y)
    for x0, y0, x1, y1 in task.bodies.boxes[known].tolist():
        wished[0].extend((x0 - CLEAR_M, x1 + CLEAR_M))
        wished[1].extend((y0 - CLEAR_M, y1 + CLEAR_M))
    return Lines.of(exact, wished)


def weights_for(task: Task, lines: Lines, known: Flags, blocking: Sequence[Flags]) -> Weights:
    """What every piece, bend and climb between those lines costs, past the known bodies.

    Bodies and zones are boxes with a price a metre; which crossings and middles of
    pieces lie in them is asked once, and each height takes the prices that count there.
    """
    columns, rows = len(lines.xs), len(lines.ys)
    xs = np.concatenate([lines.xs, (lines.xs[1:] + lines.xs[:-1]) / 2])
    ys = np.concatenate([lines.ys, (lines.ys[1:] + lines.ys[:-1]) / 2])
    seen = np.flatnonzero(known)
    boxes = np.concatenate([task.bodies.boxes[seen], task.ground.kept_free_boxes])
    in_x = ((xs > boxes[:, 0:1] + SHRUNK_M) & (xs < boxes[:, 2:3] - SHRUNK_M)).astype(np.float64)
    in_y = ((ys > boxes[:, 1:2] + SHRUNK_M) & (ys < boxes[:, 3:4] - SHRUNK_M)).astype(np.float64).T
    inside = task.ground.inside(xs[None, :], ys[:, None])
    long_x = (lines.xs[1:] - lines.xs[:-1])[None, :]
    long_y = (lines.ys[1:] - lines.ys[:-1])[:, None] * ACROSS
    made = Weights([], [], [], None)
    for height, plane in enumerate(task.planes):
        dear = (in_y * _prices(task, plane, seen, blocking[height])) @ in_x
        dear += _ground_price(task, plane, inside)
        along_x, along_y = long_x * dear[:rows, columns:], long_y * dear[rows:, :columns]
        _favour_trunk(task, lines, along_x, along_y)
        made.along_x.append(along_x)
        made.along_y.append(along_y)
        made.turn.append(_turns(task, lines, height))
    if len(task.planes) == 1:
        return made
    prices = np.where(climb_blocks(task)[seen], THROUGH_BODY_M, 0.0)
    met = (in_y[:rows, : len(seen)] * prices) @ in_x[: len(seen), :columns]
    return Weights(
        made.along_x,
        made.along_y,
        made.turn,
        _climbs(task, lines, met, inside[:rows, :columns]),
    )


def _prices(task: Task, plane: Plane, seen: "np.typing.NDArray[np.intp]", blocks: Flags) -> Floats:
    """What a metre in each box costs at a height: the seen bodies, then the zones."""
    prices = np.where(blocks[seen], INSIDE, 0.0)
    for row in task.rows_left_from_within:
        prices[seen == row] = OUT_OF_OWN if blocks[row] else 0.0
    if not task.ground.kept_free:
        return prices
    zones = [KEPT_FREE if zone.level == plane.level else 0.0 for zone in task.ground.kept_free]
    return np.concatenate([prices, np.array(zones)])


def _ground_price(task: Task, plane: Plane, inside: Flags) -> Floats:
    """Runs of the cart stay on it; leads to the venue do not hang in the air over it."""
    if task.from_venue:
        return np.where(inside, OUTSIDE if plane.venue else 1.0, 1.0 if plane.venue else HANGING)
    return np.where(inside, 1.0, OUTSIDE)


def _favour_trunk(task: Task, lines: Lines, along_x: Floats, along_y: Floats) -> None:
    ground = task.ground
    if ground.trunk_axis == 0:
        along_x[np.abs(lines.ys - ground.trunk_m) < 1e-9] *= TRUNK
    else:
        along_y[:, np.abs(lines.xs - ground.trunk_m) < 1e-9] *= TRUNK


def _turns(task: Task, lines: Lines, height: int) -> Floats:
    """What a bend costs at every crossing; dearer just before a port."""
    price = BEND_M + BEND_PER_RADIUS * task.radius_m
    turn = np.full((len(lines.ys), len(lines.xs)), price)
    ends = ((task.a, task.first, 0), (task.b, task.last, len(task.planes) - 1))
    for end, place, its_height in ends:
        if its_height != height:
            continue
        column, row = lines.at(*place)
        if end.out == (0.0, 0.0):
            turn[row, column] = 0.0
        elif not task.radius_m:
            continue
        elif end.out[0]:
            ahead = (lines.xs - end.at[0]) * end.out[0]
            turn[row, (ahead > 0) & (ahead < task.radius_m - SAME_HEIGHT_M)] += EARLY_BEND_M
        else:
            ahead = (lines.ys - end.at[1]) * end.out[1]
            turn[(ahead > 0) & (ahead < task.radius_m - SAME_HEIGHT_M), column] += EARLY_BEND_M
    return turn


def _climbs(task: Task, lines: Lines, met: Floats, inside: Flags) -> Floats:
    """What going up or down costs at every crossing."""
    climb = met + 2 * BEND_M
    xs, ys = lines.xs[None, :], lines.ys[:, None]
    if task.boards:
        climb += board_costs(task, xs, ys)
    if any(plane.venue for plane in task.planes):
        climb += np.where(inside & ~task.ground.near_edge(xs, ys), BEND_M, 0.0)
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
    trunk = np.abs((ys if ground.trunk_axis == 0 else xs) - ground.trunk_m) < 1e-9
    near = ground.near_edge(xs, ys)
    at_edge = np.where(near, OVER_OTHER_EDGE_M, THROUGH_BOARD_M)
    at_edge = np.where(trunk & ~outside, 0.0, at_edge)
    if task.from_venue:  # a lead goes over the edge where it comes to it
        at_edge = np.where(near, 0.0, at_edge)
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
