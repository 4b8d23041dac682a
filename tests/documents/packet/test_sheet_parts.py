"""Parts list and cut list: nothing on the plan is left out, and lengths are those of the ways."""

import datetime
from pathlib import Path

import pytest
from analysis.random_builds import builds
from building import build, cord, load, outlet, pump, tank, tap, tee, tube, wire
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


def test_the_cart_itself_is_listed_with_its_wheels_and_leaves():
    """Counter at 36 in, shelf at 26 in with 9 in of room: the counter is 1 in thick."""
    made = load_file(sample_builds() / "folding_cart_modules.cart")
    rows = {row[0]: row for row in table(parts(job(made)), "parts-cart").rows}
    shown = [cell and cell.shown(UnitSystem.US) for cell in rows["board, counter"][1:6]]
    assert shown == ["1", "56 in", "24 in", "1 in", "36 in"]
    assert rows["board, base"][4] is None  # nothing says how thick it is
    # The right leaf is hinged over 20 in and stands out 14 in: wide and deep as on the plan.
    shown = [cell.shown(UnitSystem.US) for cell in rows["leaf, Right leaf"][2:6]]
    assert shown == ["14 in", "20 in", "1 in", "36 in"]
    assert rows["caster"][1] == Value(4, "count")
    # 100 kg are 220.46 lb (NIST Special Publication 811, appendix B.8).
    assert "220 lb" in rows["caster"][6].shown(UnitSystem.US)
    assert "left side, stands out 3 in" in rows["handle"][6].shown(UnitSystem.US)


def test_a_free_port_behind_which_water_stands_needs_a_plug():
    made = build(
        tank("jug"), pump("pump"), tee("tee"), tap("rinser"), tap("spare"),
        tube("jug", "pump"), tube("pump", "tee.a"), tube("tee.b", "rinser"),
    )  # fmt: skip
    rows = table(parts(job(made)), "parts-fittings").rows
    plugs = [(row[0], row[1], row[3].si) for row in rows if row[2] == "at a free port"]
    # Not the spare tap: no water gets there.
    assert plugs == [("plug for 3/8 push-fit", "tee", 1)]


def test_a_cord_has_a_conductor_for_every_pole_of_its_plug():
    """NEMA 14-50 is three-pole four-wire, 1-15 two-pole without earth: ANSI/NEMA WD 6."""
    made = load_file(sample_builds() / "conference_hall_bar.cart")
    rows = {row[3]: row for row in table(parts(job(made)), "parts-cords").rows}
    assert rows["14-50P"][1] == "4: L1, L2, N, G"
    assert rows["1-15P"][1] == "2: L, N"
    # The thickest first: 6 AWG is thicker than 18 AWG (ASTM B258).
    sizes = [row[0] for row in table(parts(job(made)), "parts-cords").rows]
    assert sizes == sorted(sizes, key=lambda size: int(size.split()[0]))
