"""Memory does not grow with the hours: history is bounded, and nothing drawn is left behind."""

import gc
import random
import sys
from pathlib import Path

import pytest
from plan_hand import settle
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from ui_samples import sample

from cartlayout.build import Build, edits
from cartlayout.ui.collector import Collector
from cartlayout.ui.session import UNDO_STEPS, Session

EDITS_A_LOOK = 20


def _edited(build: Build, dice: random.Random) -> Build:
    """A small edit of any sort; the build stays about as large as it was."""
    item = dice.choice(build.items)
    roll = dice.random()
    if roll < 0.7:
        dx_m, dy_m = dice.uniform(-0.05, 0.05), dice.uniform(-0.05, 0.05)
        return edits.move(build, (item.id,), dx_m, dy_m)
    if roll < 0.85:
        return edits.rotate(build, (item.id,), 90.0)
    if roll < 0.93 and len(build.items) < 24:
        return edits.duplicate(build, (item.id,), 0.05, 0.05)[0]
    if len(build.items) > 18:
        return edits.remove(build, (build.items[-1].id,))
    return edits.rotate(build, (item.id,), 90.0)


def _edit(
    session: Session, dice: random.Random, count: int, collector: Collector | None = None
) -> None:
    for number in range(count):
        if collector is not None and number % EDITS_A_LOOK == 0:
            collector.look()
        build = _edited(session.build, dice)
        if build is not session.build:
            session.apply("Edit", build)
        settle(session)
        # What deleteLater puts off goes in a running event loop; here it has to be asked for.
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def test_history_is_bounded_and_what_it_holds_can_all_be_undone(qtbot) -> None:
    session = Session(sample(), analyse=_known(sample()))
    builds = [session.build]
    for number in range(UNDO_STEPS + 50):
        builds.append(edits.with_(builds[-1], revision=str(number)))
        session.apply("Edit", builds[-1])
    stack = session.undo_stack
    assert stack.count() == UNDO_STEPS
    while stack.canUndo():
        stack.undo()
    assert session.build is builds[50]
    while stack.canRedo():
        stack.redo()
    assert session.build is builds[-1]
    session.cancel_preview()
    QApplication.processEvents()


def _known(build: Build):
    """An analysis that costs nothing: this test is about the history."""
    from dataclasses import replace

    from cartlayout.analysis import analyse

    made = analyse(build)
    return lambda asked, _previous: replace(made, build=asked)


def test_editing_leaves_no_objects_behind(window) -> None:
    """Undo and redo the same steps over and over: after a first time round nothing is added."""
    session = window.session
    dice = random.Random(5)
    _edit(session, dice, 12)

    def round_trip() -> int:
        for _ in range(2):
            while session.undo_stack.canUndo():
                session.undo_stack.undo()
                QApplication.processEvents()
            while session.undo_stack.canRedo():
                session.undo_stack.redo()
                QApplication.processEvents()
        gc.collect()
        return len(gc.get_objects())

    round_trip()
    before = round_trip()
    assert round_trip() - before < 0.01 * before


def _resident_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096 / 1e6


@pytest.mark.campaign
@pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")
def test_twenty_thousand_edits_grow_by_less_than_a_tenth(window, qapp) -> None:
    """An hour of random editing, 20,000 edits, with garbage collected as in the program."""
    session = window.session
    dice = random.Random(6)
    collector = Collector(qapp)
    # The history is as long as it gets then, and caches are full.
    _edit(session, dice, UNDO_STEPS, collector)
    gc.collect()
    before = _resident_mb()
    for _ in range(20):
        _edit(session, dice, 1000, collector)
        print(f"{_resident_mb():.1f} MB")
    collector.stop()
    gc.disable()  # as for all tests: see tests/conftest.py
    gc.collect()
    assert _resident_mb() < 1.1 * before
