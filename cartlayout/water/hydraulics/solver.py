"""Newton's method on flows and pressures together (the global gradient method).

Todini and Pilati, "A gradient algorithm for the analysis of pipe networks"
(1988): each step linearises every link about its present flow, solves the
junctions' pressures from continuity, and takes the flows that go with them.
With monotone characteristics the steady state is the lowest point of a convex
function, so a step that overshoots is shortened by looking at the slope of that
function along it. Regulators and pump switches pick their branch anew at every
step from the present pressures.
"""

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from .characteristic import STEEP
from .sketch import Key
from .system import Chain, System, Valve

Mode = Literal["holding", "wide open", "passing"]
"""Of a limiter: it holds its set pressure; it gives all it can; something pushes through it."""

MOST_ITERATIONS = 60
ENERGY_TOLERANCE_PA = 0.05
_CALM_ITERATIONS = 14
"""Full steps before the solver suspects that branches chase each other."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What is different from one case to the next."""

    open_taps: Collection[Key] = ()
    set_pa: Mapping[Key, float] = field(default_factory=dict)
    """Set pressures of limiters where not their own."""
    fixed_pa: Mapping[Key, float] = field(default_factory=dict)
    """Gauge pressures of fixed nodes where not their own."""
    most_flow: Mapping[Key, float] = field(default_factory=dict)
    """Limiters that cannot take in more than so much [m^3/s]: pumps on a starved inlet."""


@dataclass(frozen=True, slots=True)
class State:
    """A steady state."""

    converged: bool
    iterations: int
    imbalance: float
    """Largest continuity error at a junction [m^3/s]."""
    energy_error_pa: float
    """Largest pressure left over along a link."""
    flows: dict[Key, float]
    """By link, limiter and tap."""
    pressures_pa: dict[Key, float]
    """Gauge, by node; nodes that are not fed are missing."""
    modes: dict[Key, Mode]
    start: tuple[float, ...]
    """Flows to start the next, similar solution from."""


def solve(system: System, conditions: Conditions, start: tuple[float, ...] | None = None) -> State:
    """Find the steady state.

    Never raises for a system: one that does not settle comes back with
    `converged` false.

    Args:
        system: The network.
        conditions: Which taps are open, what is set.
        start: `State.start` of a similar solution of a system of the same shape.
    """
    return _Newton(system, conditions, start).run()


