"""Boxes and segments in numpy: overlaps, distances and crossings of many at once.

Boxes are rows (x0, y0, x1, y1); segments are rows (xa, ya, xb, yb).
"""

from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]


_NOTHING = 1e-9


def overlap_area(a: Floats, b: Floats) -> Floats:
    """Shared area of every box of a (rows) with every box of b (columns)."""
    wide = np.minimum(a[:, None, 2], b[None, :, 2]) - np.maximum(a[:, None, 0], b[None, :, 0])
    high = np.minimum(a[:, None, 3], b[None, :, 3]) - np.maximum(a[:, None, 1], b[None, :, 1])
    area: Floats = np.clip(wide, 0.0, None) * np.clip(high, 0.0, None)
    return area


def meets(a: Floats, b: Floats, gap: float = 0.0) -> Bools:
    """Whether boxes come nearer to each other than the gap."""
    found: Bools = (
        (a[:, None, 0] < b[None, :, 2] + gap)
        & (b[None, :, 0] < a[:, None, 2] + gap)
        & (a[:, None, 1] < b[None, :, 3] + gap)
        & (b[None, :, 1] < a[:, None, 3] + gap)
    )
    return found


def length_inside(boxes: Floats, segments: Floats) -> Floats:
    """Length of every segment (columns) inside every box (rows), by Liang and Barsky's clipping."""
    shape = (len(boxes), len(segments))
    enter, leave = np.zeros(shape), np.ones(shape)
    way = segments[:, 2:] - segments[:, :2]
    for axis in (0, 1):
        step = way[:, axis]
        still = np.abs(step) < _NOTHING
        low = boxes[:, axis, None] - segments[None, :, axis]
        high = boxes[:, axis + 2, None] - segments[None, :, axis]
        divisor = np.where(still, 1.0, step)
        one, other = low / divisor, high / divisor
        first, last = np.minimum(one, other), np.maximum(one, other)
        if still.any():
            # Along the other axis it is in this slab all the way, or nowhere.
            within = (low <= 0.0) & (high >= 0.0)
            first = np.where(still, np.where(within, -np.inf, np.inf), first)
            last = np.where(still, np.where(within, np.inf, -np.inf), last)
        np.maximum(enter, first, out=enter)
        np.minimum(leave, last, out=leave)
    inside: Floats = np.clip(leave - enter, 0.0, None) * np.hypot(way[:, 0], way[:, 1])
    return inside


def crosses(a: Floats, b: Floats) -> Bools:
    """Whether every segment of a (rows) crosses every segment of b (columns)."""

    def side(p: Any, q: Any, r: Any) -> Any:
        return (q[..., 0] - p[..., 0]) * (r[..., 1] - p[..., 1]) - (q[..., 1] - p[..., 1]) * (
            r[..., 0] - p[..., 0]
        )

    a0, a1 = a[:, None, :2], a[:, None, 2:]
    b0, b1 = b[None, :, :2], b[None, :, 2:]
    found: Bools = (side(a0, a1, b0) * side(a0, a1, b1) < 0) & (
        side(b0, b1, a0) * side(b0, b1, a1) < 0
    )
    return found
