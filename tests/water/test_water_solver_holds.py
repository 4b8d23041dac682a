"""What must hold in every network: continuity, energy, monotony. Random trees and loops."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from random_networks import BAR, FLUID, Growing, broken_laws

from cartlayout.water.hydraulics import Conditions, State, System, solve


class Grown(Growing):
    """Trees from one source, with loops of tubes and with valves only where they are asked for."""

    def __init__(self, seed: int, most: int, loops: bool, limiters: bool) -> None:
        super().__init__(seed)
        chance, sketch = self.chance, self.sketch
        nodes = ["source"]
        pumped = limiters and chance.random() < 0.5
        sketch.fix("source", chance.uniform(0, 1), 0.0 if pumped else chance.uniform(2, 7) * BAR)
        for number in range(chance.randint(2, most)):
            node = f"n{number}"
            sketch.node(node, chance.uniform(0, 1.5))
            before = "source" if number == 0 else chance.choice(nodes[-5:])
            if number == 0 and pumped:
                self.pump(before, node)
            elif limiters and chance.random() < 0.1:
                self.regulator(before, node)
            else:
                sketch.line(node, before, node, self.part())
            nodes.append(node)
            if loops and number > 2 and chance.random() < 0.2:
                other = chance.choice(nodes[-4:-1])
                sketch.line(("loop", number), other, node, self.tube())
            if chance.random() < 0.4:
                self.tap(node)


def settled(grown: Grown, state: State, open_taps: set) -> None:
    """Continuity at every node, energy along every link, counted anew from the answer."""
    assert state.imbalance < 1e-9
    assert state.energy_error_pa < 1.0
    grown.open_taps = open_taps
    assert broken_laws(grown, state, trickle=1e-9) == []


quick = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@quick
@given(st.integers(0, 10**9), st.booleans(), st.booleans(), st.floats(0, 1))
def test_every_network_settles(seed, loops, limiters, share):
    grown = Grown(seed, 40, loops, limiters)
    system = System(grown.sketch)
    taps = list(grown.sketch.taps)
    open_taps = set(taps[: round(share * len(taps))])
    settled(grown, solve(system, Conditions(open_taps)), open_taps)


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
        settled(grown, solve(system, Conditions(taps)), taps)
