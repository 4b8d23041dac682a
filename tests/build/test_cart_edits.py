"""Levels and parts of the cart under edits: what is refused, what comes along, what comes back."""

import pytest
from building import item
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely.geometry import Polygon, box

from cartlayout.build import (
    Build,
    Cart,
    CartLeg,
    Caster,
    Handle,
    Leaf,
    Level,
    RearPanel,
    Zone,
)
from cartlayout.build.cart_edits import (
    add,
    add_level,
    change,
    move_level,
    new_caster,
    new_handle,
    new_leaf,
    new_leg,
    new_panel,
    new_zone,
    remove_level,
    remove_part,
    remove_parts,
    rename_level,
    set_levels,
)
from cartlayout.build.cart_geometry import extent, leaf_ring, zone_ring
from cartlayout.build.cart_moves import moved, nearest_side, pulled, stretched
from cartlayout.build.cart_parts import all_parts, exists, name_of, part_of, ref_of
from cartlayout.build.edits import EditError
from cartlayout.units import Length, Mass

IN = 0.0254


def length(inches: float) -> Length:
    return Length.from_si(inches * IN, "in")


def cart_build(**more) -> Build:
    cart = Cart(
        width=length(72),
        depth=length(30),
        levels=(
            Level(name="counter", height=length(36), clear_height=length(40)),
            Level(name="shelf", height=length(20), clear_height=length(14)),
            Level(name="base", height=length(6), clear_height=length(13)),
        ),
        **more,
    )
    return Build(name="b", cart=cart)


def zone(
    name="Jugs", level="counter", x=4.0, y=4.0, width=12.0, depth=8.0, kind="reserved"
) -> Zone:
    return Zone(
        name="Jugs", kind=kind, level=level,
        x=length(x), y=length(y), width=length(width), depth=length(depth),
    )  # fmt: skip


def with_item(build: Build, level: str) -> Build:
    one = item("kettle")
    return replace(build, items=(replace(one, level=level),))


# Levels


def test_a_level_that_is_renamed_keeps_what_stands_on_it():
    build, _ = add(with_item(cart_build(), "shelf"), zone(level="shelf"))
    made = rename_level(build, "shelf", "middle")
    assert [level.name for level in made.cart.levels] == ["counter", "middle", "base"]
    assert made.items[0].level == "middle"
    assert made.cart.zones[0].level == "middle"
    assert rename_level(made, "middle", "shelf") == build


def test_a_level_with_something_on_it_does_not_go_and_says_what_it_is():
    build = with_item(cart_build(), "shelf")
    with pytest.raises(EditError, match=build.items[0].name):
        remove_level(build, "shelf")
    made = remove_level(build, "shelf", move_to="base")
    assert made.items[0].level == "base"
    assert made.cart.level("shelf") is None


def test_the_last_level_stays():
    build = remove_level(remove_level(cart_build(), "base"), "shelf")
    with pytest.raises(EditError, match="needs a level"):
        remove_level(build, "counter")


@pytest.mark.parametrize("name", ["", "  ", "shelf", "venue"])
def test_names_of_levels_that_cannot_be(name):
    with pytest.raises(EditError):
        add_level(cart_build(), name, length(3), length(3))


def test_levels_change_places():
    made = move_level(cart_build(), "base", -1)
    assert [level.name for level in made.cart.levels] == ["counter", "base", "shelf"]
    assert move_level(made, "base", 1) == cart_build()
    assert move_level(made, "counter", -1) is made


def test_a_list_of_levels_renames_removes_adds_and_reorders():
    build = with_item(cart_build(), "base")
    counter, shelf, base = build.cart.levels
    renamed = set_levels(build, (counter, shelf, replace(base, name="floor")))
    assert renamed.items[0].level == "floor"
    reordered = set_levels(build, (base, counter, shelf))
    assert reordered.items == build.items
    assert reordered.cart.levels == (base, counter, shelf)
    assert set_levels(build, (counter, base)).cart.level("shelf") is None
    with pytest.raises(EditError, match="still"):
        set_levels(build, (counter, shelf))
    with pytest.raises(EditError, match="two levels"):
        set_levels(build, (counter, replace(shelf, name="counter"), base))
    added = set_levels(build, (*build.cart.levels, replace(shelf, name="top")))
    assert added.cart.level("top") is not None


# Parts

makers = st.sampled_from(
    ["opening", "no-go", "reserved", "caster", "leg", "leaf", "handle", "panel"]
)


def new(build: Build, kind: str):
    if kind in ("opening", "no-go", "reserved"):
        return new_zone(build, kind, "counter", (0.1, 0.1, 0.4, 0.3))
    return {
        "caster": lambda: new_caster(build, 0.1, 0.1),
        "leg": lambda: new_leg(build, 0.2, 0.2),
        "leaf": lambda: new_leaf(build, "right", 0.0, 0.3, 0.2),
        "handle": lambda: new_handle(build, "left"),
        "panel": lambda: new_panel(build, "rear"),
    }[kind]()


@given(st.lists(makers, max_size=8))
@settings(max_examples=60, deadline=None)
def test_what_is_added_can_be_taken_away_again(kinds):
    build = cart_build()
    added = []
    for kind in kinds:
        build, ref = add(build, new(build, kind))
        if ref not in added:
            added.append(ref)
        assert exists(build.cart, ref)
        assert str(ref_of(ref)) == ref
        assert part_of(build.cart, ref) is not None
        assert name_of(build.cart, ref)
    seen = all_parts(build.cart, "counter")
    assert set(added) <= set(seen)
    assert remove_parts(build, added) == cart_build()


