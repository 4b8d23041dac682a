"""Static apart from flowing: how high the line goes with everything shut, and who may see it."""

import pytest
from building import build, drawn, heater, mains, pump, regulator, tank, tap, tee, tube
from msgspec.structs import replace

from cartlayout.build import Build, Tube
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Length, Pressure, Temperature, UnitSystem
from cartlayout.water import ALL_SHUT, WaterResult, alone, solve_water

BAR = 1e5
COUNTER = 30 * 0.0254
"""Height of the counter over the base of the test's cart [m]."""
BAR_A_METRE = 0.0979
"""Of water at 20 °C: 998.2 kg/m3 (any steam table) times 9.80665 m/s2."""


def judged(made: Build) -> tuple[WaterResult, list[Finding]]:
    network = make_network(made)
    result = solve_water(made, network)
    return result, list(rules(made, network, result))


def found(findings: list[Finding], code: str) -> Finding:
    (one,) = [finding for finding in findings if finding.code == code]
    return one


def test_at_rest_a_pump_stands_at_cut_out_and_flowing_it_is_judged_at_cut_in():
    """Common practice, no source: a demand pump that goes on and off gives a range."""
    made = build(
        tank("jug"),
        pump("pump", [("0 bar", "10 L/min"), ("4 bar", "6 L/min")], "2 bar", "3.5 bar"),
        tap("sink", drawn("2 L/min"), required_flow="2 L/min", least="0.5 bar", greatest="6 bar"),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "sink", "0.1 m", "12 mm"),
    )
    result, _ = judged(made)
    sink = result.tap("sink")
    climb = COUNTER * BAR_A_METRE
    assert sink.static_pa / BAR == pytest.approx(3.5 - climb, abs=0.005)
    assert sink.states[alone("sink")].lowest_pa / BAR == pytest.approx(2.0 - climb, abs=0.01)


def test_at_rest_mains_stand_at_their_greatest_and_a_regulator_creeps():
    """Of a regulator that is shut: its set point and what it creeps above it."""
    made = build(
        mains(
            "mains",
            "3 bar",
            connector="3/8 push-fit",
            level="base",
            height="2 in",
            water={"least": Pressure("2 bar"), "greatest": Pressure("5.5 bar")},
        ),
        tee("tee"),
        regulator("regulator", "2 bar", {"creep": Pressure("0.3 bar")}),
        tap("rinser", level="base", height="2 in"),
        tap("machine", level="base", height="2 in", greatest="2.2 bar", least="1 bar"),
        tube("mains", "tee.a"),
        tube("tee.b", "rinser"),
        tube("tee.c", "regulator"),
        tube("regulator", "machine"),
    )
    result, findings = judged(made)
    assert result.tap("rinser").static_pa / BAR == pytest.approx(5.5, abs=0.001)
    assert result.tap("machine").static_pa / BAR == pytest.approx(2.3, abs=0.001)
    assert found(findings, "water.static").items[0] == "machine"


def test_every_tube_says_how_high_both_its_ends_go():
    """The lower end stands higher, by 0.098 bar a metre."""
    made = build(
        mains("mains", "4 bar", connector="3/8 push-fit", level="base", height="2 in"),
        tap("sink"),
        tube("mains", "sink"),
    )
    result, _ = judged(made)
    (static,) = result.statics
    assert static.a_pa / BAR == pytest.approx(4.0, abs=0.001)
    assert (static.a_pa - static.b_pa) / BAR == pytest.approx(COUNTER * BAR_A_METRE, abs=0.001)
    assert static.highest_pa == static.a_pa
    assert result.cases[ALL_SHUT].pressures_pa["mains", "outlet"] == static.a_pa


PUSH_FIT = Tube(
    name="rated as push-fit is",
    outer=Length("15 mm"),
    bore=Length("12 mm"),
    material="polyethylene",
    rating=Pressure("16 bar"),
    rating_at=Temperature("30 degC"),
    warm_rating=Pressure("10 bar"),
    warm_rating_at=Temperature("65 degC"),
)
"""A textbook of the plumbing trade (Plumbing Book 1, table 2.16): push-fit holds 16 bar up to
30 °C, 10 bar up to 65 °C."""


def warm_line(heated_to: str, pressure: str) -> Build:
    level = {"level": "base", "height": "2 in"}
    made = build(
        mains("mains", pressure, connector="3/8 push-fit", **level),
        heater("heater", heated_to),
        tap("sink", drawn("2 L/min"), required_flow="2 L/min", greatest="20 bar", **level),
        tube("mains", "heater"),
        tube("heater", "sink"),
    )
    return replace(made, runs=tuple(replace(run, tube=PUSH_FIT) for run in made.runs))


@pytest.mark.parametrize(
    ("heated_to", "rating"), [("25 degC", 16.0), ("30 degC", 16.0), ("65 degC", 10.0)]
)
def test_a_rating_is_that_at_the_waters_temperature(heated_to, rating):
    result, _ = judged(warm_line(heated_to, "4 bar"))
    behind = next(one for one in result.statics if one.run == "tube heater sink")
    before = next(one for one in result.statics if one.run == "tube mains heater")
    assert before.rating_pa / BAR == pytest.approx(16.0)
    assert behind.rating_pa / BAR == pytest.approx(rating)


def test_what_a_cold_tube_holds_bursts_a_warm_one():
    _, findings = judged(warm_line("65 degC", "12 bar"))
    one = found(findings, "water.tube-rating")
    assert one.runs == ("tube heater sink",)
    assert one.limit.si / BAR == pytest.approx(10.0)
    (working,) = one.working
    assert "16.00 bar at 30" in working.shown(UnitSystem.METRIC)


def test_water_hotter_than_any_rating_is_stopped():
    _, findings = judged(warm_line("80 degC", "3 bar"))
    one = found(findings, "water.tube-too-hot")
    assert one.severity == "stop"
    assert one.runs == ("tube heater sink",)
    assert "rated up to 65" in one.text(UnitSystem.METRIC)
