"""Remedies in the window: found while a card is open, seen on the plan, taken as one step.

What a remedy may claim is logic that must hold whatever the numbers: what is pointed at is what
is shown, what is applied is what was shown, and nothing else of the build changes.
"""

import pytest
from clipping import clipped_texts
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from cartlayout.advice.remedies import Remedy, best_first, why_none
from cartlayout.analysis import analyse
from cartlayout.build import edits
from cartlayout.ui.boards.findings import FindingCard
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.remedies import MendPanel, RemediesPanel
from cartlayout.ui.selection import NOTHING

Key = Qt.Key
CODE = "water.flow"
"""The rinser of the first try is starved by its tube: the way to mend it is a wider one."""


@pytest.fixture
def window(open_window) -> MainWindow:
    return open_window("market_cart_first_try")


def _turn() -> None:
    for _ in range(3):
        QApplication.processEvents()


def _card(window: MainWindow, code: str = CODE) -> FindingCard:
    return next(card for card in window.findings.cards if card.finding.code == code)


def _opened(window: MainWindow, qtbot, code: str = CODE) -> FindingCard:
    """Open a card with Enter and wait until everything was tried."""
    card = _card(window, code)
    card.setFocus()
    QTest.keyClick(card, Key.Key_Return)
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=20_000)
    return _card(window, code)


def _panel(window: MainWindow, qtbot, code: str = CODE) -> RemediesPanel:
    card = _opened(window, qtbot, code)
    card.remedies.setFocus()
    QTest.keyClick(card.remedies, Key.Key_Return)
    _turn()
    assert window.remedies.panel.is_open
    return window.remedies.panel


def _current(panel: RemediesPanel) -> Remedy:
    found = panel.current
    assert found is not None
    return found


def _words(panel: RemediesPanel) -> str:
    return "\n".join(one.text() for one in panel.findChildren(QLabel) if one.isVisible())


def test_an_open_card_says_how_many_there_are_and_what_comes_of_the_best(window, qtbot) -> None:
    card = _opened(window, qtbot)
    found = best_first(window.remedies.search.remedies)
    assert found
    assert card.remedies.isVisible()
    assert str(len(found)) in card.remedies.whole
    assert found[0].outcome.shown(window.session.system) in card.remedies.whole
    assert window.session.undo_stack.count() == 0
    assert not window.session.previewing


def test_only_the_open_card_has_the_line(window, qtbot) -> None:
    _opened(window, qtbot)
    card = _card(window, "body.overhang")
    card.setFocus()
    QTest.keyClick(card, Key.Key_Return)
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=20_000)
    assert window.remedies.search.finding.code == "body.overhang"
    assert not _card(window).remedies.isVisible()
    QTest.keyClick(card, Key.Key_Return)
    assert window.remedies.search.finding is None


def test_the_best_is_shown_on_the_plan_with_the_answer_that_was_tried(window, qtbot) -> None:
    session = window.session
    before = session.build
    panel = _panel(window, qtbot)
    best = panel.remedies[0]
    assert _current(panel) is best
    assert session.shown is best.build
    assert session.analysis is best.analysis
    assert session.build is before
    assert window.plan.before.is_on
    assert window.plan.plan.changes.shown.new_runs
    panel.cancel()


def test_arrow_keys_go_to_the_next_and_the_mouse_too(window, qtbot) -> None:
    session = window.session
    panel = _panel(window, qtbot)
    assert len(panel.remedies) >= 2
    QTest.keyClick(panel.list, Key.Key_Down)
    _turn()
    assert session.shown is panel.remedies[1].build
    row = panel.list.item(0)
    at = panel.list.visualItemRect(row).center()
    QTest.mouseMove(panel.list.viewport(), at - QPoint(0, 3))
    QTest.mouseMove(panel.list.viewport(), at)
    _turn()
    assert session.shown is panel.remedies[0].build
    assert session.undo_stack.count() == 0
    panel.cancel()


def test_every_number_that_is_claimed_is_read(window, qtbot) -> None:
    panel = _panel(window, qtbot)
    system = window.session.system
    for at, remedy in enumerate(panel.remedies):
        row = panel.list.item(at)
        assert remedy.title.shown(system) in row.toolTip()
        assert remedy.outcome.shown(system) in row.toolTip()
    words = _words(panel)
    assert panel.finding.title.shown(system) in words
    for one in _current(panel).come:
        assert one.title.shown(system) in words
    panel.cancel()


def test_enter_applies_it_as_one_step_named_by_what_is_done(window, qtbot) -> None:
    session = window.session
    before = session.build
    panel = _panel(window, qtbot)
    remedy = _current(panel)
    QTest.keyClick(panel.list, Key.Key_Return)
    _turn()
    assert not panel.is_open
    assert session.build is remedy.build
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == remedy.title.shown(session.system)
    again = analyse(session.build)
    assert CODE not in {one.code for one in again.findings}
    assert remedy.outcome.shown(session.system) in window.counts.toolTip() + window.counts.text()
    assert not window.plan.before.is_on
    session.undo_stack.undo()
    _turn()
    assert session.build is before


