"""What is asked of the venue: all on one page, each circuit with what has to be known of it."""

import datetime
from pathlib import Path

import pytest
from building import build, load, mains, outlet, tank, tap, tube, wire

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.build.file import load as load_file
from cartlayout.data import sample_builds
from cartlayout.documents.export import application
from cartlayout.documents.packet.content import Content, Job, Table
from cartlayout.documents.packet.pages import lay_out, numbered
from cartlayout.documents.packet.sheets.venue_request import venue_request
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import Phrase, Power, UnitSystem, Value
from cartlayout.water import WaterResult

SAMPLES = sorted(sample_builds().glob("*.cart"))


def job(made: Build, system: UnitSystem = UnitSystem.US, paper: str = "letter") -> Job:
    return Job(made, analyse(made), system, paper, datetime.date(2026, 11, 30))


def table(content: Content, key: str) -> Table:
    return next(one for one in content.parts if isinstance(one, Table) and one.key == key)


def words(content: Content, key: str) -> str:
    cells = [cell for row in table(content, key).rows for cell in row]
    shown = (one.shown(UnitSystem.US) for one in cells if isinstance(one, Value | Phrase))
    return " ".join([*shown, *(one for one in cells if isinstance(one, str))])


@pytest.mark.parametrize("system", UnitSystem)
@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_it_stays_on_one_page(path: Path, paper: str, system: UnitSystem):
    application()
    asked = job(load_file(path), system, paper)
    assert len(numbered([lay_out(venue_request(asked), asked)])[0][1]) == 1


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_amps_are_those_of_the_analysis(path: Path):
    asked = job(load_file(path))
    rows = table(venue_request(asked), "venue-circuits").rows
    circuits = {one.letter: one for one in asked.analysis.power.circuits}
    assert rows
    for row in rows:
        circuit = circuits[row[0]]
        assert row[2] == Value(circuit.rating_a, "current", 0)
        assert row[5] == Value(circuit.amps[EVERYTHING_ON], "current")


def test_a_venue_that_allows_500_w_is_told_what_the_machine_needs():
    """Case C06: a socket limited to 500 W, a machine of 1,600 W at 120 V, 13.3 A."""
    limited = outlet("a", electrical={"limit": Power("500 W")})
    made = build(limited, load("machine", 1600), wire("machine", "a.1"))
    content = venue_request(job(made))
    (row,) = table(content, "venue-circuits").rows
    assert table(content, "venue-circuits").marks == ("stop",)
    assert row[5].shown(UnitSystem.US) == "13.3 A"
    assert "off overnight" in row[7]
    assert table(content, "venue-fewest-circuits").rows


def test_dedicated_shared_overnight_and_unknown():
    alone = load("machine", 1500, electrical={"needs_own_circuit": True})
    fridge = load("fridge", 300, electrical={"overnight": True})
    made = build(
        outlet("a"),
        outlet("b", electrical={"shared": True}),
        alone,
        fridge,
        wire("machine", "a.1"),
        wire("fridge", "b.1"),
    )
    said = words(venue_request(job(made)), "venue-circuits")
    assert "dedicated: nothing else on it" in said
    assert "shared with others" in said
    assert "on overnight for fridge" in said


def test_mains_are_asked_for_the_window_that_the_taps_need():
    made = build(mains("hall"), tap("rinser"), tube("hall", "rinser"))
    asked = job(made)
    water: WaterResult = asked.analysis.water
    window = water.window("hall")
    said = words(venue_request(asked), "venue-water")
    assert Value(window.flow, "flow").shown(UnitSystem.US) in said
    assert Value(window.least_pa, "pressure").shown(UnitSystem.US) in said


def test_water_carried_by_hand():
    said = words(
        venue_request(job(build(tank("jug"), tap("rinser"), tube("jug", "rinser")))), "venue-water"
    )
    assert "drinking-water tap to fill at" in said


def test_nothing_at_all_is_a_page_too():
    application()
    asked = job(build())
    content = venue_request(asked)
    assert table(content, "venue-circuits").empty
    assert len(numbered([lay_out(content, asked)])[0][1]) == 1
