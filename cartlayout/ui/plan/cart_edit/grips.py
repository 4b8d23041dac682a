"""What of the cart can be taken hold of, and what is under the mouse. Plain values, no Qt."""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Literal

from ....build import Build, Cart, Leaf, Zone
from ....build.cart_geometry import (
    Ring,
    extent_of,
    handle_ring,
    leaf_ring,
    leg_ring,
    panel_ring,
    zone_ring,
)
from ....build.cart_parts import part_of, ref_of
from ....build.geometry import XY, outline
from ..handles import inside, way_to
from ..snapping import Box

CASTER_RADIUS_M = 0.038
MARK_PX = 8.0
"""Reach of the mouse to a mark."""
EDGE_PX = 5.0
LEAST_BODY_PX = 14.0
"""A thin panel or a small leg is taken hold of within so much."""

Sort = Literal["corner", "edge", "size", "body"]
WAYS = tuple((x, y) for y in (-1, 0, 1) for x in (-1, 0, 1) if (x, y) != (0, 0))


@dataclass(frozen=True, slots=True)
class Grip:
    """One thing to take hold of: a corner, an edge, the whole of a part, or a side of it."""

    part: str
    sort: Sort
    at: XY
    """Metres."""
    way: tuple[int, int] = (0, 0)
    """Of a side that is pulled: -1 left or rear, 1 right or front; of an edge: its normal's sign
    in the two directions, 1 where the mouse moves it that way."""


def ring_of(cart: Cart, part: str) -> Ring:
    """The edge of a part from above; a point for casters, two for outline edges."""
    ref, found = ref_of(part), part_of(cart, part)
    points = outline(cart)
    if ref is None:
        return ()
    if ref.kind == "corner":
        return (points[ref.index],) if ref.index < len(points) else ()
    if ref.kind == "edge":
        if ref.index >= len(points):
            return ()
        return points[ref.index], points[(ref.index + 1) % len(points)]
    if isinstance(found, Zone):
        return zone_ring(found)
    if isinstance(found, Leaf):
        return leaf_ring(cart, found)
    if ref.kind == "handle":
        return handle_ring(cart)
    if ref.kind == "panel" and cart.rear_panel is not None:
        return panel_ring(cart, cart.rear_panel)
    if ref.kind == "leg" and ref.index < len(cart.legs):
        return leg_ring(cart.legs[ref.index])
    if ref.kind == "caster" and ref.index < len(cart.casters):
        one = cart.casters[ref.index]
        return ((one.x.si, one.y.si),)
    return ()


def box_of_part(cart: Cart, part: str) -> Box | None:
    """The upright rectangle of a part."""
    ring = ring_of(cart, part)
    return Box(*extent_of(ring)) if ring else None


def outline_grips(cart: Cart) -> tuple[Grip, ...]:
    """The corners of the outline, and the middle of every edge."""
    points = outline(cart)
    made = [Grip(f"corner:{at}", "corner", point) for at, point in enumerate(points)]
    for at, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True)):
        made.append(
            Grip(
                f"edge:{at}",
                "edge",
                ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
                edge_way(a, b),
            )
        )
    return tuple(made)


def edge_way(a: XY, b: XY) -> tuple[int, int]:
    """In which of the two directions an edge moves when it is pulled."""
    upright, level = abs(a[0] - b[0]) < 1e-6, abs(a[1] - b[1]) < 1e-6
    return (1, 0) if upright else (0, 1) if level else (1, 1)


