"""The panel that exchanges an item: it stands over the details while the plan shows the trial."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QLineEdit, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from ...analysis import Analysis
from ...build import Build, Item
from ...stock import StockEntry, entry, search
from ...stock.alike import alternatives, is_near
from .. import widgets
from ..selection import Selection
from ..session import Session
from .comparison import compare
from .report import Report
from .rows import VERDICT, WORDS, Candidates
from .trial import Trial, accept, judged, trial, verdict

_WIDTH = 320
_PAUSE_MS = 12
"""Between two trials made for the marks, so that the window stays free."""
_MOST_MARKS = 40
_WAYS: dict[int, int] = {
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_PageDown: 5,
    Qt.Key.Key_PageUp: -5,
}


class ReplacePanel(QFrame):
    """Asks what takes an item's place; what is highlighted is tried on a copy and shown."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("panel")
        self.setProperty("raised", True)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName("Replace")
        self._session = session
        self._window = window
        self._over: QWidget | None = getattr(window, "details", None)
        self._item: Item | None = None
        self._shows: Build | None = None
        """The scratch build that this panel has put on the screen."""
        self._trial: Trial | None = None
        self._waiting: list[tuple[str, QListWidgetItem]] = []
        self._make_parts()
        self._make_timer_and_key()
        self._connect()
        self.hide()

    def _make_parts(self) -> None:
        self.heading = widgets.wrapped("", "heading")
        self.field = QLineEdit()
        self.field.setPlaceholderText("Find equipment")
        self.field.setClearButtonEnabled(True)
        self.field.setAccessibleName("Find what takes its place")
        self.field.textChanged.connect(self._fill)
        self.field.installEventFilter(self)
        self.list = Candidates(self._session.theme)
        self.list.currentItemChanged.connect(self._current_changed)
        self.list.itemActivated.connect(self._activated)
        self.list.installEventFilter(self)
        self.report = Report()
        self.take = QPushButton("Replace")
        self.take.setDefault(True)
        self.take.setToolTip("Make the exchange: one step that can be undone (Enter)")
        self.take.clicked.connect(self.accept)
        self.leave = QPushButton("Cancel")
        self.leave.setToolTip("Leave everything as it was (Escape)")
        self.leave.clicked.connect(self.cancel)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 10, 10)
        column.setSpacing(7)
        column.addWidget(self.heading)
        column.addLayout(widgets.row(self.field))
        column.addWidget(self.list, 3)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 4)
        column.addLayout(widgets.row(None, self.leave, self.take))

    def _make_timer_and_key(self) -> None:
        self._marks = QTimer(self)
        self._marks.setSingleShot(True)
        self._marks.setInterval(_PAUSE_MS)
        self._marks.timeout.connect(self._next_mark)
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self._window)
        self._escape.setEnabled(False)
        self._escape.activated.connect(self.cancel)

    def _connect(self) -> None:
        session = self._session
        session.selection_changed.connect(self._selection_changed)
        session.build_changed.connect(self._build_changed)
        session.analysis_changed.connect(self._analysis_changed)
        session.theme_changed.connect(self._look_changed)
        session.system_changed.connect(self._look_changed)
        for one in (self._window, self._over):
            if one is not None:
                one.installEventFilter(self)

    # Opening and closing

    @property
    def is_open(self) -> bool:
        """Whether it asks just now."""
        return self._item is not None

    def open_for(self, item: Item, key: str = "") -> None:
        """Ask what takes an item's place; with a key that entry is tried at once."""
        session = self._session
        session.cancel_preview()
        self._item = item
        self.heading.setText(f"Replace {item.name}")
        self.field.blockSignals(True)
        self.field.clear()
        self.field.blockSignals(False)
        self._place()
        self.show()
        self.raise_()
        self._escape.setEnabled(True)
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

    def cancel(self) -> None:
        """Leave everything as it was."""
        if self.is_open:
            mine = self._session.shown is self._shows
            self._close()
            if mine:
                self._session.cancel_preview()

    def _close(self) -> None:
        self._item = None
        self._trial = None
        self._shows = None
        self._waiting = []
        self._marks.stop()
        self._escape.setEnabled(False)
        had_focus = self.isAncestorOf(self.focusWidget()) if self.focusWidget() else False
        self.hide()
        self.list.blockSignals(True)
        self.list.clear()
        self.list.blockSignals(False)
        self.report.clear()
        plan = self._window.findChild(QWidget, "plan") if had_focus else None
        if plan is not None:
            plan.setFocus(Qt.FocusReason.PopupFocusReason)

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
        self.list.blockSignals(True)
        self.list.fill(_sections(item, found), self._session.theme)
        self.list.blockSignals(False)
        self._waiting = list(self.list.entries())[:_MOST_MARKS]
        self._marks.start()
        if not found:
            self._show(None)
            self.report.say(f"Nothing in stock answers to '{text}'.")
        elif not (before and self.list.choose(before)):
            self.list.choose(found[0].key)
        self._current_changed(self.list.currentItem())

    def _current_changed(self, row: QListWidgetItem | None, *_: object) -> None:
        item = self._item
        key = self.list.current_key()
        if item is None or row is None or not key:
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
        self.take.setEnabled(found is not None and found.replacement is not None)
        if found is None or found.replacement is None:
            self._shows = None
            self._session.cancel_preview()
            return
        self._shows = found.replacement.build
        self._session.preview(self._shows)  # what follows is told when it is analysed

    def _activated(self, _row: QListWidgetItem) -> None:
        self.accept()

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

    # Keys and place

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched in (self.field, self.list) and isinstance(event, QKeyEvent):
            return event.type() == QEvent.Type.KeyPress and self._key(watched, event.key())
        if event.type() in (QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.Show) and (
            self.is_open
        ):
            self._place()
        return super().eventFilter(watched, event)

    def _key(self, watched: QObject, key: int) -> bool:
        ways = {
            Qt.Key.Key_Down: 1,
            Qt.Key.Key_Up: -1,
            Qt.Key.Key_PageDown: 5,
            Qt.Key.Key_PageUp: -5,
        }
        if key in ways:
            self.list.step(ways[Qt.Key(key)])
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accept()
            return True
        if key == Qt.Key.Key_Escape:
            self.cancel()
            return True
        return False

    def _place(self) -> None:
        """Stand where the details are, or at the right of the plan while they are hidden."""
        window, over = self._window, self._over
        if over is not None and over.isVisible():
            self.setGeometry(QRect(over.mapTo(window, QPoint(0, 0)), over.size()))
            return
        plan = window.findChild(QWidget, "plan")
        around = window.rect()
        if plan is not None:
            around = QRect(plan.mapTo(window, QPoint(0, 0)), plan.size())
        around.setLeft(max(around.left(), around.right() - _WIDTH))
        self.setGeometry(around)


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
