"""Cords that fit a wire, with real events: seen on the plan before one is taken."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from ui_samples import sample

from cartlayout.advice.cord_sizes import cord_of
from cartlayout.ui.details import trials
from cartlayout.ui.details.cord_sizes import CordMenu, CordSizes
from cartlayout.ui.plan.menu import make_menu
from cartlayout.ui.selection import Selection
from cartlayout.units import UnitSystem

Key = Qt.Key
KIOSK = "station_kiosk_230v"
LEAD = "lead-wire"


def turn() -> None:
    for _ in range(4):
        QApplication.processEvents()


def size_of(build, wire: str = LEAD) -> str:
    return cord_of(build, build.run(wire)).size.text


@pytest.fixture
def opened(open_window, qtbot):
    """The window on a kiosk behind a lead of 25 m, its cords tried."""
    window = open_window(KIOSK)
    window.session.select(Selection(runs=(LEAD,)))
    turn()
    section = window.details.page.sections["Cords that fit"]
    section.head.click()
    view = section.editor
    assert isinstance(view, CordSizes)
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))
    window.details.area.bring_up(section)
    turn()
    return window, view


def test_every_row_tells_volts_loss_amps_and_whether_it_holds(opened):
    _, view = opened
    assert list(view.rows) == ["0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"]
    for row in view.rows.values():
        text = row.choice_text()
        assert all(unit in text for unit in (" V", "%", " A"))
        assert row.toolTip().startswith(row.name)
    assert view.rows["0.5 mm2"].tried.verdict == "stop"
    assert view.rows["2.5 mm2"].tried.is_now
    assert "It is what is there" in view.rows["2.5 mm2"].accessibleName()
    volts = [row.tried.volts for row in view.rows.values()]
    assert volts == sorted(volts)
    for row in view.rows.values():  # nothing is cut off at the panel's usual width
        metrics = row.fontMetrics()
        room = row.width() - metrics.horizontalAdvance(row.choice_text()) - 36
        assert metrics.horizontalAdvance(row.name) <= room + 12


def test_arrows_preview_enter_takes_and_undo_takes_back(opened):
    window, view = opened
    session, before = window.session, window.session.build
    view.rows["1.5 mm2"].setFocus(Qt.FocusReason.TabFocusReason)
    turn()
    assert size_of(session.shown) == "1.5 mm2"
    QTest.keyClick(view.rows["1.5 mm2"], Key.Key_Down)
    QTest.keyClick(view.rows["2.5 mm2"], Key.Key_Down)
    turn()
    assert QApplication.focusWidget() is view.rows["4 mm2"]
    assert size_of(session.shown) == "4 mm2"
    assert session.build is before
    told = view.rows["4 mm2"].tried
    QTest.keyClick(view.rows["4 mm2"], Key.Key_Return)
    turn()
    assert session.undo_stack.count() == 1
    assert session.undo_stack.text(0) == "Change cord to 4 mm2"
    assert size_of(session.build) == "4 mm2"
    assert not session.previewing
    state = session.analysis.power.appliances["espresso"]["Everything on"]
    assert state.volts == pytest.approx(told.volts)
    session.undo_stack.undo()
    assert session.build is before


def test_rows_stay_under_the_mouse_while_they_preview(opened, qtbot):
    """What a thin cord is found guilty of, and the fields of a new cord, must not push them."""
    window, view = opened
    seen = set()
    for row in view.rows.values():
        row.setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.waitUntil(lambda: not (window.session.behind or window.session.works))
        turn()
        assert window.session.previewing != row.tried.is_now
        body = window.details.area.body
        seen.add(tuple(one.mapTo(body, QPoint()).y() for one in view.rows.values()))
    assert len(seen) == 1


def test_escape_leaves_everything_as_it_was(opened):
    window, view = opened
    session, before = window.session, window.session.build
    row = view.rows["4 mm2"]
    row.setFocus(Qt.FocusReason.TabFocusReason)
    turn()
    assert session.previewing
    QTest.keyClick(row, Key.Key_Escape)
    turn()
    assert not session.previewing
    assert session.build is before
    assert session.undo_stack.count() == 0


def test_pointing_previews_a_click_takes_and_what_is_there_is_told(opened, qtbot):
    window, view = opened
    session = window.session
    said = []
    session.told.connect(said.append)
    QTest.mouseMove(view.words, QPoint(2, 2))
    row = view.rows["4 mm2"]
    QTest.mouseMove(row, row.rect().center())
    qtbot.waitUntil(lambda: session.previewing)
    QTest.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.rect().center())
    turn()
    assert session.undo_stack.count() == 1
    assert size_of(session.build) == "4 mm2"
    qtbot.waitUntil(lambda: view.rows["4 mm2"].tried.is_now and not view.trials.works)
    QTest.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.rect().center())
    assert said[-1] == "4 mm2 is what is there."
    assert session.undo_stack.count() == 1


def test_other_units_are_shown_at_once(opened):
    window, view = opened
    window.session.set_system(UnitSystem.US)
    turn()
    assert " V" in view.rows["4 mm2"].choice_text()


def test_what_takes_long_is_tried_in_another_thread(opened, qtbot, monkeypatch):
    """With no time allowed at all, every trial leaves the window's thread, to the same end."""
    window, view = opened
    before = {name: row.tried.volts for name, row in view.rows.items()}
    monkeypatch.setattr(trials, "LONG_S", -1.0)
    for row in view.rows.values():
        row.tried = None
    view.trials.start(window.session.build.run(LEAD))
    assert view.trials.works
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))
    assert {name: row.tried.volts for name, row in view.rows.items()} == pytest.approx(before)
    view.trials.start(window.session.build.run(LEAD))
    turn()
    window.session.end()  # the window may be closed meanwhile
    view.trials.stop()
    assert not view.trials.works


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_context_menu_of_a_wire_tells_and_takes(open_window, qtbot):
    window = open_window(KIOSK)
    session = window.session
    session.select(Selection(runs=(LEAD,)))
    turn()
    whole = make_menu(window.plan, None)
    menu = next(one for one in whole.findChildren(QMenu) if isinstance(one, CordMenu))
    assert menu.title() == "Change cord to"
    menu.popup(window.mapToGlobal(QPoint(40, 40)))
    qtbot.waitUntil(lambda: all(not one.icon().isNull() for one in menu.entries.values()))
    assert all(" V" in one.text() and " A" in one.text() for one in menu.entries.values())
    QTest.keyClick(menu, Key.Key_Down)
    turn()
    name = menu._named(menu.activeAction())
    assert size_of(session.shown) == name
    QTest.keyClick(menu, Key.Key_Return)
    turn()
    assert size_of(session.build) == name
    assert session.undo_stack.count() == 1
    whole.deleteLater()


def test_a_wire_in_nothing_offers_cords_without_volts(open_window, qtbot):
    from msgspec.structs import replace

    from cartlayout.build.edits import replace_run

    window = open_window("market_cart")
    session = window.session
    wire = sample().run("kettle-wire")
    session.apply("Pull", replace_run(session.build, replace(wire, b=None)))
    session.select(Selection(runs=("kettle-wire",)))
    turn()
    section = window.details.page.sections["Cords that fit"]
    section.head.click()
    view = section.editor
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))
    assert all(row.choice_text() == "" for row in view.rows.values())
    assert all("feeds no appliance" in row.toolTip() for row in view.rows.values())
