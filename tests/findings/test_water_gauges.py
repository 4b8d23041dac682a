"""What is said of gauges.

Class 2.5 of EN 837-1: the error is 2.5 % of the full scale (from memory). The pressures of lines
at rest are hydrostatics: the mains' pressure less what the height takes.
"""

import pytest
from building import build, gauge, mains, opening, tap, tee, tube
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Reading
from cartlayout.build.edits import replace_item
from cartlayout.units import Pressure, UnitSystem
from cartlayout.water import ALL_OPEN, ALL_SHUT, alone


def line(full_scale="10 bar", *readings, **more):
    cart = build(
        mains("mains", "4 bar", connector="3/8 push-fit", level="base", height="2 in", **more),
        tee("tee"),
        gauge("gauge", full_scale),
        tap("sink", opening("6 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tube("mains", "tee.a"),
        tube("tee.c", "gauge.a", "0.1 m"),
        tube("tee.b", "sink"),
    )
    made = tuple(Reading(case, Pressure(text)) for case, text in readings)
    return replace_item(cart, replace(cart.item("gauge"), readings=made))


def said(cart, code):
    return [one for one in analyse(cart).findings if one.code == code]


def test_a_gauge_at_rest_shows_the_mains():
    state = analyse(line()).water.gauges[0]
    assert state.reading(ALL_SHUT).low_pa == pytest.approx(4e5, abs=1.0)
    assert state.reading(ALL_SHUT).high_pa == pytest.approx(4e5, abs=1.0)
    assert state.error_pa == pytest.approx(0.025 * 10e5)


def test_mains_of_unknown_pressure_give_a_range():
    wide = line(water={"least": Pressure("2 bar"), "greatest": Pressure("6 bar")})
    shown = analyse(wide).water.gauges[0].reading(alone("sink"))
    assert shown.low_pa < 2e5 < shown.high_pa < 6e5


@pytest.mark.parametrize(("text", "expected"), [("4.2 bar", 0), ("3.8 bar", 0), ("4.3 bar", 1)])
def test_a_reading_within_the_gauges_error_is_no_finding(text, expected):
    found = said(line("10 bar", (ALL_SHUT, text)), "water.gauge")
    assert len(found) == expected


def test_a_reading_that_is_off_says_by_how_much():
    found = said(line("10 bar", (ALL_SHUT, "3 bar")), "water.gauge")[0]
    assert found.severity == "care"
    assert found.items == ("gauge",)
    title = found.title.shown(UnitSystem.METRIC)
    assert title == "gauge shows 3.00 bar, 4.00 bar is expected (All shut)"
    assert "1.00 bar below" in found.detail.shown(UnitSystem.METRIC)
    assert "EN 837-1" in found.source


def test_the_worst_reading_leads_and_all_are_in_the_working():
    found = said(line("10 bar", (ALL_SHUT, "3 bar"), (alone("sink"), "0.2 bar")), "water.gauge")
    assert len(found) == 1
    assert alone("sink") in found[0].title.shown(UnitSystem.METRIC)
    assert len(found[0].working) == 2


def test_a_dial_that_ends_too_early_is_told():
    assert said(line("6 bar"), "water.gauge-scale") == []
    found = said(line("3 bar"), "water.gauge-scale")[0]
    assert (
        found.title.shown(UnitSystem.METRIC)
        == "gauge ends at 3.00 bar, the line stands at 4.00 bar"
    )


def test_a_reading_in_a_case_that_is_gone_is_kept_and_not_compared():
    state = analyse(line("10 bar", ("A case of old", "1 bar"))).water.gauges[0]
    assert state.unknown == ("A case of old",)
    assert said(line("10 bar", ("A case of old", "1 bar")), "water.gauge") == []


def test_what_is_typed_reaches_the_answer_with_an_earlier_result_and_without():
    before = line()
    first = analyse(before)
    item = before.item("gauge")
    after = replace_item(before, replace(item, readings=(Reading(ALL_SHUT, Pressure("3 bar")),)))
    again = analyse(after, first)
    assert again.water == analyse(after).water
    assert [one.code for one in again.findings] == [one.code for one in analyse(after).findings]
    assert again.water.islands[0] is first.water.islands[0]  # nothing was solved anew


def test_a_gauge_on_nothing_shows_nothing():
    state = analyse(build(gauge("gauge"))).water.gauges[0]
    assert not state.fed
    assert state.readings == ()
    assert ALL_OPEN not in {one.case for one in state.readings}
