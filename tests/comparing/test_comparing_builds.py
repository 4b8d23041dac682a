"""What two builds differ in. What must hold always is tried on any build there can be."""

import pytest
from analysis.random_builds import builds
from building import build, load, outlet, tank, tap, tube, wire
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, OperatingCase
from cartlayout.build.edits import move_to, remove
from cartlayout.build.file import decode, encode
from cartlayout.build.file import load as load_file
from cartlayout.build.geometry import corners
from cartlayout.comparing import Change, changes
from cartlayout.data import sample_builds
from cartlayout.network.replace import replace_with
from cartlayout.stock.catalogue import entry
from cartlayout.units import Length, UnitSystem


def told(found: tuple[Change, ...]) -> list[tuple[str, str, str, list[str]]]:
    return [
        (one.kind, one.about, one.name, [line.shown(UnitSystem.US) for line in one.lines])
        for one in found
    ]


def small() -> Build:
    return build(outlet("a", ways=2), load("urn", 1500), load("oven", 900), wire("urn", "a.1"))


@settings(max_examples=40, deadline=None)
@given(made=builds())
def test_a_build_does_not_differ_from_itself_nor_from_what_its_file_gives(made: Build):
    assert changes(made, made) == ()
    assert changes(made, decode(encode(made))) == ()


@settings(max_examples=40, deadline=None)
@given(made=builds(), other=builds())
def test_two_builds_that_differ_have_a_change_and_the_other_way_round(made: Build, other: Build):
    there, back = changes(made, other), changes(other, made)
    assert bool(there) == bool(back) == (made != other)
    added = {(one.about, one.id) for one in there if one.kind == "added"}
    assert added == {(one.about, one.id) for one in back if one.kind == "removed"}


@settings(max_examples=30, deadline=None)
@given(made=builds(), data=st.data())
def test_what_is_moved_is_the_only_thing_that_moved(made: Build, data: st.DataObject):
    loose = [one for one in made.items if one.group is None]
    if not loose:
        return
    item = data.draw(st.sampled_from(loose))
    moved = move_to(made, item.id, item.x.si + 0.1, item.y.si)
    assert [(one.kind, one.id) for one in changes(made, moved) if one.about == "item"] == [
        ("moved", item.id)
    ]


def test_a_move_is_told_in_the_reader_s_units():
    before = small()
    after = move_to(before, "urn", before.item("urn").x.si + 0.1, before.item("urn").y.si - 0.0508)
    (only,) = changes(before, after)
    assert only.kind == "moved"
    assert [line.shown(UnitSystem.METRIC) for line in only.lines] == [
        "100 mm right",
        "51 mm to the rear",
    ]
    assert [line.shown(UnitSystem.US) for line in only.lines] == [
        "3.9 in right",
        "2.0 in to the rear",
    ]


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        (350.0, 10.0, "turned by 20° clockwise"),
        (10.0, 350.0, "turned by 20° counter-clockwise"),
        (0.0, 90.0, "turned by 90° clockwise"),
    ],
)
def test_a_turn_is_told_the_short_way_round(was: float, now: float, words: str):
    """Clockwise as one looks down on the plan: what was rear left comes to the rear right."""
    items = [replace(one, rotation=was) for one in small().items]
    before = replace(small(), items=tuple(items))
    after = replace(before, items=(*items[:1], replace(items[1], rotation=now), *items[2:]))
    (only,) = changes(before, after)
    assert [line.shown(UnitSystem.US) for line in only.lines] == [words]
    quarter = replace(items[1], rotation=90.0)
    assert corners(quarter)[0][0] > quarter.x.si
    assert corners(quarter)[0][1] < quarter.y.si


def test_a_plug_elsewhere_is_told_by_both_places():
    before = build(outlet("a"), outlet("b"), load("urn", 1500), wire("urn", "a.1", run_id="w"))
    after = build(outlet("a"), outlet("b"), load("urn", 1500), wire("urn", "b.1", run_id="w"))
    assert told(changes(before, after)) == [
        ("changed", "run", "Wire from urn to b", ["led to b instead of a"])
    ]


def test_another_receptacle_of_the_same_outlet_is_told_by_its_number():
    before = build(outlet("a", ways=2), load("urn", 1500), wire("urn", "a.1", run_id="w"))
    after = build(outlet("a", ways=2), load("urn", 1500), wire("urn", "a.2", run_id="w"))
    assert told(changes(before, after))[0][3] == ["led to a, 2 instead of a, 1"]


def test_another_tube_and_a_length_that_was_measured():
    things = (tank("jug"), tap("rinser"))
    before = build(*things, tube("jug", "rinser", run_id="t"))
    run = before.run("t")
    longer = replace(run, length=Length("12 ft"))
    after = replace(before, runs=(longer,))
    assert told(changes(before, after)) == [
        ("changed", "run", "Tube from jug to rinser", ["length: 1 m → 12 ft"])
    ]


def test_a_field_is_told_as_its_author_wrote_it():
    before = small()
    after = replace(
        before,
        items=tuple(
            replace(one, label="Big urn") if one.id == "urn" else one for one in before.items
        ),
        venue=replace(before.venue, altitude_m=1500.0),
    )
    assert told(changes(before, after)) == [
        ("changed", "item", "Big urn", ["label: not given → Big urn"]),
        ("changed", "venue", "Venue", ["altitude: 0 m → 1500 m"]),
    ]


def test_an_exchange_names_both_pieces():
    market = load_file(sample_builds() / "market_cart.cart")
    tank_item = next(one for one in market.items if one.specification.stock == "waste-jug-6-gal")
    after = replace_with(market, tank_item.id, entry("waste-jug-5-gal")).build
    (only,) = [
        one for one in changes(market, after) if one.id == tank_item.id and one.kind == "changed"
    ]
    assert (
        only.lines[0]
        .shown(UnitSystem.US)
        .startswith("Waste jug, 6 gal exchanged for Waste jug, 5 gal")
    )
    assert not any("inlet" in line.shown(UnitSystem.US) for line in only.lines)


def test_cases_are_told_by_who_is_on():
    before = replace(small(), cases=(OperatingCase("Rush", loads=("urn",)),))
    after = replace(small(), cases=(OperatingCase("Rush", loads=("oven",)),))
    assert told(changes(before, after)) == [
        ("changed", "case", "Rush", ["oven is on as well", "urn is on no longer"])
    ]


def test_what_is_taken_away_takes_its_wire_along():
    before = small()
    found = changes(before, remove(before, item_ids=("urn",)))
    assert [(one.kind, one.about, one.id) for one in found] == [
        ("removed", "item", "urn"),
        ("removed", "run", before.wires[0].id),
    ]


@pytest.mark.parametrize("path", sorted(sample_builds().glob("*.cart")), ids=lambda one: one.stem)
def test_every_part_of_a_sample_s_cart_is_told(path):
    made = load_file(path)
    wider = replace(made, cart=replace(made.cart, width=Length("3 m")))
    assert told(changes(made, wider)) == [
        ("changed", "cart", "Cart", [f"width: {made.cart.width.text} → 3 m"])
    ]
