"""The panel that exchanges an item: it stands over the details while the plan shows the trial."""

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QLineEdit, QListWidgetItem, QWidget

from ...analysis import Analysis
from ...build import Build, Item
from ...stock import StockEntry, entry, search
from ...stock.alike import alternatives, is_near
from .. import widgets
from ..selection import Selection
from ..session import Session
from ..trying import VERDICT, WORDS, TryingPanel
from .comparison import compare
from .report import Report
from .rows import Candidates
from .trial import Trial, accept, judged, trial, verdict

_PAUSE_MS = 12
"""Between two trials made for the marks, so that the window stays free."""
_MOST_MARKS = 40


class ReplacePanel(TryingPanel):
    """Asks what takes an item's place; what is highlighted is tried on a copy and shown."""

    list: Candidates
    report: Report

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self.setAccessibleName("Replace")
        self._trial: Trial | None = None
        self._waiting: list[tuple[str, QListWidgetItem]] = []
        self._marks = QTimer(self)
        self._marks.setSingleShot(True)
        self._marks.setInterval(_PAUSE_MS)
        self._marks.timeout.connect(self._next_mark)
        self._make_parts()
        self.listen(self.field, self.list)

    def _make_parts(self) -> None:
        self.field = QLineEdit()
        self.field.setPlaceholderText("Find equipment")
        self.field.setClearButtonEnabled(True)
        self.field.setAccessibleName("Find what takes its place")
        self.field.textChanged.connect(self._fill)
        self.list = Candidates(self._session.theme)
        self.report = Report()
        self.take.setText("Replace")
        self.take.setToolTip("Make the exchange: one step that can be undone (Enter)")
        self.leave.setText("Cancel")
        column = self.column
        column.setSpacing(7)
        column.addWidget(self.heading)
        column.addLayout(widgets.row(self.field))
        column.addWidget(self.list, 3)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 4)
        column.addLayout(widgets.row(None, self.leave, self.take))

    def open_for(self, item: Item, key: str = "") -> None:
        """Ask what takes an item's place; with a key that entry is tried at once."""
        self.heading.setText(f"Replace {item.name}")
        self.field.blockSignals(True)
        self.field.clear()
        self.field.blockSignals(False)
        self._open(item)
        self._fill()
        if key:
            self.list.choose(key)
        self.field.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Make the exchange that is shown."""
        item, found = self._item, self._trial
        if item is None or found is None:
            return
        if found.replacement is None:
            self._session.tell(found.reason)
            return
        self._close()
        accept(self._session, item, found)

    def _forget(self) -> None:
        self._trial = None
        self._waiting = []
        self._marks.stop()
        self.report.clear()

    # The list

    def _fill(self, *_: object) -> None:
        item = self._item
        if item is None:
            return
        text = self.field.text().strip()
        region = self._session.build.region
        found = alternatives(item, region)
        if text:
            named = {one.key for one in search(text)}
            found = tuple(one for one in found if one.key in named)
        else:  # what is made for another supply has to be asked for
            found = tuple(one for one in found if not one.regions or region in one.regions)
        before = self.list.current_key()
        self.list.fill(_sections(item, found), self._session.theme)
        self._waiting = list(self.list.keyed())[:_MOST_MARKS]
        self._marks.start()
        if not found:
            self._show(None)
            self.report.say(f"Nothing in stock answers to '{text}'.")
        elif not (before and self.list.choose(before)):
            self.list.choose(found[0].key)
        self._current_changed()

    def _current_changed(self, *_: object) -> None:
        key = self.list.current_key()
        if self._item is None or not key:
            return
        if self._trial is not None and self._trial.entry.key == key and self._shows is not None:
            return
        self._try(key)

    def _try(self, key: str) -> None:
        item = self._item
        if item is None:
            return
        found = trial(self._session.build, item.id, entry(key))
        self._show(found)
        if found.replacement is None:
            self.report.say(f"{found.reason}.")

    def _show(self, found: Trial | None) -> None:
        """Put a trial on the screen, or take away the last one."""
        self._trial = found
        replacement = found.replacement if found is not None else None
        self._preview(replacement.build if replacement is not None else None)

    # What would come of it

    def _analysis_changed(self, analysis: Analysis) -> None:
        if not self.is_open or self._shows is None:
            return
        session = self._session
        found = self._trial
        if analysis.build is self._shows and found is not None and found.replacement is not None:
            outcome = compare(session.settled, analysis, session.system)
            self.report.show_outcome(found.replacement, outcome, session.theme, session.system)
            row = self.list.currentItem()
            if row is not None:
                _mark(row, *verdict(found.replacement, outcome))
        elif session.shown is not self._shows:
            # Something else is shown, such as a drag on the plan: that goes before.
            self._close()

    def _next_mark(self) -> None:
        """Try one more entry for its mark; the list stays alive between two."""
        while self._waiting:
            key, row = self._waiting.pop(0)
            if self._item is None or row.data(VERDICT):
                continue
            found = trial(self._session.build, self._item.id, entry(key))
            outcome = judged(self._session, found)
            if outcome is None or found.replacement is None:
                _mark(row, "stop", found.reason)
            else:
                _mark(row, *verdict(found.replacement, outcome))
            self._marks.start()
            return

    # What the session says

    def _selection_changed(self, selection: Selection) -> None:
        if self._item is not None and self._item.id not in selection.items:
            self.cancel()

    def _build_changed(self, build: Build) -> None:
        if self._item is None:
            return
        item = build.item(self._item.id)
        if item is None:
            self.cancel()
            return
        self._item = item
        self._shows = None
        self._trial = None
        self._fill()

    def _look_changed(self, _value: object) -> None:
        if self.is_open:
            self._trial = None
            self._fill()


def _sections(
    item: Item, found: tuple[StockEntry, ...]
) -> list[tuple[str, tuple[StockEntry, ...]]]:
    near = tuple(one for one in found if is_near(item, one))
    rest = tuple(one for one in found if not is_near(item, one))
    return [("Of the same kind", near), ("Something else", rest)]


def _mark(row: QListWidgetItem, verdict: str, words: str) -> None:
    row.setData(VERDICT, verdict)
    row.setData(WORDS, words)
    row.setToolTip(f"{row.text()}: {words}")


def open_replace(session: Session, window: QWidget, key: str = "") -> ReplacePanel | None:
    """Open the panel for the one item that is selected; None, and the reason is said, otherwise."""
    chosen = session.selection.items
    item = session.build.item(chosen[0]) if len(chosen) == 1 else None
    if item is None:
        session.tell("Select the one item that is to be replaced.")
        return None
    panel = window.findChild(ReplacePanel) or ReplacePanel(session, window)
    panel.open_for(item, key)
    return panel
