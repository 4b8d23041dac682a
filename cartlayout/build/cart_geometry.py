"""Where the cart's own parts are: rings of points in metres, for drawing and for reckoning."""

import math
from typing import NamedTuple

from .cart import Cart, CartLeg, Leaf, RearPanel, Side, Zone
from .geometry import XY, outline

Ring = tuple[XY, ...]
"""Corners in order; the last joins the first."""
SIDES: tuple[Side, ...] = ("rear", "right", "front", "left")
ARC_STEPS = 12
"""Pieces of a quarter turn."""
ROUND_STEPS = 48
SAME_M = 1e-6


class Extent(NamedTuple):
    """The upright rectangle around the cart."""

    left: float
    rear: float
    right: float
    front: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def depth(self) -> float:
        """From rear to front."""
        return self.front - self.rear


class Span(NamedTuple):
    """A straight stretch of the outline along one side of the cart."""

    side: Side
    at: float
    """y of a rear or front side, x of a left or right one."""
    start: float
    end: float


def extent(cart: Cart) -> Extent:
    """The upright rectangle around the outline."""
    return extent_of(outline(cart))


def extent_of(points: Ring) -> Extent:
    """The upright rectangle around some points."""
    xs, ys = zip(*points, strict=True)
    return Extent(min(xs), min(ys), max(xs), max(ys))


def surface(cart: Cart) -> Ring:
    """The outline with its rounded corners, as short straight pieces."""
    return rounded(outline(cart), cart.corner_radius.si)


def rounded(points: Ring, radius_m: float) -> Ring:
    """A closed outline with every corner rounded, as far as the edges beside it are long enough."""
    if radius_m <= 0:
        return points
    made: list[XY] = []
    for at, corner in enumerate(points):
        made += _corner(points[at - 1], corner, points[(at + 1) % len(points)], radius_m)
    return tuple(made)


def _corner(before: XY, corner: XY, after: XY, radius_m: float) -> list[XY]:
    to_before, to_after = math.dist(corner, before), math.dist(corner, after)
    if to_before < SAME_M or to_after < SAME_M:
        return [corner]
    ux, uy = (before[0] - corner[0]) / to_before, (before[1] - corner[1]) / to_before
    vx, vy = (after[0] - corner[0]) / to_after, (after[1] - corner[1]) / to_after
    opening = math.acos(max(-1.0, min(1.0, ux * vx + uy * vy)))
    if opening < 1e-3 or math.pi - opening < 1e-3:
        return [corner]
    tangent = min(radius_m / math.tan(opening / 2), to_before / 2, to_after / 2)
    radius = tangent * math.tan(opening / 2)
    middle_way = math.hypot(ux + vx, uy + vy)
    reach = math.hypot(tangent, radius)
    cx, cy = (
        corner[0] + (ux + vx) / middle_way * reach,
        corner[1] + (uy + vy) / middle_way * reach,
    )
    first = math.atan2(corner[1] + uy * tangent - cy, corner[0] + ux * tangent - cx)
    last = math.atan2(corner[1] + vy * tangent - cy, corner[0] + vx * tangent - cx)
    turn = (last - first + math.pi) % (2 * math.pi) - math.pi
    steps = max(2, math.ceil(abs(turn) / (math.pi / 2) * ARC_STEPS))
    return [
        (
            cx + radius * math.cos(first + turn * step / steps),
            cy + radius * math.sin(first + turn * step / steps),
        )
        for step in range(steps + 1)
    ]


def side_span(cart: Cart, side: Side) -> Span | None:
    """The longest straight edge along the outermost line of a side; None where it has none."""
    return span_of(outline(cart), side)


