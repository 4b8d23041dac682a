"""When what is worked out: the mouse is followed first, the answer comes after, long ones apart."""

import threading
import time
from dataclasses import replace

import building as b
import pytest
from plan_hand import settle
from PySide6.QtCore import QEventLoop
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.analysis import analyse, follow
from cartlayout.build import Build, edits
from cartlayout.ui.analyser import LAG_S, LONG_S
from cartlayout.ui.session import Session


def cart_with_two() -> Build:
    return b.build(b.item("one", at=("9 in", "8 in")), b.item("two", at=("30 in", "8 in")))


def slow(build: Build, previous):
    """An analysis that says it took long."""
    return replace(analyse(build, previous), seconds=2 * LONG_S)


def test_what_moves_is_drawn_first_and_the_answer_is_that_of_the_build(qtbot):
    session = Session(cart_with_two())
    drawn, answered = [], []
    session.drawn_changed.connect(drawn.append)
    session.analysis_changed.connect(answered.append)
    moved = edits.move(session.build, ("one",), 0.5, 0.0)  # into the other
    session.preview(moved)
    QApplication.sendPostedEvents()
    assert [one.build for one in drawn] == [moved]
    assert not drawn[0].whole
    assert drawn[0].findings == session.settled.findings, "the answer is still the old one"
    assert answered == []
    settle(session)
    assert session.analysis.build is moved
    assert session.analysis.whole
    assert session.analysis.findings == analyse(moved).findings
    assert any(one.code == "body.overlap" for one in session.analysis.findings)
    session.cancel_preview()
    assert session.analysis.findings == analyse(session.build).findings


def test_an_edit_that_is_made_is_answered_before_it_is_painted(qtbot):
    session = Session(cart_with_two())
    session.apply("Move", edits.move(session.build, ("one",), 0.5, 0.0))
    QApplication.sendPostedEvents()
    assert session.analysis.build is session.build


def test_the_answer_does_not_stay_behind_a_drag_that_never_rests(qtbot):
    session = Session(cart_with_two())
    start = time.monotonic()
    build = session.build
    while time.monotonic() - start < 3 * LAG_S:
        build = edits.move(build, ("one",), 0.001, 0.0)
        session.preview(build)
        QApplication.sendPostedEvents()  # no turn of the loop: timers never get to run
    assert session.analyses > 1
    assert session.analysis.build is not session.build
    session.cancel_preview()


def test_following_is_a_whole_analysis_with_an_older_answer():
    before = analyse(cart_with_two())
    moved = edits.move(before.build, ("one",), 0.5, 0.0)
    followed = follow(moved, before)
    assert followed.network.places.items["one"] is moved.item("one")
    after = analyse(moved, followed)
    fresh = analyse(moved)
    assert (after.findings, after.body.clashes) == (fresh.findings, fresh.body.clashes)


def test_a_long_analysis_is_made_in_another_thread_and_a_stale_one_is_dropped(qtbot):
    threads = []

    def noted(build, previous):
        threads.append(threading.current_thread())
        return slow(build, previous)

    session = Session(cart_with_two(), analyse=noted)
    states, answered = [], []
    session.working_changed.connect(states.append)
    session.analysis_changed.connect(answered.append)
    first = edits.move(session.build, ("one",), 0.1, 0.0)
    second = edits.move(session.build, ("one",), 0.2, 0.0)
    session.apply("Move", first)
    QApplication.sendPostedEvents()
    assert session.works
    session.apply("Move", second)
    settle(session)
    assert answered[-1].build is second
    assert first not in [one.build for one in answered], "nobody asks for it any more"
    assert states[0] is True
    assert states[-1] is False
    assert threads[0] is threading.main_thread()
    assert threading.main_thread() not in threads[1:]


def test_a_window_that_closes_waits_for_the_thread(qtbot):
    session = Session(cart_with_two(), analyse=slow)
    session.apply("Move", edits.move(session.build, ("one",), 0.1, 0.0))
    QApplication.sendPostedEvents()
    assert session.works
    session.end()
    QApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents)
    assert not session.works


def test_what_a_thread_raises_is_raised_in_the_window(qtbot):
    def fails(build, previous):
        if previous is not None:
            raise ValueError("an analysis that fails")
        return slow(build, previous)

    session = Session(cart_with_two(), analyse=fails)
    with qtbot.captureExceptions() as caught:
        session.apply("Move", edits.move(session.build, ("one",), 0.1, 0.0))
        end = time.monotonic() + 5.0
        while not caught and time.monotonic() < end:
            QTest.qWait(1)
    assert [str(one[1]) for one in caught] == ["an analysis that fails"]
    assert not session.behind


@pytest.mark.parametrize("seconds", [0.0, 2 * LONG_S])
def test_whatever_the_cost_undo_is_answered(qtbot, seconds):
    session = Session(
        cart_with_two(), analyse=lambda one, old: replace(analyse(one, old), seconds=seconds)
    )
    first = session.build
    session.apply("Move", edits.move(first, ("one",), 0.1, 0.0))
    settle(session)
    session.undo_stack.undo()
    settle(session)
    assert session.build is first
    assert session.analysis.build is first
