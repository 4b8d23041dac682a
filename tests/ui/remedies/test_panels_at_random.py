"""Remedies, mending and comparing opened, used and left in any order, among edits and drags.

What must hold whatever is done: one panel at the most is open, the plan shows a scratch build only
while one is, ghosts go with their panel, and undo takes every step back.
"""

import random

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.build import edits
from cartlayout.documents.theme import DARK, LIGHT
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.trying import TryingPanel

Key = Qt.Key
SHORT, LONG = 40, 400


class Person:
    """Does one thing after another."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window = window
        self.session = window.session
        self.dice = random.Random(seed)
        self.done: list[str] = []
        self.ways = [getattr(self, name) for name in dir(self) if name.startswith("do_")]

    def act(self) -> None:
        way = self.dice.choice(self.ways)
        self.done.append(way.__name__)
        way()
        for _ in range(self.dice.randint(1, 6)):
            QApplication.processEvents()

    @property
    def open_panels(self) -> list[TryingPanel]:
        return [one for one in self.window.findChildren(TryingPanel) if one.is_open]

    def _key(self, key: Qt.Key) -> None:
        for panel in self.open_panels:
            QTest.keyClick(panel.list, key)

    def do_open_a_card(self) -> None:
        cards = self.window.findings.cards
        if cards:
            QTest.keyClick(self.dice.choice(cards), Key.Key_Return)

    def do_ask_remedies(self) -> None:
        link = next((one.remedies for one in self.window.findings.cards if one.is_open), None)
        if link is not None and link.isVisible():
            QTest.mouseClick(link, Qt.MouseButton.LeftButton)

    def do_mend(self) -> None:
        if self.window.findings.mend.isVisible():
            QTest.mouseClick(self.window.findings.mend, Qt.MouseButton.LeftButton)

    def do_remedies_from_the_menu(self) -> None:
        self._choice("findings.remedies")

    def do_compare(self) -> None:
        self._choice("file.compare-state")

    def _choice(self, key: str) -> None:
        menu = self.window.menus.choices[key]
        menu.fill()
        actions = [one for one in menu.actions() if one.isEnabled()]
        if actions:
            self.dice.choice(actions).trigger()

    def do_wait(self) -> None:
        QTest.qWait(self.dice.choice((5, 40, 120)))

    def do_down(self) -> None:
        self._key(Key.Key_Down)

    def do_space(self) -> None:
        self._key(Key.Key_Space)

    def do_enter(self) -> None:
        self._key(Key.Key_Return)

    def do_escape(self) -> None:
        QTest.keyClick(self.window.plan, Key.Key_Escape)

    def do_edit(self) -> None:
        item = self.dice.choice(self.session.build.items)
        step = self.dice.uniform(-0.05, 0.05)
        self.session.apply("Move", edits.move(self.session.build, (item.id,), step, 0.0))

    def do_undo(self) -> None:
        self.session.undo_stack.undo()

    def do_redo(self) -> None:
        self.session.undo_stack.redo()

    def do_drag(self) -> None:
        view = self.window.plan
        body = self.dice.choice(view.plan.picture.bodies)
        at = view.mapFromScene(QPointF(*body.centre))
        port = view.viewport()
        QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=at)
        for step in range(1, 8):
            QTest.mouseMove(port, at + QPoint(3 * step, step))
            QApplication.processEvents()
        if self.dice.random() < 0.4:
            QTest.keyClick(view, Key.Key_Escape)
        QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=at + QPoint(21, 7))

    def do_theme(self) -> None:
        self.session.set_theme(DARK if self.session.theme is LIGHT else LIGHT)

    def do_level(self) -> None:
        self.session.set_level(self.dice.choice(self.session.build.cart.levels).name)


def _whole(person: Person, qtbot) -> None:
    window, session = person.window, person.session
    qtbot.waitUntil(lambda: not session.behind, timeout=20_000)
    panels = person.open_panels
    assert len(panels) <= 1, person.done[-8:]
    if not panels:
        assert not session.previewing, person.done[-8:]
        assert session.shown is session.build
        assert not window.plan.before.is_on, person.done[-8:]
    if not session.previewing:
        assert session.analysis.build is session.build, person.done[-8:]


def _run(window: MainWindow, seed: int, actions: int, qtbot) -> None:
    session = window.session
    first = session.build
    person = Person(window, seed)
    for _ in range(actions):
        person.act()
        _whole(person, qtbot)
    for panel in person.open_panels:
        panel.cancel()
    _whole(person, qtbot)
    while session.undo_stack.canUndo():
        session.undo_stack.undo()
    qtbot.waitUntil(lambda: not session.behind, timeout=20_000)
    assert session.build == first


@pytest.mark.parametrize("seed", [1, 2])
def test_in_any_order(open_window, qtbot, seed: int) -> None:
    _run(open_window("market_cart_first_try"), seed, SHORT, qtbot)


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(10, 16))
def test_in_any_order_for_long(open_window, qtbot, seed: int) -> None:
    _run(open_window("market_cart_first_try"), seed, LONG, qtbot)
