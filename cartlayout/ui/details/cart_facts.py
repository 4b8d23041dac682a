"""What is true of the cart and its parts, in short lines."""

from ...analysis import Analysis
from ...build import Zone
from ...build.cart_geometry import area_m2, leaf_ring, surface, zone_ring
from ...build.cart_parts import name_of, part_of, ref_of
from ...build.geometry import outline
from ...findings.body_numbers import level_number
from ...units import UnitSystem, capitalised, show
from .fact import Fact


def cart_facts(analysis: Analysis, system: UnitSystem) -> tuple[Fact, ...]:
    """The surface, and what of each level is still free."""
    cart = analysis.build.cart
    area = area_m2(surface(cart))
    leaves = sum(area_m2(leaf_ring(cart, leaf)) for leaf in cart.leaves if leaf.up)
    words = show(area, "area", system)
    if leaves:
        words = f"{words}, {show(area + leaves, 'area', system)} with leaves up"
    made = [Fact("Surface", words, tip="Within the outline, rounded corners taken off")]
    for level in cart.levels:
        room = analysis.body.room(level.name)
        if room is None or room.area_m2 <= 0:
            continue
        share = f"{show(room.free_share, 'share', system)} free"
        if room.reserved_m2:
            kept = show(room.reserved_m2 / room.area_m2, "share", system)
            share = f"{share}; {kept} kept for a purpose"
        tip = (
            "Share of the level on which nothing stands; what is kept for a purpose counts as free"
        )
        numbers = (level_number(level.name),)
        made.append(Fact(level.name.capitalize(), share, tip=tip, numbers=numbers))
    return tuple(made)


def part_facts(analysis: Analysis, part: str, system: UnitSystem) -> tuple[Fact, ...]:
    """What is true of one part."""
    cart, ref = analysis.build.cart, ref_of(part)
    found = part_of(cart, part)
    if isinstance(found, Zone):
        area = area_m2(zone_ring(found))
        share = show(area / area_m2(surface(cart)), "share", system)
        made = [Fact("Area", f"{show(area, 'area', system)}, {share} of {found.level}")]
        room = analysis.body.room(found.level)
        if room is not None:
            words = f"{show(room.free_share, 'share', system)} of {found.level}"
            made.append(Fact("Still free", words, tip="On which nothing stands"))
        return tuple(made)
    if ref is not None and ref.kind == "edge":
        points = outline(cart)
        if ref.index < len(points):
            (x1, y1), (x2, y2) = points[ref.index], points[(ref.index + 1) % len(points)]
            size = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
            return (Fact("Length", show(size, "length", system)),)
    return ()


def part_heading(analysis: Analysis, part: str) -> str:
    """A part's name with a capital."""
    name = name_of(analysis.build.cart, part)
    return capitalised(name)
