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
from collections.abc import Iterator

from .characteristic import STEEP
from .sketch import Key
from .state import Conditions, Mode, Start, State
from .system import Chain, System, Valve

MOST_ITERATIONS = 300
ENERGY_TOLERANCE_PA = 0.05
CONTINUITY_TOLERANCE = 1e-9
"""m3/s; only sizes that no cart has ever come near it."""
_DIRECT_ITERATIONS = 16
_STAGE_ITERATIONS = 20
_BOLD_ITERATIONS = 10
_CALM_ITERATIONS = 10
"""Full steps before the solver suspects that branches chase each other."""
_TRICKLE = 1e-9
"""m3/s that leak through a wall."""
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
        self.soft = 0.0
        self.bold = MOST_ITERATIONS if self.valves else _BOLD_ITERATIONS
        """Full steps taken before any is shortened."""
        self.likely = sum((chain.likely_flow for _, chain in self.chains), _LIVELY)
        self.shortened = False
        """Whether the last step fell short, so that continuity need not hold yet."""
        self.iterations = 0
        self.worst = math.inf
        if (
            start is not None
            and len(start.flows) == size
            and len(start.pressures) == self.free
            and len(start.modes) == len(self.modes)
        ):
            self.flow = list(start.flows)
            self.pressure[: self.free] = start.pressures
            self.modes = list(start.modes)
            for at, chain in enumerate(system.chains):
                if chain.tap is not None and chain.tap not in open_taps:
                    self.flow[at] = 0.0
                elif chain.tap is not None and self.flow[at] == 0.0:
                    # At rest a square loss has no slope to go by.
                    self.flow[at] = chain.likely_flow
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
        start = self._first_flows() if self.valves else []
        try:
            most = _DIRECT_ITERATIONS if self.valves else MOST_ITERATIONS
            if self._settle(most) or (self.valves and self._soften(start)):
                return self._state(True)
        except (ZeroDivisionError, OverflowError):
            pass
        return self._state(False)

    def _settle(self, most: int) -> bool:
        """Newton steps from the present flows; whether they ended in a steady state."""
        self._evaluate(self.flow)
        for step in range(1, most + 1):
            self.iterations += 1
            before, slopes = self.flow, self.slope
            self._step()
            changed, self.worst = self._judge()
            if self.worst < ENERGY_TOLERANCE_PA and not self.shortened:
                return True
            if changed and step > _CALM_ITERATIONS:
                # Branches chase each other: meet half way.
                self._evaluate([0.5 * (a + b) for a, b in zip(before, self.flow, strict=True)])
            elif step > self.bold and not changed:
                self._shorten(before, slopes)
        return False

    def _soften(self, start: list[float]) -> bool:
        """Reach the steady state by way of limiters with a resistance that is taken away again.

        Behind a large resistance no limiter can swing far, so that state is easy to find;
        each next one lies near the last. Where a step is too long it is tried in two.
        """
        self.flow = start
        self.pressure[: self.free] = [0.0] * self.free
        self.modes = ["holding"] * len(self.valves)
        self.soft, share = _SOFTEST, _SOFTENING
        self.bold = 1
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

    def _evaluate(self, flow: list[float]) -> None:
        """Take these flows, with the loss and slope of every link at them."""
        loss = [0.0] * len(flow)
        slope = [1.0] * len(flow)
        for at, chain in self.chains:
            loss[at], slope[at] = chain.curve.loss(flow[at])
        for number, (at, valve, set_pa, most) in enumerate(self.valves):
            drop, steep = _branch(valve, self.modes[number], set_pa, most, flow[at])
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
        for number, (at, valve, _, _) in enumerate(self.valves):
            behind = -change[valve.head]
            if self.modes[number] != "holding":
                behind += change[valve.tail]
            flow[at] += conductance[at] * behind
        self._evaluate(self._within_reason(flow))

    def _within_reason(self, flow: list[float]) -> list[float]:
        """Shorten a step that leads to flows no line ever carried.

        At rest a square loss has next to no slope, so a step away from rest can
        overshoot a thousandfold, and would come back by halves only.
        """
        top = max(map(abs, flow), default=0.0)
        before = max(map(abs, self.flow), default=0.0)
        most = max(self.likely, _LEAP * before)
        self.shortened = top > most
        if not self.shortened:
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
        for number, (at, valve, _, _) in enumerate(self.valves):
            # One that holds its pressure answers to what is behind it alone.
            before = 0.0 if self.modes[number] == "holding" else conductance[at]
            tail, head, g = valve.tail, valve.head, conductance[at]
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
            behind -= self.soft * flow[at]
            worst = max(worst, abs(behind - pressure[valve.head]))
            if mode != self.modes[number]:
                self.modes[number] = mode
                drop, steep = _branch(valve, mode, set_pa, most, flow[at])
                loss[at], self.slope[at] = drop + self.soft * flow[at], steep + self.soft
                changed = True
        return changed, worst

    def _shorten(self, before: list[float], slopes: list[float]) -> None:
        """Take back the part of a step that went past the lowest point along it.

        Without limiters the steady state is the lowest point of a convex function. With them
        it is not, and looking for one costs more steps than it saves while all goes well.
        """
        change = {at: self.flow[at] - before[at] for at, _ in self._left_over()}
        uphill = -sum(slopes[at] * move * move for at, move in change.items())
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

    def _uphill(self, change: dict[int, float]) -> float:
        """Slope of the function to be made least along a change of the flows."""
        return -sum(error * change[at] for at, error in self._left_over())

    def _left_over(self) -> Iterator[tuple[int, float]]:
        pressure, loss = self.pressure, self.loss
        for at, chain in self.chains:
            yield at, pressure[chain.tail] - pressure[chain.head] - loss[at]
        for number, (at, valve, _, _) in enumerate(self.valves):
            given = 0.0 if self.modes[number] == "holding" else pressure[valve.tail]
            yield at, given - pressure[valve.head] - loss[at]

    def _state(self, converged: bool) -> State:
        system = self.system
        flows: dict[Key, float] = {}
        by_root = dict(zip(system.places, self.pressure, strict=True))
        for at, chain in enumerate(system.chains):
            pressure = self.pressure[chain.tail]
            losses = _along(chain, self.flow[at], pressure - self.pressure[chain.head], flows)
            for member, loss in zip(chain.members[:-1], losses, strict=False):
                pressure -= loss
                by_root[member.end] = pressure
        for at, valve, _, _ in self.valves:
            flows[valve.key] = self.flow[at]
        pressures = {
            key: by_root[root] - head_pa for key, root, head_pa in system.heads if root in by_root
        }
        imbalance = self._imbalance()
        return State(
            converged and imbalance < CONTINUITY_TOLERANCE,
            self.iterations,
            imbalance,
            self.worst,
            flows,
            pressures,
            {valve.key: self.modes[number] for number, (_, valve, _, _) in enumerate(self.valves)},
            Start(tuple(self.flow), tuple(self.pressure[: self.free]), tuple(self.modes)),
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
        loss, slope = limiter.fall(flow)
        loss -= set_pa
    elif mode == "passing" and limiter.passing is not None:
        loss, slope = limiter.passing.loss(flow)
    else:
        loss, slope = limiter.wide_open.loss(flow)
    if flow > most:
        return loss + STEEP * (flow - most), slope + STEEP
    return loss, slope


def _choose(
    valve: Valve, set_pa: float, most: float, flow: float, before_pa: float
) -> tuple[Mode, float]:
    """The branch that governs at a flow and a pressure before, and the pressure behind."""
    held = -_branch(valve, "holding", set_pa, most, flow)[0]
    given = before_pa - _branch(valve, "wide open", set_pa, most, flow)[0]
    mode: Mode = "holding" if held <= given else "wide open"
    behind = min(held, given)
    if valve.limiter.passing is not None:
        pushed = before_pa - _branch(valve, "passing", set_pa, most, flow)[0]
        if pushed > behind:
            return "passing", pushed
    return mode, behind


def _along(
    chain: Chain,
    flow: float,
    total_pa: float,
    flows: dict[Key, float],
) -> list[float]:
    """Note the flow of everything along a chain, and share out the total of what it takes.

    Where a wall stands in the chain the losses of its members need not add up
    to the total: the wall takes what is left over.
    """
    for member in chain.members:
        flows[member.key] = flow if member.forward else -flow
    if flow == 0.0 or len(chain.members) == 1:
        return [0.0] * len(chain.members)
    losses = []
    wall = None
    for at, member in enumerate(chain.members):
        part = member.characteristic
        losses.append(part.loss(flow)[0])
        cracks = abs(flow) < _TRICKLE and (part.cracking_pa or part.cracking_back_pa)
        if cracks or not part.least < flow < part.greatest:
            wall = at
    if wall is not None:
        losses[wall] += total_pa - sum(losses)
    return losses
