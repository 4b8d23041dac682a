"""Order, groups, angles and joins through the window: its menus, its keys, its panels."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.ui.selection import Selection

Key = Qt.Key
NO_KEY = Qt.KeyboardModifier.NoModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
PAIR = ("kettle", "grinder")


@pytest.fixture
def active(window, qtbot):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.plan.setFocus()
    return window


def select(window, *ids: str) -> None:
    window.session.select(Selection(items=ids))
    QApplication.processEvents()


def press(window, key, modifiers=NO_KEY) -> None:
    widget = QApplication.focusWidget() or window.plan
    QTest.keyClick(widget, key, modifiers)
    QApplication.processEvents()


def steps(window) -> list[str]:
    stack = window.session.undo_stack
    return [stack.text(at) for at in range(stack.count())]


def test_the_arrange_menu_groups_aligns_and_ungroups(active):
    select(active, *PAIR)
    actions = active.actions_
    assert not actions["arrange.ungroup"].isEnabled()
    actions["arrange.align-front"].trigger()
    actions["arrange.group"].trigger()
    assert actions["arrange.ungroup"].isEnabled()
    actions["arrange.ungroup"].trigger()
    assert steps(active) == ["Align 2 items", "Group 2 items", "Ungroup 2 items"]
    assert not actions["arrange.space-gaps-across"].isEnabled(), "that needs three"


def test_the_keys_of_the_menu_work_on_the_plan(active):
    select(active, *PAIR)
    press(active, Key.Key_G, CONTROL)
    press(active, Key.Key_Left, CONTROL | SHIFT)
    assert steps(active) == ["Group 2 items"], "one group has nothing to be in line with"
    press(active, Key.Key_G, CONTROL | SHIFT)
    press(active, Key.Key_Left, CONTROL | SHIFT)
    assert steps(active)[-1] == "Align 2 items"


def test_a_letter_does_one_thing_once(active):
    select(active, "kettle")
    press(active, Key.Key_R)
    assert active.session.build.item("kettle").rotation == 90
    before = active.session.snapping
    press(active, Key.Key_S)
    assert active.session.snapping is not before
    assert active.actions_["arrange.snapping"].isChecked() is not before
    press(active, Key.Key_I)
    assert active.session.isolated
    assert active.actions_["view.isolate"].isChecked()


def test_joining_by_keyboard_in_the_window(active):
    session = active.session
    wire = next(run for run in session.build.wires if "kettle" in (run.a.item, run.b.item))
    select(active, "kettle")
    active.plan.setFocus()
    press(active, Key.Key_C)
    box = active.plan.boxes.box
    assert box is not None
    assert QApplication.focusWidget() is box.line
    for key in (Key.Key_O, Key.Key_U, Key.Key_T):
        press(active, key)
    assert box.line.text() == "out"
    press(active, Key.Key_Return)
    assert active.plan.boxes.box is None
    moved = session.build.run(wire.id)
    assert {moved.a.item, moved.b.item} == {"kettle", "outlet-2"}
    assert session.selection == Selection(runs=(wire.id,))
    assert active.plan.hasFocus()
    assert len(steps(active)) == 1


def test_enter_goes_to_the_details_and_f2_to_the_label(active):
    select(active, *PAIR)
    active.plan.setFocus()
    press(active, Key.Key_Return)
    assert active.details.isAncestorOf(QApplication.focusWidget())
    select(active, "kettle")
    active.plan.setFocus()
    press(active, Key.Key_F2)
    focused = QApplication.focusWidget()
    assert active.details.isAncestorOf(focused)
    QTest.keyClicks(focused, "Tea")
    press(active, Key.Key_Return)
    assert active.session.build.item("kettle").label == "Tea"


def test_the_list_of_items_comes_up_by_its_key_and_selects(active):
    press(active, Key.Key_F, CONTROL | SHIFT)
    assert active.items.isVisible()
    assert active.items.field.hasFocus()
    QTest.keyClicks(active.items.field, "knock")
    press(active, Key.Key_Return)
    assert active.session.selection.items == ("knock-box",)
    press(active, Key.Key_F, CONTROL)
    assert active.stock.isVisible()
    assert active.stock.field.hasFocus()


def test_paste_from_the_menu_goes_to_the_middle_of_the_plan(active):
    select(active, "kettle")
    active.actions_["edit.copy"].trigger()
    active.plan.mouse.left()
    active.actions_["edit.paste"].trigger()
    (copy,) = active.session.selection.items
    item = active.session.build.item(copy)
    seen = active.plan.camera.seen().center()
    assert item.x.si * 1000 == pytest.approx(seen.x(), abs=30)
    assert item.y.si * 1000 == pytest.approx(seen.y(), abs=30)


@pytest.mark.qt_log_ignore("This plugin does not support")  # offscreen has no popups of its own
def test_the_list_has_the_menu_of_the_plan(active):
    press(active, Key.Key_F, CONTROL | SHIFT)
    select(active, "kettle")
    QTest.keyClicks(active.items.field, "kettle")
    press(active, Key.Key_Return)
    spot = active.items.tree.rect().center()
    event = QContextMenuEvent(
        QContextMenuEvent.Reason.Keyboard, spot, active.items.tree.mapToGlobal(spot)
    )
    QApplication.sendEvent(active.items.tree, event)
    menu = QApplication.activePopupWidget()
    assert menu is not None
    texts = {action.text().partition("\t")[0] for action in menu.actions()}
    assert {"Edit label", "Duplicate", "Lock in place"} <= texts
    menu.close()
