"""The cart's outline: its size, its shape, its corners and edges. Pure functions.

What is changed here may leave the outline with its left or rear edge off the
origin, as it does while an edge is being dragged; `settled` brings the cart
back to the origin and moves everything else along, so that nothing on it
changes its place.
"""

import math
from typing import Literal, TypeVar

from msgspec.structs import replace

from ..units import Length
from .cart import Cart, CartLeg, Caster, Leaf, Point, Zone
from .cart_geometry import SAME_M, Ring, extent, extent_of, signed_area_m2, span_of
from .cart_outline import (
    CORNERS,
    Corner,
    check_outline,
    is_square_cornered,
    l_outline,
    notch_in,
    side_of_edge,
)
from .document import Build
from .edits import EditError, with_
from .geometry import XY, outline
from .item import Item

Shape = Literal["rectangle", "rounded", "L", "free"]
T = TypeVar("T", Caster, CartLeg, Zone, Item)
USUAL_RADIUS_M = 0.0508
_UNITS = {"m": "mm", "ft": "in", "'": "in", '"': "in"}
"""Coarse units are written in finer ones."""


def length_like(old: Length, si_m: float) -> Length:
    """The same kind of length with another value; unchanged where the value is."""
    if abs(old.si - si_m) < SAME_M:
        return old
    return Length.from_si(si_m, _UNITS.get(old.unit, old.unit), 4)


def shape_of(cart: Cart) -> Shape:
    """What the outline is called."""
    points = outline(cart)
    if notch_of(cart) is not None:
        return "L"
    if len(points) == 4 and is_square_cornered(points):
        return "rounded" if cart.corner_radius.si > 0 else "rectangle"
    return "free"


def notch_of(cart: Cart) -> tuple[Corner, float, float] | None:
    """Of an L: the corner that is cut out, and the width and depth of what is missing, metres."""
    return notch_in(outline(cart))


def with_outline(cart: Cart, points: Ring) -> Cart:
    """The cart with another outline; width and depth follow, leaves keep their place.

    Raises:
        EditError: the outline is none.
    """
    check_outline(points)
    old, new = extent(cart), extent_of(points)
    plain = (
        len(points) == 4
        and is_square_cornered(points)
        and abs(new.left) < SAME_M
        and abs(new.rear) < SAME_M
    )
    known = {point.x.si: point.x for point in cart.outline}
    known.update({point.y.si: point.y for point in cart.outline})
    made = replace(
        cart,
        width=length_like(cart.width, new.width),
        depth=length_like(cart.depth, new.depth),
        outline=() if plain else tuple(_point(cart, one, known) for one in points),
    )
    _check_radius(made)
    leaves = tuple(
        _leaf_kept(leaf, points, old.left - new.left, old.rear - new.rear) for leaf in cart.leaves
    )
    return replace(made, leaves=tuple(leaf for leaf in leaves if leaf is not None))


def _point(cart: Cart, at: XY, known: dict[float, Length]) -> Point:
    x, y = (known.get(value) or length_like(cart.width, value) for value in at)
    return Point(x=x, y=y)


def _leaf_kept(leaf: Leaf, points: Ring, dx_m: float, dy_m: float) -> Leaf | None:
    """A leaf after its side has changed: where it was, as long as the side still is.

    Raises:
        EditError: the side it hangs on is gone.
    """
    span = span_of(points, leaf.side)
    if span is None:
        raise EditError(f"{leaf.name} would have no straight {leaf.side} side to hang on")
    whole = extent_of(points)
    level = leaf.side in ("rear", "front")
    low = span.start - (whole.left if level else whole.rear)
    high = span.end - (whole.left if level else whole.rear)
    length = min(leaf.length.si, high - low)
    start = leaf.start.si + (dx_m if level else dy_m)
    start = min(max(start, low), high - length)
    return replace(
        leaf, start=length_like(leaf.start, start), length=length_like(leaf.length, length)
    )


def _check_radius(cart: Cart) -> None:
    whole = extent(cart)
    if cart.corner_radius.si > min(whole.width, whole.depth) / 2 + SAME_M:
        raise EditError(
            f"a corner radius of {cart.corner_radius.text} is more than half of the shorter side"
        )


