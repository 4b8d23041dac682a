"""Mend what can be mended, in the window: seen, thinned out by ticks, taken as one step.

That what is shown is what is applied, and what is applied is what was claimed, must hold whatever
the numbers: the build is analysed anew here and held against what the panel said.
"""

import pytest
from clipping import clipped_texts
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from ui_samples import sample

from cartlayout.advice.remedies import Tried
from cartlayout.analysis import analyse
from cartlayout.build import edits
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.remedies import MendPanel
from cartlayout.ui.selection import Selection

Key = Qt.Key
Both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
LONG_MS = 60_000


def _turn() -> None:
    for _ in range(3):
        QApplication.processEvents()


@pytest.fixture
def window(open_window) -> MainWindow:
    return open_window("market_cart_first_try")


def _ask(window: MainWindow) -> MendPanel:
    _turn()
    window.plan.setFocus()
    QTest.keyClick(window.plan, Key.Key_R, Both)
    panel = window.findChild(MendPanel)
    assert panel is not None
    assert panel.is_open
    return panel


def _found(panel: MendPanel, qtbot) -> MendPanel:
    qtbot.waitUntil(lambda: panel.found is not None and not panel.mending.works, timeout=LONG_MS)
    _turn()
    return panel


@pytest.fixture
def panel(window, qtbot) -> MendPanel:
    return _found(_ask(window), qtbot)


def _words(panel: MendPanel) -> str:
    return "\n".join(one.text() for one in panel.findChildren(QLabel) if one.isVisible())


def _keys(panel: MendPanel, start: str) -> list[str]:
    return [key for key, _ in panel.list.keyed() if key.startswith(start)]


def test_it_is_shown_and_nothing_is_done(window, panel) -> None:
    session, found = window.session, panel.found
    assert found.steps
    assert session.previewing
    assert session.shown is found.after.build
    assert session.analysis is found.after
    assert session.undo_stack.count() == 0
    assert window.plan.before.is_on
    assert len(_keys(panel, "step")) == len(found.steps)
    assert len(_keys(panel, "remains")) == len(found.remaining)
    words = panel.count.accessibleName()
    assert str(len(found.steps)) in words
    before, after = found.before.count("stop"), found.after.count("stop")
    assert f"{before} → {after}" in _words(panel)
    panel.cancel()


def test_enter_makes_one_step_and_the_stops_are_gone(window, panel) -> None:
    session, found = window.session, panel.found
    before = session.build
    stops = analyse(before).count("stop")
    QTest.keyClick(panel.list, Key.Key_Return)
    _turn()
    assert not panel.is_open
    assert session.build is found.after.build
    assert session.undo_stack.count() == 1
    again = analyse(session.build)
    assert again.count("stop") == len(found.remaining) < stops
    assert not window.plan.before.is_on
    session.undo_stack.undo()
    _turn()
    assert session.build is before


def test_the_button_says_how_many_steps(window, panel) -> None:
    count = len(panel.found.steps)
    assert panel.take.text() == f"Apply {count} step{'' if count == 1 else 's'}"
    QTest.mouseClick(panel.take, Qt.MouseButton.LeftButton)
    assert window.session.undo_stack.count() == 1
    assert window.session.undo_stack.undoText().startswith("Mend in ")


def test_escape_leaves_everything_as_it_was(window, panel) -> None:
    session = window.session
    build, settled, level = session.build, session.settled, session.level
    for _ in range(4):
        QTest.keyClick(panel.list, Key.Key_Down)
    QTest.keyClick(panel.list, Key.Key_Escape)
    _turn()
    assert not panel.is_open
    assert session.shown is session.build is build
    assert session.analysis is settled
    assert not session.selection
    assert session.level == level
    assert not window.plan.before.is_on


def test_a_row_shows_what_it_touches_on_its_level(window, panel) -> None:
    session = window.session
    for key, step in zip(_keys(panel, "step"), panel.found.steps, strict=True):
        while panel.list.current_key() != key:
            QTest.keyClick(panel.list, Key.Key_Down)
        assert set(session.selection.items) <= set(step.items)
        levels = {item.level for one in step.items if (item := session.shown.item(one))}
        on_cart = {one for one in levels if session.build.cart.level(one) is not None}
        assert not on_cart or session.level in on_cart
    panel.cancel()


def test_what_somebody_selects_meanwhile_stays_in_sight(window, panel) -> None:
    """The panel gives way, and the plan does not go back to the level of before."""
    session = window.session
    level = session.level
    panel.list.setFocus()
    for _ in range(20):
        if session.level != level:
            break
        QTest.keyClick(panel.list, Key.Key_Down)
        _turn()
    assert session.level != level
    there = next(one for one in session.build.items if one.level == session.level)
    session.select(Selection(items=(there.id,)))
    _turn()
    assert not panel.is_open
    assert session.selection.items == (there.id,)
    assert session.level == there.level


