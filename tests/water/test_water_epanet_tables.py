"""Single tubes and EPANET's own first example, in both engines."""

import math
import os

import pytest

from cartlayout.water.hydraulics import (
    Conditions,
    Limiter,
    Sketch,
    System,
    drawn,
    pipe,
    solve,
)
from cartlayout.water.properties import water

pytest.importorskip("epanet", reason="owa-epanet has wheels for Linux and Python below 3.13 only")

from epanet import toolkit as en
from epanet_reference import Epanet

FLUID = water(293.15)
FT = 0.3048
IN = 0.0254
PSI = 6894.757
GPM = 6.30902e-5


@pytest.mark.parametrize(
    ("gallons", "slack"),
    # Laminar the two are one formula; between Re 2000 and 4000 each has its own guess, 13 %
    # apart at 2781; at Re 4635
    # EPANET's Swamee-Jain lies 1.4 % above Colebrook, at 9270 0.5 %.
    [(0.05, 0.002), (0.10, 0.002), (0.15, 0.15), (0.20, 0.10), (0.25, 0.016), (0.50, 0.007)],
)
def test_ten_feet_of_the_narrowest_tube(gallons, slack):
    with Epanet(FLUID) as other:
        other.fix("S", 0.0, 60 * PSI)
        other.node("end", 0.0, gallons * GPM)
        other.pipe("tube", "S", "end", 10 * FT, 0.170 * IN)
        theirs = 60 * PSI - other.solve()[0]["end"]
    ours = pipe(FLUID, 10 * FT, 0.170 * IN).loss(gallons * GPM)[0]
    assert ours == pytest.approx(theirs, rel=slack)


def test_cart_sized_tree_run_again():
    """40 psi, five tubes of 1/4 and 3/8 in, three draws: within 0.05 psi of EPANET."""
    links = (
        ("1", "S", "T1", 6, 0.250),
        ("2", "T1", "E", 4, 0.170),
        ("3", "T1", "T2", 3, 0.250),
        ("4", "T2", "R", 3, 0.250),
        ("5", "T2", "B", 5, 0.170),
    )
    draws = {"E": 0.5, "R": 1.5, "B": 0.25}
    sketch = Sketch(FLUID)
    with Epanet(FLUID) as other:
        for one in (sketch, other):
            one.fix("S", 0.0, 40 * PSI)
        for node in ("T1", "E", "T2", "R", "B"):
            sketch.node(node)
            other.node(node, 0.0, draws.get(node, 0.0) * GPM)
            if node in draws:
                sketch.tap(node, node, drawn(draws[node] * GPM))
        for name, a, b, feet, bore in links:
            sketch.line(name, a, b, pipe(FLUID, feet * FT, bore * IN))
            other.pipe(name, a, b, feet * FT, bore * IN)
        theirs, _ = other.solve()
    state = solve(System(sketch), Conditions(open_taps=set(draws)))
    for node in ("T1", "E", "T2", "R", "B"):
        assert state.pressures_pa[node] == pytest.approx(theirs[node], abs=0.05 * PSI)


# --- EPANET's example network 1 ------------------------------------------------------------------

ELEVATIONS = {10: 710, 11: 710, 12: 700, 13: 695, 21: 700, 22: 695, 23: 690, 31: 700, 32: 710}
DEMANDS = {11: 150, 12: 150, 13: 100, 21: 150, 22: 200, 23: 150, 31: 100, 32: 100}
HEADS = {9: 800, 2: 970}
PIPES = (
    # number, from, to, length in ft, bore in inches; Hazen-Williams C 100 throughout
    (10, 10, 11, 10530, 18),
    (11, 11, 12, 5280, 14),
    (12, 12, 13, 5280, 10),
    (21, 21, 22, 5280, 10),
    (22, 22, 23, 5280, 12),
    (31, 31, 32, 5280, 6),
    (110, 12, 2, 200, 18),
    (111, 11, 21, 5280, 10),
    (112, 12, 22, 5280, 12),
    (113, 13, 23, 5280, 8),
    (121, 21, 31, 5280, 8),
    (122, 22, 32, 5280, 6),
)


