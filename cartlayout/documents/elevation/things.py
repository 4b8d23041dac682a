"""What stands in the way of an eye: the cart's parts and the bodies as upright prisms."""

import math
from dataclasses import dataclass
from typing import Literal

from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from ...build import VENUE, Build, Cart, Item
from ...build.cart_geometry import (
    Ring,
    handle_ring,
    hanging_leaf_ring,
    leaf_ring,
    leg_ring,
    panel_ring,
    zone_ring,
)
from ...build.geometry import corners, outline, underside_m
from .view import UA, Facing

Kind = Literal["board", "panel", "leg", "caster", "handle", "leaf", "body", "venue", "opening"]
GRIP_M = 0.032
"""Thickness a handle is drawn with; the document says only where it is."""
WHEEL_M = 0.125
"""Diameter a wheel is drawn with where there is room; the document says only where it stands."""
_WHEEL_SHARE = 0.85
_FORK_SHARE, _HUB_SHARE, _PLATE_SHARE = 0.28, 0.2, 0.75
_PLATE_M = 0.006
_ROUND = 16
_FLAT_M = 0.001
_BENT = 1e-9
_SHARP = 0.34
"""Sine of 20 degrees; a round thing is made of pieces that turn by less than half of that."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that can be seen, with everything that its place among others needs."""

    key: str
    """Id of the item, or "level:counter", "caster:0", "handle"."""
    name: str
    kind: Kind
    level: str
    ring: tuple[UA, ...]
    """From above, as the eye counts: metres to the right, metres away."""
    bottom_m: float
    top_m: float
    shape: BaseGeometry
    """As it is seen: metres to the right, metres above the floor."""

    @property
    def near_m(self) -> float:
        """Of its nearest point."""
        return min(away for _, away in self.ring)

    @property
    def left_m(self) -> float:
        """Of its leftmost point as seen."""
        return min(u for u, _ in self.ring)

    @property
    def right_m(self) -> float:
        """Of its rightmost point as seen."""
        return max(u for u, _ in self.ring)

    @property
    def hides(self) -> bool:
        """Whether what is behind it is out of sight."""
        return self.kind != "opening"

    def inner_edges(self) -> list[BaseGeometry]:
        """Lines within its outline: upright edges, the rim of a wheel before its fork."""
        if self.kind == "caster":
            middle, radius = (self.left_m + self.right_m) / 2, (self.right_m - self.left_m) / 2
            hub = Point(middle, radius)
            return [
                hub.buffer(radius * share, quad_segs=_ROUND).boundary for share in (1.0, _HUB_SHARE)
            ]
        return [LineString([(u, self.bottom_m), (u, self.top_m)]) for u in self._edges_m()]

    def near_at(self, u_m: float) -> float:
        """How far away its surface is where it is looked at; its nearest point beside it."""
        found = self.near_m if not self.left_m <= u_m <= self.right_m else float("inf")
        for (u, away), (v, beyond) in zip(self.ring, (*self.ring[1:], self.ring[0]), strict=True):
            if min(u, v) - _BENT <= u_m <= max(u, v) + _BENT:
                share = (u_m - u) / (v - u) if abs(v - u) > _BENT else 0.0
                here = min(away, beyond) if abs(v - u) <= _BENT else away + share * (beyond - away)
                found = min(found, here)
        return found

    def _edges_m(self) -> tuple[float, ...]:
        """Where upright edges of it are seen between its two sides, metres to the right."""
        found = []
        for at, (u, away) in enumerate(self.ring):
            before, after = self.ring[at - 1], self.ring[(at + 1) % len(self.ring)]
            inside = self.left_m + _FLAT_M < u < self.right_m - _FLAT_M
            if (
                inside
                and _is_edge(before, (u, away), after)
                and (away <= self.near_at(u) + _FLAT_M)
            ):
                found.append(u)
        return tuple(sorted(set(found)))


def _is_edge(before: UA, at: UA, after: UA) -> bool:
    """Whether the outline turns sharply enough to be seen as an edge: a round one does not."""
    ux, uy = at[0] - before[0], at[1] - before[1]
    vx, vy = after[0] - at[0], after[1] - at[1]
    sine = abs(ux * vy - uy * vx) / max(math.hypot(ux, uy) * math.hypot(vx, vy), _BENT)
    return sine > _SHARP


