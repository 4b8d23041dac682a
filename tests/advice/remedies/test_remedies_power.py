"""Remedies of the power side: amps by P = V I, drops by tables, what each sort of harm is offered.

Where a number is checked it is worked out here by hand. What has to be offered for what is logic
of our own: no source outside.
"""

import pytest
from building import (
    battery,
    box,
    branch,
    build,
    cord,
    extension,
    generator,
    load,
    outlet,
    strip,
    wire,
)
from remedies_asking import kinds, of_kind, offered, said, words

from cartlayout.advice.remedies import why_none
from cartlayout.analysis import analyse
from cartlayout.build import Venue
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import Current, Power


def two_outlets(*things, ways: int = 4, **more):
    return build(
        outlet("left", ways=ways, electrical={"gfci": True}),
        outlet("right", ways=ways, electrical={"gfci": True}, at=("48 in", "-18 in")),
        *things,
        **more,
    )


def overloaded():
    """1500 W and 1200 W at 120 V are 12.5 and 10 A, 22.5 A on a breaker of 20 A."""
    return two_outlets(
        load("kettle", 1500), load("urn", 1200), wire("kettle", "left.1"), wire("urn", "left.2")
    )


def test_an_overloaded_circuit_gives_a_load_away() -> None:
    found = offered(overloaded(), "power.total")
    best = found[0]
    assert best.kind == "move load"
    assert "12.5 A instead of 22.5 A" in words(best) or "10.0 A instead of 22.5 A" in words(best)
    # P = V I: what is left is one of the two alone.
    assert best.value is not None
    assert best.value.si in (pytest.approx(1500 / 120), pytest.approx(1200 / 120))
    assert best.effort == 0
    assert "ask for a circuit" in kinds(found)


def test_a_circuit_that_is_asked_for_is_the_smallest_that_carries_it() -> None:
    """1500 W for 10 min at 120 V: 12.5 A, so 15 A would do; a single receptacle of 15 or 20 A."""
    asked = of_kind(offered(overloaded(), "power.total"), "ask for a circuit")
    new = [item for item in asked.build.items if item.id not in ("left", "right", "kettle", "urn")]
    assert len(new) == 1
    role = new[0].specification.electrical
    assert role.gfci is True
    assert role.breaker.si >= 12.5
    assert asked.effort == 5
    assert any("electrician" in one for one in asked.cautions)


def test_several_plugs_are_moved_where_one_is_not_enough() -> None:
    """Six heaters of 960 W at 120 V are 8 A each: 48 A on one breaker, two fit on each of three."""
    heaters = [load(f"h{n}", 960) for n in range(6)]
    made = build(
        outlet("one", ways=6, electrical={"gfci": True}),
        outlet("two", ways=2, electrical={"gfci": True}),
        outlet("three", ways=2, electrical={"gfci": True}),
        *heaters,
        *(wire(f"h{n}", f"one.{n + 1}") for n in range(6)),
    )
    found = offered(made, "power.total")
    assert kinds(found) == {"rebalance"}
    assert words(found[0]).count(" into ") == 4
    assert all(one.amps[EVERYTHING_ON] == pytest.approx(16.0)
               for one in found[0].analysis.power.circuits)  # fmt: skip


def test_a_remedy_that_only_moves_the_overload_is_none() -> None:
    """The other circuit is as full: nothing may be put there."""
    made = two_outlets(
        load("kettle", 1500), load("urn", 1200), load("oven", 1500), load("grill", 700),
        wire("kettle", "left.1"), wire("urn", "left.2"), wire("oven", "right.1"),
        wire("grill", "right.2"),
    )  # fmt: skip
    found = offered(made, "power.total")
    assert "move load" not in kinds(found)
    assert kinds(found) <= {"ask for a circuit", "rebalance"}


def test_a_drop_is_cured_by_thicker_and_by_shorter_cords() -> None:
    """1440 W at 120 V: 12 A over 100 ft of 16 AWG, out and back.

    NEC 2023 chapter 9 table 8: 16 AWG, uncoated stranded copper, 4.99 ohm per 1000 ft at 75 C;
    a drop of 12 x 2 x 100 x 4.99 / 1000 = 12.0 V, near 10 %; at 20 C about 8 %.
    """
    made = two_outlets(
        extension("cord", "16 AWG", "100 ft"), load("urn", 1440), wire("cord", "left.1"),
        wire("urn", "cord.1"),
    )  # fmt: skip
    found = offered(made, "power.drop")
    assert "move load" in kinds(found)
    analysis, finding = said(made, "power.drop")
    shorter = [one for one in found if one.kind == "shorter cord"]
    assert shorter, [words(one) for one in found]
    assert finding.value is not None
    assert shorter[0].value is not None
    assert shorter[0].value.si < 0.02 < finding.value.si
    assert analysis.build.run("wire cord").cord is None


