"""The search for remedies as it runs: told of, stopped, and dropped when a drag begins.

The candidates are made up and as slow as a test wants them: what is asked here is only what the
window does meanwhile.
"""

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.advice.remedies import Remedy, Tried, key_of
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import edits
from cartlayout.findings import Finding
from cartlayout.ui.main_window import MainWindow
from cartlayout.units import Phrase, Value

Key = Qt.Key
WHOLE = 4


class Slow:
    """Candidates that are tried when the test lets them be: each moves the cups a little."""

    def __init__(self) -> None:
        self.turn = threading.Semaphore(0)
        self.begun = 0
        self.left = False
        self.fails = False

    def __call__(self, analysis: Analysis, finding: Finding) -> Iterator[Remedy | Tried]:
        self.begun += 1
        try:
            for at in range(WHOLE):
                self.turn.acquire(timeout=10)
                if self.fails:
                    raise ValueError("a fault in a candidate")
                yield self._remedy(analysis, finding, at)
                yield Tried(at + 1, WHOLE)
        finally:
            self.left = True

    def _remedy(self, analysis: Analysis, finding: Finding, at: int) -> Remedy:
        build = edits.move(analysis.build, ("cups",), 0.01 * (at + 1), 0.0)
        return Remedy(
            finding=key_of(finding),
            kind="move",
            title=Phrase.of("Move the cups by {by}", by=Value(0.01 * (at + 1), "length")),
            outcome=Phrase(f"{at + 1} instead of 0"),
            effort=1,
            build=build,
            analysis=analyse(build, analysis),
            items=("cups",),
        )


@pytest.fixture
def slow() -> Slow:
    return Slow()


@pytest.fixture
def window(open_window, slow, monkeypatch) -> MainWindow:
    made = open_window("market_cart_first_try")
    search = made.remedies.search
    search.find = slow
    end = search.end

    def let_go_and_end() -> None:
        slow.turn.release(50)
        end()

    monkeypatch.setattr(search, "end", let_go_and_end)
    return made


def _open_first(window: MainWindow) -> None:
    card = window.findings.cards[0]
    card.setFocus()
    QTest.keyClick(card, Key.Key_Return)
    assert window.remedies.search.works


def _next(window: MainWindow, slow: Slow, qtbot, count: int = 1) -> None:
    search = window.remedies.search
    wanted = len(search.remedies) + count
    for _ in range(count):
        slow.turn.release()
    qtbot.waitUntil(lambda: len(search.remedies) == wanted, timeout=5000)
    qtbot.waitUntil(lambda: search.tried.done == wanted or search.ended, timeout=5000)


def _ask(window: MainWindow) -> None:
    link = window.findings.cards[0].remedies
    link.setFocus()
    QTest.keyClick(link, Key.Key_Return)
    assert window.remedies.panel.is_open


def test_rows_come_as_they_are_found_and_the_count_says_how_far_it_is(window, slow, qtbot) -> None:
    _open_first(window)
    _ask(window)
    panel = window.remedies.panel
    assert panel.list.count() == 0
    assert panel.stop.isVisible()
    _next(window, slow, qtbot)
    assert panel.list.count() == 1
    assert panel.count.accessibleName() == "Trying 2 of 4 … 1 so far"
    assert panel.count.text() == panel.count.accessibleName()  # none of it is cut off
    assert not window.session.previewing  # nothing is put forward while there may be better ones
    _next(window, slow, qtbot, 3)
    qtbot.waitUntil(lambda: window.remedies.search.ended, timeout=5000)
    assert panel.list.count() == 4
    assert not panel.stop.isVisible()
    assert window.session.shown is panel.remedies[0].build
    panel.cancel()


def test_what_was_found_may_be_taken_before_the_search_has_ended(window, slow, qtbot) -> None:
    _open_first(window)
    _ask(window)
    _next(window, slow, qtbot)
    panel = window.remedies.panel
    QTest.keyClick(panel.list, Key.Key_Down)
    assert window.session.previewing
    assert window.remedies.search.works  # its own preview does not stop it
    wanted = panel.remedies[0]
    QTest.keyClick(panel.list, Key.Key_Return)
    assert window.session.build is wanted.build
    assert not window.remedies.search.works


