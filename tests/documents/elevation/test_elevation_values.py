"""What is seen of a cart from its sides, as plain numbers, without Qt.

Where a thing is seen follows from how the plan counts (x to the right, y from the rear to the
front) by descriptive geometry: an eye before the front sees x run to its right, one behind the
rear sees it run to its left, one at the left end sees the front at its right hand. Numbers are
worked out by hand beside each check.
"""

import math
from itertools import pairwise

import building as b
import pytest
import shapely
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely.geometry import Polygon

from cartlayout.analysis import analyse
from cartlayout.build.cart import CartLeg, Caster, Handle, Leaf, RearPanel, Zone
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.elevation import VIEWS, elevation, elevation_title
from cartlayout.units import Length, Mass

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
INCH = 0.0254


def seen(build, view):
    return elevation(build, analyse(build), view)


def piece(drawn, key):
    return next(one for one in drawn.pieces if one.key == key)


def length(lines):
    return sum(math.dist(a, c) for line in lines for a, c in pairwise(line))


@pytest.mark.parametrize(
    ("view", "left", "right"),
    [
        # Middle at x = 10 in, y = 6 in; 8 in wide, 4 in deep; the cart is 72 in by 30 in.
        ("front", 10 - 4, 10 + 4),
        ("rear", 72 - 10 - 4, 72 - 10 + 4),
        ("left", 6 - 2, 6 + 2),
        ("right", 30 - 6 - 2, 30 - 6 + 2),
    ],
)
def test_a_body_is_seen_where_it_stands(view, left, right):
    made = b.build(b.item("jug", size=("8 in", "4 in", "12 in"), at=("10 in", "6 in")))
    one = piece(seen(made, view), "jug")
    assert (one.left_m, one.right_m) == pytest.approx((left * INCH, right * INCH))
    # It stands on the counter, 36 in above the floor, and is 12 in high.
    assert (one.bottom_m, one.top_m) == pytest.approx((36 * INCH, 48 * INCH))
    assert one.seen_share == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("degrees", "wide"),
    [
        (0, 20),
        (90, 10),
        # A rectangle a by c turned by t is a cos t + c sin t wide (plane geometry).
        (30, 20 * math.cos(math.radians(30)) + 10 * math.sin(math.radians(30))),
        (45, 30 / math.sqrt(2)),
    ],
)
def test_a_turned_body_is_as_wide_as_its_shadow(degrees, wide):
    made = b.build(b.item("box", size=("20 in", "10 in", "5 in"), rotation=float(degrees)))
    one = piece(seen(made, "front"), "box")
    assert one.right_m - one.left_m == pytest.approx(wide * INCH)


def test_an_askew_body_shows_the_edge_between_its_two_sides():
    made = b.build(b.item("box", size=("20 in", "10 in", "5 in"), rotation=30.0))
    upright = [
        line
        for line in piece(seen(made, "front"), "box").seen
        if len(line) == 2 and abs(line[0][0] - line[1][0]) < 1e-9
    ]
    # Its nearest corner: front right before turning, (10, 5) from the middle, or front left,
    # (-10, 5). Turned clockwise by 30 degrees (10, 5) goes to (10 cos - 5 sin, 10 sin + 5 cos).
    t = math.radians(30)
    at = 36 + 10 * math.cos(t) - 5 * math.sin(t)
    assert [line[0][0] for line in upright] == pytest.approx([at * INCH])


def test_what_is_before_hides_what_is_behind():
    small = b.item("cup", size=("4 in", "4 in", "4 in"), at=("20 in", "8 in"))
    large = b.item("oven", size=("20 in", "10 in", "20 in"), at=("20 in", "22 in"))
    made = b.build(small, large)
    front, rear = seen(made, "front"), seen(made, "rear")
    assert piece(front, "cup").seen_share == pytest.approx(0.0)
    assert piece(front, "cup").seen == ()
    # All four edges of a 4 in square, dashed.
    assert length(piece(front, "cup").unseen) == pytest.approx(16 * INCH, abs=1e-3)
    assert piece(rear, "cup").seen_share == pytest.approx(1.0)
    # From the rear the cup covers 4 by 4 of the oven's 20 by 20.
    assert piece(rear, "oven").seen_share == pytest.approx(1 - 16 / 400)


