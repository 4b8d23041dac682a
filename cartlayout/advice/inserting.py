"""Putting something into a tube: a vessel behind a pump, a regulator before a tap."""

from collections.abc import Iterator

from msgspec.structs import replace
from shapely import Polygon

from ..build import VENUE, Build, End, Item, Port, TubeRun
from ..build.edits import EditError, move_to, remove, replace_run
from ..build.geometry import corners, end_position, outline, underside_m
from ..limits import end_fitting
from ..network.connect import connect
from ..stock import StockEntry
from ..stock.placing import placed

_STEP_M = 0.05
_RINGS = 12
"""Places are tried up to this many steps away from the middle of the tube."""
_SLACK_M2 = 1e-6


def insert(build: Build, end: End, entry: StockEntry) -> tuple[Build, str]:
    """Put a piece of equipment with two water ports into the tube that ends at a port.

    It stands as near to the tube as there is room, on the level of what the port belongs to. The
    tube goes on from its far side; a new one joins it to the port.

    Args:
        build: as it is.
        end: the port that it is to come next to: the pump's outlet, the tap's inlet.
        entry: of the stock.

    Returns:
        The build and the id of what was put in.

    Raises:
        EditError: no tube ends there, nothing fits, or there is no room for it.
    """
    run = next((one for one in build.tubes if one.b is not None and end in (one.a, one.b)), None)
    if run is None or run.b is None:
        raise EditError("no tube ends there")
    far = run.b if run.a == end else run.a
    level = _level(build, end, far)
    here, there = end_position(build, end), end_position(build, far)
    if here is None or there is None:
        raise EditError("an end of the tube is at no port")
    middle = 0.5 * (here[0] + there[0]), 0.5 * (here[1] + there[1])
    after, ids = placed(build, entry, level, *middle)
    new = _item(after, ids[0])
    after = _with_room(after, new, build)
    into, out_of = _ports(new)
    outwards = _port(build, end).direction == "out" or _port(build, far).direction == "in"
    near_port, far_port = (into, out_of) if outwards else (out_of, into)
    near, beyond = End(new.id, near_port.id), End(new.id, far_port.id)
    if end_fitting(run.tube.name, far_port.connector) is not None:
        after = replace_run(after, _led_to(run, end, beyond))
    else:
        after = remove(after, run_ids=(run.id,))
        after, _ = connect(after, beyond, far)
    after, _ = connect(after, end, near)
    return after, new.id


def _led_to(run: TubeRun, old: End, new: End) -> TubeRun:
    """A tube with one of its ends elsewhere; a length that was measured holds no longer."""
    a, b = (new, run.b) if run.a == old else (run.a, new)
    return replace(run, a=a, b=b, length=None, waypoints=())


def _level(build: Build, end: End, far: End) -> str:
    for one in (end, far):
        level = _item(build, one.item).level
        if level != VENUE:
            return level
    raise EditError("both ends of the tube belong to the venue")


def _item(build: Build, item_id: str) -> Item:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return item


def _port(build: Build, end: End) -> Port:
    ports = _item(build, end.item).specification.ports
    found = next((port for port in ports if port.id == end.port), None)
    if found is None:
        raise EditError(f"{end.item} has no port '{end.port}'")
    return found


def _ports(item: Item) -> tuple[Port, Port]:
    """Where water goes in, and where it comes out."""
    ports = [port for port in item.specification.ports if port.medium == "water"]
    if len(ports) != 2:
        raise EditError(f"{item.name} is not made to stand in a line")
    first, second = ports
    backwards = first.direction == "out" or second.direction == "in"
    return (second, first) if backwards else (first, second)


def _with_room(after: Build, new: Item, before: Build) -> Build:
    """Move what was placed to the nearest spot where it stands in nothing."""
    ground = Polygon(outline(after.cart))
    taken = [Polygon(corners(one)) for one in _level_with(before, after, new)]
    x_m, y_m = new.x.si, new.y.si
    for dx_m, dy_m in _spots():
        moved = move_to(after, new.id, x_m + dx_m, y_m + dy_m)
        body = Polygon(corners(_item(moved, new.id)))
        if body.difference(ground).area < _SLACK_M2 and all(
            body.intersection(one).area < _SLACK_M2 for one in taken
        ):
            return moved
    raise EditError(f"there is no room for {new.name} near that tube")


def _level_with(before: Build, after: Build, new: Item) -> Iterator[Item]:
    """What stands at the height of a new body."""
    low = underside_m(after.cart, new)
    high = low + new.specification.size.height.si
    for one in before.items:
        bottom = underside_m(before.cart, one)
        top = bottom + one.specification.size.height.si
        if one.level != VENUE and bottom < high and top > low:
            yield one


def _spots() -> Iterator[tuple[float, float]]:
    """Offsets from the middle outwards."""
    reach = range(-_RINGS, _RINGS + 1)
    spots = [(dx * _STEP_M, dy * _STEP_M) for dx in reach for dy in reach]
    yield from sorted(spots, key=lambda spot: (spot[0] ** 2 + spot[1] ** 2, spot))
