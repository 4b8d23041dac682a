"""Bodies in each other's way: in plan by shapely, in height by their bands."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry

from ..build import Build
from .frame import TOLERANCE_M, Frame, Prism
from .hanging import hanging
from .results import Clash
from .solids import Bounds, Solid, Space, common


def clashes(build: Build, frame: Frame, bodies: list[Solid]) -> tuple[Clash, ...]:
    """Everything that is in something's way."""
    if not bodies:
        return ()
    tree = STRtree([body.shape for body in bodies])
    return (
        *_overlaps(tree, bodies),
        *_overhangs(frame, bodies),
        *_heights(build, bodies),
        *_parts(frame, tree, bodies),
        *_zones(frame, tree, bodies),
        *hanging(frame, bodies),
        *_clearances(tree, bodies),
        *_room_around(build, frame, bodies),
    )


def _pairs(
    tree: STRtree, shapes: Sequence[BaseGeometry], owners: Sequence[int] | None = None
) -> Iterator[tuple[int, int]]:
    """Indices of shapes and of the tree's bodies whose bounds meet, in order.

    `owners` says whose each shape is: a body is not paired with its own.
    """
    first, second = tree.query(shapes)
    if owners is not None:  # most pairs of a large build are of this sort
        foreign = np.asarray(owners)[first] != second
        first, second = first[foreign], second[foreign]
    yield from sorted(zip(first.tolist(), second.tolist(), strict=True))


def _in_height(a: Solid | Space, bottom_m: float, top_m: float) -> float:
    return min(a.top_m, top_m) - max(a.bottom_m, bottom_m)


def depth_of(shape: BaseGeometry) -> float:
    """The shorter side of a common area: how far one body would have to move."""
    x1, y1, x2, y2 = shape.bounds
    return float(min(x2 - x1, y2 - y1))


def _overlaps(tree: STRtree, bodies: list[Solid]) -> Iterator[Clash]:
    shapes = [body.shape for body in bodies]
    for at, other_at in _pairs(tree, shapes, range(len(bodies))):
        body, other = bodies[at], bodies[other_at]
        if other_at <= at or _in_height(body, other.bottom_m, other.top_m) < TOLERANCE_M:
            continue
        area_m2, depth_m = common(body, other, body.upright and other.upright)
        if depth_m >= TOLERANCE_M:
            yield Clash("overlap", (body.item.id, other.item.id), area_m2, depth_m)


def _overhangs(frame: Frame, bodies: list[Solid]) -> Iterator[Clash]:
    if frame.outline is None:
        return
    for level, near in frame.reached.items():
        here = [body for body in bodies if body.item.level == level and body.item.mount != "wall"]
        if not here:
            continue
        inside = shapely.covers(near, [body.shape for body in here])
        for body, is_inside in zip(here, inside.tolist(), strict=True):
            if not is_inside:
                yield _overhang(frame, body, frame.surfaces[level])


def _overhang(frame: Frame, body: Solid, surface: BaseGeometry) -> Clash:
    """What sticks out; where a leaf would hold it up, were it not folded down, that is said."""
    outside = body.shape.difference(surface)
    area_m2, depth_m = float(outside.area), depth_of(outside)
    if body.item.level == frame.counter:
        for flap in frame.flaps:
            if not flap.leaf.up and outside.intersection(flap.shape).area > area_m2 / 2:
                return Clash("leaf-down", (body.item.id,), area_m2, depth_m, flap.leaf.name)
    return Clash("overhang", (body.item.id,), area_m2, depth_m)


def _heights(build: Build, bodies: list[Solid]) -> Iterator[Clash]:
    """What sticks up into the level above, or stands on no level."""
    levels = {level.name: level for level in build.cart.levels}
    for body in bodies:
        level = levels.get(body.item.level)
        if level is None:
            yield Clash("level", (body.item.id,), 0.0, 0.0, body.item.level)
            continue
        over_m = body.top_m - (level.height.si + level.clear_height.si)
        if over_m > TOLERANCE_M and body.item.mount != "wall":
            yield Clash("height", (body.item.id,), body.area_m2, over_m, level.name)