def test_names_of_zones_are_their_own():
    build, _ = add(cart_build(), new(cart_build(), "reserved"))
    assert new(build, "reserved").name == "Reserved 2"


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (zone(level="attic"), "no level"),
        (zone(x=80), "off the cart"),
        (zone(width=0.1), "at least"),
        (Caster(x=length(120), y=length(4), rating=Mass("1 kg")), "away from the cart"),
        (CartLeg(x=length(4), y=length(4), width=Length("0 in")), "width"),
        (
            Leaf(name="L", side="rear", start=length(0), length=length(80), depth=length(9)),
            "longer",
        ),
        (Leaf(name="L", side="rear", start=length(0), length=length(9), depth=length(0)), "depth"),
        (RearPanel(bottom=length(36), top=length(6)), "above"),
    ],
)
def test_parts_that_cannot_be_say_why(part, words):
    with pytest.raises(EditError, match=words):
        add(cart_build(), part)


def test_parts_that_are_not_there_cannot_be_changed_or_taken_away():
    build = cart_build()
    for ref in ("zone:0", "caster:3", "leaf:1", "handle", "panel", "nonsense"):
        assert not exists(build.cart, ref)
        with pytest.raises(EditError):
            remove_part(build, ref)
    with pytest.raises(EditError, match="edge"):
        remove_part(build, "edge:0")


# Moving and pulling

inches = st.floats(-100, 100).map(lambda one: round(one, 2))


@given(inches, inches, st.sampled_from(["zone:0", "caster:0", "leaf:0", "leg:0"]))
@settings(max_examples=120, deadline=None)
def test_moved_parts_stay_at_the_cart_and_keep_their_size(dx, dy, part):
    """Source: shapely's bounds and area."""
    build, _ = add(cart_build(), zone())
    build, _ = add(build, new(build, "caster"))
    build, _ = add(build, new(build, "leaf"))
    build, _ = add(build, new(build, "leg"))
    made = moved(build, (part,), dx * IN, dy * IN)
    whole = box(*extent(build.cart))
    if part == "zone:0":
        before, after = Polygon(zone_ring(zone())), Polygon(zone_ring(made.cart.zones[0]))
        assert after.area == pytest.approx(before.area)
        assert whole.buffer(1e-5).covers(after)
    elif part == "leaf:0":
        leaf = Polygon(leaf_ring(made.cart, made.cart.leaves[0]))
        assert leaf.area == pytest.approx(0.3 * 0.2, rel=1e-3)
        assert leaf.distance(whole) == pytest.approx(0, abs=1e-6)
    else:
        post = (made.cart.casters or made.cart.legs)[0] if part == "caster:0" else made.cart.legs[0]
        assert whole.buffer(0.41, join_style="mitre").covers(box(*(post.x.si, post.y.si) * 2))


@given(inches, inches, st.sampled_from([(x, y) for x in (-1, 0, 1) for y in (-1, 0, 1)]))
@settings(max_examples=120, deadline=None)
def test_a_pulled_zone_keeps_its_opposite_side(dx, dy, way):
    build, ref = add(cart_build(), zone())
    try:
        made = part_of(pulled(build, ref, way, dx * IN, dy * IN).cart, ref)
    except EditError:
        return
    before = zone()
    for start, size, at in ((("x"), "width", 0), (("y"), "depth", 1)):
        low, now_low = getattr(before, start).si, getattr(made, start).si
        high, now_high = low + getattr(before, size).si, now_low + getattr(made, size).si
        if way[at] >= 0:
            assert now_low == pytest.approx(low, abs=3e-6)
        if way[at] <= 0:
            assert now_high == pytest.approx(high, abs=3e-6)
        assert getattr(made, size).si > 0


def test_a_leaf_goes_to_the_side_that_the_mouse_is_nearest_to():
    build, ref = add(cart_build(), new_leaf(cart_build(), "right", 0.0, 0.4, 0.2))
    made = moved(build, (ref,), 0.0, 0.0, to=(0.9, 0.9))
    assert made.cart.leaves[0].side == "front"
    assert nearest_side(extent(build.cart), (-0.2, 0.3)) == "left"


def test_the_handle_changes_sides_and_reaches_further():
    build, ref = add(cart_build(), new_handle(cart_build(), "left"))
    assert moved(build, (ref,), 0, 0, to=(2.0, 0.3)).cart.handle.side == "right"
    assert pulled(build, ref, (-1, 0), -2 * IN, 0).cart.handle.reach.text == "6 in"
    assert stretched(build, ref, 2 * IN, 0).cart.handle.reach.text == "6 in"


def test_stretching_by_key_moves_the_right_and_front_sides():
    build, ref = add(cart_build(), zone())
    made = stretched(build, ref, 2 * IN, -1 * IN).cart.zones[0]
    assert (made.x.text, made.y.text) == ("4 in", "4 in")
    assert (made.width.text, made.depth.text) == ("14 in", "7 in")
    with_caster, caster = add(build, new(build, "caster"))
    with pytest.raises(EditError, match="no size"):
        stretched(with_caster, caster, IN, 0)


def test_a_changed_part_is_checked():
    build, ref = add(cart_build(), zone())
    with pytest.raises(EditError, match="off the cart"):
        change(build, ref, zone(x=90))
    assert change(build, ref, zone()) is build


def test_handle_and_panel_are_one_each():
    build, _ = add(cart_build(), new_handle(cart_build(), "left"))
    build, _ = add(build, Handle(side="right", height=length(36)))
    assert build.cart.handle.side == "right"
