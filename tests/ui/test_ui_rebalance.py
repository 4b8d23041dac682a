"""Loads rebalanced from the window, with real keys and clicks."""

import pytest
from plan_hand import settle
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QPushButton

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
