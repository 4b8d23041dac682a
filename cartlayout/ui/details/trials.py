"""Sizes tried one after the other, one a turn of the event loop, so that the window stays alive."""

import math
import time
from typing import ClassVar, Protocol

from PySide6.QtCore import QObject, QTimer, Signal

from ...analysis import Analysis
from ...build import Build, TubeRun, Wire
from ...units import Phrase, UnitSystem
from ..analyser import LONG_S
from ..session import Session
from ..work import Work

AnyRun = TubeRun | Wire
_PATIENCE_MS = 15
_FEW = 60
"""Of a build with so few items even the first trial is short; of others nobody knows yet."""


class Choice(Protocol):
    """What came of trying a size."""

    @property
    def name(self) -> str: ...
    @property
    def is_now(self) -> bool: ...
    @property
    def build(self) -> Build: ...
    @property
    def verdict(self) -> str: ...
    @property
    def reason(self) -> Phrase | None: ...


class Sizes:
    """What a run can be exchanged for: which there are, how one is tried, what is said of it."""

    sort: ClassVar[type[AnyRun]]
    step: ClassVar[str]
    """What the undo step is called, with "{name}"."""
    intro: ClassVar[str]
    none: ClassVar[str]
    """Said where there is nothing to choose from."""

    def names(self, build: Build, run: AnyRun) -> tuple[str, ...]:
        """All there are, the thinnest first."""
        raise NotImplementedError

    def now(self, build: Build, run: AnyRun) -> str:
        """Which of them is there; empty for none."""
        raise NotImplementedError

    def taken(self, session: Session, run: AnyRun, name: str) -> Build:
        """The committed build with it; the same object where it is there already."""
        raise NotImplementedError

    def tried(self, before: Analysis, run: AnyRun, name: str) -> Choice:
        """Try one on a copy."""
        raise NotImplementedError

    def numbers(self, choice: Choice, system: UnitSystem) -> str:
        """What stands at the right of its row."""
        raise NotImplementedError

    def words(self, choice: Choice, system: UnitSystem) -> str:
        """The whole of it in a sentence or two."""
        raise NotImplementedError


class _Work(Work[Choice]):
    """One trial in another thread. The session waits for it before it goes."""

    def __init__(self, sizes: Sizes, before: Analysis, run: AnyRun, name: str, session: Session):
        super().__init__(session)
        self._sizes = sizes
        self._before = before
        self._run = run
        self._name = name

    def do(self) -> Choice:
        return self._sizes.tried(self._before, self._run, self._name)


class Trials(QObject):
    """What each size would bring. Where one takes long, the next is tried in another thread."""

    found = Signal(object)
    """A `Choice`."""

    def __init__(self, session: Session, sizes: Sizes, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._sizes = sizes
        self._run: AnyRun | None = None
        self._build: Build | None = None
        self._waiting: list[str] = []
        self._seconds = 0.0 if len(session.build.items) <= _FEW else math.inf
        self._work: _Work | None = None
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.timeout.connect(self._next)

    @property
    def works(self) -> bool:
        """Whether there are some still to be tried."""
        return bool(self._waiting) or self._work is not None

    def start(self, run: AnyRun) -> tuple[str, ...]:
        """Try all sizes of a run of what is committed; their names come at once."""
        self.stop()
        self._run, self._build = run, self._session.build
        names = self._sizes.names(self._session.build, run)
        self._waiting = list(names)
        self._turn.start(0)
        return names

    def stop(self) -> None:
        """No more; what a thread still brings is dropped."""
        self._waiting = []
        self._work = None
        self._turn.stop()

    def _next(self) -> None:
        session, run = self._session, self._run
        if not self._waiting or run is None or self._work is not None:
            return
        if session.build is not self._build:
            self.stop()  # it has moved on; whoever shows the run starts anew
            return
        before = session.settled
        if before.build is not session.build:
            self._turn.start(_PATIENCE_MS)  # the answer to what is committed is still to come
            return
        name = self._waiting.pop(0)
        if self._seconds > LONG_S:
            self._work = _Work(self._sizes, before, run, name, session)
            self._work.finished.connect(self._worked)
            self._work.start()
            return
        started = time.perf_counter()
        choice = self._sizes.tried(before, run, name)
        self._took(time.perf_counter() - started)
        self._tell(choice)

    def _worked(self) -> None:
        work = self.sender()
        if isinstance(work, _Work):
            work.deleteLater()
        if not isinstance(work, _Work) or work is not self._work:
            return  # it was stopped
        self._work = None
        self._took(work.seconds)
        if work.error is not None:
            raise work.error
        if work.result is not None:
            self._tell(work.result)

    def _took(self, seconds: float) -> None:
        """The longest counts: what is there already is tried in no time."""
        self._seconds = seconds if math.isinf(self._seconds) else max(self._seconds, seconds)

    def _tell(self, choice: Choice) -> None:
        self.found.emit(choice)
        if self._waiting:
            self._turn.start(0)
