"""Turning by the knob and by a typed angle, and joining by keyboard."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plan_cart import small_cart
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from cartlayout.build import End
from cartlayout.network import fitting_ends
from cartlayout.ui.plan.asking import read_angle
from cartlayout.ui.plan.connect_box import port_choices
from cartlayout.ui.plan.turning import direction, rest_angle
from cartlayout.ui.selection import Selection

Key = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
INCH = 25.4  # mm, exactly: international yard and pound agreement, 1959


def around(middle, radius, degrees):
    """A place so far from a middle, clockwise from straight to the rear (y runs down)."""
    angle = math.radians(degrees)
    return middle[0] + radius * math.sin(angle), middle[1] - radius * math.cos(angle)


def knob(hand):
    return next(
        (one.at[0] * 1000, one.at[1] * 1000)
        for one in hand.view.plan.handles.handles
        if one.kind == "turn"
    )


def rotation(hand, item_id="kettle"):
    return hand.session.build.item(item_id).rotation


# The knob


def test_the_knob_turns_to_the_nearest_15_degrees_in_one_step(hand):
    hand.click(hand.middle("kettle"))
    middle, start = hand.middle("kettle"), knob(hand)
    assert start[0] == pytest.approx(middle[0])
    assert start[1] < middle[1] - 4.5 * INCH, "above the body, which is 9 in deep"
    hand.start(start, around(middle, 200, 50))
    assert hand.view.plan.trace.tip == "45°"
    assert hand.view.plan.picture.body("kettle").rotation == 45
    hand.release(around(middle, 200, 50))
    assert rotation(hand) == 45
    assert hand.middle("kettle") == pytest.approx(middle)
    assert hand.undo_texts == ["Turn Kettle to 45°"]
    assert hand.view.plan.trace.tip == ""
    # The knob stands above the rear edge as it is turned now.
    x, y = knob(hand)
    assert math.degrees(math.atan2(x - middle[0], middle[1] - y)) == pytest.approx(45, abs=0.1)


@pytest.mark.parametrize("key", [ALT, SHIFT])
def test_alt_or_shift_turns_freely(hand, key):
    hand.click(hand.middle("kettle"))
    middle = hand.middle("kettle")
    hand.drag(knob(hand), around(middle, 300, 50), key)
    assert rotation(hand) == pytest.approx(50, abs=0.5)
    assert rotation(hand) % 15 != 0


def test_escape_turns_back(hand):
    build = hand.session.build
    hand.click(hand.middle("kettle"))
    middle = hand.middle("kettle")
    hand.start(knob(hand), around(middle, 200, 90))
    assert hand.session.previewing
    hand.key(Key.Key_Escape)
    assert hand.session.build is build
    hand.release(around(middle, 200, 90))
    assert hand.undo_texts == []
    assert hand.view.plan.picture.body("kettle").rotation == 0


def test_a_turn_that_ends_where_it_began_is_no_step(hand):
    hand.click(hand.middle("kettle"))
    middle, start = hand.middle("kettle"), knob(hand)
    hand.start(start, around(middle, 200, 90))
    hand.move(start)
    hand.release(start)
    assert hand.undo_texts == []
    assert not hand.session.previewing


def test_several_turn_about_their_common_middle(hand):
    hand.session.select(Selection(items=("grinder", "kettle")))
    hand.settle()
    # Grinder 26 to 34 and 3.5 to 16.5 in, kettle to 48.5 in: middle at (37.25, 10) in.
    middle = (37.25 * INCH, 10 * INCH)
    hand.drag(knob(hand), around(middle, 300, 92))
    assert rotation(hand, "grinder") == rotation(hand, "kettle") == 90
    # The kettle stood 6.75 in right and 1 in behind: now 1 in right and 6.75 in before.
    assert hand.middle("kettle") == pytest.approx((38.25 * INCH, 16.75 * INCH), abs=0.01)
    assert hand.undo_texts == ["Turn 2 items"]


def test_the_knob_does_nothing_when_clicked(hand):
    hand.click(hand.middle("kettle"))
    before = hand.session.selection
    hand.click(knob(hand))
    assert hand.session.selection == before
    assert hand.undo_texts == []


@given(
    start=st.floats(-720, 720),
    now=st.floats(-720, 720),
    single=st.floats(0, 359),
)
def test_a_resting_angle_is_whole_steps_and_never_far_from_the_mouse(start, now, single):
    by = rest_angle(start, now, single=single, free=False)
    assert ((single + by) / 15) % 1 == pytest.approx(0, abs=1e-6) or (
        (single + by) / 15
    ) % 1 == pytest.approx(1, abs=1e-6)
    assert abs(by - (now - start)) <= 7.5 + 1e-6
    free = rest_angle(start, now, single=single, free=True)
    assert abs(free - (now - start)) <= 0.05 + 1e-6


def test_directions_run_clockwise_from_the_rear():
    # Compass bearings with the rear as north: east 90, south 180, west 270 (-90).
    assert direction((0, 0), (0, -1)) == pytest.approx(0)
    assert direction((0, 0), (1, 0)) == pytest.approx(90)
    assert abs(direction((0, 0), (0, 1))) == pytest.approx(180)
    assert direction((0, 0), (-1, 0)) == pytest.approx(-90)


# The typed angle


def box_of(hand):
    box = hand.view.boxes.box
    assert box is not None
    return box


def typing(hand, text: str) -> None:
    QTest.keyClicks(box_of(hand).line, text)
    hand.settle()


def test_t_asks_for_an_angle_shows_it_and_enter_turns(hand):
    hand.view.activateWindow()
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_T)
    assert box_of(hand).isVisible()
    typing(hand, "37.5")
    assert hand.view.plan.picture.body("kettle").rotation == 37.5
    assert rotation(hand) == 0, "shown, not done"
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    hand.settle()
    assert hand.view.boxes.box is None
    assert rotation(hand) == 37.5
    assert hand.undo_texts == ["Turn Kettle to 37.5°"]
    assert hand.view.hasFocus()


def test_escape_closes_the_box_and_leaves_everything(hand):
    build = hand.session.build
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_T)
    typing(hand, "90")
    assert hand.session.previewing
    QTest.keyClick(box_of(hand).line, Key.Key_Escape)
    hand.settle()
    assert hand.view.boxes.box is None
    assert hand.session.build is build
    assert not hand.session.previewing
    assert hand.view.plan.picture.body("kettle").rotation == 0


def test_a_click_on_the_plan_closes_the_box(hand):
    hand.view.activateWindow()
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_T)
    typing(hand, "90")
    hand.click(hand.middle("grinder"))
    assert hand.view.boxes.box is None
    assert not hand.session.previewing
    assert rotation(hand) == 0
    assert hand.session.selection.items == ("grinder",)


def test_what_is_no_angle_is_said_and_nothing_turns(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_T)
    typing(hand, "north")
    assert "no angle" in box_of(hand).said.text()
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    assert box_of(hand).isVisible()
    assert hand.undo_texts == []
    QTest.keyClick(box_of(hand).line, Key.Key_Escape)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("45", 45), ("45°", 45), ("-90", 270), ("405", 45), ("12,5", 12.5), ("360", 0), (" 7 deg", 7)],
)
def test_angles_are_read_as_people_write_them(text, degrees):
    assert read_angle(text) == degrees


@pytest.mark.parametrize("text", ["", "north", "nan", "inf", "4 5"])
def test_what_is_no_angle_is_refused(text):
    with pytest.raises(ValueError, match="no angle"):
        read_angle(text)


def test_nothing_selected_or_locked_is_said(hand, qtbot):
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_T)
    assert told.args == ["Select an item first."]
    hand.click(hand.middle("kettle"))
    from cartlayout.ui import commands

    commands.toggle_lock(hand.session)
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_T)
    assert told.args == ["What is selected is locked."]
    assert hand.view.boxes.box is None


# Joining by keyboard


def rows(hand) -> list[str]:
    listed = box_of(hand).list
    return [listed.item(at).text() for at in range(listed.count())]


def test_c_joins_a_plug_with_the_keyboard_alone(hand):
    hand.view.activateWindow()
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C)
    # One port, so it goes straight to what fits: the free ways of both outlets.
    assert [row.split(" · ")[0] for row in rows(hand)] == ["Outlet 2: 2", "Outlet 1: 2"]
    hand.settle()
    assert hand.session.previewing, "the first is shown at once"
    assert "kettle" in hand.session.analysis.power.item_circuit
    second = hand.session.analysis.power.item_circuit["kettle"]
    QTest.keyClick(box_of(hand).line, Key.Key_Down)
    hand.settle()
    assert hand.session.analysis.power.item_circuit["kettle"] != second
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    hand.settle()
    wire = next(run for run in hand.session.build.wires if "kettle" in (run.a.item, run.b.item))
    assert {wire.a.item, wire.b.item} == {"kettle", "outlet-1"}
    assert hand.undo_texts == ["Join Kettle and Outlet 1: 2"]
    assert hand.session.selection == Selection(runs=(wire.id,))
    assert hand.view.boxes.box is None


def test_a_plug_is_moved_and_its_wire_selected(hand):
    hand.view.activateWindow()
    hand.click(hand.middle("machine"))
    hand.key(Key.Key_C)
    assert [row.partition(":")[0] for row in rows(hand)] == ["plug", "inlet"]
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    typing(hand, "outlet 2")
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    hand.settle()
    wire = next(run for run in hand.session.build.wires if "machine" in (run.a.item, run.b.item))
    assert {wire.a.item, wire.b.item} == {"machine", "outlet-2"}
    assert hand.session.selection == Selection(runs=(wire.id,))


def test_typing_searches_and_escape_joins_nothing(hand):
    build = hand.session.build
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C)
    typing(hand, "outlet 1")
    assert rows(hand)[0].split(" · ")[0] == "Outlet 1: 2"
    typing(hand, "zebra")
    assert rows(hand) == []
    assert "Nothing" in box_of(hand).said.text()
    assert not hand.session.previewing
    QTest.keyClick(box_of(hand).line, Key.Key_Escape)
    hand.settle()
    assert hand.session.build is build
    assert hand.session.shown is build


def test_with_several_ports_the_port_is_asked_first_and_backspace_goes_back(hand):
    hand.click(hand.middle("rinser"))
    hand.key(Key.Key_C)
    listed = rows(hand)
    assert [row.partition(":")[0] for row in listed] == ["inlet", "drain"]
    typing(hand, "drain")
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    assert [row.split(" · ")[0] for row in rows(hand)] == ["Waste tank"]
    QTest.keyClick(box_of(hand).line, Key.Key_Backspace)
    assert rows(hand) == listed
    assert not hand.session.previewing
    typing(hand, "drain")
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    QTest.keyClick(box_of(hand).line, Key.Key_Return)
    hand.settle()
    (drain,) = [run for run in hand.session.build.tubes if "rinser" in (run.a.item, run.b.item)]
    assert {drain.a.item, drain.b.item} == {"rinser", "waste"}


def test_letters_typed_in_the_box_are_no_keys_of_the_plan(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C)
    typing(hand, "r")
    typing(hand, "s")
    assert rotation(hand) == 0
    assert hand.session.snapping
    assert box_of(hand).line.text() == "rs"
    QTest.keyClick(box_of(hand).line, Key.Key_Escape)


def test_a_click_in_the_list_joins(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C)
    listed = box_of(hand).list
    spot = listed.visualItemRect(listed.item(1)).center()
    QTest.mouseClick(
        listed.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot
    )
    hand.settle()
    assert hand.undo_texts == ["Join Kettle and Outlet 1: 2"]


def test_what_has_nothing_to_join_says_so(hand, qtbot):
    hand.session.select(Selection(items=("kettle", "grinder")))
    with qtbot.waitSignal(hand.session.told) as told:
        hand.key(Key.Key_C)
    assert told.args == ["Select one item first."]


def test_the_box_offers_what_the_network_calls_fitting_but_for_where_it_is():
    build = small_cart()
    joined = {(run.a, run.b) for run in build.runs} | {(run.b, run.a) for run in build.runs}
    for item in build.items:
        offered = {choice.end.port: set(choice.ends) for choice in port_choices(build, item)}
        for port in item.specification.ports:
            end = End(item=item.id, port=port.id)
            ends = {one for one in fitting_ends(build, end) if (end, one) not in joined}
            assert offered.get(port.id, set()) == ends


def test_another_document_closes_the_box(hand):
    hand.click(hand.middle("kettle"))
    hand.key(Key.Key_C)
    hand.session.set_document(small_cart(), None)
    hand.settle()
    assert hand.view.boxes.box is None
