"""Random networks of the kind carts have, and what a steady state must fulfil in them.

Trees and loops of 2 to 60 tubes, single or side by side; tanks, mains taps, one source or two;
pumps with switches, one behind the other or side by side; regulators in series, in parallel
and in loops; check valves, filters, hand valves; taps that take by pressure, that draw a flow,
that fill against a back pressure.
"""

import random

from cartlayout.water.hydraulics import (
    Characteristic,
    Conditions,
    Key,
    Limiter,
    PumpCurve,
    Sketch,
    State,
    System,
    at_point,
    check_valve,
    drawn,
    fill,
    line_and_square,
    opening,
    pipe,
)
from cartlayout.water.properties import water

FLUID = water(293.15)
L_MIN = 1.0 / 60_000.0
BAR = 1e5
TRICKLE = 2e-9
"""m3/s (0.12 mL/min): what a shut valve may let by at 20 bar."""
BORES = (0.0025, 0.00432, 0.006, 0.00635, 0.009, 0.0127)


class Growing:
    """A sketch, and the parts that are put into it by chance."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.sketch = Sketch(FLUID)
        self.open_taps: set[Key] = set()

    def tube(self) -> Characteristic:
        bore, chance = self.chance.choice(BORES), self.chance
        return pipe(FLUID, chance.uniform(0.05, 5), bore, 1.5e-6, chance.uniform(0, 6))

    def part(self) -> Characteristic:
        kind = self.chance.random()
        if kind < 0.08:
            return check_valve(10 * L_MIN, 2e4, self.chance.choice([0.0, 5e3]))
        if kind < 0.14:
            return line_and_square([(4 * L_MIN, 2e4), (8 * L_MIN, 6e4)], self.chance.random())
        if kind < 0.19:
            return at_point(10 * L_MIN, 5e3)
        return self.tube()

    def pump(self, before: str, node: str) -> None:
        chance = self.chance
        flow = chance.uniform(4, 20) * L_MIN
        rows = [(0.0, flow), (2 * BAR, 0.8 * flow), (5 * BAR, chance.uniform(0, 0.5) * flow)]
        limiter = Limiter(
            PumpCurve(rows), chance.uniform(1.5, 6) * BAR, passing=check_valve(flow, 3e4)
        )
        self._limiter(before, node, limiter)

    def regulator(self, before: str, node: str) -> None:
        chance = self.chance
        droop = chance.choice([0.0, 3e4 / (10 * L_MIN)])
        wide = check_valve(10 * L_MIN, 3e4)
        creep = chance.choice([0.0, 2e4])
        self._limiter(before, node, Limiter(wide, chance.uniform(0.5, 4) * BAR, droop, creep))

    def _limiter(self, before: str, node: str, limiter: Limiter) -> None:
        self.sketch.limiter(f"v{len(self.sketch.limiters)}", before, node, limiter)

    def tap(self, node: str) -> None:
        chance = self.chance
        flow, kind = chance.uniform(0.5, 12) * L_MIN, chance.random()
        if kind < 0.3:
            tap = drawn(flow)
        elif kind < 0.5:
            tap = fill(flow, chance.uniform(1, 3) * BAR, chance.choice([0.0, 5e4]))
        else:
            tap = opening(flow, chance.uniform(0.5, 4) * BAR, flow if kind < 0.65 else None)
        self.sketch.tap(f"t{len(self.sketch.taps)}", node, tap)


class RandomNetwork(Growing):
    """A network grown from a seed."""

    def __init__(self, seed: int) -> None:
        super().__init__(seed)
        chance = self.chance
        self.nodes: list[str] = []
        self.tubes = 0
        self.regulated = chance.choice([0.0, 0.05, 0.1, 0.25])
        self.looped = chance.choice([0.0, 0.0, 0.15, 0.3])
        wanted = chance.randint(2, 60)
        self._source()
        while self.tubes < wanted:
            self._grow()
        if chance.random() < 0.3:
            self._second_source()
        taps = list(self.sketch.taps)
        share = chance.choice([0.0, 0.3, 0.7, 1.0])
        self.open_taps = {tap for tap in taps if chance.random() < share}

    @property
    def system(self) -> System:
        return System(self.sketch)

    @property
    def conditions(self) -> Conditions:
        return Conditions(open_taps=self.open_taps)

    def _node(self) -> str:
        node = f"n{len(self.nodes)}"
        self.sketch.node(node, self.chance.uniform(0.0, 1.5))
        self.nodes.append(node)
        return node

    def _source(self) -> None:
        kind = self.chance.random()
        first = self._node()
        if kind < 0.4:
            self.sketch.fix("source", self.chance.uniform(0, 1), self.chance.uniform(2, 7) * BAR)
            self._line("source", first, self.tube())
        elif kind < 0.55:
            self.sketch.fix("source", self.chance.uniform(0.8, 2.0), 0.0)
            self._line("source", first, self.tube())
        else:
            self.sketch.fix("source", self.chance.uniform(0, 1), 0.0)
            self._line("source", first, self.tube())
            self.pump(first, self._node())
            if kind > 0.9:
                before = self.nodes[-1]
                self._line(before, self._node(), self.tube())
                self.pump(self.nodes[-1], self._node())
            elif kind > 0.85:
                self.pump(first, self.nodes[-1])

    def _second_source(self) -> None:
        at, chance = self.chance.choice(self.nodes[1:]), self.chance
        if chance.random() < 0.5:
            self.sketch.fix("second", chance.uniform(0, 1), chance.uniform(1, 5) * BAR)
        else:
            self.sketch.fix("second", chance.uniform(0.5, 2), 0.0)
        node = self._node()
        self._line("second", node, self.tube())
        one_way = chance.random() < 0.7
        part = check_valve(10 * L_MIN, 2e4, chance.choice([0.0, 5e3])) if one_way else self.tube()
        self._line(node, at, part)

    def _grow(self) -> None:
        chance = self.chance
        before = chance.choice(self.nodes[-6:])
        if chance.random() < self.regulated:
            self._regulators(before)
        else:
            node = self._node()
            self._line(before, node, self.part())
            if chance.random() < 0.05:
                self._line(before, node, self.part())
        if len(self.nodes) > 3 and chance.random() < self.looped:
            other = chance.choice(self.nodes[-8:-1])
            if chance.random() < 0.15:
                self.regulator(other, self.nodes[-1])
            else:
                self._line(other, self.nodes[-1], self.part())
        if chance.random() < 0.45:
            self.tap(self.nodes[-1])

    def _regulators(self, before: str) -> None:
        first = self._node()
        self.regulator(before, first)
        kind = self.chance.random()
        if kind < 0.25:
            self.regulator(before, first)
        elif kind < 0.5:
            if self.chance.random() < 0.5:
                second = self._node()
                self._line(first, second, self.tube())
                first = second
            self.regulator(first, self._node())
        self._line(self.nodes[-1], self._node(), self.tube())

    def _line(self, a: str, b: str, part: Characteristic) -> None:
        self.tubes += bool(part.tubes)
        self.sketch.line(f"l{len(self.sketch.lines)}", a, b, part)


def broken_laws(network: Growing, state: State, trickle: float = TRICKLE) -> list[str]:
    """What a state does not fulfil: continuity 1e-9 m3/s, energy 1 Pa, the way of every valve.

    Args:
        network: what was solved.
        state: the answer; every law is counted anew from it.
        trickle: what a shut valve may let by [m3/s].
    """
    sketch, flows, pressures = network.sketch, state.flows, state.pressures_pa
    broken = [] if state.converged else ["not converged"]
    left: dict[object, float] = {}
    for key, (a, b, part) in sketch.lines.items():
        flow = flows.get(key, 0.0)
        left[a] = left.get(a, 0.0) - flow
        left[b] = left.get(b, 0.0) + flow
        if a in pressures and b in pressures and key in flows:
            rise = FLUID.head_pa(sketch.heights_m[b] - sketch.heights_m[a])
            over = pressures[a] - pressures[b] - rise
            # Against a shut valve anything may stand; nothing says how two in a row share it.
            shut = abs(flow) < trickle and part.least == 0.0
            if not shut and abs(over - part.loss(flow)[0]) > 1.0:
                broken.append(f"energy along {key}: {over} against {part.loss(flow)[0]}")
            if flow < part.least - trickle:
                broken.append(f"{key} lets back {flow}")
    for key, (a, b, limiter) in sketch.limiters.items():
        flow = flows.get(key, 0.0)
        left[a] = left.get(a, 0.0) - flow
        left[b] = left.get(b, 0.0) + flow
        if a in pressures and b in pressures:
            rise = FLUID.head_pa(sketch.heights_m[b] - sketch.heights_m[a])
            broken += _limiter_laws(key, limiter, flow, pressures[a] - rise, pressures[b])
    for key, (node, part, _) in sketch.taps.items():
        flow = flows.get(key, 0.0)
        left[node] = left.get(node, 0.0) - flow
        if not -trickle < flow < part.greatest + 1e-8:
            broken.append(f"tap {key} gives {flow}")
        if key not in network.open_taps and flow:
            broken.append(f"shut tap {key} gives {flow}")
    broken += [
        f"continuity at {node}: {over}"
        for node, over in left.items()
        if abs(over) >= 1e-9 and node not in sketch.fixed_pa
    ]
    return broken


def _limiter_laws(
    key: object, limiter: Limiter, flow: float, ahead_pa: float, behind_pa: float
) -> list[str]:
    """A limiter holds its set pressure or gives all it can, whichever is less, and nothing back."""
    if flow < -TRICKLE:
        return [f"{key} lets back {flow}"]
    given = ahead_pa - limiter.wide_open.loss(max(flow, 0.0))[0]
    held = limiter.set_pa - limiter.droop * flow
    if flow < 2e-6:
        # At rest anything between nothing and its creep above the set pressure may be shut in.
        allowed = min(given, held + limiter.creep_pa)
        tight = behind_pa >= allowed - 1.0 or flow < TRICKLE
    else:
        allowed = min(given, held)
        tight = behind_pa >= min(given, held) - 2.0
    if limiter.passing is not None and flow > TRICKLE:
        pushed = ahead_pa - limiter.passing.loss(flow)[0]
        if pushed > allowed - 1.0 and abs(pushed - behind_pa) < 1.0:
            return []
    if flow > TRICKLE and behind_pa > allowed + 2.0:
        return [f"{key} stands {behind_pa} where {allowed} is allowed"]
    return [] if tight or flow < 2e-6 else [f"{key} stands {behind_pa}, less than {allowed}"]
