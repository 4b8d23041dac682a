"""When what is worked out: first what is seen to move, then all that follows from it.

A drag has to be followed within a frame; what flows and what is said may come one
paint later. What takes longer than a frame or two is worked out in another thread,
and dropped if the build has moved on.
"""

import time
from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from ..analysis import Analysis, follow
from ..build import Build
from .soon import Soon
from .work import Work

Analyse = Callable[[Build, Analysis | None], Analysis]
LONG_S = 0.03
"""What took longer is worked out in another thread the next time."""
LAG_S = 0.1
"""So long the answer may stay behind what is seen to move; then it comes before the paint."""


class _Work(Work[Analysis]):
    """One analysis."""

    def __init__(self, analyse: Analyse, build: Build, previous: Analysis, parent: QObject) -> None:
        super().__init__(parent)
        self._analyse = analyse
        self.build = build
        self._previous = previous

    def do(self) -> Analysis:
        return self._analyse(self.build, self._previous)


class Analyser(QObject):
    """Keeps the analysis of the build that is shown."""

    followed = Signal(object)
    """Analysis in which only the network is new, before the paint of this turn."""
    analysed = Signal(object)
    """Analysis, whole."""
    working = Signal(object)
    """True while another thread works one out."""

    def __init__(self, analyse: Analyse, build: Build, parent: QObject) -> None:
        super().__init__(parent)
        self._analyse = analyse
        self.count = 0
        """How many were worked out; tests count that one move is one analysis."""
        self.latest = self.now(build, None)
        """The latest whole one."""
        self.drawn = self.latest
        """The latest, whole or not: what the plan draws."""
        self._wanted: Build | None = None
        self._since = 0.0
        self._moves = False
        self._soon = Soon(self)
        self._soon.due.connect(self._due)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(0)
        self._rest.timeout.connect(self._work_out)
        self._work: _Work | None = None

    @property
    def waits(self) -> bool:
        """Whether one is going to follow."""
        return self._wanted is not None

    @property
    def works(self) -> bool:
        """Whether another thread is at work."""
        return self._work is not None

    def now(self, build: Build, previous: Analysis | None) -> Analysis:
        """Work one out on the spot."""
        self.count += 1
        return self._analyse(build, previous)

    def want(self, build: Build, moves: bool = False) -> None:
        """Work one out soon; of a build that only moves, what is seen comes first."""
        if self._wanted is None:
            self._since = time.monotonic()
        self._wanted, self._moves = build, moves
        self._soon.start()

    def forget(self) -> None:
        """None is wanted any more; what a thread brings is dropped."""
        self._wanted = None
        self._soon.stop()
        self._rest.stop()

    def take(self, analysis: Analysis) -> None:
        """Go on from this one."""
        self.forget()
        self.latest = self.drawn = analysis

    def end(self) -> None:
        """Wait for the other thread, before the window goes."""
        self.forget()
        if self._work is not None:
            self._work.wait()

    def _due(self) -> None:
        build = self._wanted
        if build is None:
            return
        lags = time.monotonic() - self._since > LAG_S and self.latest.seconds < LONG_S
        if self._moves and not lags and _alike(build, self.drawn.build):
            self.drawn = follow(build, self.drawn)
            self.followed.emit(self.drawn)
            self._rest.start()
        else:
            self._work_out()

    def _work_out(self) -> None:
        build = self._wanted
        if build is None or self._work is not None:
            return  # a thread is busy; when it has ended it sees what is wanted
        if self.latest.seconds < LONG_S:
            self._deliver(self.now(build, self.drawn))
            return
        self.count += 1
        self._work = _Work(self._analyse, build, self.drawn, self)
        self._work.finished.connect(self._worked)
        self.working.emit(True)
        self._work.start()

    def _worked(self) -> None:
        work, self._work = self._work, None
        if work is None:
            return
        work.deleteLater()
        self.working.emit(False)
        if work.error is not None:
            self.forget()
            raise work.error
        if work.result is not None and work.build is self._wanted:
            self._deliver(work.result)
        elif self._wanted is not None and not self._soon.is_active():
            self._rest.start()

    def _deliver(self, analysis: Analysis) -> None:
        self.take(analysis)
        self.analysed.emit(analysis)


def _alike(build: Build, other: Build) -> bool:
    """Whether two builds have the same items and runs, which may be elsewhere."""
    return (
        build.cart is other.cart
        and len(build.items) == len(other.items)
        and len(build.runs) == len(other.runs)
        and all(one.id == old.id for one, old in zip(build.items, other.items, strict=True))
        and all(one.id == old.id for one, old in zip(build.runs, other.runs, strict=True))
    )
