"""The way of one run, without way-points.

What stands about is looked at only when a way runs into it: the cheapest way
past nothing is found, then past what that one met, and so on. A way that meets
nothing new is the cheapest past everything, because leaving bodies out can only
make ways cheaper. The way is a function of its ends, the cart and the bodies
alone, so equal builds have equal routes, whatever was drawn before.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ...build.geometry import XYZ
from .bends import cleaned
from .bodies import Flags, Floats, meets
from .lattice import cheapest
from .task import Task
from .weights import lines_for, weights_for

_MOST_LOOKS = 16
"""After so many looks everything in the cart is looked at."""
_EVERYWHERE = (-np.inf, -np.inf, np.inf, np.inf, -np.inf, np.inf)


@dataclass(frozen=True, slots=True)
class Way:
    """Corners of a way in space, and every piece of ground that was looked at to find it."""

    points: tuple[XYZ, ...]
    looked_at: Floats
    """Rows like those of bodies: if nothing comes or goes there, the way stays as it is."""


def find_way(task: Task) -> Way:
    """Search the way of a run. Never fails: at worst it goes through what is in the way."""
    bodies = task.bodies
    blocking = [bodies.block(plane.low_m, plane.high_m) for plane in task.planes]
    own = {bodies.rows[end.item] for end in (task.a, task.b)}
    known = np.zeros(len(bodies.boxes), dtype=bool)
    known[list(own)] = True
    looked_at: list[Floats] = [task.probed]
    for look in range(_MOST_LOOKS + 1):
        if look == _MOST_LOOKS:
            known |= np.logical_or.reduce(blocking)
            looked_at.append(np.array([_EVERYWHERE]))
        steps = _past(task, known, blocking)
        pieces = _pieces(task, steps)
        looked_at.append(pieces)
        met = meets(pieces, bodies.table).any(axis=0)
        if not (met & ~known).any():
            break
        known |= met
    points = [task.a.at, *((x, y, task.planes[height].z_m) for x, y, height in steps)]
    x, y, _ = points[-1]
    points += [(x, y, task.b.at[2]), task.b.at]  # on one height the ports differ by less than 1 mm
    return Way(cleaned(points), np.concatenate(looked_at))


_Step = tuple[float, float, int]


def _past(task: Task, known: Flags, blocking: Sequence[Flags]) -> list[_Step]:
    """The cheapest way past some of the bodies: places on the plan and index of the height."""
    lines = lines_for(task, known)
    weights = weights_for(task, lines, known, blocking)
    start = (*lines.at(*task.first), 0, 1 if task.a.out[1] else 0)
    stop = (*lines.at(*task.last), len(task.planes) - 1, 1 if task.b.out[1] else 0)
    return [
        (float(lines.xs[column]), float(lines.ys[row]), height)
        for column, row, height in cheapest(lines, weights, start, stop)
    ]


def _pieces(task: Task, steps: Sequence[_Step]) -> Floats:
    """The pieces from step to step, each with the height band in which something meets it."""
    if len(steps) < 2:
        return np.zeros((0, 6))
    places = np.array(steps)
    a, b = places[:-1], places[1:]
    low_m, high_m = task.span
    bands = np.array([*((plane.low_m, plane.high_m) for plane in task.planes), (low_m, high_m)])
    which = np.where(a[:, 2] == b[:, 2], a[:, 2], len(bands) - 1).astype(np.intp)
    return np.concatenate(
        [np.minimum(a[:, :2], b[:, :2]), np.maximum(a[:, :2], b[:, :2]), bands[which]], axis=1
    )