class _Newton:
    """One solution in the making."""

    def __init__(
        self, system: System, conditions: Conditions, start: tuple[float, ...] | None
    ) -> None:
        self.system = system
        self.free = system.free
        open_taps = conditions.open_taps
        self.chains = [
            (at, chain)
            for at, chain in enumerate(system.chains)
            if (chain.tap is None or chain.tap in open_taps) and chain.tail != chain.head
        ]
        sketch, head_pa = system.sketch, system.fluid.head_pa
        self.pressure = [0.0] * len(system.places)
        for at in range(self.free, len(system.places)):
            key = system.places[at]
            if key in sketch.heights_m:
                node = key
                gauge = conditions.fixed_pa.get(key, sketch.fixed_pa[key])
            else:
                node, gauge = system.outlet(key)
            self.pressure[at] = gauge + head_pa(sketch.heights_m[node])
        count = len(system.chains)
        self.valves = [
            (
                count + at,
                valve,
                conditions.set_pa.get(valve.key, valve.limiter.set_pa)
                + head_pa(sketch.heights_m[valve.outlet]),
                conditions.most_flow.get(valve.key, math.inf),
            )
            for at, valve in enumerate(system.valves)
        ]
        size = count + len(system.valves)
        self.modes: list[Mode] = ["holding"] * len(system.valves)
        self.loss = [0.0] * size
        self.slope = [1.0] * size
        if start is not None and len(start) == size:
            self.flow = list(start)
            for at, chain in enumerate(system.chains):
                if chain.tap is not None and chain.tap not in open_taps:
                    self.flow[at] = 0.0
        else:
            self.flow = self._first_flows()

    def _first_flows(self) -> list[float]:
        """Likely flows of the open taps, gathered towards the sources along one tree."""
        system = self.system
        count = len(system.chains)
        flow = [0.0] * len(self.loss)
        wanted = [0.0] * len(system.places)
        for at, chain in self.chains:
            if chain.tap is not None:
                flow[at] = wanted[chain.head] = chain.likely_flow
        for at, node, forward in reversed(system.spread):
            want = wanted[node]
            if want:
                link = system.chains[at] if at < count else system.valves[at - count]
                flow[at] = want if forward else -want
                wanted[link.tail if forward else link.head] += want
        return flow

    def run(self) -> State:
        """Iterate until the pressures along every link agree."""
        self._evaluate(self.flow)
        worst = float("inf")
        iteration = 0
        for iteration in range(1, MOST_ITERATIONS + 1):
            before, slopes = self.flow, self.slope
            try:
                self._step()
            except ZeroDivisionError:
                break
            changed, worst = self._judge()
            if worst < ENERGY_TOLERANCE_PA and not changed:
                return self._state(True, iteration, worst)
            if iteration > 1 and not changed:
                self._shorten(before, slopes)
            elif iteration > _CALM_ITERATIONS:
                self._move([0.5 * (old + new) for old, new in zip(before, self.flow, strict=True)])
        return self._state(False, iteration, worst)

    def _evaluate(self, flow: list[float]) -> None:
        """Take these flows, with the loss and slope of every link at them."""
        loss = [0.0] * len(flow)
        slope = [1.0] * len(flow)
        for at, chain in self.chains:
            loss[at], slope[at] = chain.curve.loss(flow[at])
        for number, (at, valve, set_pa, most) in enumerate(self.valves):
            loss[at], slope[at] = _branch(valve, self.modes[number], set_pa, most, flow[at])
        self.flow, self.loss, self.slope = flow, loss, slope

    def _step(self) -> None:
        """Solve the linearised network; leaves the new flows and pressures in place."""
        free, pressure = self.free, self.pressure
        diagonal = [0.0] * free
        right = [0.0] * free
        off = [0.0] * self.system.elimination.places
        base, conductance = self._assemble(diagonal, off, right)
        pressure[:free] = self.system.elimination.solve(diagonal, off, right)
        flow = [0.0] * len(base)
        for at, chain in self.chains:
            flow[at] = base[at] + conductance[at] * (pressure[chain.tail] - pressure[chain.head])
        for number, (at, valve, _, _) in enumerate(self.valves):
            behind = -pressure[valve.head]
            if self.modes[number] != "holding":
                behind += pressure[valve.tail]
            flow[at] = base[at] + conductance[at] * behind
        self._evaluate(flow)

    def _assemble(
        self, diagonal: list[float], off: list[float], right: list[float]
    ) -> tuple[list[float], list[float]]:
        """Continuity at every junction; a link carries base + conductance * (tail - head)."""
        free, pressure, place = self.free, self.pressure, self.system.elimination.place
        flow, loss, slope = self.flow, self.loss, self.slope
        conductance = [1.0 / one for one in slope]
        base = [q - f * g for q, f, g in zip(flow, loss, conductance, strict=True)]
        for at, chain in self.chains:
            tail, head, g, y = chain.tail, chain.head, conductance[at], base[at]
            if tail < free:
                diagonal[tail] += g
                right[tail] -= y
                if head < free:
                    off[place[tail, head]] -= g
                    off[place[head, tail]] -= g
                else:
                    right[tail] += g * pressure[head]
            if head < free:
                diagonal[head] += g
                right[head] += y
                if tail >= free:
                    right[head] += g * pressure[tail]
        self._assemble_valves(diagonal, off, right, base, conductance)
        return base, conductance

    def _assemble_valves(
        self,
        diagonal: list[float],
        off: list[float],
        right: list[float],
        base: list[float],
        conductance: list[float],
    ) -> None:
        """As for chains; one that holds its pressure carries base - conductance * head alone."""
        free, pressure, place = self.free, self.pressure, self.system.elimination.place
        for number, (at, valve, _, _) in enumerate(self.valves):
            holding = self.modes[number] == "holding"
            tail, head, g, y = valve.tail, valve.head, conductance[at], base[at]
            if tail < free:
                right[tail] -= y
                if not holding:
                    diagonal[tail] += g
                if head < free:
                    off[place[tail, head]] -= g
                else:
                    right[tail] += g * pressure[head]
            if head < free:
                diagonal[head] += g
                right[head] += y
                if not holding:
                    if tail < free:
                        off[place[head, tail]] -= g
                    else:
                        right[head] += g * pressure[tail]

    def _judge(self) -> tuple[bool, float]:
        """Whether a limiter changed its branch, and the largest pressure left over."""
        pressure, flow, loss = self.pressure, self.flow, self.loss
        worst = 0.0
        for at, chain in self.chains:
            error = abs(pressure[chain.tail] - pressure[chain.head] - loss[at])
            if error > worst:
                worst = error
        changed = False
        for number, (at, valve, set_pa, most) in enumerate(self.valves):
            mode, behind = _choose(valve, set_pa, most, flow[at], pressure[valve.tail])
            worst = max(worst, abs(behind - pressure[valve.head]))
            if mode != self.modes[number]:
                self.modes[number] = mode
                loss[at], self.slope[at] = _branch(valve, mode, set_pa, most, flow[at])
                changed = True
        return changed, worst

    def _shorten(self, before: list[float], slopes: list[float]) -> None:
        """Take back the part of a step that went past the lowest point along it."""
        ahead = 0.0
        past = 0.0
        for at, error in self._left_over():
            change = self.flow[at] - before[at]
            ahead += slopes[at] * change * change
            past -= error * change
        if past > ahead:
            share = max(ahead / (ahead + past), 0.1)
            self._move(
                [old + share * (new - old) for old, new in zip(before, self.flow, strict=True)]
            )

    def _left_over(self) -> Iterator[tuple[int, float]]:
        pressure, loss = self.pressure, self.loss
        for at, chain in self.chains:
            yield at, pressure[chain.tail] - pressure[chain.head] - loss[at]
        for number, (at, valve, _, _) in enumerate(self.valves):
            given = 0.0 if self.modes[number] == "holding" else pressure[valve.tail]
            yield at, given - pressure[valve.head] - loss[at]

    def _move(self, flow: list[float]) -> None:
        self._evaluate(flow)

    def _state(self, converged: bool, iterations: int, worst: float) -> State:
        system = self.system
        flows: dict[Key, float] = {}
        pressures: dict[Key, float] = {}
        head_pa, heights = system.fluid.head_pa, system.sketch.heights_m
        by_root: dict[Key, float] = {
            key: self.pressure[at] for at, key in enumerate(system.places) if key in heights
        }
        for at, chain in enumerate(system.chains):
            _along(chain, self.flow[at], self.pressure[chain.tail], flows, by_root)
        for at, valve, _, _ in self.valves:
            flows[valve.key] = self.flow[at]
        for key, height_m in heights.items():
            total = by_root.get(system.sketch.root(key))
            if total is not None:
                pressures[key] = total - head_pa(height_m)
        return State(
            converged,
            iterations,
            self._imbalance(),
            worst,
            flows,
            pressures,
            {valve.key: self.modes[number] for number, (_, valve, _, _) in enumerate(self.valves)},
            tuple(self.flow),
        )

    def _imbalance(self) -> float:
        left = [0.0] * len(self.pressure)
        links: list[tuple[int, Chain | Valve]] = [*self.chains]
        links += [(at, valve) for at, valve, _, _ in self.valves]
        for at, link in links:
            left[link.tail] -= self.flow[at]
            left[link.head] += self.flow[at]
        return max(map(abs, left[: self.free]), default=0.0)


