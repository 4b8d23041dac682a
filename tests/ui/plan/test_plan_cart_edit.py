"""Editing the cart itself on the plan, with real mouse and key events."""

import pytest
from msgspec.structs import replace
from plan_cart import small_cart
from PySide6.QtCore import Qt

from cartlayout.build import Build
from cartlayout.build.cart_edits import (
    add,
    new_caster,
    new_handle,
    new_leaf,
    new_panel,
    new_zone,
)
from cartlayout.build.cart_geometry import extent
from cartlayout.build.geometry import bounds, outline
from cartlayout.stock import stock
from cartlayout.ui.selection import Selection

Key, Mod = Qt.Key, Qt.KeyboardModifier
IN = 25.4


def furnished() -> Build:
    """The small cart with one part of each sort."""
    build = small_cart()
    build, _ = add(build, new_zone(build, "reserved", "counter", (0.1, 0.1, 0.4, 0.3), "Jugs"))
    build, _ = add(build, new_caster(build, 0.6, 0.4))
    build, _ = add(build, new_leaf(build, "right", 0.0, 0.4, 0.2))
    return build


@pytest.fixture
def hand(show_plan):
    hand = show_plan(furnished())
    hand.view.cart_edit.enter()
    hand.settle()
    return hand


def edges(hand):
    whole = extent(hand.session.build.cart)
    return [value * 1000 for value in whole]


def test_a_right_edge_that_is_dragged_makes_the_cart_wider_in_one_step(hand):
    _, rear, right, front = edges(hand)
    items = hand.session.build.items
    middle = (rear + front) / 2
    # beside the middle, where no caster or item is taken instead
    hand.drag((right, middle + 60), (right + 8 * IN, middle + 60))
    assert edges(hand)[2] == pytest.approx(right + 8 * IN, abs=7)
    assert hand.undo_texts == ["Change the cart's outline"]
    assert hand.session.build.items == items
    hand.session.undo_stack.undo()
    assert hand.session.build == furnished()


def test_a_left_edge_that_is_dragged_leaves_everything_where_it_is_seen(hand):
    left, rear, right, front = edges(hand)
    first = hand.session.build.items[0]
    before = hand.at(hand.middle(first.id))
    y = (rear + front) / 2 + 60
    hand.drag((left, y), (left - 4 * IN, y))
    whole = edges(hand)
    assert whole[0] == pytest.approx(0, abs=0.01)
    assert whole[2] == pytest.approx(right + 4 * IN, abs=7)
    after = hand.at(hand.middle(first.id))
    assert (after - before).manhattanLength() <= 2
    hand.session.undo_stack.undo()
    hand.settle()
    assert (hand.at(hand.middle(first.id)) - before).manhattanLength() <= 2
    assert hand.session.build == furnished()


def test_a_corner_moves_both_its_edges_and_alone_with_shift(hand):
    _, _, right, front = edges(hand)
    hand.drag((right, front), (right + 2 * IN, front + 3 * IN))
    assert len(hand.session.build.cart.outline) == 0
    assert edges(hand)[3] == pytest.approx(front + 3 * IN, abs=7)
    front = edges(hand)[3]
    hand.drag((0, front), (5 * IN, front), Mod.ShiftModifier)
    assert len(hand.session.build.cart.outline) == 4
    assert hand.session.selection.parts == ("corner:3",)


def test_a_leaf_keeps_its_side_straight(hand):
    _, _, right, front = edges(hand)
    hand.start((right, front), (right - 5 * IN, front), Mod.ShiftModifier)
    assert "straight" in hand.view.plan.trace.tip
    hand.release((right - 5 * IN, front), Mod.ShiftModifier)
    assert hand.session.build == furnished()


def test_a_double_click_on_an_edge_makes_a_corner_and_delete_takes_it_away(hand):
    _, rear, right, front = edges(hand)
    hand.double_click((right, (rear + front) / 2 + 60))
    assert len(outline(hand.session.build.cart)) == 5
    assert hand.session.selection.parts == ("corner:2",)
    hand.key(Key.Key_Delete)
    assert len(outline(hand.session.build.cart)) == 4
    assert hand.undo_texts == ["Add corner", "Delete corner 3"]


def test_escape_in_mid_drag_restores(hand):
    _, rear, right, front = edges(hand)
    before = hand.session.build
    y = (rear + front) / 2 + 60
    hand.start((right, y), (right + 100, y))
    assert hand.session.shown is not before
    hand.key(Key.Key_Escape)
    assert hand.session.shown is before
    assert hand.undo_texts == []
    assert hand.session.editing_cart


def test_the_size_is_said_while_it_is_dragged(hand):
    _, rear, right, front = edges(hand)
    y = (rear + front) / 2 + 60
    hand.start((right, y), (right + 2 * IN, y))
    assert "×" in hand.view.plan.trace.tip
    assert hand.view.plan.trace.trace.measures
    hand.release((right + 2 * IN, y))
    assert hand.view.plan.trace.tip == ""


