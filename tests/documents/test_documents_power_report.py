"""What the reports say about power, and that JSON stays JSON (RFC 8259: no NaN, no Infinity)."""

import json

import pytest
from building import battery, branch, build, generator, load, outlet, wire

from cartlayout.analysis import analyse
from cartlayout.documents.json_report import json_report
from cartlayout.documents.text_report import text_report
from cartlayout.units import Current, UnitSystem


def told(*things, **more):
    analysis = analyse(build(*things, **more))
    text = text_report(analysis, UnitSystem.US)
    read = json.loads(json.dumps(json_report(analysis, UnitSystem.US), allow_nan=False))
    return text.split("\nTaps")[0], read


def overloaded(region="US", **more):
    return told(
        outlet("hall", **more),
        load("urn", amps=15, electrical={"leakage": Current("1.5 mA")}),
        load("oven", amps=15, electrical={"leakage": Current("1 mA")}),
        wire("urn", "hall.1"),
        wire("oven", "hall.2"),
        region=region,
    )


def test_how_long_an_overload_lasts_is_told():
    """30 A on 20 A is 150 %: UL 489 lets a breaker up to 50 A take an hour at 135 %, so at 150 %
    it must have tripped within an hour (read in trade articles on the standard)."""
    text, read = overloaded()
    assert "breaker: It may trip at once and must within 1 h." in text
    trip = read["circuits"][0]["trip"]
    assert trip["multiple"] == pytest.approx(1.5)
    assert trip["at_latest_s"] == pytest.approx(3600.0)


def test_room_is_told_by_each_limit():
    """NEC 2023 210.20(A): what is added for hours counts 125 %, so 10 A left are 8 A, 960 W."""
    text, read = told(outlet("hall"), load("kettle", amps=10), wire("kettle", "hall.1"))
    assert "room left: 8.0 A, 960 W (by limit: total 10.0 A, continuous 8.0 A)" in text
    assert read["circuits"][0]["room"] == pytest.approx(
        {"amps": 8.0, "watts": 960.0, "binding": "continuous", "by_limit": pytest.approx(
            {"total": 10.0, "continuous": 8.0}
        )}
    )  # fmt: skip


def test_leakage_is_told_behind_its_device():
    """1.5 and 1 mA add up to 2.5 mA; a class A device trips at 6 mA (UL 943, in trade articles)."""
    text, read = overloaded(electrical={"gfci": True})
    assert "hall on circuit A (an earth-leakage device): stated 2.5 mA, at most 2.5 mA" in text
    assert "trips at 6.0 mA" in text
    (one,) = read["power"]["leakages"]
    assert one["stated_a"] == pytest.approx(0.0025)
    assert one["trip_a"] == pytest.approx(0.006)


def test_a_generator_says_its_legs_its_place_and_its_fuel():
    """16 and 10 A on the legs leave 6 A for the neutral (electricians' forum)."""
    text, read = told(
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
    assert "Generators and batteries\n  set: 6,000 W by its nameplate\n" in text
    assert "legs: L1 16.0 A · L2 10.0 A · N 6.0 A" in text
    (one,) = read["power"]["supplies"]
    assert one["kind"] == "generator"
    legs = one["amps_by_case_and_conductor"]["Everything on"]
    assert legs == pytest.approx({"L1": 16, "L2": 10, "N": 6}, abs=0.01)
    assert one["lasts_s"] is None


def test_a_battery_says_how_long_it_lasts():
    """A published example: 1200 Wh x 0.8 x 0.9 = 864 Wh carry 100 W for 8.64 h."""
    text, read = told(
        battery("bank", 1200, electrical={"usable_share": 0.8, "efficiency": 0.9}),
        load("lamp", 100),
        wire("lamp", "bank.1"),
    )
    assert "bank: 1,500 W by its nameplate" in text
    lasts_s = read["power"]["supplies"][0]["lasts_s"]
    assert lasts_s is not None
    assert lasts_s / 3600 == pytest.approx(8.64, rel=1e-3)
    assert "its energy lasts " in text


def test_every_limit_of_a_cord_or_an_appliance_is_in_json():
    _, read = overloaded()
    names = {(one["id"], one["name"]) for one in read["power"]["limits"]}
    assert {("urn", "plug"), ("urn", "voltage"), ("wire urn", "cord")} <= names
    assert all(one["rule"] and one["source"] for one in read["power"]["limits"])
