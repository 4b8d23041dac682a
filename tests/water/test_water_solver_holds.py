"""What must hold in every network: continuity, energy, monotony. Random trees and loops."""

import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cartlayout.water.hydraulics import (
    Characteristic,
    Conditions,
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
    solve,
)
from cartlayout.water.properties import water

FLUID = water(293.15)
L_MIN = 1.0 / 60_000.0
BAR = 1e5


class Grown:
    """A random network grown from a seed, and what stands at its ends."""

    def __init__(self, seed: int, most: int, loops: bool, limiters: bool) -> None:
        self.chance = chance = random.Random(seed)
        self.sketch = sketch = Sketch(FLUID)
        self.nodes: list[object] = ["source"]
        pumped = limiters and chance.random() < 0.5
        sketch.fix("source", chance.uniform(0, 1), 0.0 if pumped else chance.uniform(2, 7) * BAR)
        for number in range(chance.randint(2, most)):
            node = f"n{number}"
            sketch.node(node, chance.uniform(0, 1.5))
            before = "source" if number == 0 else chance.choice(self.nodes[-5:])
            if number == 0 and pumped:
                self._pump(node, before)
            elif limiters and chance.random() < 0.1:
                self._regulator(node, before)
            else:
                sketch.line(node, before, node, self._part())
            self.nodes.append(node)
            if loops and number > 2 and chance.random() < 0.2:
                other = chance.choice(self.nodes[-4:-1])
                sketch.line(("loop", number), other, node, self._tube())
            if chance.random() < 0.4:
                sketch.tap(("tap", node), node, self._tap())

    def _tube(self) -> Characteristic:
        bore = self.chance.choice([0.0025, 0.00432, 0.006, 0.00635, 0.009, 0.0127])
        return pipe(FLUID, self.chance.uniform(0.05, 5), bore, 1.5e-6, self.chance.uniform(0, 6))

    def _part(self) -> Characteristic:
        kind = self.chance.random()
        if kind < 0.08:
            return check_valve(10 * L_MIN, 2e4, self.chance.choice([0.0, 5e3]))
        if kind < 0.16:
            return line_and_square([(4 * L_MIN, 2e4), (8 * L_MIN, 6e4)], self.chance.random())
        if kind < 0.22:
            return at_point(10 * L_MIN, 5e3)
        return self._tube()

    def _pump(self, node: str, before: str) -> None:
        flow = self.chance.uniform(4, 20) * L_MIN
        rows = [(0.0, flow), (2 * BAR, 0.8 * flow), (5 * BAR, self.chance.uniform(0, 0.5) * flow)]
        passing = check_valve(flow, 3e4)
        limiter = Limiter(PumpCurve(rows), self.chance.uniform(1.5, 6) * BAR, passing=passing)
        self.sketch.limiter(node, before, node, limiter)

    def _regulator(self, node: str, before: object) -> None:
        droop = self.chance.choice([0.0, 3e4 / (10 * L_MIN)])
        wide = check_valve(10 * L_MIN, 3e4)
        limiter = Limiter(wide, self.chance.uniform(0.5, 4) * BAR, droop, 2e4)
        self.sketch.limiter(node, before, node, limiter)

    def _tap(self) -> Characteristic:
        flow, kind = self.chance.uniform(0.5, 12) * L_MIN, self.chance.random()
        if kind < 0.3:
            return drawn(flow)
        if kind < 0.5:
            return fill(flow, self.chance.uniform(1, 3) * BAR, self.chance.choice([0.0, 5e4]))
        cap = flow if kind < 0.65 else None
        return opening(flow, self.chance.uniform(0.5, 4) * BAR, cap)