def test_the_space_bar_leaves_a_step_out_and_takes_it_back(window, panel, qtbot) -> None:
    session = window.session
    QTest.keyClick(panel.list, Key.Key_Down)
    first = panel.found.steps[0]
    whole = [one.title for one in panel.found.steps]
    QTest.keyClick(panel.list, Key.Key_Space)
    assert not panel.take.isEnabled()
    _found(panel, qtbot)
    assert first.title not in [one.title for one in panel.found.steps]
    assert panel.mending.left_out == (first,)
    (left,) = _keys(panel, "left")
    assert panel.list.current_key() == left
    row = next(row for key, row in panel.list.keyed() if key == left)
    assert row.checkState() == Qt.CheckState.Unchecked
    assert session.shown is panel.found.after.build
    QTest.keyClick(panel.list, Key.Key_Space)
    _found(panel, qtbot)
    assert [one.title for one in panel.found.steps] == whole
    assert not _keys(panel, "left")
    panel.cancel()


def test_a_click_on_the_box_leaves_out_and_beside_it_only_points(window, panel, qtbot) -> None:
    key = _keys(panel, "step")[0]
    row = next(row for found, row in panel.list.keyed() if found == key)
    rect = panel.list.visualItemRect(row)
    beside = QPoint(rect.left() + 80, rect.top() + 12)
    QTest.mouseClick(panel.list.viewport(), Qt.MouseButton.LeftButton, pos=beside)
    assert not panel.mending.works
    assert panel.list.current_key() == key
    on_box = QPoint(rect.left() + 11, rect.top() + 12)
    QTest.mouseClick(panel.list.viewport(), Qt.MouseButton.LeftButton, pos=on_box)
    assert panel.mending.works
    _found(panel, qtbot)
    assert len(panel.mending.left_out) == 1
    panel.cancel()


def test_what_is_left_out_stays_a_stop_with_its_reason(window, panel, qtbot) -> None:
    """Everything that the first round would do is unticked, one after another."""
    session = window.session
    for _ in range(3):
        if not panel.found.steps:
            break
        panel.list.choose(_keys(panel, "step")[0])
        QTest.keyClick(panel.list, Key.Key_Space)
        _found(panel, qtbot)
    stops = [one for one in panel.found.after.findings if one.severity == "stop"]
    assert [one.finding for one in panel.found.remaining] == stops
    words = [row.toolTip() for key, row in panel.list.keyed() if key.startswith("remains")]
    for one, said in zip(panel.found.remaining, words, strict=True):
        assert one.finding.title.shown(session.system) in said
        assert one.reason in said
    panel.cancel()


def test_stop_changes_nothing(window, qtbot) -> None:
    def endless(analysis, without):
        done = 0
        while True:
            done += 1
            yield Tried(done, done + 10)

    panel = _ask(window)
    panel.cancel()
    panel.mending.mend = endless
    panel.open()
    qtbot.waitUntil(lambda: panel.mending.tried.done > 2, timeout=5000)
    assert panel.stop.isVisible()
    assert "tried" in panel.count.accessibleName()
    QTest.mouseClick(panel.stop, Qt.MouseButton.LeftButton)
    assert not panel.mending.works
    assert not panel.take.isEnabled()
    QTest.keyClick(panel.list, Key.Key_Return)
    assert window.session.undo_stack.count() == 0
    assert panel.is_open
    panel.cancel()


def test_a_drag_closes_it_and_drops_the_search(window, qtbot) -> None:
    panel = _ask(window)
    assert panel.mending.works
    view = window.plan
    at = view.mapFromScene(QPointF(*view.plan.picture.body("cups").centre))
    QTest.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    for step in range(1, 12):
        QTest.mouseMove(view.viewport(), at + QPoint(2 * step, step))
        QApplication.processEvents()
    assert not panel.is_open
    assert not panel.mending.works
    QTest.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=at + QPoint(22, 11))
    QApplication.processEvents()
    assert window.session.undo_stack.count() == 1


def test_an_edit_closes_it(window, panel) -> None:
    session = window.session
    session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    _turn()
    assert not panel.is_open
    assert not session.previewing


def test_asked_before_an_edit_is_answered_it_waits_for_the_answer(window, qtbot) -> None:
    """Steps found in the build of before the edit would take the edit back."""
    session = window.session
    _turn()
    session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    assert session.settled.build is not session.build
    window.remedies.mend()
    panel = window.findChild(MendPanel)
    assert panel.mending.works
    _found(panel, qtbot)
    assert panel.found.before.build is session.build
    QTest.keyClick(panel.list, Key.Key_Return)
    assert session.undo_stack.count() == 2
    assert session.build.item("cups").x != sample("market_cart_first_try").item("cups").x


