"""The Cart menu in the whole window, and that no text of the cart's pages is clipped."""

import pytest
from clipping import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.build.cart_edits import shape_of
from cartlayout.build.cart_parts import all_parts
from cartlayout.documents.theme import DARK
from cartlayout.ui.selection import Selection

WITHOUT = {"handle": "conference_hall_bar"}
"""A sample that has not got one yet."""
ADDS = ("opening", "no-go", "reserved", "caster", "leg", "leaf", "panel", "handle")


def steps(window) -> list[str]:
    stack = window.session.undo_stack
    return [stack.text(at) for at in range(stack.count())]


def test_the_mode_is_a_switch_in_the_menu(open_window, qtbot):
    window = open_window("market_cart", 1280, 800)
    action = window.actions_["cart.edit"]
    assert not action.isChecked()
    action.trigger()
    assert window.session.editing_cart
    assert action.isChecked()
    assert window.plan.cart_edit.strip.isVisible()
    QTest.keyClick(window.plan.viewport(), Qt.Key.Key_Escape)
    assert not window.session.editing_cart
    assert not action.isChecked()


@pytest.mark.parametrize("what", ADDS)
def test_what_the_menu_adds_is_put_in_the_middle_by_enter(open_window, what):
    window = open_window(WITHOUT.get(what, "market_cart_first_try"), 1280, 800)
    before = window.session.build
    window.actions_[f"cart.add-{what}"].trigger()
    assert window.plan.cart_edit.placing == what
    QTest.keyClick(window.plan.viewport(), Qt.Key.Key_Return)
    assert window.session.build.cart != before.cart
    assert len(steps(window)) == 1
    window.session.undo_stack.undo()
    assert window.session.build == before


def test_shapes_are_chosen_in_the_menu_and_checked_there(open_window):
    window = open_window("market_cart", 1280, 800)
    for shape in ("rectangle", "rounded", "free"):
        window.actions_[f"cart.shape-{shape}"].trigger()
    assert shape_of(window.session.build.cart) in ("rounded", "free")
    window.actions_["cart.shape-rectangle"].trigger()
    assert window.actions_["cart.shape-rectangle"].isChecked()


def test_delete_and_select_all_mean_parts_while_the_cart_is_edited(open_window):
    window = open_window("market_cart", 1280, 800)
    window.actions_["cart.edit"].trigger()
    window.session.select(Selection(parts=("zone:0",)))
    window.actions_["edit.delete"].trigger()
    assert len(window.session.build.cart.zones) == len(sample("market_cart").cart.zones) - 1
    assert window.session.build.items == sample("market_cart").items
    window.actions_["edit.select-all"].trigger()
    assert window.session.editing_cart
    assert "caster:0" in window.session.selection.parts


def test_a_level_comes_and_goes(open_window):
    window = open_window("market_cart", 1280, 800)
    count = len(window.session.build.cart.levels)
    window.actions_["cart.add-level"].trigger()
    assert len(window.session.build.cart.levels) == count + 1
    assert window.session.level == window.session.build.cart.levels[-1].name
    assert window.session.build.cart.levels[-1].height.si > 0


@pytest.mark.parametrize("name", ["market_cart", "folding_cart_modules", "conference_hall_bar"])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_no_text_is_clipped_while_the_cart_is_edited(open_window, qtbot, name, theme):
    window = open_window(name, 1280, 800)
    if theme == "dark":
        window.session.set_theme(DARK)
    window.actions_["cart.edit"].trigger()
    for section in window.details.page.sections.values():
        section.open()
    qtbot.wait(1)
    assert clipped_texts(window) == []
    kinds = {}
    for part in all_parts(window.session.build.cart, window.session.level):
        kinds.setdefault(part.partition(":")[0], part)
    for part in kinds.values():
        window.session.select(Selection(parts=(part,)))
        qtbot.wait(1)
        assert clipped_texts(window) == [], part
