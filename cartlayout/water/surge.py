"""The knock of a valve that shuts: what it can add at most, and what it adds at its own pace.

At most rho a v, whatever shuts and however fast (Joukowsky 1898; any text on water hammer):
the wave runs back along the line and returns after 2 L / a; only a valve that shuts within that
time makes it whole. A slower one adds less. For that the handbook estimate
0.070 v L / t [psi; ft/s, ft, s] is taken, which lies above the text-book's 2 rho L v / t.
Tees, changes of bore and vapour that collapses can exceed both (surge literature); so this is
a warning, not a proof.
"""

import heapq
import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..build import Accumulator, Drawn, Fill, Inlet, Item, Mains, Tank, TubeRun
from ..limits.water_practice import water_practice
from ..network.results import Network, Node
from . import parts
from .cases import Solved
from .hydraulics import Key
from .model import Model, TapPlace
from .pump_results import Surge
from .rating import rating_pa
from .stretch import wave_speed_m_s

SLOW_PA_S2_M2 = 0.070 * 6894.757 / 0.3048**2
"""0.070 psi for each ft/s, ft and 1/s, in SI: Pa for each m/s, m and 1/s."""


def joukowsky_pa(density_kg_m3: float, wave_m_s: float, velocity_m_s: float) -> float:
    """Pressure [Pa] that stopping water at a velocity [m/s] adds at once."""
    return density_kg_m3 * wave_m_s * abs(velocity_m_s)


def rise_pa(bound_pa: float, back_s: float, slow_pa_s: float, closing_s: float) -> float:
    """Pressure [Pa] that a valve adds which takes so long [s] to shut.

    Args:
        bound_pa: what it would add at once [Pa].
        back_s: time after which the wave is back [s].
        slow_pa_s: what it would add within a second, on a line taken as stiff [Pa s].
        closing_s: how long it takes.
    """
    return bound_pa if closing_s <= back_s else min(bound_pa, slow_pa_s / closing_s)


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
    static: Mapping[Key, float],
) -> Surge | None:
    """The knock of one tap while it alone is open; None where no tube leads to it.

    Every tube of the line back to where the wave is reflected is asked. The one that is most over
    its rating tells; the one at the valve where none is.

    Args:
        items: those of the island, by id.
        network: of the whole build.
        model: of the island.
        tap: the one that shuts.
        solved: the island with this tap alone open.
        static: pressures [Pa] at its ports with everything shut.
    """
    line = _line_back(items, network, tap.node)
    flow = abs(solved.high.flows.get(tap.node, 0.0))
    if not line or not solved.high.converged or flow <= 0.0:
        return None
    takes, assumed = closing_s(tap.inlet)
    density = model.fluid.density_kg_m3
    pieces = [
        (
            run,
            length_m,
            flow / (0.25 * math.pi * run.tube.bore.si * run.tube.bore.si),
            wave_speed_m_s(run.tube, density),
        )
        for run, length_m in line
        if run.tube.bore.si >= parts.LEAST_BORE_M
    ]
    back_s = sum(2.0 * length_m / wave for _, length_m, _, wave in pieces)
    slow_pa_s = SLOW_PA_S2_M2 * sum(length_m * speed for _, length_m, speed, _ in pieces)
    told = []
    for run, _, speed, wave in pieces:
        bound = joukowsky_pa(density, wave, speed)
        told.append(
            Surge(
                item=tap.item.id,
                port=tap.inlet.port,
                name=tap.name,
                run=run.id,
                velocity_m_s=speed,
                wave_m_s=wave,
                length_m=sum(length_m for _, length_m, _, _ in pieces),
                closing_s=takes,
                assumed=assumed,
                bound_pa=bound,
                rise_pa=rise_pa(bound, back_s, slow_pa_s, takes),
                static_pa=_highest(run, static),
                rating_pa=rating_pa(
                    run.tube, model.temperatures_k.get(run.id, model.temperature_k)
                ),
                back_s=back_s,
                slow_pa_s=slow_pa_s,
                tubes=tuple(one.id for one, _ in line),
            )
        )
    if not told:
        return None
    worst = max(told, key=_hit)
    return worst if _hit(worst) > 1.0 else told[0]


def warmer_surges(
    surges: tuple[Surge, ...], tubes_k: Mapping[str, float], tubes: Iterable[TubeRun]
) -> tuple[Surge, ...]:
    """The knocks against what tubes may see at the temperature [K] of what is mixed in them."""
    if not tubes_k:
        return surges
    kinds = {run.id: run.tube for run in tubes}
    return tuple(
        replace(one, rating_pa=rating_pa(kinds[one.run], tubes_k[one.run]))
        if one.run in tubes_k and one.run in kinds
        else one
        for one in surges
    )


def _hit(one: Surge) -> float:
    return one.peak_pa / one.rating_pa if one.rating_pa else 0.0


def _highest(run: TubeRun, static: Mapping[Key, float]) -> float:
    ends = [(end.item, end.port) for end in (run.a, run.b) if end is not None]
    return max((static.get(end, 0.0) for end in ends), default=0.0)


def _line_back(
    items: Mapping[str, Item], network: Network, start: Node
) -> list[tuple[TubeRun, float]]:
    """The tubes from a tap back to the nearest thing that gives way, with their lengths [m].

    An air cushion, an open tank and the venue's main send the wave back. Where there is none,
    the line to the farthest end counts.
    """
    supply, routes = network.supply, network.routes
    behind: dict[Node, tuple[Node, TubeRun | None, float]] = {}
    seen, queue = {start}, [(0.0, start)]
    last = start
    while queue:
        so_far, last = heapq.heappop(queue)
        item = items.get(last[0])
        role = item.specification.water if item is not None else None
        if last != start and isinstance(role, (Accumulator, Mains, Tank)):
            break
        for _, other, data in supply.edges(last, data=True):
            if other in seen:
                continue
            run = data.get("run")
            run = run if isinstance(run, TubeRun) else None
            step = parts.length_m(run, routes.get(run.id)) if run is not None else 0.0
            seen.add(other)
            behind[other] = last, run, step
            heapq.heappush(queue, (so_far + step, other))
    line = []
    while last != start:
        last, run, step = behind[last]
        if run is not None:
            line.append((run, step))
    return line[::-1]
