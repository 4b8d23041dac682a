"""Items as prisms with the spaces they need around them; kept as long as the item is the same."""

from collections.abc import Mapping
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon

from ..build import VENUE, Basin, Battery, Build, Extension, Generator, Item, Outlet, Strip, Tank
from ..build import Box as PowerBox
from ..build.geometry import corners, turned, underside_m
from ..build.specification import Purpose
from .carried import carried
from .weights import Load, item_load

Bounds = tuple[float, float, float, float]
XY = tuple[float, float]
Ring = tuple[XY, XY, XY, XY]
RECEPTACLES = (Outlet, Strip, PowerBox, Extension, Generator, Battery)


@dataclass(frozen=True, slots=True)
class Space:
    """Room that a body needs to be free, on one side, for one purpose."""

    purpose: Purpose
    side: str
    """"left", "right", "front", "rear" of the un-turned body, or "top"."""
    need_m: float
    shape: Polygon
    bounds: Bounds
    bottom_m: float
    top_m: float


@dataclass(frozen=True, slots=True)
class Solid:
    """A body as a prism."""

    item: Item
    shape: Polygon
    bounds: Bounds
    upright: bool
    """Its sides run along the axes: the bounds are the body."""
    area_m2: float
    bottom_m: float
    top_m: float
    spaces: tuple[Space, ...]
    load: Load
    carried_kg: float
    carried_full: bool
    """With the water in it."""
    wet_m: float | None
    """Height of the highest water that could get out: a joint, or the brim of an open vessel.
    None where no water is in it or runs through it."""
    live: bool
    """Others plug into it."""


def solids(build: Build, previous: Mapping[str, Solid]) -> list[Solid]:
    """The bodies on the cart; items that are the same object keep the solid lent to them."""
    items = [item for item in build.items if item.level != VENUE]
    found = {
        item.id: old
        for item in items
        if (old := previous.get(item.id)) is not None and old.item is item
    }
    drafts = [_draft(item) for item in items if item.id not in found]
    if drafts:
        # All at once: one call for a hundred polygons costs little more than one for one.
        shapes = iter(shapely.polygons([ring for draft in drafts for ring in draft.rings]))
        for draft in drafts:
            found[draft.item.id] = _solid(build, draft, [next(shapes) for _ in draft.rings])
    return [found[item.id] for item in items]


@dataclass(frozen=True, slots=True)
class _Draft:
    """A body before its shapes are made: its corners first, then those of the spaces beside it."""

    item: Item
    rings: list[Ring]
    beside: list[tuple[Purpose, str, float]]
    above: list[tuple[Purpose, float]]


def _draft(item: Item) -> _Draft:
    draft = _Draft(item, [corners(item)], [], [])
    size = item.specification.size
    right, front = size.width.si / 2, size.depth.si / 2
    left, rear = -right, -front
    for need in item.specification.clearances:
        for side, by_m, box in (
            ("left", need.left.si, (left - need.left.si, rear, left, front)),
            ("right", need.right.si, (right, rear, right + need.right.si, front)),
            ("rear", need.rear.si, (left, rear - need.rear.si, right, rear)),
            ("front", need.front.si, (left, front, right, front + need.front.si)),
        ):
            if by_m > 0:
                draft.rings.append(_placed(item, *box))
                draft.beside.append((need.purpose, side, by_m))
        if need.top.si > 0:
            draft.above.append((need.purpose, need.top.si))
    return draft


def _placed(item: Item, left: float, rear: float, right: float, front: float) -> Ring:
    """A rectangle around the middle of the un-turned body, turned with it and put on the plan."""
    x, y = item.x.si, item.y.si
    a, b, c, d = (
        turned(item, dx, dy)
        for dx, dy in ((left, rear), (right, rear), (right, front), (left, front))
    )
    return (x + a[0], y + a[1]), (x + b[0], y + b[1]), (x + c[0], y + c[1]), (x + d[0], y + d[1])


def _bounds(ring: Ring) -> Bounds:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _solid(build: Build, draft: _Draft, shapes: list[Polygon]) -> Solid:
    item = draft.item
    spec = item.specification
    bottom_m = underside_m(build.cart, item)
    top_m = bottom_m + spec.size.height.si
    shape, bounds = shapes[0], _bounds(draft.rings[0])
    load = item_load(item, bottom_m)
    carried_kg, carried_full = carried(item, load)
    beside = (
        Space(purpose, side, need_m, space, _bounds(ring), bottom_m, top_m)
        for (purpose, side, need_m), ring, space in zip(
            draft.beside, draft.rings[1:], shapes[1:], strict=True
        )
    )
    above = (
        Space(purpose, "top", need_m, shape, bounds, top_m, top_m + need_m)
        for purpose, need_m in draft.above
    )
    return Solid(
        item=item,
        shape=shape,
        bounds=bounds,
        upright=item.rotation % 90.0 == 0.0,
        area_m2=spec.size.width.si * spec.size.depth.si,
        bottom_m=bottom_m,
        top_m=top_m,
        spaces=(*beside, *above),
        load=load,
        carried_kg=carried_kg,
        carried_full=carried_full,
        wet_m=_wet_m(item, bottom_m, top_m),
        live=isinstance(spec.electrical, RECEPTACLES),
    )


def _wet_m(item: Item, bottom_m: float, top_m: float) -> float | None:
    spec = item.specification
    if isinstance(spec.water, (Tank, Basin)):
        return top_m
    joints = [bottom_m + port.z.si for port in spec.ports if port.medium != "power"]
    if not joints and spec.water is None:
        return None
    return max([bottom_m, *joints])


def common(a: Solid | Space, b: Solid, upright: bool) -> tuple[float, float]:
    """Area that two share on the plan, and how far one would have to move; zeros for none."""
    if upright:
        wide = min(a.bounds[2], b.bounds[2]) - max(a.bounds[0], b.bounds[0])
        deep = min(a.bounds[3], b.bounds[3]) - max(a.bounds[1], b.bounds[1])
        return (wide * deep, min(wide, deep)) if wide > 0 and deep > 0 else (0.0, 0.0)
    both = a.shape.intersection(b.shape)
    if both.is_empty:
        return 0.0, 0.0
    x1, y1, x2, y2 = both.bounds
    return float(both.area), float(min(x2 - x1, y2 - y1))
