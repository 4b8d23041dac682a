"""The panel that says what should be checked first: it stands over the details."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QProgressBar, QPushButton, QWidget

from ...advice.sensitivity import (
    Found,
    Progress,
    Search,
    Threshold,
    can_be_checked,
    checked,
    keep,
    ranked,
)
from ...advice.sensitivity.words import summary
from ...analysis import Analysis
from ...build import Build
from .. import widgets
from ..details.to_field import show_field
from ..selection import Selection
from ..session import Session
from ..steps import Steps
from ..trying import SightedPanel
from .report import ThresholdReport
from .rows import ThresholdList, key_of

TITLE = "What to check first"


class SensitivityPanel(SightedPanel):
    """Tries every figure that nobody has checked over its range, and lists where verdicts turn."""

    list: ThresholdList
    report: ThresholdReport
    width_px = 340

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self.setAccessibleName(TITLE)
        self._base: Analysis | None = None
        """What is tried."""
        self._found: list[Found] = []
        self._progress = Progress(0, 0)
        self._applies = False
        self._ended_whole = False
        self.steps = Steps(self)
        self.steps.told.connect(self._told)
        self.steps.ended.connect(self._ended)
        self._make_parts()
        self._lay_out()
        self.listen(self.list)

    def _make_parts(self) -> None:
        self.heading.setText(TITLE)
        self.about = widgets.wrapped("", "muted")
        self.count = widgets.ElidedLabel()
        self.count.setProperty("role", "muted")
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Figures tried")
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("Try no more; what has been found stays")
        self.stop.clicked.connect(self.stop_trying)
        self.list = ThresholdList(self._session.theme)
        self.report = ThresholdReport()
        self.as_taken = QPushButton("It Is as Taken")
        self.as_taken.setToolTip(
            "It was checked and is what was taken: one step that can be undone; its figure is "
            "no longer unsure"
        )
        self.as_taken.clicked.connect(self.keep_as_taken)
        self.take.setText("I Checked It…")
        self.take.setToolTip("Go to its field in Details and enter what you found (Enter)")
        self.leave.setText("Close")

    def _lay_out(self) -> None:
        column = self.column
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.about)
        column.addLayout(widgets.progress_row(self.count, self.progress, self.stop))
        column.addWidget(self.list, 6)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 4)
        column.addLayout(widgets.row(self.as_taken, None, self.leave, self.take))

    @property
    def thresholds(self) -> tuple[Threshold, ...]:
        """What has been found so far, the nearest first."""
        return ranked(self._found)

    @property
    def current(self) -> Threshold | None:
        """The row that is current."""
        key = self.list.current_key()
        return next((one for one in self.thresholds if key_of(one) == key), None)

    @property
    def works(self) -> bool:
        """Whether figures are still being tried."""
        return self.steps.works

    def open(self) -> None:
        """Begin with the build as it is."""
        self._open(None)
        self._remember()
        self._start()
        self.list.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Somebody checked the figure: go to its field."""
        threshold = self.current
        if not self.is_open or threshold is None:
            return
        unknown = threshold.unknown
        self._close()
        session = self._session
        session.cancel_preview()
        session.select(_selection(threshold))
        details = getattr(self._window, "details", None)
        led = details is not None and show_field(details, unknown.path)
        name = unknown.name.rstrip(",")
        if led:
            session.tell(f"Enter {name} as you found it.")
        else:
            session.tell(f"Enter {name} in Details.")

    def keep_as_taken(self) -> None:
        """It was checked and is as it was taken: keep that, and go on with the next."""
        threshold = self.current
        if not self.is_open or threshold is None or not can_be_checked(threshold.unknown):
            return
        session, unknown = self._session, threshold.unknown
        build = checked(session.build, unknown)
        self._found = [one for one in self._found if one.unknown.key != unknown.key]
        self._applies = True
        session.apply(f"Check {unknown.name.rstrip(',')}", build)
        self._applies = False
        session.tell(f"Checked: {unknown.name.rstrip(',')}.")
        self.list.fill(self.thresholds, session.theme, session.system)
        self.report.clear()
        self.take.setEnabled(False)
        self.as_taken.setEnabled(False)
        self._show_progress()
        self._choose_first()

    def stop_trying(self) -> None:
        """No more; what was found stays."""
        if self.works:
            self.steps.stop()
            self._show_progress()
            self._choose_first()

    def end(self) -> None:
        """Stop and wait for the thread, before the window goes."""
        self.steps.end()

    def _forget(self) -> None:
        super()._forget()
        self.steps.stop()
        self._base, self._found = None, []
        self.report.clear()

    # Trying

    def _start(self) -> None:
        settled = self._session.settled
        self._base, self._found, self._progress = settled, [], Progress(0, 0)
        self._ended_whole = False
        self.list.empty()
        self.take.setEnabled(False)
        self.as_taken.setEnabled(False)
        self.about.setText(
            "Figures that are typical, assumed, planned or not known, each tried over its range by "
            "solving the build again."
        )
        self.report.say("")
        self.steps.start(lambda: iter(Search(settled)))
        self._show_progress()

    def _told(self, step: object) -> None:
        if isinstance(step, Found):
            self._found.append(step)
            self._progress = Progress(step.done, step.whole)
            if step.thresholds:
                self.list.fill(self.thresholds, self._session.theme, self._session.system)
        elif isinstance(step, Progress):
            self._progress = step
        self._show_progress()

    def _ended(self, error: object) -> None:
        if isinstance(error, BaseException):
            self._show_progress()
            raise error
        self._ended_whole = True
        if self._base is not None:
            keep(self._base, self._found)
        self._show_progress()
        self._choose_first()

    def _choose_first(self) -> None:
        thresholds = self.thresholds
        if self.list.current_key():
            return
        if thresholds:
            self.list.choose(key_of(thresholds[0]))
        elif not self._ended_whole:
            self.report.say("Stopped before one was found. Open this again to try them anew.")
        else:
            self.report.say(
                "No figure that nobody has checked would change a verdict within its range. "
                "Nameplates, venues and makers' sheets go first all the same."
            )

    def _show_progress(self) -> None:
        works = self.works
        for one in (self.progress, self.stop, self.about):
            one.setVisible(works)
        self.progress.setRange(0, max(self._progress.whole, 1))
        self.progress.setValue(self._progress.done)
        found = len(self.thresholds)
        if works:
            done, whole = self._progress.done, self._progress.whole
            self.count.set_whole(f"{done} of {whole} tried, {found} found")
        elif self._ended_whole:
            deciding = sum(1 for one in self._found if one.thresholds)
            self.count.set_whole(f"{deciding} of {len(self._found)} figures would turn a verdict")
            self.count.setToolTip(f"{summary(self._found).shown(self._session.system)}.")
        else:
            self.count.set_whole(f"{found} found so far; stopped")

    # What is pointed at

    def _current_changed(self, *_: object) -> None:
        threshold = self.current
        if threshold is None or not self.is_open:
            return
        self.take.setEnabled(True)
        self.as_taken.setEnabled(can_be_checked(threshold.unknown))
        self.report.show_threshold(threshold, self._session.theme, self._session.system)
        self._show_level(threshold)
        self._select(_selection(threshold))

    def _show_level(self, threshold: Threshold) -> None:
        """Whose figure it is has to be in sight."""
        session = self._session
        item = session.build.item(threshold.unknown.item)
        if item is not None and session.build.cart.level(item.level) is not None:
            session.set_level(item.level)
        elif self._level:
            session.set_level(self._level)

    # What the session says

    def _build_changed(self, build: Build) -> None:
        if not self._applies:  # what was checked turns nothing: what was found still holds
            super()._build_changed(build)

    def _analysis_changed(self, _analysis: Analysis) -> None:
        if self.is_open and self._session.previewing:
            self.stop_trying()  # whoever drags wants the whole of the machine

    def _look_changed(self, _value: object) -> None:
        if not self.is_open:
            return
        self.list.fill(self.thresholds, self._session.theme, self._session.system)
        self._current_changed()
        self._show_progress()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() == QEvent.Type.Close:
            self.end()
        return super().eventFilter(watched, event)


def _selection(threshold: Threshold) -> Selection:
    """Whose figure it is; where it is the whole build's, whom it would hit."""
    unknown = threshold.unknown
    if unknown.item:
        return Selection(items=(unknown.item,))
    if unknown.run:
        return Selection(runs=(unknown.run,))
    return Selection()


def open_sensitivity(session: Session, window: QWidget) -> SensitivityPanel:
    """Begin, or begin anew."""
    panel = window.findChild(SensitivityPanel) or SensitivityPanel(session, window)
    panel.open()
    return panel
