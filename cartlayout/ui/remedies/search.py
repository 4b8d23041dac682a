"""Remedies of one finding, looked for in another thread and dropped when the build moves on."""

from collections.abc import Callable, Iterator
from functools import partial

from PySide6.QtCore import QObject, Signal

from ...advice.remedies import Remedy, Tried
from ...analysis import Analysis
from ...build import Build
from ...findings import Finding
from ..session import Session
from ..steps import Steps

Find = Callable[[Analysis, Finding], Iterator[Remedy | Tried]]


class Search(QObject):
    """What has been found for a finding, and how far the search is."""

    changed = Signal()
    """A remedy was found, a candidate tried, or the search began or ended."""

    def __init__(self, session: Session, find: Find, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.find = find
        """Tries the candidates."""
        self._steps = Steps(self)
        self._steps.told.connect(self._told)
        self._steps.ended.connect(self._ended)
        self.finding: Finding | None = None
        """What is to be mended; None: nothing is."""
        self.base: Build | None = None
        """The build in which the candidates are tried."""
        self.remedies: tuple[Remedy, ...] = ()
        """In the order in which they were found."""
        self.tried = Tried(0, 0)
        self.ended = False
        """Every candidate was tried."""
        self.given_up = False
        """The person has stopped it."""
        session.build_changed.connect(self._moved_on)
        session.analysis_changed.connect(self._shown_changed)
        session.drawn_changed.connect(self._shown_changed)

    @property
    def works(self) -> bool:
        """Whether candidates are being tried."""
        return self._steps.works

    def start(self, finding: Finding) -> None:
        """Look for remedies of a finding of the settled analysis."""
        settled = self._session.settled
        self.finding, self.base = finding, settled.build
        self.remedies, self.tried, self.ended, self.given_up = (), Tried(0, 0), False, False
        self._steps.start(partial(self.find, settled, finding))
        self.changed.emit()

    def stop(self) -> None:
        """Try no more; what was found stays."""
        if self.works:
            self._steps.stop()
            self.changed.emit()

    def give_up(self) -> None:
        """The same because the person says so: it is not begun again by itself."""
        self.given_up = self.works
        self.stop()

    def forget(self) -> None:
        """Drop everything."""
        self._steps.stop()
        if self.finding is not None:
            self.finding = self.base = None
            self.remedies, self.tried, self.ended = (), Tried(0, 0), False
            self.changed.emit()

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self._steps.end()

    def holds(self, build: Build) -> bool:
        """Whether a build is one in which a remedy was tried."""
        return any(one.build is build for one in self.remedies)

    def _told(self, step: object) -> None:
        if isinstance(step, Remedy):
            self.remedies = (*self.remedies, step)
        elif isinstance(step, Tried):
            self.tried = step
        self.changed.emit()

    def _ended(self, error: object) -> None:
        self.ended = error is None
        self.changed.emit()
        if isinstance(error, BaseException):
            raise error

    def _moved_on(self, build: Build) -> None:
        if self.base is not None and build is not self.base:
            self.forget()

    def _shown_changed(self, _analysis: Analysis) -> None:
        """A drag goes before: whoever drags wants the whole of the machine."""
        shown = self._session.shown
        if self._session.previewing and not self.holds(shown):
            self.stop()
