"""Cutting a supply tube at a place and putting something between: a gauge, a valve, a filter."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from ..build import VENUE, Build, End, Gauge, Port, Specification, TubeRun, WayPoint
from ..build.edits import EditError, add_run, free_id, place, replace_item, replace_run
from ..build.geometry import XY, end_position, turned
from ..build.item import Item
from ..limits import end_fitting, tube_row, water_connectors
from ..units import Length
from .make import make_network
from .results import Network, Route
from .room import nearest_free

_QUARTERS = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True)
class _Cut:
    """A place on a route."""

    at: XY
    share: float
    """Of the route's length that lies before it."""
    ahead: XY
    """The way the route goes on there; nothing where it is upright."""
    level: str


def insert_inline(
    build: Build,
    run_id: str,
    specification: Specification,
    x_m: float,
    y_m: float,
    *,
    network: Network | None = None,
    forward: bool = True,
    label: str = "",
) -> tuple[Build, str]:
    """Cut a supply tube where it passes nearest to a place, and put something between.

    Both parts stay the same sort of tube. A length that was measured and what is to spare are
    shared out as the route is; bends stay where they are; fittings stay with the longer part.
    It stands on the board under the tube, in line with it, where there is room.

    Args:
        build: as it is.
        run_id: of a tube that joins two ports.
        specification: of something with two water ports.
        x_m: of the place.
        y_m: of the place.
        network: of the build, if it has been made already.
        forward: whether water runs from the tube's end a to b, where its ports do not say.
        label: what to call it.

    Returns:
        The build and the id of what was put in.

    Raises:
        EditError: nothing can be put in there; the message says why.
    """
    run = build.run(run_id)
    if not isinstance(run, TubeRun) or run.b is None:
        raise EditError("only a tube that joins two ports can be cut")
    route = (network or make_network(build)).routes.get(run_id)
    first, second = _port(build, run.a), _port(build, run.b)
    if route is None or first is None or second is None:
        raise EditError("only a tube that joins two ports can be cut")
    if first.medium != "water":
        raise EditError(f"{specification.name} belongs in a supply tube, this one is a drain")
    specification = fitting_the_tube(specification, run)
    into, out_of = _in_and_out(specification)
    if first.direction == "in" or second.direction == "out":
        forward = False
    elif first.direction == "out" or second.direction == "in":
        forward = True
    near, far = (into, out_of) if forward else (out_of, into)
    cut = _cut(build, run, route, (x_m, y_m))
    made, new_id = place(build, specification, cut.level, *cut.at, label=label)
    item = _in_line(_item(made, new_id), near, far, cut.ahead)
    made = replace_item(made, nearest_free(build, item))
    return _joined(made, run, route, cut, (End(new_id, near.id), End(new_id, far.id))), new_id


def fitting_the_tube(specification: Specification, run: TubeRun) -> Specification:
    """The same thing with ports that a tube goes onto: gauges are sold for every size.

    Raises:
        EditError: the tube does not go onto its ports.
    """
    ports = [port for port in specification.ports if port.medium == "water"]
    if len(ports) != 2:
        raise EditError(f"{specification.name} is not made to stand in a line")
    if tube_row(run.tube.name) is None or all(
        end_fitting(run.tube.name, port.connector) is not None for port in ports
    ):
        return specification
    connector = _connector_for(run)
    if not isinstance(specification.water, Gauge) or connector is None:
        raise EditError(f"{run.tube.name} does not go onto the ports of {specification.name}")
    changed = tuple(
        replace(port, connector=connector) if port.medium == "water" else port
        for port in specification.ports
    )
    return replace(specification, ports=changed)


def _connector_for(run: TubeRun) -> str | None:
    """What is made for a tube, else what can be made to fit."""
    found = [
        (fitting.making != "direct", at, row.key)
        for at, row in enumerate(water_connectors())
        if "water" in row.media and (fitting := end_fitting(run.tube.name, row.key)) is not None
    ]
    return min(found)[2] if found else None


def _in_and_out(specification: Specification) -> tuple[Port, Port]:
    first, second = (port for port in specification.ports if port.medium == "water")
    backwards = first.direction == "out" or second.direction == "in"
    return (second, first) if backwards else (first, second)


