"""What happened to people who plugged carts in, written to a file and asked of `cartlayout check`.

Amps and volts beside each are by hand: Ohm's law, W = V A, phasors of the legs. Where another
source stands behind a verdict it is named.
"""

import json
from pathlib import Path

import pytest
from building import box, branch, build, cord, extension, generator, load, outlet, strip, wire

from cartlayout.build.file import save
from cartlayout.cli import main
from cartlayout.units import Power


@pytest.fixture
def check(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """JSON by the command line, its findings by code, and the page as people read it."""

    def check_(*things, **more):
        path = tmp_path / "case.cart"
        save(build(*things, **more), path)
        capsys.readouterr()
        main(["check", str(path)])
        page = capsys.readouterr().out
        main(["check", str(path), "--json"])
        read = json.loads(capsys.readouterr().out)
        return read, {one["code"]: one for one in read["findings"]}, page

    return check_


def spread(*loads):
    """Loads side by side, so that only power is told of."""
    places = [("8 in", "8 in"), ("22 in", "8 in"), ("50 in", "8 in")]
    return [one(at=place) for one, place in zip(loads, places, strict=False)]


def appliance(item_id, watts=None, **more):
    return lambda at: load(item_id, watts, at=at, cord=more.pop("cord", cord("14 AWG")), **more)


def test_three_heaters_on_one_circuit(check):
    """1025, 750 and 700 W are 20.6 A at 120 V: over, and dropping any one cures it."""
    read, told, page = check(
        outlet("hall", ways=3),
        *spread(appliance("urn", 1025), appliance("press", 750), appliance("grill", 700)),
        wire("urn", "hall.1"),
        wire("press", "hall.2"),
        wire("grill", "hall.3"),
    )
    assert read["verdict"] == "stop"
    found = told["power.total"]
    assert found["value"]["si"] == pytest.approx(2475 / 120)
    assert "Moving any one of them cures it" in found["detail"]
    assert "Too much together: urn (8.5 A), press (6.2 A) and grill (5.8 A)" in found["detail"]
    assert "room left: 0.0 A, 0 W" in page


def test_both_loads_on_one_leg_of_a_generator(check):
    """Two loads of 10 A on a leg of 12.5 A are 160 %; one on each is 80 %, which is proposed."""
    set_of = generator(
        "set",
        [branch("1", 20, "L1", "1a", "1b"), branch("2", 20, "L2", "2a")],
        240,
        3000,
        leg_amps=12.5,
        system="split-phase",
    )
    loads = spread(appliance("urn", 1200), appliance("oven", 1200))
    _, told, page = check(set_of, *loads, wire("urn", "set.1a"), wire("oven", "set.1b"))
    found = told["power.leg"]
    assert found["value"]["si"] / found["limit"]["si"] == pytest.approx(1.6)
    assert "to a receptacle on L2: L1 then carries 10.0 A and L2 10.0 A" in found["detail"]
    assert "legs: L1 20.0 A · L2 0.0 A · N 20.0 A" in page
    _, told, page = check(set_of, *loads, wire("urn", "set.1a"), wire("oven", "set.2a"))
    assert "power.leg" not in told
    assert "leg: 10.0 of 12.5 A" in page


def test_a_heater_on_a_long_thin_cord(check):
    """100 ft of 16 AWG, out and back 0.80 ohm (AWG tables, 20 degC), and 14.4 ohm: 113.7 V, 897 W,
    5.3 %. One conductor alone would be the usual mistake."""
    read, told, _ = check(
        outlet("hall"),
        extension("lead", "16 AWG", "100 ft", 13, at=("60 in", "20 in")),
        *spread(appliance("heater", 1000, cord=cord("6 AWG", "1 in"))),
        wire("lead", "hall.1"),
        wire("heater", "lead.1"),
    )
    (state,) = [one for one in read["power"]["appliances"] if one["case"] == "Everything on"]
    assert state["volts"] == pytest.approx(113.7, abs=0.1)
    assert state["watts"] == pytest.approx(897, abs=1.5)
    assert told["power.drop"]["value"]["si"] == pytest.approx(0.053, abs=0.001)


def test_a_kettle_and_a_heater_on_a_16_a_lead(check):
    """2.5 and 2.0 kW at 230 V are 19.6 A of 16."""
    more = {"volts": 230, "plug": "CEE 7/7 P"}
    _, told, _ = check(
        outlet("lead", 230, 16, receptacle="CEE 7/3 R"),
        *spread(appliance("kettle", 2500, **more), appliance("heater", 2000, **more)),
        wire("kettle", "lead.1"),
        wire("heater", "lead.2"),
        region="EU",
    )
    assert told["power.total"]["value"]["si"] == pytest.approx(4500 / 230)


def test_a_240_v_element_on_208_v(check):
    """5500 W x (208 / 240)^2 = 4131 W at 19.9 A: three quarters of the heat, a third longer."""
    _, told, page = check(
        outlet("hall", 208, 30, receptacle="L6-30R"),
        *spread(appliance("urn", 5500, volts=240, plug="L6-30P", cord=cord("10 AWG", "6 ft"))),
        wire("urn", "hall.1"),
    )
    detail = told["power.wrong-voltage"]["detail"]
    assert "4,131 W (75 % of its heat) at 19.9 A" in detail
    assert "33 % longer" in detail
    assert "power.total" not in told
    assert "19.9 of 30.0 A" in page


def test_a_free_socket_of_500_w(check):
    """1600 W of 500 are 320 %; what to order is told: item, V, A, W, plug, place, overnight."""
    _, told, _ = check(
        outlet("wall", electrical={"limit": Power("500 W")}),
        *spread(appliance("machine", 1600)),
        wire("machine", "wall.1"),
    )
    detail = told["power.venue-limit"]["detail"]
    assert "320 %" in detail
    assert "machine: 120 V, 13.3 A, 1,600 W, 5-15P plug, at wall" in detail
    assert "overnight" in detail


@pytest.mark.parametrize(("receptacle", "rating"), [("5-15R", 15), ("5-20R", 20)])
def test_two_outlets_of_an_unknown_panel(check, receptacle, rating):
    """10 and 12 A in two outlets of one room: one circuit until somebody says otherwise."""
    walls = [
        outlet(name, breaker=None, circuit=None, receptacle=receptacle, at=at)
        for name, at in (("left", ("8 in", "-18 in")), ("right", ("60 in", "-18 in")))
    ]
    loads = spread(appliance("urn", amps=10), appliance("oven", amps=12))
    read, told, _ = check(*walls, *loads, wire("urn", "left.1"), wire("oven", "right.1"))
    (circuit,) = read["circuits"]
    assert circuit["rating_assumed"]
    assert told["power.total"]["value"]["si"] == pytest.approx(22)
    assert told["power.total"]["limit"]["si"] <= rating


def test_what_is_left_for_the_neutral(check):
    """16 and 10 A on two legs leave 6 A; 5, 8 and 0 A on a wye leave 7 A, the root of
    25 + 64 - 40 (electricians' forums)."""
    _, _, page = check(
        generator(
            "set",
            [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2")],
            240,
            6000,
            7000,
            system="split-phase",
        ),
        *spread(appliance("urn", amps=16, plug="5-20P"), appliance("oven", amps=10)),
        wire("urn", "set.1"),
        wire("oven", "set.2"),
    )
    assert "legs: L1 16.0 A · L2 10.0 A · N 6.0 A" in page
    _, _, page = check(
        outlet("feed", 208, 30, receptacle="L21-30R", electrical={"system": "three-phase"}),
        box(
            "box",
            [branch(str(at), 20, f"L{at}", str(at)) for at in (1, 2, 3)],
            30,
            system="three-phase",
            plug="L21-30P",
            cord=cord("8 AWG", "3 ft", 4),
            at=("60 in", "20 in"),
        ),
        *spread(appliance("urn", amps=5), appliance("oven", amps=8)),
        wire("box", "feed.1"),
        wire("urn", "box.1"),
        wire("oven", "box.2"),
    )
    assert "legs: L1 5.0 A · L2 8.0 A · L3 0.0 A · N 7.0 A" in page


def test_strips_and_cords_in_a_row(check):
    """UL category of relocatable taps: never in series with another tap or a cord set."""
    _, told, page = check(
        outlet("hall"),
        strip("first"),
        strip("second", at=("60 in", "20 in")),
        wire("first", "hall.1"),
        wire("second", "first.1"),
    )
    assert told["power.chained-strips"]["severity"] == "stop"
    assert "second is plugged into first" in page


def test_a_box_that_is_more_than_the_cart_needs(check):
    """220 V, 50 A, a breaker of 20 A for every outlet: for bigger machines (common practice, no
    source). And the outlet's own leakage is that of its own circuit, A."""
    _, told, page = check(
        outlet("feed", 220, 50, receptacle="14-50R", electrical={"system": "split-phase"}),
        box(
            "box",
            [branch(str(at), 20, f"L{2 - at % 2}", str(at)) for at in range(1, 9)],
            50,
            at=("60 in", "20 in"),
        ),
        *spread(appliance("urn", 1200), appliance("grinder", 400)),
        wire("box", "feed.1"),
        wire("urn", "box.1"),
        wire("grinder", "box.2"),
    )
    assert any("more than the cart needs" in one["title"] for one in told.values())
    assert "feed on circuit A (" in page
