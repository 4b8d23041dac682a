"""Bodies in each other's way: in plan by shapely, in height by their bands."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import shapely
from shapely import STRtree
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from ..build import VENUE, Build, Item, Zone
from ..build.geometry import corners, outline, turned, underside_m
from .results import Clash

TOLERANCE_M = 0.0005
"""Bodies that touch, or overlap by less than half a millimetre, are not in each other's way."""


@dataclass(frozen=True, slots=True)
class Solid:
    """A body as a prism."""

    item: Item
    shape: Polygon
    bottom_m: float
    top_m: float
    free: Polygon | None
    """What the body and its clearances need together; None where it asks for none."""


def solids(build: Build, previous: Mapping[str, Solid]) -> list[Solid]:
    """The bodies on the cart; items that are the same object keep the solid lent to them."""
    found = []
    for item in build.items:
        if item.level == VENUE:
            continue
        old = previous.get(item.id)
        if old is not None and old.item is item:
            found.append(old)
            continue
        bottom_m = underside_m(build.cart, item)
        top_m = bottom_m + item.specification.size.height.si
        found.append(Solid(item, Polygon(corners(item)), bottom_m, top_m, _free_space(item)))
    return found


def _pairs(shapes: list[Polygon], others: list[Polygon]) -> Iterator[tuple[int, int]]:
    """Indices of shapes and others whose bounds meet, in order."""
    if shapes and others:
        first, second = STRtree(others).query(shapes)
        yield from sorted(zip(first.tolist(), second.tolist(), strict=True))


def clashes(build: Build, bodies: list[Solid]) -> tuple[Clash, ...]:
    """Everything that is in something's way."""
    return (
        *_overlaps(bodies),
        *_overhangs(build, bodies),
        *_heights(build, bodies),
        *_zones(build, bodies),
        *_clearances(build, bodies),
    )


def _in_height(a: Solid, bottom_m: float, top_m: float) -> float:
    return min(a.top_m, top_m) - max(a.bottom_m, bottom_m)


def _depth(shape: BaseGeometry) -> float:
    """The shorter side of the common area: how far one body would have to move."""
    x1, y1, x2, y2 = shape.bounds
    return float(min(x2 - x1, y2 - y1))


def _overlaps(bodies: list[Solid]) -> Iterator[Clash]:
    shapes = [body.shape for body in bodies]
    for at, other_at in _pairs(shapes, shapes):
        body, other = bodies[at], bodies[other_at]
        if other_at <= at or _in_height(body, other.bottom_m, other.top_m) < TOLERANCE_M:
            continue
        common = body.shape.intersection(other.shape)
        if common.is_empty or _depth(common) < TOLERANCE_M:
            continue
        yield Clash("overlap", (body.item.id, other.item.id), float(common.area), _depth(common))


def _overhangs(build: Build, bodies: list[Solid]) -> Iterator[Clash]:
    cart = _safe_polygon(outline(build.cart))
    if cart is None:
        return
    reach = cart.buffer(TOLERANCE_M, join_style="mitre")
    inside = shapely.covers(reach, [body.shape for body in bodies])
    for body, is_inside in zip(bodies, inside, strict=True):
        if is_inside or body.item.mount == "wall":
            continue
        outside = body.shape.difference(cart)
        yield Clash("overhang", (body.item.id,), float(outside.area), _depth(outside))


def _safe_polygon(points: tuple[tuple[float, float], ...]) -> BaseGeometry | None:
    shape = Polygon(points)
    if not shape.is_valid:
        shape = shape.buffer(0)
    return None if shape.is_empty else shape


def _heights(build: Build, bodies: list[Solid]) -> Iterator[Clash]:
    """What sticks up into the level above, or down out of its own."""
    for body in bodies:
        level = build.cart.level(body.item.level)
        if level is None:
            yield Clash("level", (body.item.id,), 0.0, 0.0, body.item.level)
            continue
        over_m = body.top_m - (level.height.si + level.clear_height.si)
        if over_m > TOLERANCE_M and body.item.mount != "wall":
            yield Clash("height", (body.item.id,), float(body.shape.area), over_m, level.name)


def _zones(build: Build, bodies: list[Solid]) -> Iterator[Clash]:
    for zone in build.cart.zones:
        area = _zone_box(zone)
        for body in bodies:
            if body.item.level != zone.level or not body.shape.intersects(area):
                continue
            common = body.shape.intersection(area)
            if _depth(common) >= TOLERANCE_M:
                yield Clash(
                    f"zone-{zone.kind}",
                    (body.item.id,),
                    float(common.area),
                    _depth(common),
                    zone.name,
                )


def _zone_box(zone: Zone) -> Polygon:
    x, y = zone.x.si, zone.y.si
    return box(x, y, x + zone.width.si, y + zone.depth.si)


def _clearances(build: Build, bodies: list[Solid]) -> Iterator[Clash]:
    free = [(body, body.free) for body in bodies if body.free is not None]
    for at, other_at in _pairs([space for _, space in free], [body.shape for body in bodies]):
        (body, space), other = free[at], bodies[other_at]
        if (
            other is body
            or _in_height(other, body.bottom_m, body.top_m) < TOLERANCE_M
            or other.shape.intersection(body.shape).area > TOLERANCE_M**2  # said as an overlap
        ):
            continue
        common = space.intersection(other.shape)
        if not common.is_empty and _depth(common) >= TOLERANCE_M:
            ids = (body.item.id, other.item.id)
            yield Clash("clearance", ids, float(common.area), _depth(common))
    for body in bodies:
        yield from _room_above(build, body)


def _room_above(build: Build, body: Solid) -> Iterator[Clash]:
    top_m = max((one.top.si for one in body.item.specification.clearances), default=0.0)
    level = build.cart.level(body.item.level)
    if top_m <= 0 or level is None or body.item.mount != "standing":
        return
    short_m = body.top_m + top_m - (level.height.si + level.clear_height.si)
    if TOLERANCE_M < short_m <= top_m:
        yield Clash("clearance-top", (body.item.id,), 0.0, short_m, level.name)


def _free_space(item: Item) -> Polygon | None:
    needs = item.specification.clearances
    size = item.specification.size
    to_left, to_right, to_rear, to_front = (
        max((getattr(need, side).si for need in needs), default=0.0)
        for side in ("left", "right", "rear", "front")
    )
    if not (to_left or to_right or to_rear or to_front):
        return None
    left, right = -size.width.si / 2 - to_left, size.width.si / 2 + to_right
    rear, front = -size.depth.si / 2 - to_rear, size.depth.si / 2 + to_front
    x, y = item.x.si, item.y.si
    turns = [
        turned(item, dx, dy)
        for dx, dy in ((left, rear), (right, rear), (right, front), (left, front))
    ]
    return Polygon([(x + dx, y + dy) for dx, dy in turns])
