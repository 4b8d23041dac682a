"""Moving things on the plan with real mouse and keyboard events."""

import pytest
from msgspec.structs import replace
from plan_cart import small_cart
from PySide6.QtCore import QPointF, Qt

from cartlayout.build.edits import replace_item, rotate
from cartlayout.ui.plan.bends import add_bend
from cartlayout.ui.selection import Selection
from cartlayout.units import UnitSystem

Key = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
INCH = 25.4  # mm, exactly: international yard and pound agreement, 1959


def test_a_click_selects_and_a_click_on_the_paper_selects_nothing(hand):
    hand.click(hand.middle("kettle"))
    assert hand.session.selection == Selection(items=("kettle",))
    hand.click((40 * INCH, 20 * INCH))
    assert not hand.session.selection


@pytest.mark.parametrize("key", [SHIFT, CONTROL])
def test_shift_or_control_click_adds_and_takes_away(hand, key):
    hand.click(hand.middle("kettle"))
    hand.click(hand.middle("grinder"), key)
    assert set(hand.session.selection.items) == {"kettle", "grinder"}
    hand.click(hand.middle("kettle"), key)
    assert hand.session.selection.items == ("grinder",)


def test_dragging_moves_by_what_the_mouse_went_and_rests_on_the_grid(hand):
    x, y = hand.middle("kettle")
    hand.drag((x, y), (x + 5 * INCH, y + 3 * INCH))
    moved_x, _ = hand.middle("kettle")
    # Half an inch is the grid; the left edge of the 9 in body was at 39.5 in, on the grid.
    assert moved_x - x == pytest.approx(5 * INCH, abs=INCH)
    assert ((moved_x / INCH - 4.5) * 2) % 1 == pytest.approx(0, abs=0.01)
    assert hand.undo_texts == ["Move Kettle"]


def test_a_drag_is_seen_and_computed_while_it_lasts_and_one_move_is_one_analysis(hand):
    x, y = hand.middle("kettle")
    hand.start((x, y), (x + 4 * INCH, y))
    before, refreshes = hand.session.analyses, hand.view.refreshes
    hand.move((x + 6 * INCH, y))
    assert hand.session.analyses == before + 1
    assert hand.view.refreshes == refreshes + 2, "once to follow the mouse, once with the answer"
    assert hand.session.previewing
    assert hand.session.build.item("kettle").x.si * 1000 == pytest.approx(x)
    body = hand.view.plan.picture.body("kettle")
    assert body.centre[0] == pytest.approx(x + 6 * INCH, abs=INCH)
    # The mouse on the spot computes nothing.
    hand.move((x + 6 * INCH, y))
    assert hand.session.analyses == before + 1
    hand.release((x + 6 * INCH, y))
    assert hand.session.analyses == before + 1, "the release takes over what was previewed"
    assert not hand.session.previewing


def test_one_move_paints_only_what_it_touched(hand):
    x, y = hand.middle("kettle")
    hand.start((x, y), (x + 4 * INCH, y))
    mirrors = {**hand.view.plan.bodies, **hand.view.plan.runs}
    shown = {key: mirror.shown for key, mirror in mirrors.items()}
    hand.move((x + 5 * INCH, y))
    touched = {key for key, mirror in mirrors.items() if mirror.shown is not shown[key]}
    assert touched == {"kettle"}
    hand.release((x + 5 * INCH, y))


def test_escape_puts_everything_back(hand):
    build = hand.session.build
    x, y = hand.middle("kettle")
    hand.start((x, y), (x + 6 * INCH, y))
    hand.key(Key.Key_Escape)
    assert hand.session.build is build
    assert hand.session.shown is build
    assert hand.view.plan.picture.body("kettle").centre == pytest.approx((x, y))
    hand.release((x + 6 * INCH, y))
    assert hand.session.build is build
    assert hand.undo_texts == []


def test_a_selected_group_moves_together_and_undo_restores_it(hand):
    before = hand.session.build
    hand.click(hand.middle("kettle"))
    hand.click(hand.middle("grinder"), SHIFT)
    kettle, grinder = hand.middle("kettle"), hand.middle("grinder")
    hand.drag(kettle, (kettle[0] + 3 * INCH, kettle[1] + 2 * INCH))
    step = hand.middle("kettle")[0] - kettle[0]
    assert step == pytest.approx(3 * INCH, abs=INCH)
    assert hand.middle("grinder")[0] - grinder[0] == pytest.approx(step, abs=0.01)
    assert hand.undo_texts == ["Move 2 items"]
    hand.session.undo_stack.undo()
    hand.settle()
    assert hand.session.build == before


