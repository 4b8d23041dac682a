"""Everything starting at once after an interruption."""

import pytest
from building import battery, branch, build, generator, load, outlet, wire

from cartlayout.findings import power_rules
from cartlayout.network import make_network
from cartlayout.power import solve_power
from cartlayout.units import UnitSystem


def motor(item_id, watts, times, volts=120, plug="5-15P"):
    return load(
        item_id, watts, volts=volts, plug=plug, heater=False, electrical={"start_multiple": times}
    )


def solved(*things, **more):
    made = build(*things, **more)
    return made, solve_power(made, make_network(made))


def said(made, power):
    network = make_network(made)
    return {one.code: one for one in power_rules.rules(made, network, power)}


def named(limits, name):
    return next((one for one in limits if one.name == name), None)


def set_of(surge, *loads):
    ports = tuple(str(n) for n in range(1, len(loads) + 1))
    return solved(
        generator("set", [branch("1", 60, "L", *ports)], 120, 3000, surge),
        *loads,
        *(wire(one.id, f"set.{n}") for n, one in enumerate(loads, 1)),
    )


# A generator manual's figures for a refrigerator: 700 W running, 1500 W at a start. Two of them
# run at 1400 W; with one starting 2200 W, with both 3000 W: sums of the manual's own numbers.
def test_two_refrigerators_start_together_on_a_generator():
    fridges = [motor(f"fridge{n}", 700, 1500 / 700) for n in (1, 2)]
    made, power = set_of(2500, *fridges)
    limits = [one for key, one in power.limits if key == "set"]
    assert named(limits, "surge").value == pytest.approx(2200)
    assert named(limits, "surge").holds
    together = named(limits, "starts together")
    assert together.value == pytest.approx(3000)
    assert not together.holds
    found = said(made, power)["power.starts-together"]
    assert found.severity == "care"
    assert set(found.items) == {"fridge1", "fridge2", "set"}
    assert "one after another" in found.detail.shown(UnitSystem.US)
    made, power = set_of(3000, *fridges)
    assert "power.starts-together" not in said(made, power)


def test_one_motor_has_nothing_to_start_together_with():
    _, power = set_of(2500, motor("fridge", 700, 1500 / 700), load("urn", 500))
    assert named([one for _, one in power.limits], "starts together") is None


def test_too_small_for_one_start_is_said_once():
    fridges = [motor(f"fridge{n}", 700, 1500 / 700) for n in (1, 2)]
    made, power = set_of(2000, *fridges)
    found = said(made, power)
    assert "power.surge" in found
    assert "power.starts-together" not in found


def test_an_inverter_is_held_to_it_too():
    made, power = solved(
        battery("pack", running=2000, surge=2500),
        motor("a", 600, 3.0),
        motor("b", 600, 3.0),
        wire("a", "pack.1"),
        wire("b", "pack.2"),
    )
    # 1200 W running, 1200 W more for each start.
    together = named([one for key, one in power.limits if key == "pack"], "starts together")
    assert together.value == pytest.approx(3600)
    assert "power.starts-together" in said(made, power)


def on_a_breaker(region, volts, breaker, receptacle, plug, *motors):
    loads = [motor(f"m{n}", w, times, volts, plug) for n, (w, times) in enumerate(motors)]
    return solved(
        outlet("wall", volts, breaker, receptacle=receptacle, ways=len(loads)),
        *loads,
        *(wire(one.id, f"wall.{n}") for n, one in enumerate(loads, 1)),
        region=region,
    )


# IEC 60898-1: type B does not trip at once at 3 times its rating, 48 A of 16 A.
@pytest.mark.parametrize(
    ("times", "start_a", "holds"),
    # 690 W at 230 V are 3 A; four motors of 6 and of 3 times that.
    [(3.0, 36.0, True), (6.0, 72.0, False)],
)
def test_starts_against_a_type_b_breaker(times, start_a, holds):
    made, power = on_a_breaker("EU", 230, 16, "CEE 7/3 R", "CEE 7/7 P", *[(690, times)] * 4)
    limit = named(power.circuits[0].limits, "starts together")
    assert limit.value == pytest.approx(start_a)
    assert limit.limit == pytest.approx(48.0)
    assert limit.holds is holds
    assert "IEC 60898-1" in limit.source
    assert "type B" in limit.assumed
    assert ("power.starts-together" in said(made, power)) is not holds


# UL 489 fixes no instantaneous range for such breakers: nothing is asserted where nothing is known.
def test_where_no_standard_fixes_an_instantaneous_range_nothing_is_said():
    made, power = on_a_breaker("US", 120, 15, "5-15R", "5-15P", *[(240, 8.0)] * 4)
    assert named(power.circuits[0].limits, "starts together") is None
    assert "power.starts-together" not in said(made, power)


def test_heaters_start_nothing():
    _, power = on_a_breaker("EU", 230, 16, "CEE 7/3 R", "CEE 7/7 P", (690, 1.0), (690, 1.0))
    assert named(power.circuits[0].limits, "starts together") is None
