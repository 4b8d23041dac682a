"""Greedy placement, then improvement: every label looks again for something better.

Two labels never share any area: a place that would is not considered, and a
label for which the frame has no place at all goes below the frame. The result
depends on the arguments only.
"""

from collections.abc import Sequence

import numpy as np

from ..plan.picture import Box
from .boxes import Floats, crosses, length_inside, meets
from .candidates import Candidates, candidates, leaders, point_of
from .ground import Ground, ground
from .model import Field, Label, PlacedLabel

_ROUNDS = 4
_LEADER_OVER_LABEL = 6.0
_LEADER_CROSSES = 3.0
_SCAN_STEPS = 48
_NO_PLACE = 40.0
_FAR_IF_DEARER = 6.0
"""A label whose nearest places all cost more is looked for further away."""


def place(labels: Sequence[Label], field: Field) -> tuple[PlacedLabel, ...]:
    """Find a place for every label.

    Args:
        labels: what is to be placed; keys are unique.
        field: the frame and what is in it.

    Returns:
        One for each label, in the order given. Boxes never overlap; those that
        found no room in the frame are marked `outside` and lie below it.
    """
    if not labels:
        return ()
    rows = ground(field)
    state = _State([candidates(label, rows) for label in labels], rows)
    order = sorted(range(len(labels)), key=lambda i: (-labels[i].priority, i))
    for i in order:
        state.settle(i)
    for _ in range(_ROUNDS):
        moved = [state.settle(i) for i in order]
        swapped = [state.make_room(i) for i in order]
        if not any(moved) and not any(swapped):
            break
    for i in order:
        if state.chosen[i] < 0:
            state.scan(i)
    return state.result(labels)