def test_modules_move_as_one_even_if_one_part_is_selected(show_plan):
    build = small_cart()
    for one in ("kettle", "grinder"):
        build = replace_item(build, replace(build.item(one), group="pair"))
    hand = show_plan(build)
    kettle, grinder = hand.middle("kettle"), hand.middle("grinder")
    hand.drag(kettle, (kettle[0], kettle[1] + 4 * INCH))
    assert hand.middle("grinder")[1] > grinder[1] + 3 * INCH


def test_locked_things_stay_and_say_so(show_plan):
    build = small_cart()
    hand = show_plan(replace_item(build, replace(build.item("kettle"), locked=True)))
    place = hand.middle("kettle")
    hand.start(place, (place[0] + 5 * INCH, place[1]))
    assert "Locked" in hand.view.plan.trace.tip
    hand.release((place[0] + 5 * INCH, place[1]))
    assert hand.middle("kettle") == pytest.approx(place)
    assert hand.undo_texts == []


def test_alt_puts_a_body_exactly_where_the_mouse_is(hand):
    x, y = hand.middle("kettle")
    hand.drag((x, y), (x + 77.7, y + 33.3), ALT)
    pixel = 1000 / hand.view.pixels_per_m
    moved = hand.middle("kettle")
    assert moved == pytest.approx((x + 77.7, y + 33.3), abs=2 * pixel)
    assert ((moved[0] / INCH - 4.5) * 2) % 1 != pytest.approx(0, abs=0.001)


def test_edges_snap_to_a_neighbour_and_guides_show_it(hand):
    # The kettle is 9 in wide; the grinder's right edge is at 34 in.
    x, y = hand.middle("kettle")
    target = 34 * INCH + 4.5 * INCH  # its left edge against the grinder's right edge
    hand.start((x, y), (target + 2, y))
    assert hand.view.plan.trace.trace.guides
    hand.release((target + 2, y))
    assert hand.middle("kettle")[0] == pytest.approx(target, abs=0.01)


def test_distances_to_the_nearest_on_four_sides_are_shown_while_dragging(hand):
    x, y = hand.middle("kettle")
    hand.start((x, y), (x - INCH, y + 4 * INCH), ALT)
    body = hand.view.plan.picture.body("kettle").box
    texts = {measure.text for measure in hand.view.plan.trace.trace.measures}
    # The cart is 72 x 30 in (its own drawing), the grinder's right edge at 34 in,
    # the rinser's left edge at 56 in, at 12 to 20 in from the rear.
    for gap in (
        body.x - 34 * INCH,
        56 * INCH - body.right,
        body.y,
        30 * INCH - body.bottom,
    ):
        assert f"{gap / INCH:.1f} in" in texts
    hand.release((x, y + 4 * INCH))
    assert not hand.view.plan.trace.trace.measures


@pytest.mark.parametrize(
    ("key", "dx", "dy"),
    [
        (Key.Key_Left, -1, 0),
        (Key.Key_Right, 1, 0),
        (Key.Key_Up, 0, -1),
        (Key.Key_Down, 0, 1),
    ],
)
def test_arrows_nudge_by_the_grid_and_shift_finely(hand, key, dx, dy):
    hand.click(hand.middle("kettle"))
    x, y = hand.middle("kettle")
    hand.key(key)
    moved = hand.middle("kettle")
    assert (moved[0] - x, moved[1] - y) == pytest.approx((dx * INCH / 2, dy * INCH / 2), abs=0.01)
    hand.key(key, SHIFT)
    fine = hand.middle("kettle")
    assert abs(fine[0] - moved[0]) + abs(fine[1] - moved[1]) == pytest.approx(INCH / 16, abs=0.01)
    assert hand.undo_texts == ["Move Kettle"], "nudges in a row are one step"


def test_arrows_step_by_a_centimetre_for_metric_readers(hand):
    hand.session.set_system(UnitSystem.METRIC)
    hand.click(hand.middle("kettle"))
    x, _ = hand.middle("kettle")
    hand.key(Key.Key_Right)
    assert hand.middle("kettle")[0] - x == pytest.approx(10, abs=0.01)


