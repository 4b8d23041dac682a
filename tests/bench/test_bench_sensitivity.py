"""How long it takes to try every figure that nobody has checked."""

import pytest

from cartlayout.advice.sensitivity import Search
from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds


@pytest.mark.parametrize("name", ["market_cart", "conference_hall_bar"])
def test_every_unknown_tried(benchmark, name):
    analysis = analyse(load(sample_builds() / f"{name}.cart"))
    benchmark.pedantic(lambda: list(Search(analysis)), rounds=1)
