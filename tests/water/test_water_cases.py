"""Situations of carts, and facts of the trade, as builds: what the water side must say."""

import pytest
from building import (
    accumulator,
    basin,
    build,
    check_valve,
    drawn,
    fill,
    floor_drain,
    gauge,
    mains,
    opening,
    point,
    pump,
    regulator,
    shut_off,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)

from cartlayout.build import Build, OperatingCase, Service
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Duration, Flow, Length, Pressure, UnitSystem, Volume
from cartlayout.water import ALL_OPEN, ALL_SHUT, WaterResult, alone, solve_water

PSI = 6894.757
BAR = 1e5
GALLON = 3.785411784e-3
GPM = GALLON / 60
L_MIN = 1.0 / 60_000.0


def judged(*things: object, **more: object) -> tuple[WaterResult, list[Finding]]:
    made: Build = build(*things, **more)
    network = make_network(made)
    result = solve_water(made, network)
    return result, list(rules(made, network, result))


def codes(findings: list[Finding]) -> set[str]:
    return {finding.code for finding in findings}


def one(findings: list[Finding], code: str) -> Finding:
    (found,) = [finding for finding in findings if finding.code == code]
    return found


# --- situations reported by people who run or service carts ------------------------------------


def test_heater_that_a_pump_can_never_light():
    """A pump shuts off at 20 psi, the heater needs 25 psi to light: at no flow can it."""
    result, findings = judged(
        tank("jug"),
        pump("pump", [("0 psi", "1.5 gal/min"), ("40 psi", "1 gal/min")], "10 psi", "20 psi"),
        tap("heater", opening("0.5 gal/min", "25 psi"), least="25 psi", level="base"),
        tube("jug", "pump"),
        tube("pump", "heater"),
    )
    assert result.tap("heater").static_pa == pytest.approx(20 * PSI, rel=0.02)
    found = one(findings, "water.never")
    assert found.severity == "stop"
    assert found.items == ("heater", "pump")
    assert found.limit.si == pytest.approx(25 * PSI)
    text = found.text(UnitSystem.US)
    assert "25.0 psi" in text
    assert "shuts off at 20.0 psi" in text
    assert "at any flow" in text
    assert "water.flow" not in codes(findings)


def test_waste_tank_no_larger_than_the_fresh_one():
    """40 gal fresh ask for 46 gal of waste (15 % more); some places ask for half as much again.

    FDA Food Code 5-401.11, as in Ohio Adm. Code 3717-1-05.3(A); California HSC 114240.
    """
    result, findings = judged(tank("fresh", "40 gal"), tank("waste", "40 gal", "waste"))
    assert result.balance.waste_needed / GALLON == pytest.approx(46.0, rel=1e-6)
    found = one(findings, "water.waste-ratio")
    assert found.severity == "stop"
    text = found.text(UnitSystem.US)
    assert "40.0 gal" in text
    assert "46.0 gal" in text
    assert "California" in text
    assert "46.0" not in one(findings, "water.waste-ratio").title.template  # numbers are values
    _, enough = judged(tank("fresh", "40 gal"), tank("waste", "46 gal", "waste"))
    assert "water.waste-ratio" not in codes(enough)


def test_litre_vessel_gives_a_quarter_of_a_litre():
    """1 L, pre-charge 27 psi, 30 on and 45 off: about 0.23 L useful."""
    result, findings = judged(*vessel_line("27 psi"))
    assert result.pumps[0].useful_volume == pytest.approx(0.23e-3, rel=0.03)
    assert "water.pre-charge" not in codes(findings)
    assert "water.no-accumulator" not in codes(findings)


def test_vessel_charged_above_cut_in_bangs_at_every_start():
    """Pre-charge 35 psi with a cut-in of 30 psi: empty before the pump starts."""
    _, findings = judged(*vessel_line("35 psi"))
    found = one(findings, "water.pre-charge")
    assert set(found.items) == {"vessel", "pump"}
    assert found.limit.si == pytest.approx(30 * PSI)
    # Well-tank fitting instructions: 2 psi below cut-in.
    assert "28.0 psi" in found.text(UnitSystem.US)


def vessel_line(pre_charge: str) -> tuple[object, ...]:
    return (
        tank("jug"),
        pump("pump", cut_in="30 psi", cut_out="45 psi"),
        accumulator("vessel", "1 L", pre_charge),
        tap("rinser", opening("0.5 gal/min", "20 psi"), required_flow="0.5 gal/min"),
        tube("jug", "pump"),
        tube("pump", "vessel.a"),
        tube("vessel.b", "rinser"),
    )


