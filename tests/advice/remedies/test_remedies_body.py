"""Remedies of the body: places worked out by subtraction, tilt by statics, what each is offered.

What has to be offered for what is logic of our own: no source outside.
"""

import math

import building as b
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from remedies_asking import kinds, of_kind, offered, said, words
from shapely import Polygon, box, union_all

from cartlayout.advice.remedies.body_cart import raise_all_above, shift_level
from cartlayout.advice.remedies.body_spots import spots
from cartlayout.analysis import analyse
from cartlayout.build import Build, Caster, Clearance, Leaf, Passage, RearPanel, Venue, Zone
from cartlayout.build.edits import EditError
from cartlayout.build.geometry import corners
from cartlayout.units import Length, Mass

INCH = 0.0254


def casters(rating: str = "150 lb", inset: str = "3 in", width: float = 72, depth: float = 30):
    inset_in = Length(inset).si / INCH
    return tuple(
        Caster(x=Length(f"{x} in"), y=Length(f"{y} in"), rating=Mass(rating))
        for x in (inset_in, width - inset_in)
        for y in (inset_in, depth - inset_in)
    )


# --- moving aside ----------------------------------------------------------------------------


def test_the_nearest_way_out_of_another_body() -> None:
    """Two bodies of 10 in, middles 7 in apart: 3 in to the side is enough."""
    made = b.build(
        b.item("a", at=("30 in", "15 in")), b.item("b", at=("37 in", "15 in")),
    )  # fmt: skip
    best = offered(made, "body.overlap")[0]
    assert best.kind == "move"
    moved = best.build.item("a").x.si - 30 * INCH, best.build.item("b").x.si - 37 * INCH
    assert max(abs(by) for by in moved) == pytest.approx(3 * INCH, abs=0.1 * INCH)
    assert "3.0 in" in words(best)


@pytest.mark.parametrize("aside", [(-7, 0), (7, 0), (0, -7), (0, 7)])
def test_the_nearest_way_out_is_found_on_every_side(aside: tuple[int, int]) -> None:
    """Bodies of 10 in, middles 7 in apart, the other one fixed: 3 in further away is enough."""
    x, y = 36 + aside[0], 15 + aside[1]
    made = b.build(
        b.item("a", at=(f"{x} in", f"{y} in")), b.item("b", at=("36 in", "15 in"), locked=True),
    )  # fmt: skip
    moved = offered(made, "body.overlap")[0].build.item("a")
    by = moved.x.si / INCH - x, moved.y.si / INCH - y
    assert by == pytest.approx((3 / 7 * aside[0], 3 / 7 * aside[1]), abs=0.11)


def test_over_the_edge_comes_in_by_what_hangs_over() -> None:
    """A body of 10 in with its middle 2 in from the front edge of 30 in: 3 in hang over."""
    best = offered(b.build(b.item("a", at=("36 in", "28 in"))), "body.overhang")[0]
    assert best.build.item("a").y.si == pytest.approx(25 * INCH, abs=0.11 * INCH)
    assert "3.0 in" in words(best)


def test_turning_helps_where_nothing_else_has_room() -> None:
    """20 x 6 in between a body and the front edge, 8 in apart: along it goes, across not."""
    made = b.build(
        b.item("long", size=("20 in", "6 in", "6 in"), at=("36 in", "25 in"), rotation=90.0),
        b.item("wall", size=("72 in", "22 in", "8 in"), at=("36 in", "11 in"), locked=True),
    )
    found = offered(made, "body.overlap")
    assert "turn" in kinds(found)
    assert of_kind(found, "turn").build.item("long").rotation in (0.0, 180.0)


def test_what_is_locked_is_not_moved() -> None:
    made = b.build(
        b.item("a", at=("30 in", "15 in"), locked=True),
        b.item("b", at=("37 in", "15 in"), locked=True),
    )
    assert offered(made, "body.overlap") == ()


def test_a_group_moves_as_one() -> None:
    made = b.build(
        b.item("a", at=("20 in", "15 in"), group="set"),
        b.item("a2", at=("20 in", "3 in"), size=("4 in", "4 in", "4 in"), group="set"),
        b.item("c", at=("27 in", "15 in"), locked=True),
    )
    best = offered(made, "body.overlap")[0]
    shifts = [
        (best.build.item(one).x.si - made.item(one).x.si,
         best.build.item(one).y.si - made.item(one).y.si)
        for one in ("a", "a2")
    ]  # fmt: skip
    assert shifts[0] == pytest.approx(shifts[1])
    assert any(abs(by) > 0 for by in shifts[0])


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(4, 68), st.integers(4, 26), st.integers(3, 14), st.integers(3, 14),
            st.sampled_from([0.0, 90.0, 30.0]),
        ),
        min_size=2, max_size=8,
    )
)  # fmt: skip
def test_every_spot_is_free(bodies) -> None:
    """Held against polygons of the corners, with the whole counter as one rectangle."""
    made = b.build(
        *(
            b.item(f"i{n}", size=(f"{w} in", f"{d} in", "10 in"), at=(f"{x} in", f"{y} in"),
                   rotation=turn)
            for n, (x, y, w, d, turn) in enumerate(bodies)
        )
    )  # fmt: skip
    analysis = analyse(made)
    first, *others = made.items
    ground = box(0, 0, 72 * INCH, 30 * INCH).buffer(0.0006, join_style="mitre")
    taken = union_all([Polygon(corners(one)) for one in others])
    found = spots(analysis, made, ("i0",))
    away = [math.hypot(*at) for at in found]
    assert away == sorted(away)
    for dx, dy in found:
        there = Polygon([(x + dx, y + dy) for x, y in corners(first)])
        assert ground.covers(there)
        assert there.intersection(taken).area < 0.0006 * 72 * INCH


