"""What of the cart itself bodies stand on, hang on and knock against: made once for a cart."""

from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..build import Cart, Leaf, Zone
from ..build.cart_geometry import (
    Ring,
    extent,
    leaf_ring,
    leg_ring,
    panel_ring,
    surface,
    zone_ring,
)

XY = tuple[float, float]
TOLERANCE_M = 0.0005
"""Bodies that touch, or overlap by less than half a millimetre, are not in each other's way."""


@dataclass(frozen=True, slots=True)
class Prism:
    """A part of the cart that takes room."""

    name: str
    shape: BaseGeometry
    bottom_m: float
    top_m: float

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        x1, y1, x2, y2 = self.shape.bounds
        return x1, y1, x2, y2


@dataclass(frozen=True, slots=True)
class Flap:
    """A folding leaf and where it is while it is up."""

    leaf: Leaf
    shape: BaseGeometry


@dataclass(frozen=True, slots=True)
class Frame:
    """A cart as bodies meet it. Equal carts that are the same object share one."""

    cart: Cart
    counter: str
    """Name of the highest level; empty where the cart has none."""
    counter_m: float
    outline: BaseGeometry | None
    """With its rounded corners; None where it encloses nothing."""
    surfaces: dict[str, BaseGeometry]
    """Level name to what can be stood on there, raised leaves included."""
    reached: dict[str, BaseGeometry]
    """The same, grown by the tolerance and prepared for many questions."""
    legs: tuple[Prism, ...]
    panel: Prism | None
    flaps: tuple[Flap, ...]
    zones: tuple[tuple[Zone, BaseGeometry], ...]
    edges: tuple[tuple[XY, XY], ...]
    """Of the counter, raised leaves included: straight pieces, end to end."""
    overall: tuple[float, float, float, float]
    """Least x, least y, greatest x, greatest y of the outline."""

    def openings(self, level: str) -> list[BaseGeometry]:
        """The holes of a level."""
        return [
            shape for zone, shape in self.zones if zone.kind == "opening" and zone.level == level
        ]


def make_frame(cart: Cart) -> Frame:
    """Prepare a cart. Never raises: an outline that crosses itself is taken as what it encloses."""
    counter = max(cart.levels, key=lambda level: level.height.si, default=None)
    outline = shape_of(surface(cart))
    flaps = tuple(
        Flap(leaf, shape)
        for leaf in cart.leaves
        if (shape := shape_of(leaf_ring(cart, leaf))) is not None
    )
    counter_m = counter.height.si if counter is not None else 0.0
    surfaces = _surfaces(cart, counter.name if counter is not None else "", outline, flaps)
    # Never `shapely.prepare` these: a search in another thread asks them at the same time, and a
    # prepared shape makes its index when first asked, unguarded: the process ends (GEOS 3.14).
    reached = {
        name: shape.buffer(TOLERANCE_M, join_style="mitre") for name, shape in surfaces.items()
    }
    return Frame(
        cart=cart,
        counter=counter.name if counter is not None else "",
        counter_m=counter_m,
        outline=outline,
        surfaces=surfaces,
        reached=reached,
        legs=tuple(
            Prism("leg", shape, 0.0, counter_m)
            for leg in cart.legs
            if (shape := shape_of(leg_ring(leg))) is not None
        ),
        panel=_panel(cart),
        flaps=flaps,
        zones=tuple(
            (zone, shape) for zone in cart.zones if (shape := shape_of(zone_ring(zone))) is not None
        ),
        edges=_edges(surfaces.get(counter.name if counter is not None else "")),
        overall=overall(cart),
    )


def _surfaces(
    cart: Cart, counter: str, outline: BaseGeometry | None, flaps: tuple[Flap, ...]
) -> dict[str, BaseGeometry]:
    if outline is None:
        return {}
    found = {level.name: outline for level in cart.levels}
    raised = [flap.shape for flap in flaps if flap.leaf.up]
    if counter in found and raised:
        # Grown a little, so that no seam is left between a leaf and the counter it hangs on.
        seam = [shape.buffer(TOLERANCE_M, join_style="mitre") for shape in raised]
        found[counter] = shapely.union_all([outline, *seam])
    return found


def _edges(surface: BaseGeometry | None) -> tuple[tuple[XY, XY], ...]:
    if surface is None:
        return ()
    shapes = surface.geoms if hasattr(surface, "geoms") else (surface,)
    return tuple(pair for shape in shapes for pair in pairwise(shape.exterior.coords))


def _panel(cart: Cart) -> Prism | None:
    panel = cart.rear_panel
    shape = shape_of(panel_ring(cart, panel)) if panel is not None else None
    if panel is None or shape is None:
        return None
    return Prism(f"{panel.side} panel", shape, panel.bottom.si, panel.top.si)


def shape_of(ring: Ring) -> BaseGeometry | None:
    """A ring as a shape, mended where it crosses itself; None where it encloses nothing."""
    if len(ring) < 3:
        return None
    shape: BaseGeometry = Polygon(ring)
    if not shape.is_valid:
        shape = shape.buffer(0)
    return None if shape.is_empty or shape.area <= 0 else shape


def overall(cart: Cart) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of the cart's outline."""
    whole = extent(cart)
    return whole.left, whole.rear, whole.right, whole.front
