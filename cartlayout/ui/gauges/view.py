"""The part of the details that is about gauges: type what they show, ask what explains it."""

from weakref import WeakKeyDictionary

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from ...advice.diagnosis import Cause, Diagnosis, diagnose
from ...build import Item, Reading
from ...build.edits import replace_item
from ...units import Pressure
from ...water.gauge_results import GaugeState
from .. import widgets
from ..commands import IN_MID_DRAG
from ..long_work import Watch, run_with_progress
from ..selection import Selection
from ..session import Session
from .causes import CauseList
from .rows import gauge_tables
from .table import ReadingsTable

ASKING = "What explains the gauges"
_LATEST: "WeakKeyDictionary[Session, Diagnosis]" = WeakKeyDictionary()
"""Looking at a suspect leaves the gauge's page; what was found is there when one comes back."""


class GaugesView(QWidget):
    """The gauges that are selected."""

    def __init__(self, session: Session, ids: tuple[str, ...]) -> None:
        super().__init__()
        self.session = session
        self.ids = ids
        self.tables: dict[str, ReadingsTable] = {}
        self.title = widgets.label("Readings", "title")
        self.ask = QPushButton("What explains it?")
        self.ask.setToolTip(
            "Try every single cause: a used filter, a weak pump, a pinched tube and so on"
        )
        self.ask.clicked.connect(self._ask)
        self.causes = CauseList()
        self.causes.chosen.connect(self._show_cause)
        self.causes.taken.connect(self._take)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 4, 0, 4)
        self._column.setSpacing(8)
        self._column.addWidget(self.title)
        for one in ids:
            table = ReadingsTable(session.system)
            table.typed.connect(self._typed)
            table.forgotten.connect(self._forget)
            self.tables[one] = table
            self._column.addWidget(table)
        self._column.addWidget(self.ask, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.causes)
        self.refresh()

    def refresh(self) -> None:
        """Show what the session has now."""
        session = self.session
        items = [item for one in self.ids if (item := session.shown.item(one)) is not None]
        tables = gauge_tables(session.analysis, items, session.system)
        for table in tables:
            self.tables[table.gauge].show_table(
                table, session.theme, session.system, titled=len(self.ids) > 1
            )
        found = _LATEST.get(session)
        if found is not None and found.build is not session.build:
            found = None
        self.causes.show_diagnosis(found, session.theme, session.system)
        read = any(item.readings for item in session.shown.items)
        self.ask.setEnabled(read)
        self.ask.setVisible(any(table.rows for table in tables))

    # What is typed

    def _typed(self, gauge_id: object, case: object, value: object) -> None:
        item = self.session.build.item(str(gauge_id))
        if item is None:
            return
        others = tuple(one for one in item.readings if one.case != case)
        if isinstance(value, Pressure):
            name = f"Read {item.name} ({case})"
            readings = (*others, Reading(str(case), value))
        else:
            name, readings = f"Forget a reading of {item.name}", others
        self._apply(name, item, readings)

    def _forget(self, gauge_id: object) -> None:
        item = self.session.build.item(str(gauge_id))
        state = self._state(str(gauge_id))
        if item is None:
            return
        known = {one.case for one in state.readings} if state is not None else set()
        kept = tuple(one for one in item.readings if one.case in known)
        self._apply(f"Forget readings of {item.name}", item, kept)

    def _apply(self, name: str, item: Item, readings: tuple[Reading, ...]) -> None:
        if self.session.previewing:
            self.session.tell(IN_MID_DRAG)
            return
        changed = replace(item, readings=readings)
        self.session.apply(name, replace_item(self.session.build, changed))

    def _state(self, gauge_id: str) -> GaugeState | None:
        states = self.session.analysis.water.gauges
        return next((one for one in states if one.item == gauge_id), None)

    # What explains it

    def _ask(self) -> None:
        session = self.session
        if session.previewing:
            session.tell(IN_MID_DRAG)
            return
        analysis = session.analysis
        if analysis.build is not session.build:
            analysis = session.try_out(session.build)

        def work(watch: Watch) -> Diagnosis | None:
            return diagnose(analysis, watch)

        found = run_with_progress(self.window(), ASKING, work)
        if found is None:
            session.tell("Stopped: nothing was found out.")
        elif found.build is not session.build:
            session.tell("The build was changed meanwhile: ask again.")
        else:
            _LATEST[session] = found
            self.refresh()

    def _show_cause(self, cause: object) -> None:
        if isinstance(cause, Cause):
            self.session.show_on_plan(Selection(items=cause.items, runs=cause.runs))

    def _take(self, cause: object) -> None:
        session = self.session
        found = _LATEST.get(session)
        if not isinstance(cause, Cause) or found is None or found.build is not session.build:
            session.tell("The build was changed meanwhile: ask again.")
            return
        session.apply(cause.taken.shown(session.system), cause.build)
