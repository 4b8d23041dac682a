"""Friction against worked examples, published equations and the fluids library."""

import math

import pytest
from fluids.friction import Colebrook
from fluids.friction import friction_factor as library_friction_factor
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.water.hydraulics.friction import Tubing, colebrook, friction_factor

G = 9.80665


def test_soda_straw():
    """Fluid-mechanics textbook, problem 6.13: Re 1460, head lost 0.204 m, 9980 Pa/m."""
    tubing = Tubing(0.2, 0.002, 0.0, 1000.0, 1.307e-3)
    loss_pa, _ = tubing.loss(3e-6)
    assert loss_pa / (1000.0 * G) == pytest.approx(0.204, rel=0.005)
    assert loss_pa / 0.2 == pytest.approx(9980, rel=0.005)


def test_smooth_plastic_pipe():
    """Flow of Fluids (TP-410M), example 7.1: 50 mm, 200 L/min, 30 degC: Re 100 600, f 0.0179."""
    assert friction_factor(100_600.0, 0.0) == pytest.approx(0.0179, rel=0.01)


def test_moody_example():
    """Moody chart (1944), worked in a fluid-mechanics textbook as example 6.6.

    0.5 ft, 200 ft, 6 ft/s, e/d 0.0008: 4.5 ft lost.
    """
    ft = 0.3048
    density, kinematic = 1000.0, 1.1e-5 * ft * ft
    bore = 0.5 * ft
    tubing = Tubing(200 * ft, bore, 0.0008 * bore, density, density * kinematic)
    loss_pa, _ = tubing.loss(6 * ft * math.pi / 4 * bore**2)
    # Printed to two figures, with f read off the chart as 0.02 (Colebrook gives 0.0198).
    assert loss_pa / (density * G) / ft == pytest.approx(4.5, rel=0.015)
    # The same example printed as a pressure, 280 lbf/ft2, of water of 62.4 lb/ft3.
    assert loss_pa / 47.880 == pytest.approx(280, rel=0.015)


@pytest.mark.parametrize(
    ("bore_m", "loss_psi"),
    # Pressure loss of 100 ft PEX, plumbing design table: 1, 2 and 3 gal/min.
    # Its bores are given as 0.350 in (3/8 nominal) and 0.475 in (1/2 nominal).
    [(0.350 * 0.0254, (7.50, 26.1, 54.1)), (0.475 * 0.0254, (1.70, 5.30, 11.0))],
)
def test_published_tube_table(bore_m, loss_psi):
    for gallons, psi in zip((1, 2, 3), loss_psi, strict=True):
        tubing = Tubing(30.48, bore_m, 1.5e-6, 998.2, 1.0016e-3)
        loss_pa, _ = tubing.loss(gallons * 6.30902e-5)
        # The table is rounded and from another formula; a fifth is what such tables differ by.
        assert loss_pa / 6894.757 == pytest.approx(psi, rel=0.22)


@given(
    st.floats(4000.0, 5e6),
    st.one_of(st.just(0.0), st.floats(1e-7, 0.05)),
)
def test_turbulent_agrees_with_the_library(reynolds, roughness):
    exact = Colebrook(reynolds, roughness, tol=-1)
    assert colebrook(reynolds, roughness) == pytest.approx(exact, rel=1e-7)
    assert friction_factor(reynolds, roughness) == pytest.approx(
        library_friction_factor(reynolds, roughness, Method="Clamond"), rel=1e-6
    )


@given(st.floats(1.0, 2000.0))
def test_laminar_is_hagen_poiseuille(reynolds):
    assert friction_factor(reynolds, 0.001) == pytest.approx(64.0 / reynolds, rel=1e-12)


@given(
    st.floats(0.0, 20_000.0),
    st.floats(1e-3, 2000.0),
    st.one_of(st.just(0.0), st.floats(1e-6, 0.05)),
)
def test_loss_rises_with_flow_without_a_step(reynolds, more, roughness):
    """Through the transition too: no fold and no step that a solver could fall over."""
    tubing = Tubing(1.0, 0.006, roughness * 0.006, 998.2, 1.0016e-3)
    flow = reynolds * math.pi * 0.006 * 1.0016e-3 / (4 * 998.2)
    further = (reynolds + more) * math.pi * 0.006 * 1.0016e-3 / (4 * 998.2)
    low, slope = tubing.loss(flow)
    high, _ = tubing.loss(further)
    assert high > low
    assert slope > 0.0
    # The slope is the slope: a small step along it lands on the curve.
    step = further * 1e-7
    near, _ = tubing.loss(flow + step)
    assert near - low == pytest.approx(slope * step, rel=1e-2)


@pytest.mark.parametrize("roughness", [0.0, 3.5e-4, 0.01, 0.05])
@pytest.mark.parametrize("edge", [2000.0, 4000.0])
def test_transition_meets_both_ends(roughness, edge):
    below = friction_factor(edge * (1 - 1e-9), roughness)
    assert friction_factor(edge * (1 + 1e-9), roughness) == pytest.approx(below, rel=1e-6)
