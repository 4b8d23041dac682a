"""How an appliance is fed: chosen from the ways its maker lets it be fed, and what each means."""

from functools import partial

from PySide6.QtWidgets import QToolButton, QVBoxLayout

from ...build import Appliance, Item
from ...build.edits import EditError
from ...build.feeding import FEED_WORDS, feed_by, feed_modes
from ...build.water import FeedMode, Inlet
from ...units import UnitSystem, capitalised, show
from .. import widgets
from ..commands import sentence
from ..session import Session
from .fields import Editor

SHORT: dict[FeedMode, str] = {
    "own reservoir": "Reservoir",
    "internal pump": "Own pump",
    "line pressure": "Line",
}
_ORDER: tuple[FeedMode, ...] = ("own reservoir", "internal pump", "line pressure")


class FeedView(Editor):
    """A row of ways, one of them chosen; under it what each asks for."""

    inline = False

    def __init__(self, session: Session, item: Item) -> None:
        super().__init__()
        self._session = session
        self._item_id = item.id
        ways = [one for one in _ORDER if one in feed_modes(item)]
        self.buttons: dict[FeedMode, QToolButton] = {}
        for at, mode in enumerate(ways):
            end = "first" if at == 0 else "last" if at == len(ways) - 1 else ""
            words = FEED_WORDS[mode]
            button = widgets.segment(SHORT[mode], end, capitalised(words))
            button.clicked.connect(partial(self._chosen, mode))
            self.buttons[mode] = button
        self.words = widgets.wrapped("", "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(5)
        column.addLayout(widgets.row(*self.buttons.values(), None, spacing=0))
        column.addWidget(self.words)
        self.show_value(item)

    def show_value(self, value: object) -> None:
        if not isinstance(value, Item):
            return
        role = value.specification.water
        if isinstance(role, Appliance) and role.feed in self.buttons:
            self.buttons[role.feed].setChecked(True)
        self.words.setText(feed_lines(value, self._session.system))

    def _chosen(self, mode: FeedMode, _checked: bool = False) -> None:
        session = self._session
        item = session.build.item(self._item_id)
        try:
            build = feed_by(session.build, self._item_id, mode)
        except EditError as error:
            session.tell(sentence(str(error)))
            return
        if build is not session.build and item is not None:
            session.apply(f"Feed {item.name} {FEED_WORDS[mode]}", build)


def feed_lines(item: Item, system: UnitSystem) -> str:
    """What each way asks for, a line each."""
    role = item.specification.water
    if not isinstance(role, Appliance):
        return ""
    ways = {role.feed: (role.inlets, role.reservoir)}
    ways.update({one.mode: (one.inlets, one.reservoir) for one in role.other_feeds})
    lines = []
    for mode in _ORDER:
        if mode in ways:
            inlets, reservoir = ways[mode]
            asks = "; ".join(_asks(one, mode, system) for one in inlets)
            if not asks:
                holds = f", holds {show(reservoir.si, 'volume', system)}" if reservoir else ""
                asks = f"no tube, filled by hand{holds}"
            lines.append(f"{SHORT[mode]}: {asks}")
    return "\n".join(lines)


def _asks(inlet: Inlet, mode: FeedMode, system: UnitSystem) -> str:
    least = show(inlet.least_pressure.si, "pressure", system)
    flow = show(inlet.required_flow.si, "flow", system)
    why = ", so that its pump does not starve" if mode == "internal pump" else ""
    return f"at least {least} at {flow}{why}"
