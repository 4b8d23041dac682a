"""Marks beside numbers that rest on typical figures: found between events, never in mid-drag."""

import time

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal

from ..build import Build
from ..findings.number import Number
from ..workings.rests import SIGN, typical_figures
from .session import Session

__all__ = ["SIGN", "TypicalMarks", "marks_of", "tip_of"]

_MOST_NAMED = 4
_MOMENT_S = 0.008
_MOST_KNOWN = 1000
_FIND = QEvent.Type(QEvent.registerEventType())


class TypicalMarks(QObject):
    """What the numbers on the screen rest on; answers of before stay until there are new ones."""

    changed = Signal()
    """Some number rests on something else than before."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._session = session
        self._build: Build | None = None
        self._known: dict[tuple[Number, ...], tuple[str, ...]] = {}
        self._fresh: set[tuple[Number, ...]] = set()
        self._wanted: dict[tuple[Number, ...], None] = {}
        self._is_posted = False

    def of(self, numbers: tuple[Number, ...]) -> tuple[str, ...]:
        """Typical figures that some numbers rest on, as far as is known now."""
        if not numbers:
            return ()
        settled = self._session.settled.build
        if settled is not self._build:
            self._build = settled
            self._fresh.clear()
            if len(self._known) > _MOST_KNOWN:  # of items that are long gone
                self._known.clear()
        if numbers not in self._fresh:
            self._wanted[numbers] = None
            self._post()
        return self._known.get(numbers, ())

    def _post(self) -> None:
        if not self._is_posted and not self._session.previewing:
            self._is_posted = True
            priority = Qt.EventPriority.LowEventPriority.value
            QCoreApplication.postEvent(self, QEvent(_FIND), priority)

    def event(self, event: QEvent) -> bool:
        if event.type() != _FIND:
            return super().event(event)
        self._is_posted = False
        self._find()
        return True

    def _find(self) -> None:
        """As many as a moment allows; the rest after whatever else there is to do."""
        session = self._session
        if session.previewing or session.settled.build is not session.build:
            return  # asked again when it rests
        started, turned = time.perf_counter(), False
        while self._wanted:
            numbers = next(iter(self._wanted))
            del self._wanted[numbers]
            found = typical_figures(session.settled, *numbers)
            self._fresh.add(numbers)
            turned = turned or found != self._known.get(numbers, ())
            self._known[numbers] = found
            if time.perf_counter() - started > _MOMENT_S:
                break
        if self._wanted:
            self._post()
        if turned:
            self.changed.emit()


def marks_of(session: Session) -> TypicalMarks:
    """Those of a session; one for all that shows its numbers."""
    return session.findChild(TypicalMarks) or TypicalMarks(session)


def tip_of(figures: tuple[str, ...]) -> str:
    """What a mark means, in a line; nothing where there is none."""
    if not figures:
        return ""
    more = len(figures) - _MOST_NAMED
    named = ", ".join(figures[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
    return f"{SIGN} Rests on typical figures that nobody has checked: {named}."
