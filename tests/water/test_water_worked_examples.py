"""Worked examples that handbooks print, and tables that makers of hose print."""

import math

import fluids
import pytest

from cartlayout.water.hydraulics import (
    Conditions,
    Sketch,
    System,
    at_point,
    friction_factor,
    opening,
    pipe,
    solve,
)
from cartlayout.water.properties import Fluid, water

FT = 0.3048
IN = 0.0254
PSI = 6894.757
GPM = 6.30902e-5
M3_H = 1.0 / 3600.0
G = 9.80665
LB_FT3 = 16.018463


def fluid_of(density: float, viscosity: float) -> Fluid:
    return Fluid(density, viscosity, 2339.0, 101_325.0)


def area(bore_m: float) -> float:
    return math.pi / 4.0 * bore_m**2


def flow_between(fluid: Fluid, head_m: float, *parts) -> float:
    """What flows [m3/s] through parts in a row from one water surface to a lower one."""
    sketch = Sketch(fluid)
    sketch.fix(0, head_m)
    sketch.fix(len(parts), 0.0)
    for number, part in enumerate(parts):
        if 0 < number < len(parts):
            sketch.node(number, 0.0)
        sketch.line(("part", number), number, number + 1, part)
    state = solve(System(sketch), Conditions())
    assert state.converged
    return state.flows["part", 0]


# --- friction ------------------------------------------------------------------------------------


def test_oil_in_a_rough_pipe():
    """Fluid-mechanics textbook, example 6.7: Re 128,000, e/d 0.0013: f 0.0225, read off a chart."""
    assert friction_factor(128_000.0, 0.26e-3 / 0.2) == pytest.approx(0.0225, rel=0.011)


def test_speed_from_a_given_loss():
    """The same textbook's example 6.6 turned round (Moody, 1944): 4.5 ft give 6.05 ft/s.

    Its f is 0.0198 and its Re 274,800.
    """
    bore, kinematic = 0.5 * FT, 1.1e-5 * FT * FT
    fluid = fluid_of(1000.0, 1000.0 * kinematic)
    part = pipe(fluid, 200 * FT, bore, 0.0008 * bore)
    speed = flow_between(fluid, 4.5 * FT, part) / area(bore)
    assert speed / FT == pytest.approx(6.05, rel=0.005)
    assert speed * bore / kinematic == pytest.approx(274_800, rel=0.005)
    assert friction_factor(274_800, 0.0008) == pytest.approx(0.0198, abs=5e-5)


@pytest.mark.parametrize(
    ("flow", "bore", "roughness", "factor"),
    # Textbook problem 6.18, the friction factors printed with its answers.
    [
        (62.5, 0.08, 0.24e-3, 0.0267),
        (25.9, 0.06, 0.12e-3, 0.0246),
        (11.4, 0.04, 0.20e-3, 0.0313),
    ],
)
def test_factors_of_three_parallel_pipes(flow, bore, roughness, factor):
    reynolds = 4.0 * flow * M3_H / (math.pi * bore * 1.02e-6)
    assert friction_factor(reynolds, roughness / bore) == pytest.approx(factor, rel=0.003)


def test_from_a_reservoir_through_three_inches_and_two():
    """Flow of Fluids (TP-410), example 7.19: 11.5 ft of head give 137 gal/min.

    Entrance, mitre bend, gate valve, 10 ft of 3 in, contraction, 20 ft of 2 in, exit; velocity
    heads of the fittings by the same handbook through the fluids library.
    """
    wide, narrow = 77.9e-3, 52.5e-3  # schedule 40, ASME B36.10
    fluid = fluid_of(62.364 * LB_FT3, 1.1e-3)
    rough = 0.0018 * IN
    before = fluids.fittings.entrance_sharp(method="Crane")
    before += fluids.fittings.bend_miter(Di=wide, angle=90.0, method="Crane")
    before += fluids.fittings.K_gate_valve_Crane(D1=wide, D2=wide, angle=0.0)
    behind = fluids.fittings.exit_normal()
    behind += fluids.fittings.contraction_conical_Crane(wide, narrow, l=0.0)
    flow = flow_between(
        fluid,
        11.5 * FT,
        pipe(fluid, 10 * FT, wide, rough, before),
        pipe(fluid, 20 * FT, narrow, rough, behind),
    )
    # The book rounds its bores; 2 % is what they, its chart and its rounding make.
    assert flow / GPM == pytest.approx(137, rel=0.02)


def test_what_a_pump_has_to_lift():
    """Flow of Fluids (TP-410), example 7.15: 100 gal/min, 400 ft up: 421 ft and 15.2 hp at 70 %."""
    bore, reducer = 77.9e-3, 62.7e-3
    fluid = fluid_of(62.298 * LB_FT3, 0.95e-3)
    speed = 100 * GPM / area(bore)
    reynolds = fluid.density_kg_m3 * speed * bore / fluid.viscosity_pa_s
    heads = fluids.fittings.exit_normal()
    heads += fluids.fittings.K_gate_valve_Crane(D1=bore, D2=bore, angle=0.0)
    elbow = fluids.fittings.bend_rounded(Di=bore, angle=90.0, Re=reynolds, method="Crane standard")
    heads += 4 * elbow
    heads += fluids.fittings.K_lift_check_valve_Crane(D1=reducer, D2=bore, angled=False)
    part = pipe(fluid, 500 * FT, bore, 0.0022 * IN, heads)
    total_pa = part.loss(100 * GPM)[0] + fluid.head_pa(400 * FT)
    assert total_pa / fluid.head_pa(FT) == pytest.approx(421, rel=0.003)
    assert total_pa * 100 * GPM / 0.7 / 745.7 == pytest.approx(15.2, rel=0.005)


