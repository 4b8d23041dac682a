"""Drain pumps: how high they lift, what they move up there, how soon their sump is full."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from ..build import Build, DrainPump, Item, TubeRun
from ..network.results import Network, Node
from . import parts
from .drain_results import DrainPumpState
from .drain_ways import DrainWays
from .properties import water
from .pump_results import starts_per_hour

_TRIES = 40


@dataclass(frozen=True, slots=True)
class Lift:
    """A drain pump with the tube it pushes through."""

    item: Item
    role: DrainPump
    run: str
    lift_m: float
    flow: float


def lift(build: Build, network: Network, ways: DrainWays, item: Item, role: DrainPump) -> Lift:
    """How high a drain pump has to lift, and what it moves up there.

    Its flow falls in a straight line from that with nothing to lift to none at
    its greatest lift. A real curve bows outwards, so that is on the safe side.
    """
    outlets = [
        (item.id, port.id)
        for port in item.specification.ports
        if port.medium == "drain" and port.direction == "out"
    ]
    for outlet in outlets:
        for a, b, run in network.drain.out_edges(outlet, data="run"):
            if run is not None:
                lift_m, flow = _through(build, network, ways, role, (a, b, run))
                return Lift(item, role, run.id, lift_m, flow)
    return Lift(item, role, "", 0.0, 0.0)


def _through(
    build: Build,
    network: Network,
    ways: DrainWays,
    role: DrainPump,
    edge: tuple[Node, Node, TubeRun],
) -> tuple[float, float]:
    """Lift [m] and flow [m3/s] through one tube."""
    a, b, run = edge
    route = network.routes.get(run.id)
    lift_m = 0.0
    if route is not None:
        outlet_m = network.heights_m.get(a, route.points[0][2])
        lift_m = max(max(z for _, _, z in route.points) - outlet_m, 0.0)
    fluid = water(build.venue.water_temperature.si, build.venue.altitude_m)
    ends = tuple(
        ways.items[node[0]].specification.port(node[1]) if node[0] in ways.items else None
        for node in (a, b)
    )
    tube = parts.tube(fluid, run, parts.length_m(run, route), ends)
    if tube is None:
        return lift_m, 0.0
    column_pa = fluid.head_pa(1.0)
    return lift_m, _moved(role, lift_m, lambda flow: tube.loss(flow)[0] / column_pa)


def pump_state(ways: DrainWays, lifted: Lift) -> DrainPumpState:
    """What comes to a drain pump, and how its sump copes."""
    came: dict[str, float] = {}
    for port in lifted.item.specification.ports:
        if port.medium == "drain" and port.direction != "out":
            for case, flow in ways.flows((lifted.item.id, port.id)).items():
                came[case] = came.get(case, 0.0) + flow
    greatest = max(came.values(), default=0.0)
    sump = max(lifted.role.sump.si, 0.0)
    starts = 0.0
    if 0.0 < greatest < lifted.flow and sump > 0.0:
        starts = starts_per_hour(sump / (lifted.flow - greatest), sump / greatest)
    return DrainPumpState(
        item=lifted.item.id,
        run=lifted.run,
        lift_m=lifted.lift_m,
        greatest_lift_m=max(lifted.role.lift.si, 0.0),
        flow=lifted.flow,
        arriving=came,
        sump=sump,
        fills_s=sump / greatest if greatest > 0.0 else math.inf,
        starts_per_hour=starts,
    )


def _moved(role: DrainPump, lift_m: float, loss_m: Callable[[float], float]) -> float:
    """The flow at which what is left of the lift is what the tube takes [m3/s]."""
    most, lift = max(role.flow.si, 0.0), max(role.lift.si, 0.0)
    if lift_m >= lift or most <= 0.0 or not math.isfinite(most):
        return 0.0
    low, high = 0.0, most
    for _ in range(_TRIES):
        middle = 0.5 * (low + high)
        if lift * (1.0 - middle / most) > lift_m + loss_m(middle):
            low = middle
        else:
            high = middle
    return low
