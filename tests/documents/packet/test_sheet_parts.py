"""Parts list and cut list: nothing on the plan is left out, and lengths are those of the ways."""

import datetime
from pathlib import Path

import pytest
from analysis.random_builds import builds
from building import build, cord, load, outlet, pump, tank, tap, tube, wire
from hypothesis import given, settings

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.build.file import load as load_file
from cartlayout.data import sample_builds
from cartlayout.documents.packet.content import Content, Job, Table
from cartlayout.documents.packet.sheets.parts import parts
from cartlayout.units import UnitSystem, Value

SAMPLES = sorted(sample_builds().glob("*.cart"))


def job(made: Build) -> Job:
    return Job(made, analyse(made), UnitSystem.US, "letter", datetime.date(2026, 11, 30))


def table(content: Content, key: str) -> Table:
    return next(one for one in content.parts if isinstance(one, Table) and one.key == key)


def check_nothing_is_left_out(made: Build) -> None:
    content = parts(job(made))
    counts = [row[1].si for row in table(content, "parts-equipment").rows]
    assert sum(counts) == sum(1 for item in made.items if item.level != "venue")
    cuts = table(content, "cut-list-tubes").rows
    assert len(cuts) == len(made.tubes)
    assert len(table(content, "cut-list-cords").rows) == len(made.wires)
    sizes = table(content, "parts-tubes").rows
    assert sum(row[6].si for row in sizes) == len(made.tubes)
    whole = sum(row[6].si for row in cuts if row[6] is not None)
    assert sum(row[7].si for row in sizes) == pytest.approx(whole)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_nothing_of_a_sample_is_left_out(path: Path):
    check_nothing_is_left_out(load_file(path))


@settings(max_examples=30, deadline=None)
@given(made=builds())
def test_nothing_of_any_build_is_left_out(made: Build):
    check_nothing_is_left_out(made)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_lengths_are_those_that_the_analysis_used(path: Path):
    asked = job(load_file(path))
    rows = table(parts(asked), "cut-list-tubes").rows
    for run, row in zip(asked.build.tubes, rows, strict=True):
        way_m = asked.analysis.network.routes[run.id].length_m
        assert row[4] == Value(way_m, "tape")
        cut_m = run.length.si if run.length else way_m + run.spare.si
        assert row[6].si == pytest.approx(cut_m)


def test_two_pieces_of_one_size_are_added_and_a_tenth_is_bought_besides():
    """5 ft and 7 ft are 12 ft; a tenth more is 13.2 ft."""
    made = build(
        tank("jug"),
        pump("pump"),
        tap("rinser"),
        tube("jug", "pump", "5 ft"),
        tube("pump", "rinser", "7 ft", fittings=[("90 degree elbow, push-fit", 0.9, 3)]),
    )
    content = parts(job(made))
    (row,) = table(content, "parts-tubes").rows
    assert [one.shown(UnitSystem.US) for one in (row[7], row[9])] == ["12.0 ft", "13.2 ft"]
    assert table(content, "cut-list-tubes").totals[6].shown(UnitSystem.US) == "144 in"
    fittings = table(content, "parts-fittings").rows
    assert (
        "90 degree elbow, push-fit",
        "6.35 mm bore",
        "along the tube",
        Value(3, "count"),
    ) in fittings


def test_a_cord_that_does_not_reach_says_by_how_much():
    made = build(outlet("a"), load("urn", 1000, cord=cord(length="1 ft")), wire("urn", "a.1"))
    asked = job(made)
    found = table(parts(asked), "cut-list-cords")
    (route,) = asked.analysis.network.routes.values()
    short = Value(route.length_m - 0.3048, "distance").shown(UnitSystem.US)
    assert found.rows[0][7].shown(UnitSystem.US) == f"{short} too short"
    assert found.marks == ("stop",)


def test_nothing_on_the_plan_is_said():
    content = parts(job(build()))
    assert all(one.empty for one in content.parts if isinstance(one, Table))
