"""Edits of the cart: pure functions from a Build to a Build. Shapes are in `cart_shape`.

What has to do with one part takes the part's name from `cart_parts`.
"""

from collections.abc import Iterable

from msgspec.structs import replace

from ..units import Length, Mass
from .cart import Cart, CartLeg, Caster, Handle, Leaf, Level, RearPanel, Side, Zone
from .cart_geometry import extent, side_span
from .cart_parts import CartPart, add_part, name_of, part_of, ref_of, with_part
from .cart_shape import (
    CORNERS,
    Corner,
    Shape,
    insert_corner,
    length_like,
    move_corner,
    move_edge,
    notch_of,
    remove_corner,
    resized,
    settled,
    shape_of,
    shaped_cart,
    with_outline,
    with_radius,
)
from .document import Build
from .edits import EditError, set_level, with_
from .item import VENUE

LEAST_ZONE_M = 0.005
OUTRIGGER_M = 0.4
"""So far from the cart a caster or a leg may stand."""


def with_cart(build: Build, cart: Cart) -> Build:
    """The build with another cart."""
    return build if cart is build.cart else with_(build, cart=cart)


# Levels


def add_level(
    build: Build, name: str, height: Length, clear_height: Length, at: int | None = None
) -> Build:
    """Add a level, at the end or before another.

    Raises:
        EditError: the name is taken or none.
    """
    levels = build.cart.levels
    _check_level_name(build, name)
    made = Level(name=name.strip(), height=height, clear_height=clear_height)
    at = len(levels) if at is None else min(max(at, 0), len(levels))
    return _with_levels(build, (*levels[:at], made, *levels[at:]))


def rename_level(build: Build, old: str, new: str) -> Build:
    """Give a level another name; what stands on it and its zones stay there.

    Raises:
        EditError: there is no such level, or the name is taken or none.
    """
    _level(build, old)
    new = new.strip()
    if new == old:
        return build
    _check_level_name(build, new)
    return _renamed(build, {old: new})


def _renamed(build: Build, names: dict[str, str]) -> Build:
    cart = build.cart
    cart = replace(
        cart,
        levels=tuple(
            replace(level, name=names[level.name]) if level.name in names else level
            for level in cart.levels
        ),
        zones=tuple(
            replace(zone, level=names[zone.level]) if zone.level in names else zone
            for zone in cart.zones
        ),
    )
    items = tuple(
        replace(item, level=names[item.level]) if item.level in names else item
        for item in build.items
    )
    return with_(build, cart=cart, items=items)


def remove_level(build: Build, name: str, move_to: str | None = None) -> Build:
    """Take a level away.

    Args:
        build: it has the level.
        name: of the level.
        move_to: the level that takes what stands on it, and its zones; None: nothing may.

    Raises:
        EditError: something stands on it, it is the last one, or there is no such level.
    """
    _level(build, name)
    if len(build.cart.levels) == 1:
        raise EditError("a cart needs a level")
    standing = [item for item in build.items if item.level == name]
    zones = [zone for zone in build.cart.zones if zone.level == name]
    if move_to is None and (standing or zones):
        words = [item.name for item in standing] + [zone.name or zone.kind for zone in zones]
        raise EditError(f"on {name} there is still {_listed(words)}; move it to another level")
    if move_to is not None:
        if move_to == name:
            raise EditError(f"{name} cannot take its own things when it goes")
        build = set_level(build, (item.id for item in standing), move_to)
        moved = tuple(
            replace(zone, level=move_to) if zone.level == name else zone
            for zone in build.cart.zones
        )
        build = with_cart(build, replace(build.cart, zones=moved))
    return _with_levels(build, tuple(one for one in build.cart.levels if one.name != name))


def _listed(words: list[str], most: int = 3) -> str:
    shown = words[:most]
    if len(words) > most:
        shown = [*words[: most - 1], f"{len(words) - most + 1} more"]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def move_level(build: Build, name: str, way: int) -> Build:
    """Put a level so many places further down in the order (negative: up).

    Raises:
        EditError: there is no such level.
    """
    levels = list(build.cart.levels)
    at = levels.index(_level(build, name))
    to = min(max(at + way, 0), len(levels) - 1)
    if to == at:
        return build
    levels.insert(to, levels.pop(at))
    return _with_levels(build, tuple(levels))