def test_a_rubber_band_selects_what_it_touches_on_this_level(hand):
    # Over grinder and kettle, and over the base level's pump, which is not on this level.
    hand.drag((23 * INCH, 19.5 * INCH), (50 * INCH, 8 * INCH))
    assert set(hand.session.selection.items) == {"grinder", "kettle"}
    assert hand.undo_texts == []


def test_a_rubber_band_with_shift_adds_and_escape_gives_the_old_selection_back(hand):
    hand.click(hand.middle("machine"))
    hand.drag((39 * INCH, 19 * INCH), (50 * INCH, 8 * INCH), SHIFT)
    assert set(hand.session.selection.items) == {"machine", "kettle"}
    hand.start((39 * INCH, 28 * INCH), (24 * INCH, 8 * INCH))
    assert "grinder" in hand.session.selection.items
    hand.key(Key.Key_Escape)
    assert set(hand.session.selection.items) == {"machine", "kettle"}


def test_r_turns_and_shift_r_turns_back(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_R)
    assert hand.session.build.item("kettle").rotation == 90
    hand.key(Key.Key_R, SHIFT)
    assert hand.session.build.item("kettle").rotation == 0
    assert hand.undo_texts == ["Rotate Kettle", "Rotate Kettle"]


def test_delete_takes_an_item_and_its_wires(hand):
    hand.click(hand.middle("grinder"))
    hand.key(Key.Key_Delete)
    assert hand.session.build.item("grinder") is None
    assert all("grinder" not in (run.a.item, run.b.item) for run in hand.session.build.runs)
    assert "grinder" not in hand.view.plan.bodies


def test_control_d_duplicates_beside_and_selects_the_copy(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_D, CONTROL)
    (copy,) = hand.session.selection.items
    assert copy != "kettle"
    assert hand.session.build.item(copy) is not None
    assert copy in hand.view.plan.bodies


def test_double_click_asks_for_the_label(hand, qtbot):
    with qtbot.waitSignal(hand.session.label_requested) as caught:
        hand.double_click(hand.middle("kettle"))
    assert caught.args == ["kettle"]


def test_double_click_on_a_ghost_goes_to_its_level(hand):
    hand.double_click((28 * INCH, 22 * INCH))
    assert hand.session.level == "base"
    assert hand.session.selection.items == ("pump",)
    assert not hand.view.plan.picture.body("pump").ghosted


def test_bends_between_things_that_move_move_with_them(hand):
    tube = next(run for run in hand.session.build.tubes)  # jug to pump
    bent, index = add_bend(hand.session.build, tube.id, 0.55, 0.70)
    hand.session.apply("Add bend", bent)
    hand.session.set_level("base")
    hand.click(hand.middle("jug"))
    hand.click(hand.middle("pump"), SHIFT)
    before = hand.session.build.run(tube.id).waypoints[index]
    hand.key(Key.Key_Right)
    after = hand.session.build.run(tube.id).waypoints[index]
    assert after.x.si - before.x.si == pytest.approx(0.0127)
    place = hand.middle("pump")
    hand.drag(place, (place[0] + 4 * INCH, place[1]), ALT)
    moved = hand.session.build.run(tube.id).waypoints[index]
    assert moved.x.si - after.x.si == pytest.approx(hand.middle("pump")[0] / 1000 - place[0] / 1000)


def test_an_undo_in_the_middle_of_a_drag_ends_it(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_Right)
    place = hand.middle("kettle")
    hand.start(place, (place[0] + 5 * INCH, place[1]))
    hand.session.undo_stack.undo()
    hand.settle()
    assert hand.view.gesture is None
    undone = hand.session.build
    hand.move((place[0] + 7 * INCH, place[1]))
    hand.release((place[0] + 7 * INCH, place[1]))
    assert hand.session.build is undone


def test_a_turned_body_is_hit_at_its_new_corner(hand):
    build = hand.session.build
    hand.session.apply("Turn", rotate(build, ["grinder"], 90))  # 8 x 13 in becomes 13 x 8 in
    hand.settle()
    x, y = hand.middle("grinder")
    hand.click((x + 6 * INCH, y + 2 * INCH))
    assert hand.session.selection.items == ("grinder",)
    spot = QPointF(x + 6.4 * INCH, y)
    assert hand.view.plan.bodies["grinder"] in hand.view.plan.items(spot)
    hand.click((x, y + 5 * INCH))
    assert not hand.session.selection