def test_an_impossible_drag_says_why_and_changes_nothing(hand):
    left, rear, right, front = edges(hand)
    y = (rear + front) / 2 + 60
    hand.start((right, y), (left - 50, y))
    assert "past" in hand.view.plan.trace.tip or "narrow" in hand.view.plan.trace.tip
    hand.release((left - 50, y))
    assert extent(hand.session.build.cart).width >= 0.1


def test_a_zone_is_moved_resized_and_deleted(hand):
    hand.click((250, 200))
    assert hand.session.selection.parts == ("zone:0",)
    hand.drag((250, 200), (250 + 3 * IN, 200))
    zone = hand.session.build.cart.zones[0]
    assert zone.x.si == pytest.approx(0.1 + 3 * IN / 1000, abs=0.01)
    assert (zone.width.si, zone.depth.si) == pytest.approx((0.3, 0.2), abs=1e-5)
    corner = ((zone.x.si + zone.width.si) * 1000, (zone.y.si + zone.depth.si) * 1000)
    hand.drag(corner, (corner[0] + 2 * IN, corner[1] + 1 * IN))
    larger = hand.session.build.cart.zones[0]
    assert larger.width.si > zone.width.si
    assert larger.x == zone.x
    hand.key(Key.Key_Delete)
    assert hand.session.build.cart.zones == ()
    assert hand.undo_texts == ["Move Jugs", "Resize Jugs", "Delete Jugs"]


@pytest.mark.parametrize(
    ("what", "field", "label"),
    [
        ("opening", "zones", "Add hole"),
        ("no-go", "zones", "Add no-go zone"),
        ("reserved", "zones", "Add reserved zone"),
        ("caster", "casters", "Add caster"),
        ("leg", "legs", "Add leg"),
        ("leaf", "leaves", "Add leaf"),
        ("panel", "rear_panel", "Add panel"),
        ("handle", "handle", "Add handle"),
    ],
)
def test_every_part_can_be_placed_by_mouse_and_by_key(show_plan, what, field, label):
    for way in ("click", "key"):
        hand = show_plan(small_cart())
        hand.view.cart_edit.place_next(what)
        assert hand.session.editing_cart
        if way == "click":
            hand.click((500, 350))
        else:
            hand.key(Key.Key_Return)
        before, now = getattr(small_cart().cart, field), getattr(hand.session.build.cart, field)
        assert now != before
        assert hand.undo_texts == [label]
        assert len(hand.session.selection.parts) == 1
        assert hand.view.cart_edit.placing == ""
        hand.session.undo_stack.undo()
        assert hand.session.build == small_cart()


def test_a_zone_is_as_large_as_it_is_dragged_out(show_plan):
    hand = show_plan(small_cart())
    hand.view.cart_edit.place_next("reserved")
    hand.drag((4 * IN, 4 * IN), (16 * IN, 10 * IN))
    zone = hand.session.build.cart.zones[-1]
    assert (zone.x.text, zone.y.text) == ("4 in", "4 in")
    assert (zone.width.text, zone.depth.text) == ("12 in", "6 in")


def test_what_is_placed_where_it_cannot_be_says_why(hand):
    said = []
    hand.session.told.connect(said.append)
    hand.view.cart_edit.place_next("reserved")
    hand.drag((-900, -900), (-700, -800))
    assert "off the cart" in said[-1]
    assert hand.undo_texts == []


def test_the_keyboard_walks_moves_stretches_and_leaves(hand):
    hand.key(Key.Key_Tab)
    assert hand.session.selection.parts == ("zone:0",)
    hand.key(Key.Key_Right)
    hand.key(Key.Key_Right)
    zone = hand.session.build.cart.zones[0]
    assert zone.x.si == pytest.approx(0.1 + 0.0254, abs=1e-5)
    hand.key(Key.Key_Down, Mod.ControlModifier)
    assert hand.session.build.cart.zones[0].depth.si == pytest.approx(0.2 + 0.0127, abs=1e-5)
    assert hand.undo_texts == ["Move Jugs", "Resize Jugs"]
    hand.key(Key.Key_Tab)
    assert hand.session.selection.parts == ("leaf:0",)
    hand.key(Key.Key_Tab, Mod.ShiftModifier)
    assert hand.session.selection.parts == ("zone:0",)
    hand.key(Key.Key_Escape)
    assert hand.session.selection.parts == ()
    assert hand.session.editing_cart
    hand.key(Key.Key_Escape)
    assert not hand.session.editing_cart


def test_an_edge_is_moved_by_key(hand):
    _, _, right, _ = edges(hand)
    hand.session.select(Selection(parts=("edge:1",)))
    hand.key(Key.Key_Right)
    assert edges(hand)[2] == pytest.approx(right + IN / 2, abs=0.01)


