"""The solver on networks whose flows somebody else printed."""

import math

import pytest

from cartlayout.water.hydraulics import (
    Characteristic,
    Conditions,
    Limiter,
    Sketch,
    System,
    drawn,
    pipe,
    solve,
)
from cartlayout.water.properties import Fluid, water

CFS = 0.028316846592
FT = 0.3048
M3_H = 1.0 / 3600.0
PSI = 6894.757
GPM = 6.30902e-5


def fluid_of(kinematic: float, density: float = 1000.0) -> Fluid:
    return Fluid(density, density * kinematic, 2339.0, 101_325.0)


def test_three_parallel_pipes():
    """Fluid-mechanics textbook, problem 6.18.

    20.3 m between two ends give 62.5, 25.9 and 11.4, together 99.8 m3/h.
    L/d is printed; its split in length, bore and roughness is from memory.
    """
    fluid = fluid_of(1.02e-6)
    sketch = Sketch(fluid)
    sketch.fix("A", 20.3)
    sketch.fix("B", 0.0)
    for name, length, bore, roughness in (
        (1, 100, 0.08, 0.24e-3),
        (2, 150, 0.06, 0.12e-3),
        (3, 80, 0.04, 0.20e-3),
    ):
        sketch.line(name, "A", "B", pipe(fluid, length, bore, roughness))
    state = solve(System(sketch), Conditions())
    assert state.converged
    flows = [state.flows[name] / M3_H for name in (1, 2, 3)]
    assert flows == pytest.approx([62.5, 25.9, 11.4], rel=0.003)
    assert sum(flows) == pytest.approx(99.8, rel=0.003)


def test_three_loops_and_two_reservoirs():
    """Lecture on the Hardy Cross method (CE 3620, 2013): pipes 2, 3, 4 carry 2.13, 2.16, 0.32 cfs.

    Losses are K Q^2 (ft, cfs); the difference of the reservoirs, 10 ft, follows from the printed
    corrections.
    """
    fluid = fluid_of(1e-6)
    sketch = Sketch(fluid)
    sketch.fix("A", 110 * FT)
    sketch.fix("B", 100 * FT)
    for node in (1, 2, 3, 4):
        sketch.node(node, 0.0)
    for name, a, b, k in (
        (1, "A", 1, 0.38),
        (2, 1, 2, 2.89),
        (3, 1, 4, 2.53),
        (4, 4, 2, 12.13),
        (5, 3, 2, 2.17),
        (6, 3, 4, 2.89),
        (7, "B", 3, 0.94),
    ):
        sketch.line(name, a, b, Characteristic(square=k * fluid.head_pa(FT) / CFS**2))
    for node, demand in ((1, 2.0), (2, 4.0), (3, 1.0), (4, 3.0)):
        sketch.tap(("demand", node), node, drawn(demand * CFS))
    state = solve(System(sketch), Conditions(open_taps=set(sketch.taps)))
    assert state.converged
    printed = {2: 2.13, 3: 2.16, 4: 0.32}
    for name, flow in printed.items():
        assert state.flows[name] / CFS == pytest.approx(flow, abs=0.01)
    # The rest is not in the printed excerpt; found with scipy and with EPANET.
    for name, flow in {1: 6.290, 5: 1.547, 6: 1.163, 7: 3.710}.items():
        assert state.flows[name] / CFS == pytest.approx(flow, abs=0.005)


class HazenWilliams:
    """h = 10.67 L Q^1.852 / (C^1.852 D^4.87), metres; as both problems print it."""

    def __init__(self, fluid: Fluid, length: float, bore: float, c: float) -> None:
        self.k = fluid.head_pa(10.67 * length / (c**1.852 * bore**4.87))

    def loss(self, flow: float) -> tuple[float, float]:
        size = abs(flow) + 1e-9
        loss = self.k * size**1.852
        return math.copysign(loss, flow), 1.852 * loss / size


def test_three_reservoirs():
    """Surge-analysis course, problem A0.49: 0.433, 0.346 and 0.087 m3/s."""
    fluid = fluid_of(1e-6)
    sketch = Sketch(fluid)
    for name, head in (("A", 200.0), ("B", 180.0), ("C", 185.0)):
        sketch.fix(name, head)
    sketch.node("J", 0.0)
    high = 1e9  # a limit that is never reached leaves the plain curve
    for a, b, length, bore, c in (
        ("A", "J", 200, 0.5, 100),
        ("J", "B", 2000, 0.5, 100),
        ("J", "C", 400, 0.2, 140),
    ):
        sketch.limiter(a + b, a, b, Limiter(HazenWilliams(fluid, length, bore, c), high))
    state = solve(System(sketch), Conditions())
    assert state.converged
    assert state.flows["AJ"] == pytest.approx(0.433, rel=0.003)
    assert state.flows["JB"] == pytest.approx(0.346, rel=0.003)
    assert state.flows["JC"] == pytest.approx(0.087, rel=0.005)  # printed to two places
    # Head at the junction, found with scipy and with EPANET.
    assert state.pressures_pa["J"] / fluid.head_pa(1.0) == pytest.approx(197.374, abs=0.01)


def test_hazen_williams_pipes_in_parallel():
    """Solved problems, ch. 11.1: 24 m over three pipes, C 120: 0.105, 0.056, 0.070 m3/s by chart.

    By the formula 0.1039, 0.0562, 0.0695.
    """
    fluid = fluid_of(1e-6)
    sketch = Sketch(fluid)
    sketch.fix("A", 24.0)
    sketch.fix("B", 0.0)
    for name, length, bore in ((1, 3000, 0.30), (2, 1300, 0.20), (3, 2600, 0.25)):
        sketch.limiter(name, "A", "B", Limiter(HazenWilliams(fluid, length, bore, 120), 1e9))
    state = solve(System(sketch), Conditions())
    assert state.converged
    flows = [state.flows[name] for name in (1, 2, 3)]
    # Reading a chart costs a per cent or so; the formula's own result is met closely.
    assert flows == pytest.approx([0.105, 0.056, 0.070], rel=0.015)
    assert flows == pytest.approx([0.1039, 0.0562, 0.0695], rel=0.002)


def test_cart_sized_tree():
    """A tree from a 40 psi source; pressures computed with EPANET and with a root finder.

    The three differ by up to 0.025 psi (Swamee-Jain against Colebrook), so 0.05 psi.
    """
    fluid = water(293.15)
    sketch = Sketch(fluid)
    sketch.fix("S", 0.0, 40 * PSI)
    for node in ("T1", "E", "T2", "R", "B"):
        sketch.node(node)
    inch = 0.0254
    for name, a, b, feet, bore in (
        (1, "S", "T1", 6, 0.250),
        (2, "T1", "E", 4, 0.170),
        (3, "T1", "T2", 3, 0.250),
        (4, "T2", "R", 3, 0.250),
        (5, "T2", "B", 5, 0.170),
    ):
        sketch.line(name, a, b, pipe(fluid, feet * FT, bore * inch, 1.5e-6))
    for node, demand in (("E", 0.5), ("R", 1.5), ("B", 0.25)):
        sketch.tap(node, node, drawn(demand * GPM))
    state = solve(System(sketch), Conditions(open_taps={"E", "R", "B"}))
    assert state.converged
    for node, psi in {"T1": 29.777, "E": 26.740, "T2": 26.507, "R": 24.018, "B": 25.363}.items():
        assert state.pressures_pa[node] / PSI == pytest.approx(psi, abs=0.05)
    assert sum(state.flows[one] for one in ("E", "R", "B")) / GPM == pytest.approx(2.25, abs=1e-4)