def test_another_panel_that_shows_something_is_left_first(window, panel, qtbot) -> None:
    session = window.session
    finding = next(one for one in session.settled.findings if one.code == "water.flow")
    window.remedies.show(finding)
    assert not panel.is_open
    assert window.remedies.panel.is_open
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=LONG_MS)
    assert session.shown is window.remedies.panel.remedies[0].build
    window.remedies.mend()
    assert not window.remedies.panel.is_open
    assert panel.is_open
    panel.cancel()
    assert not session.previewing


def test_no_word_is_cut_off(window, panel, qtbot) -> None:
    QTest.keyClick(panel.list, Key.Key_Down)
    _turn()
    assert clipped_texts(panel) == []
    panel.cancel()


def test_the_board_leads_to_it(window, qtbot) -> None:
    _turn()
    assert window.findings.mend.isVisible()
    window.findings.mend.setFocus()
    QTest.keyClick(window.findings.mend, Key.Key_Return)
    panel = window.findChild(MendPanel)
    assert panel.is_open
    panel.cancel()


def test_a_build_without_a_stop_has_nothing_to_mend(open_window) -> None:
    window = open_window("market_cart")
    _turn()
    assert not window.actions_["findings.mend"].isEnabled()
    assert not window.findings.mend.isVisible()


def test_the_menu_offers_the_remedies_of_each_finding(window, qtbot) -> None:
    menu = window.menus.choices["findings.remedies"]
    menu.fill()
    wanted = [one for one in window.session.settled.findings if one.severity != "note"]
    assert len(menu.actions()) == len(wanted)
    at = next(at for at, one in enumerate(wanted) if one.code == "water.flow")
    menu.actions()[at].trigger()
    panel = window.remedies.panel
    assert panel.is_open
    assert panel.finding is wanted[at]
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=LONG_MS)
    assert window.session.previewing
    panel.cancel()


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1200)])
def test_everything_has_room(open_window, qtbot, size) -> None:
    window = open_window("market_cart_first_try", *size)
    panel = _found(_ask(window), qtbot)
    for part in (panel.take, panel.leave):
        assert part.visibleRegion().boundingRect().size() == part.size()
        assert part.width() >= part.sizeHint().width()
    assert panel.list.height() >= 150
    panel.cancel()


def test_rows_that_scroll_under_a_resting_mouse_are_not_pointed_at(window, qtbot) -> None:
    window.resize(1280, 720)
    panel = _found(_ask(window), qtbot)
    rows = panel.list
    assert rows.verticalScrollBar().maximum() > 0
    low = QPoint(rows.viewport().width() // 2, rows.viewport().height() - 4)
    QTest.mouseMove(rows.viewport(), low - QPoint(0, 8))
    QTest.mouseMove(rows.viewport(), low)
    _turn()
    keys = [key for key, _ in rows.keyed()]
    now = rows.current_key()
    for key in keys[keys.index(now) + 1 if now else 0 :]:
        QTest.keyClick(rows, Key.Key_Down)
        _turn()
        assert rows.current_key() == key
    for key in reversed(keys[:-1]):
        QTest.keyClick(rows, Key.Key_Up)
        _turn()
        assert rows.current_key() == key
    panel.cancel()


@pytest.mark.parametrize("size", [(426, 266), (800, 600), (1280, 800)])
def test_there_is_room_for_rows_in_any_window(window, qtbot, size) -> None:
    window.resize(*size)
    panel = _found(_ask(window), qtbot)
    assert window.rect().contains(panel.geometry())
    for one in (panel.list, panel.report, panel.take, panel.leave):
        box = one.geometry()
        assert panel.rect().contains(box)
    assert panel.heading.height() >= panel.heading.fontMetrics().height()
    assert panel.list.geometry().bottom() < panel.take.geometry().top()
    assert panel.list.viewport().height() >= 40
    panel.cancel()


def test_it_can_be_asked_for_again_once_it_is_undone(window, panel, qtbot) -> None:
    mend = window.actions_["findings.mend"]
    QTest.keyClick(panel.list, Key.Key_Return)
    qtbot.waitUntil(lambda: window.session.settled.build is window.session.build)
    _turn()
    assert mend.isEnabled() == (window.session.settled.count("stop") > 0)
    QTest.keyClick(window.plan, Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: window.session.settled.build is window.session.build)
    _turn()
    assert window.session.settled.count("stop") > 0
    assert mend.isEnabled()
    assert _ask(window).is_open
