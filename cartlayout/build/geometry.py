"""Where bodies and ports are: metres, y towards the front, z up from the floor."""

import math

from .cart import Cart
from .document import Build
from .item import VENUE, Item
from .ports import Port
from .runs import End

XY = tuple[float, float]
XYZ = tuple[float, float, float]


def turned(item: Item, dx_m: float, dy_m: float) -> XY:
    """Turn an offset from the item's middle by its rotation, clockwise on the plan."""
    quarter, rest = divmod(item.rotation % 360.0, 90.0)
    if rest == 0.0:  # exact, so that a body turned four times is where it was
        for _ in range(int(quarter)):
            dx_m, dy_m = -dy_m, dx_m
        return dx_m, dy_m
    angle = math.radians(item.rotation)
    return (
        dx_m * math.cos(angle) - dy_m * math.sin(angle),
        dx_m * math.sin(angle) + dy_m * math.cos(angle),
    )


def corners(item: Item) -> tuple[XY, XY, XY, XY]:
    """The body's corners on the plan: rear left, rear right, front right, front left, as turned."""
    size = item.specification.size
    half_w, half_d = size.width.si / 2, size.depth.si / 2
    x, y = item.x.si, item.y.si

    def corner(dx_m: float, dy_m: float) -> XY:
        tx, ty = turned(item, dx_m, dy_m)
        return x + tx, y + ty

    return (
        corner(-half_w, -half_d),
        corner(half_w, -half_d),
        corner(half_w, half_d),
        corner(-half_w, half_d),
    )


def bounds(item: Item) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of the body on the plan."""
    xs, ys = zip(*corners(item), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def underside_m(cart: Cart, item: Item) -> float:
    """Height of the body's underside above the floor."""
    level = cart.level(item.level)
    if level is None or item.level == VENUE:
        return item.raised.si
    if item.mount == "hanging":
        top_m = level.height.si + level.clear_height.si - item.raised.si
        return top_m - item.specification.size.height.si
    return level.height.si + item.raised.si


def port_position(cart: Cart, item: Item, port: Port) -> XYZ:
    """Where a port is."""
    size = item.specification.size
    dx_m, dy_m = turned(item, port.x.si - size.width.si / 2, port.y.si - size.depth.si / 2)
    return item.x.si + dx_m, item.y.si + dy_m, underside_m(cart, item) + port.z.si


def end_position(build: Build, end: End) -> XYZ | None:
    """Where a run's end is, or None where it names no port."""
    item = build.item(end.item)
    port = item.specification.port(end.port) if item is not None else None
    if item is None or port is None:
        return None
    return port_position(build.cart, item, port)


def outline(cart: Cart) -> tuple[XY, ...]:
    """Corners of the cart in order."""
    if len(cart.outline) >= 3:
        return tuple((point.x.si, point.y.si) for point in cart.outline)
    width, depth = cart.width.si, cart.depth.si
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
