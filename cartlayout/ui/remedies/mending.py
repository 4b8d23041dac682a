"""Mending what can be mended: worked out in another thread, dropped when the build moves on."""

from collections.abc import Callable, Collection, Iterator
from functools import partial

from PySide6.QtCore import QObject, Signal

from ...advice.remedies import Mended, Remedy, Tried, mend
from ...analysis import Analysis
from ...build import Build
from ...units import Phrase
from ..session import Session
from ..steps import Steps

Mend = Callable[[Analysis, Collection[Phrase]], Iterator[Tried | Mended]]


class Mending(QObject):
    """What would be done, what it would bring, and how far the search for it is."""

    changed = Signal()

    def __init__(self, session: Session, parent: QObject, mend: Mend = mend) -> None:
        super().__init__(parent)
        self._session = session
        self.mend = mend
        """Looks for the steps."""
        self._steps = Steps(self)
        self._steps.told.connect(self._told)
        self._steps.ended.connect(self._ended)
        self.base: Build | None = None
        """The build that is to be mended; None: none is."""
        self.left_out: tuple[Remedy, ...] = ()
        """Steps that the person does not want."""
        self.found: Mended | None = None
        self.tried = Tried(0, 0)
        self._waits = False
        """What follows from the last edit is not known yet."""
        session.analysis_changed.connect(self._settled)

    @property
    def works(self) -> bool:
        """Whether candidates are being tried, or are going to be."""
        return self._waits or self._steps.works

    def start(self) -> None:
        """Look for the steps; every step is wanted.

        They are looked for in the build that is committed, as soon as it is analysed.
        """
        self.left_out = ()
        self._look()

    def leave_out(self, step: Remedy) -> None:
        """Look again, without a step."""
        if step not in self.left_out:
            self.left_out = (*self.left_out, step)
            self._look()

    def take_back(self, step: Remedy) -> None:
        """Look again, and let a step that was left out be taken."""
        if step in self.left_out:
            self.left_out = tuple(one for one in self.left_out if one is not step)
            self._look()

    def stop(self) -> None:
        """Try no more; what is known stays."""
        if self.works:
            self._halt()
            self.changed.emit()

    def forget(self) -> None:
        """Drop everything."""
        self._halt()
        self.base, self.found, self.left_out, self.tried = None, None, (), Tried(0, 0)

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self._steps.end()

    def _look(self) -> None:
        settled = self._session.settled
        self.base, self.found, self.tried = self._session.build, None, Tried(0, 0)
        self._halt()
        self._waits = settled.build is not self.base
        if not self._waits:
            without = frozenset(one.title for one in self.left_out)
            self._steps.start(partial(self.mend, settled, without))
        self.changed.emit()

    def _settled(self, _analysis: Analysis) -> None:
        if self._waits and self._session.settled.build is self.base:
            self._look()

    def _halt(self) -> None:
        self._waits = False
        self._steps.stop()

    def _told(self, step: object) -> None:
        if isinstance(step, Mended):
            self.found = step
        elif isinstance(step, Tried):
            self.tried = step
        self.changed.emit()

    def _ended(self, error: object) -> None:
        self.changed.emit()
        if isinstance(error, BaseException):
            raise error
