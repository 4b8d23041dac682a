"""Every limit that a working names holds exactly where the number is on its right side."""

import pytest

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.workings.find import numbers, working

SAMPLES = sorted(sample_builds().glob("*.cart"))
_ROOM = 0.01
"""Rounding and slack of the rules; nearer to its limit than that a number is not judged here."""


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_limits_hold_where_numbers_are_on_their_right_side(path) -> None:
    analysis = analyse(load(path))
    judged = 0
    for number in numbers(analysis):
        found = working(analysis, number)
        for held in found.held if found is not None else ():
            value, limit = found.result.si, held.value.si
            if found.result.dimension != held.value.dimension:
                continue
            if abs(value - limit) <= _ROOM * max(abs(value), abs(limit)):
                continue
            if number.subject == "supply" or number.what == "cord protection":
                continue  # a need against what is given; and rules that excuse small circuits
            assert held.holds is ((value > limit) is held.is_least), (number, held)
            judged += 1
    assert judged > 20
