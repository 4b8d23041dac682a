"""The command box: everything is found by typing, and done with Enter."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest

from cartlayout.build import edits
from cartlayout.ui.command_box.box import LINE, in_words
from cartlayout.ui.command_box.search import Line, find
from cartlayout.ui.entries import Entry, plain
from cartlayout.ui.selection import Selection

Key = Qt.Key


def line(text: str, place: str = "", **more) -> Line:
    return Line(key=text, text=text, place=place, run=lambda: None, **more)


LINES = (
    line("Rotate", "Arrange", key_text="R"),
    line("Rotate Back", "Arrange"),
    line("Align Left Edges", "Arrange > Align"),
    line("Align Right Edges", "Arrange > Align", enabled=False, needs="Select two items first."),
    line("Export Plan…", "File", words="pdf picture"),
    line("Place Kettle, 1.5 kW", "Stock > Hot water", kind="stock"),
    line("Go to Kettle", "on the counter", kind="item"),
)


def texts(typed: str, lately=()) -> list[str]:
    return [one.text for one in find(LINES, typed, lately)]


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("rot", "Rotate"),
        ("rotate b", "Rotate Back"),
        ("edges left", "Align Left Edges"),
        ("ale", "Align Left Edges"),  # first letters of its words
        ("pdf", "Export Plan…"),
        ("kettle", "Go to Kettle"),
        ("place ket", "Place Kettle, 1.5 kW"),
        ("rotaet", "Rotate"),  # a slip of the finger
        ("KETTLE", "Go to Kettle"),
    ],
)
def test_the_best_line_comes_first(typed, first):
    assert texts(typed)[0] == first


def test_what_cannot_be_done_comes_after_what_can():
    assert texts("align") == ["Align Left Edges", "Align Right Edges"]


def test_every_word_has_to_be_found():
    assert texts("kettle rotate") == []
    assert texts("zzzzqq") == []


def test_with_nothing_typed_what_was_used_last_comes_first():
    assert texts("", ("Go to Kettle",))[:2] == ["Go to Kettle", "Rotate"]
    assert texts("")[-1] == "Align Right Edges"


def open_box(window):
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    window.plan.setFocus()
    QTest.keySequence(window, QKeySequence("Ctrl+K"))
    box = window.command_box
    assert box.isVisible()
    assert box.field.hasFocus()
    return box


def test_type_and_enter(window):
    box = open_box(window)
    QTest.keyClicks(box.field, "metric")
    QTest.keyClick(box.field, Key.Key_Return)
    assert window.session.system.value == "metric"
    assert not box.isVisible()
    assert window.plan.hasFocus()
    again = open_box(window)
    assert again.model.lines[0].key == "view.metric-units"  # what was used last


def test_the_arrows_walk_and_a_click_runs(window):
    box = open_box(window)
    QTest.keyClicks(box.field, "zoom")
    shown = [one.text for one in box.model.lines]
    assert shown[:2] == ["Zoom In", "Zoom Out"]
    QTest.keyClick(box.field, Key.Key_Down)
    assert box.list.currentIndex().row() == 1
    QTest.keyClick(box.field, Key.Key_Up)
    QTest.keyClick(box.field, Key.Key_Up)
    assert box.list.currentIndex().row() == len(shown) - 1
    scale = window.plan.pixels_per_m
    spot = box.list.visualRect(box.model.index(0)).center()
    QTest.mouseClick(box.list.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert window.plan.pixels_per_m > scale
    assert not box.isVisible()


def test_what_cannot_be_done_says_why(window):
    box = open_box(window)
    QTest.keyClicks(box.field, "duplicate")
    row = next(at for at, one in enumerate(box.model.lines) if one.key == "edit.duplicate")
    box.list.setCurrentIndex(box.model.index(row))
    assert "Select an item first." in box.foot.text()
    assert "not now" in in_words(box.list.currentIndex().data(LINE))
    QTest.keyClick(box.field, Key.Key_Return)
    assert box.isVisible()
    assert window.counts.text() == "Select an item first."
    window.status.untell()
    QTest.keyClick(box.field, Key.Key_Escape)
    assert not box.isVisible()
    assert window.plan.hasFocus()


def test_an_item_is_gone_to_and_a_piece_of_equipment_placed(window):
    session = window.session
    box = open_box(window)
    QTest.keyClicks(box.field, "go to water jug")
    QTest.keyClick(box.field, Key.Key_Return)
    (chosen,) = session.selection.items
    item = session.build.item(chosen)
    assert item.name == "Water jug"
    assert session.level == item.level  # it stands below the counter: the level follows
    count = len(session.build.items)
    box = open_box(window)
    QTest.keyClicks(box.field, "place kettle")
    QTest.keyClick(box.field, Key.Key_Return)
    assert len(session.build.items) == count + 1
    assert session.undo_stack.undoText().startswith("Place Kettle")
    assert window.plan.hasFocus()


def test_a_finding_is_shown(open_window):
    window = open_window("market_cart_first_try")
    finding = next(one for one in window.session.analysis.findings if one.code == "water.flow")
    window.show_panel("findings", on=False)
    box = open_box(window)
    QTest.keyClicks(box.field, "finding rinser gets")
    QTest.keyClick(box.field, Key.Key_Return)
    assert window.session.selection.items == finding.items
    assert window.panel_shown("findings")


def test_it_closes_when_the_keyboard_goes_elsewhere(window):
    box = open_box(window)
    window.stock.field.setFocus(Qt.FocusReason.MouseFocusReason)
    assert not box.isVisible()
    assert window.stock.field.hasFocus()


def test_nothing_found_is_said(window):
    box = open_box(window)
    QTest.keyClicks(box.field, "xyzzyq")
    assert "Nothing answers to 'xyzzyq'" in box.foot.text()
    QTest.keyClick(box.field, Key.Key_Return)
    assert box.isVisible()
    QTest.keyClick(box.field, Key.Key_Escape)


def test_every_action_of_the_menus_is_in_it_with_its_key(window):
    box = open_box(window)
    lines = {one.key: one for one in box._all}
    for action in window.actions_:
        if action.entry.key != "help.commands":
            found = lines[action.entry.key]
            under = plain(action.entry.menu.partition("/")[2])
            text = plain(action.text())
            assert found.text == (f"{under}: {text}" if under else text)
            assert found.key_text == action.key_text
    QTest.keyClick(box.field, Key.Key_Escape)


def test_every_action_says_what_it_does_and_stands_in_a_menu(window):
    for listed in window.actions_.listed:
        assert listed.tip, listed.key
        assert listed.menu.partition("/")[0] in ("", *window.menus.by_path), listed.key
        if isinstance(listed, Entry) and listed.enabled is not None:
            assert listed.needs, listed.key


def test_actions_follow_the_selection_and_the_steps(window):
    session, actions = window.session, window.actions_
    assert not actions["edit.duplicate"].isEnabled()
    assert not actions["edit.undo"].isEnabled()
    session.select(Selection(items=("kettle",)))
    assert actions["edit.duplicate"].isEnabled()
    session.apply("Move Kettle", edits.move(session.build, ("kettle",), 0.05, 0.0))
    assert actions["edit.undo"].isEnabled()
    session.undo_stack.undo()
    assert not actions["edit.undo"].isEnabled()
    assert actions["edit.redo"].isEnabled()
    assert plain(actions["edit.lock"].text()) == "Lock"
    actions["edit.lock"].trigger()
    assert plain(actions["edit.lock"].text()) == "Unlock"


def test_in_mid_drag_nothing_else_changes_the_build(window):
    session = window.session
    session.select(Selection(items=("kettle",)))
    session.preview(edits.move(session.build, ("kettle",), 0.05, 0.0))
    build = session.build
    window.actions_["edit.duplicate"].trigger()
    assert session.build is build
    assert "Let go" in window.counts.text()
    window.actions_["view.metric-units"].trigger()
    assert session.system.value == "metric"
    session.cancel_preview()
    window.status.untell()


def test_overlays_levels_and_cases_are_in_the_view_menu(window):
    window.actions_["view.overlay-water"].trigger()
    assert "water" not in window.session.overlays
    assert not window.actions_["view.overlay-water"].isChecked()
    levels = window.menus.choices["view.levels"]
    levels.fill()
    next(one for one in levels.actions() if one.text() == "Base").trigger()
    assert window.session.level == "base"
    cases = window.menus.choices["view.cases"]
    cases.fill()
    next(one for one in cases.actions() if one.text() == "All shut").trigger()
    assert window.session.case == "All shut"