def _cut(build: Build, run: TubeRun, route: Route, at: XY) -> _Cut:
    """The nearest place of a route."""
    best = math.inf
    along_m = share = 0.0
    place_, ahead, level = at, (0.0, 0.0), ""
    whole_m = max(route.length_m, 1e-9)
    for leg, (a, b) in enumerate(itertools.pairwise(route.points)):
        point, part = _nearest(a[:2], b[:2], at)
        away = math.dist(point, at)
        if away < best - 1e-9:
            best, place_ = away, point
            share = (along_m + part * math.dist(a, b)) / whole_m
            ahead = (b[0] - a[0], b[1] - a[1])
            level = _level(build, run, route, leg)
        along_m += math.dist(a, b)
    return _Cut(place_, min(max(share, 0.0), 1.0), ahead, level)


def _nearest(a: XY, b: XY, at: XY) -> tuple[XY, float]:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    if square <= 0.0:
        return a, 0.5
    part = min(max(((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / square, 0.0), 1.0)
    return (a[0] + part * dx, a[1] + part * dy), part


def _level(build: Build, run: TubeRun, route: Route, leg: int) -> str:
    """What a leg of a route lies on."""
    levels = [one for one in route.levels if build.cart.level(one) is not None]
    if len(levels) == 2 and route.climb is not None:
        return levels[0] if leg <= route.climb else levels[1]
    if levels:
        return levels[0]
    ends = (build.item(end.item) for end in (run.a, run.b) if end is not None)
    return next((item.level for item in ends if item is not None), VENUE)


def _in_line(item: Item, near: Port, far: Port, ahead: XY) -> Item:
    """Turned so that the tube goes in at one side and on from the other."""
    dx_m, dy_m = far.x.si - near.x.si, far.y.si - near.y.si

    def along(degrees: float) -> float:
        x, y = turned(replace(item, rotation=degrees), dx_m, dy_m)
        return x * ahead[0] + y * ahead[1]

    return replace(item, rotation=max(_QUARTERS, key=lambda one: (round(along(one), 9), -one)))


def _joined(build: Build, run: TubeRun, route: Route, cut: _Cut, ends: tuple[End, End]) -> Build:
    """Both parts of the tube on what stands between."""
    before, after = _bends(run.waypoints, route, cut.share)
    longer = cut.share >= 0.5
    first = replace(
        run,
        b=ends[0],
        length=_part(run.length, cut.share),
        spare=_part(run.spare, cut.share) or run.spare,
        fittings=run.fittings if longer else (),
        waypoints=before,
    )
    second = replace(
        run,
        id=free_id(build, run.id),
        a=ends[1],
        length=_part(run.length, 1.0 - cut.share),
        spare=_part(run.spare, 1.0 - cut.share) or run.spare,
        fittings=() if longer else run.fittings,
        waypoints=after,
    )
    return add_run(replace_run(build, first), second)


def _part(length: Length | None, share: float) -> Length | None:
    if length is None or length.si == 0.0:
        return length
    return Length.from_si(length.si * share, length.unit, 3)


def _bends(
    bends: Sequence[WayPoint], route: Route, share: float
) -> tuple[tuple[WayPoint, ...], tuple[WayPoint, ...]]:
    """The bends before a place of the route, and those after it."""
    whole_m = max(route.length_m, 1e-9)
    before = []
    for bend in bends:
        at = (bend.x.si, bend.y.si)
        along_m, best, found = 0.0, math.inf, 0.0
        for a, b in itertools.pairwise(route.points):
            point, part = _nearest(a[:2], b[:2], at)
            if math.dist(point, at) < best - 1e-9:
                best, found = math.dist(point, at), along_m + part * math.dist(a, b)
            along_m += math.dist(a, b)
        if found / whole_m > share:
            break
        before.append(bend)
    return tuple(before), tuple(bends[len(before) :])


def middle_of(build: Build, network: Network, run_id: str) -> XY | None:
    """The place half way along a run."""
    route = network.routes.get(run_id)
    run = build.run(run_id)
    if route is None or run is None:
        return None
    left_m = 0.5 * route.length_m
    for a, b in itertools.pairwise(route.points):
        step_m = math.dist(a, b)
        if step_m >= left_m and step_m > 0.0:
            part = left_m / step_m
            return a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])
        left_m -= step_m
    end = end_position(build, run.a)
    return end[:2] if end is not None else None


def _port(build: Build, end: End) -> Port | None:
    item = build.item(end.item)
    return item.specification.port(end.port) if item is not None else None


def _item(build: Build, item_id: str) -> Item:
    item = build.item(item_id)
    if item is None:  # it has just been placed
        raise EditError(f"there is no item '{item_id}'")
    return item
