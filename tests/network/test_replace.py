"""Exchanging an item keeps what fits, and says what became of the rest.

Which plug goes into which receptacle is taken from the standards: NEMA WD 6 (a 5-15 plug goes
into a 5-20 receptacle, a 6-20 or an L6-30 into neither), never from the code under test.
"""

import itertools

import pytest
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, End, OperatingCase, TubeRun, WayPoint, Wire
from cartlayout.build.edits import EditError, place, replace_item, with_
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.network import connect, replace_with
from cartlayout.stock import entry, placed
from cartlayout.stock.alike import alternatives
from cartlayout.units import Length


@pytest.fixture
def market() -> Build:
    return load(sample_builds() / "market_cart.cart")


def _fared(replacement) -> dict[str, str]:
    return {one.run: one.what for one in replacement.runs}


def test_the_same_kind_keeps_every_run(market: Build) -> None:
    found = replace_with(market, "pump", entry("pump-3.3-45"))
    assert _fared(found) == {"suction": "kept", "pump-line": "kept", "pump-wire": "kept"}
    assert found.build.runs == market.runs
    pump = found.build.item("pump")
    assert pump.specification.stock == "pump-3.3-45"
    assert pump.label == "Pump"  # the person's own word


def test_replaced_by_itself_it_is_the_equal_build(market: Build) -> None:
    for item in market.items:
        found = replace_with(market, item.id, item.specification)
        assert found.build == market
        assert {one.what for one in found.runs} <= {"kept"}


def test_a_plug_that_does_not_fit_takes_a_free_receptacle_that_it_does(market: Build) -> None:
    # NEMA WD 6: 6-20P goes into 6-20R and into neither 5-15R nor 5-20R.
    build, ids = placed(market, entry("outlet-20-240"), "venue", 1.0, -0.4)
    found = replace_with(build, "espresso", entry("espresso-2-group-compact-240"))
    assert _fared(found)["espresso-wire"] == "moved"
    wire = found.build.run("espresso-wire")
    assert wire.b == End(item=ids[0], port="1")
    said = next(one.text for one in found.runs if one.run == "espresso-wire")
    assert "Outlet" in said


def test_a_plug_with_nowhere_to_go_is_dropped_and_says_why(market: Build) -> None:
    # NEMA WD 6: L6-30P is a 250 V locking plug; the outlets of this venue are 125 V.
    found = replace_with(market, "espresso", entry("espresso-2-group-240"))
    assert _fared(found)["espresso-wire"] == "dropped"
    assert found.build.run("espresso-wire") is None
    said = next(one.text for one in found.runs if one.run == "espresso-wire")
    assert "250 V" in said
    assert "125 V" in said


def test_a_20_amp_plug_leaves_a_15_amp_strip_for_a_20_amp_outlet() -> None:
    # NEMA WD 6: 5-20P goes into 5-20R, not into 5-15R.
    build = load(sample_builds() / "market_cart.cart")
    build, strip = placed(build, entry("strip-4-120"), "shelf", 0.9, 0.3)
    build, _ = connect(build, End(item=strip[0], port="plug"), End(item="strip", port="3"))
    found = replace_with(build, strip[0], entry("strip-6-20-120"))
    (change,) = found.runs
    assert change.what == "moved"
    wire = found.build.run(change.run)
    assert build.item(wire.b.item).specification.port(wire.b.port).connector == "5-20R"


def test_what_was_plugged_into_a_smaller_strip_goes_elsewhere(market: Build) -> None:
    build = market
    for _ in range(2):  # six plugs on a strip of six
        build, ids = placed(build, entry("light-strip-120"), "shelf", 0.8, 0.3)
        free = next(
            port.id
            for port in build.item("strip").specification.ports
            if port.direction == "out"
            and End(item="strip", port=port.id) not in [run.b for run in build.wires]
        )
        build, _ = connect(build, End(item=ids[0], port="plug"), End(item="strip", port=free))
    guests = [run for run in build.wires if run.b is not None and run.b.item == "strip"]
    assert len(guests) == 6
    found = replace_with(build, "strip", entry("strip-4-120"))
    fared = _fared(found)
    assert fared["strip-wire"] == "kept"
    assert sum(fared[run.id] == "kept" for run in guests) == 4
    ends = [run.b for run in found.build.wires if run.b is not None]
    assert len(ends) == len(set(ends))  # never two plugs in one receptacle


def test_water_keeps_its_direction_through_a_part_that_lets_it_both_ways(market: Build) -> None:
    # A filter has an arrow cast on it: in from the pump, out to the line (common practice,
    # no source).
    found = replace_with(market, "accumulator", entry("filter-carbon"))
    assert found.build.run("pump-line").b == End(item="accumulator", port="inlet")
    assert found.build.run("filter-line").a == End(item="accumulator", port="outlet")


