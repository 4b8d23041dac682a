"""All subjects together: every number has one working, and every working can be told."""

import pytest

from cartlayout.analysis import Analysis, analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.working_lines import working_json, working_lines
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem
from cartlayout.water.results import ALL_OPEN
from cartlayout.workings.find import numbers, working
from cartlayout.workings.headlines import headlines, numbers_of
from cartlayout.workings.shown import text, told_result

SAMPLES = sorted(sample_builds().glob("*.cart"))


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sample(request: pytest.FixtureRequest) -> Analysis:
    return analyse(load(request.param))


def test_every_working_can_be_told_in_both_unit_systems(sample):
    for number in numbers(sample):
        one = working(sample, number)
        assert one is not None, number
        for system in UnitSystem:
            said = text(one, system).splitlines()
            assert said[0].endswith(told_result(one).shown(system))
            assert working_json(one, system) is not None


def test_no_number_has_two_workings(sample):
    every = list(numbers(sample))
    assert len(every) == len(set(every))
    assert len({number.subject for number in every}) > 12


def test_headlines_have_workings(sample):
    found = headlines(sample, EVERYTHING_ON, ALL_OPEN)
    assert len(found) > 8
    known = [number for number in found if working(sample, number) is not None]
    assert len(known) >= len(found) - 2


def test_numbers_of_a_thing_are_its_own(sample):
    for item in sample.build.items:
        for number in numbers_of(sample, item.id, (ALL_OPEN,)):
            assert number.of.partition(".")[0].partition("/")[0] == item.id


def test_every_finding_about_a_number_can_be_worked(sample):
    for finding in sample.findings:
        said = list(working_lines(sample, finding, UnitSystem.US))
        if finding.number is not None:
            assert len(said) > 1, finding
