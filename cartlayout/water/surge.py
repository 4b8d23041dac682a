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
from dataclasses import dataclass, replace

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


_GIVES_WAY = (Accumulator, Mains, Tank)


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


@dataclass(frozen=True, slots=True)
class _Piece:
    """A tube in plain numbers."""

    run: str
    length_m: float
    wave_m_s: float
    per_area: float
    """1 / m2 of its bore."""
    static_pa: float
    rating_pa: float | None


class Lines:
    """The tubes of an island, to be asked what happens when one of its taps shuts."""

    def __init__(
        self,
        items: Mapping[str, Item],
        network: Network,
        model: Model,
        static: Mapping[Key, float],
    ) -> None:
        """Take the tubes of an island.

        Args:
            items: those of the island, by id.
            network: of the whole build.
            model: of the island.
            static: pressures [Pa] at its ports with everything shut.
        """
        self._items, self._density = items, model.fluid.density_kg_m3
        self._near: dict[Node, list[tuple[Node, _Piece | None]]] = {}
        nodes = [(item.id, port.id) for item in items.values() for port in item.specification.ports]
        nodes += [(item_id, "*") for item_id in items]
        for a, b, data in network.supply.edges(nodes, data=True):
            run = data.get("run")
            piece = None
            if isinstance(run, TubeRun):
                length_m = parts.length_m(run, network.routes.get(run.id))
                temperature_k = model.temperatures_k.get(run.id, model.temperature_k)
                static_pa = max(static.get(a, 0.0), static.get(b, 0.0))
                piece = _piece(run, length_m, self._density, static_pa, temperature_k)
            self._near.setdefault(a, []).append((b, piece))
            self._near.setdefault(b, []).append((a, piece))

    def surge(self, tap: TapPlace, solved: Solved) -> Surge | None:
        """The knock of one tap; None where no tube leads to it, or it gives nothing.

        Every tube of the line back to where the wave is reflected is asked. The one that is most
        over its rating tells; the one at the valve where none is.

        Args:
            tap: the one that shuts.
            solved: the island with this tap alone open.
        """
        flow = abs(solved.high.flows.get(tap.node, 0.0))
        if not solved.high.converged or flow <= 0.0:
            return None
        line = self._line_back(tap.node)
        if not line:
            return None
        takes, assumed = closing_s(tap.inlet)
        back_s = sum(2.0 * one.length_m / one.wave_m_s for one in line)
        slow_pa_s = SLOW_PA_S2_M2 * flow * sum(one.length_m * one.per_area for one in line)
        bounds = [joukowsky_pa(self._density, one.wave_m_s, flow * one.per_area) for one in line]
        rises = [rise_pa(bound, back_s, slow_pa_s, takes) for bound in bounds]
        hits = [
            (one.static_pa + rise) / one.rating_pa if one.rating_pa else 0.0
            for one, rise in zip(line, rises, strict=True)
        ]
        worst = max(range(len(line)), key=hits.__getitem__)
        at = worst if hits[worst] > 1.0 else 0
        told = line[at]
        return Surge(
            item=tap.item.id,
            port=tap.inlet.port,
            name=tap.name,
            run=told.run,
            velocity_m_s=flow * told.per_area,
            wave_m_s=told.wave_m_s,
            length_m=sum(one.length_m for one in line),
            closing_s=takes,
            assumed=assumed,
            bound_pa=bounds[at],
            rise_pa=rises[at],
            static_pa=told.static_pa,
            rating_pa=told.rating_pa,
            back_s=back_s,
            slow_pa_s=slow_pa_s,
            tubes=tuple(one.run for one in line),
            waves_m_s=tuple(one.wave_m_s for one in line),
        )

    def _line_back(self, start: Node) -> list[_Piece]:
        """The tubes from a tap back to the nearest thing that gives way, the tap's own first.

        An air cushion, an open tank and the venue's main send the wave back. Where there is none,
        the line to the farthest end counts.
        """
        behind: dict[Node, tuple[Node, _Piece | None]] = {}
        done: set[Node] = set()
        queue: list[tuple[float, int, Node, Node, _Piece | None]] = [(0.0, 0, start, start, None)]
        last, pushed = start, 0
        while queue:
            so_far, _, node, before, piece = heapq.heappop(queue)
            if node in done:
                continue
            done.add(node)
            behind[node] = before, piece
            last = node
            item = self._items.get(node[0])
            role = item.specification.water if item is not None else None
            if node != start and isinstance(role, _GIVES_WAY):
                break
            for other, way in self._near.get(node, ()):
                if other not in done:
                    pushed += 1
                    further = so_far + (way.length_m if way is not None else 0.0)
                    heapq.heappush(queue, (further, pushed, other, node, way))
        line = []
        while last != start:
            last, piece = behind[last]
            if piece is not None:
                line.append(piece)
        return line[::-1]


def _piece(
    run: TubeRun, length_m: float, density: float, static_pa: float, temperature_k: float
) -> _Piece | None:
    bore_m = run.tube.bore.si
    if bore_m < parts.LEAST_BORE_M:
        return None
    return _Piece(
        run.id,
        length_m,
        wave_speed_m_s(run.tube, density),
        1.0 / (0.25 * math.pi * bore_m * bore_m),
        static_pa,
        rating_pa(run.tube, temperature_k),
    )


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
