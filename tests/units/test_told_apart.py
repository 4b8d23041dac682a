"""A number over its limit never reads like the limit; expected texts are worked out by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.units import Phrase, UnitSystem, Value, beside, show, show_pair

US, METRIC = UnitSystem.US, UnitSystem.METRIC

# SI value, SI limit, dimension, system, how each reads. 1 lb = 0.45359237 kg and
# 1 psi = 6894.757 Pa: NIST Special Publication 811, appendix B.8.
BY_HAND = [
    (14.7, 15.0, "angle", US, "14.7°", "15°"),
    (14.96, 15.0, "angle", US, "14.96°", "15°"),
    (15.4, 15.0, "angle", METRIC, "15.4°", "15°"),
    (12.0, 15.0, "angle", US, "12°", "15°"),
    (23.1, 23.0, "mass", US, "50.9 lb", "50.7 lb"),
    (23.1, 23.0, "mass", METRIC, "23.1 kg", "23 kg"),
    (39.97 * 6894.757, 40.0 * 6894.757, "pressure", US, "39.97 psi", "40.0 psi"),
    (20.04, 20.0, "current", US, "20.04 A", "20.0 A"),
    (1440.2, 1440.0, "power", US, "1,440.2 W", "1,440 W"),
]


@pytest.mark.parametrize(
    ("si", "limit", "dimension", "system", "value_text", "limit_text"), BY_HAND
)
def test_two_numbers_read_unlike(
    si: float, limit: float, dimension: str, system: UnitSystem, value_text: str, limit_text: str
) -> None:
    assert show(si, dimension, system, beside=limit) == value_text
    assert show(limit, dimension, system, beside=si) == limit_text


def test_a_pair_reads_unlike_and_a_full_one_reads_full() -> None:
    assert show_pair(20.04, 20.0, "current", US) == "20.04 of 20.0 A"
    assert show_pair(20.0, 20.0, "current", US) == "20.0 of 20.0 A"
    # What adding up leaves behind is no difference: 0.1 + 0.2 is not 0.3 in binary.
    assert show_pair(0.1 + 0.2, 0.3, "current", US) == "0.3 of 0.3 A"


def test_a_phrase_tells_two_numbers_apart_and_leaves_a_third() -> None:
    a, b, third = Value(14.7, "angle"), Value(15.0, "angle"), Value(14.8, "angle")
    phrase = Phrase.of("{a}, not {b}; {third} and {text}", a=a, b=b, third=third, text="15°")
    assert phrase.shown(US) == "15°, not 15°; 15° and 15°"
    assert phrase.told_apart(a, b).shown(US) == "14.7°, not 15°; 15° and 15°"
    assert beside(a, a, Value(15.0, "mass")) == a  # of another kind: nothing to tell apart


@given(
    st.sampled_from(["angle", "mass", "length", "current", "force", "power", "share"]),
    st.sampled_from(list(UnitSystem)),
    st.floats(min_value=1.0, max_value=1e4),
    st.floats(min_value=-0.05, max_value=0.05).filter(lambda share: abs(share) > 2e-3),
)
def test_whatever_differs_is_seen_to_differ(
    dimension: str, system: UnitSystem, limit: float, share: float
) -> None:
    value = limit * (1 + share)
    assert show(value, dimension, system, beside=limit) != show(
        limit, dimension, system, beside=value
    )