# --- clearances, heights, levels -------------------------------------------------------------


def test_space_that_is_asked_for_is_made() -> None:
    """4 in on the right are asked for and 1 in is there."""
    asks = {"clearances": (Clearance(right=Length("4 in")),)}
    made = b.build(
        b.item("a", at=("20 in", "15 in"), spec=asks), b.item("c", at=("31 in", "15 in"))
    )
    best = offered(made, "body.clearance")[0]
    gap = best.build.item("c").x.si - best.build.item("a").x.si - 10 * INCH
    apart = abs(best.build.item("c").y.si - best.build.item("a").y.si)
    assert gap >= 4 * INCH - 0.0006 or apart >= 10 * INCH - 0.0006


def test_too_tall_for_its_shelf() -> None:
    """16 in on a shelf with 15 in above it."""
    made = b.build(b.item("a", size=("10 in", "10 in", "16 in"), level="shelf"))
    found = offered(made, "body.height")
    assert {"other level"} <= kinds(found)
    assert kinds(found) & {"raise level", "lower level"}


def test_levels_shift_and_what_is_free_above_and_below_follows() -> None:
    """Counter 36, shelf 20 with 15 free, base 6 with 28 free (inches): the shelf 2 in lower."""
    made = shift_level(b.build(), "shelf", -2 * INCH)
    shelf, base = made.cart.level("shelf"), made.cart.level("base")
    assert shelf.height.si == pytest.approx(18 * INCH)
    assert shelf.clear_height.si == pytest.approx(17 * INCH)
    assert base.clear_height.si == pytest.approx(26 * INCH)
    assert made.cart.level("counter") == b.cart().level("counter")


def test_levels_raised_together_keep_what_is_free_above_them() -> None:
    made = raise_all_above(b.build(), "base", 3 * INCH)
    assert made.cart.level("base").clear_height.si == pytest.approx(31 * INCH)
    assert made.cart.level("shelf").height.si == pytest.approx(23 * INCH)
    assert made.cart.level("shelf").clear_height == b.cart().level("shelf").clear_height
    assert made.cart.level("counter").height.si == pytest.approx(39 * INCH)


def test_no_level_goes_below_the_next() -> None:
    with pytest.raises(EditError, match="no higher"):
        shift_level(b.build(), "shelf", -15 * INCH)


def test_a_level_the_cart_does_not_have() -> None:
    made = b.build(b.item("a", level="mezzanine"))
    found = offered(made, "body.level")
    assert kinds(found) == {"other level"}
    assert found[0].build.item("a").level in ("counter", "shelf", "base")


# --- zones, leaves, panels -------------------------------------------------------------------


def zoned(kind: str):
    zone = Zone(name="Hole", kind=kind, level="counter", x=Length("30 in"), y=Length("10 in"),
                width=Length("8 in"), depth=Length("8 in"))  # fmt: skip
    return b.build(b.item("a", at=("36 in", "15 in")), cart=b.cart(zones=(zone,)))


@pytest.mark.parametrize("kind", ["opening", "no-go", "reserved"])
def test_out_of_a_zone(kind: str) -> None:
    found = offered(zoned(kind), f"body.zone-{kind}")
    assert found[0].kind == "move"
    assert ("close hole" in kinds(found)) == (kind == "opening")


def leafed(up: bool, rating: str = "5 kg") -> Build:
    leaf = Leaf(name="Right leaf", side="right", start=Length("0 in"), length=Length("30 in"),
                depth=Length("14 in"), up=up, rating=Mass(rating))  # fmt: skip
    heavy = b.item("a", at=("79 in", "15 in"), mass="20 kg", locked=False)
    return b.build(heavy, cart=b.cart(leaves=(leaf,)))


def test_a_leaf_that_is_down_is_raised() -> None:
    found = offered(leafed(False, "50 kg"), "body.leaf-down")
    raised = of_kind(found, "raise leaf")
    assert raised.build.cart.leaves[0].up
    assert raised.effort == 0
    assert found[0].kind == "raise leaf"


def test_a_leaf_that_bears_too_much_is_unloaded() -> None:
    best = offered(leafed(True), "body.leaf-load")[0]
    assert "lb instead of 44 lb" in words(best)  # 20 kg are 44 lb


