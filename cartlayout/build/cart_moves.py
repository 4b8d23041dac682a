"""Moving parts of the cart and pulling their sides: pure functions in metres."""

from collections.abc import Iterable

from msgspec.structs import replace

from .cart import Cart, CartLeg, Caster, Leaf, Side, Zone
from .cart_edits import (
    LEAST_ZONE_M,
    OUTRIGGER_M,
    change,
    move_corner,
    move_edge,
    with_cart,
)
from .cart_geometry import Extent, extent, side_span
from .cart_parts import part_of, ref_of
from .cart_shape import length_like, shifted
from .document import Build
from .edits import EditError
from .geometry import XY

LEAST_LEAF_M = 0.05
LEAST_REACH_M = 0.01


def moved(
    build: Build, parts: Iterable[str], dx_m: float, dy_m: float, to: XY | None = None
) -> Build:
    """The build with parts moved; they stay on the cart.

    Args:
        build: before.
        parts: zones, casters, legs, leaves; handle and panel change sides.
        dx_m: to the right.
        dy_m: to the front.
        to: where the mouse is: what hangs on a side goes to the nearest. None: it stays.

    Raises:
        EditError: one of them cannot be moved.
    """
    for part in parts:
        build = _moved(build, part, dx_m, dy_m, to)
    return build


def _moved(build: Build, part: str, dx_m: float, dy_m: float, to: XY | None) -> Build:
    cart, found, ref = build.cart, part_of(build.cart, part), ref_of(part)
    whole = extent(cart)
    if ref is not None and ref.kind == "corner":
        return with_cart(build, move_corner(cart, ref.index, dx_m, dy_m))
    if ref is not None and ref.kind == "edge":
        return with_cart(build, move_edge(cart, ref.index, dx_m, dy_m))
    if isinstance(found, Zone):
        x = _between(found.x.si + dx_m, whole.left, whole.right - found.width.si, found.x.si)
        y = _between(found.y.si + dy_m, whole.rear, whole.front - found.depth.si, found.y.si)
        placed = replace(found, x=length_like(found.x, x), y=length_like(found.y, y))
        return change(build, part, placed)
    if isinstance(found, (Caster, CartLeg)):
        x = min(max(found.x.si + dx_m, whole.left - OUTRIGGER_M), whole.right + OUTRIGGER_M)
        y = min(max(found.y.si + dy_m, whole.rear - OUTRIGGER_M), whole.front + OUTRIGGER_M)
        post = replace(found, x=length_like(found.x, x), y=length_like(found.y, y))
        return change(build, part, post)
    if isinstance(found, Leaf):
        return change(build, part, _leaf_moved(cart, found, dx_m, dy_m, to))
    if found is not None:
        side = nearest_side(whole, to) if to is not None else found.side
        return change(build, part, replace(found, side=side))
    return build


def _between(value: float, low: float, high: float, before: float) -> float:
    """The value within bounds; a part that was beyond them before is not pulled in."""
    low, high = min(low, before), max(high, before)
    return min(max(value, low), high)


def _leaf_moved(cart: Cart, leaf: Leaf, dx_m: float, dy_m: float, to: XY | None) -> Leaf:
    whole = extent(cart)
    side = nearest_side(whole, to) if to is not None else leaf.side
    span = side_span(cart, side)
    if span is None:
        return leaf
    level = side in ("rear", "front")
    base = whole.left if level else whole.rear
    length = min(leaf.length.si, span.end - span.start)
    if side == leaf.side:
        start = leaf.start.si + (dx_m if level else dy_m)
    else:
        start = (to[0] if level else to[1]) - base - length / 2 if to is not None else 0.0
        start = round(start / 0.0127) * 0.0127
    start = min(max(start, span.start - base), span.end - base - length)
    return replace(
        leaf,
        side=side,
        start=length_like(leaf.start, start),
        length=length_like(leaf.length, length),
    )


def nearest_side(whole: Extent, at: XY) -> Side:
    """The side of the cart that a place is nearest to."""
    away: dict[Side, float] = {
        "rear": at[1] - whole.rear,
        "front": whole.front - at[1],
        "left": at[0] - whole.left,
        "right": whole.right - at[0],
    }
    return min(away, key=lambda side: (away[side], side))