def test_bodies_askew_are_compared_where_both_are_seen():
    # The long one's far end is nearer to the eye than the small one is, but where the small
    # one is seen, the long one runs behind it.
    long = b.item("shelf", size=("40 in", "2 in", "10 in"), at=("36 in", "15 in"), rotation=30.0)
    small = b.item("cup", size=("3 in", "3 in", "3 in"), at=("22 in", "12 in"))
    drawn = seen(b.build(long, small), "front")
    assert piece(drawn, "shelf").seen_share < 1.0
    assert piece(drawn, "cup").seen_share == pytest.approx(1.0)


def test_boards_are_as_thick_as_the_room_below_leaves():
    # The shelf at 20 in has 15 in clear: up to 35 in. The counter is at 36 in: 1 in is left.
    drawn = seen(b.build(), "front")
    counter = piece(drawn, "level:counter")
    assert (counter.bottom_m, counter.top_m) == pytest.approx((35 * INCH, 36 * INCH))
    assert (counter.left_m, counter.right_m) == pytest.approx((0.0, 72 * INCH))
    # Nothing is below the base, so nothing says how thick it is: a line, a millimetre at most.
    base = piece(drawn, "level:base")
    assert max(z for _, z in base.outline) == pytest.approx(6 * INCH)
    assert min(z for _, z in base.outline) >= 6 * INCH - 0.0011


def test_parts_of_the_cart_are_where_they_are_authored():
    cart = b.cart(
        legs=(CartLeg(x=Length("2 in"), y=Length("2 in"), width=Length("2 in")),),
        casters=(Caster(x=Length("70 in"), y=Length("28 in"), rating=Mass("50 kg")),),
        handle=Handle(side="right", height=Length("34 in"), reach=Length("5 in")),
        rear_panel=RearPanel(bottom=Length("6 in"), top=Length("30 in")),
        leaves=(
            Leaf(
                name="flap",
                side="left",
                start=Length("4 in"),
                length=Length("20 in"),
                depth=Length("12 in"),
                thickness=Length("1 in"),
            ),
        ),
        zones=(
            Zone(
                name="hole",
                kind="opening",
                level="counter",
                x=Length("30 in"),
                y=Length("10 in"),
                width=Length("6 in"),
                depth=Length("4 in"),
            ),
        ),
    )
    drawn = seen(b.build(cart=cart), "front")

    def box(key):
        one = piece(drawn, key)
        return [round(side / INCH, 4) for side in
                (one.left_m, one.right_m, one.bottom_m, one.top_m)]  # fmt: skip

    # 2 in wide about x = 2 in, from the floor to the underside of the counter's board.
    assert box("leg:0") == [1, 3, 0, 35]
    assert box("handle")[:2] == [72, 77]
    assert sum(box("handle")[2:]) / 2 == pytest.approx(34)
    assert box("panel")[2:] == [6, 30]
    assert box("leaf:0") == [-12, 0, 35, 36]
    assert box("zone:0") == [30, 36, 35, 36]
    assert box("caster:0")[2] == 0
    assert sum(box("caster:0")[:2]) / 2 == pytest.approx(70)
    hanging = replace(cart, leaves=(replace(cart.leaves[0], up=False),))
    down = piece(seen(b.build(cart=hanging), "front"), "leaf:0")
    assert down.bottom_m == pytest.approx(24 * INCH)  # 12 in of flap below a 36 in counter
    assert down.left_m == pytest.approx(-1 * INCH)


