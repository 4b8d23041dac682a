"""Steps taken one after another in another thread, each told, until somebody stops them."""

from collections.abc import Callable, Iterator
from typing import Any

from PySide6.QtCore import QObject, QThread, Signal

from .work import OneAtATime, Work

_REST_MS = 2
"""Between two steps the thread stands back, so that the window comes first."""


class _Work(Work[None]):
    """Goes through the steps until it is asked to stop."""

    told = Signal(object)

    def __init__(self, make: Callable[[], Iterator[object]], parent: QObject) -> None:
        super().__init__(parent)
        self._make = make

    def do(self) -> None:
        for step in self._make():
            if self.isInterruptionRequested():
                return
            self.told.emit(step)
            QThread.msleep(_REST_MS)


class Steps(OneAtATime):
    """One row of steps at a time; what a row that was stopped still brings is dropped."""

    told = Signal(object)
    """What a step yields."""
    ended = Signal(object)
    """None, or the error that ended it."""

    def start(self, make: Callable[[], Iterator[object]]) -> None:
        """Take the steps that a function yields; it runs in the other thread."""
        self.stop()
        work = _Work(make, self)
        work.told.connect(self._told)
        self._do(work)

    def _told(self, step: object) -> None:
        if self.sender() is self._work:
            self.told.emit(step)

    def _done(self, work: Work[Any]) -> None:
        self.ended.emit(work.error)