def settled(grown: Grown, state: State) -> None:
    """Continuity at every node, energy along every link, counted anew from the answer."""
    assert state.converged
    assert state.imbalance < 1e-9
    assert state.energy_error_pa < 1.0
    sketch = grown.sketch
    left: dict[object, float] = {}
    for key, (a, b, characteristic) in sketch.lines.items():
        flow = state.flows.get(key, 0.0)
        left[a] = left.get(a, 0.0) - flow
        left[b] = left.get(b, 0.0) + flow
        # Against a shut valve nothing says how the valves in a row share what they hold back.
        still = abs(flow) < 1e-9 and (characteristic.least == 0.0 or characteristic.greatest == 0.0)
        if a in state.pressures_pa and b in state.pressures_pa and key in state.flows and not still:
            rise = FLUID.head_pa(sketch.heights_m[b] - sketch.heights_m[a])
            lost = state.pressures_pa[a] - state.pressures_pa[b] - rise
            assert lost == pytest.approx(characteristic.loss(flow)[0], abs=1.0)
    for key, (a, b, _) in sketch.limiters.items():
        flow = state.flows.get(key, 0.0)
        left[a] = left.get(a, 0.0) - flow
        left[b] = left.get(b, 0.0) + flow
    for key, (node, characteristic, _) in sketch.taps.items():
        flow = state.flows.get(key, 0.0)
        left[node] = left.get(node, 0.0) - flow
        assert -1e-9 < flow < characteristic.greatest + 1e-8
    for node, over in left.items():
        if node != "source":
            assert abs(over) < 1e-9, node


quick = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@quick
@given(st.integers(0, 10**9), st.booleans(), st.booleans(), st.floats(0, 1))
def test_every_network_settles(seed, loops, limiters, share):
    grown = Grown(seed, 40, loops, limiters)
    system = System(grown.sketch)
    taps = list(grown.sketch.taps)
    settled(grown, solve(system, Conditions(set(taps[: round(share * len(taps))]))))


@quick
@given(st.integers(0, 10**9), st.booleans(), st.booleans())
def test_another_open_tap_never_raises_a_pressure(seed, loops, limiters):
    grown = Grown(seed, 15, loops, limiters)
    taps = list(grown.sketch.taps)
    if len(taps) < 2:
        return
    system = System(grown.sketch)
    few = solve(system, Conditions(set(taps[:-1])))
    all_open = solve(system, Conditions(set(taps)))
    assert few.converged
    assert all_open.converged
    links = [*grown.sketch.lines.items(), *grown.sketch.limiters.items()]
    moved = {
        node
        for key, (a, b, _) in links
        for node in (a, b)
        if abs(all_open.flows.get(key, 0.0)) > 1e-8
    }
    for node, pressure_pa in all_open.pressures_pa.items():
        # What is shut in between two valves is nowhere fixed.
        if node in moved:
            assert pressure_pa <= few.pressures_pa[node] + 5.0
    for tap in taps[:-1]:
        assert all_open.flows.get(tap, 0.0) <= few.flows.get(tap, 0.0) + 1e-9


@quick
@given(st.integers(0, 10**9), st.booleans(), st.booleans())
def test_a_warm_start_ends_where_a_cold_one_does(seed, loops, limiters):
    grown = Grown(seed, 15, loops, limiters)
    system = System(grown.sketch)
    taps = set(grown.sketch.taps)
    shut = solve(system, Conditions())
    cold = solve(system, Conditions(taps))
    warm = solve(system, Conditions(taps), shut.start)
    again = solve(system, Conditions(taps), cold.start)
    for one in (warm, again):
        assert one.converged
        for key, flow in cold.flows.items():
            assert one.flows[key] == pytest.approx(flow, abs=2e-8)
    assert again.iterations <= cold.iterations


@quick
@given(st.integers(0, 10**9), st.booleans())
def test_at_rest_pressure_differs_by_height_alone(seed, loops):
    grown = Grown(seed, 20, loops, limiters=False)
    state = solve(System(grown.sketch), Conditions())
    assert state.converged
    sketch = grown.sketch
    total = sketch.fixed_pa["source"] + FLUID.head_pa(sketch.heights_m["source"])
    cracking = sum(one.cracking_pa for _, _, one in sketch.lines.values())
    for node, pressure_pa in state.pressures_pa.items():
        expected = total - FLUID.head_pa(sketch.heights_m[node])
        assert expected - cracking - 1.0 <= pressure_pa <= expected + 1.0


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(2000))
def test_campaign(seed):
    grown = Grown(seed, 60, loops=seed % 2 == 0, limiters=seed % 3 > 0)
    system = System(grown.sketch)
    for taps in (set(), set(grown.sketch.taps)):
        settled(grown, solve(system, Conditions(taps)))