def test_a_double_click_folds_a_leaf(hand):
    leaf = hand.session.build.cart.leaves[0]
    assert leaf.up
    right = edges(hand)[2]
    hand.double_click((right + 150, 200))
    assert not hand.session.build.cart.leaves[0].up
    assert hand.undo_texts == ["Fold Right leaf down"]


def test_items_are_not_taken_hold_of_while_the_cart_is_edited(hand):
    first = hand.session.build.items[0]
    place = hand.middle(first.id)
    hand.drag(place, (place[0] + 5, place[1] + 60))
    assert hand.session.build.items == furnished().items
    assert hand.session.selection.items == ()


def test_selecting_an_item_ends_the_editing_of_the_cart(hand):
    hand.session.show_on_plan(Selection(items=(hand.session.build.items[0].id,)))
    assert not hand.session.editing_cart
    assert hand.view.cart_edit.strip.isHidden()
    hand.session.select(Selection(parts=("zone:0",)))
    assert hand.session.editing_cart
    assert hand.session.selection.items == ()


def test_a_band_selects_parts_and_they_move_together(hand):
    hand.session.set_snapping(False)
    hand.drag((45, 60), (680, 460))
    assert set(hand.session.selection.parts) >= {"zone:0", "caster:0"}
    parts = hand.session.selection.parts
    zone, caster = hand.session.build.cart.zones[0], hand.session.build.cart.casters[-1]
    hand.drag((250, 200), (250, 240))
    made = hand.session.build.cart
    assert made.zones[0].y.si - zone.y.si == pytest.approx(0.04, abs=0.004)
    assert made.casters[-1].y.si - caster.y.si == pytest.approx(0.04, abs=0.004)
    assert hand.session.selection.parts == parts


def test_handle_and_panel_follow_the_mouse_to_another_side(show_plan):
    build = small_cart()
    build, _ = add(build, new_handle(build, "right"))
    build, _ = add(build, new_panel(build, "rear"))
    hand = show_plan(build)
    hand.view.cart_edit.enter()
    _, rear, right, front = edges(hand)
    middle = (rear + front) / 2
    hand.drag((right + 50, middle + 40), (-40, middle + 40))
    assert hand.session.build.cart.handle.side == "left"
    hand.session.select(Selection())
    assert hand.session.editing_cart
    hand.drag((right / 2 + 90, rear + 25), (right / 2 + 90, front + 40))
    assert hand.session.build.cart.rear_panel.side == "front"


def test_a_handle_that_is_there_already_is_no_step(show_plan):
    build, _ = add(small_cart(), new_handle(small_cart(), "right"))
    hand = show_plan(build)
    said = []
    hand.session.told.connect(said.append)
    hand.view.cart_edit.place_next("handle")
    hand.key(Key.Key_Return)
    assert hand.undo_texts == []
    assert "already" in said[-1]
    assert hand.session.selection.parts == ("handle",)


def test_the_plan_says_in_words_what_is_selected(hand):
    hand.session.select(Selection(parts=("zone:0",)))
    hand.settle()
    words = hand.view.accessibleDescription()
    assert "Jugs" in words
    assert "reserved zone" in words
    hand.session.select(Selection())
    hand.settle()
    assert "Tab" in hand.view.accessibleDescription()


def test_the_bar_has_all_there_is_to_add_and_a_way_out(qtbot, hand):
    strip = hand.view.cart_edit.strip
    assert strip.isVisibleTo(hand.view)
    qtbot.mouseClick(strip.buttons["caster"], Qt.MouseButton.LeftButton)
    assert hand.view.cart_edit.placing == "caster"
    qtbot.mouseClick(strip.buttons["caster"], Qt.MouseButton.LeftButton)
    assert hand.view.cart_edit.placing == ""
    hand.view.resize(400, 300)
    hand.settle()
    assert strip.more.isVisibleTo(strip)
    assert not strip.buttons["caster"].isVisibleTo(strip)
    assert strip.geometry().right() <= hand.view.width()
    qtbot.mouseClick(strip.leave, Qt.MouseButton.LeftButton)
    assert not hand.session.editing_cart


def test_another_document_ends_the_editing(hand):
    hand.session.set_document(small_cart(), None)
    hand.settle()
    assert not hand.session.editing_cart
    assert not hand.view.cart_edit.layer.isVisible()


def test_what_is_placed_from_stock_keeps_out_of_places_kept_free(show_plan):
    """All of the counter but one end is kept free: that is where new things go."""
    build = small_cart()
    kept = new_zone(build, "reserved", "counter", (0.0, 0.0, 1.0, 0.762), "Kept")
    build, _ = add(replace(build, items=(), runs=()), kept)
    hand = show_plan(build)
    key = next(one.key for one in stock() if one.stands == "counter")
    for _ in range(3):
        hand.view.place_stock(key)
        hand.settle()
    assert len(hand.session.build.items) == 3
    for item in hand.session.build.items:
        assert bounds(item)[0] >= 1.0 - 1e-6
