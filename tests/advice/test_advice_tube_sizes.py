"""Every tube that fits, tried: the pressure that comes of it against a library of friction."""

import math

import pytest
from building import build, drawn, mains, tap, tube
from fluids.friction import friction_factor
from iapws import IAPWS97

from cartlayout.advice.tube_sizes import behind, try_tubes, tube_names, with_tube
from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.limits import end_fitting, tube_row
from cartlayout.units import Pressure
from cartlayout.water.results import alone

LENGTH_M = 12.0
SUPPLY_PA = 4e5
FLOW = 4.0 / 60e3
SAME = {"least": Pressure("4 bar"), "greatest": Pressure("4 bar")}


def made() -> Build:
    return build(
        mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base", height="2 in"),
        tap(
            "tap",
            drawn("4 L/min"),
            required_flow="4 L/min",
            least="2 bar",
            greatest="5 bar",
            level="base",
        ),
        tube("mains.outlet", "tap.inlet", f"{LENGTH_M} m", run_id="line"),
    )


def test_each_tube_gives_what_the_friction_library_says():
    """Darcy and Weisbach with the Colebrook friction factor of the fluids library (exact solution
    of 1939's formula), water of IAPWS-IF97 at the venue's temperature; losses of the ends from the
    table of fittings."""
    build_ = made()
    kelvin = build_.venue.water_temperature.si
    water = IAPWS97(T=kelvin, P=0.101325)
    checked = 0
    for choice in try_tubes(analyse(build_), "line"):
        row = tube_row(choice.name)
        ends = end_fitting(choice.name, "3/8 push-fit")
        assert row is not None
        assert ends is not None
        speed = FLOW / (math.pi / 4 * row.bore.si**2)
        reynolds = speed * row.bore.si * water.rho / water.mu
        if 2000.0 <= reynolds <= 4000.0:
            continue  # between laminar and turbulent every program has its own bridge
        factor = friction_factor(Re=reynolds, eD=row.roughness.si / row.bore.si)
        heads = factor * LENGTH_M / row.bore.si + 2 * ends.loss_coefficient
        expected = SUPPLY_PA - heads * water.rho / 2 * speed**2
        if expected > 1e5:
            assert choice.velocity_m_s == pytest.approx(speed, rel=1e-4)
            assert choice.pressure_pa == pytest.approx(expected, abs=0.01 * (SUPPLY_PA - expected))
            checked += 1
    assert checked >= 4


def test_a_tap_that_falls_short_is_a_stop_and_names_the_case():
    found = {one.name: one for one in try_tubes(analyse(made()), "line")}
    thinnest = next(iter(found.values()))
    assert thinnest.verdict == "stop"
    assert thinnest.reason is not None
    assert dict(thinnest.reason.values)["case"] in (alone("tap"), "Everything open")
    assert max(one.pressure_pa for one in found.values()) > 2e5


def test_only_the_tube_that_is_there_leaves_the_build_as_it_is():
    build_ = made()
    run = build_.run("line")
    for name in tube_names(build_, run):
        changed = with_tube(build_, run, name)
        assert changed.run("line").tube.name == name
        assert with_tube(changed, changed.run("line"), name) is changed
        assert changed.items is build_.items
    assert with_tube(build_, run, "no such tube") is build_


def test_nothing_is_tried_for_what_is_no_tube_or_is_not_there():
    assert list(try_tubes(analyse(made()), "nothing")) == []
    assert behind(analyse(made()).water, "nothing") == ()
