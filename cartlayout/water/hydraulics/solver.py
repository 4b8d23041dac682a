"""Newton's method on flows and pressures together (the global gradient method).

Todini and Pilati, "A gradient algorithm for the analysis of pipe networks"
(1988): each step linearises every link about its present flow, solves the
junctions' pressures from continuity, and takes the flows that go with them.

Regulators and pump switches take, at every flow that is looked at, the branch that governs
there (a semismooth Newton method): behind one stands the lesser of what it holds and what it
is given. With the pressures before them as they are, everything that carries flow loses more
the more it carries, so the steady state is the lowest point of a convex function, and a step
that overshoots is shortened by looking at the slope of that function along it. That is what
keeps branches from chasing each other.

What lets nothing back, and what lets no more through, are walls. A step goes through a wall
unhindered, for the next one puts it right; a search that took it for the height it is would stop
short at every wall. Only where that goes on and on do walls count in the search, and after
that every third step goes half the way, which ends what rounds are left.
"""

import math
from collections.abc import Iterator

from .branches import standing
from .characteristic import STEEP
from .sketch import Key
from .state import Conditions, Mode, Start, State
from .system import System
from .telling import tell

MOST_ITERATIONS = 300
ENERGY_TOLERANCE_PA = 0.05
_DIRECT_ITERATIONS = 50
"""Whatever has not settled by then is softened. Of 20,000 random networks none had to be."""
_STAGE_ITERATIONS = 20
_WALLS_COUNT = 14
"""Steps before walls count in the search."""
_HALVES = 28
"""Steps before some go half the way."""
_HALF_EVERY = 3
_SEARCH = 8
"""Most tries to find the lowest point along a step."""
_LEAP = 4.0
"""Most that the greatest flow may grow by in a step."""
_LIVELY = 5e-4
"""m3/s more than the open taps are made for: no first step may lead beyond that."""
_SOFTEST = 3e10
"""Resistance [Pa*s/m^3] put behind limiters at first: a bar at 0.2 mL/min."""
_SOFTENING = 0.1
_HARDEST = 3e6
"""Resistance that changes nothing any more."""