def test_a_cord_that_gets_too_hot_is_made_thicker() -> None:
    """14.4 A on 18 AWG, good for 10 A (NEC 2023 table 400.5(A)(1), two conductors)."""
    made = two_outlets(load("urn", 1728, cord=cord("18 AWG", "6 ft")), wire("urn", "left.1"))
    thicker = of_kind(offered(made, "power.cord"), "thicker cord")
    run = thicker.build.run("wire urn")
    assert run.cord.size.si > cord("18 AWG").size.si
    assert any("electrician" in one for one in thicker.cautions)
    assert "carries 14.4 A" in words(thicker)


def test_a_cord_that_does_not_reach() -> None:
    made = two_outlets(
        load("urn", 600, cord=cord("14 AWG", "2 ft"), at=("60 in", "15 in")), wire("urn", "left.1")
    )
    found = offered(made, "power.cord-short")
    assert "longer cord" in kinds(found)
    longer = of_kind(found, "longer cord")
    route = longer.analysis.network.routes["wire urn"]
    assert longer.build.run("wire urn").cord.length.si >= route.length_m


def test_strips_in_strips_go_into_the_wall() -> None:
    made = two_outlets(
        strip("a"), strip("b"), load("till", 60), wire("a", "left.1"), wire("b", "a.1"),
        wire("till", "b.1"),
    )  # fmt: skip
    best = offered(made, "power.chained-strips")[0]
    assert best.items[0] == "b"
    assert best.items[1] in ("left", "right")


def test_a_strip_over_its_rating_gives_a_load_to_the_wall() -> None:
    made = two_outlets(
        strip("a", rating=15), load("urn", 1200), load("kettle", 1200), wire("a", "left.1"),
        wire("urn", "a.1"), wire("kettle", "a.2"),
    )  # fmt: skip
    found = offered(made, "power.strip")
    assert found[0].kind == "move load"
    assert "10.0 A instead of 20.0 A" in words(found[0])
    assert "exchange" in kinds(found) or len(found) == 4


def test_a_leg_of_a_generator_gives_a_load_to_the_other() -> None:
    """Two of 1200 W on one leg of 120 V are 20 A; a leg gives 12.5 A."""
    made = build(
        generator(
            "gen", [branch("1", 20, "L1", "1a", "1b"), branch("2", 20, "L2", "2a")], volts=240,
            running=3000, surge=3500, leg_amps=12.5, system="split-phase",
        ),
        load("urn", 1200), load("kettle", 1200), wire("urn", "gen.1a"), wire("kettle", "gen.1b"),
    )  # fmt: skip
    best = offered(made, "power.leg")[0]
    assert best.kind == "move load"
    assert "10.0 A instead of 20.0 A" in words(best)


def test_a_generator_that_is_too_small_is_exchanged() -> None:
    made = build(
        generator("gen", [branch("1", 30, "L", "1", "2")], volts=120, running=1600, surge=2000,
                  receptacles={"1": "5-20R", "2": "5-20R"}),
        load("urn", 1200), load("kettle", 1100), wire("urn", "gen.1"), wire("kettle", "gen.2"),
    )  # fmt: skip
    found = offered(made, "power.generator")
    assert "exchange" in kinds(found)
    assert of_kind(found, "exchange").effort == 4


def test_an_inverter_and_its_battery() -> None:
    made = build(
        battery("pack", energy_wh=1200, running=1500, ways=2),
        outlet("wall", electrical={"gfci": True}),
        load("urn", 1000), load("kettle", 900), wire("urn", "pack.1"), wire("kettle", "pack.2"),
    )  # fmt: skip
    best = offered(made, "power.inverter")[0]
    assert best.kind == "move load"
    assert best.items[1] == "wall"


def test_what_gets_the_wrong_voltage_finds_its_own() -> None:
    made = build(
        outlet("us", 120, electrical={"gfci": True}),
        outlet("eu", 230, 16, receptacle="CEE 7/3 R", electrical={"gfci": True}),
        load("grinder", 300, volts=120, plug="CEE 7/7 P", heater=False),
        wire("grinder", "eu.1"),
        region="EU",
    )
    analysis, finding = said(made, "power.wrong-voltage")
    assert why_none(finding)
    assert analysis.count("stop") >= 1


