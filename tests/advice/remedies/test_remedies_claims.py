"""Every remedy does what it claims: on the faulty samples and on builds spoiled at random."""

import pytest
from remedies_claims import check_mended, check_remedy
from remedies_faulty import faulty, samples

from cartlayout.advice.remedies import Remedy, all_remedies, mended
from cartlayout.analysis import analyse

_ORDINARY = 10
_CAMPAIGN = 300


@pytest.mark.parametrize("build", samples(), ids=lambda build: build.name)
def test_remedies_of_samples_do_what_they_claim(build) -> None:
    analysis = analyse(build)
    for step in all_remedies(analysis):
        if isinstance(step, Remedy):
            check_remedy(analysis, step)
    check_mended(analysis, mended(analysis))


@pytest.mark.parametrize("seed", range(_ORDINARY))
def test_remedies_of_spoiled_builds_do_what_they_claim(seed: int) -> None:
    _try(seed)


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(_ORDINARY, _ORDINARY + _CAMPAIGN))
def test_remedies_of_many_spoiled_builds_do_what_they_claim(seed: int) -> None:
    _try(seed)


def _try(seed: int) -> None:
    analysis = faulty(seed, samples())
    for step in all_remedies(analysis):
        if isinstance(step, Remedy):
            check_remedy(analysis, step)
    check_mended(analysis, mended(analysis))
