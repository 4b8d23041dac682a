"""Several items edited at once: one field, all of them, one undo step."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.ui.details.panel import DetailsPanel
from cartlayout.ui.details.several import SeveralPage
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session

TWO = ("grinder", "kettle")


@pytest.fixture
def session(qtbot) -> Session:
    return Session(sample("market_cart"))


@pytest.fixture
def panel(session, qtbot) -> DetailsPanel:
    made = DetailsPanel(session)
    qtbot.addWidget(made)
    made.resize(308, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    session.select(Selection(items=TWO))
    assert isinstance(made.page, SeveralPage)
    return made


def field(panel, section: str, path: str):
    part = panel.page.sections[section]
    part.open()
    return part.editor.editors[path]


def enter(editor, text: str) -> None:
    editor.line.setFocus()
    editor.line.selectAll()
    QTest.keyClicks(editor.line, text)
    QTest.keyClick(editor.line, Qt.Key.Key_Return)


def items(session):
    return [session.build.item(one) for one in TWO]


def test_a_shared_value_is_shown_and_a_differing_one_is_not(panel, session):
    assert field(panel, "Several", "rotation").line.text() == "0"
    places = {item.x.text for item in items(session)}
    assert len(places) == 2
    x = field(panel, "Several", "x")
    assert x.line.text() == ""
    assert x.line.placeholderText() == "differ"


def test_a_typed_value_goes_to_all_in_one_step(panel, session):
    before = session.build
    enter(field(panel, "Several", "rotation"), "90")
    assert [item.rotation for item in items(session)] == [90, 90]
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "Change rotation, ° of 2 items"
    session.undo_stack.undo()
    assert session.build is before
    assert field(panel, "Several", "rotation").line.text() == "0"


def test_a_differing_field_takes_even_the_first_ones_value(panel, session):
    first = items(session)[0].x
    enter(field(panel, "Several", "x"), first.text)
    assert [item.x.text for item in items(session)] == [first.text] * 2
    assert field(panel, "Several", "x").line.text() == first.text
    session.undo_stack.undo()
    assert field(panel, "Several", "x").line.placeholderText() == "differ"


def test_leaving_a_differing_field_empty_changes_nothing(panel, session):
    editor = field(panel, "Several", "x")
    editor.line.setFocus()
    QTest.keyClick(editor.line, Qt.Key.Key_Return)
    assert session.undo_stack.count() == 0
    assert not editor.error.isVisible()


def test_parts_of_the_specification_are_shared_too(panel, session):
    enter(field(panel, "Body", "specification.size.width"), "8 in")
    assert [item.specification.size.width.text for item in items(session)] == ["8 in", "8 in"]
    editors = panel.page.sections["Electrical"]
    editors.open()
    # Both are loads; what a load has can be set for both (field names of the document).
    assert "specification.electrical.power_factor" in editors.editor.editors


def test_a_wrong_value_is_refused_in_words_and_changes_nothing(panel, session):
    editor = field(panel, "Body", "specification.mass")
    enter(editor, "3 parsec")
    assert editor.error.isVisible()
    assert session.undo_stack.count() == 0


def test_a_switch_that_differs_goes_to_yes_for_all(panel, session):
    session.select(Selection(items=("kettle",)))
    from cartlayout.ui import commands

    commands.toggle_lock(session)
    session.select(Selection(items=TWO))
    box = field(panel, "Several", "locked").box
    assert box.checkState() == Qt.CheckState.PartiallyChecked
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Space)
    assert all(item.locked for item in items(session))
    assert box.checkState() == Qt.CheckState.Checked


def test_roles_of_different_sorts_share_nothing_there(panel, session):
    session.select(Selection(items=("kettle", "jug")))
    assert not panel.page.sections["Water"].isVisibleTo(panel.page)
    assert not panel.page.sections["Electrical"].isVisibleTo(panel.page)
    assert "fill" not in panel.page.sections["Several"].editor.editors
    session.select(Selection(items=("jug", "waste")))
    assert "fill" in panel.page.sections["Several"].editor.editors
    assert panel.page.sections["Water"].isVisibleTo(panel.page)


def test_the_request_for_fields_puts_the_cursor_in_the_first_one(panel, session):
    session.fields_requested.emit(session.selection)
    assert field(panel, "Several", "level").combo.hasFocus()
    session.select(Selection(items=("kettle",)))
    session.fields_requested.emit(session.selection)
    line = panel.page.sections["Place"].editor.editors["label"].line
    assert line.hasFocus()