def things(build: Build, facing: Facing) -> list[Thing]:
    """Everything of a build that is looked at from a side, in no order.

    What the venue has between the eye and the cart is left out: an elevation of the rear is
    seen from between the wall and the cart.
    """
    found = [*_boards(build.cart, facing), *_parts(build.cart, facing)]
    for item in build.items:
        thing = _item(build.cart, item, facing)
        if item.level != VENUE or thing.near_m > -_FLAT_M:
            found.append(thing)
    return found


def _prism(
    key: str, name: str, kind: Kind, level: str, ring: Ring, heights: tuple[float, float],
    facing: Facing,
) -> Thing:  # fmt: skip
    seen = tuple(facing.seen(x, y) for x, y in ring)
    bottom, top = heights
    left, right = min(u for u, _ in seen), max(u for u, _ in seen)
    shape = box(left, min(bottom, top - _FLAT_M), max(right, left + _FLAT_M), top)
    return Thing(key, name, kind, level, seen, bottom, top, shape)


def _item(cart: Cart, item: Item, facing: Facing) -> Thing:
    bottom = underside_m(cart, item)
    heights = bottom, bottom + item.specification.size.height.si
    kind: Kind = "venue" if item.level == VENUE else "body"
    return _prism(item.id, item.name, kind, item.level, corners(item), heights, facing)


def board_thickness_m(cart: Cart, height_m: float) -> float:
    """How thick a board and what carries it are, as far as the levels under it say.

    A level's clear height ends where the next board begins. 0 where nothing says so: the board
    is then drawn as a line.
    """
    gaps = [
        height_m - (lower.height.si + lower.clear_height.si)
        for lower in cart.levels
        if lower.height.si < height_m
    ]
    return min((gap for gap in gaps if gap >= 0.0), default=0.0)


def _boards(cart: Cart, facing: Facing) -> list[Thing]:
    found = []
    for level in cart.levels:
        top = level.height.si
        heights = top - board_thickness_m(cart, top), top
        name = level.name
        found.append(_prism(f"level:{name}", name, "board", name, outline(cart), heights, facing))
        found += [
            _prism(f"zone:{at}", zone.name, "opening", name, zone_ring(zone), heights, facing)
            for at, zone in enumerate(cart.zones)
            if zone.level == name and zone.kind == "opening"
        ]
    return found


def _parts(cart: Cart, facing: Facing) -> list[Thing]:
    counter = max((level.height.si for level in cart.levels), default=0.0)
    under = counter - board_thickness_m(cart, counter)
    found = [
        _prism(f"leg:{at}", "leg", "leg", "", leg_ring(leg), (0.0, under), facing)
        for at, leg in enumerate(cart.legs)
    ]
    for at, leaf in enumerate(cart.leaves):
        thickness = leaf.thickness.si if leaf.up else leaf.depth.si
        ring = leaf_ring(cart, leaf) if leaf.up else hanging_leaf_ring(cart, leaf)
        heights = max(counter - thickness, 0.0), counter
        found.append(_prism(f"leaf:{at}", leaf.name, "leaf", "", ring, heights, facing))
    if (panel := cart.rear_panel) is not None:
        heights = panel.bottom.si, panel.top.si
        ring = panel_ring(cart, panel)
        found.append(_prism("panel", f"{panel.side} panel", "panel", "", ring, heights, facing))
    if (handle := cart.handle) is not None:
        heights = handle.height.si - GRIP_M / 2, handle.height.si + GRIP_M / 2
        ring = handle_ring(cart)
        found.append(_prism("handle", "handle", "handle", "", ring, heights, facing))
    return [*found, *_casters(cart, facing)]


def _casters(cart: Cart, facing: Facing) -> list[Thing]:
    """Wheels under the lowest board, as a sign of where they stand."""
    lowest = min(cart.levels, key=lambda level: level.height.si, default=None)
    if lowest is None:
        return []
    under = lowest.height.si - board_thickness_m(cart, lowest.height.si)
    radius = min(WHEEL_M / 2, under * _WHEEL_SHARE / 2)
    if radius < _FLAT_M:
        return []
    found = []
    for at, caster in enumerate(cart.casters):
        u, away = facing.seen(caster.x.si, caster.y.si)
        wheel = Point(u, radius).buffer(radius, quad_segs=_ROUND)
        half, wide = _FORK_SHARE * radius, _PLATE_SHARE * radius
        plate = box(u - wide, max(under - _PLATE_M, radius), u + wide, under)
        shape = unary_union([wheel, box(u - half, radius, u + half, under), plate])
        ring = tuple(
            (u + sx * radius, away + sy * radius) for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        )
        found.append(Thing(f"caster:{at}", "wheel", "caster", "", ring, 0.0, under, shape))
    return found