def shaped_cart(
    cart: Cart,
    shape: Shape,
    radius: Length | None = None,
    corner: Corner = "front right",
    notch: tuple[Length, Length] | None = None,
) -> Cart:
    """The cart with an outline of a shape, within the same width and depth.

    Args:
        cart: its extent stays; casters and legs stay where they are.
        shape: "free" keeps the corners that are there, for them to be dragged.
        radius: of rounded corners; None: what it has, or 2 in.
        corner: of an L, the one that is cut out.
        notch: of an L, width and depth of what is cut out; None: a third of the cart.

    Raises:
        EditError: the sizes do not go together.
    """
    whole = extent(cart)
    at_origin = ((0.0, 0.0), (whole.width, 0.0), (whole.width, whole.depth), (0.0, whole.depth))
    if shape == "L":
        old = notch_of(cart)
        sizes = (
            (notch[0].si, notch[1].si)
            if notch is not None
            else (old[1], old[2])
            if old is not None
            else (_round_like(cart, whole.width / 3), _round_like(cart, whole.depth / 3))
        )
        points = l_outline(whole.width, whole.depth, corner, sizes)
        return with_outline(replace(cart, corner_radius=radius or cart.corner_radius), points)
    if shape == "free":
        points = outline(cart)
        made = replace(cart, corner_radius=radius or cart.corner_radius)
        made = with_outline(made, points)
        return replace(made, outline=tuple(_point(cart, one, {}) for one in points))
    if shape == "rectangle":
        return with_outline(replace(cart, corner_radius=length_like(cart.width, 0.0)), at_origin)
    usual = length_like(cart.width, _round_like(cart, USUAL_RADIUS_M))
    now = cart.corner_radius if cart.corner_radius.si > 0 else usual
    return with_outline(replace(cart, corner_radius=radius or now), at_origin)


def _round_like(cart: Cart, value_m: float) -> float:
    """To a whole inch, or 10 mm."""
    step = 0.0254 if cart.width.unit in ("in", "ft", "'", '"') else 0.01
    return max(step, round(value_m / step) * step)


def with_radius(cart: Cart, radius: Length) -> Cart:
    """The cart with other rounded corners."""
    made = replace(cart, corner_radius=radius)
    _check_radius(made)
    return made


def resized(cart: Cart, width: Length, depth: Length, carry: bool = True) -> Cart:
    """The cart with another width and depth: its right and front edges move.

    Corners in the right half go along with the right edge, those in the front
    half with the front edge, so that notches keep their size.

    Args:
        cart: at the origin.
        width: of the new extent.
        depth: of the new extent.
        carry: casters and legs go along in the same way; zones and items never do.

    Raises:
        EditError: the outline does not allow it.
    """
    whole = extent(cart)
    dx_m, dy_m = width.si - whole.width, depth.si - whole.depth
    middle_x, middle_y = (whole.left + whole.right) / 2, (whole.rear + whole.front) / 2

    def moved(at: XY) -> XY:
        return (
            at[0] + (dx_m if at[0] > middle_x else 0.0),
            at[1] + (dy_m if at[1] > middle_y else 0.0),
        )

    made = with_outline(cart, tuple(moved(one) for one in outline(cart)))
    made = replace(made, width=width, depth=depth)
    return carried(made, cart, (dx_m, 0.0, "right"), (0.0, dy_m, "front")) if carry else made


def carried(cart: Cart, before: Cart, *moves: tuple[float, float, str]) -> Cart:
    """Casters and legs moved along with the edges in whose half they stood.

    Each move is an offset and the side whose half goes along.
    """
    whole = extent(before)
    middle_x, middle_y = (whole.left + whole.right) / 2, (whole.rear + whole.front) / 2

    def offset(x_m: float, y_m: float) -> tuple[float, float]:
        halves = {
            "left": x_m < middle_x,
            "right": x_m > middle_x,
            "rear": y_m < middle_y,
            "front": y_m > middle_y,
        }
        going = [(dx, dy) for dx, dy, side in moves if halves.get(side)]
        return sum(dx for dx, _ in going), sum(dy for _, dy in going)

    def caster(one: Caster) -> Caster:
        dx, dy = offset(one.x.si, one.y.si)
        return replace(one, x=shifted(one.x, dx), y=shifted(one.y, dy))

    def leg(one: CartLeg) -> CartLeg:
        dx, dy = offset(one.x.si, one.y.si)
        return replace(one, x=shifted(one.x, dx), y=shifted(one.y, dy))

    return replace(
        cart,
        casters=tuple(caster(one) for one in before.casters),
        legs=tuple(leg(one) for one in before.legs),
    )


def shifted(length: Length, by_m: float) -> Length:
    """A length longer by so much, in its own unit."""
    return length_like(length, length.si + by_m)


def move_edge(cart: Cart, index: int, dx_m: float, dy_m: float, carry: bool = True) -> Cart:
    """Move an edge of the outline square to itself by what the offset has in that direction.

    Casters and legs in the half of an outer side go along with it.

    Raises:
        EditError: there is no such edge, or the outline does not allow it.
    """
    points = outline(cart)
    if not 0 <= index < len(points):
        raise EditError("the outline has no such edge")
    a, b = points[index], points[(index + 1) % len(points)]
    size = math.dist(a, b)
    nx, ny = (b[1] - a[1]) / size, (a[0] - b[0]) / size
    by = dx_m * nx + dy_m * ny
    step_x, step_y = nx * by, ny * by
    ends = {index, (index + 1) % len(points)}
    moved = tuple(
        (x + step_x, y + step_y) if at in ends else (x, y) for at, (x, y) in enumerate(points)
    )
    _check_way_round(points, moved)
    made = with_outline(cart, moved)
    side = side_of_edge(points, index)
    return carried(made, cart, (step_x, step_y, side)) if carry and side else made


