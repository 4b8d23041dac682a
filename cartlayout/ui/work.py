"""One piece of work in another thread."""

import time
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QObject, QThread

Result = TypeVar("Result")


class Work(QThread, Generic[Result]):
    """Does its work once it is started, and keeps what came of it until it has finished."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.result: Result | None = None
        self.error: BaseException | None = None
        """For the thread of the window, which raises it again."""
        self.seconds = 0.0
        """How long it took."""

    def do(self) -> Result:
        """The work itself; it runs in the other thread."""
        raise NotImplementedError

    def run(self) -> None:
        started = time.perf_counter()
        try:
            self.result = self.do()
        except BaseException as error:  # nobody could catch it here
            self.error = error
        self.seconds = time.perf_counter() - started


class OneAtATime(QObject):
    """Does the latest work asked for; one that was stopped is let go, and waited for at the end."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._work: Work[Any] | None = None
        self._leaving: list[Work[Any]] = []

    @property
    def works(self) -> bool:
        """Whether something is being done."""
        return self._work is not None

    def stop(self) -> None:
        """Drop what is being done."""
        if self._work is not None:
            self._work.requestInterruption()
            self._leaving.append(self._work)
            self._work = None

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self.stop()
        for work in self._leaving:
            work.wait()

    def _do(self, work: Work[Any]) -> None:
        work.finished.connect(self._finished)
        self._work = work
        work.start()

    def _done(self, work: Work[Any]) -> None:
        """The work that was not stopped has ended."""
        raise NotImplementedError

    def _finished(self) -> None:
        work = self.sender()
        if not isinstance(work, Work):
            return
        work.deleteLater()
        if work in self._leaving:
            self._leaving.remove(work)
        elif work is self._work:
            self._work = None
            self._done(work)
