"""Two builds held against each other in another thread; what comes too late is dropped."""

from typing import Any

from PySide6.QtCore import QObject, Signal

from ...analysis import Analysis, analyse
from ..work import OneAtATime, Work
from .rows import Differences, differences
from .states import State


class _Work(Work[Differences]):
    """Reads and analyses the other build if that has not been done, and compares."""

    def __init__(
        self, state: State, before: Analysis | None, after: Analysis, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._state = state
        self._before = before
        self.after = after

    def do(self) -> Differences:
        before = self._before
        if before is None:
            before = analyse(self._state.read())
        return differences(before, self.after)


class Comparer(OneAtATime):
    """Compares the latest build that was asked for, one at a time."""

    compared = Signal(object)
    """`Differences`."""
    failed = Signal(object)
    """What the thread raised, such as a `CartFileError`."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._state: State | None = None
        self._before: Analysis | None = None
        self._wanted: Analysis | None = None

    def start(self, state: State, after: Analysis) -> None:
        """Read another state and hold a build against it."""
        self.stop()
        self._state, self._before = state, None
        self._begin(after)

    def again(self, after: Analysis) -> None:
        """Hold another build against the same state."""
        if self._state is None:
            return
        if self._work is not None:
            self._wanted = after
        else:
            self._begin(after)

    def stop(self) -> None:
        """Drop what is being done, and what it was for."""
        self._state = self._before = self._wanted = None
        super().stop()

    def _begin(self, after: Analysis) -> None:
        if self._state is None:
            return
        self._wanted = None
        self._do(_Work(self._state, self._before, after, self))

    def _done(self, work: Work[Any]) -> None:
        if not isinstance(work, _Work):
            return
        if work.result is None:
            self.stop()
            self.failed.emit(work.error)
            return
        self._before = work.result.before
        wanted = self._wanted
        if wanted is not None and wanted is not work.after:
            self._begin(wanted)
        else:
            self.compared.emit(work.result)
