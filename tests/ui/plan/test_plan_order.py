"""Groups, order, copies and levels on the plan, with real mouse and keyboard events."""

import pytest
from msgspec.structs import replace
from plan_cart import bare_cart, small_cart
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from cartlayout.build import VENUE
from cartlayout.build.edits import replace_item
from cartlayout.network.fit import is_plug
from cartlayout.ui import commands
from cartlayout.ui.plan.menu import make_menu
from cartlayout.ui.selection import Selection

Key = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
INCH = 25.4  # mm, exactly: international yard and pound agreement, 1959
PAIR = {"kettle", "grinder"}


@pytest.fixture
def pair(show_plan):
    """Kettle and grinder in one group."""
    build = small_cart()
    for one in PAIR:
        build = replace_item(build, replace(build.item(one), group="pair"))
    return show_plan(build)


def chosen(hand) -> set[str]:
    return set(hand.session.selection.items)


def texts(hand, handle=None) -> dict:
    menu = make_menu(hand.view, handle)
    return {action.text().partition("\t")[0]: action for action in menu.actions()}


# Groups


def test_control_g_groups_and_with_shift_lets_go(hand):
    hand.click(hand.middle("kettle"))
    hand.click(hand.middle("grinder"), SHIFT)
    hand.key(Key.Key_G, CONTROL)
    groups = {hand.session.build.item(one).group for one in PAIR}
    assert len(groups) == 1
    assert groups != {None}
    hand.key(Key.Key_G, CONTROL | SHIFT)
    assert {hand.session.build.item(one).group for one in PAIR} == {None}
    assert hand.undo_texts == ["Group 2 items", "Ungroup 2 items"]


def test_why_a_group_cannot_be_made_is_said(hand, qtbot):
    hand.click(hand.middle("kettle"))
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_G, CONTROL)
    assert told.args == ["To make a group, select two or more."]
    assert hand.undo_texts == []


def test_a_click_takes_the_group_and_alt_or_a_double_click_the_one(pair):
    pair.click(pair.middle("kettle"))
    assert chosen(pair) == PAIR
    pair.click(pair.middle("kettle"), ALT)
    assert pair.session.selection == Selection(items=("kettle",), alone=True)
    pair.click((40 * INCH, 27 * INCH))
    pair.double_click(pair.middle("grinder"))
    assert pair.session.selection == Selection(items=("grinder",), alone=True)
    # Within the group another click goes from one to the other, outside it ends.
    pair.click(pair.middle("kettle"))
    assert pair.session.selection == Selection(items=("kettle",), alone=True)
    pair.click(pair.middle("machine"))
    pair.click(pair.middle("kettle"))
    assert chosen(pair) == PAIR


def test_a_second_double_click_on_the_one_asks_for_its_label(pair, qtbot):
    asked = []
    pair.session.label_requested.connect(asked.append)
    pair.double_click(pair.middle("kettle"))
    assert asked == []
    pair.double_click(pair.middle("kettle"))
    assert asked == ["kettle"]


def test_the_one_that_was_picked_out_moves_alone(pair):
    pair.double_click(pair.middle("kettle"))
    kettle, grinder = pair.middle("kettle"), pair.middle("grinder")
    pair.drag(kettle, (kettle[0], kettle[1] + 5 * INCH))
    assert pair.middle("kettle")[1] > kettle[1] + 4 * INCH
    assert pair.middle("grinder") == grinder
    pair.key(Key.Key_Right)
    assert pair.middle("grinder") == grinder
    pair.key(Key.Key_R)
    assert pair.session.build.item("grinder").rotation == 0
    assert pair.session.build.item("kettle").rotation == 90


def test_what_a_finding_selects_of_a_group_still_moves_with_it(pair):
    pair.session.show_on_plan(Selection(items=("kettle",)))
    pair.settle()
    kettle, grinder = pair.middle("kettle"), pair.middle("grinder")
    pair.drag(kettle, (kettle[0], kettle[1] + 5 * INCH))
    assert pair.middle("grinder")[1] - grinder[1] == pytest.approx(
        pair.middle("kettle")[1] - kettle[1]
    )


def test_r_turns_a_group_as_one(pair):
    pair.click(pair.middle("kettle"))
    pair.key(Key.Key_R)
    build = pair.session.build
    assert {build.item(one).rotation for one in PAIR} == {90}
    # Kettle 39.5 to 48.5, grinder 26 to 34 in; rear 3.5 to 16.5: middle at (37.25, 10) in.
    for one, x, y in (("kettle", 38.25, 16.75), ("grinder", 37.25, 2.75)):
        item = build.item(one)
        assert (item.x.si, item.y.si) == pytest.approx((x * 0.0254, y * 0.0254), abs=1e-5)


