"""The suction side: lift, losses, what head is left at the pump, and whether it keeps its prime.

Net positive suction head available, as in any pump handbook: the air's pressure as a head, plus
the height of the water above the pump, less the water's own vapour pressure and what the line
loses: NPSHa = (p_air - p_vapour) / (rho g) - lift - losses.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..build import CheckValve, Item, Mains, Pump, Tank, TubeRun
from ..network.results import Network, Node
from .cases import Solved
from .model import Model, PumpPlace
from .properties import STANDARD_GRAVITY, Fluid, water
from .pump_results import Plan, Suction

_TRICKLE = 1e-8
_SEA_LEVEL = water(293.15)
"""Where makers measure."""


def head_available_m(fluid: Fluid, lift_m: float, loss_pa: float, surface_pa: float = 0.0) -> float:
    """Net positive suction head [m] at a pump's inlet.

    Args:
        fluid: the water, under its sky.
        lift_m: from the water's surface up to the inlet [m]; below zero where it runs in.
        loss_pa: along the suction line [Pa].
        surface_pa: gauge pressure on the water's surface [Pa]; 0 for a vented tank.
    """
    weight = fluid.density_kg_m3 * STANDARD_GRAVITY
    return (fluid.air_pa + surface_pa - fluid.vapour_pa - loss_pa) / weight - lift_m


def lift_here_m(fluid: Fluid, stated_m: float) -> float:
    """Suction lift [m] that is left of what a maker states for cold water at sea level.

    A pump that draws air can thin it by a share; so it lifts in proportion to what pushes the
    water up, which is the air's pressure less the water's own vapour pressure.
    """
    push_pa = max(fluid.air_pa - fluid.vapour_pa, 0.0)
    usual_pa = _SEA_LEVEL.air_pa - _SEA_LEVEL.vapour_pa
    return stated_m * min(push_pa / usual_pa, 1.0)


@dataclass(frozen=True, slots=True)
class Way:
    """From a pump back to the tank that it draws from."""

    node: Node
    """Port of the tank."""
    item: Item
    tank: Tank
    tubes: tuple[TubeRun, ...] = ()
    checked: bool = False
    """A check valve on the way keeps it full."""


def way_back(items: Mapping[str, Item], network: Network, pump: PumpPlace) -> Way | None:
    """To the nearest fresh tank; None where a venue's tap is nearer, or there is none."""
    behind: dict[Node, tuple[Node, TubeRun | None, bool]] = {}
    seen, queue = {pump.inlet}, [pump.inlet]
    while queue:
        node = queue.pop(0)
        item = items.get(node[0])
        role = item.specification.water if item is not None else None
        if isinstance(role, Mains):
            return None
        if item is not None and isinstance(role, Tank) and role.contents == "fresh":
            return _told(behind, pump.inlet, node, item, role)
        for _, other, data in network.supply.edges(node, data=True):
            own = data.get("item")
            within = own.specification.water if own is not None else None
            if other in seen or isinstance(within, Pump):
                continue
            seen.add(other)
            run = data.get("run")
            behind[other] = (
                node,
                run if isinstance(run, TubeRun) else None,
                isinstance(within, CheckValve) and not within.stuck_open,
            )
            queue.append(other)
    return None


def _told(
    behind: Mapping[Node, tuple[Node, TubeRun | None, bool]],
    inlet: Node,
    node: Node,
    item: Item,
    tank: Tank,
) -> Way:
    tubes, checked, at = [], False, node
    while at != inlet:
        at, run, valve = behind[at]
        checked = checked or valve
        if run is not None:
            tubes.append(run)
    return Way(node, item, tank, tuple(tubes), checked)


def suction(
    items: Mapping[str, Item],
    network: Network,
    model: Model,
    pump: PumpPlace,
    solved: Sequence[Solved],
    plan: Plan,
) -> Suction | None:
    """What is to be told of a pump's suction side; None where it draws from no tank."""
    way = way_back(items, network, pump)
    heights = network.heights_m
    if way is None:
        return None
    node, item, tank = way.node, way.item, way.tank
    port = item.specification.port(node[1])
    if port is None or node not in heights or pump.inlet not in heights:
        return None
    fluid = model.fluid
    height_m = item.specification.size.height.si
    bottom_m = heights[node] - port.z.si
    surface_m = height_m * min(max(item.fill, 0.0), 1.0)
    pick_up_m = max(tank.pick_up.si, 0.0)
    inlet_m = heights[pump.inlet]
    flow, loss_pa = _hardest(model, pump, solved, node, surface_m - port.z.si)
    last_lift_m = inlet_m - bottom_m - pick_up_m
    drawn_dry = surface_m <= pick_up_m
    share = min(pick_up_m / height_m, 1.0) if height_m > 0.0 else 0.0
    weight = fluid.density_kg_m3 * STANDARD_GRAVITY
    required = pump.role.net_suction_head
    return Suction(
        pump=pump.item.id,
        tank=item.id,
        lift_m=inlet_m - bottom_m - surface_m,
        last_lift_m=last_lift_m,
        greatest_lift_m=pump.role.greatest_lift.si,
        lift_here_m=lift_here_m(fluid, pump.role.greatest_lift.si),
        loss_pa=loss_pa,
        flow=flow,
        available_m=head_available_m(fluid, last_lift_m, loss_pa),
        required_m=required.si if required is not None else None,
        air_m=fluid.air_pa / weight,
        vapour_m=fluid.vapour_pa / weight,
        density_kg_m3=fluid.density_kg_m3,
        foot_valve=tank.foot_valve or way.checked,
        primed=not drawn_dry,
        left_behind=tank.volume.si * share,
        crest_m=_crest_m(way, max(inlet_m, heights[node])),
        tubes=tuple(run.id for run in way.tubes),
        lasts_s=_lasts_s(tank.volume.si * (min(max(item.fill, 0.0), 1.0) - share), plan),
    )


def _crest_m(way: Way, ends_m: float) -> float:
    """How far the highest bend that a tube is led over stands above both ends of the line."""
    led = [point.height.si for run in way.tubes for point in run.waypoints if point.height]
    return max(max(led, default=0.0) - ends_m, 0.0)


def _lasts_s(left: float, plan: Plan) -> float:
    return max(left, 0.0) / plan.hourly * 3600.0 if plan.hourly > 0.0 else math.inf


def _hardest(
    model: Model, pump: PumpPlace, solved: Sequence[Solved], source: Node, water_m: float
) -> tuple[float, float]:
    """Greatest flow through a pump in any case, and what the line before it loses then [Pa]."""
    most, loss_pa = 0.0, 0.0
    fluid, heights = model.fluid, model.sketch.heights_m
    for one in solved:
        for state in (one.high, one.low):
            flow = state.flows.get(pump.item.id, 0.0)
            inlet_pa = state.pressures_pa.get(pump.inlet)
            if not state.converged or flow <= max(most, _TRICKLE) or inlet_pa is None:
                continue
            still_pa = fluid.head_pa(heights[source] + water_m - heights[pump.inlet])
            most, loss_pa = flow, max(still_pa - inlet_pa, 0.0)
    return most, loss_pa
