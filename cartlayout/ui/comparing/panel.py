"""The panel that compares: it stands over the details while the plan shows both builds."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QListWidgetItem, QWidget

from ...analysis import Analysis
from ...build import Build
from ...build.file import CartFileError
from .. import dialogs, widgets
from ..selection import Selection
from ..session import Session
from ..trying import CountsLine, Line, TallList, TallRows, TrialReport, TryingPanel
from .rows import Differences, Row, Section, sections
from .states import State
from .work import Comparer

_HEAD_PX = 64


class _Rows(TallRows):
    """The words under a title are what it was before: the verdict is not of them."""

    tells = False


class _List(TallList):
    """What differs under headings; one row is current."""

    def __init__(self, session: Session) -> None:
        super().__init__(session.theme, _Rows)
        self.setAccessibleName("What differs")

    def fill(self, found: Sequence[Section]) -> None:
        """Show other rows; the current one stays current."""
        before = self.current_key()
        self.blockSignals(True)
        self.clear()
        for section in found:
            self.add_heading(f"{section.title} ({len(section.rows)})")
            for one in section.rows:
                self.add_row(one.key, one.mark, one.title, (one.words, ""))
        if before:
            self.choose(before)
        self.fit_rows()
        self.blockSignals(False)


class ComparePanel(TryingPanel):
    """Lists what differs from another build; the plan shows where things were."""

    list: _List
    report: TrialReport
    width_px = 340

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self.setAccessibleName("Compare")
        self._state: State | None = None
        self._found: Differences | None = None
        self._rows: dict[str, Row] = {}
        self.comparer = Comparer(self)
        self.comparer.compared.connect(self._compared)
        self.comparer.failed.connect(self._failed)
        self._make_parts()
        self._lay_out()
        self.listen(self.list)
        session.document_changed.connect(self._document_changed)

    def _make_parts(self) -> None:
        self.head = TrialReport(spacing=2)
        self.now = widgets.segment("As it is", "first", "Show the build as it is on the plan")
        self.other = widgets.segment("The other", "last", "Show the other build on the plan")
        self.now.setChecked(True)
        self.now.clicked.connect(self._side_chosen)
        self.other.clicked.connect(self._side_chosen)
        self.list = _List(self._session)
        self.report = TrialReport(spacing=5)
        self.report.setAccessibleName("What differs there")
        self.take.hide()
        self.leave.setText("Close")
        self.leave.setToolTip("Show the build alone again (Escape)")

    def _lay_out(self) -> None:
        column = self.column
        column.setSpacing(6)
        column.addWidget(self.heading)
        column.addWidget(self.head)
        column.addLayout(widgets.row(self.now, self.other, None, spacing=0))
        column.addWidget(self.list, 7)
        column.addWidget(widgets.rule())
        column.addWidget(self.report, 2)
        column.addLayout(widgets.row(None, self.leave))

    @property
    def found(self) -> Differences | None:
        """What differs; None while it is not known."""
        return self._found

    @property
    def rows(self) -> tuple[Row, ...]:
        """Everything that is listed, from the top."""
        return tuple(self._rows.values())

    def open_with(self, state: State) -> None:
        """Compare the build with another state."""
        self._open(None)
        self._state, self._found = state, None
        self.heading.setText(f"Compared with {state.name}")
        self.heading.setToolTip(state.tip)
        self.now.setChecked(True)
        self._fill()
        self.comparer.start(state, self._session.settled)
        self.list.setFocus(Qt.FocusReason.PopupFocusReason)

    def accept(self) -> None:
        """Bring what is current into sight on the plan."""
        row = self._rows.get(self.list.current_key())
        if row is not None:
            self._show_row(row)

    def cancel(self) -> None:
        """Show the build alone again; a drag that is going on is given up first."""
        plan = getattr(self._window, "plan", None)
        if plan is not None and plan.gesture is not None:
            plan.cancel_gesture()
            return
        super().cancel()

    def _forget(self) -> None:
        self.comparer.stop()
        self._state = self._found = None
        self._rows = {}
        self._show_before(None)
        self.report.clear()

    # What is found

    def _compared(self, found: Differences) -> None:
        if not self.is_open:
            return
        self._found = found
        self._fill()
        self._show_side()

    def _failed(self, error: object) -> None:
        name = self._state.name if self._state is not None else "It"
        self.cancel()
        if isinstance(error, CartFileError):
            dialogs.show_error(self._window, f"{name} cannot be compared", str(error))
        elif isinstance(error, BaseException):
            raise error

    def _fill(self) -> None:
        session, found = self._session, self._found
        self.list.rows.theme = session.theme
        shown = sections(found, session.system) if found is not None else ()
        self._rows = {row.key: row for section in shown for row in section.rows}
        self.list.fill(shown)
        self._show_head()
        for one in (self.now, self.other):
            one.setEnabled(found is not None and not found.same)
        if self.list.current_key():
            self._current_changed()
        else:
            self.report.say("Point at a row to see it on the plan." if shown else "")

    def _show_head(self) -> None:
        found, theme = self._found, self._session.theme
        parts: list[QWidget] = []
        if found is None:
            parts.append(widgets.wrapped("Working out the other build …", "muted"))
        elif found.same:
            parts.append(Line("The two builds are the same.", "ok", theme))
        else:
            tip = "{before} in the other, {after} in this build"
            parts.append(CountsLine(found.verdicts.counts, theme, tip))
        self.head.show_parts(parts)
        high = max(one.sizeHint().height() for one in parts)
        self.head.setFixedHeight(min(high + 6, _HEAD_PX))

    def _current_changed(self, *_: object) -> None:
        row = self._rows.get(self.list.current_key())
        if not self.is_open or row is None:
            return
        parts: list[QWidget] = [widgets.wrapped(row.title, "title")]
        parts += [widgets.wrapped(line) for line in row.lines or (row.words,) if line]
        self.report.show_parts(parts)
        self._show_row(row)

    def _show_row(self, row: Row) -> None:
        """Bring it into sight: where it is, and where it was."""
        session = self._session
        session.show_on_plan(Selection(items=row.items, runs=row.runs))
        plan = getattr(self._window, "plan", None)
        if plan is None or self._found is None:
            return
        plan.before.point_at((*row.items, *row.runs))
        if not session.selection:  # it is only in the build that is not shown
            there = self._found.after if self.shows_other else self._found.before
            found = [item for one in row.items if (item := there.build.item(one)) is not None]
            levels = [one.level for one in found if session.shown.cart.level(one.level) is not None]
            if levels:
                session.set_level(levels[0])

    def _activated(self, _row: QListWidgetItem) -> None:
        self.accept()

    # Which of the two the plan shows

    @property
    def shows_other(self) -> bool:
        """Whether the plan shows the other build, with ghosts of this one."""
        return self.other.isChecked()

    def _side_chosen(self) -> None:
        self._show_side()

    def _show_side(self) -> None:
        found, session = self._found, self._session
        if found is None:
            return
        if self.shows_other:
            self._show_before(found.after, turned=True)
            self._shows = found.before.build
            session.preview(found.before.build, found.before)
        else:
            self._show_before(found.before)
            if self._shows is not None and session.shown is self._shows:
                self._shows = None
                session.cancel_preview()

    def _show_before(self, before: Analysis | None, *, turned: bool = False) -> None:
        plan = getattr(self._window, "plan", None)
        if plan is not None:
            plan.before.show(before, turned=turned)

    # What the session says

    def _selection_changed(self, selection: Selection) -> None:
        """What is selected is none of its business."""

    def _build_changed(self, build: Build) -> None:
        if self.is_open:
            self._shows = None
            self.now.setChecked(True)
            self._again(build)

    def _analysis_changed(self, _analysis: Analysis) -> None:
        session = self._session
        if not self.is_open:
            return
        if self._shows is not None and session.shown is not self._shows:
            self._shows = None  # a drag goes before; ghosts are those of the other build again
            self.now.setChecked(True)
            self._show_before(self._found.before if self._found is not None else None)
        self._again(session.build)

    def _again(self, build: Build) -> None:
        settled = self._session.settled
        known = self._found.after if self._found is not None else None
        if settled.build is build and settled is not known:
            self.comparer.again(settled)

    def _document_changed(self, _build: Build) -> None:
        if self.is_open:
            self._close()

    def _look_changed(self, _value: object) -> None:
        if self.is_open:
            self._fill()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() == QEvent.Type.Close:
            self.comparer.end()
        return super().eventFilter(watched, event)


def open_compare(session: Session, window: QWidget, state: State) -> ComparePanel:
    """Compare the build that is open with another state."""
    panel = window.findChild(ComparePanel) or ComparePanel(session, window)
    panel.open_with(state)
    return panel
