"""Drain tubes: whether they fall, what stops the water, what they carry, what comes to them.

A route keeps square: it lies level and drops upright. A hose is laid to the
same ends with its fall spread along it, so a stretch is judged as a whole: from
end to end, or to a bend that a person gave a height. What a person leads up and
down again stays up and down: there water stands, and air is shut in.

Capacity of a round tube by gravity (Manning, SI; any hydraulics handbook):
V = R^(2/3) S^(1/2) / n with R = D/4 both full and half full, so that half full
carries half as much.
"""

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..build import Build, DrainPump, Item, Tank, TubeRun
from ..build.geometry import XYZ, underside_m
from ..limits import drain_practice, profile, water_connector
from ..network.results import Network, Node, Route
from . import parts
from .air_gaps import air_gaps
from .drain_results import AirGap, DrainPumpState, DrainState, LowPoint, Stretch
from .drain_ways import Arriving, DrainWays
from .properties import water
from .sumps import lift, pump_state

_SAME_M = 1e-3
"""A rise so small is a matter of how the numbers were written."""


def full_flow(bore_m: float, gradient: float, n: float) -> float:
    """Flow of a round tube running full by gravity [m3/s], after Manning.

    Args:
        bore_m: inner diameter [m].
        gradient: fall for each metre of tube [-]; without any there is no flow.
        n: Manning's roughness [s/m^(1/3)].
    """
    if bore_m <= 0.0 or gradient <= 0.0 or n <= 0.0:
        return 0.0
    speed = math.pow(bore_m / 4.0, 2.0 / 3.0) * math.sqrt(min(gradient, 1.0)) / n
    return 0.25 * math.pi * bore_m**2 * speed


@dataclass(slots=True)
class DrainSide:
    """Everything about drains, with what it was last found to follow from."""

    reads: tuple[Any, ...]
    routes: tuple[Route | None, ...]
    drains: tuple[DrainState, ...]
    pumps: tuple[DrainPumpState, ...]
    air_gaps: tuple[AirGap, ...]


def drain_side(
    build: Build, network: Network, arriving: Arriving, previous: DrainSide | None = None
) -> DrainSide:
    """Judge every drain tube of a build. Never raises on a build that loads.

    Args:
        build: any build.
        network: made from it.
        arriving: case name to the flow through each open inlet [m3/s].
        previous: an earlier answer; what nothing has touched is taken over from it.
    """
    routes = tuple(network.routes.get(key) for key in _drain_runs(network))
    reads = (network.drain, network.supply, build.cart, build.venue, build.region, arriving)
    if previous is not None and _same(previous.reads, reads):
        if all(old is new for old, new in zip(previous.routes, routes, strict=True)):
            return previous
        lent = {one.run: one for one in previous.drains}
        still = {
            key
            for key, old, new in zip(_drain_runs(network), previous.routes, routes, strict=True)
            if old is new
        }
    else:
        lent, still = {}, set()
    ways = DrainWays(build, network, arriving)
    pumps = tuple(_pumps(build, network, ways))
    drains = tuple(
        lent[key] if key in still and key in lent else _drain(build, network, ways, a, b, data)
        for a, b, key, data in network.drain.edges(keys=True, data="run")
        if data is not None
    )
    gaps = tuple(air_gaps(build, network))
    if previous is not None and (drains, pumps, gaps) == (
        previous.drains,
        previous.pumps,
        previous.air_gaps,
    ):
        previous.reads, previous.routes = reads, routes
        return previous
    return DrainSide(reads, routes, drains, pumps, gaps)


def _same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    """Graphs are the same objects while only places on the plan change."""
    graphs = all(a is b for a, b in zip(old[:2], new[:2], strict=True))
    return graphs and all(a is b or a == b for a, b in zip(old[2:], new[2:], strict=True))


def _drain_runs(network: Network) -> list[str]:
    return [key for _, _, key, run in network.drain.edges(keys=True, data="run") if run is not None]


def _drain(
    build: Build, network: Network, ways: DrainWays, a: Node, b: Node, run: TubeRun
) -> DrainState:
    route = network.routes.get(run.id)
    points = route.points if route is not None else ()
    forward = (run.a.item, run.a.port) == a
    if not forward:
        points = points[::-1]
    laid_m = parts.length_m(run, route)
    route_m = route.length_m if route is not None else 0.0
    stretches = _stretches(
        points, _given(run, forward), max(laid_m / route_m, 1.0) if route_m else 1.0
    )
    bore_m = max(run.tube.bore.si, 0.0)
    pumped = ways.pumped(a)
    half, full, reynolds = (0.0, 0.0, 0.0) if pumped else _capacity(build, bore_m, stretches)
    before_m, before = _before(ways, network, a)
    backs_up_m, backs_up_to = _backs_up(build, network, ways, a, b)
    return DrainState(
        run=run.id,
        start=a,
        end=b,
        serves=ways.serves(a),
        pumped=pumped,
        fall_m=points[0][2] - points[-1][2] if points else 0.0,
        flat_m=sum(one.flat_m for one in stretches),
        length_m=laid_m,
        asked_slope=profile(build.region).drain_slope(bore_m).slope,
        stretches=stretches,
        low_points=_low_points(points, bore_m),
        bore_m=bore_m,
        before_m=before_m,
        before=before,
        half_full=half,
        full=full,
        reynolds=reynolds,
        advisory=0.0 < reynolds < drain_practice().least_reynolds.value,
        arriving=ways.flows(a),
        backs_up_m=backs_up_m,
        backs_up_to=backs_up_to,
        after_m=_port_bore(ways.items.get(b[0]), b[1]),
    )


# --- the shape of a tube -----------------------------------------------------------------------