def span_of(points: Ring, side: Side) -> Span | None:
    """The same for any outline."""
    whole = extent_of(points)
    level = side in ("rear", "front")
    at = {
        "rear": whole.rear,
        "front": whole.front,
        "left": whole.left,
        "right": whole.right,
    }[side]
    best: Span | None = None
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        across, along = (1, 0) if level else (0, 1)
        if abs(a[across] - at) > 1e-4 or abs(b[across] - at) > 1e-4:
            continue
        start, end = sorted((a[along], b[along]))
        if best is None or end - start > best.end - best.start:
            best = Span(side, at, start, end)
    return best


def rectangle(left: float, rear: float, right: float, front: float) -> Ring:
    """An upright rectangle."""
    return ((left, rear), (right, rear), (right, front), (left, front))


def along_side(cart: Cart, side: Side, start_m: float, length_m: float, out_m: float) -> Ring:
    """A rectangle that stands out from a side; a negative `out_m` reaches inwards.

    `start_m` counts from the left end of the side, or from its rear end.
    """
    whole = extent(cart)
    if side in ("rear", "front"):
        x1 = whole.left + start_m
        y, out = (whole.rear, -out_m) if side == "rear" else (whole.front, out_m)
        return rectangle(x1, min(y, y + out), x1 + length_m, max(y, y + out))
    y1 = whole.rear + start_m
    x, out = (whole.left, -out_m) if side == "left" else (whole.right, out_m)
    return rectangle(min(x, x + out), y1, max(x, x + out), y1 + length_m)


def leaf_ring(cart: Cart, leaf: Leaf) -> Ring:
    """A leaf as it stands out while it is up."""
    return along_side(cart, leaf.side, leaf.start.si, leaf.length.si, leaf.depth.si)


def hanging_leaf_ring(cart: Cart, leaf: Leaf) -> Ring:
    """A leaf that is folded down: what its thickness adds to the cart's side."""
    return along_side(cart, leaf.side, leaf.start.si, leaf.length.si, leaf.thickness.si)


def panel_ring(cart: Cart, panel: RearPanel) -> Ring:
    """The upright board from above: within the cart, along its side between rounded corners."""
    return _whole_side(cart, panel.side, -panel.thickness.si, cart.corner_radius.si)


def handle_ring(cart: Cart) -> Ring:
    """The room that the handle takes outside of the cart; no points without a handle."""
    if cart.handle is None:
        return ()
    return _whole_side(cart, cart.handle.side, cart.handle.reach.si)


def _whole_side(cart: Cart, side: Side, out_m: float, short_m: float = 0.0) -> Ring:
    whole = extent(cart)
    level = side in ("rear", "front")
    span = side_span(cart, side)
    start, length = 0.0, whole.width if level else whole.depth
    if span is not None:
        start, length = span.start - (whole.left if level else whole.rear), span.end - span.start
    short = min(short_m, length / 2 - SAME_M)
    return along_side(cart, side, start + short, length - 2 * short, out_m)


def zone_ring(zone: Zone) -> Ring:
    """A zone's edge; a round one as many short pieces."""
    x, y, width, depth = zone.x.si, zone.y.si, zone.width.si, zone.depth.si
    if not zone.round:
        return rectangle(x, y, x + width, y + depth)
    return tuple(
        (
            x + width / 2 * (1 + math.cos(2 * math.pi * step / ROUND_STEPS)),
            y + depth / 2 * (1 + math.sin(2 * math.pi * step / ROUND_STEPS)),
        )
        for step in range(ROUND_STEPS)
    )


def leg_ring(leg: CartLeg) -> Ring:
    """A leg from above."""
    half = leg.width.si / 2
    return rectangle(leg.x.si - half, leg.y.si - half, leg.x.si + half, leg.y.si + half)


def area_m2(points: Ring) -> float:
    """Area within an outline; never negative, whichever way round its corners go."""
    return abs(signed_area_m2(points))


def signed_area_m2(points: Ring) -> float:
    """Area, positive where the corners run clockwise on the plan (y points down)."""
    total = 0.0
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        total += x1 * y2 - x2 * y1
    return total / 2
