"""Whatever is done to the window, nothing raises, nothing is lost, everything can be undone.

The invariants come from outside: undo is the inverse of every edit, and an analysis follows from
its build alone.
"""

import itertools
import math

import pytest
from monkey import Monkey
from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog

from cartlayout.analysis import analyse
from cartlayout.build.file import decode, encode
from cartlayout.findings.finding import Finding
from cartlayout.ui import dialogs
from cartlayout.ui.main_window import MainWindow

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support", extend=True)


@pytest.fixture(autouse=True)
def no_file_is_named(monkeypatch) -> None:
    """Whoever asks for a file gets none: a dialog nobody answers would wait for ever."""
    for name in ("ask_open", "ask_save", "ask_export"):
        monkeypatch.setattr(dialogs, name, lambda *_: None)
    answers = itertools.cycle((True, False))
    monkeypatch.setattr(dialogs, "answered", lambda dialog: _closed(dialog, next(answers)))


def _closed(dialog: QDialog, accepted: bool) -> bool:
    dialog.deleteLater()
    return accepted


def _same_findings(shown: tuple[Finding, ...], fresh: tuple[Finding, ...]) -> bool:
    """The same is said of the same; a solver that starts from a neighbour rounds a little apart."""
    if [one.sort_key() for one in shown] != [one.sort_key() for one in fresh]:
        return False
    pairs = [
        (one.value.si, other.value.si)
        for one, other in zip(shown, fresh, strict=True)
        if one.value is not None and other.value is not None
    ]
    return all(math.isclose(one, other, rel_tol=1e-5, abs_tol=1e-9) for one, other in pairs)


def _run(window: MainWindow, seed: int, actions: int, every: int) -> Monkey:
    """Act, and see every so often that the session is whole."""
    QGuiApplication.clipboard().setMimeData(QMimeData())
    monkey = Monkey(window, seed)
    session = window.session
    for number in range(1, actions + 1):
        monkey.act()
        if number % every == 0:
            monkey.let_go()
            assert session.shown is session.build, monkey.done[-5:]
            assert session.analysis.build is session.build, monkey.done[-5:]
            build = session.build
            assert {item.id for item in build.items} >= set(session.selection.items)
            assert decode(encode(build)) == build, monkey.done[-every:]
            fresh = analyse(build).findings
            assert _same_findings(session.analysis.findings, fresh), monkey.done[-every:]
    return monkey


def _undo_and_redo(window: MainWindow, first, monkey: Monkey) -> None:
    monkey.let_go()
    session = window.session
    stack = session.undo_stack
    last, steps = session.build, stack.index()
    while stack.canUndo():
        stack.undo()
    monkey.settle()
    assert session.build == first, monkey.done
    assert _same_findings(session.analysis.findings, analyse(first).findings)
    for _ in range(steps):
        stack.redo()
    monkey.settle()
    assert session.build == last
    assert _same_findings(session.analysis.findings, analyse(last).findings)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_hundred_random_actions(open_window, seed: int) -> None:
    window = open_window("market_cart")
    first = window.session.build
    monkey = _run(window, seed, 100, 20)
    assert window.session.undo_stack.count() > 0
    _undo_and_redo(window, first, monkey)


_SAMPLES = (
    "market_cart",
    "folding_cart_modules",
    "station_kiosk_230v",
    "conference_hall_bar",
    "market_cart_first_try",
)


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(11, 31))
def test_five_thousand_random_actions(open_window, seed: int) -> None:
    window = open_window(_SAMPLES[seed % len(_SAMPLES)])
    first = window.session.build
    monkey = _run(window, seed, 250, 25)
    _undo_and_redo(window, first, monkey)
