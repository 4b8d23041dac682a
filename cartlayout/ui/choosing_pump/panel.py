"""The panel that finds a pump: it stands over the details while the plan shows what is tried."""

from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QListWidgetItem, QProgressBar, QPushButton, QWidget

from ...advice.pumps import PumpChoice, best_first, candidates, choose_pumps
from ...advice.regulating import with_regulators
from ...analysis import Analysis
from ...build import Build, Item, Mains
from ...build.edits import EditError
from ...units import counted
from ...water.supply_results import SupplyWindow
from .. import widgets
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from ..steps import Steps
from ..trying import TryingPanel
from .report import Report
from .rows import PumpList
from .supply import is_supply, supply_of

_WINDOW_PX = 190


class ChoosingPumpPanel(TryingPanel):
    """Tells what a supply has to give and tries the pumps of the stock on copies."""

    list: PumpList
    report: Report
    width_px = 340

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self.setAccessibleName("Which pump?")
        self._tried: Build | None = None
        """What the pumps are tried in."""
        self._choices: dict[str, PumpChoice] = {}
        self.trials = Steps(self)
        self.trials.told.connect(self._found)
        self.trials.ended.connect(self._ended)
        self._make_parts()
        self._lay_out()
        self.listen(self.list)

    def _make_parts(self) -> None:
        self.heading.setText("Which pump?")
        self.window_part = Report(most=_WINDOW_PX)
        self.regulate = QPushButton("Regulate")
        self.regulate.setToolTip("Put in, or set anew, what is said above: one undo step")
        self.regulate.clicked.connect(self.put_in_regulators)
        self.progress = QProgressBar()
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("Try no more pumps; what has been found stays")
        self.stop.clicked.connect(self._stopped)
        self.count = widgets.ElidedLabel()
        self.count.setProperty("role", "muted")
        self.list = PumpList(self._session.theme)
        self.list.pointed.connect(self._pointed_at)
        self.report = Report()
        self.take.setText("Take it")
        self.take.setToolTip("Put this pump in: one step that can be undone (Enter)")
        self.leave.setText("Close")

    def _lay_out(self) -> None:
        column = self.column
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.window_part)
        column.addWidget(widgets.rule())
        column.addLayout(widgets.progress_row(self.count, self.progress, self.stop))
        column.addWidget(self.list, 6)
        column.addWidget(self.report, 4)
        column.addStretch(0)
        self._spare = column.count() - 1
        column.addLayout(widgets.row(self.regulate, None, self.leave, self.take))

    @property
    def choices(self) -> tuple[PumpChoice, ...]:
        """What has been tried so far, best first."""
        return tuple(best_first(self._choices.values()))

    def open_for(self, item: Item) -> None:
        """Ask which pump does for a supply."""
        self._open(item)
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
        told = [f"{choice.name} is in.", *map(sentence, choice.remarks)]
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
            session.tell(sentence(str(error)))
            return
        names = ", ".join(one.name for one in window.set_points)
        session.apply(f"Regulate {names}", build)
        session.tell(f"{counted(len(ids), 'regulator')} set for {names}.")

    def _forget(self) -> None:
        self.trials.stop()
        self._tried = None
        self._choices = {}

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
            self.trials.start(partial(choose_pumps, session.build, item.id))

    def _wants_pump(self) -> bool:
        """Mains that do it by themselves need none."""
        item, window = self._item, self._supply_window()
        if item is None or not isinstance(item.specification.water, Mains):
            return item is not None
        return window is not None and not window.is_hit and window.high_pa <= window.greatest_pa

    def _show_trying(self, *, tries: bool) -> None:
        self.progress.setVisible(tries)
        self.stop.setVisible(tries)
        wants = self._wants_pump()
        self.column.setStretch(self._spare, 0 if wants else 1)
        for one in (self.count, self.list, self.report, self.take):
            one.setVisible(wants)

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
            self.count.set_whole(sentence(str(error)))
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
        self._preview(choice.build)

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

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() == QEvent.Type.Close:
            self.trials.end()
        return super().eventFilter(watched, event)


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