def pulled(build: Build, part: str, way: tuple[int, int], dx_m: float, dy_m: float) -> Build:
    """The build with one side or corner of a part pulled; the opposite one stays.

    Args:
        build: before.
        part: a zone, a leaf or the handle.
        way: the side: -1 left or rear, 1 right or front, 0 neither.
        dx_m: to the right.
        dy_m: to the front.

    Raises:
        EditError: it cannot be made larger.
    """
    cart, found = build.cart, part_of(build.cart, part)
    if isinstance(found, Zone):
        return change(build, part, _zone_pulled(found, way, dx_m, dy_m))
    if isinstance(found, Leaf):
        return change(build, part, _leaf_pulled(cart, found, way, dx_m, dy_m))
    if part == "handle" and cart.handle is not None:
        out = dx_m * way[0] + dy_m * way[1]
        reach = max(cart.handle.reach.si + out, LEAST_REACH_M)
        handle = replace(cart.handle, reach=length_like(cart.handle.reach, reach))
        return change(build, "handle", handle)
    raise EditError("this part cannot be made larger by dragging")


def _zone_pulled(zone: Zone, way: tuple[int, int], dx_m: float, dy_m: float) -> Zone:
    """One side or corner follows, the opposite one stays."""

    def side(start: float, size: float, which: int, by: float) -> tuple[float, float]:
        if which > 0:
            return start, max(size + by, LEAST_ZONE_M)
        if which < 0:
            by = min(by, size - LEAST_ZONE_M)
            return start + by, size - by
        return start, size

    x, width = side(zone.x.si, zone.width.si, way[0], dx_m)
    y, depth = side(zone.y.si, zone.depth.si, way[1], dy_m)
    return replace(
        zone,
        x=length_like(zone.x, x),
        y=length_like(zone.y, y),
        width=length_like(zone.width, width),
        depth=length_like(zone.depth, depth),
    )


def _leaf_pulled(cart: Cart, leaf: Leaf, way: tuple[int, int], dx_m: float, dy_m: float) -> Leaf:
    level = leaf.side in ("rear", "front")
    out, along = (way[1], way[0]) if level else (way[0], way[1])
    if out:
        by = (dy_m if level else dx_m) * out
        depth = max(leaf.depth.si + by, LEAST_LEAF_M)
        return replace(leaf, depth=length_like(leaf.depth, depth))
    span, whole = side_span(cart, leaf.side), extent(cart)
    if span is None:
        return leaf
    base = whole.left if level else whole.rear
    by = dx_m if level else dy_m
    start, end = leaf.start.si, leaf.start.si + leaf.length.si
    if along > 0:
        end = min(max(end + by, start + LEAST_LEAF_M), span.end - base)
    else:
        start = max(min(start + by, end - LEAST_LEAF_M), span.start - base)
    return replace(
        leaf,
        start=length_like(leaf.start, start),
        length=length_like(leaf.length, end - start),
    )


def stretched(build: Build, part: str, dx_m: float, dy_m: float) -> Build:
    """The part with its right and front sides moved, as the keyboard does it.

    Raises:
        EditError: it has no size that could be changed so.
    """
    found = part_of(build.cart, part)
    if isinstance(found, Zone):
        return change(build, part, _zone_pulled(found, (1, 1), dx_m, dy_m))
    if isinstance(found, Leaf):
        level = found.side in ("rear", "front")
        made = _leaf_pulled(build.cart, found, (1, 0) if level else (0, 1), dx_m, dy_m)
        out = {"rear": (0, -1), "front": (0, 1), "left": (-1, 0), "right": (1, 0)}[found.side]
        sign = -1.0 if found.side in ("rear", "left") else 1.0
        made = _leaf_pulled(build.cart, made, out, sign * dx_m, sign * dy_m)
        return change(build, part, made)
    if isinstance(found, CartLeg):
        wide = max(found.width.si + dx_m + dy_m, 0.005)
        return change(build, part, replace(found, width=length_like(found.width, wide)))
    if part == "handle" and build.cart.handle is not None:
        handle = build.cart.handle
        reach = shifted(handle.reach, max(dx_m + dy_m, LEAST_REACH_M - handle.reach.si))
        return change(build, part, replace(handle, reach=reach))
    raise EditError("this part has no size to change; move it instead")