def test_the_band_takes_whole_groups_and_with_alt_only_what_it_holds(pair):
    pair.drag((38 * INCH, 22 * INCH), (45 * INCH, 8 * INCH))
    assert chosen(pair) == PAIR
    pair.click((40 * INCH, 27 * INCH))
    around_kettle = ((37 * INCH, 22 * INCH), (50 * INCH, 2 * INCH))
    pair.drag(*around_kettle, ALT)
    assert chosen(pair) == set(), "half of the group is outside the band"
    pair.drag((21 * INCH, 22 * INCH), (50 * INCH, 2 * INCH), ALT)
    assert chosen(pair) == PAIR


def test_a_band_over_runs_alone_takes_the_runs(hand):
    hand.session.set_level("base")
    # Between jug and pump there is nothing but their tube.
    tube = hand.session.build.tubes[0]
    line = hand.view.plan.lines[tube.id]
    x, y = (max(p[0] for p in line) * 1000 + min(p[0] for p in line) * 1000) / 2, line[0][1] * 1000
    jug, pump = hand.view.plan.picture.body("jug").box, hand.view.plan.picture.body("pump").box
    left, right = jug.right + 5, pump.x - 5
    assert left < x < right
    hand.drag((left, y + 60), (right, y - 60))
    assert tube.id in hand.session.selection.runs
    assert chosen(hand) == set()


# Order


def test_the_menu_of_several_aligns_and_spaces(hand):
    for one, key in (("machine", Qt.KeyboardModifier.NoModifier), ("grinder", SHIFT)):
        hand.click(hand.middle(one), key)
    assert "Space evenly" not in texts(hand)
    hand.click(hand.middle("kettle"), SHIFT)
    menu = make_menu(hand.view, None)
    under = {one.text().partition("\t")[0]: one for one in menu.actions()}
    aligns = {one.text().partition("\t")[0]: one for one in under["Align"].menu().actions()}
    aligns["Rear edges"].trigger()
    hand.settle()
    # The machine's rear edge is at 2 in, the least of the three.
    for one in ("machine", "grinder", "kettle"):
        assert hand.view.plan.picture.body(one).box.y == pytest.approx(2 * INCH, abs=0.01)
    spaces = {one.text(): one for one in under["Space evenly"].menu().actions()}
    spaces["Gaps, left to right"].trigger()
    hand.settle()
    boxes = [hand.view.plan.picture.body(one).box for one in ("machine", "grinder", "kettle")]
    assert boxes[1].x - boxes[0].right == pytest.approx(boxes[2].x - boxes[1].right, abs=0.01)
    assert hand.undo_texts == ["Align 3 items", "Space 3 items"]


def test_what_is_in_order_already_is_no_step(hand, qtbot):
    hand.session.select(Selection(items=("machine", "kettle")))
    commands.align(hand.session, "left")
    with qtbot.waitSignal(hand.session.told) as told:
        commands.align(hand.session, "left")
    assert told.args == ["They are in line already."]
    assert hand.undo_texts == ["Align 2 items"]


# Copies


def test_paste_puts_the_middle_where_the_mouse_is(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C, CONTROL)
    hand.hover((40 * INCH, 24 * INCH))
    hand.key(Key.Key_V, CONTROL)
    (copy,) = hand.session.selection.items
    assert hand.middle(copy) == pytest.approx((40 * INCH, 24 * INCH), abs=INCH)


def test_what_was_copied_is_pasted_into_another_build_with_its_runs(hand, show_plan):
    hand.session.set_level("base")
    hand.click(hand.middle("jug"))
    hand.click(hand.middle("pump"), SHIFT)
    hand.key(Key.Key_C, CONTROL)
    empty = bare_cart()
    levels = tuple(level for level in empty.cart.levels if level.name != "base")
    other = show_plan(replace(empty, cart=replace(empty.cart, levels=levels)))
    other.session.set_level("shelf")
    other.key(Key.Key_V, CONTROL)
    build = other.session.build
    assert len(build.items) == 2
    assert {item.level for item in build.items} == {"shelf"}, "base is not on this cart"
    (run,) = build.runs
    assert {run.a.item, run.b.item} == {item.id for item in build.items}
    boxes = [other.view.plan.picture.body(item.id).box for item in build.items]
    middle = (min(box.x for box in boxes) + max(box.right for box in boxes)) / 2
    seen = other.view.camera.seen()
    assert middle == pytest.approx(seen.center().x(), abs=INCH), "the middle of the view"
    other.session.undo_stack.undo()
    assert other.session.build.items == ()