def test_the_fill_governs_a_filter():
    """A machine fills at 2.5 L/min through a filter rated 1.9 L/min: 132 % of its rating."""
    result, findings = judged(
        mains("mains", "2.2 bar", connector="3/8 push-fit"),
        water_filter("filter", point("1.9 L/min", "0.6 bar"), rated_flow="1.9 L/min"),
        tap(
            "machine",
            drawn("2.5 L/min"),
            required_flow="2.5 L/min",
            least="1.5 bar",
            greatest="6 bar",
        ),
        tube("mains", "filter"),
        tube("filter", "machine"),
    )
    found = one(findings, "water.filter-flow")
    assert found.value.si / found.limit.si == pytest.approx(1.32, abs=0.005)
    assert "132%" in found.text(UnitSystem.METRIC).replace(" %", "%")
    assert found.items == ("filter", "machine")
    # The line of the filter at 2.5 L/min takes 0.6 x 2.5 / 1.9 = 0.79 bar, the climb 0.1 bar.
    low = one(findings, "water.pressure")
    assert low.limit.si == pytest.approx(1.5 * BAR)
    assert result.tap("machine").states[alone("machine")].pressure_pa < 1.5 * BAR


# --- facts of the trade: common practice, no source --------------------------------------------


def cart_line(greatest: str = "6 bar") -> tuple[object, ...]:
    return (
        tank("jug"),
        pump("pump", rating="1.9 gal/min, 60 psi"),
        accumulator("vessel", "1 L", "43 psi"),
        water_filter("filter"),
        tee("tee"),
        tap(
            "rinser",
            opening("1.9 gal/min", "30 psi"),
            required_flow="1.9 gal/min",
            least="20 psi",
            greatest="100 psi",
        ),
        tap(
            "machine",
            drawn("1.6 L/min"),
            required_flow="1.6 L/min",
            least="1 bar",
            greatest=greatest,
        ),
        tube("jug", "pump", "0.3 m"),
        tube("pump", "vessel.a", "0.3 m"),
        tube("vessel.b", "filter", "0.3 m"),
        tube("filter", "tee.a", "0.3 m"),
        tube("tee.b", "rinser", "1 m"),
        tube("tee.c", "machine", "1 m"),
    )


def test_a_60_psi_pump_is_no_danger_to_a_machine_that_bears_6_bar():
    """60 psi are 4.14 bar: the static pressure passes a limit of 6 bar (87 psi)."""
    result, findings = judged(*cart_line())
    machine = result.tap("machine")
    # The machine's inlet stands 30 in above the pump's.
    assert machine.static_pa == pytest.approx(60 * PSI - 0.762 * 9790, rel=0.002)
    assert machine.states[ALL_SHUT].pressure_ok
    assert "water.static" not in codes(findings)


def test_two_ends_of_a_pumps_rating():
    """1.9 gal/min and 60 psi never come together: the rinser's flow is judged on the curve."""
    result, findings = judged(*cart_line())
    rinser = result.tap("rinser")
    state = rinser.states[alone("rinser")]
    assert not state.flow_ok
    assert 0.5 * 1.9 * GPM < state.flow < 0.8 * 1.9 * GPM
    (found,) = [f for f in findings if f.code == "water.flow" and f.items[0] == "rinser"]
    assert found.severity == "stop"
    assert found.items[-1] == "pump"
    text = found.text(UnitSystem.US)
    assert "'1.9 gal/min, 60 psi' are two ends of its curve" in text
    assert "of 1.90 gal/min" in text
    # The pump's straight line, read at the flow it gives.
    given = result.cases[alone("rinser")].source_flow["pump"]
    outlet_pa = result.cases[alone("rinser")].pressures_pa["pump", "outlet"]
    inlet_pa = result.cases[alone("rinser")].pressures_pa["pump", "inlet"]
    assert outlet_pa - inlet_pa == pytest.approx(60 * PSI * (1 - given / (1.9 * GPM)), rel=1e-3)


