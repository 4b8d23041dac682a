"""Lengths as they are read on a tape in inches. Expected texts are worked out by hand."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.documents.packet.comma_separated import cell_text
from cartlayout.documents.packet.content import Column
from cartlayout.units import UnitSystem, Value, show, show_plain
from cartlayout.units.display import tape_inches

US, METRIC = UnitSystem.US, UnitSystem.METRIC
INCH = 0.0254  # international inch, exact: NIST Special Publication 811, appendix B.8

BY_HAND = [
    (12.25, "12 1/4"),
    (12.0, "12"),
    (0.0, "0"),
    (0.375, "3/8"),
    (-15.5, "-15 1/2"),
    (7.3125, "7 5/16"),
    (0.03, "0"),  # nearer to no mark than to 1/16
    (-0.03, "0"),
    (23.97, "24"),  # 23 31/32 is halfway between two marks; a hair more is 24
    (300.0 / 25.4, "11 13/16"),  # 300 mm is 11.811 in; 13/16 is 0.8125
]


@pytest.mark.parametrize(("inches", "text"), BY_HAND)
def test_inches_are_read_to_the_sixteenth(inches, text):
    assert show_plain(inches * INCH, "tape", US) == text
    assert show(inches * INCH, "tape", US) == f"{text} in"


def test_in_metric_it_is_whole_millimetres():
    assert show(0.3048, "tape", METRIC) == "305 mm"


@given(st.floats(-50.0, 50.0))
def test_what_is_read_is_never_further_off_than_half_a_mark(length_m):
    text = show_plain(length_m, "tape", US)
    sign = -1 if text.startswith("-") else 1
    parts = [Fraction(part) for part in text.lstrip("-").replace(",", "").split(" ")]
    assert abs(float(sign * sum(parts)) - length_m / INCH) <= 1 / 32 + 1e-6
    assert all(part.denominator in (1, 2, 4, 8, 16) for part in parts)
    assert abs(float(sign * sum(parts)) - tape_inches(length_m)) <= 1 / 16


def test_a_length_without_end_is_shown_too():
    assert show_plain(math.inf, "tape", US) == "inf"


def test_files_have_the_same_sixteenths_as_decimals():
    """12 1/4 in is 12.25 in a file; 300 mm, 11 13/16 on a tape, is 11.8125; 305 mm stay whole."""
    column = Column("Width", "tape", "right")
    assert cell_text(Value(12.25 * INCH, "tape"), column, US) == "12.25"
    assert cell_text(Value(0.3, "tape"), column, US) == "11.8125"
    assert cell_text(Value(12 * INCH, "tape"), column, US) == "12"
    assert cell_text(Value(0.3048, "tape"), column, METRIC) == "305"
