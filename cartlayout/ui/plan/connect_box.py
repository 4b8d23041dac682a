"""Joining by keyboard: pick a port, then what it goes to, and see the answer beforehand."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem

from ...build import Build, End, Item, Port
from ...build.edits import EditError
from ...network import connect
from ...network.fit import Fitter, is_plug
from ...units import UnitSystem, show
from .. import commands
from ..commands import sentence
from ..selection import Selection
from .asking import AskBox
from .menu import port_name

if TYPE_CHECKING:
    from .view import PlanView

_ROW_PX = 22
_MOST_ROWS = 9
_DATA = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True)
class PortChoice:
    """A port of the selected item that can be joined now, and everything that fits it."""

    end: End
    text: str
    ends: tuple[End, ...]


def port_choices(build: Build, item: Item) -> tuple[PortChoice, ...]:
    """The ports of an item for which something fits, nearest candidates first."""
    fitter = Fitter(build)
    joined = {(one, other) for run in build.runs for one, other in ((run.a, run.b), (run.b, run.a))}
    found = []
    for port in item.specification.ports:
        end = End(item=item.id, port=port.id)
        here = fitter.places.positions[item.id, port.id]
        near = [
            (math.dist(here, fitter.places.positions[node]), End(item=node[0], port=node[1]))
            for node in fitter.places.ports
        ]
        near.sort(key=lambda one: one[0])
        ends = tuple(
            other for _, other in near if (end, other) not in joined and fitter.fits(end, other).ok
        )
        if ends:
            found.append(PortChoice(end, port_in_words(port), ends))
    return tuple(found)


def port_in_words(port: Port) -> str:
    """Such as "inlet: water in, 3/8 push-fit"."""
    if port.medium == "power":
        kind = "plug" if is_plug(port) else "receptacle"
    else:
        way = {"in": " in", "out": " out", "through": ""}[port.direction]
        kind = f"{port.medium}{way}"
    return f"{port.id}: {kind}, {port.connector}"


def end_in_words(build: Build, end: End, origin: End, system: UnitSystem) -> str:
    """Such as "Outlet 2 · venue · 4 ft off"."""
    item, own = build.item(end.item), build.item(origin.item)
    if item is None or own is None:
        return "?"
    away = math.dist((item.x.si, item.y.si), (own.x.si, own.y.si))
    return f"{port_name(build, end)} · {item.level} · {show(away, 'length', system)} off"


class ConnectBox(AskBox):
    """Lists ports, then ends; Up and Down walk, typing searches, Enter joins."""

    def __init__(self, view: "PlanView", item: Item, choices: tuple[PortChoice, ...]) -> None:
        super().__init__(view, f"Connect {item.name}")
        self.item = item
        self.choices = choices
        self.port: PortChoice | None = None
        self.list = QListWidget()
        self.list.setAccessibleName("What it can be joined to")
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list.setUniformItemSizes(True)
        self.column.insertWidget(2, self.list)
        self.list.currentRowChanged.connect(self._row_changed)
        self.list.itemClicked.connect(self._clicked)
        self.line.stepped.connect(self._step)
        self.line.emptied.connect(self._back)
        self._made: Build | None = None
        self._run_id = ""
        if len(choices) == 1:
            self._ask_end(choices[0])
        else:
            self._ask_port()

    # What is asked

    def _ask_port(self) -> None:
        self.port = None
        self.title.setText(f"Connect {self.item.name}: which port?")
        self.line.clear()
        self.line.setPlaceholderText("Type to search")
        self._fill("")
        self.say("Enter goes on, Escape leaves")

    def _ask_end(self, choice: PortChoice) -> None:
        self.port = choice
        self.title.setText(f"{self.item.name}, {choice.text}: join to")
        self.line.clear()
        self.line.setPlaceholderText("Type to search")
        self._fill("")

    def _fill(self, wish: str) -> None:
        """List what has every word typed; what has them in a row comes first."""
        wish = " ".join(wish.lower().split())
        found = [
            (text, value)
            for text, value in self._all()
            if all(word in text.lower() for word in wish.split())
        ]
        found.sort(key=lambda one: wish not in one[0].lower())
        self.list.blockSignals(True)
        self.list.clear()
        for text, value in found:
            row = QListWidgetItem(text)
            row.setData(_DATA, value)
            row.setToolTip(text)
            self.list.addItem(row)
        self.list.blockSignals(False)
        rows = min(max(self.list.count(), 1), _MOST_ROWS)
        self.list.setFixedHeight(rows * max(self.list.sizeHintForRow(0), _ROW_PX) + 4)
        self.list.setCurrentRow(0 if self.list.count() else -1)
        if not self.list.count():
            self._show_end(None)
            self.say("Nothing of that name fits.", wrong=True)

    def _all(self) -> list[tuple[str, object]]:
        if self.port is None:
            return [(choice.text, choice) for choice in self.choices]
        build, system = self.session.build, self.session.system
        return [(end_in_words(build, end, self.port.end, system), end) for end in self.port.ends]

    # What is typed

    def typed(self, text: str) -> None:
        """Search."""
        self._fill(text)
        if self.list.count() and self.port is None:
            self.say("Enter goes on, Escape leaves")

    def _step(self, way: int) -> None:
        count = self.list.count()
        if count:
            self.list.setCurrentRow((self.list.currentRow() + way) % count)

    def _back(self) -> None:
        if self.port is not None and len(self.choices) > 1:
            self.session.cancel_preview()
            self._ask_port()

    def _row_changed(self, row: int) -> None:
        chosen = self.list.item(row) if row >= 0 else None
        value = chosen.data(_DATA) if chosen is not None else None
        if chosen is not None:
            self.line.setAccessibleDescription(chosen.text())
        self._show_end(value if isinstance(value, End) else None)

    def _clicked(self, _row: QListWidgetItem) -> None:
        self.accept()

    def _show_end(self, end: End | None) -> None:
        """Preview the run to an end."""
        self._made = None
        if self.port is None or end is None:
            self.session.cancel_preview()
            return
        try:
            self._made, self._run_id = connect(self.session.build, self.port.end, end)
        except EditError as error:
            self.session.cancel_preview()
            self.say(sentence(str(error)), wrong=True)
            return
        self.say("Up and Down try others, Enter joins")
        self.show_build(self._made)

    def accept(self) -> None:
        """Go on from the port to its ends, or make the run."""
        row = self.list.currentItem()
        value = row.data(_DATA) if row is not None else None
        if isinstance(value, PortChoice):
            self._ask_end(value)
            return
        if self._made is None or self.port is None or not isinstance(value, End):
            return
        build = self.session.build
        names = f"{port_name(build, self.port.end)} and {port_name(build, value)}"
        made, run_id = self._made, self._run_id
        self.session.apply(f"Join {names}", made, select=Selection(runs=(run_id,)))
        self.close_box()


def ask_connection(view: "PlanView") -> AskBox | None:
    """Open the box for the selected item, or say why not."""
    session = view.session
    chosen = session.selection.items
    item = session.build.item(chosen[0]) if len(chosen) == 1 else None
    if item is None:
        session.tell("Select one item first.")
        return None
    if session.previewing:
        session.tell(commands.IN_MID_DRAG)
        return None
    choices = port_choices(session.build, item)
    if not choices:
        why = "has no ports" if not item.specification.ports else "has no free port that fits any"
        session.tell(f"{item.name} {why}.")
        return None
    return ConnectBox(view, item, choices)
