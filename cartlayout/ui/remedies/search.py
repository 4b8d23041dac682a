"""Remedies of one finding, looked for in another thread and dropped when the build moves on."""

from collections.abc import Callable, Iterator

from PySide6.QtCore import QObject, QThread, Signal

from ...advice.remedies import Remedy, Tried
from ...analysis import Analysis
from ...build import Build
from ...findings import Finding
from ..session import Session
from ..work import Work

Find = Callable[[Analysis, Finding], Iterator[Remedy | Tried]]
_REST_MS = 2
"""Between two candidates the thread stands back, so that the window comes first."""


class _Work(Work[None]):
    """Goes through the candidates until it is asked to stop."""

    told = Signal(object)
    """A `Remedy` or a `Tried`."""

    def __init__(self, find: Find, analysis: Analysis, finding: Finding, parent: QObject) -> None:
        super().__init__(parent)
        self._find = find
        self._analysis = analysis
        self._finding = finding

    def do(self) -> None:
        for one in self._find(self._analysis, self._finding):
            if self.isInterruptionRequested():
                return
            self.told.emit(one)
            QThread.msleep(_REST_MS)


class Search(QObject):
    """What has been found for a finding, and how far the search is."""

    changed = Signal()
    """A remedy was found, a candidate tried, or the search began or ended."""

    def __init__(self, session: Session, find: Find, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.find = find
        """Tries the candidates."""
        self._work: _Work | None = None
        self._leaving: list[_Work] = []
        self.finding: Finding | None = None
        """What is to be mended; None: nothing is."""
        self.base: Build | None = None
        """The build in which the candidates are tried."""
        self.remedies: tuple[Remedy, ...] = ()
        """In the order in which they were found."""
        self.tried = Tried(0, 0)
        self.ended = False
        """Every candidate was tried."""
        session.build_changed.connect(self._moved_on)
        session.analysis_changed.connect(self._shown_changed)
        session.drawn_changed.connect(self._shown_changed)

    @property
    def works(self) -> bool:
        """Whether candidates are being tried."""
        return self._work is not None

    def start(self, finding: Finding) -> None:
        """Look for remedies of a finding of the settled analysis."""
        self._halt()
        settled = self._session.settled
        self.finding, self.base = finding, settled.build
        self.remedies, self.tried, self.ended = (), Tried(0, 0), False
        work = _Work(self.find, settled, finding, self)
        work.told.connect(self._told)
        work.finished.connect(self._finished)
        self._work = work
        work.start()
        self.changed.emit()

    def stop(self) -> None:
        """Try no more; what was found stays."""
        if self._work is not None:
            self._halt()
            self.changed.emit()

    def forget(self) -> None:
        """Drop everything."""
        self._halt()
        if self.finding is not None:
            self.finding = self.base = None
            self.remedies, self.tried, self.ended = (), Tried(0, 0), False
            self.changed.emit()

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self._halt()
        for work in self._leaving:
            work.wait()

    def holds(self, build: Build) -> bool:
        """Whether a build is one in which a remedy was tried."""
        return any(one.build is build for one in self.remedies)

    def _halt(self) -> None:
        if self._work is not None:
            self._work.requestInterruption()
            self._leaving.append(self._work)
            self._work = None

    def _told(self, one: object) -> None:
        if self.sender() is not self._work:
            return
        if isinstance(one, Remedy):
            self.remedies = (*self.remedies, one)
        elif isinstance(one, Tried):
            self.tried = one
        self.changed.emit()

    def _finished(self) -> None:
        work = self.sender()
        if not isinstance(work, _Work):
            return
        work.deleteLater()
        if work in self._leaving:
            self._leaving.remove(work)
        elif work is self._work:
            self._work = None
            self.ended = work.error is None
            self.changed.emit()
            if work.error is not None:
                raise work.error

    def _moved_on(self, build: Build) -> None:
        if self.base is not None and build is not self.base:
            self.forget()

    def _shown_changed(self, _analysis: Analysis) -> None:
        """A drag goes before: whoever drags wants the whole of the machine."""
        shown = self._session.shown
        if self._session.previewing and not self.holds(shown):
            self.stop()
