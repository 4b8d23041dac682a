"""Whatever a build is like: candidates come without a crash, and only copies are changed."""

import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from random_water import lines
from remedies_claims import check_remedy

from cartlayout.advice.remedies import Remedy, remedies
from cartlayout.advice.remedies.model import Candidate
from cartlayout.advice.remedies.sources import candidates, probe_of, why_none
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build
from cartlayout.build.edits import EditError
from cartlayout.build.file import decode, encode
from cartlayout.findings import Finding
from cartlayout.units import UnitSystem

_MOST = 24
_QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large]


@settings(max_examples=10, deadline=None, suppress_health_check=_QUIET)
@given(st.one_of(lines(), builds()))
def test_candidates_of_any_build_can_be_made_or_say_why_not(build: Build) -> None:
    _make_all(build)


@pytest.mark.campaign
@settings(max_examples=600, deadline=None, suppress_health_check=_QUIET)
@given(st.one_of(lines(), builds()))
def test_candidates_of_many_builds_can_be_made_or_say_why_not(build: Build) -> None:
    _make_all(build)


def _of_water(analysis: Analysis) -> list[Finding]:
    return [one for one in analysis.findings if one.code.startswith("water.")]


def _make_all(build: Build) -> None:
    analysis = analyse(build)
    text = encode(build)
    for finding in _of_water(analysis):
        probe = probe_of(analysis, finding)
        assert probe is None or probe(analysis) is not None
        assert why_none(finding).endswith(".")
        for at, candidate in enumerate(candidates(analysis, finding)):
            if at >= _MOST:
                break
            _make(analysis, candidate)
    assert encode(build) == text, "the build itself was changed"


def _make(analysis: Analysis, candidate: Candidate) -> None:
    assert candidate.title.shown(UnitSystem.US)
    try:
        made = candidate.make()
    except EditError:
        return
    assert decode(encode(made)) == made, "it does not survive a file"
    ids = [one.id for one in (*made.items, *made.runs)]
    assert len(ids) == len(set(ids)), "an id twice"
    for item_id in candidate.items:
        assert analysis.build.item(item_id) is not None


@settings(max_examples=4, deadline=None, suppress_health_check=_QUIET)
@given(lines())
def test_remedies_of_any_line_do_what_they_claim(build: Build) -> None:
    _claims(build)


@pytest.mark.campaign
@settings(max_examples=150, deadline=None, suppress_health_check=_QUIET)
@given(st.one_of(lines(), builds()))
def test_remedies_of_many_lines_do_what_they_claim(build: Build) -> None:
    _claims(build)


def _claims(build: Build) -> None:
    analysis = analyse(build)
    for finding in _of_water(analysis):
        for one in remedies(analysis, finding):
            if isinstance(one, Remedy):
                check_remedy(analysis, one)
