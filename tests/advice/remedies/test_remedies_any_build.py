"""Any build at all, as people would join it or as nobody should: remedies never fail on it."""

import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from remedies_claims import check_mended, check_remedy

from cartlayout.advice.remedies import Remedy, all_remedies, mended
from cartlayout.analysis import analyse
from cartlayout.build import Build

_QUIET = list(HealthCheck)


@settings(max_examples=12, deadline=None, suppress_health_check=_QUIET)
@given(builds(most_items=7, most_runs=9))
def test_remedies_of_any_build_do_what_they_claim(build: Build) -> None:
    _claims(build)


@pytest.mark.campaign
@settings(max_examples=150, deadline=None, suppress_health_check=_QUIET)
@given(builds(most_items=9, most_runs=12))
def test_remedies_of_many_builds_do_what_they_claim(build: Build) -> None:
    _claims(build)


def _claims(build: Build) -> None:
    analysis = analyse(build)
    for step in all_remedies(analysis, most=2):
        if isinstance(step, Remedy):
            check_remedy(analysis, step)


@settings(max_examples=4, deadline=None, suppress_health_check=_QUIET)
@given(builds(most_items=5, most_runs=7))
def test_any_build_is_mended_as_far_as_it_goes(build: Build) -> None:
    analysis = analyse(build)
    check_mended(analysis, mended(analysis))
