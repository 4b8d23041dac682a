"""What happened to people who run carts, written to a file and asked of `cartlayout check`.

The verdicts are theirs; where another source stands behind one it is named beside it.
"""

import json
from pathlib import Path

import pytest
from building import (
    accumulator,
    basin,
    build,
    drawn,
    mains,
    opening,
    point,
    pump,
    tank,
    tap,
    tube,
    water_filter,
)
from msgspec.structs import replace

from cartlayout.build import Build, Service, Venue, WayPoint
from cartlayout.build.file import save
from cartlayout.cli import main
from cartlayout.units import Concentration, Length, Volume

Told = dict[str, dict[str, object]]


@pytest.fixture
def check(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """Findings by code, and the page as people read it."""

    def check_(*things: object, **more: object) -> tuple[Told, str]:
        made: Build = build(*things, **more)
        path = tmp_path / "case.cart"
        save(made, path)
        code = main(["check", str(path), "--json", "--units", "US"])
        told = json.loads(capsys.readouterr().out)
        assert main(["check", str(path), "--units", "US"]) == code
        stops = [one for one in told["findings"] if one["severity"] == "stop"]
        assert code == (1 if stops else 0)
        return {one["code"]: one for one in told["findings"]}, capsys.readouterr().out

    return check_


def vessel_line(pre_charge: str) -> tuple[object, ...]:
    """A pump that goes on at 30 psi and off at 45, with a vessel of a litre, and a rinser."""
    return (
        tank("jug"),
        pump("pump", cut_in="30 psi", cut_out="45 psi"),
        accumulator("vessel", "1 L", pre_charge),
        tap("rinser", opening("0.5 gal/min", "20 psi"), required_flow="0.5 gal/min", level="base"),
        tube("jug", "pump", "1 m"),
        tube("pump", "vessel.a", "1 m"),
        tube("vessel.b", "rinser", "1 m"),
    )


def test_heater_that_a_pump_can_never_light(check):
    """The pump shuts off at 20 psi, the heater lights at 25 psi: not at any flow."""
    findings, page = check(
        tank("jug"),
        pump("pump", [("0 psi", "1.5 gal/min"), ("40 psi", "1 gal/min")], "10 psi", "20 psi"),
        tap("heater", opening("0.5 gal/min", "25 psi"), least="25 psi", level="base"),
        tube("jug", "pump", "1 m"),
        tube("pump", "heater", "1 m"),
    )
    assert findings["water.never"]["severity"] == "stop"
    assert findings["water.never"]["items"] == ["heater", "pump"]
    for words in ("[stop]", "shuts off at 20.0 psi", "25.0 psi", "at any flow"):
        assert words in " ".join(page.split())


def test_a_litre_vessel_gives_a_quarter_of_a_litre(check):
    """1 L x 41.7 psia x (1/44.7 - 1/59.7) = 0.234 L (Boyle, in absolute pressures)."""
    findings, page = check(
        *vessel_line("27 psi"), service=Service(drinks_per_hour=60, water_per_drink=Volume("0.2 L"))
    )
    assert "water.pre-charge" not in findings
    page = " ".join(page.split())
    assert "234 mL useful" in page
    assert "starts an hour" in page


def test_a_vessel_charged_above_cut_in_is_empty_before_the_pump_starts(check):
    findings, _ = check(*vessel_line("35 psi"))
    found = findings["water.pre-charge"]
    assert set(found["items"]) == {"vessel", "pump"}
    assert "28.0 psi" in str(found["detail"])  # fitting instructions: 2 psi below cut-in


def test_waste_no_larger_than_fresh(check):
    """46 gal for 40: 15 % more (FDA Food Code 5-401.11)."""
    findings, page = check(tank("fresh", "40 gal"), tank("waste", "40 gal", "waste"))
    assert findings["water.waste-ratio"]["severity"] == "stop"
    assert "46.0 gal" in page


def test_the_fill_governs_a_filter(check):
    """2.5 L/min through a filter rated 1.9: 132 %, and too little pressure behind it."""
    findings, page = check(
        mains("mains", "2.2 bar", connector="3/8 push-fit", level="base"),
        water_filter("filter", point("1.9 L/min", "0.6 bar"), rated_flow="1.9 L/min"),
        tap(
            "machine",
            drawn("2.5 L/min"),
            required_flow="2.5 L/min",
            least="1.5 bar",
            greatest="6 bar",
            level="base",
        ),
        tube("mains", "filter", "1 m"),
        tube("filter", "machine", "1 m"),
    )
    assert "132%" in page.replace(" %", "%")
    assert findings["water.pressure"]["severity"] == "stop"
    assert "machine" in findings["water.pressure"]["items"]


def test_brewing_alone_leaves_that_filter_alone(check):
    """Brewing draws far less than the fill."""
    findings, _ = check(
        mains("mains", "2.2 bar", connector="3/8 push-fit", level="base"),
        water_filter("filter", point("1.9 L/min", "0.6 bar"), rated_flow="1.9 L/min"),
        tap(
            "machine",
            drawn("0.3 L/min"),
            required_flow="0.3 L/min",
            least="1.5 bar",
            greatest="6 bar",
            level="base",
        ),
        tube("mains", "filter", "1 m"),
        tube("filter", "machine", "1 m"),
    )
    assert not {"water.filter-flow", "water.pressure"} & findings.keys()


def test_very_pure_water_and_a_level_probe(check):
    findings, page = check(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        tap(
            "machine",
            drawn("1.6 L/min"),
            required_flow="1.6 L/min",
            level="base",
            water={"level_probe": True},
        ),
        tube("mains", "machine", "1 m"),
        venue=Venue(dissolved=Concentration("5 mg/L")),
    )
    assert findings["water.level-probe"]["severity"] == "care"
    assert findings["water.level-probe"]["items"] == ["machine"]
    assert "probe" in page


def test_a_drain_that_rises_over_a_rail(check):
    """It leaves level, rises over a rail and falls: an air lock and no fall, with the place."""
    sink = basin("sink", at=("12 in", "15 in"))
    out = replace(sink.specification.ports[0], x=Length("10 in"), z=Length("1 in"))
    sink = replace(sink, specification=replace(sink.specification, ports=(out,)))
    hose = replace(
        tube("sink.drain", "waste.inlet", None, "1 in", outer="1.3 in", run_id="hose"),
        waypoints=(
            WayPoint(x=Length("30 in"), y=Length("15 in"), height=Length("40 in")),
            WayPoint(x=Length("34 in"), y=Length("15 in"), height=Length("36.5 in")),
        ),
    )
    findings, page = check(sink, tank("waste", "6 gal", "waste", at=("60 in", "15 in")), hose)
    found = findings["water.drain-rise"]
    assert found["severity"] == "stop"
    assert found["runs"] == ["hose"]
    page = " ".join(page.split())
    for words in ("air is locked in", "no fall", "1.1 ft"):
        assert words in page