def test_pressure_after_the_filter_is_less_and_depends_on_flow():
    result, _ = judged(*cart_line())
    lost = {}
    for name in (ALL_SHUT, alone("machine"), alone("rinser")):
        at = result.cases[name].pressures_pa
        lost[name] = at["filter", "inlet"] - at["filter", "outlet"]
    assert lost[ALL_SHUT] == pytest.approx(0.0, abs=1.0)
    assert 0.0 < lost[alone("machine")] < lost[alone("rinser")]
    # Its sheet: 8 psi at 1.5 gal/min, and a bed of grain loses with the flow (Darcy).
    flow = result.tap("machine").states[alone("machine")].flow
    assert lost[alone("machine")] == pytest.approx(8 * PSI * flow / (1.5 * GPM), rel=1e-3)
    # The tap is judged behind it.
    ladder = [step.id for step in result.tap("rinser").ladder]
    assert ladder.index("pump") < ladder.index("filter") < len(ladder) - 1


def test_a_regulator_serves_the_one_appliance_that_needs_less():
    """Mains of 80 psi, a machine that bears 4 bar: a regulator set to 3 bar before it alone."""
    line = (
        mains("mains", "80 psi", connector="3/8 push-fit"),
        tee("tee"),
        regulator("regulator", "3 bar", {"creep": Pressure("0.2 bar")}),
        tap("machine", drawn("2 L/min"), required_flow="2 L/min", greatest="4 bar"),
        tap("sink", opening("1 gal/min", "20 psi"), greatest="100 psi"),
        tube("mains", "tee.a"),
        tube("tee.b", "regulator"),
        tube("regulator", "machine"),
        tube("tee.c", "sink"),
    )
    result, findings = judged(*line)
    assert "water.static" not in codes(findings)
    # Shut, it creeps above its set point; the machine stands higher than the regulator.
    assert result.tap("machine").static_pa == pytest.approx(3.2 * BAR - 0.762 * 9790, rel=0.005)
    assert result.tap("sink").static_pa > 78 * PSI
    taken_out = ("regulator", "tube tee.b regulator", "tube regulator machine")
    bare, without = judged(
        *(part for part in line if part.id not in taken_out), tube("tee.b", "machine")
    )
    found = one(without, "water.static")
    assert found.items[0] == "machine"
    assert found.limit.si == pytest.approx(4 * BAR)
    assert not bare.tap("machine").states[ALL_SHUT].pressure_ok


def test_unknown_mains_are_to_be_gauged_behind_the_filter():
    _, findings = judged(
        mains("mains", "50 psi", connector="3/8 push-fit"),
        tap("sink", opening("1 gal/min", "20 psi")),
        tube("mains", "sink"),
    )
    found = one(findings, "water.mains-unknown")
    assert found.severity == "note"
    assert "behind the filter" in found.text(UnitSystem.US)


def test_mains_between_two_pressures_are_judged_at_both_ends():
    """Least 1 bar starves the tap, greatest 7 bar is too much for it, the usual 3 bar neither."""
    limits = {"least": Pressure("1 bar"), "greatest": Pressure("7 bar")}
    result, findings = judged(
        mains("mains", "3 bar", connector="3/8 push-fit", water=limits),
        tap(
            "machine", drawn("2 L/min"), required_flow="2 L/min", least="1.5 bar", greatest="6 bar"
        ),
        tube("mains", "machine"),
    )
    assert result.tap("machine").static_pa > 6 * BAR
    assert {"water.static", "water.pressure"} <= codes(findings)
    assert "water.mains-unknown" not in codes(findings)


def test_mains_fall_with_the_square_of_the_flow():
    """60 psi static, 50 psi at 4 gal/min: at 2 gal/min 57.5 psi (hydrant-test practice)."""
    result, _ = judged(
        mains("mains", "60 psi", connector="3/8 push-fit", residual=point("4 gal/min", "50 psi")),
        tap("sink", drawn("2 gal/min")),
        tube("mains", "sink", "0.1 m", "25 mm"),
    )
    at = result.cases[alone("sink")].pressures_pa["mains", "outlet"]
    assert at / PSI == pytest.approx(57.5, abs=0.01)
    assert result.cases[alone("sink")].source_flow["mains"] == pytest.approx(2 * GPM, rel=1e-4)


