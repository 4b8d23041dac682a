"""Garbage goes in the window's own thread, and never while a button is held."""

import gc
import threading
import weakref

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from cartlayout.ui.collector import Collector


class Ring:
    """Garbage that only a collection finds."""

    def __init__(self) -> None:
        self.me = self


def litter() -> "weakref.ref[Ring]":
    first = weakref.ref(Ring())
    kept = [Ring() for _ in range(2 * gc.get_threshold()[0])]
    del kept
    return first


@pytest.fixture
def collector(qtbot, qapp):
    was = gc.isenabled()
    made = Collector(qapp)
    yield made
    made.stop()
    made.deleteLater()
    gc.enable() if was else gc.disable()


def test_python_collects_no_more_and_the_collector_does(collector):
    ghost = litter()
    assert ghost() is not None
    collector.look()
    assert ghost() is None


def test_another_thread_collects_nothing(collector):
    ghost = litter()
    worker = threading.Thread(target=litter)
    worker.start()
    worker.join()
    assert ghost() is not None


def test_nothing_is_collected_in_mid_drag(collector, qtbot):
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.resize(100, 100)
    widget.show()
    qtbot.waitExposed(widget)
    ghost = litter()
    QTest.mousePress(widget.windowHandle(), Qt.MouseButton.LeftButton, pos=QPoint(50, 50))
    collector.look()
    assert ghost() is not None
    QTest.mouseRelease(widget.windowHandle(), Qt.MouseButton.LeftButton, pos=QPoint(50, 50))
    collector.look()
    assert ghost() is None
