"""The panel of remedies: it stands over the details while the plan shows what each would do."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListWidgetItem, QProgressBar, QPushButton, QWidget

from ...advice.remedies import Remedy, best_first, why_none
from ...findings import Finding
from ...units import capitalised
from .. import widgets
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from ..trying import Line, SightedPanel, TrialReport
from .report import RemedyReport
from .rows import RemedyList, key_of
from .search import Search
from .words import progress_words, remedies_counted

_HEAD_PX = 76
"""The finding over the list takes no more: a long one is scrolled."""


class RemediesPanel(SightedPanel):
    """Lists what mends a finding; what is pointed at is shown on the plan with its answer."""

    list: RemedyList
    report: RemedyReport
    width_px = 340

    def __init__(self, session: Session, window: QWidget, search: Search) -> None:
        super().__init__(session, window)
        self.setAccessibleName("Remedies")
        self.search = search
        self._finding: Finding | None = None
        self._make_parts()
        self._lay_out()
        self.listen(self.list)
        search.changed.connect(self._search_changed)

    def _make_parts(self) -> None:
        self.heading.setText("Remedies")
        self.about = TrialReport(spacing=0)
        self.count = widgets.ElidedLabel()
        self.count.setProperty("role", "muted")
        self.progress = QProgressBar()
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("Try no more; what has been found stays")
        self.stop.clicked.connect(self.search.give_up)
        self.list = RemedyList(self._session.theme)
        self.list.pointed.connect(self._pointed_at)
        self.report = RemedyReport()
        self.take.setText("Apply")
        self.take.setToolTip("Do it: one step that can be undone (Enter)")
        self.leave.setText("Close")

    def _lay_out(self) -> None:
        column = self.column
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.about)
        column.addWidget(widgets.rule())
        column.addLayout(widgets.progress_row(self.count, self.progress, self.stop))
        column.addWidget(self.list, 5)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 5)
        column.addLayout(widgets.row(None, self.leave, self.take))

    @property
    def remedies(self) -> tuple[Remedy, ...]:
        """What has been found so far, best first."""
        return best_first(self.search.remedies)

    @property
    def finding(self) -> Finding | None:
        """What is to be mended; None while it is closed."""
        return self._finding

    @property
    def current(self) -> Remedy | None:
        """What is pointed at."""
        key = self.list.current_key()
        return next((one for one in self.search.remedies if key_of(one) == key), None)

    def open_for(self, finding: Finding) -> None:
        """Show the remedies of the finding that is searched for."""
        self._open(None)
        self._finding = finding
        self._remember()
        self._show_finding()
        self.list.empty()
        self.report.say("")
        self.take.setEnabled(False)
        self._search_changed()
        self.list.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Do what is shown: one undo step."""
        remedy = self.current
        if not self.is_open or remedy is None:
            return
        title = capitalised(remedy.title.shown(self._session.system))
        outcome = remedy.outcome.shown(self._session.system)
        self._close()
        self._session.apply(title, remedy.build, select=Selection(items=remedy.items))
        self._session.tell(sentence(f"{title}: {outcome}" if outcome else title))

    def _forget(self) -> None:
        super()._forget()
        self._finding = None
        self.report.clear()
        self._show_changes(None)

    def _give_keyboard_back(self) -> None:
        """To the card it was asked from: while a trial was shown it may have been another's."""
        board = getattr(self._window, "findings", None)
        card = board.open_widget if board is not None else None
        if card is None or not card.isVisible():
            super()._give_keyboard_back()
        else:
            card.setFocus(Qt.FocusReason.PopupFocusReason)

    # What is found

    def _search_changed(self) -> None:
        if not self.is_open:
            return
        if self.search.finding is None:
            self.cancel()  # the build moved on
            return
        self._show_progress()
        self.list.fill(self.remedies, self._session.theme, self._session.system)
        if self.search.works or self.list.current_key():
            return
        if self.remedies:
            self.list.choose(key_of(self.remedies[0]))
        elif self.search.ended and self._finding is not None:
            self.report.say(why_none(self._finding))

    def _show_progress(self) -> None:
        search = self.search
        for one in (self.progress, self.stop):
            one.setVisible(search.works)
        found = len(search.remedies)
        if search.works:
            self.progress.setRange(0, search.tried.whole)
            self.progress.setValue(search.tried.done)
            self.count.set_whole(progress_words(search.tried, found))
        else:
            words = f"{remedies_counted(found)}, best first" if found else "No remedy found"
            self.count.set_whole(words if search.ended else f"{words} so far; stopped")

    def _show_finding(self) -> None:
        if self._finding is not None:
            session = self._session
            words = self._finding.title.shown(session.system)
            line = Line(words, self._finding.severity, session.theme, "strong")
            self.about.show_parts([line])
            high = line.heightForWidth(max(self.width() - 40, 120)) + 8
            self.about.setFixedHeight(min(max(high, 22), _HEAD_PX))

    # What is pointed at

    def _pointed_at(self, row: QListWidgetItem) -> None:
        self.list.setCurrentItem(row)

    def _current_changed(self, *_: object) -> None:
        remedy = self.current
        if remedy is None or not self.is_open:
            return
        session = self._session
        self.report.show_remedy(remedy, session.theme, session.system)
        self._show_changes(session.settled)
        self._preview(remedy.build, remedy.analysis)
        self._show_touched(remedy)

    def _show_touched(self, remedy: Remedy) -> None:
        """What is done has to be in sight, and marked in the place of what is wrong."""
        levels = self._levels_of(remedy.build, remedy.items)
        wanted = self._level if not levels or self._level in levels else levels[0]
        if wanted:
            self._session.set_level(wanted)
        self._select(Selection(items=remedy.items))

    # What the session says

    def _look_changed(self, _value: object) -> None:
        if not self.is_open:
            return
        self._show_finding()
        self.list.fill(self.remedies, self._session.theme, self._session.system)
        self._current_changed()