def _branch(
    valve: Valve, mode: Mode, set_pa: float, most: float, flow: float
) -> tuple[float, float]:
    """A limiter's present branch in the form: given pressure - pressure behind = loss."""
    limiter = valve.limiter
    if mode == "holding":
        fall, slope = limiter.fall(flow)
        return fall - set_pa, slope
    if mode == "passing" and limiter.passing is not None:
        return limiter.passing.loss(flow)
    loss, slope = limiter.wide_open.loss(flow)
    if flow > most:
        return loss + STEEP * (flow - most), slope + STEEP
    return loss, slope


def _choose(
    valve: Valve, set_pa: float, most: float, flow: float, before_pa: float
) -> tuple[Mode, float]:
    """The branch that governs at a flow and a pressure before, and the pressure behind."""
    limiter = valve.limiter
    held = set_pa - limiter.fall(flow)[0]
    given = before_pa - _branch(valve, "wide open", set_pa, most, flow)[0]
    mode: Mode = "holding" if held <= given else "wide open"
    behind = min(held, given)
    if limiter.passing is not None:
        pushed = before_pa - limiter.passing.loss(flow)[0]
        if pushed > behind:
            return "passing", pushed
    return mode, behind


def _along(
    chain: Chain,
    flow: float,
    pressure: float,
    flows: dict[Key, float],
    by_root: dict[Key, float],
) -> None:
    """Note flow and pressure of everything along a chain."""
    for member in chain.members:
        flows[member.key] = flow if member.forward else -flow
        if member.end not in by_root and member is not chain.members[-1]:
            pressure -= member.characteristic.loss(flow)[0]
            by_root[member.end] = pressure
