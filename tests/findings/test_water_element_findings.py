"""What is said about heaters, cartridges, carbonators and ways to be fed."""

import itertools

import pytest
from building import (
    accumulator,
    build,
    check_valve,
    drawn,
    heater,
    load,
    mains,
    opening,
    pump,
    regulator,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)
from msgspec.structs import replace

from cartlayout.build import Bypass, Feed, Venue
from cartlayout.build.feeding import feed_by
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network, tube_named
from cartlayout.stock import entry
from cartlayout.units import (
    Concentration,
    Flow,
    Pressure,
    Temperature,
    UnitSystem,
    Volume,
)
from cartlayout.water import solve_water

PSI = 6894.757


def judged(*things, **more):
    made = build(*things, **more)
    network = make_network(made)
    return list(rules(made, network, solve_water(made, network)))


def one(findings, code):
    (found,) = [finding for finding in findings if finding.code == code]
    return found


def codes(findings):
    return {finding.code for finding in findings}


def line(run, name):
    """The same run as a tube of the tables."""
    return replace(run, tube=tube_named(name))


# --- heaters -----------------------------------------------------------------------------------


def heated(cut_in, cut_out, least="25 psi", flow="0.5 gal/min", pre_charge="8 psi", **more):
    return judged(
        tank("jug"),
        pump("pump", [("0 psi", "1.5 gal/min"), ("60 psi", "1 gal/min")], cut_in, cut_out),
        heater("heater", water={"least_pressure": Pressure(least)}, **more),
        accumulator("vessel", pre_charge=pre_charge),
        tap("sink", opening(flow, "8 psi"), least="8 psi", required_flow="0.2 gal/min"),
        tube("jug", "pump"),
        tube("pump", "vessel.a"),
        tube("vessel.b", "heater"),
        line(tube("heater", "sink"), "3/8 in PEX tube"),
    )


def test_a_heater_that_a_pump_can_never_light():
    """Reported by people who run carts: the pump stops at 20 psi, the heater needs 25 to light."""
    findings = heated("10 psi", "20 psi")
    found = one(findings, "water.heater-never")
    assert found.severity == "stop"
    assert found.items == ("heater", "pump", "sink")
    assert found.limit.si == pytest.approx(25 * PSI)
    assert found.value.si == pytest.approx(20 * PSI, rel=0.01)
    text = found.text(UnitSystem.US)
    assert "shuts off at 20.0 psi" in text
    assert "at any flow" in text
    assert "water.heater-off" not in codes(findings)


def test_a_heater_that_stays_cold_while_water_runs():
    """At rest there is enough; flowing, at cut-in, there is not."""
    findings = heated("20 psi", "30 psi")
    assert "water.heater-never" not in codes(findings)
    found = one(findings, "water.heater-off")
    assert found.severity == "stop"
    assert found.items == ("heater", "sink")
    assert found.value.si < 25 * PSI
    assert "runs cold" in found.text(UnitSystem.US)


def test_a_heater_with_enough_is_not_spoken_of():
    assert not {code for code in codes(heated("45 psi", "60 psi")) if "heater" in code}


def test_a_heater_needs_enough_flow_too():
    findings = judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        heater("heater", water={"least_flow": Flow("0.5 gal/min")}),
        tap("sink", drawn("0.3 gal/min"), required_flow="0.3 gal/min", level="base"),
        tube("mains", "heater"),
        line(tube("heater", "sink"), "3/8 in PEX tube"),
    )
    found = one(findings, "water.heater-off")
    assert found.limit.dimension == "flow"
    assert found.value.si / found.limit.si == pytest.approx(0.6, rel=1e-2)


def test_a_heater_that_could_burst():
    findings = judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        heater("heater", water={"greatest_pressure": Pressure("50 psi")}),
        tap("sink", level="base"),
        tube("mains", "heater"),
        line(tube("heater", "sink"), "3/8 in PEX tube"),
    )
    found = one(findings, "water.heater-pressure")
    assert found.severity == "stop"
    assert found.value.si == pytest.approx(60 * PSI, rel=0.01)


