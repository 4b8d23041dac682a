"""Trip times of earth-leakage devices, against the formula and the steps as published."""

import pytest

from cartlayout.limits import LimitsError
from cartlayout.limits.leakage_times import leakage_times


@pytest.mark.parametrize(
    ("milliamps", "seconds"),
    # UL 943, T = (20 / I)^1.43 with I in mA, worked by hand from 6 to 264 mA.
    [(6, 5.59), (20, 1.0), (100, 0.100), (264, 0.025)],
)
def test_class_a(milliamps, seconds):
    assert leakage_times("US").longest_s(milliamps / 1e3) == pytest.approx(seconds, rel=0.01)


def test_an_article_that_promises_25_ms_is_not_followed():
    # Only at 264 mA; at 6 mA 5.6 s are allowed.
    times = leakage_times("US")
    assert times.longest_s(0.264) == pytest.approx(0.025, abs=5e-4)
    assert times.longest_s(0.006) > 5.0
    assert times.longest_s(1.0) == times.longest_s(0.264)
    assert times.longest_s(0.0) is None


@pytest.mark.parametrize("region", ["UK", "EU", "AU"])
@pytest.mark.parametrize(
    ("milliamps", "seconds"),
    # RCD guidance, 30 mA, general type: 0.3 s at its rating, 0.15 s at twice, 0.04 s at five times.
    [(15, None), (29, None), (30, 0.3), (59, 0.3), (60, 0.15), (150, 0.04), (500, 0.04)],
)
def test_30_ma_devices(region, milliamps, seconds):
    assert leakage_times(region).longest_s(milliamps / 1e3) == seconds


def test_no_region_no_device():
    with pytest.raises(LimitsError, match="nowhere"):
        leakage_times("nowhere")
