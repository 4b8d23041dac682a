"""The cheat sheet says what is true: every key on it does something."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from cartlayout.ui import dialogs
from cartlayout.ui.cheat_sheet import CheatSheet
from cartlayout.ui.cheat_sheet.content import KEYS, Group, Row, columns, groups
from cartlayout.ui.entries import plain
from cartlayout.ui.plan import keys
from cartlayout.ui.selection import Selection


def open_sheet(window) -> CheatSheet:
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    QTest.keySequence(window, QKeySequence("F1"))
    (sheet,) = window.findChildren(CheatSheet)
    return sheet


def test_every_shortcut_of_the_menus_is_on_it(window, delete_now):
    sheet = open_sheet(window)
    shown = sheet.text.toPlainText().replace("\xa0", " ")
    for action in window.actions_:
        if action.entry.shortcuts:
            assert plain(action.entry.text).rstrip("…") in shown
            assert action.key_text in shown
    assert "drag from a port to another" in shown
    sheet.close()
    delete_now()


@pytest.mark.parametrize("row", KEYS.rows, ids=lambda row: row.what)
def test_every_key_of_the_plan_does_something(window, row, delete_now):
    """Sent to the plan with an item selected: the plan takes it, or an action answers."""
    window.plan.setFocus()
    taken_by_actions = {key.toString() for action in window.actions_ for key in action.shortcuts()}
    for text in row.keys:
        window.session.select(Selection(items=("kettle",)))
        combination = QKeySequence(text)[0]
        if text in ("Tab", "Shift+Tab"):
            QTest.keyClick(window.plan, combination.key(), combination.keyboardModifiers())
            assert window.session.selection != Selection(items=("kettle",))
            continue
        event = QKeyEvent(
            QKeyEvent.Type.KeyPress, combination.key(), combination.keyboardModifiers()
        )
        done = keys.pressed(window.plan, event)
        assert done or QKeySequence(text).toString() in taken_by_actions, text
    QTest.keyClick(window.plan, Qt.Key.Key_Escape)
    delete_now()


def test_columns_are_about_as_high(window):
    sheet = groups(window.actions_)
    for count in (1, 2, 3):
        dealt = columns(sheet, count)
        assert [one for column in dealt for one in column] == list(sheet)
        heights = [sum(len(one.rows) + 2 for one in column) for column in dealt]
        assert len(dealt) == count
        assert max(heights) <= 2.2 * sum(heights) / count
    few = (Group("A", (Row("a", how="click"),)),)
    assert columns(few, 3) == (few,)


def test_it_is_saved_as_one_page(window, monkeypatch, tmp_path, delete_now):
    sheet = open_sheet(window)
    path = tmp_path / "keys.pdf"
    monkeypatch.setattr(dialogs, "ask_export", lambda *_: path)
    (button,) = [one for one in sheet.findChildren(QPushButton) if one.text() == "Save as PDF…"]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    data = path.read_bytes()
    assert data.startswith(b"%PDF-")  # PDF 1.7 (ISO 32000) 7.5.2
    assert data.count(b"/Type /Page\n") == 1
    assert window.counts.text() == "Saved keys.pdf."
    window.status.untell()
    sheet.close()
    delete_now()


def test_a_place_that_cannot_be_written_is_said(window, monkeypatch, tmp_path, delete_now):
    sheet = open_sheet(window)
    shown = []
    monkeypatch.setattr(dialogs, "ask_export", lambda *_: tmp_path / "nowhere" / "keys.pdf")
    monkeypatch.setattr(dialogs, "show_error", lambda *words: shown.append(words[1]))
    (button,) = [one for one in sheet.findChildren(QPushButton) if one.text() == "Save as PDF…"]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert shown == ["The sheet was not saved"]
    sheet.close()
    delete_now()
