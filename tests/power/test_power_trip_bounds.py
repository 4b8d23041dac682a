"""Trip times against the tests of the breaker standards."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.limits.breaker_times import breaker_standard, breaker_standards
from cartlayout.power.trip import trip_bound

US = breaker_standard("US")
EU = breaker_standard("EU")
MINUTE, HOUR = 60.0, 3600.0


# UL 489, calibration tests: 100 % held, 135 % within one hour (50 A and less), 200 % within two
# minutes (30 A and less).
@pytest.mark.parametrize(
    ("amps", "rating", "sooner", "latest"),
    [
        (20.0, 20.0, math.inf, math.inf),
        (15.9, 20.0, math.inf, math.inf),
        (26.0, 20.0, 0.0, math.inf),
        (27.0, 20.0, 0.0, HOUR),
        (39.0, 20.0, 0.0, HOUR),
        (40.0, 20.0, 0.0, 2 * MINUTE),
        (30.0, 15.0, 0.0, 2 * MINUTE),
        (67.5, 50.0, 0.0, HOUR),
    ],
)
def test_bounds_of_a_moulded_case_breaker(amps, rating, sooner, latest):
    bound = trip_bound(amps, rating, US)
    assert (bound.never_sooner_s, bound.at_latest_s) == (sooner, latest)


# IEC 60898-1: 1.13 In not within an hour, 1.45 In within an hour, 2.55 In between 1 s and 60 s up
# to 32 A and between 1 s and 120 s above; type B acts between 3 and 5 In, C 5 and 10, D 10 and 20.
@pytest.mark.parametrize(
    ("amps", "rating", "kind", "sooner", "latest"),
    [
        (18.08, 16.0, "B", HOUR, math.inf),
        (20.0, 16.0, "B", 1.0, math.inf),
        (23.2, 16.0, "B", 1.0, HOUR),
        (40.8, 16.0, "B", 1.0, MINUTE),
        (102.0, 40.0, "B", 1.0, 2 * MINUTE),
        (48.0, 16.0, "B", 0.1, MINUTE),
        (80.0, 16.0, "B", 0.0, 0.1),
        (80.0, 16.0, "C", 0.1, MINUTE),
        (160.0, 16.0, "C", 0.0, 0.1),
        (320.0, 16.0, "D", 0.0, 0.1),
        (40.0, 16.0, None, 1.0, HOUR),
        (64.0, 16.0, None, 0.0, MINUTE),  # it may be type B, which may act at once above 3 In
        (160.0, 16.0, None, 0.0, MINUTE),
        (320.0, 16.0, None, 0.0, 0.1),
    ],
)
def test_bounds_of_a_miniature_breaker(amps, rating, kind, sooner, latest):
    bound = trip_bound(amps, rating, EU, kind)
    assert (bound.never_sooner_s, bound.at_latest_s) == (sooner, latest)


@given(
    st.sampled_from(breaker_standards()),
    st.sampled_from([6.0, 10.0, 15.0, 16.0, 20.0, 32.0, 40.0, 63.0, 100.0, 200.0]),
    st.floats(0.0, 5000.0),
    st.floats(0.0, 500.0),
    st.sampled_from([None, "B", "C", "D"]),
)
def test_more_current_never_takes_longer(standard, rating, amps, more, kind):
    one, other = (trip_bound(a, rating, standard, kind) for a in (amps, amps + more))
    assert one.never_sooner_s <= one.at_latest_s
    assert other.never_sooner_s <= one.never_sooner_s
    assert other.at_latest_s <= one.at_latest_s


def test_every_bound_names_its_rule():
    bound = trip_bound(27.0, 20.0, US)
    assert bound.trips[0] == "trips within an hour"
    assert "UL 489" in bound.trips[1]