def test_a_circuit_of_its_own() -> None:
    made = two_outlets(
        load("machine", 1500, electrical={"needs_own_circuit": True}), load("till", 60),
        wire("machine", "left.1"), wire("till", "left.2"),
    )  # fmt: skip
    found = offered(made, "power.own-circuit")
    assert found[0].kind == "move load"
    assert len(found) >= 2


def test_no_protection_outdoors() -> None:
    made = build(
        outlet("bare", electrical={"gfci": False}, ways=2),
        outlet("safe", electrical={"gfci": True}, ways=2, at=("48 in", "-18 in")),
        load("urn", 900), wire("urn", "bare.1"), venue=Venue(outdoors=True),
    )  # fmt: skip
    found = offered(made, "power.no-leakage-protection")
    assert found[0].kind == "move load"
    assert found[0].items[1] == "safe"
    protect = of_kind(found, "protect outlet")
    assert protect.build.item("bare").specification.electrical.gfci is True
    assert any("electrician" in one for one in protect.cautions)


def test_leakage_is_spread_over_two_devices() -> None:
    """3.3 mA each: 6.6 mA behind one Class A device, which trips at 6 (NEC Article 100, 2023)."""
    leak = {"leakage": Current("3.3 mA")}
    made = two_outlets(
        load("urn", 900, electrical=leak), load("kettle", 900, electrical=leak),
        wire("urn", "left.1"), wire("kettle", "left.2"),
    )  # fmt: skip
    best = offered(made, "power.leakage")[0]
    assert "3.3 mA instead of 6.6 mA" in words(best)


def test_what_is_not_plugged_in_is_plugged_in() -> None:
    best = offered(two_outlets(load("till", 60)), "power.not-plugged-in")[0]
    assert best.kind == "move load"
    assert "Circuit" in words(best)
    many = two_outlets(*(load(f"t{n}", 60) for n in range(5)))
    all_in = offered(many, "power.not-plugged-in")[0]
    assert all_in.kind == "plug in"
    assert len(all_in.build.wires) == 5


def test_without_any_supply_circuits_are_asked_for() -> None:
    """1500 W and 1440 W at 120 V: 12.5 + 12 A are more than any 20 A circuit, so two."""
    best = offered(build(load("urn", 1500), load("kettle", 1440)), "power.no-supply")[0]
    assert best.kind == "ask for a circuit"
    assert len(best.analysis.power.circuits) == 2
    assert not [one for one in best.analysis.findings if one.code.startswith("power.")]


def test_a_plug_that_does_not_fit_goes_where_it_fits() -> None:
    made = build(
        outlet("big", 240, 30, receptacle="14-50R", electrical={"system": "split-phase"}),
        outlet("wall", electrical={"gfci": True}),
        load("till", 60),
        wire("till", "big.1"),
    )
    best = offered(made, "network.power.misfit")[0]
    assert best.kind == "move load"
    assert best.items[1] == "wall"


def test_the_venues_limit_asks_for_another_circuit() -> None:
    made = build(
        outlet("stand", electrical={"limit": Power("1000 W"), "gfci": True}),
        outlet("wall", electrical={"gfci": True}),
        load("urn", 800), load("kettle", 700), wire("urn", "stand.1"), wire("kettle", "stand.2"),
    )  # fmt: skip
    best = offered(made, "power.venue-limit")[0]
    assert "W instead of 1,500 W" in words(best)


@pytest.mark.parametrize(
    "code",
    ["power.circuit-assumed", "power.nameplate", "power.charging", "power.transformer"],
)
def test_what_only_somebody_else_knows_has_its_reason(code: str) -> None:
    made = build(
        outlet("wall", breaker=None, circuit=None), load("urn", 900, 5.0), wire("urn", "wall.1")
    )
    finding = next(
        (one for one in analyse(made).findings if one.code == code), analyse(made).findings[0]
    )
    assert why_none(finding)


def test_a_full_box_gives_a_load_to_the_wall() -> None:
    made = build(
        outlet("feed", 240, 30, receptacle="14-50R",
               electrical={"system": "split-phase", "gfci": True}),
        outlet("wall", electrical={"gfci": True}),
        box("box", [branch("1", 20, "L1", "1a", "1b"), branch("2", 20, "L1", "2a", "2b")], main=30),
        wire("box", "feed.1"),
        *(load(f"h{n}", 1080) for n in range(4)),
        wire("h0", "box.1a"), wire("h1", "box.1b"), wire("h2", "box.2a"), wire("h3", "box.2b"),
    )  # fmt: skip
    found = offered(made, "power.main")
    assert found[0].kind == "move load"
    assert "27.0 A instead of 36.0 A" in words(found[0])
