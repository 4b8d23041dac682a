"""Exchanging an item in the window: what would change is seen, then taken or left, by keys."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from cartlayout.analysis import Analysis, analyse
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.plan.menu import make_menu
from cartlayout.ui.replacing import ReplaceMenu, ReplacePanel
from cartlayout.ui.replacing.comparison import compare
from cartlayout.ui.selection import NOTHING, Selection
from cartlayout.units import UnitSystem

Key = Qt.Key


def _said(analysis: Analysis) -> list[tuple[str, str]]:
    """Every finding as it reads: a line solved from where it was differs in the tenth digit."""
    return [(one.severity, one.title.shown(UnitSystem.US)) for one in analysis.findings]


def _turn() -> None:
    for _ in range(3):
        QApplication.processEvents()


def _open(window: MainWindow, item: str = "espresso") -> ReplacePanel:
    window.session.select(Selection(items=(item,)))
    window.plan.setFocus()
    QTest.keyClick(window.plan, Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    _turn()
    panel = window.findChild(ReplacePanel)
    assert panel is not None
    assert panel.is_open
    return panel


def test_the_highlighted_one_is_shown_on_the_plan_and_nothing_is_committed(window) -> None:
    session = window.session
    before = session.build
    panel = _open(window)
    assert session.previewing
    assert session.build is before
    first = panel.list.current_key()
    assert session.shown.item("espresso").specification.stock == first
    QTest.keyClick(panel.field, Key.Key_Down)
    _turn()
    assert panel.list.current_key() != first
    assert session.shown.item("espresso").specification.stock == panel.list.current_key()
    assert session.undo_stack.count() == 0
    panel.cancel()


def test_escape_leaves_everything_as_it_was(window) -> None:
    session = window.session
    before, analysis = session.build, session.analysis
    panel = _open(window)
    QTest.keyClick(panel.field, Key.Key_Escape)
    _turn()
    assert not panel.is_open
    assert session.build is before
    assert session.shown is before
    assert session.analysis is analysis


def test_escape_on_the_plan_leaves_it_too(window) -> None:
    panel = _open(window)
    window.plan.setFocus()
    QTest.keyClick(window.plan, Key.Key_Escape)
    _turn()
    assert not panel.is_open
    assert not window.session.previewing


def test_typed_words_and_enter_make_one_step(window) -> None:
    session = window.session
    before = session.build
    panel = _open(window)
    QTest.keyClicks(panel.field, "own reservoir")
    _turn()
    assert panel.list.current_key() == "espresso-reservoir-120"
    QTest.keyClick(panel.field, Key.Key_Return)
    _turn()
    assert not panel.is_open
    assert session.build.item("espresso").specification.stock == "espresso-reservoir-120"
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "Replace Espresso machine with Espresso machine"
    session.undo_stack.undo()
    _turn()
    assert session.build == before


def test_two_clicks_of_the_mouse(window) -> None:
    session = window.session
    panel = _open(window, "grinder")
    keys = dict(panel.list.keyed())
    other = next(key for key in keys if key != panel.list.current_key())
    spot = panel.list.visualItemRect(keys[other]).center()
    QTest.mouseClick(panel.list.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    _turn()
    QTest.mouseClick(panel.take, Qt.MouseButton.LeftButton)
    _turn()
    assert session.build.item("grinder").specification.stock == other


def test_the_report_says_what_comes_and_what_becomes_of_the_wires(window) -> None:
    session = window.session
    panel = _open(window)
    panel.list.choose("espresso-2-group-240")
    _turn()
    words = _words(panel)
    # NEMA WD 6: an L6-30 plug goes into no 125 V receptacle.
    assert "250 V" in words
    now, then = session.settled, session.analysis
    assert f"{now.count('stop')} → {then.count('stop')}" in words
    for finding in compare(now, then, session.system).come:
        assert finding.title.shown(session.system) in words
    panel.cancel()


def _words(panel: ReplacePanel) -> str:
    from PySide6.QtWidgets import QLabel

    return "\n".join(one.text() for one in panel.report.findChildren(QLabel) if one.isVisible())


def test_every_row_near_by_gets_its_mark_in_idle_time(window, qtbot) -> None:
    from cartlayout.ui.trying import VERDICT

    panel = _open(window)
    rows = [row for _, row in panel.list.keyed()][:3]
    qtbot.waitUntil(lambda: all(row.data(VERDICT) for row in rows), timeout=5000)
    assert window.session.shown.item("espresso").specification.stock == panel.list.current_key()
    panel.cancel()


def test_selecting_something_else_leaves_it(window) -> None:
    panel = _open(window)
    window.session.select(Selection(items=("kettle",)))
    _turn()
    assert not panel.is_open
    assert not window.session.previewing


def test_the_panel_stands_over_the_details_or_at_the_plans_edge(window) -> None:
    panel = _open(window)
    assert panel.size() == window.details.size()
    panel.cancel()
    window.show_panel("details", False)
    _turn()
    panel = _open(window)
    right = window.plan.mapTo(window, window.plan.rect().topRight()).x()
    assert panel.geometry().right() == right
    assert panel.take.visibleRegion().boundingRect().size() == panel.take.size()
    panel.cancel()


def test_nothing_selected_is_said(window) -> None:
    window.session.select(NOTHING)
    _turn()
    assert not window.actions_["equipment.replace"].isEnabled()


@pytest.fixture
def submenu(window):
    window.session.select(Selection(items=("espresso",)))
    menu = make_menu(window.plan, None)
    found = next(one for one in menu.findChildren(QMenu) if isinstance(one, ReplaceMenu))
    yield found
    found.close()
    menu.deleteLater()


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_context_menu_previews_what_is_pointed_at(window, submenu) -> None:
    session = window.session
    before = session.build
    submenu.popup(window.mapToGlobal(window.rect().center()))
    _turn()
    QTest.keyClick(submenu, Key.Key_Down)
    _turn()
    assert session.previewing
    assert session.shown.item("espresso").specification != before.item("espresso").specification
    QTest.keyClick(submenu, Key.Key_Escape)
    _turn()
    assert session.shown is before


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_context_menu_marks_and_takes(window, submenu, qtbot) -> None:
    session = window.session
    submenu.popup(window.mapToGlobal(window.rect().center()))
    actions = [one for one in submenu.actions() if one in submenu.entries]
    qtbot.waitUntil(lambda: all(not one.icon().isNull() for one in actions), timeout=5000)
    QTest.keyClick(submenu, Key.Key_Down)
    chosen = submenu.activeAction()
    wanted = submenu.entries[chosen].key
    QTest.keyClick(submenu, Key.Key_Return)
    _turn()
    assert session.build.item("espresso").specification.stock == wanted
    assert session.undo_stack.count() == 1
    qtbot.waitUntil(lambda: not session.behind, timeout=5000)  # in a thread on a busy machine
    assert _said(session.analysis) == _said(analyse(session.build))
