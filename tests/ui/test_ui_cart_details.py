"""Details of the cart: size and shape, lists of its parts, and a page for a selected part."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from shapely.geometry import Polygon
from ui_samples import sample

from cartlayout.build import Leaf
from cartlayout.build.cart_edits import add, new_leaf, new_zone, shape_of
from cartlayout.build.geometry import outline
from cartlayout.ui.details.cart_page import CartPage, PartPage
from cartlayout.ui.details.fields import ChoiceField, LineField
from cartlayout.ui.details.pages import BuildPage
from cartlayout.ui.details.panel import DetailsPanel
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session

Left = Qt.MouseButton.LeftButton


@pytest.fixture
def session(qtbot) -> Session:
    build = sample("market_cart")
    build, _ = add(build, new_zone(build, "reserved", "base", (0.6, 0.1, 0.8, 0.3), "Bin"))
    build, _ = add(build, new_leaf(build, "left", 0.1, 0.4, 0.2))
    return Session(build)


@pytest.fixture
def panel(session, qtbot) -> DetailsPanel:
    made = DetailsPanel(session)
    qtbot.addWidget(made)
    made.resize(308, 900)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def opened(panel, section: str):
    part = panel.page.sections[section]
    part.open()
    return part.editor


def type_into(field: LineField, text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    QTest.keyClicks(field.line, text)
    QTest.keyClick(field.line, Qt.Key.Key_Return)


def choose(field: ChoiceField, words: str) -> None:
    """Pick a line of a chooser as the keyboard does."""
    at = field.combo.findText(words)
    assert at >= 0, words
    field.combo.setFocus()
    while field.combo.currentIndex() < at:
        QTest.keyClick(field.combo, Qt.Key.Key_Down)
    while field.combo.currentIndex() > at:
        QTest.keyClick(field.combo, Qt.Key.Key_Up)


def steps(session) -> list[str]:
    stack = session.undo_stack
    return [stack.text(at) for at in range(stack.count())]


def test_the_page_of_a_build_leads_to_the_cart(panel, session, qtbot):
    assert isinstance(panel.page, BuildPage)
    qtbot.mouseClick(panel.page.edit_cart, Left)
    assert session.editing_cart
    assert isinstance(panel.page, CartPage)
    assert panel.heading.text() == "The cart"
    session.set_editing_cart(False)
    assert isinstance(panel.page, BuildPage)


def test_a_typed_width_moves_the_right_edge_and_takes_wheels_along(panel, session):
    session.set_editing_cart(True)
    before = session.build.cart
    editor = opened(panel, "Size and shape")
    type_into(editor.editors["width"], "7 ft")
    cart = session.build.cart
    assert cart.width.text == "7 ft"
    rightmost = max(one.x.si for one in before.casters)
    assert max(one.x.si for one in cart.casters) == pytest.approx(rightmost + 12 * 0.0254)
    assert session.build.items == sample("market_cart").items
    assert steps(session) == ["Change width of the cart"]


def test_wheels_stay_if_they_are_told_to(panel, session, qtbot):
    session.set_editing_cart(True)
    before = session.build.cart.casters
    editor = opened(panel, "Size and shape")
    qtbot.mouseClick(editor.editors["carry"].box, Left, pos=QPoint(9, 9))
    type_into(editor.editors["width"], "84 in")
    assert session.build.cart.casters == before


def test_an_l_is_chosen_and_its_corner_typed(panel, session):
    session.set_editing_cart(True)
    editor = opened(panel, "Size and shape")
    assert not editor.editors["cut_width"].isVisibleTo(editor)
    choose(editor.editors["shape"], "L, without one corner")
    assert shape_of(session.build.cart) == "L"
    assert editor.editors["cut_width"].isVisibleTo(editor)
    type_into(editor.editors["cut_width"], "20 in")
    type_into(editor.editors["cut_depth"], "9 in")
    area = (72 * 30 - 20 * 9) * 0.0254**2
    assert Polygon(outline(session.build.cart)).area == pytest.approx(area, rel=1e-6)


def test_what_cannot_be_is_said_and_the_field_shows_what_is(panel, session):
    session.set_editing_cart(True)
    said = []
    session.told.connect(said.append)
    editor = opened(panel, "Size and shape")
    type_into(editor.editors["corner_radius"], "20 in")
    assert "half of the shorter side" in said[-1]
    assert steps(session) == []
    assert editor.editors["corner_radius"].line.text() == session.build.cart.corner_radius.text


def test_zones_are_added_and_taken_away_in_the_list(panel, session, qtbot):
    session.set_editing_cart(True)
    editor = opened(panel, "Zones")
    count = len(session.build.cart.zones)
    qtbot.mouseClick(editor.add, Left)
    assert len(session.build.cart.zones) == count + 1
    assert session.build.cart.zones[-1].kind == "reserved"
    type_into(editor.parts[-1].editors["name"], "Cups")
    assert session.build.cart.zones[-1].name == "Cups"
    session.undo_stack.undo()
    session.undo_stack.undo()
    assert len(session.build.cart.zones) == count


@pytest.mark.parametrize(
    ("section", "field"), [("Casters", "casters"), ("Legs", "legs"), ("Leaves", "leaves")]
)
def test_other_parts_are_added_in_their_lists(panel, session, qtbot, section, field):
    session.set_editing_cart(True)
    before = getattr(session.build.cart, field)
    qtbot.mouseClick(opened(panel, section).add, Left)
    assert len(getattr(session.build.cart, field)) == len(before) + 1
    assert len(steps(session)) == 1


def test_a_handle_and_a_panel_come_and_go(panel, session, qtbot):
    session.set_editing_cart(True)
    had = session.build.cart.rear_panel
    editor = opened(panel, "Rear panel")
    qtbot.mouseClick(editor.button, Left)
    assert (session.build.cart.rear_panel is None) != (had is None)
    qtbot.mouseClick(editor.button, Left)
    assert (session.build.cart.rear_panel is None) == (had is None)


def test_levels_are_renamed_reordered_and_kept_while_something_stands_on_them(
    panel, session, qtbot
):
    session.set_editing_cart(True)
    said = []
    session.told.connect(said.append)
    editor = opened(panel, "Levels")
    type_into(editor.parts[2].editors["name"], "floor")
    assert any(item.level == "floor" for item in session.build.items)
    remove = next(
        one
        for one in editor.findChildren(type(editor.add))
        if one.accessibleName() == "Take level 3 away"
    )
    qtbot.mouseClick(remove, Left)
    assert "there is still" in said[-1]
    assert session.build.cart.level("floor") is not None
    assert len(editor.parts) == 3
    up = next(
        one
        for one in editor.findChildren(type(editor.add))
        if one.accessibleName() == "Put level 2 before level 1"
    )
    qtbot.mouseClick(up, Left)
    assert [one.name for one in session.build.cart.levels] == ["shelf", "counter", "floor"]


def test_a_selected_part_has_its_own_page(panel, session, qtbot):
    at = len(session.build.cart.leaves) - 1
    session.select(Selection(parts=(f"leaf:{at}",)))
    assert isinstance(panel.page, PartPage)
    assert panel.heading.text() == "Left leaf"
    editor = opened(panel, "Leaf")
    type_into(editor.editors["depth"], "14 in")
    leaf = session.build.cart.leaves[at]
    assert isinstance(leaf, Leaf)
    assert leaf.depth.text == "14 in"
    assert session.selection.parts == (f"leaf:{at}",)
    qtbot.mouseClick(panel.page.remove, Left)
    assert len(session.build.cart.leaves) == at
    assert isinstance(panel.page, CartPage)
    assert steps(session) == ["Change depth of Left leaf", "Delete Left leaf"]


def test_a_corner_is_typed_where_it_goes(panel, session):
    session.select(Selection(parts=("corner:2",)))
    editor = opened(panel, "Corner")
    type_into(editor.editors["x"], "80 in")
    assert session.build.cart.width.text == "80 in"


def test_a_zone_says_what_is_free_of_its_level(panel, session):
    session.select(Selection(parts=("zone:0",)))
    room = session.analysis.body.room(session.build.cart.zones[0].level)
    shown = " ".join(label.text() for label in panel.page.facts.findChildren(type(panel.heading)))
    assert f"{room.free_share * 100:.0f} %" in shown


def test_several_parts_are_named_and_deleted_together(panel, session, qtbot):
    session.select(Selection(parts=("caster:0", "caster:1")))
    assert panel.heading.text() == "2 parts of the cart"
    qtbot.mouseClick(panel.page.remove, Left)
    assert steps(session) == ["Delete 2 parts of the cart"]


def test_undo_of_what_a_page_is_about_leaves_a_page(panel, session):
    build, ref = add(session.build, new_zone(session.build, "no-go", "base", (0.1, 0.1, 0.2, 0.2)))
    session.apply("Add no-go zone", build, select=Selection(parts=(ref,)))
    assert isinstance(panel.page, PartPage)
    session.undo_stack.undo()
    assert isinstance(panel.page, CartPage)