def test_a_tube_with_no_end_for_the_new_port_gives_way_to_one_that_has(market: Build) -> None:
    # 3/8 BSP takes no drain hose end, and a 1 in drain spigot takes no 1/4 in tube: what is
    # joined afterwards must be a tube that the table of ends knows on both (end_fittings.json).
    for key in ("espresso-2-group-240", "batch-brewer-twin-240", "ice-maker-120"):
        found = replace_with(market, "espresso", entry(key))
        codes = {one.code for one in analyse(found.build).network.problems}
        assert not codes & {"water.thread", "power.misfit", "end-missing", "mixed-media"}


def test_label_level_turn_lock_group_and_fill_stay(market: Build) -> None:
    jug = market.item("jug")
    build = replace_item(
        market,
        replace(jug, label="Jug on the left", rotation=90.0, locked=True, group="wet", fill=0.4),
    )
    after = replace_with(build, "jug", entry("tank-10-gal")).build.item("jug")
    kept = (after.label, after.level, after.rotation, after.locked, after.group, after.fill)
    assert kept == ("Jug on the left", "base", 90.0, True, "wet", 0.4)
    assert (after.x, after.y) == (jug.x, jug.y)


def test_a_label_of_the_stock_changes_with_the_equipment(market: Build) -> None:
    build, item_id = place(
        market, entry("kettle-120").specification, "counter", 0.5, 0.4, "Kettle 2"
    )
    after = replace_with(build, item_id, entry("tower-120")).build.item(item_id)
    assert after.label == "Hot-water tower"


def test_a_deeper_body_keeps_the_rear_edge_rather_than_hang_over(market: Build) -> None:
    found = replace_with(market, "kettle", entry("tower-120"))
    old, new = market.item("kettle"), found.build.item("kettle")
    before = old.y.si - old.specification.size.depth.si / 2
    after = new.y.si - new.specification.size.depth.si / 2
    assert after == pytest.approx(before, abs=1e-9)
    assert "rear edge" in found.remarks[0]
    assert not [one for one in analyse(found.build).body.clashes if one.code == "overhang"]


def test_a_cord_of_the_old_plug_is_not_put_on_the_new_one(market: Build) -> None:
    wire = market.run("kettle-wire")
    kettle = market.item("kettle")
    own = kettle.specification.port("plug").cord
    assert own is not None
    longer = replace(own, length=Length("20 ft"))
    runs = tuple(
        replace(wire, cord=longer, waypoints=(WayPoint(x=Length("9 in"), y=Length("-5 in")),))
        if run is wire
        else run
        for run in market.runs
    )
    after = replace_with(with_(market, runs=runs), "kettle", entry("tower-120")).build
    run = after.run("kettle-wire")
    assert isinstance(run, Wire)
    assert run.cord is None
    assert len(run.waypoints) == 1  # its way is as it was


def test_cases_forget_what_no_longer_draws(market: Build) -> None:
    build = with_(market, cases=(OperatingCase(name="Rush", loads=("kettle", "grinder")),))
    after = replace_with(build, "kettle", entry("cup-storage")).build
    assert after.cases[0].loads == ("grinder",)


@pytest.mark.parametrize(
    ("item", "key", "why"),
    [
        ("kettle", "module-pump-120", "module"),
        ("kettle", "outlet-20-120", "venue"),
        ("outlet-1", "kettle-120", "stands on the cart"),
        ("nothing", "kettle-120", "no item"),
    ],
)
def test_what_cannot_stand_there_is_refused(market: Build, item: str, key: str, why: str) -> None:
    with pytest.raises(EditError, match=why):
        replace_with(market, item, entry(key))


@pytest.mark.parametrize("name", ["market_cart", "station_kiosk_230v", "conference_hall_bar"])
def test_any_exchange_leaves_a_build_without_new_connection_errors(name: str) -> None:
    """No exchange joins what the rules of connection forbid, and no run is lost unsaid."""
    build = load(sample_builds() / f"{name}.cart")
    before = {(one.code, one.runs) for one in analyse(build).network.problems}
    for item in build.items:
        for one in itertools.islice(alternatives(item, build.region), 0, 40, 4):
            found = replace_with(build, item.id, one)
            joined = {run.id for run in build.runs if item.id in _ends(run)}
            assert {change.run for change in found.runs} == joined
            left = {run.id for run in build.runs} - {run.id for run in found.build.runs}
            assert left == {change.run for change in found.of("dropped")}
            problems = {(each.code, each.runs) for each in analyse(found.build).network.problems}
            assert problems <= before, (item.id, one.key)
            for run in found.build.tubes:
                assert isinstance(run, TubeRun)


def _ends(run) -> set[str]:
    return {run.a.item} | ({run.b.item} if run.b is not None else set())


def test_the_likeliest_comes_first(market: Build) -> None:
    grinders = alternatives(market.item("grinder"), "US")
    assert [one.specification.kind for one in grinders[:2]] == ["grinder", "grinder"]
    assert all("US" in one.regions for one in grinders[:2])
    outlets = alternatives(market.item("outlet-1"), "US")
    assert {one.stands for one in outlets} == {"venue"}
    assert "outlet-20-120" not in {one.key for one in outlets}
