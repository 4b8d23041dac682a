"""Mass, its centre, and how far the cart leans before it goes over."""

import math
from collections.abc import Iterable

from shapely.geometry import MultiPoint, Point
from shapely.geometry.polygon import orient

from ..build import VENUE, Build, Item, Tank
from ..build.geometry import underside_m
from .results import Balance

WATER_KG_M3 = 998.2
"""At 20 degC (IAPWS-95)."""


def item_mass_kg(item: Item, fill: float | None = None) -> float:
    """Mass of an item with its tank filled to a share (its own fill state unless given)."""
    spec = item.specification
    share = item.fill if fill is None else fill
    if isinstance(spec.water, Tank):
        return spec.mass.si + spec.water.volume.si * WATER_KG_M3 * share
    if spec.mass_full is not None:
        return spec.mass_full.si if fill is None or fill > 0 else spec.mass.si
    return spec.mass.si


def balance(build: Build, fresh: float | None, waste: float | None) -> Balance | None:
    """Weigh the cart with fresh and waste tanks filled to these shares.

    None for a share means as each tank stands now. Returns None for a cart without mass.
    """
    masses: list[tuple[float, float, float, float]] = []
    cart = build.cart
    if cart.empty_mass.si > 0:
        masses.append(
            (
                cart.empty_mass.si,
                cart.width.si / 2,
                cart.depth.si / 2,
                cart.centre_of_mass_height.si,
            )
        )
    for item in build.items:
        if item.level == VENUE:
            continue
        water = item.specification.water
        fill = None
        if isinstance(water, Tank):
            fill = fresh if water.contents == "fresh" else waste
        mass_kg = item_mass_kg(item, fill)
        z_m = underside_m(cart, item) + item.specification.size.height.si / 2
        masses.append((mass_kg, item.x.si, item.y.si, z_m))
    total_kg = sum(mass for mass, *_ in masses)
    if total_kg <= 0:
        return None
    x_m, y_m, z_m = (
        sum(mass * place[axis] for mass, *place in masses) / total_kg for axis in range(3)
    )
    tilt_deg, edge = _tilt(build, x_m, y_m, z_m)
    return Balance(
        total_kg, x_m, y_m, z_m, tilt_deg, edge, _caster_loads(build, total_kg, x_m, y_m)
    )


def _tilt(build: Build, x_m: float, y_m: float, z_m: float) -> tuple[float | None, str]:
    """Static tilt over the nearest edge of the wheels: atan(distance / height)."""
    feet = [(caster.x.si, caster.y.si) for caster in build.cart.casters]
    hull = MultiPoint(feet).convex_hull if len(feet) > 2 else None
    if hull is None or hull.geom_type != "Polygon" or z_m <= 0:
        return None, ""
    ring = orient(hull).exterior
    centre = Point(x_m, y_m)
    distance_m = float(ring.distance(centre))
    if not hull.covers(centre):
        distance_m = -distance_m
    nearest = ring.interpolate(ring.project(centre))
    edge = _edge_name(nearest.x - x_m, nearest.y - y_m)
    return math.degrees(math.atan2(distance_m, z_m)), edge


def _edge_name(dx: float, dy: float) -> str:
    if abs(dx) >= abs(dy):
        return "right" if dx > 0 else "left"
    return "front" if dy > 0 else "rear"


def _caster_loads(build: Build, total_kg: float, x_m: float, y_m: float) -> tuple[float, ...]:
    """Share the mass between four wheels at the corners of a rectangle, or three.

    Three wheels have one answer. More are statically indeterminate: the
    plane of pressure under a rigid cart on wheels of equal give is used.
    """
    feet = [(caster.x.si, caster.y.si) for caster in build.cart.casters]
    if len(feet) < 3:
        return ()
    mean_x = sum(x for x, _ in feet) / len(feet)
    mean_y = sum(y for _, y in feet) / len(feet)
    sxx = sum((x - mean_x) ** 2 for x, _ in feet)
    syy = sum((y - mean_y) ** 2 for _, y in feet)
    sxy = sum((x - mean_x) * (y - mean_y) for x, y in feet)
    det = sxx * syy - sxy * sxy
    if det <= 1e-9:
        return ()
    mx, my = total_kg * (x_m - mean_x), total_kg * (y_m - mean_y)
    a = (mx * syy - my * sxy) / det
    b = (my * sxx - mx * sxy) / det
    return tuple(total_kg / len(feet) + a * (x - mean_x) + b * (y - mean_y) for x, y in feet)


def covered_share(build: Build, shapes: Iterable[tuple[str, float]]) -> dict[str, float]:
    """Share of each level's area that bodies cover, from (level, area) pairs."""
    area_m2 = build.cart.width.si * build.cart.depth.si
    shares = {level.name: 0.0 for level in build.cart.levels}
    if area_m2 <= 0:
        return shares
    for level, covered_m2 in shapes:
        if level in shares:
            shares[level] += covered_m2 / area_m2
    return shares
