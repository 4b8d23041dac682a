"""Demand factors against the code's own table and a printed example."""

import pytest

from cartlayout.limits.demand import demand_rule

US = demand_rule("US")


# NEC 220.56 (2023): 1 and 2 units 100 %, 3 90 %, 4 80 %, 5 70 %, 6 and more 65 %.
@pytest.mark.parametrize(
    ("units", "share"), [(1, 1.0), (2, 1.0), (3, 0.9), (4, 0.8), (5, 0.7), (6, 0.65), (20, 0.65)]
)
def test_factors(units, share):
    assert US.demand_w([1000.0] * units) == pytest.approx(1000 * units * share)


# The same article: never below the two largest. 5000 + 4000 + 100 W: 90 % are 8190, the two 9000.
def test_never_below_the_two_largest():
    assert US.demand_w([5000.0, 4000.0, 100.0]) == 9000.0


# A restaurant list of 107,775 VA at 65 % (electricians' forum): 70,053.75 VA, 291.9 A at 240 V.
def test_a_restaurant():
    watts = US.demand_w([107_775 / 25] * 25)
    assert watts == pytest.approx(70_053.75)
    assert watts / 240 == pytest.approx(291.9, abs=0.05)


def test_no_rule_no_relief():
    assert demand_rule("EU") is None


UK = demand_rule("UK")


# Electricians' guide reprinting the IEE tables, shops: sockets and stationary equipment 100 % of
# the largest and 75 % of the rest; thermostatic water heaters without diversity.
@pytest.mark.parametrize(
    ("watts", "demand_w"),
    [([2000], 2000), ([1000, 2000], 2750), ([400, 2000, 1000], 3050), ([], 0)],
)
def test_diversity_of_a_shop(watts, demand_w):
    assert UK.demand_w([float(one) for one in watts]) == pytest.approx(demand_w)


def test_a_water_heater_has_no_diversity():
    assert not UK.counts(3000, fastened=True, heats=True)
    assert UK.counts(400, fastened=False, heats=False)


# NEC 220.56 speaks of equipment fastened in place from 500 W on.
def test_a_loose_grinder_is_no_kitchen_equipment():
    assert not US.counts(1000, fastened=False, heats=False)
    assert not US.counts(400, fastened=True, heats=False)
    assert US.counts(500, fastened=True, heats=True)