@pytest.mark.parametrize(
    ("between", "told"),
    # Plumbing codes on thermal expansion, from memory: where a check valve closes the line of a
    # storage heater, something takes what swells; an open line or an air cushion does.
    [
        ((), False),
        ((check_valve("check"),), True),
        ((regulator("check", "30 psi"),), True),
        ((check_valve("check"), accumulator("vessel")), False),
        ((accumulator("vessel"), check_valve("check")), True),
    ],
)
@pytest.mark.parametrize("instant", [False, True])
def test_water_that_swells_needs_room(between, told, instant):
    more = {"least_flow": Flow("0.1 gal/min")} if instant else {}
    chain = [
        mains("mains", "40 psi", connector="3/8 push-fit", level="base"),
        *between,
        heater("heater", water=more),
        tap("sink", level="base"),
    ]
    ports = {"vessel": ("a", "b")}
    tubes = [
        tube(
            f"{a.id}.{ports.get(a.id, ('inlet', 'outlet'))[1]}",
            f"{b.id}.{ports.get(b.id, ('inlet', 'outlet'))[0]}",
        )
        for a, b in itertools.pairwise(chain)
    ]
    found = [one for one in judged(*chain, *tubes) if one.code == "water.heater-closed"]
    assert bool(found) == (told and not instant)
    assert all(one.items == ("heater", "check") for one in found)


def test_more_water_than_its_watts_warm():
    """Handbook rule of instantaneous heaters: gal/min x 500 x degF = Btu/h, 3412 Btu/h a kilowatt.

    3.5 kW lift 1 gal/min by 23.9 degF, to 33 degC; it is set to 41.
    """
    found = one(
        judged(
            mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
            heater(
                "heater",
                "41 degC",
                water={"least_flow": Flow("0.3 gal/min")},
                electrical=load("x", 3500).specification.electrical,
            ),
            tap("sink", drawn("1 gal/min"), level="base"),
            tube("mains", "heater"),
            line(tube("heater", "sink"), "3/8 in PEX tube"),
        ),
        "water.heater-lukewarm",
    )
    assert found.value.si - 273.15 == pytest.approx(33.3, abs=0.3)
    assert found.working


@pytest.mark.parametrize(("allowed", "told"), [("49 degC", True), ("60 degC", False)])
def test_water_that_is_too_hot_for_what_is_behind(allowed, told):
    findings = judged(
        mains("mains", "40 psi", connector="3/8 push-fit", level="base"),
        heater("heater", "60 degC"),
        tap("sink", level="base", highest_temperature=allowed),
        tube("mains", "heater"),
        line(tube("heater", "sink"), "3/8 in PEX tube"),
    )
    assert ("water.temperature" in codes(findings)) == told
    if told:
        found = one(findings, "water.temperature")
        assert found.items == ("sink", "heater")
        assert found.value.si == pytest.approx(333.15)


@pytest.mark.parametrize(
    ("name", "told"),
    # Tube brochure: linear low-density polyethylene is for cold drinking water, heat above 70 degF
    # shortens its life; cross-linked polyethylene and copper are sold for hot water.
    [("3/8 in tube", True), ("3/8 in PEX tube", False), ("3/8 in OD copper tube", False)],
)
def test_tube_for_cold_water_behind_a_heater(name, told):
    findings = judged(
        mains("mains", "40 psi", connector="3/8 push-fit", level="base"),
        heater("heater", "60 degC"),
        tap("sink", level="base"),
        line(tube("mains", "heater"), "3/8 in tube"),
        line(tube("heater", "sink"), name),
    )
    assert ("water.tube-cold-only" in codes(findings)) == told
    if told:
        assert one(findings, "water.tube-cold-only").runs == ("tube heater sink",)


# --- cartridges and regulators -----------------------------------------------------------------


def test_a_refill_governs_the_filter_that_brewing_would_suit():
    """A machine refills at 2.5 L/min through a filter rated 1.9 L/min: 132 % (division)."""
    found = one(
        judged(
            mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
            water_filter("filter", rated_flow="1.9 L/min"),
            tap("machine", drawn("2.5 L/min"), required_flow="2.5 L/min", level="base"),
            tube("mains", "filter"),
            tube("filter", "machine"),
        ),
        "water.filter-flow",
    )
    assert found.value.si / found.limit.si == pytest.approx(1.32, abs=0.005)
    assert found.items == ("filter", "machine")
    assert "132" in found.text(UnitSystem.METRIC)


