"""The knock of a valve that shuts: what it can add at most, and what it adds at its own pace.

At most rho a v, whatever shuts and however fast (Joukowsky 1898; any text on water hammer):
the wave runs back along the line and returns after 2 L / a; only a valve that shuts within that
time makes it whole. A slower one adds less. For that the handbook estimate
0.070 v L / t [psi; ft/s, ft, s] is taken, which lies above the text-book's 2 rho L v / t.
Tees, changes of bore and vapour that collapses can exceed both (surge literature); so this is
a warning, not a proof.
"""

from collections.abc import Mapping

from ..build import Accumulator, Drawn, Fill, Inlet, Item, Mains, Tank, TubeRun
from ..limits.water_practice import water_practice
from ..network.results import Network, Node
from . import parts
from .cases import Solved
from .model import Model, TapPlace
from .pump_results import Surge
from .rating import rating_pa
from .stretch import wave_speed_m_s

SLOW_PA_S2_M2 = 0.070 * 6894.757 / 0.3048**2
"""0.070 psi for each ft/s, ft and 1/s, in SI: Pa for each m/s, m and 1/s."""


def joukowsky_pa(density_kg_m3: float, wave_m_s: float, velocity_m_s: float) -> float:
    """Pressure [Pa] that stopping water at a velocity [m/s] adds at once."""
    return density_kg_m3 * wave_m_s * abs(velocity_m_s)


def rise_pa(
    bound_pa: float, wave_m_s: float, velocity_m_s: float, length_m: float, closing_s: float
) -> float:
    """Pressure [Pa] that a valve adds which takes so long [s] to shut a line so long [m]."""
    if closing_s <= 2.0 * length_m / wave_m_s:
        return bound_pa
    return min(bound_pa, SLOW_PA_S2_M2 * abs(velocity_m_s) * length_m / closing_s)


def closing_s(inlet: Inlet) -> tuple[float, bool]:
    """How long an inlet's valve takes to shut [s], and whether that is only typical."""
    given = inlet.closing_time
    if given is not None and given.si > 0.0:
        return given.si, False
    practice = water_practice()
    if isinstance(inlet.behaviour, Fill):
        return practice.closing_fill_s.value, True
    if isinstance(inlet.behaviour, Drawn):
        return practice.closing_drawn_s.value, True
    return practice.closing_opening_s.value, True


def surge(
    items: Mapping[str, Item],
    network: Network,
    model: Model,
    tap: TapPlace,
    solved: Solved,
    static_pa: float,
) -> Surge | None:
    """The knock of one tap while it alone is open; None where no tube leads to it."""
    last, length_m = _line_back(items, network, tap.node)
    if last is None or not solved.high.converged:
        return None
    area_m2 = 0.7853981633974483 * last.tube.bore.si**2
    flow = abs(solved.high.flows.get(tap.node, 0.0))
    if area_m2 <= 0.0 or flow <= 0.0:
        return None
    velocity = flow / area_m2
    density = model.fluid.density_kg_m3
    wave = wave_speed_m_s(last.tube, density)
    takes, assumed = closing_s(tap.inlet)
    bound = joukowsky_pa(density, wave, velocity)
    return Surge(
        item=tap.item.id,
        port=tap.inlet.port,
        name=tap.name,
        run=last.id,
        velocity_m_s=velocity,
        wave_m_s=wave,
        length_m=length_m,
        closing_s=takes,
        assumed=assumed,
        bound_pa=bound,
        rise_pa=rise_pa(bound, wave, velocity, length_m, takes),
        static_pa=static_pa,
        rating_pa=rating_pa(last.tube, model.temperatures_k.get(last.id, model.temperature_k)),
    )


def _line_back(
    items: Mapping[str, Item], network: Network, start: Node
) -> tuple[TubeRun | None, float]:
    """The tube at a tap, and the length of line [m] back to the nearest thing that gives way.

    An air cushion, an open tank and the venue's main send the wave back. Where there is none,
    the farthest end of the line counts.
    """
    supply, routes = network.supply, network.routes
    last: TubeRun | None = None
    seen, queue = {start}, [(start, 0.0)]
    farthest = 0.0
    while queue:
        queue.sort(key=lambda one: one[1])
        node, so_far = queue.pop(0)
        farthest = so_far
        item = items.get(node[0])
        role = item.specification.water if item is not None else None
        if node != start and isinstance(role, (Accumulator, Mains, Tank)):
            break
        for _, other, data in supply.edges(node, data=True):
            run = data.get("run")
            step = 0.0
            if isinstance(run, TubeRun):
                step = parts.length_m(run, routes.get(run.id))
                last = last or run
            if other not in seen:
                seen.add(other)
                queue.append((other, so_far + step))
    return last, farthest
