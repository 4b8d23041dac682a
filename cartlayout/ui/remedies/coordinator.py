"""Joins the findings board, the search for remedies and the panel that shows them."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QTimer

from ...advice.remedies import best_first, remedies, why_none
from ...findings import Finding
from ..trying import leave_trials
from .mend_panel import open_mending
from .panel import RemediesPanel
from .search import Find, Search
from .words import card_words

if TYPE_CHECKING:
    from ..main_window import MainWindow

_REST_MS = 250
"""After an edit the search begins once nothing has been edited for so long."""
_STOPPED = "The search was stopped before one was found."


class Remedies(QObject):
    """While a finding's card is open its remedies are looked for, and the card says how many."""

    def __init__(self, window: "MainWindow", finder: Find = remedies) -> None:
        super().__init__(window)
        self._window = window
        self._session = window.session
        self._board = window.findings
        self.search = Search(self._session, finder, self)
        self.search.changed.connect(self._say)
        self.panel = RemediesPanel(self._session, window, self.search)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._rest.timeout.connect(self._look)
        self._board.chosen.connect(self._card_changed)
        self._board.remedies_asked.connect(self.show)
        self._board.mend_asked.connect(self.mend)
        self._session.analysis_changed.connect(self._settled)
        self._session.build_changed.connect(self._settled)  # a drag has been answered already
        self._session.system_changed.connect(self._say)
        window.installEventFilter(self)

    @property
    def rests(self) -> bool:
        """Whether a search is going to begin once nothing is edited for a moment."""
        return self._rest.isActive()

    def show(self, finding: Finding) -> None:
        """Open the panel on a finding, and its card."""
        leave_trials(self._window)
        if self._board.open_finding is not finding:
            self._board.open_card(finding)
        if not self._current(finding):
            self._start(finding)
        if self.search.finding is finding:
            self.panel.open_for(finding)
        else:
            self._session.tell("What follows from the last change is still being worked out.")

    def mend(self) -> None:
        """Open the panel that mends what can be mended."""
        open_mending(self._session, self._window)

    def _current(self, finding: Finding) -> bool:
        search = self.search
        return search.finding is finding and (search.works or search.ended or search.given_up)

    def _start(self, finding: Finding) -> None:
        session = self._session
        if session.settled.build is session.build and not session.previewing:
            self.search.start(finding)

    def _card_changed(self, _finding: Finding) -> None:
        self._look()
        self._say()

    def _look(self) -> None:
        """Look for remedies of the open card, unless that is being done."""
        finding = self._board.open_finding
        self._rest.stop()
        if finding is None:
            self.search.forget()
        elif not self._current(finding):
            self._start(finding)

    def _settled(self, _value: object) -> None:
        session = self._session
        if session.previewing or session.settled.build is not session.build:
            self._rest.stop()
        elif self._board.open_finding is None:
            if not self.panel.is_open:
                self.search.forget()
        elif not self._current(self._board.open_finding):
            self._rest.start()
        else:  # while a trial was shown there was no such finding, and no card
            self._say()

    def _say(self, *_: object) -> None:
        search = self.search
        if search.finding is None or self._board.open_finding is not search.finding:
            return
        found = best_first(search.remedies)
        why = why_none(search.finding) if search.ended else ""
        if search.given_up:
            why = _STOPPED
        tip = "See each on the plan before anything is done" if found else why
        self._board.say_remedies(card_words(found, why, self._session.system), tip)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() == QEvent.Type.Close:
            self._rest.stop()
            self.search.end()
        return super().eventFilter(watched, event)