def test_a_round_hole_has_two_sides_and_no_edges_between():
    hole = Zone(
        name="hole",
        kind="opening",
        level="counter",
        x=Length("30 in"),
        y=Length("10 in"),
        width=Length("6 in"),
        depth=Length("6 in"),
        round=True,
    )
    one = piece(seen(b.build(cart=b.cart(zones=(hole,))), "front"), "zone:0")
    # Around 6 in by the counter's 1 in: 14 in of lines, and nothing else.
    assert length((*one.seen, *one.unseen)) == pytest.approx(14 * INCH, abs=1e-3)


def test_behind_the_panel_things_are_hidden_but_named():
    cart = b.cart(rear_panel=RearPanel(bottom=Length("6 in"), top=Length("36 in")))
    jug = b.item("jug", level="base", at=("20 in", "10 in"))
    hidden = piece(seen(b.build(jug, cart=cart), "rear"), "jug")
    assert hidden.seen == ()
    assert hidden.is_behind_panel
    assert not piece(seen(b.build(jug, cart=cart), "front"), "jug").is_behind_panel


def test_the_wall_is_seen_beyond_the_cart_and_never_before_it():
    outlet = b.outlet("wall", at=("20 in", "-12 in"))
    build = b.build(outlet)
    assert any(one.key == "wall" for one in seen(build, "front").pieces)
    assert not any(one.key == "wall" for one in seen(build, "rear").pieces)
    # In the left end view the rear is at the left hand: the wall is left of the cart's edge.
    assert piece(seen(build, "left"), "wall").right_m < 0.0
    # In the right end view it is beyond the cart's other edge.
    assert piece(seen(build, "right"), "wall").left_m > 30 * INCH


def test_heights_are_those_that_were_authored():
    build = b.build(
        b.tank("jug", level="base", size=("10 in", "10 in", "15 in")),
        b.outlet("wall", at=("20 in", "-12 in"), size=("4 in", "2 in", "4 in")),
        cart=b.cart(handle=Handle(side="left", height=Length("33 in"))),
    )  # fmt: skip
    found = {one.name: one.height_m / INCH for one in seen(build, "front").heights}
    assert found["counter, working height"] == pytest.approx(36)
    assert found["shelf"] == pytest.approx(20)
    assert found["base"] == pytest.approx(6)
    assert found["top of jug"] == pytest.approx(6 + 15)
    assert found["middle of wall"] == pytest.approx(18 + 2)  # `b.outlet` raises it by 18 in
    assert found["handle"] == pytest.approx(33)


def test_what_the_venue_has_far_off_is_written_but_not_drawn():
    # 60 in behind the cart: from an end it would be 60 in beside it, more than 0.6 m (24 in).
    far = b.outlet("far", at=("20 in", "-61 in"), size=("4 in", "2 in", "4 in"))
    kettle = b.load("kettle", at=("20 in", "10 in"))
    drawn = seen(b.build(kettle, far, b.wire("kettle", "far")), "left")
    assert not any(one.key == "far" for one in drawn.pieces)
    (mark,) = (one for one in drawn.heights if one.kind == "venue")
    assert mark.height_m == pytest.approx(20 * INCH)
    assert (mark.side, mark.off_m) == ("left", pytest.approx(60 * INCH))
    # Its cord is cut off where the drawing ends, 0.2 m beside the cart.
    (cord,) = drawn.runs
    assert cord.is_cut
    assert min(u for u, _ in cord.points) == pytest.approx(-0.2)
    assert drawn.bounds[0] == pytest.approx(-0.2)
    # From the front it is behind the cart and drawn.
    assert any(one.key == "far" for one in seen(b.build(far), "front").pieces)


def test_a_drain_in_the_floor_has_no_height():
    drain = b.floor_drain("drain", at=("20 in", "-12 in"), size=("6 in", "6 in", "1 in"))
    assert not [one for one in seen(b.build(drain), "front").heights if one.kind == "venue"]


