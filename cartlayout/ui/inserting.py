"""Putting something into a tube from a menu: a gauge, a valve, a filter, where one points."""

from collections.abc import Iterator

from PySide6.QtWidgets import QMenu

from ..build import (
    Accumulator,
    Build,
    CheckValve,
    Filter,
    Gauge,
    Regulator,
    ShutOff,
    TubeRun,
)
from ..build.edits import EditError
from ..network.inserting import fitting_the_tube, insert_inline, middle_of
from ..stock import StockEntry, stock
from ..stock.labels import short_label
from .commands import telling
from .selection import Selection
from .session import Session

XY = tuple[float, float]
KINDS: tuple[tuple[type, str], ...] = (
    (Gauge, "Gauge"),
    (Regulator, "Regulator"),
    (CheckValve, "Check valve"),
    (ShutOff, "Shut-off valve"),
    (Filter, "Filter or softener"),
    (Accumulator, "Accumulator"),
)
"""In the order of the menu."""


def is_supply(build: Build, run_id: str) -> bool:
    """Whether a run is a tube for water that joins two ports."""
    run = build.run(run_id)
    if not isinstance(run, TubeRun) or run.b is None:
        return False
    item = build.item(run.a.item)
    port = item.specification.port(run.a.port) if item is not None else None
    return port is not None and port.medium == "water"


def insertable(build: Build, run_id: str) -> Iterator[tuple[str, StockEntry]]:
    """What of the stock goes into a tube: kind and entry, in the order of the menu."""
    run = build.run(run_id)
    if not isinstance(run, TubeRun):
        return
    for kind, word in KINDS:
        for one in stock():
            role = one.specification.water if one.specification is not None else None
            if isinstance(role, kind) and _goes_in(build, run, one):
                yield word, one


def _goes_in(build: Build, run: TubeRun, entry: StockEntry) -> bool:
    if entry.specification is None or (entry.regions and build.region not in entry.regions):
        return False
    try:
        fitting_the_tube(entry.specification, run)
    except EditError:
        return False
    return True


@telling
def insert_here(session: Session, run_id: str, entry: StockEntry, at: XY | None = None) -> None:
    """Cut a tube at a place, by default half way along it, and put something of the stock in."""
    build = session.build
    network = session.analysis.network
    place = at if at is not None else middle_of(build, network, run_id)
    if place is None or entry.specification is None:
        raise EditError("only a tube that joins two ports can be cut")
    case = session.analysis.water.cases.get(session.water_case)
    state = case.runs.get(run_id) if case is not None else None
    made, new_id = insert_inline(
        build,
        run_id,
        entry.specification,
        *place,
        network=network if session.analysis.build is build else None,
        forward=state is None or state.flow >= 0.0,
        label=short_label(build, entry.specification.name),
    )
    session.apply(f"Insert {entry.name}", made, select=Selection(items=(new_id,)))


class InsertMenu(QMenu):
    """What can be inserted here: one line a kind, or a submenu where there are several of one."""

    def __init__(self, session: Session, run_id: str, at: XY | None, parent: QMenu) -> None:
        super().__init__("Insert here", parent)
        self._session, self._run_id, self._at = session, run_id, at
        kinds: dict[str, list[StockEntry]] = {}
        for word, entry in insertable(session.build, run_id):
            kinds.setdefault(word, []).append(entry)
        self.kinds: list[QMenu] = []
        for word, entries in kinds.items():
            under: QMenu = self
            if len(entries) > 1:
                under = self.addMenu(word)
                self.kinds.append(under)
            for entry in entries:
                name = word if len(entries) == 1 else entry.name
                action = under.addAction(name.replace("&", "&&"))
                action.setData(entry.key)
                action.setToolTip(entry.name)
        self._entries = {one.key: one for found in kinds.values() for one in found}
        self.setEnabled(bool(kinds))
        self.triggered.connect(self._chosen)

    def _chosen(self, action: object) -> None:
        key = getattr(action, "data", lambda: "")()
        entry = self._entries.get(str(key))
        if entry is not None:
            insert_here(self._session, self._run_id, entry, self._at)
