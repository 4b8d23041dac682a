"""The field as rows of numbers, made once for all labels, and the part of it that is near one."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..plan.picture import XY, Box
from .boxes import Bools, Floats
from .model import Field


@dataclass(slots=True)
class Ground:
    """Bodies, lines and places to keep free."""

    field: Field
    bodies: Floats
    weights: Floats
    """Of the bodies."""
    keys: list[str]
    """Of the bodies."""
    pieces: Floats
    """Straight pieces of all lines."""
    piece_weights: Floats
    keep_out: Floats

    def near(self, reach: Box) -> "Ground":
        """What comes into a rectangle; nothing else can be covered by what stays within it."""
        bodies = _touch(self.bodies, reach)
        low = np.minimum(self.pieces[:, :2], self.pieces[:, 2:])
        high = np.maximum(self.pieces[:, :2], self.pieces[:, 2:])
        pieces = _touch(np.concatenate([low, high], axis=1), reach)
        return Ground(
            self.field,
            self.bodies[bodies],
            self.weights[bodies],
            [self.keys[at] for at in np.flatnonzero(bodies)],
            self.pieces[pieces],
            self.piece_weights[pieces],
            self.keep_out[_touch(self.keep_out, reach)],
        )


def ground(field: Field) -> Ground:
    """Rows of everything in a field."""
    weights = [weight for points, weight in field.lines for _ in range(len(points) - 1)]
    return Ground(
        field,
        rows_of([one.box for one in field.bodies]),
        np.array([one.weight for one in field.bodies], dtype=float),
        [one.key for one in field.bodies],
        segments([points for points, _ in field.lines]),
        np.array(weights, dtype=float),
        rows_of(list(field.keep_out)),
    )


def _touch(rows: Floats, reach: Box) -> Bools:
    found: Bools = (
        (rows[:, 0] <= reach.right)
        & (rows[:, 2] >= reach.x)
        & (rows[:, 1] <= reach.bottom)
        & (rows[:, 3] >= reach.y)
    )
    return found


def segments(lines: Sequence[Sequence[XY]]) -> Floats:
    """The straight pieces of polylines as rows."""
    rows = [(*a, *b) for points in lines for a, b in itertools.pairwise(points)]
    return np.array(rows, dtype=float).reshape(-1, 4)


def rows_of(boxes: list[Box]) -> Floats:
    """Boxes as rows."""
    rows = [(x, y, x + width, y + height) for x, y, width, height in boxes]
    return np.array(rows, dtype=float).reshape(-1, 4)
