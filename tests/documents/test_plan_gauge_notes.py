"""What stands beside a gauge on the plan.

A line at rest stands at the mains' pressure (hydrostatics); class 2.5 of EN 837-1 lets a gauge of
10 bar be off by 0.25 bar (from memory).
"""

import pytest
from building import build, gauge, mains, opening, tap, tee, tube
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Reading
from cartlayout.build.edits import replace_item
from cartlayout.documents.plan.picture import PlanOptions
from cartlayout.documents.plan.scene import plan_picture
from cartlayout.units import Pressure, UnitSystem
from cartlayout.water import ALL_OPEN, ALL_SHUT, alone


def note(*readings, case=ALL_OPEN, overlays=frozenset({"water"})):
    cart = build(
        mains("mains", "4 bar", connector="3/8 push-fit", level="base", height="2 in"),
        tee("tee"),
        gauge("gauge", "10 bar"),
        tap("sink", opening("6 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tap("other", opening("6 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tee("fork"),
        tube("mains", "tee.a"),
        tube("tee.c", "gauge.a", "0.1 m"),
        tube("tee.b", "fork.a"),
        tube("fork.b", "sink"),
        tube("fork.c", "other"),
    )
    made = tuple(Reading(one, Pressure(text)) for one, text in readings)
    cart = replace_item(cart, replace(cart.item("gauge"), readings=made))
    options = PlanOptions(
        level="base", overlays=overlays, system=UnitSystem.METRIC, case=case, empty_venue=True
    )
    picture = plan_picture(cart, analyse(cart), options)
    return next((one for one in picture.notes if one.item == "gauge"), None)


def test_it_shows_all_that_the_gauge_goes_through_from_open_to_shut():
    found = note()
    low, high = found.text.removesuffix(" bar").split(" to ")
    assert float(high) == pytest.approx(4.0, abs=0.005)
    assert 0.0 < float(low) < float(high)
    assert found.state == ""


def test_in_a_case_that_is_looked_at_it_shows_that_case():
    assert " to " not in note(case=alone("sink")).text


@pytest.mark.parametrize(
    ("text", "shown", "state"),
    [("4.2 bar", "reads 4.20 bar", "ok"), ("3 bar", "reads 3.00 of 4.00 bar", "care")],
)
def test_what_was_read_stands_against_what_it_should_be(text, shown, state):
    found = note((ALL_SHUT, text), case=ALL_SHUT)
    assert (found.text, found.state) == (shown, state)


def test_without_the_water_overlay_it_says_nothing():
    assert note(overlays=frozenset({"power"})) is None
