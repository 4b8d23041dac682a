"""Places where a label could go, each with what it costs by itself."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..plan.picture import XY, Box
from .boxes import Bools, Floats, length_inside, meets, overlap_area
from .ground import Ground, segments
from .model import Label

# Costs are compared with each other only; one unit is "a label beside its target".
_SIZE_COST = 0.12
_BESIDE = 1.0
_RING = 2.0
_OFF_LINE = 2.0
"""More for a label that has places along a line, and stands elsewhere: whose is it there?"""
_OVER_OWN = 6.0
_NEAR_OWN = 0.6
NEAR_OWN_GAPS = 3.0
"""So near to a line of its own target a label looks as if it hung on it."""
_PER_RING = 0.2
_ALONG_STEP = 0.12
_BODY_WEIGHT = 7.0
_CORNER = 0.8
"""For covering the least bit of a solid body: a corner looks worse than its area says."""
_LINE_WEIGHT = 2.2
_ALONG_BODY_WEIGHT = 0.6
_LEADER_OVER_FORBIDDEN = 4.0
_LEADER_OVER_BODY = 1.0
_RING_GAPS = 4.0
_RINGS = (1.0, 2.0, 3.2, 4.8, 7.0, 10.0, 14.0, 19.0, 26.0)
"""Distances from the target, in steps of so many gaps."""
_NEAR_RINGS = 4
"""So many of them are looked at first."""
_ANGLES = tuple(math.radians(360.0 / 20 * step) for step in range(20))
_KEPT = 200
LEADER_FROM = 2.2
"""A label that stands further from its target than so many gaps gets a leader."""


_Offer = Callable[[float, float, int, float, bool], None]
"""Middle, size, cost, and whether it is near enough to need no leader."""


@dataclass(slots=True)
class Candidates:
    """Every place of one label as rows."""

    label: Label
    boxes: Floats
    sizes: list[int]
    cost: Floats
    """Infinite where something is covered that must not be, or the frame is left."""
    leaders: Floats
    """From the label's edge to the target; both ends equal where no leader is needed."""
    far: bool = True
    """Whether places further away are among them."""


def candidates(label: Label, ground: Ground, far: bool = False) -> Candidates:
    """Places for a label, costed against everything but other labels.

    Args:
        label: what is to be placed.
        ground: what is in the field.
        far: look further away too, where nothing near has turned out to be good.
    """
    field = ground.field
    rows: list[tuple[float, float, float, float]] = []
    sizes: list[int] = []
    base: list[float] = []
    free: list[bool] = []

    def offer(cx: float, cy: float, size: int, cost: float, near: bool) -> None:
        width, height = label.sizes[size]
        rows.append((cx - width / 2, cy - height / 2, cx + width / 2, cy + height / 2))
        sizes.append(size)
        base.append(cost + _SIZE_COST * size)
        free.append(near)

    for size in range(len(label.sizes)):
        _along(label, size, offer)
        _inside(label, size, field.gap, offer)
        _beside(label, size, field.gap, offer)
        _rings(label, size, field.gap, offer, _RINGS if far else _RINGS[:_NEAR_RINGS])
    boxes = np.array(rows)
    around = ground.near(_reach(boxes, label, field.gap))
    cost = np.array(base) + _covering(boxes, label, around)
    cost[_forbidden(boxes, around)] = np.inf
    # The dearest are never taken and would only be weighed again and again.
    kept = np.sort(np.argsort(np.round(cost, 6), kind="stable")[:_KEPT])
    boxes, cost, near = boxes[kept], cost[kept], np.array(free)[kept]
    lines = leaders(boxes, label, field.gap, near)
    cost += _crossing(lines, label, around)
    return Candidates(label, boxes, [sizes[at] for at in kept], cost, lines, far)


def _reach(boxes: Floats, label: Label, gap: float) -> Box:
    """Around every place and the leaders from there."""
    x0, y0 = boxes[:, :2].min(axis=0)
    x1, y1 = boxes[:, 2:].max(axis=0)
    made = Box(float(x0), float(y0), float(x1 - x0), float(y1 - y0))
    made = made.united(label.target).united(Box(*label.anchor, 0.0, 0.0))
    return made.grown(NEAR_OWN_GAPS * gap)


def _along(label: Label, size: int, offer: _Offer) -> None:
    for place, (x, y) in enumerate(label.along):
        offer(x, y, size, _ALONG_STEP * place, True)


def _inside(label: Label, size: int, gap: float, offer: _Offer) -> None:
    width, height = label.sizes[size]
    target = label.room
    play_x, play_y = target.width - width - gap, target.height - height - gap
    if not label.inside or play_x < 0 or play_y < 0:
        return
    x, y = target.centre
    # Low in the body leaves the silhouette its place above.
    for share, cost in ((0.5, 0.0), (0.25, 0.1), (0.0, 0.15), (-0.25, 0.3), (-0.5, 0.35)):
        for slide, more in ((0.0, 0.0), (-0.25, 0.2), (0.25, 0.2), (-0.5, 0.3), (0.5, 0.3)):
            offer(x + slide * play_x, y + share * play_y, size, cost + more, True)


