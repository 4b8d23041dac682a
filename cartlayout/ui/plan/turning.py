"""The knob above what is selected, by which it is turned."""

import math

from ...build import Build
from ...build.geometry import turned
from .handles import Handle
from .moving import boxes_of, movable
from .snapping import Box

KNOB_PX = 26.0
"""Distance of the knob from the body."""
STEP = 15.0
"""Degrees that a turn by the knob rests on."""


def turn_handles(
    build: Build, item_ids: tuple[str, ...], pixels_per_m: float, *, alone: bool = False
) -> tuple[Handle, ...]:
    """One knob: above the rear edge of one body as it stands turned, else above them all."""
    ids = movable(build, item_ids, alone=alone)
    if not ids:
        return ()
    away = KNOB_PX / pixels_per_m
    if len(ids) == 1:
        item = next(item for item in build.items if item.id in ids)
        half = item.specification.size.depth.si / 2
        edge, knob = turned(item, 0.0, -half), turned(item, 0.0, -half - away)
        x, y = item.x.si, item.y.si
        at, stem = (x + knob[0], y + knob[1]), (x + edge[0], y + edge[1])
    else:
        box = boxes_of(build, ids)
        if box is None:
            return ()
        at, stem = (box.middle_x, box.top - away), (box.middle_x, box.top)
    return (Handle(kind="turn", at=at, stem=stem),)


def rest_angle(
    start: float, delta: float, *, single: float | None, free: bool, step: float = STEP
) -> float:
    """Degrees to turn by, from where the mouse went.

    Args:
        start: direction in which the knob was taken hold of, degrees.
        delta: direction in which the mouse is now, degrees.
        single: how the one body stands, so that it rests on whole steps of its own
            angle; None: several, which rest on whole steps from where they were.
        free: rest nowhere but on tenths.
        step: to rest on, degrees.
    """
    by = delta - start
    if free:
        return round(by, 1)
    base = single or 0.0
    return round((base + by) / step) * step - base


def direction(pivot: tuple[float, float], at: tuple[float, float]) -> float:
    """Degrees clockwise on the plan, from straight to the rear."""
    return math.degrees(math.atan2(at[0] - pivot[0], pivot[1] - at[1]))


def middle_of(box: Box) -> tuple[float, float]:
    """What is turned about."""
    return box.middle_x, box.middle_y
