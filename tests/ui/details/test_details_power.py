"""What Details tells of power: where each limit is from, what a supply gives here, how long."""

import pytest
from building import battery, branch, build, generator, load, outlet, wire
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Venue
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.ui.details.power_facts import power_facts
from cartlayout.ui.selection import Selection
from cartlayout.units import Current, Duration, Energy, Flow, Power, Temperature, UnitSystem, Volume


def facts(made, item: str, system=UnitSystem.US):
    analysis = analyse(made)
    found = list(power_facts(analysis, made.item(item), EVERYTHING_ON, system))
    labels = [one.label for one in found]
    assert len(labels) == len(set(labels))
    return {one.label: one for one in found}


def with_role(made, item_id: str, **changes):
    """The build with other electrical data in one item."""
    items = []
    for item in made.items:
        if item.id == item_id:
            spec = item.specification
            role = replace(spec.electrical, **changes)
            item = replace(item, specification=replace(spec, electrical=role))
        items.append(item)
    return replace(made, items=tuple(items))


def on_generator(**venue):
    made = build(
        load("kettle", 1200),
        generator("set", (branch("1", 20, "L", "1"),), running=2000, surge=2400),
        wire("kettle", "set.1"),
    )
    return replace(made, venue=Venue(**venue)) if venue else made


def test_a_generator_high_up_says_what_it_gives_and_why():
    """Generator-set manuals: 3.5 % less for every 1,000 ft above the base; 4,000 ft above it."""
    told = facts(on_generator(altitude_m=5000 * 0.3048), "set")["Gives here"]
    assert told.value == "1,720 of 2,000 W"
    assert told.state == "care"
    assert "4,000" in told.tip
    assert "manual" in told.tip
    assert "Gives here" not in facts(on_generator(), "set")


def test_heat_is_told_apart_from_height():
    told = facts(on_generator(ambient=Temperature("40 degC")), "set")["Gives here"]
    assert "°F" in told.tip
    assert "above the" not in told.tip


def test_fuel_lasts_as_tank_and_burn_say():
    """By hand: 2 gal at 0.25 gal/h, whatever the load where only the full burn is known: 8 h."""
    made = with_role(
        on_generator(), "set", fuel=Volume("2 gal"), burn_full=Flow("0.0041666667 gal/min")
    )
    told = facts(made, "set")["Fuel lasts"]
    assert told.value.startswith("8.0 h of ")
    assert told.state == "ok"
    assert "Fuel lasts" not in facts(on_generator(), "set")


@pytest.mark.parametrize(
    ("hours", "changes", "binds"),
    [
        ("1 h", {"running": Power("720 W")}, "the inverter's running watts"),
        ("9 h", {}, "the energy of the battery"),
        ("1 h", {"greatest_discharge": Power("600 W")}, "what the battery itself may give"),
    ],
)
def test_which_limit_of_a_battery_binds(hours, changes, binds):
    """700 W for an hour are within 1 kWh and an inverter of kilowatts: by hand."""
    made = build(load("kettle", 700), battery("store"), wire("kettle", "store.1"))
    made = with_role(made, "store", energy=Energy("2 kWh"), surge=Power("5000 W"), **changes)
    made = replace(made, service=replace(made.service, hours=Duration(hours)))
    told = facts(made, "store")
    assert told["Binds first"].value.startswith(binds)
    assert "%" in told["Binds first"].tip
    assert told["Battery lasts"].state == ("stop" if hours == "9 h" else "ok")


def test_leakage_behind_a_socket_against_its_budget():
    """UL 943, Class A: trips at 6 mA, never below 4 mA."""
    made = build(
        load("urn", 1000, electrical={"leakage": Current("3 mA")}),
        load("kettle", 500, electrical={"leakage": Current("0.5 mA")}),
        outlet("outlet", electrical={"gfci": True}),
        wire("urn", "outlet.1"),
        wire("kettle", "outlet.2"),
    )
    told = facts(made, "outlet")["Leakage"]
    assert told.value == "3.5 of 4.0 mA"
    assert told.state == "ok"
    assert "urn: 3.0 mA" in told.tip
    assert "6.0 mA" in told.tip
    assert facts(made, "urn")["Leaks to earth"].value == "3.0 mA"
    more = with_role(made, "urn", leakage=Current("6 mA"))
    assert facts(more, "outlet")["Leakage"].state == "stop"
    unknown = with_role(made, "urn", leakage=None)
    assert facts(unknown, "outlet")["Leakage"].value.endswith("at most")


def test_an_overloaded_breaker_says_when_it_trips():
    """UL 489: at 135 % within an hour up to 50 A, at 200 % within two minutes up to 30 A."""
    made = build(
        load("one", 2400, plug="5-20P"),
        load("two", 2400, plug="5-20P"),
        outlet("outlet"),
        wire("one", "outlet.1"),
        wire("two", "outlet.2"),
    )
    told = facts(made, "outlet")
    assert told["Circuit A"].state == "stop"
    assert "2 min" in told["Breaker A"].value
    assert "UL 489" in told["Breaker A"].tip
    light = with_role(with_role(made, "one", power=Power("600 W")), "two", power=Power("600 W"))
    assert "Breaker A" not in facts(light, "outlet")
    assert facts(light, "outlet")["Room left"].tip


def test_many_receptacles_are_one_line():
    made = build(
        load("one", 600),
        load("two", 1200),
        outlet("outlet", ways=4),
        wire("one", "outlet.1"),
        wire("two", "outlet.2"),
    )
    told = facts(made, "outlet")["Receptacles"]
    assert told.value.startswith("fullest 10.0 of ")
    assert "5.0 of " in told.tip


def test_the_panel_shows_them_with_their_tips(open_window):
    window = open_window("market_cart")
    outlet_id = next(one.id for one in window.session.build.items if one.name == "Outlet 1")
    window.session.select(Selection(items=(outlet_id,)))
    rows = {left.text(): (right.text(), right.toolTip())
            for left, right in window.details.page.facts._rows}  # fmt: skip
    assert "mA" in rows["Leakage"][0]
    assert "NEC" in rows["Leakage"][1]
    assert rows["Room left"][0].endswith(" A")
