"""What was reported by people who run carts, and what the program offers them.

The situations and their numbers are reports of practice (shared/reference/cases.md of the project:
common practice, no source); amps are P / V.
"""

import pytest
from building import branch, build, extension, generator, load, outlet, wire
from remedies_asking import kinds, of_kind, offered, said, words

from cartlayout.units import Power


def test_c01_three_heaters_on_one_circuit() -> None:
    """1025 + 750 + 700 W at 120 V are 20.6 A on 20 A; without any one of them it goes."""
    watts = {"kettle": 1025, "urn": 750, "grill": 700}
    made = build(
        outlet("wall", ways=4, electrical={"gfci": True}),
        outlet("other", ways=4, electrical={"gfci": True}, at=("48 in", "-18 in")),
        *(load(name, each) for name, each in watts.items()),
        *(wire(name, f"wall.{at}") for at, name in enumerate(watts, start=1)),
    )
    _, finding = said(made, "power.total")
    assert finding.value is not None
    assert finding.value.si == pytest.approx(2475 / 120)
    found = [one for one in offered(made, "power.total") if one.kind == "move load"]
    assert len(found) == 3
    for one in found:
        assert one.value is not None
        assert one.value.si == pytest.approx((2475 - watts[one.items[0]]) / 120)


def test_c02_two_loads_on_one_leg_of_a_generator() -> None:
    """10 A each on a leg of 12.5 A: 160 %; one on each leg is 80 %."""
    made = build(
        generator("gen", [branch("1", 20, "L1", "1a", "1b"), branch("2", 20, "L2", "2a", "2b")],
                  volts=240, running=3000, surge=3500, leg_amps=12.5, system="split-phase"),
        load("urn", 1200), load("kettle", 1200), wire("urn", "gen.1a"), wire("kettle", "gen.1b"),
    )  # fmt: skip
    best = offered(made, "power.leg")[0]
    assert best.kind == "move load"
    assert best.value is not None
    assert best.value.si / 12.5 == pytest.approx(0.8)


def test_c03_a_heater_behind_a_long_thin_cord() -> None:
    """1000 W through 100 ft of 16 AWG, 0.80 ohm out and back: 5.3 % are lost.

    The same power through 12 AWG, 1.588 ohm a thousand feet at 20 C (ASTM B258): 0.32 ohm, 2.2 %.
    """
    made = build(
        outlet("wall", electrical={"gfci": True}),
        extension("cord", "16 AWG", "100 ft"),
        load("urn", 1000, cord=None),
        wire("cord", "wall.1"),
        wire("urn", "cord.1"),
    )
    _, finding = said(made, "power.drop")
    assert finding.value is not None
    assert finding.value.si == pytest.approx(0.053, abs=0.005)
    found = offered(made, "power.drop")
    thicker = [one for one in found if one.kind == "thicker cord"]
    assert thicker, [words(one) for one in found]
    cord = thicker[0].build.run("wire cord").cord
    if cord.size.text == "12 AWG":
        assert thicker[0].value.si == pytest.approx(0.022, abs=0.006)
    assert thicker[0].value.si < finding.value.si


def test_c04_a_kettle_and_a_heater_on_a_16_a_lead() -> None:
    """2.5 and 2.0 kW at 230 V are 19.6 A on 16 A; one of them alone is 10.9 or 8.7 A."""
    made = build(
        outlet("wall", 230, 16, receptacle="CEE 7/3 R", ways=4, electrical={"gfci": True}),
        load("kettle", 2500, volts=230, plug="CEE 7/7 P"),
        load("urn", 2000, volts=230, plug="CEE 7/7 P"),
        wire("kettle", "wall.1"), wire("urn", "wall.2"), region="EU", units="metric",
    )  # fmt: skip
    found = offered(made, "power.total")
    assert kinds(found) == {"ask for a circuit"}
    left = {round(one.value.si, 1) for one in found if one.value is not None}
    assert left == {8.7, 10.9}


def test_c06_an_outlet_that_gives_500_w() -> None:
    made = build(
        outlet("stand", electrical={"limit": Power("500 W"), "gfci": True}),
        outlet("wall", electrical={"gfci": True}, at=("48 in", "-18 in")),
        load("machine", 1600),
        wire("machine", "stand.1"),
    )
    found = offered(made, "power.venue-limit")
    assert found[0].kind == "move load"
    assert "W instead of 1,600 W" in words(found[0])
    assert of_kind(found, "ask for a circuit").effort == 5


def test_c07_two_outlets_that_may_be_one_circuit() -> None:
    """10 and 12 A, 22 together on what is taken to be one circuit: a third circuit is asked for."""
    made = build(
        outlet("left", breaker=None, circuit=None, electrical={"gfci": True}),
        outlet("right", breaker=None, circuit=None, electrical={"gfci": True}),
        load("urn", 1200), load("kettle", 1440), wire("urn", "left.1"), wire("kettle", "right.1"),
    )  # fmt: skip
    found = offered(made, "power.total")
    assert kinds(found) == {"ask for a circuit"}
    assert {round(one.value.si) for one in found if one.value is not None} == {10, 12}
