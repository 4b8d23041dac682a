"""The cart as it is drawn, without Qt: outline, leaves, legs, handle, rear panel, zones."""

from ...analysis import Analysis
from ...build import Cart, Leaf, Zone
from ...build.cart_geometry import (
    Ring,
    extent,
    handle_ring,
    hanging_leaf_ring,
    leaf_ring,
    leg_ring,
    panel_ring,
    surface,
)
from ...units import UnitSystem, show
from .picture import XY, Box, CartShape, LeafShape, LegShape, ZoneShape

MM = 1000.0


def cart_shape(cart: Cart, level: str) -> CartShape:
    """The cart's own lines."""
    whole = extent(cart)
    return CartShape(
        outline=tuple((x * MM, y * MM) for x, y in surface(cart)),
        casters=tuple((one.x.si * MM, one.y.si * MM) for one in cart.casters),
        operator_side=cart.operator_side,
        level=level,
        box=Box(whole.left * MM, whole.rear * MM, whole.width * MM, whole.depth * MM),
        leaves=tuple(_leaf(cart, leaf) for leaf in cart.leaves),
        legs=tuple(LegShape(_box(leg_ring(leg)), leg.carries) for leg in cart.legs),
        panel=_box(panel_ring(cart, cart.rear_panel)) if cart.rear_panel is not None else None,
        handle=_box(handle_ring(cart)) if cart.handle is not None else None,
        handle_side=cart.handle.side if cart.handle is not None else "",
    )


def _leaf(cart: Cart, leaf: Leaf) -> LeafShape:
    box = _box(leaf_ring(cart, leaf))
    ends: dict[str, tuple[XY, XY]] = {
        "rear": ((box.x, box.bottom), (box.right, box.bottom)),
        "front": ((box.x, box.y), (box.right, box.y)),
        "left": ((box.right, box.y), (box.right, box.bottom)),
        "right": ((box.x, box.y), (box.x, box.bottom)),
    }
    return LeafShape(
        name=leaf.name,
        box=box,
        hanging=_box(hanging_leaf_ring(cart, leaf)),
        hinge=ends[leaf.side],
        up=leaf.up,
    )


def _box(ring: Ring) -> Box:
    return Box.around([(x * MM, y * MM) for x, y in ring])


def zone_shapes(
    cart: Cart, analysis: Analysis, level: str, system: UnitSystem
) -> tuple[ZoneShape, ...]:
    """Holes and places that are kept free."""
    return tuple(
        ZoneShape(
            name=zone.name,
            kind=zone.kind,
            box=Box(
                zone.x.si * MM,
                zone.y.si * MM,
                zone.width.si * MM,
                zone.depth.si * MM,
            ),
            ghosted=zone.level != level,
            round=zone.round,
            words=_words(zone, analysis, system),
        )
        for zone in cart.zones
    )


def _words(zone: Zone, analysis: Analysis, system: UnitSystem) -> tuple[str, ...]:
    """What a zone is for; of a reserved one also how much of its level is still free."""
    use = zone.use if zone.use.casefold() not in zone.name.casefold() else ""
    if zone.kind == "no-go":
        return (use or "nothing may stand here",)
    if zone.kind == "opening":
        return (use,) if use else ()
    room = analysis.body.room(zone.level)
    free = f"{zone.level} {show(room.free_share, 'share', system)} free" if room else ""
    return tuple(one for one in (use and f"for {use}", free) if one)
