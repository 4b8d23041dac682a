"""The plan as prepared values: what is drawn follows from the build and its analysis."""

import itertools
from collections import Counter

import building as b
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import WayPoint
from cartlayout.build.edits import move, replace_run, rotate
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.plan import PlanOptions, plan_picture
from cartlayout.documents.plan.lanes import in_lanes
from cartlayout.documents.plan.lines import arrow_places, tube_width_pt
from cartlayout.documents.plan.marks import marked_corner
from cartlayout.documents.plan.notes import circuit_text
from cartlayout.units import Length, UnitSystem

METRIC = PlanOptions(system=UnitSystem.METRIC)


def picture(build, options=None):
    return plan_picture(build, analyse(build), options)


def market():
    return load(sample_builds() / "market_cart.cart")


# --- lanes ------------------------------------------------------------------------------------


def test_two_runs_on_one_way_lie_side_by_side():
    way = [(0.0, 0.0), (0.0, 100.0), (500.0, 100.0), (500.0, 0.0)]
    other = [(20.0, 200.0), (20.0, 100.0), (400.0, 100.0), (400.0, 200.0)]
    made = in_lanes({"a": way, "b": other}, lane=20.0)
    (a,) = {y for _, y in made["a"][1:3]}
    (c,) = {y for _, y in made["b"][1:3]}
    assert a == pytest.approx(90.0)
    assert c == pytest.approx(110.0)  # the one that comes from below lies below: no crossing
    assert made["a"][0] == (0.0, 0.0)
    assert made["b"][-1] == (400.0, 200.0)


def test_runs_that_only_follow_each_other_share_a_lane():
    made = in_lanes({"a": [(0, 0), (100, 0)], "b": [(150, 0), (300, 0)]}, lane=20.0)
    assert made == {"a": ((0, 0), (100, 0)), "b": ((150, 0), (300, 0))}


corner = st.tuples(st.integers(0, 6), st.integers(0, 6))


@settings(max_examples=100, deadline=None)
@example([[(2, 2), (1, 0), (0, 2), (2, 2), (0, 1)], [(2, 2), (0, 0), (2, 3)]])
@given(st.lists(st.lists(corner, min_size=2, max_size=5), min_size=1, max_size=6))
def test_lanes_keep_ends_and_never_cover_a_piece_of_another(corners):
    polylines = {}
    for number, points in enumerate(corners):
        way = []
        for x, y in points:  # along x, then along y, as routes do
            if way and way[-1][0] != 100.0 * x and way[-1][1] != 100.0 * y:
                way.append((100.0 * x, way[-1][1]))
            way.append((100.0 * x, 100.0 * y))
        if len(set(way)) > 1:
            polylines[str(number)] = way
    made = in_lanes(polylines, lane=8.0)
    for run, way in polylines.items():
        assert made[run][0] == way[0]
        assert made[run][-1] == way[-1]
    pieces = [(run, a, c) for run, way in made.items() for a, c in itertools.pairwise(way)]
    # A bundle has as many lanes as pieces lie on one line; a run may lie on it several times.
    most = max(
        Counter(
            ("x", a[0]) if a[0] == c[0] else ("y", a[1])
            for way in polylines.values()
            for a, c in itertools.pairwise(way)
        ).values(),
        default=0,
    )
    for at, (run, a, c) in enumerate(pieces):
        for other, d, e in pieces[at + 1 :]:
            if run != other:
                # What is left on one line are the short steps at the ends of bundles.
                assert shared(a, c, d, e) <= 8.0 * max(most, len(polylines))


def shared(a, b_, c, d):
    """Length over which two pieces lie on one another."""
    for along, across in ((0, 1), (1, 0)):
        on_one_line = a[across] == b_[across] == c[across] == d[across]
        if on_one_line:
            low = max(min(a[along], b_[along]), min(c[along], d[along]))
            high = min(max(a[along], b_[along]), max(c[along], d[along]))
            return max(high - low, 0.0)
    return 0.0


# --- bodies, runs, notes ----------------------------------------------------------------------


def test_equal_builds_have_equal_pictures_and_a_move_changes_only_what_it_touches():
    assert picture(market()) == picture(market())
    build = b.build(b.item("cups", at=("10 in", "10 in")), b.item("lids", at=("40 in", "10 in")))
    before, after = picture(build), picture(move(build, ["cups"], 0.01, 0.0))
    changed = [one.id for one, other in zip(before.bodies, after.bodies, strict=True)
               if one != other]  # fmt: skip
    assert changed == ["cups"]
    assert after.body("cups").centre[0] == pytest.approx(before.body("cups").centre[0] + 10.0)


def test_a_turned_body_has_turned_corners():
    build = b.build(b.item("a", size=("20 in", "10 in", "5 in")))
    made = picture(rotate(build, ["a"], 90)).body("a")
    assert made.box.width == pytest.approx(10 * 25.4)
    assert made.box.height == pytest.approx(20 * 25.4)
    assert made.rotation == 90


def test_other_levels_are_ghosted_and_the_venue_never_is():
    build = market()
    for level in ("counter", "base"):
        made = picture(build, PlanOptions(level=level))
        for body in made.bodies:
            assert body.venue == (body.level == "venue")
            assert body.ghosted == (body.level not in (level, "venue"))


def test_overlays_choose_the_runs():
    build = market()
    for overlay in ("power", "water", "drain"):
        made = picture(build, PlanOptions(overlays=frozenset({overlay})))
        assert made.runs
        assert {run.medium for run in made.runs} == {overlay}
    assert picture(build, PlanOptions(overlays=frozenset())).runs == ()


