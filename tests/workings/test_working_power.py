"""Every working of the power side adds up, whatever hangs on what."""

import pytest
from analysis.random_builds import builds
from checking import all_of, check
from hypothesis import HealthCheck, given, settings
from powered_builds import powered_builds

from cartlayout.analysis import Analysis, analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.findings.power_numbers import limits_of
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem, show_plain
from cartlayout.workings.find import working
from cartlayout.workings.model import Number, Working
from cartlayout.workings.power import POWER

SAMPLES = sorted(sample_builds().glob("*.cart"))


def workings(analysis: Analysis) -> list[Working]:
    return all_of(POWER, analysis)


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sample(request: pytest.FixtureRequest) -> Analysis:
    return analyse(load(request.param))


def test_each_step_of_each_sample_adds_up(sample):
    found = workings(sample)
    assert len(found) > 40
    for one in found:
        check(one)


@settings(max_examples=30, suppress_health_check=list(HealthCheck), deadline=None)
@given(powered_builds())
def test_each_step_of_anything_plugged_into_anything_adds_up(build):
    for one in workings(analyse(build)):
        check(one)


@settings(max_examples=15, suppress_health_check=list(HealthCheck), deadline=None)
@given(builds())
def test_each_step_of_any_build_adds_up(build):
    for one in workings(analyse(build)):
        check(one)


# --- what must hold always --------------------------------------------------------------------


def limits_are_worked(analysis: Analysis) -> None:
    for number, limit in limits_of(analysis.power):
        one = working(analysis, number)
        assert one is not None, number
        assert one.result.dimension == limit.dimension
        if (
            number.subject == "wire"
            or len([1 for n, _ in limits_of(analysis.power) if n == number]) > 1
        ):
            continue
        assert one.result.si == pytest.approx(limit.value, rel=1e-9, abs=1e-12), number
        assert any(held.value.si == limit.limit for held in one.held), number
        assert all(held.holds == limit.holds for held in one.held), number


def test_each_limit_has_its_working(sample):
    limits_are_worked(sample)


@settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
@given(powered_builds())
def test_each_limit_of_anything_has_its_working(build):
    limits_are_worked(analyse(build))


def test_what_stands_on_the_circuits_board_is_the_last_line(sample):
    for circuit in sample.power.circuits:
        one = working(sample, Number("circuit", circuit.key, "total"))
        assert one is not None
        for system in UnitSystem:
            amps = circuit.amps[EVERYTHING_ON]
            assert one.result.shown(system) == f"{show_plain(amps, 'current', system)} A"


def test_symbols_lead_to_workings_of_their_own(sample):
    """A number that a symbol names is the one that was put in."""
    for one in workings(sample):
        for step in one.steps:
            for symbol in step.symbols:
                if symbol.number is not None and symbol.number.what not in ("counted", "amps"):
                    there = working(sample, symbol.number)
                    assert there is not None, symbol.number
                    assert there.result.si == pytest.approx(symbol.value.si, rel=1e-6, abs=1e-6), (
                        one.number,
                        symbol,
                    )


def test_numbers_of_findings_have_workings(sample):
    for finding in sample.findings:
        if finding.number is not None and finding.code.startswith("power."):
            one = working(sample, finding.number)
            assert one is not None, finding
            assert finding.value is not None
            assert one.result.si == pytest.approx(finding.value.si, rel=1e-9)


def test_no_number_for_what_is_not_there(sample):
    assert working(sample, Number("circuit", "nowhere", "total")) is None
    assert working(sample, Number("appliance", "nobody", "volts")) is None
    assert working(sample, Number("wire", "none", "drop")) is None
    assert working(sample, Number("power supply", "none", "surge")) is None
    assert working(sample, Number("leakage", "none", "most")) is None
    assert working(sample, Number("", "", "")) is None
    key = sample.power.circuits[0].key
    assert working(sample, Number("circuit", key, "total", "no such case")) is None
    assert working(sample, Number("circuit", key, "no such sum")) is None