# --- taps that get nothing ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("things", "words"),
    [
        ((tee("tee"), tube("tee.a", "sink")), "no tank and no mains"),
        ((tank("jug", fill=0.0), tube("jug", "sink")), "below its pick-up"),
        (
            (mains("m"), shut_off("valve", is_open=False), tube("m", "valve.a"),
             tube("valve.b", "sink")),
            "valve is shut",
        ),
        (
            (mains("m"), check_valve("check"), tube("m.outlet", "check.outlet"),
             tube("check.inlet", "sink")),
            "wrong way round",
        ),
        ((tank("jug"), tube("jug", "sink")), "nothing pumps it"),
    ],
)  # fmt: skip
def test_why_a_tap_gets_no_water(things, words):
    result, findings = judged(tap("sink"), *things)
    assert not result.tap("sink").fed
    assert result.tap("sink").static_pa == 0.0
    found = one(findings, "water.not-fed")
    assert found.severity == "stop"
    assert found.items[0] == "sink"
    assert found.runs
    assert words in found.text(UnitSystem.US)


def test_a_tap_without_a_tube_is_no_disaster():
    result, findings = judged(tap("sink"), tank("jug"))
    assert not result.tap("sink").fed
    assert one(findings, "water.unconnected").severity == "care"


def test_an_internal_pump_may_draw_from_below_as_far_as_its_maker_allows():
    result, _ = judged(
        tank("jug", level="base"),
        tap("brewer", drawn("0.5 L/min"), required_flow="0.5 L/min", least="-0.2 bar"),
        tube("jug", "brewer"),
    )
    state = result.tap("brewer").states[alone("brewer")]
    assert state.flow == pytest.approx(0.5 * L_MIN, rel=1e-3)
    assert -0.2 * BAR < state.pressure_pa < 0.0
    assert state.pressure_ok


def test_a_drawn_flow_the_line_cannot_give_is_cut_short():
    """10 m of 4 mm tube on 0.5 bar cannot give 10 L/min; no pressure goes below the air's."""
    result, findings = judged(
        mains("m", "0.5 bar", connector="3/8 push-fit"),
        tap("machine", drawn("10 L/min"), required_flow="10 L/min", least="0.2 bar", level="base"),
        tube("m", "machine", "10 m", "4 mm"),
    )
    state = result.tap("machine").states[alone("machine")]
    assert 0.0 < state.flow < 1 * L_MIN
    assert state.pressure_pa == pytest.approx(0.0, abs=50)
    assert not state.flow_ok
    assert "water.flow" in codes(findings)


# --- the rest of the line ----------------------------------------------------------------------


def test_own_cases_and_automatic_ones():
    result, _ = judged(*cart_line(), cases=(
        OperatingCase(name="Rush", taps=("rinser", "machine")),
        OperatingCase(name=ALL_SHUT, taps=("rinser",)),
    ))  # fmt: skip
    assert list(result.cases) == [
        ALL_SHUT, alone("rinser"), alone("machine"), ALL_OPEN, "Rush", f"{ALL_SHUT} (2)",
    ]  # fmt: skip
    assert result.tap("rinser").states["Rush"].open
    assert result.tap("rinser").states["Rush"].flow == pytest.approx(
        result.tap("rinser").states[ALL_OPEN].flow, rel=1e-6
    )
    assert result.tap("rinser").states[f"{ALL_SHUT} (2)"].open


def test_two_taps_of_one_name_are_told_apart():
    result, _ = judged(
        mains("m", connector="3/8 push-fit"), tee("t"), tap("a", label="Sink"),
        tap("b", label="Sink"), tube("m", "t.a"), tube("t.b", "a"), tube("t.c", "b"),
    )  # fmt: skip
    assert [one.name for one in result.taps] == ["Sink", "Sink (2)"]
    assert alone("Sink (2)") in result.cases


def test_fast_water_thin_ratings_and_short_gauges():
    """8 ft/s is the Copper Tube Handbook's limit for cold water."""
    weak = tube("m", "gauge-tee.a", "0.3 m", "4 mm", run_id="thin")
    weak = weak.__class__(
        id=weak.id, a=weak.a, b=weak.b, length=weak.length,
        tube=weak.tube.__class__(
            name="own tube", outer=Length("6 mm"), bore=Length("4 mm"), material="polyethylene",
            rating=Pressure("3 bar"), potable=False,
        ),
    )  # fmt: skip
    _, findings = judged(
        mains("m", "5 bar", connector="3/8 push-fit"),
        tee("gauge-tee"),
        gauge("gauge", "60 psi"),
        tap("sink", opening("2 gal/min", "20 psi")),
        weak,
        tube("gauge-tee.b", "sink", "0.3 m", "9 mm"),
        tube("gauge-tee.c", "gauge.a", "0.1 m"),
    )
    fast = one(findings, "water.velocity")
    assert fast.runs[0] == "thin"
    assert fast.limit.si == pytest.approx(8 * 0.3048, rel=1e-6)
    assert one(findings, "water.tube-rating").runs == ("thin",)
    assert one(findings, "water.not-potable").runs == ("thin",)
    assert one(findings, "water.gauge-scale").items == ("gauge",)