@pytest.mark.parametrize("text", ["", "a shopping list", '{"cartlayout_items": 1, "items": []}'])
def test_a_clipboard_without_equipment_says_so(hand, qtbot, text):
    QGuiApplication.clipboard().setText(text)
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_V, CONTROL)
    assert told.args == ["The clipboard holds no equipment."]
    assert hand.undo_texts == []


def test_duplicate_with_wires_plugs_the_copy_in(hand):
    hand.click(hand.middle("grinder"))
    hand.key(Key.Key_D, CONTROL | SHIFT)
    (copy,) = hand.session.selection.items
    build = hand.session.build
    (wire,) = [run for run in build.wires if copy in (run.a.item, run.b.item)]
    assert {wire.a.item, wire.b.item} == {copy, "outlet-2"}
    plug = next(port for port in build.item(copy).specification.ports if is_plug(port))
    assert plug.id in (wire.a.port, wire.b.port)
    hand.key(Key.Key_Z, CONTROL)


# Levels


def test_a_level_alone_shows_nothing_of_the_others(hand):
    assert hand.view.plan.picture.body("pump") is not None
    hand.key(Key.Key_I)
    assert hand.session.isolated
    shown = hand.view.plan.picture.bodies
    levels = {hand.session.build.item(body.id).level for body in shown}
    assert levels == {"counter", VENUE}
    assert any("COUNTER ALONE" in words for words, _ in hand.view.plan.arranged.captions)
    hand.click((28 * INCH, 24 * INCH))
    assert chosen(hand) == set(), "what is not drawn is not hit"
    hand.session.set_level("base")
    assert hand.view.plan.picture.body("pump") is not None
    assert hand.view.plan.picture.body("kettle") is None
    hand.key(Key.Key_I)
    assert hand.view.plan.picture.body("kettle").ghosted


# Locks and snapping


def test_a_locked_one_has_no_knob_and_does_not_turn(hand, qtbot):
    build = hand.session.build
    hand.session.apply("Lock", replace_item(build, replace(build.item("kettle"), locked=True)))
    hand.click(hand.middle("kettle"))
    assert all(one.kind != "turn" for one in hand.view.plan.handles.handles)
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_R)
    assert told.args == ["What is selected is locked."]
    assert hand.view.plan.picture.body("kettle").locked


def test_s_switches_snapping_off_for_drags(hand):
    hand.key(Key.Key_S)
    assert not hand.session.snapping
    x, y = hand.middle("kettle")
    hand.drag((x, y), (x + 77.7, y + 33.3))
    pixel = 1000 / hand.view.pixels_per_m
    assert hand.middle("kettle") == pytest.approx((x + 77.7, y + 33.3), abs=2 * pixel)
    hand.key(Key.Key_S)
    assert hand.session.snapping


def test_f2_asks_for_the_label_and_enter_for_the_fields(hand, qtbot):
    hand.click(hand.middle("kettle"))
    with qtbot.waitSignal(hand.session.label_requested) as caught:
        hand.key(Key.Key_F2)
    assert caught.args == ["kettle"]
    with qtbot.waitSignal(hand.session.fields_requested):
        hand.key(Key.Key_Return)


def test_the_menu_of_a_port_disconnects_what_is_on_it(hand):
    hand.click(hand.middle("grinder"))
    handle = next(one for one in hand.view.plan.handles.handles if one.port == "plug")
    under = texts(hand, handle)
    under["Disconnect Grinder, plug"].trigger()
    hand.settle()
    assert not any("grinder" in (run.a.item, run.b.item) for run in hand.session.build.runs)
    handle = next(one for one in hand.view.plan.handles.handles if one.port == "plug")
    assert "Disconnect Grinder, plug" not in texts(hand, handle)


def test_the_menu_of_a_run_selects_its_ends(hand):
    wire = hand.session.build.wires[0]
    hand.session.select(Selection(runs=(wire.id,)))
    texts(hand)["Select both ends"].trigger()
    assert chosen(hand) == {"machine", "outlet-1"}