def cartridge(**more):
    return judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        water_filter(
            "filter",
            rated_flow="3 L/min",
            water={
                "capacity": Volume("1000 L"),
                "capacity_hardness": Concentration("10 dH"),
                "softens": True,
                "used": 0.9,
            },
        ),
        tap("machine", drawn("1.6 L/min"), required_flow="1.6 L/min", level="base"),
        tube("mains", "filter"),
        tube("filter", "machine"),
        **more,
    )


@pytest.mark.parametrize(("dh", "severity"), [(2, None), (5, "note"), (20, "note"), (60, "care")])
def test_a_cartridge_at_its_end(dh, severity):
    """By hand: 120 drinks of 0.35 L are 42 L a day; 1000 L x 10/dH x a tenth is what is left.

    At 2 degrees 500 L, twelve days; at 5 200 L, nearly five; at 20 50 L, more than one; at 60
    17 L, less than one.
    """
    venue = Venue(hardness=Concentration(f"{dh} dH"))
    found = [one for one in cartridge(venue=venue) if one.code == "water.filter-life"]
    assert [one.severity for one in found] == ([] if severity is None else [severity])
    assert all(one.working for one in found)


def test_a_regulator_beyond_its_rating():
    findings = judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        regulator("regulator", "40 psi", {"rated_flow": Flow("1 gal/min")}),
        tap("sink", drawn("1.5 gal/min"), required_flow="1.5 gal/min", level="base"),
        tube("mains", "regulator"),
        tube("regulator", "sink"),
    )
    found = one(findings, "water.regulator-flow")
    assert found.items == ("regulator",)
    assert found.value.si / found.limit.si == pytest.approx(1.5, rel=1e-3)


@pytest.mark.parametrize(("cut_out", "told"), [("55 psi", False), ("65 psi", True)])
def test_a_bypass_that_never_lets_the_switch_stop(cut_out, told):
    """Owners' article: bypass from about 40 psi, full at about 62, switch off at 55."""
    findings = judged(
        tank("jug"),
        pump(
            "pump",
            [("0 psi", "3 gal/min"), ("70 psi", "1.6 gal/min")],
            "30 psi",
            cut_out,
            water={"bypass": Bypass(opens=Pressure("40 psi"), full=Pressure("62 psi"))},
        ),
        tap("sink", level="base"),
        tube("jug", "pump"),
        tube("pump", "sink"),
    )
    assert ("water.bypass" in codes(findings)) == told
    assert "water.never-stops" not in codes(findings)


# --- very pure water ---------------------------------------------------------------------------


def probed(purifies, dissolved):
    return judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        water_filter("filter", rated_flow="3 L/min", water={"purifies": purifies}),
        tap(
            "machine",
            drawn("1.6 L/min"),
            required_flow="1.6 L/min",
            level="base",
            water={"level_probe": True},
        ),
        tube("mains", "filter"),
        tube("filter", "machine"),
        venue=Venue(dissolved=None if dissolved is None else Concentration(dissolved)),
    )


@pytest.mark.parametrize(
    ("purifies", "dissolved", "told"),
    # Reported by people who run carts: very pure water and a probe that feels the water's
    # conductivity do not go together. A coffee water guideline asks for 75 to 250 mg/L.
    [
        (True, None, True),
        (True, "150 mg/L", True),
        (False, "5 mg/L", True),
        (False, "150 mg/L", False),
        (False, "75 mg/L", False),
        (False, None, False),
    ],
)
def test_a_probe_that_does_not_see_very_pure_water(purifies, dissolved, told):
    findings = probed(purifies, dissolved)
    assert ("water.level-probe" in codes(findings)) == told
    if told:
        found = one(findings, "water.level-probe")
        assert found.severity == "care"
        assert found.items == (("machine", "filter") if purifies else ("machine",))
        assert "from memory" in found.source


# --- carbonators -------------------------------------------------------------------------------


def carbonated(*before, copper=""):
    """A carbonator behind some valves; the tubes on the way, one of them perhaps of copper."""
    ways = ["mains", *(item.id for item in before), "carbonator"]
    tubes = [tube(a, b) for a, b in itertools.pairwise(ways)]
    return judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        *before,
        tap("carbonator", drawn("1 gal/min"), level="base", water={"carbonates": True}),
        *(
            line(run, "3/8 in OD copper tube" if run.id == copper else "3/8 in tube")
            for run in tubes
        ),
    )


