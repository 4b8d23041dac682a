"""The suction side: lift, losses, what head is left at the pump, and whether it keeps its prime.

Net positive suction head available, as in any pump handbook: the air's pressure as a head, plus
the height of the water above the pump, less the water's own vapour pressure and what the line
loses: NPSHa = (p_air - p_vapour) / (rho g) - lift - losses.
"""

import math
from collections.abc import Mapping, Sequence

from ..build import Item, Tank
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


def tank_before(
    items: Mapping[str, Item], network: Network, pump: PumpPlace
) -> tuple[Node, Item, Tank] | None:
    """The tank that a pump draws from: the first found on its inlet's side."""
    seen, queue = {pump.inlet}, [pump.inlet]
    while queue:
        node = queue.pop(0)
        item = items.get(node[0])
        role = item.specification.water if item is not None else None
        if item is not None and isinstance(role, Tank):
            return node, item, role
        for _, other, data in network.supply.edges(node, data=True):
            own = data.get("item")
            if other not in seen and not (own is not None and own.id == pump.item.id):
                seen.add(other)
                queue.append(other)
    return None


def suction(
    items: Mapping[str, Item],
    network: Network,
    model: Model,
    pump: PumpPlace,
    solved: Sequence[Solved],
    plan: Plan,
) -> Suction | None:
    """What is to be told of a pump's suction side; None where it draws from no tank."""
    found = tank_before(items, network, pump)
    heights = network.heights_m
    if found is None:
        return None
    node, item, tank = found
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
        foot_valve=tank.foot_valve,
        primed=not drawn_dry,
        left_behind=tank.volume.si * share,
        lasts_s=_lasts_s(tank.volume.si * (min(max(item.fill, 0.0), 1.0) - share), plan),
    )


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
