"""Generators and batteries: thin air, fuel, both windings on one leg, what the battery gives."""

import pytest
from building import battery, branch, build, generator, load, wire
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Generator, Item, Venue
from cartlayout.network import make_network
from cartlayout.power.assign import best, make_problem
from cartlayout.power.supplies import derated_share, discharge_w, fuel_hours
from cartlayout.units import Flow, Length, Power, Temperature, Volume


def with_role(item: Item, **more) -> Item:
    role = replace(item.specification.electrical, **more)
    return replace(item, specification=replace(item.specification, electrical=role))


def two_legs(**more) -> Item:
    made = generator(
        "set",
        [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2"), branch("both", 15, "L1 L2", "3")],
        running=3000,
        surge=3500,
        volts=240,
        system="split-phase",
        receptacles={"3": "L6-20R"},
    )
    return with_role(made, **more)


def limit_of(analysis, name: str):
    return next(limit for _, limit in analysis.power.limits if limit.name == name)


# Generator manual: 3.5 % for every 1000 ft above 1000 ft; 5000 W at 5000 ft: 5000 x (1 - 0.14).
def test_thin_air_takes_its_share():
    role = Generator(
        voltage=two_legs().specification.electrical.voltage,
        branches=(),
        running=Power("5000 W"),
        surge=Power("6000 W"),
    )
    share, lines, source = derated_share(role, Venue(altitude_m=1524.0))
    assert 5000 * share == pytest.approx(4300, abs=1)
    assert len(lines) == 1
    assert "altitude" in source
    # Another maker rates up to 1500 m: there nothing is lost, the base is the set's own.
    high = replace(role, rated_altitude=Length("1500 m"))
    assert derated_share(high, Venue(altitude_m=1500.0))[0] == 1.0


# The same manual: 2 % for every 10 degF above 85 degF; at 105 degF 4 % are gone.
def test_heat_takes_its_share():
    role = two_legs().specification.electrical
    share, _, _ = derated_share(role, Venue(ambient=Temperature("105 degF")))
    assert share == pytest.approx(0.96, abs=1e-4)


def test_both_losses_are_taken_off_one_after_the_other():
    """5000 ft and 105 degF by the same manual: 5000 W x 0.86 = 4300, x 0.96 = 4128 W."""
    role = two_legs(running=Power("5000 W")).specification.electrical
    high_and_hot = Venue(altitude_m=1524.0, ambient=Temperature("105 degF"))
    share, lines, _ = derated_share(role, high_and_hot)
    assert 5000 * share == pytest.approx(4128, abs=1)
    assert len(lines) == 2


# 3000 W at 120 V are 25 A, in thin air 0.86 of it, 21.5 A; two loads of 10 A are 93 % of that.
def test_thin_air_leaves_less_room_for_what_is_assigned():
    made = build(
        load("a", amps=10),
        load("b", amps=10),
        generator("set", [branch("1", 30, "L", "1", "2")], 120, 3000, 3500),
        wire("a", "set.1"),
        wire("b", "set.2"),
        venue=Venue(altitude_m=1524.0),
    )
    assert best(make_problem(made, make_network(made))).peak == pytest.approx(20 / 21.5, rel=1e-3)


def test_the_limits_of_a_set_follow_its_place():
    made = build(load("kettle", watts=1400), two_legs(), wire("kettle.plug", "set.1"))
    low = analyse(made)
    high = analyse(replace(made, venue=Venue(altitude_m=1524.0)))
    assert limit_of(low, "generator").limit == pytest.approx(3000)
    assert limit_of(high, "generator").limit == pytest.approx(2580, abs=1)
    assert limit_of(high, "surge").limit == pytest.approx(3010, abs=1)
    assert limit_of(high, "leg").limit == pytest.approx(12.5 * 0.86, abs=0.01)


# Two loads of 10 A on one leg of 12.5 A are 160 %; with both windings side by side the same set
# gives 25 A at 120 V (generator manuals, full-power switch).
def test_full_power_on_one_leg():
    loads = [load("a", amps=10), load("b", amps=10)]
    plugs = [wire("a.plug", "set.1"), wire("b.plug", "set.2")]
    apart = analyse(build(*loads, two_legs(full_power=False), *plugs))
    assert limit_of(apart, "leg").value == pytest.approx(10.0)
    together = analyse(build(*loads, two_legs(full_power=True), *plugs))
    assert not [limit for _, limit in together.power.limits if limit.name == "leg"]
    state = together.power.appliances["a"]["Everything on"]
    assert state.volts == pytest.approx(120, abs=2)
    assert limit_of(together, "generator").holds


def test_full_power_leaves_nothing_between_the_legs():
    heater = load("heater", watts=2000, volts=240, plug="L6-20P")
    plug = wire("heater.plug", "set.3")
    on = analyse(build(heater, two_legs(full_power=True), plug))
    assert not on.power.appliances["heater"]["Everything on"].fed
    off = analyse(build(heater, two_legs(full_power=False), plug))
    assert off.power.appliances["heater"]["Everything on"].fed


# By hand: 0.25 gal/h at half load and 0.45 at full burn 0.35 at three quarters; 2.1 gal last 6 h.
def test_fuel_by_hand():
    role = two_legs(
        fuel=Volume("2.1 gal"), burn_half=Flow("0.25 gal/hour"), burn_full=Flow("0.45 gal/hour")
    ).specification.electrical
    assert fuel_hours(role, 2250) == pytest.approx(6.0)
    assert fuel_hours(role, 3000) == pytest.approx(2.1 / 0.45)
    assert fuel_hours(replace(role, fuel=None), 3000) is None
    # Only the burn at full load known: what lasts there lasts longer at less.
    assert fuel_hours(replace(role, burn_half=None), 1000) == pytest.approx(2.1 / 0.45)


def test_fuel_that_runs_out_before_the_service_does():
    made = build(
        load("kettle", watts=1500),
        two_legs(fuel=Volume("0.9 gal"), burn_half=Flow("0.3 gal/hour")),
        wire("kettle.plug", "set.1"),
    )
    analysis = analyse(made)
    assert analysis.power.fuel_hours["set"] == pytest.approx(3.0)
    assert "power.fuel" in {one.code for one in analysis.findings}


# By hand: 900 W through an inverter of 90 % with 20 W idle take 1020 W from the battery.
def test_what_the_battery_itself_gives():
    made = with_role(
        battery("battery", 5000, electrical={"efficiency": 0.9}),
        idle=Power("20 W"),
        greatest_discharge=Power("1000 W"),
    )
    assert discharge_w(made.specification.electrical, 900) == pytest.approx(1020)
    cart = build(load("urn", watts=900), made, wire("urn.plug", "battery.1"))
    codes = {one.code: one.severity for one in analyse(cart).findings}
    assert codes["power.discharge"] == "stop"
    # With its idle watts 920 W for the 4 h of service: 3.68 kWh.
    needed = limit_of(analyse(cart), "battery energy")
    assert needed.value / 3.6e6 == pytest.approx(0.92 * cart.service.hours.si / 3600)
    assert cart.service.hours.si == 4 * 3600
