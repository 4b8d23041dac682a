"""Equipment that comes onto the plan from the stock: dragged, or placed by key."""

from PySide6.QtCore import QMimeData

from ...build import VENUE, Build
from ...build.edits import EditError
from ...build.geometry import outline
from ...stock import StockEntry, entry, placed
from ...units import UnitSystem
from .moving import box_of, boxes_of, zone_boxes
from .snapping import Box, grid_step_m, snap_move

MIME = "application/x-cartlayout-stock"
"""Carries the key of a stock entry, UTF-8."""
XY = tuple[float, float]
_RINGS = 40


def dragged_entry(mime: QMimeData) -> StockEntry | None:
    """The stock entry that a drag carries, or None."""
    if not mime.hasFormat(MIME):
        return None
    try:
        return entry(bytes(mime.data(MIME).data()).decode())
    except (KeyError, UnicodeDecodeError):
        return None


def level_for(build: Build, level: str, dropped: StockEntry) -> str:
    """The shown level; things of the cart that are dropped on the venue take their usual one."""
    if dropped.stands == "venue":
        return VENUE
    if build.cart.level(level) is not None:
        return level
    if build.cart.level(dropped.stands) is not None:
        return dropped.stands
    if not build.cart.levels:
        raise EditError("The cart has no level to put anything on")
    return build.cart.levels[0].name


def drop(
    build: Build,
    dropped: StockEntry,
    level: str,
    at: XY,
    system: UnitSystem,
    reach_m: float,
    *,
    free: bool = False,
) -> tuple[Build, tuple[str, ...]]:
    """Place an entry with its middle near `at`, in line with the grid and its neighbours.

    Free: exactly there.

    Raises:
        EditError: the cart has no level for it.
    """
    level = level_for(build, level, dropped)
    if free:
        return placed(build, dropped, level, *at)
    width, depth, _ = dropped.size_m
    box = Box(at[0] - width / 2, at[1] - depth / 2, at[0] + width / 2, at[1] + depth / 2)
    neighbours = [box_of(item) for item in build.items if item.level == level]
    neighbours += zone_boxes(build, (level,))
    cart = Box.around(outline(build.cart))
    snap = snap_move(box, 0.0, 0.0, neighbours, grid_step_m(system), reach_m, cart)
    return placed(build, dropped, level, at[0] + snap.dx, at[1] + snap.dy)


def free_spot(build: Build, dropped: StockEntry, level: str, wish: XY, system: UnitSystem) -> XY:
    """The place nearest to a wish where an entry stands on nothing else, on the cart if it can.

    What belongs to the venue goes behind the cart, beside what is there already.
    """
    width, depth, _ = dropped.size_m
    cart = Box.around(outline(build.cart))
    taken = [box_of(item) for item in build.items if item.level == level]
    taken += zone_boxes(build, (level,))  # what is kept free stays free
    if level == VENUE:
        wish = _behind(build, cart, wish, depth)
        room = None
    else:
        room = cart if width <= cart.right - cart.left and depth <= cart.bottom - cart.top else None
    grid = grid_step_m(system)
    wish = (_on_grid(wish[0], width, grid), _on_grid(wish[1], depth, grid))
    step = grid * 4
    # Off the cart it is in nobody's way, and the program says that it overhangs.
    for inside in (room, None) if room is not None else (None,):
        for ring in range(_RINGS):
            for i, j in sorted(_ring(ring), key=lambda one: (one[0] ** 2 + one[1] ** 2, one)):
                if level == VENUE and j:
                    continue
                x, y = wish[0] + i * step, wish[1] + j * step
                box = Box(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)
                on_cart = inside is None or _holds(inside, box)
                if on_cart and not any(_meet(box, one) for one in taken):
                    return x, y
    return wish


def _behind(build: Build, cart: Box, wish: XY, depth: float) -> XY:
    beside = boxes_of(build, [item.id for item in build.items if item.level == VENUE])
    y = beside.middle_y if beside is not None else cart.top - 0.4 - depth / 2
    return min(max(wish[0], cart.left), cart.right), y


def _on_grid(middle: float, side: float, grid: float) -> float:
    return round((middle - side / 2) / grid) * grid + side / 2


def _ring(radius: int) -> list[tuple[int, int]]:
    if radius == 0:
        return [(0, 0)]
    side = range(-radius, radius + 1)
    return list(
        {(i, j) for i in side for j in (-radius, radius)}
        | {(i, j) for j in side for i in (-radius, radius)}
    )


def _holds(room: Box, box: Box) -> bool:
    slack = 1e-9
    return (
        room.left - slack <= box.left
        and box.right <= room.right + slack
        and room.top - slack <= box.top
        and box.bottom <= room.bottom + slack
    )


def _meet(a: Box, b: Box) -> bool:
    slack = 1e-6
    return (
        a.left < b.right - slack
        and b.left < a.right - slack
        and a.top < b.bottom - slack
        and b.top < a.bottom - slack
    )
