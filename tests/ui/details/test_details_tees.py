"""A tee in Details: what it takes by how the water parts in it."""

import pytest
from building import build, drawn, mains, opening, tap, tee, tube

from cartlayout.analysis import analyse
from cartlayout.ui.details.facts import item_facts
from cartlayout.units import UnitSystem
from cartlayout.water import ALL_OPEN, ALL_SHUT, alone

LABELS = ("By the branch", "Straight on")


@pytest.fixture(scope="module")
def parted():
    return analyse(
        build(
            mains("mains", "2 bar", connector="3/8 push-fit", level="base"),
            tee("tee"),
            tap("machine", drawn("1 L/min"), required_flow="1 L/min", level="base"),
            tap("rinser", opening("6 L/min", "1 bar"), required_flow="1 L/min", level="base"),
            tube("mains", "tee.a"),
            tube("tee.b", "rinser"),
            tube("tee.c", "machine"),
        )
    )


def told(analysis, case):
    facts = item_facts(analysis, analysis.build.item("tee"), "", case, UnitSystem.METRIC)
    return {one.label: one for one in facts if one.label in LABELS}


def test_both_ways_are_told_where_water_parts(parted):
    """Technical Paper 410: a run gains where less than half leaves by the branch, and the branch
    takes at least one velocity head of the whole."""
    facts = told(parted, ALL_OPEN)
    flow = parted.water.cases[ALL_OPEN].runs["tube mains tee.a"].flow
    head_bar = 500.0 * (flow / 3.1669e-5) ** 2 / 1e5  # a bore of 6.35 mm is 31.669 mm2
    by_branch = float(facts["By the branch"].value.split(" bar")[0])
    assert head_bar <= by_branch + 0.001 <= 1.7 * head_bar
    straight = facts["Straight on"]
    assert straight.value.startswith(("-", "\u2212"))
    assert "what goes on is slower" in straight.tip
    assert "counted 0.000 bar" in straight.value  # this tee states no loss


def test_one_way_where_one_tap_is_open_and_none_at_rest(parted):
    assert set(told(parted, alone("rinser"))) == {"Straight on"}
    assert set(told(parted, alone("machine"))) == {"By the branch"}
    assert not told(parted, ALL_SHUT)
