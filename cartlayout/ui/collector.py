"""Garbage is collected in the window's own thread, and not while something is dragged.

Python collects in whatever thread happens to make an object. A widget that goes in another
thread ends the process sooner or later, and pictures and long files are made in other threads.
A full collection takes about 50 ms (measured), which would be felt in a drag.
"""

import gc

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication

LOOK_MS = 400


class Collector(QObject):
    """Takes over from Python's own collecting for as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def stop(self) -> None:
        """Give it back to Python."""
        self._timer.stop()
        gc.enable()

    def look(self) -> None:
        """Collect the oldest generation that is due, by Python's own thresholds."""
        if QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return
        for generation in (2, 1, 0):
            if gc.get_count()[generation] > gc.get_threshold()[generation]:
                gc.collect(generation)
                return
