"""Trying the pumps of the stock in another thread, one after the other."""

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject, Signal

from ...advice.pumps import PumpChoice
from ...build import Build
from ..work import Work

Choose = Callable[[Build, str], Iterator[PumpChoice]]


class _Work(Work[None]):
    """Goes through the pumps until it is asked to stop."""

    found = Signal(object)

    def __init__(self, choose: Choose, build: Build, supply: str, parent: QObject) -> None:
        super().__init__(parent)
        self._choose = choose
        self._build = build
        self._supply = supply

    def do(self) -> None:
        for choice in self._choose(self._build, self._supply):
            if self.isInterruptionRequested():
                return
            self.found.emit(choice)


class Trials(QObject):
    """What has been found so far, and what is still to come."""

    found = Signal(object)
    """A `PumpChoice`."""
    ended = Signal(object)
    """All have been tried, or the error that ended it; None: all is well."""

    def __init__(self, choose: Choose, parent: QObject) -> None:
        super().__init__(parent)
        self._choose = choose
        self._work: _Work | None = None
        self._leaving: list[_Work] = []

    @property
    def works(self) -> bool:
        """Whether pumps are still being tried."""
        return self._work is not None

    def start(self, build: Build, supply: str) -> None:
        """Try all pumps in the place of a supply; what was tried before is dropped."""
        self.stop()
        work = _Work(self._choose, build, supply, self)
        work.found.connect(self._found)
        work.finished.connect(self._finished)
        self._work = work
        work.start()

    def stop(self) -> None:
        """No more; what the thread still brings is dropped."""
        if self._work is not None:
            self._work.requestInterruption()
            self._leaving.append(self._work)
            self._work = None

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self.stop()
        for work in self._leaving:
            work.wait()

    def _found(self, choice: PumpChoice) -> None:
        if self.sender() is self._work:
            self.found.emit(choice)

    def _finished(self) -> None:
        work = self.sender()
        if work is self._work and self._work is not None:
            error, self._work = self._work.error, None
            self.ended.emit(error)
        elif isinstance(work, _Work) and work in self._leaving:
            self._leaving.remove(work)
        if isinstance(work, _Work):
            work.deleteLater()
