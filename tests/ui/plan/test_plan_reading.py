"""The plan as a screen reader finds it, through Qt's own accessibility interface."""

import gc

import pytest
from plan_cart import small_cart
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible

from cartlayout.build.edits import remove
from cartlayout.ui.plan import PlanView
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session

INCH = 25.4
Text = QAccessible.Text


@pytest.fixture
def plan(hand):
    return QAccessible.queryAccessibleInterface(hand.view)


def names(plan) -> list[str]:
    return [plan.child(at).text(Text.Name) for at in range(plan.childCount())]


def named(plan, name):
    return next(
        child
        for at in range(plan.childCount())
        if (child := plan.child(at)).text(Text.Name) == name
    )


def test_everything_on_the_level_is_a_child_with_a_name(hand, plan):
    assert plan.text(Text.Name) == "Plan of the cart"
    found = names(plan)
    for name in ("Machine", "Grinder", "Kettle", "Rinser", "Outlet 1", "Outlet 2"):
        assert found.count(name) == 1
    assert "Jug" not in found  # on the base level, which is not shown
    assert any(name.startswith("Wire, Machine to Outlet 1") for name in found)
    hand.session.set_level("base")
    hand.settle()
    assert {"Jug", "Pump", "Waste tank"} <= set(names(plan))


def test_a_child_says_where_it_is_and_what_is_wrong(hand, plan):
    words = named(plan, "Kettle").text(Text.Description)
    # The kettle's middle is at 44 and 9 in (its own drawing).
    assert "44.0 in from the left" in words
    assert "9.0 in from the rear" in words


def test_a_child_is_found_at_its_place_on_the_screen(hand, plan):
    kettle = named(plan, "Kettle")
    middle = hand.view.viewport().mapToGlobal(hand.at(hand.middle("kettle")))
    assert kettle.rect().contains(middle)
    # 9 in square at the view's scale.
    assert kettle.rect().width() == pytest.approx(9 * 0.0254 * hand.view.pixels_per_m, abs=4)
    found = plan.childAt(middle.x(), middle.y())
    assert found.text(Text.Name) == "Kettle"
    corner = hand.view.viewport().mapToGlobal(QPoint(2, 2))
    assert plan.childAt(corner.x(), corner.y()) is None


def test_the_selected_child_has_the_focus(hand, plan):
    hand.view.activateWindow()
    hand.view.setFocus()
    hand.session.select(Selection(items=("kettle",)))
    kettle = named(plan, "Kettle")
    assert kettle.state().selected
    assert kettle.state().selectable
    assert not named(plan, "Grinder").state().selected
    assert plan.indexOfChild(kettle) == names(plan).index("Kettle")
    hand.key(Qt.Key.Key_Tab)
    assert not kettle.state().selected
    if hand.view.hasFocus():
        assert plan.focusChild().state().focused


def test_what_goes_off_the_plan_goes_off_the_books(hand, plan):
    kettle = named(plan, "Kettle")
    number = QAccessible.uniqueId(kettle)
    hand.session.apply("Remove", remove(hand.session.build, ("kettle",)))
    hand.settle()
    assert "Kettle" not in names(plan)
    assert QAccessible.accessibleInterface(number) is None
    gc.collect()


def test_a_closed_plan_leaves_nothing_on_the_books(qtbot, delete_now):
    view = PlanView(Session(small_cart()))
    view.show()
    plan = QAccessible.queryAccessibleInterface(view)
    numbers = [QAccessible.uniqueId(plan.child(at)) for at in range(plan.childCount())]
    assert numbers
    view.deleteLater()
    delete_now()
    assert [QAccessible.accessibleInterface(number) for number in numbers] == [None] * len(numbers)
