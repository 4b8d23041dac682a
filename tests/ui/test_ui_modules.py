"""A pump set lifts out and goes back, by keys and in single steps that can be undone."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.build.groups import lift_outs
from cartlayout.ui.plan.menu import make_menu
from cartlayout.ui.selection import NOTHING, Selection

Key = Qt.Key
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def _press(window, key, modifiers) -> None:
    window.plan.setFocus()
    QTest.keyClick(window.plan, key, modifiers)
    for _ in range(3):
        QApplication.processEvents()


def test_there_and_back_by_keys(window) -> None:
    session = window.session
    before = session.build
    session.select(Selection(items=("pump",)))
    _press(window, Key.Key_M, CONTROL)
    (items,) = lift_outs(session.build).values()
    assert set(session.selection.items) == {item.id for item in items}
    assert session.undo_stack.count() == 1
    assert "Pump module" in window.counts.text()
    _press(window, Key.Key_M, CONTROL | SHIFT)
    assert session.undo_stack.count() == 2
    assert session.build == before
    session.undo_stack.undo()
    session.undo_stack.undo()
    assert session.build is before


def test_a_module_moves_as_one(window) -> None:
    session = window.session
    session.select(Selection(items=("filter",)))
    _press(window, Key.Key_M, CONTROL)
    was = {item.id: item.x.si for item in session.build.items if item.group}
    session.select(Selection(items=("pump",)))
    _press(window, Key.Key_Right, Qt.KeyboardModifier.NoModifier)
    moved = {
        item.id for item in session.build.items if item.id in was and item.x.si != was[item.id]
    }
    assert moved == set(was)


def test_the_action_says_why_it_cannot(window) -> None:
    session = window.session
    session.select(NOTHING)
    assert not window.actions_["equipment.lift-out"].isEnabled()
    session.select(Selection(items=("espresso",)))
    assert not window.actions_["equipment.lift-out"].isEnabled()
    assert not window.actions_["equipment.mount"].isEnabled()


@pytest.mark.parametrize(
    ("item", "wanted"), [("pump", "Make lift-out module\tCtrl+M"), ("kettle", "")]
)
def test_the_context_menu_offers_it_where_there_is_a_set(window, item: str, wanted: str) -> None:
    window.session.select(Selection(items=(item,)))
    menu = make_menu(window.plan, None)
    texts = [action.text() for action in menu.actions() if "module" in action.text()]
    menu.deleteLater()
    assert texts == ([wanted] if wanted else [])


def test_the_name_of_a_module_lies_beside_what_stands_on_it(window) -> None:
    session = window.session
    session.set_level("base")
    session.select(Selection(items=("pump",)))
    _press(window, Key.Key_M, CONTROL)
    plan = window.plan.plan
    tray = next(one for one in session.build.items if one.specification.symbol == "tray")
    name = plan.arranged.names[tray.id].box
    for item in session.build.items:
        if item.group == tray.group and item is not tray:
            assert not name.meets(plan.picture.body(item.id).box), item.name
