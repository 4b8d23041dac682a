"""Loads rebalanced from the window, with real keys and clicks."""

import threading
import time
from dataclasses import replace

import pytest
from building import build, cord, load, outlet, wire
from plan_hand import settle
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QPushButton

from cartlayout.analysis import Analysis, analyse
from cartlayout.power.assign import best
from cartlayout.ui.long_work import _Progress
from cartlayout.ui.rebalance import plan as planning
from cartlayout.ui.rebalance.dialog import RebalanceDialog
from cartlayout.ui.rebalance.request_dialog import RequestDialog


class Answering:
    """Waits for a dialog of a kind and does something with it."""

    def __init__(self, kind: type[QDialog], act) -> None:
        self.kind, self.act, self.seen = kind, act, None
        self.timer = QTimer()
        self.timer.timeout.connect(self.look)
        self.timer.start(20)

    def look(self) -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, self.kind):
            self.timer.stop()
            self.seen = dialog
            self.act(dialog)


def press(text: str):
    def act(dialog: QDialog) -> None:
        button = next(one for one in dialog.findChildren(QPushButton) if one.text() == text)
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    return act


def key(window, qtbot) -> None:
    window.plan.setFocus()
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    for _ in range(3):
        QApplication.processEvents()
    QTest.keyClick(window.plan, Qt.Key.Key_B, keys)


def test_a_crowded_strip_is_relieved_in_one_step(open_window, qtbot):
    window = open_window("market_cart_first_try")
    session = window.session
    before = session.build
    stops = session.analysis.count("stop")
    answering = Answering(RebalanceDialog, press("Rebalance"))
    key(window, qtbot)
    qtbot.waitUntil(lambda: answering.seen is not None)
    qtbot.waitUntil(lambda: session.build != before)
    settle(session)
    assert session.settled.count("stop") < stops
    assert session.undo_stack.undoText() == "Rebalance loads"
    session.undo_stack.undo()
    assert session.build == before


def test_cancel_leaves_everything(open_window, qtbot):
    window = open_window("conference_hall_bar")
    before = window.session.build
    answering = Answering(RebalanceDialog, lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Escape))
    key(window, qtbot)
    qtbot.waitUntil(lambda: answering.seen is not None)
    assert window.session.build is before


def test_what_is_missing_is_said(open_window, qtbot):
    window = open_window("station_kiosk_230v")
    said = []

    def act(dialog: RebalanceDialog) -> None:
        said.append(dialog.verdict.text())
        press("Close")(dialog)

    answering = Answering(RebalanceDialog, act)
    key(window, qtbot)
    qtbot.waitUntil(lambda: answering.seen is not None)
    assert "No assignment holds every limit" in said[0]
    assert "What is missing: " in said[0]


def test_the_venue_is_asked_for_circuits(open_window, qtbot):
    window = open_window("market_cart")
    answering = Answering(RequestDialog, lambda d: (press("Copy")(d), press("Close")(d)))
    window.actions_["power.ask-venue"].trigger()
    assert answering.seen is not None
    text = QGuiApplication.clipboard().text()
    assert text.count("120 V, 20 A") == 2
    assert "Espresso machine" in text


@pytest.mark.parametrize("name", ["market_cart", "folding_cart_modules"])
def test_what_is_good_already_stays(open_window, qtbot, name):
    window = open_window(name)
    before = window.session.build
    said = []

    def act(dialog: RebalanceDialog) -> None:
        said.append(dialog.verdict.text())
        press("Close")(dialog)

    answering = Answering(RebalanceDialog, act)
    key(window, qtbot)
    qtbot.waitUntil(lambda: answering.seen is not None)
    assert "Every load is where it should be" in said[0]
    assert window.session.build is before