def test_escape_takes_the_preview_away(window, qtbot) -> None:
    session = window.session
    before, settled, level = session.build, session.settled, session.level
    _opened(window, qtbot)
    selected = session.selection
    window.remedies.show(_card(window).finding)
    panel = window.remedies.panel
    QTest.keyClick(panel.list, Key.Key_Down)
    assert set(session.selection.items) <= set(_current(panel).items)
    assert session.selection != selected
    QTest.keyClick(panel.list, Key.Key_Escape)
    _turn()
    assert not panel.is_open
    assert session.shown is before
    assert session.analysis is settled
    assert session.level == level
    assert session.selection == selected
    assert not window.plan.before.is_on
    assert _card(window).is_open


def test_escape_on_the_plan_does_so_too(window, qtbot) -> None:
    panel = _panel(window, qtbot)
    window.plan.setFocus()
    QTest.keyClick(window.plan, Key.Key_Escape)
    _turn()
    assert not panel.is_open
    assert not window.session.previewing


def test_an_edit_drops_what_was_found_and_looks_again(window, qtbot) -> None:
    session = window.session
    _opened(window, qtbot)
    old = window.remedies.search.remedies
    session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    assert not window.remedies.search.remedies
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=20_000)
    found = window.remedies.search.remedies
    assert found
    assert not {id(one) for one in found} & {id(one) for one in old}
    assert window.remedies.search.base is session.build


def test_an_undo_while_the_panel_is_open_closes_it(window, qtbot) -> None:
    session = window.session
    session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    _turn()
    panel = _panel(window, qtbot)
    session.undo_stack.undo()
    _turn()
    assert not panel.is_open
    assert not session.previewing
    assert not window.plan.before.is_on


def test_another_selection_closes_it(window, qtbot) -> None:
    session = window.session
    panel = _panel(window, qtbot)
    session.select(NOTHING)
    assert panel.is_open
    window.plan.choose(frozenset(("cups",)), frozenset())
    _turn()
    assert not panel.is_open
    assert not session.previewing
    assert session.selection.items == ("cups",)


@pytest.mark.parametrize("width", [1280, 1920])
def test_the_line_in_a_card_squeezes_nothing_else(open_window, qtbot, width) -> None:
    """A long line ends in an ellipsis; the sentences above and below it are whole."""
    window = open_window("market_cart_first_try", width, 800)
    for code in (CODE, "body.lift"):
        card = _opened(window, qtbot, code)
        _turn()
        assert card.height() >= card.heightForWidth(card.width())
        for text in (card.title, card.detail, card.source):
            assert text.height() >= text.heightForWidth(text.width())
        assert card.remedies.geometry().right() <= card.width()


def test_where_there_is_none_the_card_says_why(window, qtbot) -> None:
    card = _opened(window, qtbot, "body.lift")
    reason = why_none(card.finding)
    assert not window.remedies.search.remedies
    assert reason[1:] in card.remedies.whole
    assert card.remedies.toolTip() == reason
    card.remedies.setFocus()
    QTest.keyClick(card.remedies, Key.Key_Return)
    assert reason in _words(window.remedies.panel)
    assert not window.remedies.panel.take.isEnabled()
    window.remedies.panel.cancel()


def test_the_panel_holds_what_it_says_at_the_least_size(window, qtbot) -> None:
    panel = _panel(window, qtbot)
    assert panel.size() == window.details.size()
    for part in (panel.take, panel.leave):
        assert part.visibleRegion().boundingRect().size() == part.size()
    assert clipped_texts(panel) == []
    assert panel.list.viewport().height() > panel.list.visualItemRect(panel.list.item(0)).height()
    panel.cancel()


def test_the_line_is_there_again_once_the_panel_is_left(window, qtbot) -> None:
    whole = _opened(window, qtbot).remedies.whole
    window.findings.remedies_asked.emit(window.findings.open_finding)
    _turn()
    panel = window.remedies.panel
    assert window.session.previewing
    assert all(card.finding.code != CODE for card in window.findings.cards)
    QTest.keyClick(panel.list, Key.Key_Escape)
    _turn()
    card = _card(window)
    assert card.is_open
    assert card.remedies.isVisible()
    assert card.remedies.whole == whole


def test_the_keyboard_goes_back_to_the_card(window, qtbot) -> None:
    panel = _panel(window, qtbot)
    QTest.keyClick(panel.list, Key.Key_Down)
    QTest.keyClick(panel.list, Key.Key_Escape)
    _turn()
    assert window.focusWidget() is _card(window)
    QTest.keyClick(_card(window), Key.Key_Tab)
    assert window.focusWidget() is _card(window).remedies


def test_the_keyboard_goes_back_to_where_mending_was_asked_from(window, qtbot) -> None:
    window.findings.mend.setFocus()
    QTest.keyClick(window.findings.mend, Key.Key_Return)
    _turn()
    panel = window.findChild(MendPanel)
    assert panel.isAncestorOf(window.focusWidget())
    QTest.keyClick(panel.list, Key.Key_Escape)
    _turn()
    assert window.focusWidget() is window.findings.mend
    assert not window.session.selection
