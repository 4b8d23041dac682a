"""What a tee takes by how the water parts in it, against printed examples and a second library.

Flow of Fluids Through Valves, Fittings, and Pipe (Technical Paper 410, 2009), examples 7-35 and
7-36; the `fluids` library, which has the same chapter by another hand.
"""

import math

import fluids
import pytest
from building import build, drawn, mains, opening, point, tap, tee, tube
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import PortLoss
from cartlayout.units import UnitSystem
from cartlayout.water import ALL_OPEN
from cartlayout.water.tees import converging, diverging, is_tee, tee_ways


def other_library(start):
    """Its function whose name begins so."""
    (name,) = (one for one in dir(fluids.fittings) if one.startswith(start))
    return getattr(fluids.fittings, name)


shares = st.floats(0.001, 0.999)
bores = st.floats(0.3, 1.0)


def test_300_and_100_gallons_come_together():
    """Example 7-35: a 4 in tee, 300 gpm straight and 100 by the branch: -0.042 and 0.325."""
    loss = converging(100.0 / 400.0)
    assert loss.branch == pytest.approx(-0.042, abs=0.0005)
    assert loss.run == pytest.approx(0.325, abs=0.0005)


def test_the_run_where_400_and_250_gallons_part():
    """Example 7-36: a 6 in wye, 400 gpm straight and 250 by the branch: -0.068 along the run.

    How the branch leans has no part in what the run takes.
    """
    assert diverging(250.0 / 650.0).run == pytest.approx(-0.068, abs=0.0005)


@given(shares, bores)
def test_coming_together_as_the_other_library_has_it(share, bore):
    loss = converging(share, bore)
    flows = {"D_run": 0.01, "D_branch": 0.01 * bore, "Q_run": 1 - share, "Q_branch": share}
    other = other_library("K_branch_converging")(**flows)
    assert loss.branch == pytest.approx(other, rel=1e-6, abs=1e-9)
    assert loss.run == pytest.approx(other_library("K_run_converging")(**flows), abs=1e-9)


@given(shares, bores)
def test_parting_as_the_other_library_has_it(share, bore):
    loss = diverging(share, bore)
    flows = {"D_run": 0.01, "D_branch": 0.01 * bore, "Q_run": 1 - share, "Q_branch": share}
    other = other_library("K_branch_diverging")(angle=90.0, **flows)
    assert loss.branch == pytest.approx(other, rel=1e-6, abs=1e-9)
    assert loss.run == pytest.approx(other_library("K_run_diverging")(**flows), abs=1e-9)


# --- ways through a tee --------------------------------------------------------------------------


def half_inch(**into):
    """A tee of two 1/2 in threads, whose bore is 16.1 mm (BS 1387 medium steel tube)."""
    return tee_ways(tee("tee", connector="1/2 BSP"), into, 1000.0)


def test_ways_are_told_by_where_the_water_goes():
    """300 and 100 come by a and c and leave by b: pressures from the printed coefficients."""
    ways = {(way.start, way.end): way for way in half_inch(a=3e-4, c=1e-4, b=-4e-4)}
    velocity = 4e-4 / 2.0358e-4  # a bore of 16.1 mm is 203.58 mm2
    head_pa = 500.0 * velocity * velocity
    assert ways["a", "b"].by_share_pa == pytest.approx(0.325 * head_pa, rel=2e-3)
    assert ways["c", "b"].by_share_pa == pytest.approx(-0.0422 * head_pa, rel=2e-2)
    assert ways["c", "b"].branch
    assert not ways["a", "b"].branch
    assert ways["a", "b"].counted_pa == 0.0  # the tee of this test states no loss


@pytest.mark.parametrize(
    "into",
    [
        {},
        {"a": 0.0, "b": 0.0, "c": 0.0},
        {"c": 4e-4, "a": -3e-4, "b": -1e-4},  # all of it comes by the branch
        {"c": -4e-4, "a": 3e-4, "b": 1e-4},  # all of it leaves by the branch
        {"a": 4e-4},  # to nowhere
    ],
)
def test_what_the_formula_does_not_speak_of_is_not_told(into):
    assert half_inch(**into) == ()


def test_all_of_it_round_the_corner():
    (way,) = half_inch(a=1e-4, c=-1e-4)
    assert (way.start, way.end, way.share) == ("a", "c", 1.0)


def test_what_is_a_tee():
    made = tee("tee")
    assert is_tee(made)
    assert not is_tee(tee("manifold", 4))

    def stated(*pressures):
        losses = tuple(
            PortLoss(port=name, at=point("4 L/min", pressure))
            for name, pressure in zip("abc", pressures, strict=True)
        )
        water = replace(made.specification.water, losses=losses)
        return replace(made, specification=replace(made.specification, water=water))

    assert is_tee(stated("0.01 bar", "0.04 bar", "0.01 bar"))
    assert not is_tee(stated("0.01 bar", "0.01 bar", "0.01 bar"))  # a wye
    assert is_tee(stated("0.01 bar", "0.01 bar", "0.04 bar"))


# --- said of a tap that has nothing to spare -----------------------------------------------------


def parted(least):
    """A tap behind the branch of a tee without stated losses, beside one that draws a lot."""
    return build(
        mains("mains", "2 bar", connector="3/8 push-fit", level="base"),
        tee("tee"),
        tap("machine", drawn("0.5 L/min"), required_flow="0.5 L/min", least=least, level="base"),
        tap("rinser", opening("6 L/min", "1 bar"), required_flow="1 L/min", least="0 bar",
            level="base"),
        tube("mains", "tee.a"),
        tube("tee.b", "rinser"),
        tube("tee.c", "machine"),
    )  # fmt: skip


@pytest.mark.parametrize(("of_it", "told"), [(0.95, True), (1.05, False)])
def test_a_tap_with_less_to_spare_than_its_tee_may_take(of_it, told):
    """The tee has the bore of 6.35 mm that its tubes have."""
    water = analyse(parted("0 bar")).water
    flows = [
        water.cases[ALL_OPEN].runs[run].flow
        for run in ("tube mains tee.a", "tube tee.b rinser", "tube tee.c machine")
    ]
    heads = other_library("K_branch_diverging")(0.00635, 0.00635, flows[1], flows[2], 90.0)
    velocity = 4.0 * flows[0] / (math.pi * 0.00635**2)
    spare_pa = of_it * heads * 0.5 * 998.2 * velocity**2  # 998.2 kg/m3: IAPWS, 20 degC
    got_pa = water.tap("machine").states[ALL_OPEN].pressure_pa
    findings = analyse(parted(f"{got_pa - spare_pa:.1f} Pa")).findings
    found = [one for one in findings if one.code == "water.tees"]
    assert bool(found) == told
    for one in found:
        assert one.severity == "care"
        assert one.items == ("machine", "tee")
        assert ALL_OPEN in one.text(UnitSystem.METRIC)
        assert len(one.working) == 1