def test_a_wire_has_the_letter_of_its_circuit_and_a_loose_one_has_none():
    build = b.build(
        b.load("kettle", watts=1000), b.load("till", watts=20), b.outlet("wall"),
        b.wire("kettle", "wall.1"), b.wire("till", None),
    )  # fmt: skip
    made = {run.id: run for run in picture(build).runs}
    assert made["wire kettle"].letter == "A"
    assert made["wire till"].letter == ""
    assert made["wire till"].ends == ("till", None)


def test_water_flows_from_the_mains_to_the_tap_whichever_way_the_tube_was_drawn():
    for one, other, sign in (("mains.outlet", "tap.inlet", 1), ("tap.inlet", "mains.outlet", -1)):
        build = b.build(
            b.mains("mains", at=("10 in", "-10 in"), connector="3/8 push-fit"),
            b.tap("tap", at=("60 in", "15 in")),
            b.tube(one, other),
        )
        (run,) = picture(build).runs
        assert run.medium == "water"
        assert run.flow == sign
        # From the mains at the left to the tap at the right, whichever end is first.
        along = [direction for _, direction in arrow_places(run)]
        assert sum(x for x, _ in along) >= 0


def test_waste_flows_down_from_the_sink():
    build = b.build(
        b.basin("sink", at=("60 in", "15 in")), b.floor_drain("drain", at=("10 in", "-10 in")),
        b.tube("drain.inlet", "sink.drain"),
    )  # fmt: skip
    (run,) = picture(build).runs
    assert run.medium == "drain"
    assert run.flow == -1


def test_a_wider_bore_is_drawn_wider():
    widths = [tube_width_pt(bore) for bore in (0.0, 2.5, 4.0, 6.35, 9.5, 12.7, 19.0)]
    assert widths == sorted(widths)
    assert len(set(widths)) == len(widths)


def test_waypoints_are_passed_in_order():
    build = b.build(
        b.load("kettle", watts=1000), b.outlet("wall", at=("10 in", "-18 in")),
        b.wire("kettle", "wall.1"),
    )  # fmt: skip
    (wire,) = build.runs
    bent = replace(wire, waypoints=(WayPoint(x=Length("50 in"), y=Length("-5 in")),))
    (run,) = picture(replace_run(build, bent)).runs
    assert not run.curve
    assert shapely.LineString(run.points).distance(shapely.Point(1270, -127)) == pytest.approx(
        0.0, abs=1e-6
    )


def test_circuit_note_says_amps_against_rating():
    """1800 W at 120 V are 15 A (Ohm's law), on a breaker of 20 A."""
    build = b.build(b.load("kettle", watts=1800), b.outlet("wall"), b.wire("kettle", "wall.1"))
    made = picture(build)
    (note,) = (note for note in made.notes if note.kind == "circuit")
    assert note.text == "A 15.0 / 20 A"
    assert note.text == circuit_text(analyse(build).power.circuits[0])
    assert made.body("kettle").sub == "15.0 A"
    assert made.body("wall").sub == "20 A 120 V"


def test_a_cart_with_one_tap_says_what_it_sees_open():
    build = b.build(
        b.mains("mains", usual="60 psi", at=("10 in", "-10 in"), connector="3/8 push-fit"),
        b.tap("tap", at=("60 in", "15 in")),
        b.tube("mains.outlet", "tap.inlet", "1 ft"),
    )
    (note,) = (note for note in picture(build).notes if note.kind == "tap")
    pressure, unit, word = note.text.split()
    assert (unit, word) == ("psi", "ok")
    # Below what the mains give, by what the tube and the height of the tap take
    # (1 psi is 2.31 ft of water): the tap is 38 in above the mains.
    assert 20 < float(pressure) < 60 - 38 / 12 / 2.31


def test_unfed_taps_say_so():
    build = b.build(b.tap("tap"))
    (note,) = (note for note in picture(build).notes if note.kind == "tap")
    assert note.text == "no water"
    assert note.state == "stop"


def test_dimensions_are_the_carts_in_the_persons_units():
    build = b.build(cart=b.cart("72 in", "30 in"))
    assert {one.text for one in picture(build).dimensions} == {"72 in", "30 in"}
    # 1 in is 25.4 mm (NIST SP 811)
    assert {one.text for one in picture(build, METRIC).dimensions} == {"1,829 mm", "762 mm"}


def test_the_worst_finding_marks_its_culprit():
    build = load(sample_builds() / "market_cart_first_try.cart")
    analysis = analyse(build)
    made = plan_picture(build, analysis)
    stops = {one.items[0] for one in analysis.findings if one.severity == "stop" and one.items}
    assert {body.id for body in made.bodies if body.severity == "stop"} == stops


def test_the_venues_band_runs_along_the_cart():
    made = picture(market())
    cart = made.cart.box
    assert made.venue.y + made.venue.height < cart.y
    assert made.venue.x <= cart.x
    assert made.venue.right >= cart.right
    assert all(made.venue.holds(body.box) for body in made.bodies if body.venue)


def test_without_venue_items_there_is_no_band():
    assert picture(b.build(b.load("kettle", watts=1000))).venue is None


def test_a_mark_of_something_beneath_does_not_stand_on_what_hides_it():
    tall = b.item("fridge", at=("30 in", "15 in"), size=("20 in", "20 in", "10 in"))
    under = b.item("jug", at=("22 in", "15 in"), size=("12 in", "12 in", "10 in"), level="base")
    shown = picture(b.build(tall, under))
    jug, fridge = shown.body("jug"), shown.body("fridge")
    x, y = marked_corner(jug, shown)
    assert (x, y) in jug.corners
    assert not (fridge.box.x < x < fridge.box.right and fridge.box.y < y < fridge.box.bottom)
    assert marked_corner(fridge, shown) == (fridge.box.right, fridge.box.y)