def test_wall_gear_without_a_wall() -> None:
    found = offered(b.build(b.item("a", mount="wall")), "body.no-panel")
    assert kinds(found) == {"stand", "panel"}
    panel = of_kind(found, "panel")
    assert panel.build.cart.rear_panel is not None


def test_gear_beside_the_panel_is_hung_on_it() -> None:
    panel = RearPanel(bottom=Length("20 in"), top=Length("60 in"))
    made = b.build(b.item("a", mount="wall", at=("36 in", "15 in")), cart=b.cart(rear_panel=panel))
    found = offered(made, "body.off-panel")
    assert "hang" in kinds(found)


def test_what_is_let_in_needs_its_hole() -> None:
    made = b.build(b.item("a", raised=Length("-4 in")))
    found = offered(made, "body.sunk")
    assert kinds(found) == {"stand", "hole"}
    hole = of_kind(found, "hole").build.cart.zones[0]
    assert hole.width.si == pytest.approx(9 * INCH)  # half an inch of rim on every side of 10 in


# --- weight ----------------------------------------------------------------------------------


def top_heavy(inset: str = "13 in") -> Build:
    """40 kg on the counter of an empty cart of 30 kg, its wheels close together."""
    return b.build(
        b.item("machine", mass="40 kg", size=("16 in", "16 in", "18 in"), at=("36 in", "15 in")),
        cart=b.cart(
            casters=casters(inset=inset), empty_mass=Mass("30 kg"),
            centre_of_mass_height=Length("18 in"),
        ),
    )  # fmt: skip


def test_a_cart_that_tips_gets_its_weight_down_or_its_wheels_out() -> None:
    """Wheels 2 in from the middle line, the centre of gravity about 35 in up: 3 degrees."""
    analysis, finding = said(top_heavy(), "body.tilt")
    assert finding.value is not None
    z_in = (40 * (36 + 9) + 30 * 18) / 70
    assert finding.value.si == pytest.approx(math.degrees(math.atan2(2, z_in)), abs=0.3)
    found = offered(top_heavy(), "body.tilt")
    wider = of_kind(found, "wheels wider")
    y_in = min(one.y.si for one in wider.build.cart.casters) / INCH
    expected = math.degrees(math.atan2(15 - y_in, z_in))
    assert wider.value is not None
    assert wider.value.si == pytest.approx(expected, abs=0.3)
    assert analysis.build.cart.casters != wider.build.cart.casters


def test_casters_are_made_strong_enough() -> None:
    """70 kg on four wheels, two of them near the load: over 10 kg each."""
    made = b.build(
        b.item("machine", mass="40 kg", at=("36 in", "15 in")),
        cart=b.cart(casters=casters("10 kg"), empty_mass=Mass("30 kg")),
    )
    found = offered(made, "body.caster")
    strong = of_kind(found, "casters")
    assert min(one.rating.si for one in strong.build.cart.casters) >= 70 / 4
    assert not [one for one in strong.analysis.findings if one.code == "body.caster"]


def test_what_is_too_high_for_the_door_is_carried_in() -> None:
    way = Passage(name="Door", kind="door", width=Length("40 in"), height=Length("70 in"))
    made = b.build(
        b.item("tall", size=("10 in", "10 in", "40 in")), venue=Venue(passages=(way,))
    )  # 36 + 40 in
    best = offered(made, "body.door")[0]
    assert best.kind == "carry"
    assert "instead of 76.0 in" in words(best)
    assert not best.build.item("tall").travels


def test_a_lift_that_carries_less_takes_the_cart_without_its_jugs() -> None:
    way = Passage(name="Lift", kind="lift", width=Length("40 in"), length=Length("90 in"),
                  load=Mass("60 kg"))  # fmt: skip
    made = b.build(
        b.item("machine", mass="30 kg"), b.item("crate", mass="25 kg", level="base"),
        venue=Venue(passages=(way,)), cart=b.cart(empty_mass=Mass("20 kg")),
    )  # fmt: skip
    best = offered(made, "body.lift")[0]
    assert best.kind == "carry"
    assert best.value is not None
    assert best.value.si <= 60


def test_out_of_reach_comes_nearer() -> None:
    """The operator is at the rear of a cart 60 in deep; what is worked at stands at the front."""
    made = b.build(
        b.item("machine", at=("36 in", "50 in"), spec={"operated": True}),
        cart=b.cart(depth="60 in"),
    )
    _, finding = said(made, "body.reach")
    best = offered(made, "body.reach")[0]
    assert best.value is not None
    assert finding.limit is not None
    assert best.value.si <= finding.limit.si + 1e-9


def test_a_counter_too_high_for_access_is_lowered() -> None:
    """ADA 904.4.1 (2010): 36 in at most; this one is at 38."""
    high = b.cart()
    from msgspec.structs import replace

    levels = tuple(
        replace(one, height=Length("38 in")) if one.name == "counter" else one
        for one in high.levels
    )
    made = b.build(b.item("a"), cart=replace(high, levels=levels))
    best = offered(made, "body.counter-height")[0]
    assert "36.0 in instead of 38.0 in" in words(best)