def set_levels(build: Build, levels: tuple[Level, ...]) -> Build:
    """The build with these levels: a list as long as before renames, a shorter one removes.

    Raises:
        EditError: a name is taken twice, or something stands on a level that would go.
    """
    before = build.cart.levels
    names = [level.name.strip() for level in levels]
    for name in names:
        if not name or name.lower() == VENUE:
            raise EditError(f"'{name}' is no name for a level")
        if names.count(name) > 1:
            raise EditError(f"there are two levels '{name}'")
    if not levels:
        raise EditError("a cart needs a level")
    if len(levels) == len(before) and {one.name for one in before} != set(names):
        renamed = {
            old.name: new
            for old, new in zip(before, names, strict=True)
            if old.name != new and old.name not in names
        }
        build = _renamed(build, renamed)
    for old in build.cart.levels:
        if old.name not in names:
            build = remove_level(build, old.name) if len(build.cart.levels) > 1 else build
    made = tuple(replace(one, name=name) for one, name in zip(levels, names, strict=True))
    return build if made == build.cart.levels else _with_levels(build, made)


def _with_levels(build: Build, levels: tuple[Level, ...]) -> Build:
    return with_cart(build, replace(build.cart, levels=levels))


def _level(build: Build, name: str) -> Level:
    found = build.cart.level(name)
    if found is None:
        raise EditError(f"the cart has no level '{name}'")
    return found


def _check_level_name(build: Build, name: str) -> None:
    if not name.strip() or name.strip().lower() == VENUE:
        raise EditError(f"'{name}' is no name for a level")
    if build.cart.level(name.strip()) is not None:
        raise EditError(f"there is a level '{name.strip()}' already")


# Parts


def add(build: Build, part: CartPart) -> tuple[Build, str]:
    """Add a part; a handle or a rear panel takes the place of the one there is.

    Returns the build and the part's name for `change`, `move_part` and `remove_part`.

    Raises:
        EditError: it cannot be there; the message says why.
    """
    check_part(build.cart, part)
    cart, ref = add_part(build.cart, part)
    return with_cart(build, cart), ref


def change(build: Build, ref: str, part: CartPart) -> Build:
    """Put a changed part in the place of the old one.

    Raises:
        EditError: it cannot be so; the message says why.
    """
    if part_of(build.cart, ref) == part:
        return build
    check_part(build.cart, part)
    return with_cart(build, with_part(build.cart, ref, part))


def remove_part(build: Build, ref: str) -> Build:
    """Take a part away: a zone, caster, leg, leaf, the handle, the panel, or a corner.

    Raises:
        EditError: there is none, or it cannot go.
    """
    found = ref_of(ref)
    if found is not None and found.kind == "corner":
        return settled(with_cart(build, remove_corner(build.cart, found.index)))[0]
    if found is not None and found.kind == "edge":
        raise EditError("an edge cannot be taken away; take away one of its corners")
    return with_cart(build, with_part(build.cart, ref, None))


def remove_parts(build: Build, refs: Iterable[str]) -> Build:
    """Take several parts away; the last first, so that the others keep their names.

    Raises:
        EditError: one of them cannot go.
    """
    order = {text: found.index for text in refs if (found := ref_of(text)) is not None}
    for text in sorted(order, key=lambda one: -order[one]):
        build = remove_part(build, text)
    return build


def check_part(cart: Cart, part: CartPart) -> None:
    """Say why a part cannot be there.

    Raises:
        EditError: it cannot.
    """
    if isinstance(part, Zone):
        _check_zone(cart, part)
    elif isinstance(part, (Caster, CartLeg)):
        _check_post(cart, part)
    elif isinstance(part, Leaf):
        _check_leaf(cart, part)
    elif isinstance(part, RearPanel) and part.top.si <= part.bottom.si:
        raise EditError("the panel's upper edge has to be above its lower one")


def _check_zone(cart: Cart, zone: Zone) -> None:
    if cart.level(zone.level) is None:
        raise EditError(f"the cart has no level '{zone.level}'")
    if min(zone.width.si, zone.depth.si) < LEAST_ZONE_M:
        raise EditError("a zone has to be at least 0.2 in (5 mm) wide and deep")
    whole = extent(cart)
    x, y = zone.x.si, zone.y.si
    off = (
        x >= whole.right
        or y >= whole.front
        or x + zone.width.si <= whole.left
        or y + zone.depth.si <= whole.rear
    )
    if off:
        raise EditError(f"{zone.name or zone.kind} would lie off the cart")


def _check_post(cart: Cart, post: Caster | CartLeg) -> None:
    word = "a caster" if isinstance(post, Caster) else "a leg"
    if isinstance(post, CartLeg) and post.width.si <= 0:
        raise EditError("a leg has to have a width")
    whole = extent(cart)
    near_x = whole.left - OUTRIGGER_M <= post.x.si <= whole.right + OUTRIGGER_M
    near_y = whole.rear - OUTRIGGER_M <= post.y.si <= whole.front + OUTRIGGER_M
    if not (near_x and near_y):
        raise EditError(f"{word} cannot stand away from the cart")


