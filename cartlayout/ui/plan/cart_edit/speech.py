"""The cart and its selected parts in words, for who does not see the plan."""

from ....build import Build, CartLeg, Caster, Handle, Leaf, RearPanel, Zone
from ....build.cart_geometry import extent
from ....build.cart_parts import ZONE_WORDS, name_of, part_of, ref_of
from ....build.geometry import outline
from ....units import UnitSystem, show


def parts_in_words(build: Build, parts: tuple[str, ...], system: UnitSystem) -> str:
    """What is edited and what of it is selected."""
    cart = build.cart
    whole = extent(cart)
    size = f"{_length(whole.width, system)} by {_length(whole.depth, system)}"
    if not parts:
        return f"Editing the cart, {size}. Tab walks through its parts."
    if len(parts) > 1:
        names = ", ".join(name_of(cart, part) for part in parts)
        return f"Editing the cart. {len(parts)} parts selected: {names}."
    return f"Editing the cart. {_part(build, parts[0], system)}"


def _part(build: Build, part: str, system: UnitSystem) -> str:
    cart, found, ref = build.cart, part_of(build.cart, part), ref_of(part)
    name = name_of(cart, part)
    if isinstance(found, Zone):
        size = f"{_length(found.width.si, system)} by {_length(found.depth.si, system)}"
        at = f"{_length(found.x.si, system)} from the left, {_length(found.y.si, system)} from the"
        return f"{name}, {ZONE_WORDS[found.kind]} on {found.level}, {size}, {at} rear."
    if isinstance(found, Leaf):
        up = "up" if found.up else "down"
        size = f"{_length(found.length.si, system)} by {_length(found.depth.si, system)}"
        return f"{name}, leaf on the {found.side}, {up}, {size}."
    if isinstance(found, (Caster, CartLeg)):
        at = f"{_length(found.x.si, system)} from the left, {_length(found.y.si, system)} from the"
        return f"{name}, {at} rear."
    if isinstance(found, (Handle, RearPanel)):
        return f"{name}."
    points = outline(cart)
    if ref is not None and ref.kind == "corner" and ref.index < len(points):
        x, y = points[ref.index]
        at = f"{_length(x, system)} from the left, {_length(y, system)} from the rear"
        return f"{name} of {len(points)}, {at}."
    return f"{name} of {len(points)}."


def _length(si_m: float, system: UnitSystem) -> str:
    return show(si_m, "length", system)
