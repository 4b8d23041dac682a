"""Faults that are known, put back from what the gauges would show.

The check is the fault itself: a line is made with one thing wrong, its gauges are read, and the
diagnosis is given the line as drawn with nothing but the readings.
"""

import pytest
from building import (
    accumulator,
    build,
    gauge,
    mains,
    opening,
    point,
    pump,
    regulator,
    shut_off,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)
from msgspec.structs import replace

from cartlayout.advice.diagnosis import diagnose
from cartlayout.analysis import analyse
from cartlayout.build import PipeFitting, Reading
from cartlayout.build.edits import replace_item, replace_run
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.network import insert_inline, make_network
from cartlayout.network.inserting import middle_of
from cartlayout.stock import entry
from cartlayout.units import Flow, Pressure, UnitSystem
from cartlayout.water import ALL_OPEN, ALL_SHUT, alone

FRONT, BEHIND = "front gauge", "rear gauge"
ONE, OTHER = alone("sink"), alone("rinser")


def line(source="mains"):
    """A venue's tap or a pump, a valve, a gauge, a filter, a gauge, two taps."""
    if source == "mains":
        first = [mains("mains", "4 bar", connector="3/8 push-fit", level="base")]
        joins = [tube("mains", "valve.a")]
    else:
        first = [
            tank("jug"),
            pump(
                "pump",
                (("0 bar", "12 L/min"), ("2 bar", "8 L/min"), ("4.2 bar", "0.5 L/min")),
                "2.5 bar",
                "4 bar",
            ),
            accumulator("vessel"),
        ]
        joins = [
            tube("jug", "pump", "0.5 m", "12.7 mm"),
            tube("pump", "vessel.a"),
            tube("vessel.b", "valve.a"),
        ]
    return build(
        *first,
        shut_off("valve", point("10 L/min", "0.1 bar")),
        tee("tee one"),
        gauge(FRONT, "6 bar"),
        water_filter("filter", point("6 L/min", "0.5 bar")),
        tee("tee two"),
        gauge(BEHIND, "6 bar"),
        tee("tee three"),
        tap("sink", opening("6 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tap("rinser", opening("4 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        *joins,
        tube("valve.b", "tee one.a"),
        tube("tee one.c", f"{FRONT}.a", "0.1 m"),
        tube("tee one.b", "filter"),
        tube("filter", "tee two.a"),
        tube("tee two.c", f"{BEHIND}.a", "0.1 m"),
        tube("tee two.b", "tee three.a"),
        tube("tee three.b", "sink"),
        tube("tee three.c", "rinser"),
    )


def with_role(cart, item_id, **changes):
    item = cart.item(item_id)
    role = replace(item.specification.water, **changes)
    return replace_item(cart, replace(item, specification=replace(item.specification, water=role)))


def read_off(cart, truth, spots):
    """The line as drawn, with what the gauges of the true one show at some (gauge, case)."""
    water = analyse(truth).water
    for gauge_id, case in spots:
        state = next(one for one in water.gauges if one.item == gauge_id)
        shown = state.reading(case)
        item = cart.item(gauge_id)
        middle_pa = 0.5 * (shown.low_pa + shown.high_pa)
        reading = Reading(case, Pressure.from_si(middle_pa, "bar", 2))  # as one reads a dial
        cart = replace_item(cart, replace(item, readings=(*item.readings, reading)))
    return cart


ALL = tuple((one, case) for one in (FRONT, BEHIND) for case in (ALL_SHUT, ONE, OTHER, ALL_OPEN))


def test_a_line_as_it_is_drawn_has_nothing_to_explain():
    cart = line()
    found = diagnose(analyse(read_off(cart, cart, ALL)))
    assert found.off == 0
    assert found.causes == ()


def test_a_used_filter_is_found():
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    found = diagnose(analyse(read_off(cart, truth, ALL)))
    best = found.causes[0]
    assert (best.kind, best.items) == ("filter used up", ("filter",))
    assert best.explains_all
    taken = best.build.item("filter").specification.water
    assert taken.used == pytest.approx(0.8, abs=0.06)  # two decimals of a bar on the dial
    assert "used up" in best.words.shown(UnitSystem.METRIC)


def test_a_clogged_filter_is_found_and_how_much_it_takes():
    """It takes five times what a new one does: ln 5 is 1.609."""
    cart = line()
    truth = with_role(cart, "filter", loss=(point("6 L/min", "2.5 bar"),))
    best = diagnose(analyse(read_off(cart, truth, ALL))).causes[0]
    assert best.kind == "filter used up"
    assert best.value == pytest.approx(1.609, abs=0.03)
    assert "clogged" in best.words.shown(UnitSystem.METRIC)
    # A filter with the loss of the true one, whatever is said of how that came about.
    for state in analyse(best.build).water.gauges:
        assert not any(state.is_off(one) for one in state.readings)


def test_one_reading_of_one_gauge_leaves_it_open():
    """Anything that takes pressure before it explains one low needle."""
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    found = diagnose(analyse(read_off(cart, truth, ((BEHIND, ALL_OPEN),))))
    assert not found.tellable
    kinds = {one.kind for one in found.likely}
    assert {"filter used up", "tube pinched", "mains different", "valve not open"} <= kinds
    # The other gauge, before the filter, would tell the filter from what comes before it.
    assert found.further[0].gauge == FRONT
    assert found.further[0].told >= 1


def test_tubes_that_no_gauge_lies_between_are_one_cause():
    cart = line()
    kinked = replace_run(
        cart,
        replace(cart.run("tube filter tee two.a"), fittings=(PipeFitting("kink", 400.0),)),
    )
    found = diagnose(analyse(read_off(cart, kinked, ALL)))
    pinched = [one for one in found.causes if one.kind == "tube pinched" and one.explains_all]
    assert len(pinched) == 1
    assert set(pinched[0].runs) == {"tube filter tee two.a", "tube tee one.b filter"}
    heads = next(
        one.loss_coefficient
        for one in pinched[0].build.run(pinched[0].runs[0]).fittings
        if one.name == "pinched place"
    )
    assert heads == pytest.approx(400.0, rel=0.1)
    # Whether it is the filter or a tube beside it no gauge of this line can say; one between could.
    assert "filter used up" in {one.kind for one in found.likely}
    assert found.further[0].gauge == ""
    assert found.further[0].node in {("filter", "inlet"), ("filter", "outlet")}


def test_tubes_that_a_gauge_lies_between_are_causes_of_their_own():
    """By where the gauges hang: the front one lies between the valve and the filter, and nothing
    lies between the two tubes before it, nor between the two beside the filter.
    """
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    found = diagnose(analyse(read_off(cart, truth, ((BEHIND, ALL_OPEN),))))
    pinched = {frozenset(one.runs) for one in found.causes if one.kind == "tube pinched"}
    assert frozenset({"tube mains valve.a", "tube valve.b tee one.a"}) in pinched
    assert frozenset({"tube tee one.b filter", "tube filter tee two.a"}) in pinched


def test_a_dial_that_may_be_off_by_more_than_the_line_tells_nothing():
    """Class 2.5 of EN 837-1, from memory: a dial of 400 bar may be off by 10 bar; mains give 4."""
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    for full_scale, tells in (("6 bar", True), ("400 bar", False)):
        coarse = with_role(cart, FRONT, full_scale=Pressure(full_scale))
        found = diagnose(analyse(read_off(coarse, truth, ((BEHIND, ALL_OPEN),))))
        assert any(one.gauge == FRONT for one in found.further) is tells


def test_lower_mains_are_told_from_everything_that_resists():
    """With everything shut nothing resists, so the needle at rest gives the mains away."""
    cart = line()
    truth = with_role(cart, "mains", usual=Pressure("2.6 bar"))
    found = diagnose(analyse(read_off(cart, truth, ALL)))
    assert found.tellable
    assert found.causes[0].kind == "mains different"
    assert found.causes[0].value == pytest.approx(2.6e5, abs=0.02e5)


def test_a_valve_that_is_not_open_is_found():
    cart = line()
    truth = with_role(cart, "valve", closed_share=0.7)
    found = diagnose(analyse(read_off(cart, truth, ALL)))
    valve = next(one for one in found.likely if one.kind == "valve not open")
    assert valve.explains_all
    assert valve.value == pytest.approx(0.7, abs=0.02)
    assert "filter used up" not in {one.kind for one in found.likely}


def test_a_moved_pump_switch_is_found():
    cart = line("pump")
    truth = with_role(cart, "pump", cut_in=Pressure("1.5 bar"), cut_out=Pressure("3 bar"))
    found = diagnose(analyse(read_off(cart, truth, ALL)))
    assert found.tellable
    assert found.causes[0].kind == "pump switch moved"
    assert found.causes[0].value == pytest.approx(3e5, abs=0.05e5)
    role = found.causes[0].build.item("pump").specification.water
    assert role.cut_in.si == pytest.approx(1.5e5, abs=0.05e5)
    assert found.unseen == ("vessel",)  # no needle at rest says what its pre-charge is


def test_a_weak_pump_is_found():
    cart = line("pump")
    curve = tuple(
        replace(one, flow=Flow.from_si(0.5 * one.flow.si, "L/min", 3))
        for one in cart.item("pump").specification.water.curve
    )
    found = diagnose(analyse(read_off(cart, with_role(cart, "pump", curve=curve), ALL)))
    weak = next(one for one in found.likely if one.kind == "pump weak")
    assert weak.value == pytest.approx(0.5, abs=0.02)
    assert "filter used up" not in {one.kind for one in found.likely}


def test_a_moved_regulator_is_found():
    def regulated(set_point):
        return build(
            mains("mains", "5 bar", connector="3/8 push-fit", level="base"),
            regulator("regulator", set_point),
            tee("tee one"),
            gauge(BEHIND, "6 bar"),
            tap("sink", opening("6 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
            tube("mains", "regulator"),
            tube("regulator", "tee one.a"),
            tube("tee one.c", f"{BEHIND}.a", "0.1 m"),
            tube("tee one.b", "sink"),
        )

    cart = regulated("3 bar")
    spots = ((BEHIND, ALL_SHUT), (BEHIND, ONE))
    found = diagnose(analyse(read_off(cart, regulated("2 bar"), spots)))
    assert found.causes[0].kind == "regulator moved"
    assert found.causes[0].value == pytest.approx(2e5, abs=0.03e5)


def test_it_stops_when_told_to():
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    analysis = analyse(read_off(cart, truth, ALL))
    shares = []

    def watch(share):
        shares.append(share)
        return len(shares) < 3

    assert diagnose(analysis, watch) is None
    assert shares == sorted(shares)
    assert len(shares) == 3


def test_nothing_read_is_nothing_to_explain():
    found = diagnose(analyse(line()))
    assert found.readings == ()
    assert found.causes == ()


def test_what_a_cause_takes_over_is_the_build_with_one_value_changed():
    """Taken over, the readings are what the gauges should show."""
    cart = line()
    truth = with_role(cart, "filter", used=0.8)
    best = diagnose(analyse(read_off(cart, truth, ALL))).causes[0]
    for state in analyse(best.build).water.gauges:
        assert not any(state.is_off(one) for one in state.readings)


def test_a_cause_that_would_let_the_needle_sway_is_less_likely_than_one_that_stands():
    """One number was read; bad luck of a swaying needle explains it, but so it does any number."""
    market = load(sample_builds() / "market_cart.cart")
    middle = middle_of(market, make_network(market), "filtered-line")
    gauged = entry("gauge").specification
    cart, gauge_id = insert_inline(market, "filtered-line", gauged, *middle)
    truth = with_role(cart, "filter", used=1.0)
    found = diagnose(analyse(read_off(cart, truth, ((gauge_id, ALL_SHUT), (gauge_id, ALL_OPEN)))))
    assert "filter used up" in {one.kind for one in found.likely}
    assert not any(one.sways for one in found.likely)
    # A pump that gives more than its table would go on and off, and its needle to and fro.
    assert all(one.surprise > found.likely[0].surprise for one in found.causes if one.sways)
