"""The panel that mends what can be mended: steps to tick, what remains and why, one undo step."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QListWidgetItem, QProgressBar, QPushButton, QWidget

from ...advice.remedies import Mended, Remaining, Remedy
from ...findings import SEVERITIES
from ...units import counted
from .. import widgets
from ..commands import sentence
from ..selection import Selection
from ..session import Session
from ..trying import CountsLine, Line, SightedPanel, TickedList, TrialReport
from .mending import Mending
from .report import LICENSED, RemedyReport
from .rows import key_of
from .words import effort_word, mended_words, trying_words

_STEP, _LEFT, _REMAINS = "step", "left", "remains"


class _List(TickedList):
    """Steps that are done, steps that are left out, and stops that remain."""

    def __init__(self, session: Session) -> None:
        super().__init__(session.theme)
        self.setAccessibleName("Steps, and what remains")

    def fill(
        self,
        steps: dict[str, Remedy],
        left: dict[str, Remedy],
        remaining: dict[str, Remaining],
        session: Session,
    ) -> None:
        """Show other rows; the current one stays current."""
        before, system = self.current_key(), session.system
        self.rows.theme = session.theme
        self.blockSignals(True)
        self.clear()
        for heading, found, on in (("Steps", steps, True), ("Left out", left, False)):
            if found:
                self.add_heading(f"{heading} ({len(found)})")
            for key, one in found.items():
                words = (one.outcome.shown(system) if on else "", effort_word(one.effort))
                self.add_ticked(key, "ok" if on else "", one.title.shown(system), words, on=on)
        if remaining:
            self.add_heading(f"Remains ({len(remaining)})")
        for key, rest in remaining.items():
            finding = rest.finding
            self.add_row(key, finding.severity, finding.title.shown(system), (rest.reason, ""))
        if before:
            self.choose(before)
        self.fit_rows()
        self.blockSignals(False)


class MendPanel(SightedPanel):
    """Shows the build as it would be; Apply makes all ticked steps one step of the undo stack."""

    list: _List
    report: RemedyReport
    width_px = 340

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self.setAccessibleName("Mend what can be mended")
        self.mending = Mending(session, self)
        self._steps: dict[str, Remedy] = {}
        self._left: dict[str, Remedy] = {}
        self._remaining: dict[str, Remaining] = {}
        self._next = ""
        """The row that is to be current once the rest has been tried anew."""
        self._make_parts()
        self._lay_out()
        self.listen(self.list)
        self.list.ticked.connect(self._ticked)
        self.mending.changed.connect(self._mending_changed)
        session.drawn_changed.connect(self._analysis_changed)

    def _make_parts(self) -> None:
        self.heading.setText("Mend what can be mended")
        self.head = TrialReport(spacing=2)
        self.count = widgets.ElidedLabel()
        self.count.setProperty("role", "muted")
        self.progress = QProgressBar()
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("Try no more")
        self.stop.clicked.connect(self.mending.stop)
        self.list = _List(self._session)
        self.list.pointed.connect(self._pointed_at)
        self.report = RemedyReport()
        self.take.setText("Apply")
        self.take.setToolTip("Do all ticked steps: one step that can be undone (Enter)")
        self.leave.setText("Close")

    def _lay_out(self) -> None:
        column = self.column
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.head)
        column.addLayout(widgets.progress_row(self.count, self.progress, self.stop))
        column.addWidget(self.list, 7)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 3)
        column.addLayout(widgets.row(None, self.leave, self.take))

    @property
    def found(self) -> Mended | None:
        """What would be done; None while it is not known."""
        return self.mending.found

    def open(self) -> None:
        """Look for the steps and show what they bring."""
        self._open(None)
        self._remember()
        self.take.setEnabled(False)
        self.report.say("")
        self._show_head()
        self.mending.start()
        self.list.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Do what is shown: one undo step."""
        found = self.found
        if not self.is_open or found is None or not found.steps:
            return
        count = counted(len(found.steps), "step")
        told = mended_words(found)
        items = tuple(dict.fromkeys(one for step in found.steps for one in step.items))
        self._close()
        self._session.apply(f"Mend in {count}", found.after.build, select=Selection(items=items))
        self._session.tell(sentence(told))

    def _forget(self) -> None:
        super()._forget()
        self.mending.forget()
        self._steps, self._left, self._remaining = {}, {}, {}
        self.report.clear()
        self._show_changes(None)

    # What is found

    def _mending_changed(self) -> None:
        if not self.is_open:
            return
        mending, found = self.mending, self.found
        for one in (self.progress, self.stop):
            one.setVisible(mending.works)
        self.progress.setRange(0, mending.tried.whole)
        self.progress.setValue(mending.tried.done)
        self.take.setEnabled(False)
        if mending.works and found is None:
            self.count.set_whole(trying_words(mending.tried))
            return
        if found is None:
            self.count.set_whole("Stopped; nothing is changed")
            self._fill()
            return
        self.count.set_whole(mended_words(found))
        self._fill()
        self._show_changes(self._session.settled)
        if found.steps:
            self._preview(found.after.build, found.after)
        else:
            self._preview(None)

    def _fill(self) -> None:
        found = self.found
        steps = found.steps if found is not None else ()
        self._steps = {f"{_STEP} {key_of(one)}": one for one in steps}
        self._left = {f"{_LEFT} {key_of(one)}": one for one in self.mending.left_out}
        rest = found.remaining if found is not None else ()
        self._remaining = {f"{_REMAINS} {at}": one for at, one in enumerate(rest)}
        self.list.fill(self._steps, self._left, self._remaining, self._session)
        if self._next:
            self.list.choose(self._next)
            self._next = ""
        self.take.setEnabled(bool(steps))
        self.take.setText(f"Apply {counted(len(steps), 'step')}" if steps else "Apply")
        self._show_head()
        if self.list.current_key():
            self._show_report(self.list.current_key())
        else:
            self._say_report()

    def _say_report(self) -> None:
        if self._steps:
            self.report.say(f"Untick what is not wanted: the rest is tried anew. {LICENSED}")
        else:
            self.report.say("")

    def _show_head(self) -> None:
        found, session = self.found, self._session
        parts: list[QWidget] = []
        if found is not None:
            pairs = tuple(
                (one, found.before.count(one), found.after.count(one)) for one in SEVERITIES
            )
            parts.append(CountsLine(pairs, session.theme))
            if not found.remaining and not found.before.count("stop"):
                parts = [Line("There is nothing to stop for.", "ok", session.theme)]
        self.head.show_parts(parts)
        self.head.setFixedHeight(max((one.sizeHint().height() for one in parts), default=0) + 6)

    def _ticked(self, key: str, on: bool) -> None:
        if on and key in self._left:
            step = self._left[key]
            self._next = f"{_STEP} {key_of(step)}"
            self.mending.take_back(step)
        elif not on and key in self._steps:
            step = self._steps[key]
            self._next = f"{_LEFT} {key_of(step)}"
            self.mending.leave_out(step)

    # What is pointed at

    def _pointed_at(self, row: QListWidgetItem) -> None:
        if row.flags() & Qt.ItemFlag.ItemIsSelectable:
            self.list.setCurrentItem(row)

    def _current_changed(self, *_: object) -> None:
        key = self.list.current_key()
        if self.is_open and key:
            self._show_report(key)

    def _show_report(self, key: str) -> None:
        session = self._session
        step = self._steps.get(key) or self._left.get(key)
        if step is not None:
            self.report.show_remedy(step, session.theme, session.system)
            self._show_items(step.items)
        elif key in self._remaining:
            rest = self._remaining[key]
            finding = rest.finding
            self.report.show_parts(
                [
                    Line(finding.title.shown(session.system), finding.severity, session.theme),
                    widgets.wrapped(finding.detail.shown(session.system)),
                    widgets.wrapped(rest.reason, "muted"),
                ]
            )
            self._show_items(finding.items)

    def _show_items(self, items: tuple[str, ...]) -> None:
        """What the row is about has to be in sight, and marked."""
        session = self._session
        levels = self._levels_of(session.shown, items)
        if levels and session.level not in levels:
            session.set_level(levels[0])
        self._select(Selection(items=items))

    # What the session says

    def _look_changed(self, _value: object) -> None:
        if self.is_open and not self.mending.works:
            self._fill()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() == QEvent.Type.Close:
            self.mending.end()
        return super().eventFilter(watched, event)


def open_mending(session: Session, window: QWidget) -> MendPanel:
    """Look for what mends the build that is open, and ask whether to do it."""
    panel = window.findChild(MendPanel) or MendPanel(session, window)
    panel.open()
    return panel
