"""Every working of the cart as a body adds up, and statics from outside are read back from them.

Worked examples: any text-book on statics (moments about an edge, weight on a slope).
"""

import math

import building as b
import pytest
from checking import all_of, check
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace
from random_body import bodies

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Caster
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.findings.body_numbers import (
    MOVED_TILT,
    balance_number,
    foot_number,
    push_number,
    tilt_number,
)
from cartlayout.findings.number import Number
from cartlayout.units import Length, Mass, UnitSystem
from cartlayout.workings.body import BODY
from cartlayout.workings.find import working
from cartlayout.workings.model import Working
from cartlayout.workings.shown import text

SAMPLES = sorted(sample_builds().glob("*.cart"))


def workings(analysis: Analysis) -> list[Working]:
    return all_of(BODY, analysis)


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sample(request: pytest.FixtureRequest) -> Analysis:
    return analyse(load(request.param))


def test_each_step_of_each_sample_adds_up(sample):
    found = workings(sample)
    assert len(found) > 60
    for one in found:
        check(one)


@settings(max_examples=20, suppress_health_check=list(HealthCheck), deadline=None, derandomize=True)
@given(bodies())
def test_each_step_of_any_cart_adds_up(build):
    for one in workings(analyse(build)):
        check(one)


def followed(analysis: Analysis) -> None:
    """A number that a symbol names is the one that was put in, and the same to the digit."""
    for one in workings(analysis):
        for step in one.steps:
            for symbol in step.symbols:
                if symbol.number is None:
                    continue
                there = working(analysis, symbol.number)
                assert there is not None, symbol.number
                assert there.result.si == pytest.approx(symbol.value.si, rel=1e-9, abs=1e-12)


def test_symbols_lead_to_workings_of_their_own(sample):
    followed(sample)


@settings(max_examples=25, suppress_health_check=list(HealthCheck), deadline=None)
@given(bodies())
def test_symbols_of_any_cart_lead_to_workings_of_their_own(build):
    followed(analyse(build))


def findings_lead_on(analysis: Analysis) -> None:
    for finding in analysis.findings:
        if finding.number is not None and finding.number.subject in BODY:
            one = working(analysis, finding.number)
            assert one is not None, finding
            assert finding.value is not None
            assert one.result.si == pytest.approx(finding.value.si, rel=1e-9), finding
            assert one.result.dimension == finding.value.dimension


def test_numbers_of_findings_have_workings(sample):
    findings_lead_on(sample)


@settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
@given(bodies())
def test_numbers_of_any_findings_have_workings(build):
    findings_lead_on(analyse(build))


def test_no_number_for_what_is_not_there(sample):
    for subject in BODY:
        assert working(sample, Number(subject, "none", "none", "none")) is None
        assert working(sample, Number(subject, "", "none", "")) is None
    assert working(sample, foot_number(99)) is None
    assert working(sample, Number("tilt", "edge 99", "angle", "worst")) is None
    assert working(sample, Number("foot", "foot x", "load", "worst")) is None


# --- statics from outside ---------------------------------------------------------------------


def on_casters(*things, **more):
    """A cart of 100 kg with its centre 0.5 m up, on casters 1 m by 0.5 m apart."""
    casters = tuple(
        Caster(x=Length(f"{x} m"), y=Length(f"{y} m"), rating=Mass("60 kg"))
        for x in (0.1, 1.1)
        for y in (0.1, 0.6)
    )
    cart = replace(
        b.cart("1.2 m", "0.7 m"),
        casters=casters,
        empty_mass=Mass("100 kg"),
        centre_of_mass_height=Length("0.5 m"),
    )
    return analyse(b.build(*things, cart=cart, region="EU", units="metric", **more))


# Moments about the edge: 0.25 m beside it and 0.5 m up, arctan(0.25 / 0.5) = 26.57 degrees.
def test_the_lean_of_an_empty_cart():
    made = on_casters()
    tilt = next(one for one in made.body.tilts if one.edge == "front")
    one = working(made, tilt_number(made.body, tilt))
    assert one is not None
    said = text(one, UnitSystem.METRIC)
    assert "d = yₑ - y = 600 mm - 350 mm = 250 mm" in said
    assert "θ = arctan(d / z) = arctan(250 mm / 500 mm) = 26.57°, shown as 27°" in said
    assert math.isclose(one.result.si, 26.565, abs_tol=0.001)


# Two masses: 100 kg at 0.5 m and 50 kg in a body 0.254 m high on a board at 36 in (0.9144 m): its
# middle is at 1.0414 m, and (100 x 0.5 + 50 x 1.0414) / 150 = 0.6805 m.
def test_the_centre_of_two_masses():
    made = on_casters(b.item("safe", mass="50 kg", at=("0.6 m", "0.35 m")))
    one = working(made, balance_number("z", "now"))
    assert one is not None
    said = text(one, UnitSystem.METRIC)
    assert "M = m₁ · z₁ + m₂ · z₂ = 100 kg × 0.5 m + 50 kg × 1.041 m = 102.07 kg·m" in said
    assert "z = M / m = 102.07 kg·m / 150 kg = 0.6805 m = 680.5 mm" in said


# A quarter each when the centre is in the middle; with 50 kg over the right pair they bear
# 100 / 4 + 50 / 2 = 50 kg each (statics: moments about the left pair).
def test_what_casters_bear():
    middle = working(on_casters(), foot_number(0, "full"))
    assert middle is not None
    assert middle.result.si == pytest.approx(25.0)
    made = on_casters(b.item("safe", mass="50 kg", at=("1.1 m", "0.35 m")))
    right = working(made, foot_number(3, "full"))
    assert right is not None
    assert right.result.si == pytest.approx(50.0)
    said = text(right, UnitSystem.METRIC)
    assert "F = m · (a + b · x + c · y)" in said
    assert "within the limit, 60 kg" in said


# 90 kg on a slope of 5 %: the weight along it is m g s, 44 N (reported by somebody who pushes
# such a trailer; any text-book on statics).
def test_weight_along_a_slope():
    from cartlayout.body.travel import push

    assert push(90.0, "a slope", 0.05).slope_n == pytest.approx(44.1, abs=0.1)
    made = on_casters()
    one = working(made, push_number("steep", "force to keep going"))
    assert one is not None
    said = text(one, UnitSystem.METRIC)
    assert "W = m · g = 100 kg × 9.8066 m/s² = 980.66 N" in said
    assert "Fₛ = W · s = 980.66 N × 0.049938 = 48.97 N" in said


def test_as_it_is_moved_is_told_apart():
    made = on_casters(b.item("jug", mass="40 kg", at=("0.6 m", "0.1 m"), travels=False))
    standing = working(made, tilt_number(made.body, made.body.tilts[0]))
    moved = working(made, MOVED_TILT)
    assert standing is not None
    assert moved is not None
    assert moved.result.si > standing.result.si
    assert "as it is moved" in moved.title.shown(UnitSystem.METRIC)
