"""What stands on the screen is what a full paint would give: nothing old is left standing.

Only what has changed is painted, so what is kept on the screen is held against a picture of
the window that is made from nothing.
"""

import numpy as np
import pytest
from monkey import Monkey
from plan_hand import settle
from PySide6.QtCore import QElapsedTimer, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.ui.main_window import MainWindow

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support", extend=True)

CONTRAST = 40
"""Of 255: less is anti-aliasing at the edge of what was painted."""


def pixels(image: QImage) -> np.ndarray:
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1)
    wide = rows[:, : image.width() * 4].reshape(image.height(), image.width(), 4)
    return wide[:, :, :3].astype(np.int16)


def stale(window: MainWindow) -> int:
    """How many pixels of the screen are not what they should be."""
    on_screen = pixels(window.screen().grabWindow(window.winId()).toImage())
    anew = pixels(window.grab().toImage())
    return int((np.abs(on_screen - anew).max(axis=2) > CONTRAST).sum())


def rest(window: MainWindow) -> None:
    """Let everything come that is put off for a moment."""
    settle(window.session)
    since = QElapsedTimer()
    since.start()
    while since.elapsed() < 60 or window.plan.pulse.is_on:
        QTest.qWait(5)


@pytest.fixture
def still_cursor(qapp):
    """The cursor of a field does not blink between two pictures."""
    before = QApplication.cursorFlashTime()
    QApplication.setCursorFlashTime(0)
    yield
    QApplication.setCursorFlashTime(before)


@pytest.mark.usefixtures("still_cursor")
@pytest.mark.parametrize("seed", [1, 5])
def test_nothing_old_is_left_on_the_screen(open_window, seed):
    window = open_window()
    rest(window)
    assert stale(window) == 0
    monkey = Monkey(window, seed)
    for _ in range(25):
        monkey.act()
        rest(window)
        assert stale(window) <= 8, monkey.done[-3:]


def test_a_smaller_body_in_the_place_of_a_larger_one_leaves_nothing_of_it(open_window):
    window = open_window()
    window.plan.choose(frozenset({"kettle"}), frozenset())
    rest(window)
    window.actions_["equipment.replace"].trigger()
    rest(window)
    assert window.session.previewing
    assert stale(window) == 0
    QTest.keyClick(window.focusWidget(), Qt.Key.Key_Escape)
    rest(window)
    assert stale(window) == 0