def move_corner(cart: Cart, index: int, dx_m: float, dy_m: float, square: bool = True) -> Cart:
    """Move a corner of the outline.

    Args:
        cart: whose outline.
        index: of the corner.
        dx_m: to the right.
        dy_m: to the front.
        square: where the outline is square-cornered, both edges at the corner go along,
            and it stays so; casters and legs go along with outer sides. False: the corner alone.

    Raises:
        EditError: there is no such corner, or the outline does not allow it.
    """
    points = outline(cart)
    if not 0 <= index < len(points):
        raise EditError("the outline has no such corner")
    if square and is_square_cornered(points):
        before = (index - 1) % len(points)
        upright, level = (before, index) if _is_upright(points, before) else (index, before)
        return move_edge(move_edge(cart, upright, dx_m, 0.0), level, 0.0, dy_m)
    x, y = points[index]
    moved = (*points[:index], (x + dx_m, y + dy_m), *points[index + 1 :])
    _check_way_round(points, moved)
    return with_outline(cart, moved)


def _check_way_round(before: Ring, after: Ring) -> None:
    if signed_area_m2(before) * signed_area_m2(after) <= 0:
        raise EditError("an edge cannot go past the one opposite")


def _is_upright(points: Ring, index: int) -> bool:
    a, b = points[index], points[(index + 1) % len(points)]
    return abs(a[0] - b[0]) < abs(a[1] - b[1])


def insert_corner(cart: Cart, edge: int, x_m: float, y_m: float) -> Cart:
    """Put a corner on an edge of the outline, as near to a place as it can be.

    Raises:
        EditError: there is no such edge, or no room on it.
    """
    points = outline(cart)
    if not 0 <= edge < len(points):
        raise EditError("the outline has no such edge")
    a, b = points[edge], points[(edge + 1) % len(points)]
    size = math.dist(a, b)
    share = ((x_m - a[0]) * (b[0] - a[0]) + (y_m - a[1]) * (b[1] - a[1])) / size**2
    least = 0.02 / size
    if least * 2 >= 1:
        raise EditError("that edge is too short for another corner")
    share = min(max(share, least), 1 - least)
    at = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
    return with_outline(cart, (*points[: edge + 1], at, *points[edge + 1 :]))


def remove_corner(cart: Cart, index: int) -> Cart:
    """Take a corner away; the edge goes straight on to the next one.

    Raises:
        EditError: there is no such corner, or too little would be left.
    """
    points = outline(cart)
    if not 0 <= index < len(points):
        raise EditError("the outline has no such corner")
    if len(points) <= 3:
        raise EditError("an outline needs at least three corners")
    return with_outline(cart, (*points[:index], *points[index + 1 :]))


def settled(build: Build) -> tuple[Build, XY]:
    """The build with its cart at the origin, and how far everything was moved for it, metres.

    Items, bends, casters, legs and zones move together with the outline.
    """
    whole = extent(build.cart)
    dx_m, dy_m = -whole.left, -whole.rear
    if abs(dx_m) < SAME_M and abs(dy_m) < SAME_M:
        return build, (0.0, 0.0)
    cart = build.cart
    points = tuple((x + dx_m, y + dy_m) for x, y in outline(cart))
    moved = replace(
        cart,
        casters=tuple(_placed(one, dx_m, dy_m) for one in cart.casters),
        legs=tuple(_placed(one, dx_m, dy_m) for one in cart.legs),
        zones=tuple(_placed(one, dx_m, dy_m) for one in cart.zones),
    )
    moved = replace(with_outline(moved, points), leaves=cart.leaves)
    runs = tuple(
        replace(
            run,
            waypoints=tuple(
                replace(p, x=shifted(p.x, dx_m), y=shifted(p.y, dy_m)) for p in run.waypoints
            ),
        )
        if run.waypoints
        else run
        for run in build.runs
    )
    items = tuple(_placed(item, dx_m, dy_m) for item in build.items)
    return with_(build, cart=moved, items=items, runs=runs), (dx_m, dy_m)


def _placed(one: T, dx_m: float, dy_m: float) -> T:
    return replace(one, x=shifted(one.x, dx_m), y=shifted(one.y, dy_m))


__all__ = [
    "CORNERS",
    "Corner",
    "Shape",
    "carried",
    "insert_corner",
    "length_like",
    "move_corner",
    "move_edge",
    "notch_of",
    "remove_corner",
    "resized",
    "settled",
    "shape_of",
    "shaped_cart",
    "shifted",
    "with_outline",
    "with_radius",
]