def _check_leaf(cart: Cart, leaf: Leaf) -> None:
    span = side_span(cart, leaf.side)
    if span is None:
        raise EditError(f"the cart has no straight {leaf.side} side for a leaf to hang on")
    if leaf.depth.si <= 0 or leaf.length.si <= 0:
        raise EditError("a leaf has to have a length and a depth")
    whole = extent(cart)
    base = whole.left if leaf.side in ("rear", "front") else whole.rear
    low, high = span.start - base - 1e-4, span.end - base + 1e-4
    if leaf.start.si < low or leaf.start.si + leaf.length.si > high:
        raise EditError(f"{leaf.name} would be longer than the {leaf.side} side it hangs on")


# New parts of usual size


def new_zone(
    build: Build,
    kind: str,
    level: str,
    box_m: tuple[float, float, float, float],
    name: str = "",
) -> Zone:
    """A zone of a kind in a rectangle (left, rear, right, front; metres), with a free name."""
    left, rear, right, front = box_m
    unit = build.cart.width
    stem = name or {"opening": "Hole", "no-go": "No-go", "reserved": "Reserved"}[kind]
    return Zone(
        name=free_name(stem, (zone.name for zone in build.cart.zones)),
        kind=kind,  # type: ignore[arg-type]
        level=level,
        x=length_like(unit, left),
        y=length_like(unit, rear),
        width=length_like(unit, right - left),
        depth=length_like(unit, front - rear),
    )


def new_caster(build: Build, x_m: float, y_m: float) -> Caster:
    """A caster like the one placed last."""
    us = build.units == "US"
    rating = build.cart.casters[-1].rating if build.cart.casters else None
    return Caster(
        x=length_like(build.cart.width, x_m),
        y=length_like(build.cart.width, y_m),
        rating=rating or Mass("150 lb" if us else "70 kg"),
    )


def new_leg(build: Build, x_m: float, y_m: float) -> CartLeg:
    """A leg like the one placed last."""
    legs = build.cart.legs
    width = legs[-1].width if legs else Length("1.5 in" if build.units == "US" else "40 mm")
    return CartLeg(
        x=length_like(build.cart.width, x_m),
        y=length_like(build.cart.width, y_m),
        width=width,
        carries=legs[-1].carries if legs else not build.cart.casters,
    )


def new_leaf(build: Build, side: Side, start_m: float, length_m: float, depth_m: float) -> Leaf:
    """A leaf on a side, with a free name."""
    unit = build.cart.width
    return Leaf(
        name=free_name(f"{side.capitalize()} leaf", (leaf.name for leaf in build.cart.leaves)),
        side=side,
        start=length_like(unit, start_m),
        length=length_like(unit, length_m),
        depth=length_like(unit, depth_m),
    )


def new_handle(build: Build, side: Side) -> Handle:
    """The handle there is, or one at a comfortable height (common practice, no source)."""
    if build.cart.handle is not None:
        return replace(build.cart.handle, side=side)
    us = build.units == "US"
    return Handle(
        side=side,
        height=Length("36 in" if us else "900 mm"),
        reach=Length("4 in" if us else "100 mm"),
    )


def new_panel(build: Build, side: Side) -> RearPanel:
    """The board there is, or one from the lowest level's surface to the counter's."""
    if build.cart.rear_panel is not None:
        return replace(build.cart.rear_panel, side=side)
    heights = sorted((level.height for level in build.cart.levels), key=lambda one: one.si)
    us = build.units == "US"
    low = heights[0] if heights else Length("6 in" if us else "150 mm")
    high = heights[-1] if len(heights) > 1 else Length("36 in" if us else "900 mm")
    return RearPanel(side=side, bottom=low, top=high, thickness=Length("0.5 in" if us else "12 mm"))


def free_name(stem: str, taken: Iterable[str]) -> str:
    """The stem, with a number where the name is taken."""
    used = set(taken)
    name, number = stem, 2
    while name in used:
        name, number = f"{stem} {number}", number + 1
    return name


__all__ = [
    "CORNERS",
    "Corner",
    "Shape",
    "add",
    "add_level",
    "change",
    "check_part",
    "free_name",
    "insert_corner",
    "length_like",
    "move_corner",
    "move_edge",
    "move_level",
    "name_of",
    "new_caster",
    "new_handle",
    "new_leaf",
    "new_leg",
    "new_panel",
    "new_zone",
    "notch_of",
    "remove_corner",
    "remove_level",
    "remove_part",
    "remove_parts",
    "rename_level",
    "resized",
    "set_levels",
    "settled",
    "shape_of",
    "shaped_cart",
    "with_cart",
    "with_outline",
    "with_radius",
]