class _State:
    """Where every label stands; -1 while it stands nowhere."""

    def __init__(self, options: list[Candidates], ground: Ground) -> None:
        self.options = options
        self.ground = ground
        self.field = ground.field
        self.chosen = [-1] * len(options)
        self.boxes: Floats = np.full((len(options), 4), np.nan)
        self.leaders: Floats = np.full((len(options), 4), np.nan)
        self.cost = [_NO_PLACE] * len(options)

    def _others(self, *without: int) -> list[int]:
        return [j for j, at in enumerate(self.chosen) if at >= 0 and j not in without]

    def costs(self, i: int, without: tuple[int, ...] = (), only: int | None = None) -> Floats:
        """What every place of a label (or only one) costs beside the labels that stand."""
        mine = self.options[i]
        part = slice(None) if only is None else slice(only, only + 1)
        own_boxes, own_leaders = mine.boxes[part], mine.leaders[part]
        cost = mine.cost[part].copy()
        others = self._others(i, *without)
        if not others:
            return cost
        boxes, lines = self.boxes[others], self.leaders[others]
        lines = lines[(lines[:, :2] != lines[:, 2:]).any(axis=1)]
        cost[meets(own_boxes, boxes, self.field.gap).any(axis=1)] = np.inf
        cost += _LEADER_OVER_LABEL * (length_inside(own_boxes, lines) > 0).sum(axis=1)
        led = np.flatnonzero((own_leaders[:, :2] != own_leaders[:, 2:]).any(axis=1))
        if len(led):
            cost[led] += _LEADER_OVER_LABEL * (length_inside(boxes, own_leaders[led]) > 0).sum(
                axis=0
            )
            cost[led] += _LEADER_CROSSES * crosses(own_leaders[led], lines).sum(axis=1)
        return cost

    def settle(self, i: int) -> bool:
        """Take the cheapest place that is free; says whether the label moved."""
        cost = self.costs(i)
        best = int(np.argmin(np.round(cost, 6)))
        if cost[best] > _FAR_IF_DEARER and self.chosen[i] < 0 and not self.options[i].far:
            self.options[i] = candidates(self.options[i].label, self.ground, far=True)
            cost = self.costs(i)
            best = int(np.argmin(np.round(cost, 6)))
        if not np.isfinite(cost[best]):
            return False
        if self.chosen[i] >= 0 and cost[best] >= cost[self.chosen[i]] - 1e-6:
            self.cost[i] = float(cost[self.chosen[i]])
            return False
        self._take(i, best, float(cost[best]))
        return True

    def _take(self, i: int, at: int, cost: float) -> None:
        self.chosen[i] = at
        self.boxes[i] = self.options[i].boxes[at]
        self.leaders[i] = self.options[i].leaders[at]
        self.cost[i] = cost

    def make_room(self, i: int) -> bool:
        """Push one other label aside where both together are better off."""
        mine = self.options[i]
        now = self.cost[i] if self.chosen[i] >= 0 else _NO_PLACE
        if now <= 1.2:
            return False
        others = self._others(i)
        if not others:
            return False
        hits = meets(mine.boxes, self.boxes[others], self.field.gap)
        single = np.flatnonzero((hits.sum(axis=1) == 1) & (mine.cost < now - 0.3))
        for at in single[np.argsort(np.round(mine.cost[single], 6), kind="stable")][:12]:
            other = others[int(np.argmax(hits[at]))]
            if self._swap(i, int(at), other, now):
                return True
        return False

    def _swap(self, i: int, at: int, other: int, now: float) -> bool:
        was = self.chosen[i], self.chosen[other], self.cost[i], self.cost[other]
        before = now + self.cost[other]
        mine = float(self.costs(i, without=(other,), only=at)[0])
        if not np.isfinite(mine) or mine >= before:
            return False
        self._take(i, at, mine)
        cost = self.costs(other)
        best = int(np.argmin(np.round(cost, 6)))
        if np.isfinite(cost[best]) and mine + float(cost[best]) < before - 1e-6:
            self._take(other, best, float(cost[best]))
            return True
        self._take(other, was[1], was[3])
        if was[0] >= 0:
            self._take(i, was[0], was[2])
        else:
            self.chosen[i], self.cost[i] = -1, _NO_PLACE
        return False

    def scan(self, i: int) -> None:
        """Last resort: any free place of the frame, the nearest first; otherwise below it."""
        label, frame = self.options[i].label, self.field.frame
        width, height = min(label.sizes, key=lambda size: size[0] * size[1])
        size = label.sizes.index((width, height))
        rows = np.empty((0, 4))
        if width <= frame.width and height <= frame.height:
            xs = np.linspace(frame.x, frame.right - width, _SCAN_STEPS)
            ys = np.linspace(frame.y, frame.bottom - height, _SCAN_STEPS)
            x, y = (one.ravel() for one in np.meshgrid(xs, ys))
            rows = np.stack([x, y, x + width, y + height], axis=1)
        taken = [*self._others(i)]
        free = np.ones(len(rows), dtype=bool)
        if taken:
            free &= ~meets(rows, self.boxes[taken], self.field.gap).any(axis=1)
        if self.field.keep_out:
            free &= ~meets(rows, self.ground.keep_out).any(axis=1)
        rows = rows[free]
        if len(rows):
            middle = (rows[:, :2] + rows[:, 2:]) / 2
            far = np.hypot(middle[:, 0] - label.anchor[0], middle[:, 1] - label.anchor[1])
            row = rows[int(np.argmin(np.round(far, 6)))]
        else:
            row = self._below(taken, width, height)
        near = np.zeros(1, dtype=bool)
        extra = np.atleast_2d(row)
        mine = self.options[i]
        mine.boxes = np.concatenate([mine.boxes, extra])
        mine.sizes.append(size)
        mine.cost = np.append(mine.cost, _NO_PLACE)
        mine.leaders = np.concatenate([mine.leaders, leaders(extra, label, self.field.gap, near)])
        self._take(i, len(mine.sizes) - 1, _NO_PLACE)

    def _below(self, taken: list[int], width: float, height: float) -> Floats:
        """In rows under the frame, each row as wide as the frame, or as its first label."""
        frame, gap = self.field.frame, self.field.gap
        x, y = frame.x, frame.bottom + gap
        while True:
            row = np.array([x, y, x + width, y + height])
            hit = [j for j in taken if meets(row[None, :], self.boxes[j][None, :], gap)[0, 0]]
            if not hit:
                return row
            x = max(float(self.boxes[j][2]) for j in hit) + gap
            if x + width > frame.right:
                y = min(float(self.boxes[j][3]) for j in hit) + gap
                x = frame.x

    def result(self, labels: Sequence[Label]) -> tuple[PlacedLabel, ...]:
        """Where everything went."""
        placed = []
        for i, label in enumerate(labels):
            x0, y0, x1, y1 = (float(one) for one in self.boxes[i])
            start, end = point_of(self.leaders[i])
            placed.append(
                PlacedLabel(
                    key=label.key,
                    box=Box(x0, y0, x1 - x0, y1 - y0),
                    size=self.options[i].sizes[self.chosen[i]],
                    leader=(start, end) if start != end else (),
                    outside=y0 > self.field.frame.bottom,
                    cost=self.cost[i],
                )
            )
        return tuple(placed)