def test_things_equally_high_share_one_mark():
    wall = {"size": ("4 in", "2 in", "4 in")}
    build = b.build(
        b.outlet("one", at=("20 in", "-12 in"), **wall),
        b.outlet("two", at=("40 in", "-12 in"), **wall),
    )
    names = [one.name for one in seen(build, "front").heights]
    assert "middle of one, two" in names


@pytest.mark.parametrize(
    ("view", "operator", "said"),
    [
        ("front", "front", "Front elevation, operator's side"),
        ("rear", "front", "Rear elevation, guests' side"),
        ("left", "front", "Left end elevation"),
        ("left", "right", "Left end elevation, guests' side"),
    ],
)
def test_titles_say_whose_side_it_is(view, operator, said):
    assert elevation_title(view, operator) == said


# --- what must hold always ----------------------------------------------------------------------


def check_sight(drawn):
    """No place is in sight twice; all that is covered by something is covered by what is seen."""
    solid = [one for one in drawn.pieces if one.kind != "opening" and not one.is_behind_panel]
    areas = [Polygon(shell, holes) for one in solid for shell, *holes in one.areas]
    total = sum(area.area for area in areas)
    together = shapely.union_all(areas) if areas else Polygon()
    assert together.area == pytest.approx(total, rel=1e-6, abs=1e-8)
    peeping = sum(
        one.seen_share * Polygon(one.outline).area for one in drawn.pieces if one.is_behind_panel
    )
    total += peeping
    outlines = [Polygon(one.outline) for one in drawn.pieces if one.kind != "opening"]
    assert shapely.union_all(outlines).area == pytest.approx(total, rel=1e-6, abs=1e-8)


def check_edges(drawn):
    """Every edge of a body is drawn, in sight or hidden; at corners a hair may be missing."""
    for one in drawn.pieces:
        if one.kind not in ("body", "venue"):
            continue
        around = Polygon(one.outline).length
        assert length(one.seen) + length(one.unseen) >= around - 0.02, one.key


def check_runs(build, analysis, drawn):
    """A run is drawn along all of its way, and goes up and down by as much as its route does."""
    for run in drawn.runs:
        route = analysis.network.routes[run.key]
        lines = (*run.seen, *run.unseen)
        steps = list(pairwise(run.points))
        whole = sum(math.dist(a, c) for a, c in steps)
        assert length(lines) == pytest.approx(whole, abs=0.005 * max(len(steps), 1))
        upright = sum(abs(a[1] - c[1]) for a, c in steps)
        if not run.is_cut:
            assert upright == pytest.approx(route.vertical_m, abs=1e-6)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", SAMPLES)
def test_what_holds_of_every_sample(name, view):
    build = load(sample_builds() / f"{name}.cart")
    analysis = analyse(build)
    drawn = elevation(build, analysis, view)
    check_sight(drawn)
    check_edges(drawn)
    check_runs(build, analysis, drawn)
    bodies = {item.id for item in build.items if item.level != "venue"}
    assert bodies <= {one.key for one in drawn.pieces}


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds(), st.sampled_from(VIEWS))
def test_what_holds_of_any_build(build, view):
    analysis = analyse(build)
    drawn = elevation(build, analysis, view)
    check_sight(drawn)
    check_runs(build, analysis, drawn)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds())
def test_opposite_sides_are_mirror_images_of_what_both_see(build):
    analysis = analyse(build)
    for one, other in (("front", "rear"), ("left", "right")):
        here, there = elevation(build, analysis, one), elevation(build, analysis, other)
        beyond = {piece.key: piece for piece in there.pieces}
        for mine in here.pieces:
            yours = beyond.get(mine.key)
            if yours is not None:
                assert mine.left_m == pytest.approx(here.width_m - yours.right_m, abs=1e-9)
                assert (mine.bottom_m, mine.top_m) == (yours.bottom_m, yours.top_m)