@pytest.mark.parametrize("bore_in", [0.170, 0.250, 0.375])
@pytest.mark.parametrize("gallons", [0.5, 1.0, 1.5, 2.0])
def test_small_tubes_against_the_fluids_library(bore_in, gallons):
    """10 ft at 20 degC, drawn tube (0.0015 mm): Colebrook as the library solves it."""
    bore, flow, fluid = bore_in * IN, gallons * GPM, water(293.15)
    speed = flow / area(bore)
    reynolds = fluids.Reynolds(V=speed, D=bore, rho=fluid.density_kg_m3, mu=fluid.viscosity_pa_s)
    assert reynolds > 4000
    factor = fluids.friction.Colebrook(reynolds, 1.5e-6 / bore, tol=-1)
    expected = fluids.core.dP_from_K(
        K=fluids.core.K_from_f(fd=factor, L=10 * FT, D=bore), rho=fluid.density_kg_m3, V=speed
    )
    assert pipe(fluid, 10 * FT, bore).loss(flow)[0] == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(
    ("bore_in", "printed"),
    # Pump installation and service manual, p. 7: rubber hose, psi in 100 ft at 0.5, 1, 2, 3 gal/min
    # (of a quarter inch no more than 2).
    [
        (1 / 4, (16, 54, 180)),
        (5 / 16, (5, 20, 60, 120)),
        (3 / 8, (2, 7, 25, 50)),
        (1 / 2, (1, 2, 6, 13)),
    ],
)
def test_rubber_hose_loses_more_than_smooth_tube(bore_in, printed):
    """A table to lie beside, not to meet: hose is rougher, and it is rounded to whole psi."""
    part = pipe(water(293.15), 100 * FT, bore_in * IN)
    for gallons, psi in zip((0.5, 1, 2, 3), printed, strict=False):
        ours = part.loss(gallons * GPM)[0] / PSI
        assert psi - 0.6 < 1.45 * ours
        assert psi + 0.6 > 0.95 * ours


@pytest.mark.parametrize("gallons", [0.5, 1.0, 2.0])
def test_the_fire_services_formula_lies_below(gallons):
    """Hazen-Williams for plastic, p = 4.52 Q^1.85 / (C^1.85 d^4.87), C 150: 5 to 18 % below."""
    formula = 4.52 * gallons**1.85 / (150**1.85 * 0.25**4.87)
    ours = pipe(water(293.15), FT, 0.25 * IN).loss(gallons * GPM)[0] / PSI
    assert 0.81 < formula / ours < 0.96


# --- valves and openings -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kv", "bore", "heads", "bores"),
    # Flow of Fluids (TP-410M), examples 7.2 (globe valve, L 37.0 m) and 7.3 (angle valve).
    [(500.0, 0.154, 3.6, 240.0), (240.2, 0.0972, 2.475, 150.0)],
)
def test_a_valves_coefficient_as_velocity_heads_and_as_length(kv, bore, heads, bores):
    fluid = fluid_of(1000.0, 1e-3)
    valve = at_point(kv * M3_H, 1e5)
    flow = 3.0 * area(bore)
    lost_pa = valve.loss(flow)[0]
    assert lost_pa / (500.0 * 3.0**2) == pytest.approx(heads, rel=0.003)
    # As so many bores of pipe in which friction has become independent of the flow.
    factor = heads / bores
    roughness = 3.7 * bore * 10 ** (-0.5 / math.sqrt(factor))
    fast = 1e4 * flow
    length = pipe(fluid, bores * bore, bore, roughness)
    assert length.loss(fast)[0] == pytest.approx(valve.loss(fast)[0], rel=0.004)


def test_the_length_of_the_globe_valve():
    """The same example 7.2: 37.0 m."""
    assert pytest.approx(37.0, rel=0.002) == 240.0 * 0.154
    assert fluids.fittings.Kv_to_K(500.0, 0.154) == pytest.approx(3.6, rel=0.002)


def test_flow_coefficient_of_ten():
    """Flow coefficient calculator page: Cv 10 at 5 psi lets 22.36 gal/min through, 84.7 L/min."""
    sketch = Sketch(water(288.71))
    sketch.fix("S", 0.0, 5 * PSI)
    sketch.fix("end", 0.0)
    sketch.line("valve", "S", "end", at_point(10 * GPM, PSI))
    flow = solve(System(sketch), Conditions()).flows["valve"]
    assert flow / GPM == pytest.approx(22.36, rel=1e-3)
    assert flow * 60_000 == pytest.approx(84.7, rel=1e-3)


@pytest.mark.parametrize(("psi", "printed"), [(10, 0.20), (20, 0.28), (30, 0.346), (40, 0.40)])
def test_spray_tips(psi, printed):
    """Tip tables: 0.40 gal/min at 40 psi, 0.346 at 30, 0.28 at 20, 0.20 at 10."""
    sketch = Sketch(water(293.15))
    sketch.fix("S", 0.0, psi * PSI)
    sketch.node("tip")
    sketch.line("hose", "S", "tip", pipe(water(293.15), 0.1, 0.02))
    sketch.tap("tip", "tip", opening(0.40 * GPM, 40 * PSI))
    state = solve(System(sketch), Conditions(open_taps={"tip"}))
    assert state.flows["tip"] / GPM == pytest.approx(printed, abs=0.004)