def test_stop_keeps_what_was_found(window, slow, qtbot) -> None:
    _open_first(window)
    _ask(window)
    _next(window, slow, qtbot)
    panel = window.remedies.panel
    QTest.mouseClick(panel.stop, Qt.MouseButton.LeftButton)
    assert not window.remedies.search.works
    assert panel.list.count() == 1
    assert "stopped" in panel.count.accessibleName()
    slow.turn.release()
    qtbot.waitUntil(lambda: slow.left, timeout=5000)
    QApplication.processEvents()
    assert panel.list.count() == 1
    panel.cancel()
    assert "1 remedy" in window.findings.cards[0].remedies.whole
    QApplication.processEvents()
    assert not window.remedies.rests
    assert slow.begun == 1
    assert not window.remedies.search.works


def test_a_card_claims_nothing_of_a_search_that_was_stopped(window, slow, qtbot) -> None:
    _open_first(window)
    _ask(window)
    QTest.mouseClick(window.remedies.panel.stop, Qt.MouseButton.LeftButton)
    window.remedies.panel.cancel()
    assert "stopped" in window.findings.cards[0].remedies.whole


def test_a_drag_drops_the_search_at_its_first_step(window, slow, qtbot) -> None:
    """Whoever drags wants all of the machine: nothing is tried until the mouse is let go."""
    session = window.session
    _open_first(window)
    view = window.plan
    at = view.mapFromScene(QPointF(*view.plan.picture.body("cups").centre))
    port = view.viewport()
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=at)
    assert window.remedies.search.works
    for step in range(1, 12):
        QTest.mouseMove(port, at + type(at)(2 * step, step))
        QApplication.processEvents()
    assert session.previewing
    assert not window.remedies.search.works
    slow.turn.release()
    qtbot.waitUntil(lambda: slow.left, timeout=5000)
    for step in range(12, 30):
        QTest.mouseMove(port, at + type(at)(2 * step, step))
        QApplication.processEvents()
    assert slow.begun == 1
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=at + type(at)(58, 29))
    QApplication.processEvents()
    assert session.undo_stack.count() == 1
    if window.findings.open_finding is not None:
        qtbot.waitUntil(lambda: slow.begun == 2, timeout=5000)


def test_a_drag_that_is_given_up_lets_the_search_begin_again(window, slow, qtbot) -> None:
    _open_first(window)
    view = window.plan
    at = view.mapFromScene(QPointF(*view.plan.picture.body("cups").centre))
    port = view.viewport()
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=at)
    for step in range(1, 12):
        QTest.mouseMove(port, at + type(at)(2 * step, step))
        QApplication.processEvents()
    assert not window.remedies.search.works
    QTest.keyClick(view, Key.Key_Escape)
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=at)
    QApplication.processEvents()
    assert not window.session.previewing
    qtbot.waitUntil(lambda: window.remedies.search.works, timeout=5000)


def test_a_drag_while_a_remedy_is_shown_closes_the_panel(window, slow, qtbot) -> None:
    _open_first(window)
    _ask(window)
    _next(window, slow, qtbot)
    panel = window.remedies.panel
    QTest.keyClick(panel.list, Key.Key_Down)
    view = window.plan
    at = view.mapFromScene(QPointF(*view.plan.picture.body("cups").centre))
    QTest.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    for step in range(1, 12):
        QTest.mouseMove(view.viewport(), at + type(at)(2 * step, step))
        QApplication.processEvents()
    assert not panel.is_open
    assert not view.before.is_on
    QTest.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=at + type(at)(22, 11))
    QApplication.processEvents()


def test_closing_the_card_ends_the_search(window, slow, qtbot) -> None:
    _open_first(window)
    QTest.keyClick(window.findings.cards[0], Key.Key_Return)
    assert not window.remedies.search.works
    assert window.remedies.search.finding is None
    assert window.findings.cards[0].remedies.whole == ""


def test_closing_the_window_waits_for_the_thread(window, slow, qtbot) -> None:
    _open_first(window)
    window.session.undo_stack.setClean()
    window.close()
    assert slow.left


@pytest.mark.qt_no_exception_capture
def test_a_fault_in_a_candidate_is_not_swallowed(window, slow, qtbot) -> None:
    slow.fails = True
    _open_first(window)
    with qtbot.captureExceptions() as caught:
        slow.turn.release()
        qtbot.waitUntil(lambda: not window.remedies.search.works, timeout=5000)
    assert [str(one[1]) for one in caught] == ["a fault in a candidate"]
    assert not window.remedies.search.ended