def vented(item_id="vented"):
    return check_valve(item_id, water={"vented": True})


def test_a_carbonator_without_anything_before_it():
    """Food Code 5-203.15 as in 2VAC5-585-2270: a double check with a vent, upstream of it."""
    found = one(carbonated(), "water.carbonator")
    assert found.severity == "stop"
    assert found.items == ("carbonator",)
    assert "5-203.15" in found.source
    assert "100 mesh" in found.detail.template


def test_a_plain_check_valve_is_not_enough():
    found = one(carbonated(check_valve("check")), "water.carbonator")
    assert found.items == ("carbonator", "check")


def test_a_vented_double_check_is():
    assert not {one for one in codes(carbonated(vented())) if "carbonator" in one}
    assert not {one for one in codes(carbonated(check_valve("check"), vented())) if "carb" in one}


@pytest.mark.parametrize(
    ("copper", "told"), [("tube mains vented", False), ("tube vented carbonator", True)]
)
def test_the_valve_stands_behind_all_copper(copper, told):
    """The same rule: "downstream from any copper in the water supply line"."""
    findings = carbonated(vented(), copper=copper)
    assert ("water.carbonator-copper" in codes(findings)) == told
    if told:
        assert one(findings, "water.carbonator-copper").runs == (copper,)


def test_a_second_way_round_the_valve():
    findings = judged(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        tee("before"),
        vented(),
        tee("behind"),
        tap("carbonator", drawn("1 gal/min"), level="base", water={"carbonates": True}),
        tube("mains", "before.a"),
        tube("before.b", "vented"),
        tube("vented", "behind.a"),
        tube("before.c", "behind.b"),
        tube("behind.c", "carbonator"),
    )
    assert "vented" in one(findings, "water.carbonator").items


def test_the_carbonator_of_the_stock_carbonates():
    assert entry("carbonator-120").specification.water.carbonates
    assert entry("dual-check").specification.water.vented
    assert not entry("check-valve").specification.water.vented


# --- how things are fed ------------------------------------------------------------------------


def machine(least="1.5 bar"):
    return tap(
        "machine",
        drawn("1.6 L/min"),
        required_flow="1.6 L/min",
        least=least,
        level="base",
        water={
            "feed": "internal pump",
            "other_feeds": (Feed(mode="own reservoir", reservoir=Volume("2 L")),),
        },
    )


def test_another_way_to_be_fed_is_judged_anew():
    made = build(tank("jug"), machine(), tube("jug", "machine"))
    network = make_network(made)
    plumbed = list(rules(made, network, solve_water(made, network)))
    # A jug on the base pushes nothing into a machine that wants 1.5 bar (barista training texts).
    assert {one.code for one in plumbed} & {"water.pressure", "water.not-fed", "water.flow"}
    by_hand = feed_by(made, "machine", "own reservoir")
    network = make_network(by_hand)
    findings = list(rules(by_hand, network, solve_water(by_hand, network)))
    assert not {one.code for one in findings} & {"water.pressure", "water.not-fed", "water.flow"}
    found = one(findings, "water.not-in-use")
    assert found.items == ("machine",)
    assert found.runs == ("tube jug machine",)
    assert "filled by hand" in found.text(UnitSystem.METRIC)


def test_a_machines_own_pump_starves_below_its_least_pressure():
    """Barista training texts: below 1.5 bar at its inlet a machine's pump cavitates."""
    findings = judged(
        mains("mains", "1.6 bar", connector="3/8 push-fit", level="base"),
        machine(),
        tube("mains", "machine", "5 m"),
    )
    found = one(findings, "water.pressure")
    assert "starves" in found.text(UnitSystem.METRIC)
    assert found.limit.si == pytest.approx(1.5e5)


def test_warm_water_of_the_venue_is_told_as_before():
    findings = judged(
        mains("mains", "40 psi", connector="3/8 push-fit", level="base"),
        tap("ice", level="base", highest_temperature="32 degC"),
        tube("mains", "ice"),
        venue=Venue(water_temperature=Temperature("35 degC")),
    )
    assert "venue's water" in one(findings, "water.temperature").text(UnitSystem.METRIC)
