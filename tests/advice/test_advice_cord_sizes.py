"""Cords tried in the place of another, against Ohm's law and the tables of wire and cord."""

import pytest
from building import build, cord, extension, load, outlet, strip, wire
from msgspec.structs import replace

from cartlayout.advice.cord_sizes import cord_names, cord_of, try_cords, with_cord
from cartlayout.analysis import analyse
from cartlayout.units import Length, Temperature, UnitSystem, Voltage

# Ohms of 1,000 ft of copper at 20 degC, the wire table of ASTM B258, as printed in handbooks.
OHM_PER_1000_FT = {"16 AWG": 4.016, "14 AWG": 2.525, "12 AWG": 1.588, "10 AWG": 0.9989}
# NFPA 70 (NEC) Table 400.5(A)(1), 2023, column B (two current-carrying conductors), 30 degC.
MAY_CARRY = {"18 AWG": 10, "16 AWG": 13, "14 AWG": 18, "12 AWG": 25, "10 AWG": 30}


def heater_on(feet: float, size: str = "14 AWG", **more):
    """1,440 W at 120 V, which is 10 ohm, behind one cord."""
    return build(
        outlet("outlet"),
        load("heater", 1440, cord=cord(size, f"{feet:g} ft"), longest_run="10 min"),
        wire("heater", "outlet.1"),
        **more,
    )


def tried(made, run: str = "wire heater"):
    return {one.name: one for one in try_cords(analyse(made), run)}


@pytest.mark.parametrize("size", OHM_PER_1000_FT)
def test_volts_are_those_of_two_resistors_in_a_row(size):
    """Ohm's law: the cord out and back, and the heater's 10 ohm."""
    one = tried(heater_on(50.0))[size]
    cord_ohm = 2 * 50.0 / 1000.0 * OHM_PER_1000_FT[size]
    volts = 120.0 * 10.0 / (10.0 + cord_ohm)
    assert one.appliance == "heater"
    assert one.volts == pytest.approx(volts, rel=2e-3)
    assert one.drop_share == pytest.approx(1.0 - volts / 120.0, rel=0.03)


def test_what_each_may_carry_is_what_the_code_prints():
    found = tried(heater_on(6.0))
    assert {name: one.ampacity_a for name, one in found.items()} == MAY_CARRY
    assert {name: one.verdict for name, one in found.items()} == {
        "18 AWG": "stop",  # 12 A on 10
        "16 AWG": "ok",
        "14 AWG": "ok",
        "12 AWG": "ok",
        "10 AWG": "ok",
    }
    assert [name for name, one in found.items() if one.is_now] == ["14 AWG"]
    words = found["18 AWG"].reason.shown(UnitSystem.US)
    assert "12.0 A" in words
    assert "10.0 A" in words


def test_hot_air_leaves_less():
    """NEC Table 310.15(B)(1)(1), 60 degC column as for cords: 0.71 at 41 to 45 degC."""
    made = heater_on(6.0)
    hot = replace(made, venue=replace(made.venue, ambient=Temperature("45 degC")))
    found = tried(hot)
    assert found["14 AWG"].ampacity_a == pytest.approx(18 * 0.71, abs=0.01)
    assert found["16 AWG"].verdict == "stop"  # 9.2 A


def test_a_long_cord_is_care_for_its_loss():
    """NEC 210.19 informational note: 3 % in a branch, 5 % in all, are advice."""
    found = tried(heater_on(100.0))
    assert found["14 AWG"].volts < 0.97 * 120.0
    assert found["10 AWG"].verdict == "ok"
    assert found["14 AWG"].drop_share == pytest.approx(0.048, abs=0.002)
    assert found["16 AWG"].verdict == "care"  # over 5 %
    assert "%" in found["16 AWG"].reason.shown(UnitSystem.US)


def test_a_heater_that_needs_more_volts_than_a_thin_cord_leaves_is_a_stop():
    """Ohm's law at 100 ft: 14 AWG leaves 114.2 V, 12 AWG 116.3, 10 AWG 117.6; 117 are needed."""
    made = build(
        outlet("outlet"),
        load("heater", 1440, cord=cord("14 AWG", "100 ft"), electrical={
            "lowest_voltage": Voltage("117 V")}),
        wire("heater", "outlet.1"),
    )  # fmt: skip
    found = tried(made)
    assert {name: one.verdict for name, one in found.items() if name != "18 AWG"} == {
        "16 AWG": "stop",
        "14 AWG": "stop",
        "12 AWG": "stop",
        "10 AWG": "ok",
    }
    assert found["12 AWG"].reason.shown(UnitSystem.US) == (
        "heater gets 116.3 V, needs 117.0 V at least"
    )