def test_a_pump_too_high_above_its_tank():
    things = (
        tank("jug", at=("10 in", "10 in")),
        pump("pump", level="counter", raised=Length("2 m")),
        tap("sink", opening("0.5 gal/min", "10 psi"), required_flow="0.5 gal/min"),
        tube("jug", "pump"),
        tube("pump", "sink"),
    )
    _, findings = judged(*things)
    found = one(findings, "water.lift")
    assert found.severity == "stop"
    assert found.items == ("pump", "jug")
    # Counter at 36 in plus 2 m against a tank on the base at 6 in.
    assert found.value.si == pytest.approx(2.0 + 30 * 0.0254 + 2 * 0.0254, abs=0.01)


def test_drains():
    """No drain, a drain that leads nowhere safe, and one into the venue's drain."""
    _, without = judged(basin("dump sink"))
    assert one(without, "water.no-drain").items == ("dump sink",)
    result, drained = judged(
        basin("dump sink"), floor_drain("drain"), tank("jug"), tube("dump sink.drain", "drain")
    )
    assert result.balance.to_drain
    assert not {"water.no-drain", "water.waste-ratio"} & codes(drained)
    _, tanked = judged(
        basin("dump sink"), tank("waste", "6 gal", "waste"), tank("jug"),
        tube("dump sink.drain", "waste"),
    )  # fmt: skip
    assert "water.waste-ratio" not in codes(tanked)


def test_how_long_the_water_lasts():
    """4 h of 30 drinks at 0.35 + 0.2 L use 66 L; 20 L last 1.2 h."""
    service = Service(hours=Duration("4 h"), drinks_per_hour=30)
    _, findings = judged(tank("fresh", "20 L"), tank("waste", "25 L", "waste"), service=service)
    found = one(findings, "water.runs-out")
    assert found.limit.si == pytest.approx(66e-3)
    assert "1.2" in found.text(UnitSystem.METRIC)


def test_how_soon_the_waste_is_full():
    """4 h of 30 drinks rinse with 0.2 L each, 24 L; 6 L of ice besides: 25 L are full in 3.3 h."""
    service = Service(hours=Duration("4 h"), drinks_per_hour=30, waste_besides_fresh=Volume("6 L"))
    things = tank("fresh", "20 L"), tank("waste", "25 L", "waste")
    _, findings = judged(*things, service=service)
    found = one(findings, "water.fills-up")
    assert found.value.si == pytest.approx(30e-3)
    assert "3.3 h" in found.text(UnitSystem.METRIC)
    _, findings = judged(*things, service=Service(drinks_per_hour=20))
    assert "water.fills-up" not in {one.code for one in findings}


def test_a_fill_flows_against_its_back_pressure():
    """Rated 2 L/min at an inlet of 3 bar against 1 bar: half that at 1.5 bar (square root)."""
    result, _ = judged(
        mains("m", "1.5 bar", connector="3/8 push-fit"),
        tap("boiler", fill("2 L/min", "3 bar", "1 bar"), required_flow="0.5 L/min",
            least="0.5 bar", level="venue"),
        tube("m", "boiler", "0.1 m", "25 mm"),
    )  # fmt: skip
    state = result.tap("boiler").states[alone("boiler")]
    assert state.flow == pytest.approx(1.0 * L_MIN, rel=0.01)


def test_used_filter_takes_twice_its_clean_loss():
    def lost(used: float) -> float:
        result, _ = judged(
            mains("m", "4 bar", connector="3/8 push-fit"),
            water_filter("f", water={"used": used}),
            tap("sink", drawn("1 gal/min")),
            tube("m", "f"),
            tube("f", "sink"),
        )
        at = result.cases[alone("sink")].pressures_pa
        return at["f", "inlet"] - at["f", "outlet"]

    assert lost(1.0) == pytest.approx(2 * lost(0.0), rel=1e-3)
    assert Flow("1 gal/min").si == pytest.approx(GPM)