def _parts(frame: Frame, tree: STRtree, bodies: list[Solid]) -> Iterator[Clash]:
    """Bodies in the cart's legs or in its panel."""
    parts = [("leg", leg) for leg in frame.legs]
    if frame.panel is not None:
        parts.append(("panel", frame.panel))
    if not parts:
        return
    for at, body_at in _pairs(tree, [part.shape for _, part in parts]):
        (code, part), body = parts[at], bodies[body_at]
        if _in_height(body, part.bottom_m, part.top_m) < TOLERANCE_M:
            continue
        both = body.shape.intersection(part.shape)
        if not both.is_empty and depth_of(both) >= TOLERANCE_M:
            yield Clash(code, (body.item.id,), float(both.area), depth_of(both), part.name)


def _zones(frame: Frame, tree: STRtree, bodies: list[Solid]) -> Iterator[Clash]:
    if not frame.zones:
        return
    for at, body_at in _pairs(tree, [shape for _, shape in frame.zones]):
        (zone, shape), body = frame.zones[at], bodies[body_at]
        if body.item.level != zone.level:
            continue
        if zone.kind == "opening" and not _stands(body):
            continue  # what hangs over a hole, or in it, does not stand on it
        both = body.shape.intersection(shape)
        if not both.is_empty and depth_of(both) >= TOLERANCE_M:
            ids = (body.item.id,)
            name = zone.name or zone.use
            yield Clash(f"zone-{zone.kind}", ids, float(both.area), depth_of(both), name)


def _stands(body: Solid) -> bool:
    return body.item.mount == "standing" and abs(body.item.raised.si) <= TOLERANCE_M


def _clearances(tree: STRtree, bodies: list[Solid]) -> Iterator[Clash]:
    """Bodies in the spaces that others need: the worst side for each pair and purpose."""
    spaces = [(at, space) for at, body in enumerate(bodies) for space in body.spaces]
    if not spaces:
        return
    worst: dict[tuple[str, str, str], Clash] = {}
    owners = [at for at, _ in spaces]
    for at, other_at in _pairs(tree, [space.shape for _, space in spaces], owners):
        (owner, space), other = spaces[at], bodies[other_at]
        body = bodies[owner]
        if _in_height(other, space.bottom_m, space.top_m) < TOLERANCE_M:
            continue
        area_m2, depth_m = common(space, other, body.upright and other.upright)
        if depth_m < TOLERANCE_M or _said_as_overlap(body, other):
            continue
        if space.side == "top":
            depth_m = space.top_m - max(space.bottom_m, other.bottom_m)
        key = (body.item.id, other.item.id, space.purpose)
        if key not in worst or worst[key].depth_m < depth_m:
            worst[key] = Clash(
                "clearance", key[:2], area_m2, depth_m,
                side=space.side, purpose=space.purpose, need_m=space.need_m,
            )  # fmt: skip
    yield from worst.values()


def _said_as_overlap(body: Solid, other: Solid) -> bool:
    if _in_height(body, other.bottom_m, other.top_m) < TOLERANCE_M:
        return False
    return common(body, other, body.upright and other.upright)[1] >= TOLERANCE_M


def _room_around(build: Build, frame: Frame, bodies: list[Solid]) -> Iterator[Clash]:
    """Spaces that the level above, or the panel, cuts short."""
    ceilings = {one.name: one.height.si + one.clear_height.si for one in build.cart.levels}
    for body in bodies:
        if not body.spaces:
            continue
        ceiling_m = ceilings.get(body.item.level)
        for space in body.spaces:
            if space.side == "top":
                if ceiling_m is not None and body.item.mount == "standing":
                    yield from _above(body, space, ceiling_m, body.item.level)
            elif frame.panel is not None:
                yield from _before(body, space, frame.panel)


def _above(body: Solid, space: Space, ceiling_m: float, level: str) -> Iterator[Clash]:
    short_m = space.top_m - ceiling_m
    if TOLERANCE_M < short_m <= space.need_m:
        yield Clash(
            "clearance-top", (body.item.id,), 0.0, short_m, level,
            side="top", purpose=space.purpose, need_m=space.need_m,
        )  # fmt: skip


def _meet(a: Bounds, b: Bounds) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _before(body: Solid, space: Space, panel: Prism) -> Iterator[Clash]:
    if _in_height(space, panel.bottom_m, panel.top_m) < TOLERANCE_M:
        return
    if not _meet(space.bounds, panel.bounds):
        return
    both = space.shape.intersection(panel.shape)
    if not both.is_empty and depth_of(both) >= TOLERANCE_M:
        yield Clash(
            "clearance-panel", (body.item.id,), float(both.area), depth_of(both), panel.name,
            side=space.side, purpose=space.purpose, need_m=space.need_m,
        )  # fmt: skip