def _given(run: TubeRun, forward: bool) -> list[XYZ]:
    """Places whose height a person gave, in the direction of the water."""
    bends = [(one.x.si, one.y.si, one.height.si) for one in run.waypoints if one.height is not None]
    return bends if forward else bends[::-1]


def _stretches(points: tuple[XYZ, ...], given: list[XYZ], slack: float) -> tuple[Stretch, ...]:
    """A tube cut where its height is given.

    Args:
        points: of the route, in the direction of the water.
        given: places on the route.
        slack: length laid for each metre of route.
    """
    if len(points) < 2:
        return ()
    made: list[Stretch] = []
    piece: list[XYZ] = [points[0]]
    rest = list(given)
    for start, stop in itertools.pairwise(points):
        here = start
        while rest and _between(here, rest[0], stop):
            here = rest.pop(0)
            made += _stretch([*piece, here], slack)
            piece = [here]
        piece.append(stop)
    made += _stretch(piece, slack)
    return tuple(made)


def _stretch(piece: list[XYZ], slack: float) -> list[Stretch]:
    length_m = sum(math.dist(a, b) for a, b in itertools.pairwise(piece))
    if length_m < _SAME_M:
        return []
    flat_m = sum(math.dist(a[:2], b[:2]) for a, b in itertools.pairwise(piece))
    fall_m = piece[0][2] - piece[-1][2]
    return [Stretch(piece[0], piece[-1], fall_m, flat_m, length_m * slack)]


def _between(a: XYZ, place: XYZ, b: XYZ) -> bool:
    detour_m = math.dist(a, place) + math.dist(place, b) - math.dist(a, b)
    return detour_m < _SAME_M


def _low_points(points: tuple[XYZ, ...], bore_m: float) -> tuple[LowPoint, ...]:
    """Where the water would have to climb again, in its own direction."""
    found = []
    along_m = low_along_m = 0.0
    low = crest = points[0] if points else (0.0, 0.0, 0.0)
    climbing = False
    for a, b in itertools.pairwise(points):
        along_m += math.dist(a, b)
        if b[2] > a[2]:
            if not climbing:
                low, low_along_m, climbing = a, along_m - math.dist(a, b), True
            crest = b
        elif b[2] < a[2] and climbing:
            found.append((low, crest, low_along_m))
            climbing = False
    if climbing:
        found.append((low, crest, low_along_m))
    return tuple(
        LowPoint(
            at=low,
            crest=crest,
            along_m=low_along_m,
            rise_m=crest[2] - low[2],
            blocked=crest[2] > points[0][2] - _SAME_M,
            sealed=crest[2] - low[2] >= bore_m,
        )
        for low, crest, low_along_m in found
        if crest[2] - low[2] >= _SAME_M
    )


# --- what it carries ---------------------------------------------------------------------------


def _capacity(
    build: Build, bore_m: float, stretches: tuple[Stretch, ...]
) -> tuple[float, float, float]:
    """Flow half full and full [m3/s], and the Reynolds number, of the flattest stretch."""
    practice = drain_practice()
    judged = [one for one in stretches if one.flat_m > practice.short_stretch_m.value]
    gradient = min((one.gradient for one in judged or stretches), default=0.0)
    full = full_flow(bore_m, gradient, practice.manning_n.value)
    if full <= 0.0:
        return 0.0, 0.0, 0.0
    fluid = water(build.venue.water_temperature.si, build.venue.altitude_m)
    speed = full / (0.25 * math.pi * bore_m**2)
    return 0.5 * full, full, fluid.density_kg_m3 * speed * bore_m / fluid.viscosity_pa_s


def _before(ways: DrainWays, network: Network, start: Node) -> tuple[float, str]:
    """The widest bore that leads into a tube, and what has it."""
    found = [(_port_bore(ways.items.get(start[0]), start[1]), start[0])]
    for node in (start, *network.drain.predecessors(start)):
        found += [
            (max(run.tube.bore.si, 0.0), run.id)
            for _, _, run in network.drain.in_edges(node, data="run")
            if run is not None
        ]
    return max(found, key=lambda one: one[0])


def _port_bore(item: Item | None, port_id: str) -> float:
    """Bore of a connector [m]; 0 where none is known, as of an open end."""
    port = item.specification.port(port_id) if item is not None else None
    row = water_connector(port.connector) if port is not None else None
    return (row.bore_m or 0.0) if row is not None else 0.0


def _backs_up(
    build: Build, network: Network, ways: DrainWays, start: Node, end: Node
) -> tuple[float | None, str]:
    """How far a full tank's water would stand above the lowest outlet that drains into it."""
    tank = ways.items.get(end[0])
    role = tank.specification.water if tank is not None else None
    if tank is None or not isinstance(role, Tank) or ways.pumped(start):
        return None, ""
    top_m = tank.specification.size.height.si
    if role.overflow is not None:
        top_m = min(top_m, role.overflow.si)
    surface_m = underside_m(build.cart, tank) + top_m
    outlets = [
        (network.heights_m[node], node[0])
        for node in ways.outlets_before(start)
        if node in network.heights_m
    ]
    height_m, item_id = min(outlets, default=(surface_m, ""))
    return (surface_m - height_m, item_id) if surface_m - height_m > _SAME_M else (None, "")


def _pumps(build: Build, network: Network, ways: DrainWays) -> Iterator[DrainPumpState]:
    lifts = [
        lift(build, network, ways, item, item.specification.water)
        for item in build.items
        if isinstance(item.specification.water, DrainPump)
    ]
    ways.moved.update({one.item.id: one.flow for one in lifts})  # before anything comes through
    for one in lifts:
        yield pump_state(ways, one)
