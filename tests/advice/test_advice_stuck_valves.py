"""A check valve that sticks, and one that does not shut, put back from what gauges show.

The check is the fault itself: a line is made with one thing wrong, its gauges are read, and the
diagnosis is given the line as drawn with nothing but the readings. Through a resistance that goes
with the square of the flow, a hundred times the loss lets a tenth of the water by (any text on
fluid mechanics).
"""

import pytest
from building import (
    build,
    check_valve,
    gauge,
    mains,
    opening,
    point,
    pump,
    tank,
    tap,
    tee,
    tube,
)
from msgspec.structs import replace

from cartlayout.advice.diagnosis import diagnose
from cartlayout.analysis import analyse
from cartlayout.build import Reading
from cartlayout.build.edits import replace_item
from cartlayout.units import Pressure, UnitSystem
from cartlayout.water import ALL_SHUT, alone

FRONT, BEHIND = "front gauge", "rear gauge"
ONE = alone("sink")
ALL = tuple((each, case) for each in (FRONT, BEHIND) for case in (ALL_SHUT, ONE))


def with_role(cart, item_id, **changes):
    item = cart.item(item_id)
    role = replace(item.specification.water, **changes)
    return replace_item(cart, replace(item, specification=replace(item.specification, water=role)))


def read_off(cart, truth):
    """The line as drawn, with what the gauges of the true one show."""
    states = {one.item: one for one in analyse(truth).water.gauges}
    for gauge_id, case in ALL:
        shown = states[gauge_id].reading(case)
        middle_pa = 0.5 * (shown.low_pa + shown.high_pa)
        item = cart.item(gauge_id)
        reading = Reading(case, Pressure.from_si(middle_pa, "bar", 2))
        cart = replace_item(cart, replace(item, readings=(*item.readings, reading)))
    return cart


def gauged(*more):
    """A main, a gauge, a check valve, a gauge, a tap; the last tee has a port left."""
    return build(
        mains(
            "mains",
            "2 bar",
            connector="3/8 push-fit",
            residual=point("20 L/min", "1.5 bar"),
            level="base",
        ),
        tee("tee one"),
        gauge(FRONT, "6 bar"),
        check_valve("check", point("10 L/min", "0.05 bar"), "0.02 bar"),
        tee("tee two", 4),
        gauge(BEHIND, "6 bar"),
        tap("sink", opening("4 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tube("mains", "tee one.a"),
        tube("tee one.c", f"{FRONT}.a", "0.1 m"),
        tube("tee one.b", "check.inlet", "0.1 m", "12.7 mm"),
        tube("check.outlet", "tee two.a", "0.1 m", "12.7 mm"),
        tube("tee two.c", f"{BEHIND}.a", "0.1 m"),
        tube("tee two.b", "sink"),
        *more,
    )


def test_a_check_valve_that_sticks():
    cart = gauged()
    truth = with_role(cart, "check", wide_open=point("10 L/min", "3.02 bar"))
    found = diagnose(analyse(read_off(cart, truth)))
    stuck = next(one for one in found.likely if one.kind == "check valve sticks")
    assert stuck.explains_all
    # 3 bar instead of 0.03 bar beyond the spring
    assert "lets 10 % as much" in stuck.words.shown(UnitSystem.METRIC)
    kinds = {one.kind for one in found.likely}
    # What narrows the same stretch looks alike; a weak main would show at rest.
    assert kinds == {"check valve sticks", "tube pinched"}
    assert "mains different" not in kinds
    taken = analyse(stuck.build).water
    assert not any(one.is_off(each) for one in taken.gauges for each in one.readings)


def test_a_check_valve_that_does_not_shut():
    """The pump's pressure stands before it, where only that of the main should be."""
    cart = gauged(
        tank("jug"),
        pump(
            "pump",
            (("0 bar", "10 L/min"), ("3 bar", "6 L/min"), ("4.2 bar", "1 L/min")),
            "3.5 bar",
            "4 bar",
        ),
        tube("jug", "pump.inlet", "0.5 m", "12.7 mm"),
        tube("pump.outlet", "tee two.d"),
    )
    truth = with_role(cart, "check", stuck_open=True)
    shown = next(one for one in analyse(truth).water.gauges if one.item == FRONT)
    assert shown.reading(ALL_SHUT).high_pa == pytest.approx(4e5, abs=0.05e5)  # the pump's
    found = diagnose(analyse(read_off(cart, truth)))
    stuck = next(one for one in found.likely if one.kind == "check valve stuck open")
    assert stuck.explains_all
    assert stuck.build.item("check").specification.water.stuck_open
    assert "stuck open" in stuck.words.shown(UnitSystem.METRIC)
    taken = analyse(stuck.build)
    codes = {one.code for one in taken.findings}
    assert "water.check-stuck" in codes
    assert "water.sources-joined" in codes  # nothing keeps the pump's water from the main now


@pytest.mark.parametrize("stuck", [True, False])
def test_what_is_stuck_open_lets_back_what_it_lets_forward(stuck):
    """Turned round, a check valve that shuts leaves the tap dry, and one that is stuck feeds it."""
    cart = build(
        mains("mains", "2 bar", connector="3/8 push-fit", level="base"),
        check_valve("check", water={"stuck_open": stuck}),
        tap("sink", opening("4 L/min", "1 bar"), required_flow="2 L/min", least="0.2 bar"),
        tube("mains", "check.outlet"),
        tube("check.inlet", "sink"),
    )
    assert analyse(cart).water.taps[0].fed == stuck