def crowded(count: int, watts: float) -> Analysis:
    """Loads on one outlet of 20 A."""
    loads = [load(f"l{n}", watts) for n in range(count)]
    wires = [wire(f"l{n}", f"hall.{n + 1}") for n in range(count)]
    return analyse(build(outlet("hall", ways=count), *loads, *wires))


def test_stopped_while_it_looks_for_what_is_missing():
    """15 A each at 120 V: no outlet for the second; the watch says stop once that is known."""
    assert planning.plan(crowded(2, 1800), lambda share: share < 0.85) is None
    told = planning.plan(crowded(2, 1800), lambda share: True).missing.told({})
    assert told.startswith("one more 20 A circuit (120 V), or take l")  # either of the two


def test_more_than_a_few_circuits_too_few_is_said_too():
    """Ten of 15 A want ten circuits of 20 A, nine more than there are."""
    found = planning.plan(crowded(10, 1800), lambda share: True)
    mark, sentence = planning.verdict(found)
    assert mark == "stop"
    assert "up to 3 more circuits or 3 loads fewer" in sentence
    assert "What to Ask the Venue For" in sentence


def test_cancel_in_the_middle_of_the_search(open_window, qtbot, monkeypatch):
    """The button of the progress, pressed while an aim is solved, ends it at the next one."""
    window = open_window("market_cart_first_try")
    session = window.session
    before = session.build
    aims, said, working = [], [], threading.Event()
    session.told.connect(said.append)

    def slow(problem, most_s, goes_on):
        until = time.monotonic() + 20.0
        while goes_on("peak", 0.3) and time.monotonic() < until:
            aims.append(True)
            working.wait(0.01)
        return replace(best(problem, most_s), stopped=time.monotonic() < until)

    monkeypatch.setattr(planning, "best", slow)
    answering = Answering(_Progress, press("Cancel"))
    key(window, qtbot)
    qtbot.waitUntil(lambda: answering.seen is not None)
    qtbot.waitUntil(lambda: "Stopped; nothing was changed." in said)
    assert aims
    assert session.build is before


def test_a_way_round_that_is_too_long_is_not_proposed():
    """Whatever is proposed, the cords that are moved reach by the router's own ways, which go round
    what stands there; with 20 ft all of them do."""
    lengths = ("4 ft", "5 ft", "6 ft", "7 ft", "8 ft", "20 ft")
    for length in lengths:
        made = build(
            outlet("left", ways=2, at=("0 in", "-18 in")),
            outlet("right", ways=2, at=("72 in", "-18 in")),
            load("urn", 1800, at=("12 in", "15 in"), cord=cord("12 AWG", "20 ft")),
            load("oven", 1800, at=("40 in", "15 in"), cord=cord("12 AWG", length)),
            load("till", 60, at=("60 in", "22 in"), cord=cord("12 AWG", length)),
            wire("urn", "left.1"),
            wire("oven", "left.2"),
        )
        found = planning.plan(analyse(made), lambda share: True)
        short = {
            item
            for one in (found.after or found.before).findings
            if one.code == "power.cord-short"
            for item in one.items
        }
        moved = {move.item for move in found.moves}
        assert not found.works or not short & moved, length
    assert found.works


def test_a_cord_that_reaches_no_outlet_is_named():
    """2 ft of cord, and the nearest outlet is 33 in behind and 12 in beside it."""
    made = build(
        outlet("left", ways=2, at=("0 in", "-18 in")),
        outlet("right", ways=2, at=("72 in", "-18 in")),
        load("urn", 1800, at=("12 in", "15 in"), cord=cord("12 AWG", "20 ft")),
        load("oven", 1800, at=("60 in", "15 in"), cord=cord("12 AWG", "2 ft")),
        wire("urn", "right.1"),
        wire("oven", "left.2"),
    )
    found = planning.plan(analyse(made), lambda share: True)
    assert planning.verdict(found)[0] == "stop"
    assert found.short == ("oven",)
    assert "No outlet in reach of the cord: oven." in planning.verdict(found)[1]
