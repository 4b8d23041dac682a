"""Times of remedies: everything that is found in a build with faults, and mending it.

The aim of the issue: remedies for a build with 10 findings in 1.5 s.
"""

from pathlib import Path

import pytest

from cartlayout.advice.remedies import all_remedies, mended, remedies
from cartlayout.analysis import analyse
from cartlayout.build.file import load

_SAMPLES = Path(__file__).parents[2] / "sample_builds"


@pytest.fixture
def first_try():
    """16 findings, 6 of them stops."""
    analysis = analyse(load(_SAMPLES / "market_cart_first_try.cart"))
    assert len(analysis.findings) >= 10
    list(all_remedies(analysis))  # what is read and imported once
    return analysis


def test_remedies_of_all_16_findings(benchmark, first_try) -> None:
    benchmark(lambda: list(all_remedies(first_try)))


def test_remedies_of_the_worst_finding(benchmark, first_try) -> None:
    def each() -> None:
        for finding in first_try.findings[:6]:
            list(remedies(first_try, finding))

    benchmark(each)


def test_mend(benchmark, first_try) -> None:
    benchmark(lambda: mended(first_try))
