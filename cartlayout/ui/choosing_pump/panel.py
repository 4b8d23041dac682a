"""The panel that finds a pump: it stands over the details while the plan shows what is tried."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from ...advice.pumps import PumpChoice, best_first, candidates, choose_pumps
from ...advice.regulating import with_regulators
from ...analysis import Analysis
from ...build import Build, Item, Mains
from ...build.edits import EditError
from ...units import counted
from ...water.supply_results import SupplyWindow
from .. import widgets
from ..selection import Selection
from ..session import Session
from .report import Report
from .rows import PumpList
from .supply import is_supply, supply_of
from .trials import Trials

_WIDTH = 340
_WINDOW_PX = 190
_WAYS: dict[int, int] = {
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_PageDown: 5,
    Qt.Key.Key_PageUp: -5,
}


class ChoosingPumpPanel(QFrame):
    """Tells what a supply has to give and tries the pumps of the stock on copies."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("panel")
        self.setProperty("raised", True)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName("Which pump?")
        self._session = session
        self._window = window
        self._over: QWidget | None = getattr(window, "details", None)
        self._item: Item | None = None
        self._tried: Build | None = None
        """What the pumps are tried in."""
        self._shows: Build | None = None
        """The scratch build that this panel has put on the screen."""
        self._choices: dict[str, PumpChoice] = {}
        self.trials = Trials(choose_pumps, self)
        self._make_parts()
        self._connect()
        self.hide()

    def _make_parts(self) -> None:
        self.heading = widgets.wrapped("Which pump?", "heading")
        self.window_part = Report(most=_WINDOW_PX)
        self.regulate = QPushButton("Regulate")
        self.regulate.setToolTip("Put in, or set anew, what is said above: one undo step")
        self.regulate.clicked.connect(self.put_in_regulators)
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(6)
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("Try no more pumps; what has been found stays")
        self.stop.clicked.connect(self._stopped)
        self.count = widgets.ElidedLabel()
        self.count.setProperty("role", "muted")
        self.list = PumpList(self._session.theme)
        self.list.currentItemChanged.connect(self._current_changed)
        self.list.itemEntered.connect(self._pointed_at)
        self.list.itemActivated.connect(self._activated)
        self.list.installEventFilter(self)
        self.report = Report()
        self.take = QPushButton("Take it")
        self.take.setDefault(True)
        self.take.setToolTip("Put this pump in: one step that can be undone (Enter)")
        self.take.clicked.connect(self.accept)
        self.leave = QPushButton("Close")
        self.leave.setToolTip("Leave everything as it was (Escape)")
        self.leave.clicked.connect(self.cancel)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 10, 10)
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.window_part)
        column.addWidget(widgets.rule())
        column.addLayout(widgets.row(self.count, self.progress, self.stop))
        column.addWidget(self.list, 6)
        column.addWidget(self.report, 4)
        column.addStretch(1)
        column.addLayout(widgets.row(self.regulate, None, self.leave, self.take))

    def _connect(self) -> None:
        session = self._session
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self._window)
        self._escape.setEnabled(False)
        self._escape.activated.connect(self.cancel)
        self.trials.found.connect(self._found)
        self.trials.ended.connect(self._ended)
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

    @property
    def choices(self) -> tuple[PumpChoice, ...]:
        """What has been tried so far, best first."""
        return tuple(best_first(self._choices.values()))

    def open_for(self, item: Item) -> None:
        """Ask which pump does for a supply."""
        self._session.cancel_preview()
        self._item = item
        self._place()
        self.show()
        self.raise_()
        self._escape.setEnabled(True)
        self._start()
        self.list.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Put in the pump that is shown: one undo step."""
        choice = self._choices.get(self.list.current_key())
        if self._item is None or choice is None:
            return
        if choice.build is None:
            reason = choice.reason.shown(self._session.system) if choice.reason else "it cannot be"
            self._session.tell(f"{choice.name}: {reason}.")
            return
        if choice.build == self._session.build:
            self._session.tell(f"{choice.name} is the one there.")
            return
        self._close()
        self._session.apply(f"Put in {choice.name}", choice.build)
        told = [f"{choice.name} is in.", *map(_sentence, choice.remarks)]
        self._session.tell(" ".join(told))

    def put_in_regulators(self) -> None:
        """Put in, or set anew, the regulators that open the window: one undo step."""
        window = self._supply_window()
        if self._item is None or window is None or not window.set_points:
            return
        session = self._session
        try:
            build, ids = with_regulators(session.build, window.set_points)
        except EditError as error:
            session.tell(_sentence(str(error)))
            return
        names = ", ".join(one.name for one in window.set_points)
        session.apply(f"Regulate {names}", build)
        session.tell(f"{counted(len(ids), 'regulator')} set for {names}.")

    def cancel(self) -> None:
        """Leave everything as it was."""
        if self.is_open:
            mine = self._session.shown is self._shows
            self._close()
            if mine:
                self._session.cancel_preview()

    def _close(self) -> None:
        self.trials.stop()
        self._item = self._tried = self._shows = None
        self._choices = {}
        self._escape.setEnabled(False)
        had_focus = self.isAncestorOf(self.focusWidget()) if self.focusWidget() else False
        self.hide()
        self.list.blockSignals(True)
        self.list.clear()
        self.list.blockSignals(False)
        plan = self._window.findChild(QWidget, "plan") if had_focus else None
        if plan is not None:
            plan.setFocus(Qt.FocusReason.PopupFocusReason)

    # Trying

    def _start(self) -> None:
        """Try the pumps anew in the build as it is now."""
        item, session = self._item, self._session
        if item is None:
            return
        self._tried, self._shows = session.build, None
        self._choices = {}
        self._show_window()
        self.list.fill((), session.theme, session.system)
        self.report.say("")
        self.take.setEnabled(False)
        self._show_trying(tries=self._wants_pump())
        if self._wants_pump():
            self.progress.setRange(0, max(len(candidates(session.build)), 1))
            self._show_count()
            self.trials.start(session.build, item.id)

    def _wants_pump(self) -> bool:
        """Mains that do it by themselves need none."""
        item, window = self._item, self._supply_window()
        if item is None or not isinstance(item.specification.water, Mains):
            return item is not None
        return window is not None and not window.is_hit and window.high_pa <= window.greatest_pa

    def _show_trying(self, *, tries: bool) -> None:
        for one in (self.progress, self.stop):
            one.setVisible(tries)
        for one in (self.count, self.list, self.report, self.take):
            one.setVisible(self._wants_pump())

    def _stopped(self) -> None:
        self.trials.stop()
        self._ended(None)

    def _found(self, choice: PumpChoice) -> None:
        self._choices[choice.key] = choice
        self.list.fill(tuple(self._choices.values()), self._session.theme, self._session.system)
        self._show_count()

    def _ended(self, error: object) -> None:
        self._show_trying(tries=False)
        self._show_count()
        if isinstance(error, EditError):
            self.count.set_whole(_sentence(str(error)))
        elif isinstance(error, BaseException):
            raise error
        elif not self.list.current_key() and self._choices and self.choices[0].fits:
            self.list.choose(self.choices[0].key)
        elif not self.list.current_key():  # of those that do not fit none is put forward
            self.report.say("Point at a pump to see it on the plan.")

    def _show_count(self) -> None:
        fit = sum(one.fits for one in self._choices.values())
        self.progress.setValue(len(self._choices))
        whole = f"{fit} of {len(self._choices)} fit"
        self.count.set_whole(f"{whole} so far" if self.trials.works else whole)

    # What is pointed at

    def _pointed_at(self, row: QListWidgetItem) -> None:
        if row.flags() & Qt.ItemFlag.ItemIsSelectable:
            self.list.setCurrentItem(row)

    def _current_changed(self, *_: object) -> None:
        choice = self._choices.get(self.list.current_key())
        if self._item is None or choice is None:
            return
        session = self._session
        self.report.show_choice(choice, session.theme, session.system)
        self.take.setEnabled(choice.build is not None)
        if choice.build is None:
            self._shows = None
            session.cancel_preview()
            return
        self._shows = choice.build
        session.preview(choice.build)

    def _activated(self, _row: QListWidgetItem) -> None:
        self.accept()

    # What the session says

    def _supply_window(self) -> SupplyWindow | None:
        settled = self._session.settled
        return settled.water.window(self._item.id) if self._item is not None else None

    def _show_window(self) -> None:
        item, session = self._item, self._session
        if item is None:
            return
        wants = self._wants_pump()
        self.heading.setText("Which pump?" if wants else f"What {item.name} has to give")
        self.window_part.most = _WINDOW_PX if wants else 2 * _WINDOW_PX
        window = self._supply_window()
        self.window_part.show_window(window, session.settled, session.theme, session.system)
        self.regulate.setVisible(window is not None and bool(window.set_points))

    def _selection_changed(self, selection: Selection) -> None:
        if self._item is not None and selection.items and self._item.id not in selection.items:
            self.cancel()

    def _build_changed(self, build: Build) -> None:
        if self._item is None:
            return
        item = build.item(self._item.id)
        if item is None or not is_supply(build, item):
            self.cancel()
            return
        self._item = item
        self.trials.stop()
        self._tried = None
        if self._session.settled.build is build:
            self._start()  # else when what follows from the change is known

    def _analysis_changed(self, analysis: Analysis) -> None:
        if self._item is None:
            return
        if analysis.build is self._session.build and self._tried is not self._session.build:
            self._start()
        elif self._shows is not None and self._session.shown not in (
            self._shows,
            self._session.build,
        ):
            self._close()  # something else is shown, such as a drag on the plan

    def _look_changed(self, _value: object) -> None:
        if self._item is None:
            return
        self._show_window()
        self.list.fill(tuple(self._choices.values()), self._session.theme, self._session.system)
        self._current_changed()

    # Keys and place

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.list and isinstance(event, QKeyEvent):
            return event.type() == QEvent.Type.KeyPress and self._key(event.key())
        if watched is self._window and event.type() == QEvent.Type.Close:
            self.trials.end()
        moved = (QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.Show)
        if event.type() in moved and self.is_open:
            self._place()
        return super().eventFilter(watched, event)

    def _key(self, key: int) -> bool:
        if key in _WAYS:
            self.list.step(_WAYS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accept()
        elif key == Qt.Key.Key_Escape:
            self.cancel()
        else:
            return False
        return True

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


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


def open_choosing_pump(session: Session, window: QWidget) -> ChoosingPumpPanel | None:
    """Ask which pump does for the supply that is selected, or for the first there is.

    None where there is nothing to ask about; the status bar says so.
    """
    item = supply_of(session)
    if item is None:
        session.tell("Place a pump, a tank or a mains tap first, and run a tube from it.")
        return None
    session.select(Selection(items=(item.id,)))
    panel = window.findChild(ChoosingPumpPanel) or ChoosingPumpPanel(session, window)
    panel.open_for(item)
    return panel