def _beside(label: Label, size: int, gap: float, offer: _Offer) -> None:
    width, height = label.sizes[size]
    target, apart = label.target, label.apart * gap
    x, y = target.centre
    reach_x = (target.width + width) / 2
    reach_y = (target.height + height) / 2
    beside = _BESIDE + (_OFF_LINE if label.along else 0.0)
    for slide, more in ((0.0, 0.0), (-0.3, 0.15), (0.3, 0.15), (-0.6, 0.3), (0.6, 0.3)):
        offer(x + slide * reach_x, y + reach_y + apart, size, beside + more, True)
        offer(x + slide * reach_x, y - reach_y - apart, size, beside + 0.1 + more, True)
        offer(x + reach_x + apart, y + slide * reach_y, size, beside + 0.2 + more, True)
        offer(x - reach_x - apart, y + slide * reach_y, size, beside + 0.25 + more, True)


def _rings(label: Label, size: int, gap: float, offer: _Offer, rings: tuple[float, ...]) -> None:
    width, height = label.sizes[size]
    x, y = label.target.centre
    for ring in rings:
        away = ring * max(_RING_GAPS * gap, 0.25 * height)
        for angle in _ANGLES:
            cos, sin = math.cos(angle), math.sin(angle)
            offer(
                x + cos * ((label.target.width + width) / 2 + away),
                y + sin * ((label.target.height + height) / 2 + away),
                size,
                _RING + _PER_RING * ring + (_OFF_LINE if label.along else 0.0),
                False,
            )


def _covering(boxes: Floats, label: Label, ground: Ground) -> Floats:
    gap = ground.field.gap
    cost = np.zeros(len(boxes))
    width = boxes[:, 2] - boxes[:, 0]
    height = boxes[:, 3] - boxes[:, 1]
    if len(ground.bodies):
        own = [at for at, key in enumerate(ground.keys) if key == label.belongs]
        weights = ground.weights.copy()
        if label.inside:
            weights[own] = 0.0
        body_weight = _ALONG_BODY_WEIGHT if label.along else _BODY_WEIGHT
        areas = overlap_area(boxes, ground.bodies)
        cost += body_weight * (areas @ weights) / (width * height)
        if not label.along:
            cost += _CORNER * ((areas > 0.0) & (weights >= 1.0)).any(axis=1)
        if own and label.inside:
            # Wholly in its own body is what it wants; half in it is worst of all.
            share = areas[:, own[0]] / (width * height)
            cost += np.where((share > 0.01) & (share < 0.999), 4.0, 0.0)
    if len(ground.pieces):
        weight = (0.3 if label.along else 1.0) * _LINE_WEIGHT
        inside = length_inside(boxes, ground.pieces) @ ground.piece_weights
        cost += weight * inside / height
    if label.own:
        own_pieces = segments(label.own)
        for gaps, dear in ((0.5, _OVER_OWN), (NEAR_OWN_GAPS, _NEAR_OWN)):
            by = gaps * gap
            grown = boxes + np.array([-by, -by, by, by])
            cost += dear * (length_inside(grown, own_pieces) > 0).any(axis=1)
    return cost


def _crossing(lines: Floats, label: Label, ground: Ground) -> Floats:
    """What leaders cost that pass over other bodies, or over what must stay free."""
    cost = np.zeros(len(lines))
    led = np.flatnonzero((lines[:, :2] != lines[:, 2:]).any(axis=1))
    if not len(led):
        return cost
    if len(ground.keep_out):
        crossed = length_inside(ground.keep_out, lines[led]) > 0
        cost[led] += _LEADER_OVER_FORBIDDEN * crossed.sum(axis=0)
    others = [at for at, key in enumerate(ground.keys) if key != label.belongs]
    if others:
        crossed = length_inside(ground.bodies[others], lines[led]) > 0
        cost[led] += _LEADER_OVER_BODY * (ground.weights[others] @ crossed)
    return cost


def _forbidden(boxes: Floats, ground: Ground) -> Bools:
    frame = ground.field.frame
    out: Bools = (
        (boxes[:, 0] < frame.x)
        | (boxes[:, 1] < frame.y)
        | (boxes[:, 2] > frame.right)
        | (boxes[:, 3] > frame.bottom)
    )
    if len(ground.keep_out):
        # Half a gap, or whoever keeps labels where they are would not keep this one.
        out |= meets(boxes, ground.keep_out, ground.field.gap / 2).any(axis=1)
    return out


def leaders(boxes: Floats, label: Label, gap: float, near: Bools) -> Floats:
    """A leader for every box that stands away: from its edge to the nearest place of the target.

    A label that may lie in its target speaks of all of it, so its leader ends a
    little way inside; any other label speaks of its anchor alone.
    """
    x, y = label.anchor
    if label.inside:
        target = label.room
        inset = min(1.6 * gap, target.width / 2, target.height / 2)
        middle = (boxes[:, :2] + boxes[:, 2:]) / 2
        ends = np.stack(
            [
                np.clip(middle[:, 0], target.x + inset, target.right - inset),
                np.clip(middle[:, 1], target.y + inset, target.bottom - inset),
            ],
            axis=1,
        )
    else:
        ends = np.broadcast_to(np.array([x, y], dtype=float), (len(boxes), 2))
    starts = np.stack(
        [
            np.clip(ends[:, 0], boxes[:, 0], boxes[:, 2]),
            np.clip(ends[:, 1], boxes[:, 1], boxes[:, 3]),
        ],
        axis=1,
    )
    made = np.concatenate([starts, ends], axis=1)
    short = np.hypot(*(ends - starts).T) <= LEADER_FROM * gap
    made[near | short, 2:] = made[near | short, :2]
    return made


def point_of(row: Floats) -> tuple[XY, XY]:
    """A segment's two ends."""
    return (float(row[0]), float(row[1])), (float(row[2]), float(row[3]))