def test_what_is_said_is_what_the_whole_analysis_finds():
    made = heater_on(100.0)
    for one in try_cords(analyse(made), "wire heater"):
        whole = analyse(one.build)
        state = whole.power.appliances["heater"]["Everything on"]
        assert one.volts == pytest.approx(state.volts)
        codes = {finding.code for finding in whole.findings}
        assert (one.verdict == "stop") == ("power.cord" in codes), one.name


def test_a_strips_cord_serves_all_behind_it_and_is_held_to_its_rating():
    """A 15 A strip on an 18 AWG cord: 4 A now, but 15 A could be plugged in behind it."""
    made = build(
        outlet("outlet"),
        strip("strip", cord=cord("14 AWG", "25 ft")),
        load("far", 480, cord=cord("18 AWG", "10 ft")),
        wire("strip", "outlet.1"),
        wire("far", "strip.1"),
    )
    found = tried(made, "wire strip")
    assert found["18 AWG"].appliance == "far"
    assert found["18 AWG"].verdict == "care"
    assert "10.0 A" in found["18 AWG"].reason.shown(UnitSystem.US)
    assert found["14 AWG"].verdict == "ok"
    assert found["18 AWG"].volts < found["14 AWG"].volts < found["10 AWG"].volts


def test_metric_regions_have_metric_cords_and_keep_a_strange_one():
    made = build(
        outlet("outlet", 230, 16, receptacle="CEE 7/3 R"),
        load("kettle", 2300, volts=230, plug="CEE 7/7 P", cord=cord("14 AWG", "2 m")),
        wire("kettle", "outlet.1"),
        region="EU",
    )
    names = cord_names(made, made.run("wire kettle"))
    assert {"1.5 mm2", "14 AWG"} <= set(names)
    assert not {"12 AWG", "1.25 mm2"} & set(names)


def test_only_the_size_changes_and_the_same_size_changes_nothing():
    made = heater_on(50.0)
    run = made.run("wire heater")
    assert with_cord(made, run, "14 AWG") is made
    other = with_cord(made, run, "10 AWG")
    now = cord_of(other, other.run("wire heater"))
    assert (now.size.text, now.length.text) == ("10 AWG", "50 ft")
    assert other.items == made.items


def test_a_wire_of_unknown_cord_gets_one_as_long_as_its_way():
    made = heater_on(6.0)
    kettle = made.item("heater")
    port = replace(kettle.specification.ports[0], cord=None)
    bare = replace(
        made,
        items=(
            made.item("outlet"),
            replace(kettle, specification=replace(kettle.specification, ports=(port,))),
        ),
    )
    found = tried(bare)
    assert not any(one.is_now for one in found.values())
    route = analyse(bare).network.routes["wire heater"]
    got = cord_of(found["12 AWG"].build, found["12 AWG"].build.run("wire heater"))
    assert got.length.si == pytest.approx(max(route.length_m, 0.01), abs=0.01)


def test_free_ends_and_wires_that_are_not_there():
    made = heater_on(6.0)
    loose = replace(made, runs=(replace(made.runs[0], b=None),))
    assert all(one.appliance == "" for one in tried(loose).values())
    assert list(try_cords(analyse(made), "nothing")) == []


def test_an_extension_cord_is_tried_with_what_hangs_on_it():
    made = build(
        outlet("outlet"),
        extension("lead", "16 AWG", "50 ft", 13),
        load("heater", 1200, cord=cord("14 AWG", "6 ft")),
        wire("lead", "outlet.1"),
        wire("heater", "lead.1"),
    )
    found = tried(made, "wire lead")
    now = found["16 AWG"]
    ohm = 2 * (50.0 * OHM_PER_1000_FT["16 AWG"] + 6.0 * OHM_PER_1000_FT["14 AWG"]) / 1000.0
    assert now.is_now
    assert now.appliance == "heater"
    assert now.volts == pytest.approx(120.0 * 12.0 / (12.0 + ohm), rel=2e-3)
    assert Length("50 ft").si == pytest.approx(15.24)


def test_a_lead_thinner_than_its_breaker_is_care():
    """NFPA 70 (NEC) 240.5(B)(2): extension sets of 16 AWG and more are taken as protected on 20 A,
    thinner ones are not."""
    made = build(
        outlet("outlet"),
        extension("lead", "16 AWG", "10 ft", 10),
        load("lamp", 240, cord=cord("18 AWG", "6 ft")),
        wire("lead", "outlet.1"),
        wire("lamp", "lead.1"),
    )
    found = tried(made, "wire lead")
    assert found["18 AWG"].verdict == "care"
    assert "20.0 A" in found["18 AWG"].reason.shown(UnitSystem.US)
    assert found["12 AWG"].verdict == "ok"
