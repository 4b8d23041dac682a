"""Steps taken one after another in another thread, each told, until somebody stops them."""

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject, QThread, Signal

from .work import Work

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


class Steps(QObject):
    """One row of steps at a time; what a row that was stopped still brings is dropped."""

    told = Signal(object)
    """What a step yields."""
    ended = Signal(object)
    """None, or the error that ended it."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._work: _Work | None = None
        self._leaving: list[_Work] = []

    @property
    def works(self) -> bool:
        """Whether there are steps to come."""
        return self._work is not None

    def start(self, make: Callable[[], Iterator[object]]) -> None:
        """Take the steps that a function yields; it runs in the other thread."""
        self.stop()
        work = _Work(make, self)
        work.told.connect(self._told)
        work.finished.connect(self._finished)
        self._work = work
        work.start()

    def stop(self) -> None:
        """Take no more."""
        if self._work is not None:
            self._work.requestInterruption()
            self._leaving.append(self._work)
            self._work = None

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self.stop()
        for work in self._leaving:
            work.wait()

    def _told(self, step: object) -> None:
        if self.sender() is self._work:
            self.told.emit(step)

    def _finished(self) -> None:
        work = self.sender()
        if not isinstance(work, _Work):
            return
        work.deleteLater()
        if work in self._leaving:
            self._leaving.remove(work)
        elif work is self._work:
            self._work = None
            self.ended.emit(work.error)