def size_grips(build: Build, part: str) -> tuple[Grip, ...]:
    """The sides and corners by which a selected part is made larger."""
    cart, found = build.cart, part_of(build.cart, part)
    box = box_of_part(cart, part)
    if box is None:
        return ()
    if isinstance(found, Zone):
        return tuple(Grip(part, "size", _on(box, way), way) for way in WAYS)
    if isinstance(found, Leaf):
        out = {"rear": (0, -1), "front": (0, 1), "left": (-1, 0), "right": (1, 0)}[found.side]
        along = ((1, 0), (-1, 0)) if out[0] == 0 else ((0, 1), (0, -1))
        return tuple(Grip(part, "size", _on(box, way), way) for way in (out, *along))
    if part == "handle" and cart.handle is not None:
        side = cart.handle.side
        way = {"rear": (0, -1), "front": (0, 1), "left": (-1, 0), "right": (1, 0)}[side]
        return (Grip(part, "size", _on(box, way), way),)
    return ()


def _on(box: Box, way: tuple[int, int]) -> XY:
    x = (box.left, box.middle_x, box.right)[way[0] + 1]
    y = (box.top, box.middle_y, box.bottom)[way[1] + 1]
    return x, y


def grip_at(
    build: Build, level: str, selected: Collection[str], at: XY, pixels_per_m: float
) -> Grip | None:
    """What a press would take hold of.

    Args:
        build: what is shown.
        level: zones of other levels cannot be taken hold of.
        selected: parts whose sides can be pulled.
        at: the place, metres.
        pixels_per_m: of the view.
    """
    cart = build.cart
    sizes = [grip for part in selected for grip in size_grips(build, part)]
    corners = [grip for grip in outline_grips(cart) if grip.sort == "corner"]
    for marks in (sizes, corners):
        near = [
            (away, number)
            for number, grip in enumerate(marks)
            if (away := math.dist(grip.at, at) * pixels_per_m) <= MARK_PX
        ]
        if near:
            return marks[min(near)[1]]
    return (
        _post(cart, at, pixels_per_m)
        or _edge(cart, at, pixels_per_m)
        or next(_bodies(cart, level, at, pixels_per_m), None)
    )


def _post(cart: Cart, at: XY, pixels_per_m: float) -> Grip | None:
    posts = [
        (f"leg:{number}", (leg.x.si, leg.y.si), leg.width.si / 2)
        for number, leg in enumerate(cart.legs)
    ]
    posts += [
        (f"caster:{number}", (one.x.si, one.y.si), CASTER_RADIUS_M)
        for number, one in enumerate(cart.casters)
    ]
    near = [
        (away, number)
        for number, (_, place, radius) in enumerate(posts)
        if (away := math.dist(place, at)) <= max(radius, LEAST_BODY_PX / 2 / pixels_per_m)
    ]
    if not near:
        return None
    part, place, _ = posts[min(near)[1]]
    return Grip(part, "body", place)


def _edge(cart: Cart, at: XY, pixels_per_m: float) -> Grip | None:
    points = outline(cart)
    best: tuple[float, int] | None = None
    for number, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True)):
        away = way_to((a, b), at) * pixels_per_m
        if away <= EDGE_PX and (best is None or away < best[0]):
            best = (away, number)
    if best is None:
        return None
    return next(one for one in outline_grips(cart) if one.part == f"edge:{best[1]}")


def _bodies(cart: Cart, level: str, at: XY, pixels_per_m: float) -> Iterator[Grip]:
    """Zones from small to large, then the panel, leaves and the handle."""
    zones = [
        (zone.width.si * zone.depth.si, number)
        for number, zone in enumerate(cart.zones)
        if zone.level == level and inside(at, zone_ring(zone))
    ]
    for _, number in sorted(zones):
        yield Grip(f"zone:{number}", "body", at)
    slack = LEAST_BODY_PX / pixels_per_m
    if cart.rear_panel is not None and inside(at, panel_ring(cart, cart.rear_panel), slack):
        yield Grip("panel", "body", at)
    for number, leaf in enumerate(cart.leaves):
        if inside(at, leaf_ring(cart, leaf)):
            yield Grip(f"leaf:{number}", "body", at)
    if cart.handle is not None and inside(at, handle_ring(cart), slack / 2):
        yield Grip("handle", "body", at)