class HazenWilliams:
    """h = 4.727 L q^1.852 / (C^1.852 d^4.871), feet and cubic feet a second (EPANET's manual)."""

    def __init__(self, length_ft: float, bore_in: float) -> None:
        self.k = 4.727 * length_ft / (100**1.852 * (bore_in / 12) ** 4.871)

    def loss(self, flow: float) -> tuple[float, float]:
        cubic_feet = abs(flow) / FT**3 + 1e-9
        loss_pa = FLUID.head_pa(FT) * self.k * cubic_feet**1.852
        return math.copysign(loss_pa, flow), 1.852 * loss_pa / (cubic_feet * FT**3)


class OnePointPump:
    """A curve through 250 ft at 1500 gal/min: 4/3 of that at rest, nothing at twice the flow."""

    def loss(self, flow: float) -> tuple[float, float]:
        share = max(flow, 0.0) / (1500 * GPM)
        head = FLUID.head_pa(250 * FT)
        return (share * share - 4.0) / 3.0 * head, 2.0 * share / 3.0 * head / (1500 * GPM) + 1e4


def epanets_own() -> tuple[dict[int, float], dict[int, float]]:
    """Heads [ft] and flows [gal/min] at the first hour."""
    project = en.createproject()
    en.init(project, os.devnull, "", en.GPM, en.HW)
    en.setoption(project, en.ACCURACY, 1e-6)
    for node, head in HEADS.items():
        en.setnodevalue(project, en.addnode(project, str(node), en.RESERVOIR), en.ELEVATION, head)
    for node, rise in ELEVATIONS.items():
        at = en.addnode(project, str(node), en.JUNCTION)
        en.setjuncdata(project, at, rise, DEMANDS.get(node, 0), "")
    for key, a, b, length, bore in PIPES:
        at = en.addlink(project, str(key), en.PIPE, str(a), str(b))
        en.setpipedata(project, at, length, bore, 100, 0)
    pump = en.addlink(project, "9", en.PUMP, "9", "10")
    en.addcurve(project, "curve")
    en.setcurvevalue(project, en.getcurveindex(project, "curve"), 1, 1500, 250)
    en.setlinkvalue(project, pump, en.PUMP_HCURVE, en.getcurveindex(project, "curve"))
    en.openH(project)
    en.initH(project, en.NOSAVE)
    en.runH(project)
    heads = {
        node: en.getnodevalue(project, en.getnodeindex(project, str(node)), en.HEAD)
        for node in ELEVATIONS
    }
    flows = {
        key: en.getlinkvalue(project, en.getlinkindex(project, str(key)), en.FLOW)
        for key in (9, *(one[0] for one in PIPES))
    }
    en.closeH(project)
    en.deleteproject(project)
    return heads, flows


def test_epanets_first_example():
    """A pump, a tank, two loops and more: heads within 0.2 ft, flows within 2 gal/min."""
    heads, flows = epanets_own()
    sketch = Sketch(FLUID)
    for node, head in HEADS.items():
        sketch.fix(node, head * FT)
    for node, rise in ELEVATIONS.items():
        sketch.node(node, rise * FT)
        if node in DEMANDS:
            sketch.tap(("demand", node), node, drawn(DEMANDS[node] * GPM))
    high = 1e9  # a limit that is never reached leaves the plain curve
    for key, a, b, length, bore in PIPES:
        sketch.limiter(key, a, b, Limiter(HazenWilliams(length, bore), high))
    sketch.limiter(9, 9, 10, Limiter(OnePointPump(), high))
    state = solve(System(sketch), Conditions(open_taps=set(sketch.taps)))
    assert state.converged
    for node, head in heads.items():
        ours = state.pressures_pa[node] / FLUID.head_pa(FT) + ELEVATIONS[node]
        assert ours == pytest.approx(head, abs=0.2), node
    for key, flow in flows.items():
        assert state.flows[key] / GPM == pytest.approx(flow, abs=2.0), key