def solve(system: System, conditions: Conditions, start: Start | None = None) -> State:
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

    def __init__(self, system: System, conditions: Conditions, start: Start | None) -> None:
        self.system = system
        self.free = system.free
        open_taps = conditions.open_taps
        self.chains = [
            (at, chain)
            for at, chain in enumerate(system.chains)
            if (chain.tap is None or chain.tap in open_taps) and chain.tail != chain.head
        ]
        self.pressure = _known_pressures(system, conditions)
        self.valves = standing(system, conditions)
        size = len(system.chains) + len(self.valves)
        self.modes: list[Mode] = ["holding"] * len(self.valves)
        self.loss = [0.0] * size
        self.slope = [1.0] * size
        self.soft = 0.0
        self.likely = sum((chain.likely_flow for _, chain in self.chains), _LIVELY)
        self.balanced = False
        """Whether the flows fulfil continuity: they do from the first whole step on."""
        self.iterations = 0
        self.worst = math.inf
        if start is not None and self._fits(start):
            self._take_up(start)
        else:
            self.flow = self._first_flows()

    def _fits(self, start: Start) -> bool:
        return (
            len(start.flows) == len(self.loss)
            and len(start.pressures) == self.free
            and len(start.modes) == len(self.modes)
        )

    def _take_up(self, start: Start) -> None:
        self.flow = list(start.flows)
        self.pressure[: self.free] = start.pressures
        self.modes = list(start.modes)
        opened = {at for at, _ in self.chains}
        for at, chain in enumerate(self.system.chains):
            if chain.tap is not None and at not in opened:
                self.flow[at] = 0.0
            elif chain.tap is not None and self.flow[at] == 0.0:
                # At rest a square loss has no slope to go by.
                self.flow[at] = chain.likely_flow

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
        settled = False
        try:
            settled = self._settle(_DIRECT_ITERATIONS if self.valves else MOST_ITERATIONS)
            if not settled and self.valves:
                settled = self._soften()
        except (ZeroDivisionError, OverflowError):
            pass
        return tell(
            self.system,
            self.flow,
            self.pressure,
            self.modes,
            settled,
            self.iterations,
            self.worst,
        )

    def _settle(self, most: int) -> bool:
        """Newton steps from the present flows; whether they ended in a steady state."""
        self._evaluate(self.flow, self.modes)
        for step in range(1, most + 1):
            self.iterations += 1
            before, slopes, balanced = self.flow, self.slope, self.balanced
            self._step()
            self.worst = max((abs(error) for _, error in self._left_over()), default=0.0)
            if self.worst < ENERGY_TOLERANCE_PA and self.balanced:
                return True
            if self.valves and step > _HALVES and step % _HALF_EVERY == 0:
                self._evaluate([0.5 * (a + b) for a, b in zip(before, self.flow, strict=True)])
            elif balanced:
                self._shorten(before, slopes, step > _WALLS_COUNT)
        return False

    def _soften(self) -> bool:
        """Reach the steady state by way of limiters with a resistance that is taken away again.

        Behind a large resistance no limiter can swing far, so that state is easy to find;
        each next one lies near the last. Where a step is too long it is tried in two.
        """
        self.flow = self._first_flows()
        self.balanced = False
        self.pressure[: self.free] = [0.0] * self.free
        self.modes = ["holding"] * len(self.valves)
        self.soft, share = _SOFTEST, _SOFTENING
        reached: tuple[float, list[float], list[float], list[Mode]] | None = None
        while self.iterations < MOST_ITERATIONS:
            if self._settle(_STAGE_ITERATIONS):
                if self.soft == 0.0:
                    return True
                reached = (self.soft, self.flow[:], self.pressure[:], self.modes[:])
            elif reached is not None:
                share = math.sqrt(share)
                self.soft, self.flow, self.pressure = reached[0], reached[1][:], reached[2][:]
                self.modes = reached[3][:]
            self.soft *= share
            if self.soft < _HARDEST:
                self.soft = 0.0
        return False

    def _evaluate(self, flow: list[float], modes: list[Mode] | None = None) -> None:
        """Take these flows, with the loss and slope of every link at them.

        Limiters take the branches given, or those that govern at these flows and the
        present pressures.
        """
        loss = [0.0] * len(flow)
        slope = [1.0] * len(flow)
        for at, chain in self.chains:
            loss[at], slope[at] = chain.curve.loss(flow[at])
        for number, valve in enumerate(self.valves):
            at = valve.at
            if modes is None:
                mode, drop, steep = valve.governing(flow[at], self.pressure[valve.tail])
                self.modes[number] = mode
            else:
                _, drop, steep = valve.branch(modes[number], flow[at])
            loss[at], slope[at] = drop + self.soft * flow[at], steep + self.soft
        self.flow, self.loss, self.slope = flow, loss, slope

    def _step(self) -> None:
        """Solve the linearised network; leaves the new flows and pressures in place.

        What is solved for is the change of the pressures, so that rounding in the
        matrix, where walls stand beside open tubes, fades from step to step.
        """
        free, pressure = self.free, self.pressure
        diagonal = [0.0] * free
        right = [0.0] * free
        off = [0.0] * self.system.elimination.places
        flow, conductance = self._assemble(diagonal, off, right)
        change = self.system.elimination.solve(diagonal, off, right)
        for at in range(free):
            pressure[at] += change[at]
        change.extend([0.0] * (len(pressure) - free))
        for at, chain in self.chains:
            flow[at] += conductance[at] * (change[chain.tail] - change[chain.head])
        for valve, mode in zip(self.valves, self.modes, strict=True):
            behind = -change[valve.head]
            if mode != "holding":
                behind += change[valve.tail]
            flow[valve.at] += conductance[valve.at] * behind
        self._evaluate(self._within_reason(flow))

    def _within_reason(self, flow: list[float]) -> list[float]:
        """Shorten a step that leads to flows no line ever carried.

        At rest a square loss has next to no slope, so a step away from rest can
        overshoot a thousandfold, and would come back by halves only.
        """
        top = max(map(abs, flow), default=0.0)
        before = max(map(abs, self.flow), default=0.0)
        most = max(self.likely, _LEAP * before)
        if top <= most:
            self.balanced = True
            return flow
        share = (most - before) / (top - before)
        return [a + share * (b - a) for a, b in zip(self.flow, flow, strict=True)]

    def _assemble(
        self, diagonal: list[float], off: list[float], right: list[float]
    ) -> tuple[list[float], list[float]]:
        """Continuity at every junction, about the flows that go with the present pressures."""
        free, place = self.free, self.system.elimination.place
        conductance = [1.0 / one for one in self.slope]
        flow = self.flow[:]
        for at, error in self._left_over():
            flow[at] += error * conductance[at]
        for at, chain in self.chains:
            tail, head, g = chain.tail, chain.head, conductance[at]
            if tail < free:
                diagonal[tail] += g
                right[tail] -= flow[at]
                if head < free:
                    off[place[tail, head]] -= g
                    off[place[head, tail]] -= g
            if head < free:
                diagonal[head] += g
                right[head] += flow[at]
        for valve, mode in zip(self.valves, self.modes, strict=True):
            at, tail, head = valve.at, valve.tail, valve.head
            g = conductance[at]
            # One that holds its pressure answers to what is behind it alone.
            before = 0.0 if mode == "holding" else g
            if tail < free:
                diagonal[tail] += before
                right[tail] -= flow[at]
                if head < free:
                    off[place[tail, head]] -= g
                    off[place[head, tail]] -= before
            if head < free:
                diagonal[head] += g
                right[head] += flow[at]
        return flow, conductance

    def _shorten(self, before: list[float], slopes: list[float], walls: bool) -> None:
        """Take back the part of a step that went past the lowest point along it.

        The convex function is that of the network with the pressures before its limiters as
        they are now; its slope along the step is what is left over times what changed.
        """
        change = [
            (at, self.flow[at] - before[at])
            for at, _ in self._left_over()
            if walls or (slopes[at] < STEEP and self.slope[at] < STEEP)
        ]
        uphill = -sum(slopes[at] * move * move for at, move in change)
        past = self._uphill(change)
        if past <= -0.5 * uphill:
            return
        low, high, low_up, high_up = 0.0, 1.0, uphill, past
        after = self.flow
        for _ in range(_SEARCH):
            share = low + (high - low) * max(low_up / (low_up - high_up), 0.05)
            self._evaluate([a + share * (b - a) for a, b in zip(before, after, strict=True)])
            here = self._uphill(change)
            if abs(here) <= -0.3 * uphill:
                return
            if here > 0.0:
                high, high_up = share, here
                low_up *= 0.5
            else:
                low, low_up = share, here
                high_up *= 0.5

    def _uphill(self, change: list[tuple[int, float]]) -> float:
        """Slope of the function to be made least along a change of the flows."""
        left_over = dict(self._left_over())
        return -sum(left_over[at] * move for at, move in change)

    def _left_over(self) -> Iterator[tuple[int, float]]:
        pressure, loss = self.pressure, self.loss
        for at, chain in self.chains:
            yield at, pressure[chain.tail] - pressure[chain.head] - loss[at]
        for valve, mode in zip(self.valves, self.modes, strict=True):
            given = 0.0 if mode == "holding" else pressure[valve.tail]
            yield valve.at, given - pressure[valve.head] - loss[valve.at]


def _known_pressures(system: System, conditions: Conditions) -> list[float]:
    """Pressures of all places, heights included; those of the free ones as nothing yet."""
    sketch, head_pa = system.sketch, system.fluid.head_pa
    pressure = [0.0] * len(system.places)
    for at in range(system.free, len(system.places)):
        key: Key = system.places[at]
        if key in sketch.heights_m:
            node = key
            gauge = conditions.fixed_pa.get(key, sketch.fixed_pa[key])
        else:
            node, gauge = system.outlet(key)
        pressure[at] = gauge + head_pa(sketch.heights_m[node])
    return pressure
