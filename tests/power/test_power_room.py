"""What a circuit has left, leg by leg, and what legs and batteries carry in all."""

import pytest
from building import battery, box, branch, build, cord, extension, generator, load, outlet, wire

from cartlayout.limits import profile
from cartlayout.network import make_network
from cartlayout.power import EVERYTHING_ON, room_left, rooms, solve_power
from cartlayout.units import Power


def solved(*things):
    cart = build(*things)
    return solve_power(cart, make_network(cart))


def test_room_on_a_leg_is_that_of_the_leg():
    """A full leg leaves the other one of its box empty. By hand: each leg of the feed carries
    30 A, and what is added counts 125 % (NEC 2023 210.20(A))."""
    power = solved(
        outlet("feed", 240, 30, receptacle="L14-30R", electrical={"system": "split-phase"}),
        box(
            "box",
            [branch("1", 30, "L1", "1"), branch("2", 20, "L2", "2")],
            30,
            plug="L14-30P",
            receptacles={"1": "L5-30R"},
        ),
        load("machine", amps=28, plug="L5-30P"),
        wire("box", "feed.1"),
        wire("machine", "box.1"),
    )
    us = profile("US")
    assert room_left(power.circuit("box/1"), us, power) == pytest.approx(2 / 1.25)
    assert room_left(power.circuit("box/2"), us, power) == pytest.approx(20 / 1.25)
    left = {one.binding: one.amps for one in rooms(power.circuit("box/2"), us, power)}
    assert left["main"] == pytest.approx(30)
    assert left["circuit A"] == pytest.approx(30 / 1.25)


def test_only_what_runs_for_hours_counts_125_percent():
    """NEC 2023 210.20(A), by hand: 6 A for hours and 4 A for minutes count 11.5 A, so that of 20 A
    8.5 A are left, 6.8 A of what may run for hours too."""
    power = solved(
        outlet("wall"),
        load("urn", amps=6, longest_run="4 h"),
        load("kettle", amps=4, longest_run="10 min"),
        wire("urn", "wall.1"),
        wire("kettle", "wall.2"),
    )
    (circuit,) = power.circuits
    assert room_left(circuit, profile("US"), power) == pytest.approx(6.8)


def test_room_on_the_other_leg_of_a_generator():
    """12.5 A a leg, 10 A on one of them: 2.5 A there, 12.5 A on the other; 2000 W for the rest."""
    power = solved(
        generator(
            "set",
            [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2")],
            240,
            3000,
            leg_amps=12.5,
            system="split-phase",
        ),
        load("kettle", amps=10),
        wire("kettle", "set.1"),
    )
    left = {
        key: {one.binding: one.amps for one in rooms(power.circuit(key), profile("US"), power)}
        for key in ("set/1", "set/2")
    }
    assert (left["set/1"]["leg"], left["set/2"]["leg"]) == pytest.approx((2.5, 12.5))
    assert left["set/2"]["generator"] == pytest.approx(1800 / 120)


def test_the_legs_of_a_generator_and_what_is_left_over_for_its_neutral():
    """Published for split phase: 16 and 10 A on the legs leave 6 A (electricians' forum)."""
    power = solved(
        generator(
            "set",
            [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2")],
            240,
            6000,
            7000,
            system="split-phase",
        ),
        load("oven", amps=16, plug="5-20P"),
        load("kettle", amps=10),
        wire("oven", "set.1"),
        wire("kettle", "set.2"),
    )
    told = power.conductor_amps["set"][EVERYTHING_ON]
    assert told == pytest.approx({"L1": 16, "L2": 10, "N": 6}, abs=0.01)


def test_a_battery_also_feeds_its_cords():
    """1200 Wh at 80 % and 0.9 (864 Wh) for a pump that holds 600 W behind 100 ft of 16 AWG.

    Copper of 16 AWG is 4.0 ohm/1000 ft at 20 degC (AWG wire tables), out and back 0.80 ohm. By
    hand: 600 W = (120 - 0.8 i) i gives 5.18 A and 622 W at the inverter, so 1.39 h.
    """
    power = solved(
        battery(
            "bank", 1200, electrical={"usable_share": 0.8, "efficiency": 0.9, "idle": Power("0 W")}
        ),
        extension("lead", "16 AWG", "100 ft", 13),
        load("pump", 600, heater=False, cord=cord("12 AWG", "1 in")),
        wire("lead", "bank.1"),
        wire("pump", "lead.1"),
    )
    assert power.battery_hours["bank"] == pytest.approx(864 / 622, rel=3e-3)


def test_room_on_an_inverter_is_that_of_its_battery():
    """450 W / 0.9 are 500 W of a battery that gives 1000: 450 W more at 120 V, 3.75 A."""
    power = solved(
        battery(
            "bank",
            1200,
            1500,
            electrical={
                "efficiency": 0.9,
                "idle": Power("0 W"),
                "greatest_discharge": Power("1000 W"),
            },
        ),
        load("urn", 450),
        wire("urn", "bank.1"),
    )
    (circuit,) = power.circuits
    left = {one.binding: one.amps for one in rooms(circuit, profile("US"), power)}
    assert left["discharge"] == pytest.approx(3.75)
    assert left["inverter"] == pytest.approx((1500 - 450) / 120)
    assert room_left(circuit, profile("US"), power) == pytest.approx(3.75)
