"""The nearest few that could take an item's place, in the context menu: tried while pointed at."""

from PySide6.QtCore import QTimer
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from ...build import Item
from ...stock import StockEntry
from ...stock.alike import alternatives, is_near
from ..marks import mark_icon
from ..session import Session
from .panel import open_replace
from .trial import Trial, accept, judged, trial, verdict

_FEW = 5


class ReplaceMenu(QMenu):
    """Previews what the mouse or the arrows point at; a click makes the exchange."""

    def __init__(self, session: Session, item: Item, window: QWidget, parent: QWidget) -> None:
        super().__init__("Replace with", parent)
        self._session = session
        self._item = item
        self._window = window
        self.entries: dict[QAction, StockEntry] = {}
        self._trials: dict[QAction, Trial] = {}
        self._waiting: list[QAction] = []
        self._marks = QTimer(self)
        self._marks.setSingleShot(True)
        self._marks.setInterval(0)
        self._marks.timeout.connect(self._next_mark)
        self.setToolTipsVisible(True)
        found = alternatives(item, session.build.region)
        near = tuple(one for one in found if is_near(item, one))[:_FEW]
        for one in near or found[:_FEW]:
            self.entries[self.addAction(one.name.replace("&", "&&"))] = one
        self.addSeparator()
        self.all = self.addAction("Everything in stock…\tCtrl+R")
        self.aboutToShow.connect(self._opened)
        self.aboutToHide.connect(self._closed)
        self.hovered.connect(self._pointed_at)
        self.triggered.connect(self._chosen)

    def _opened(self) -> None:
        self._waiting = list(self.entries)
        self._marks.start()

    def _closed(self) -> None:
        self._marks.stop()
        self._session.cancel_preview()

    def _next_mark(self) -> None:
        """Analyse one trial for its mark; the menu stays alive between two."""
        while self._waiting:
            action = self._waiting.pop(0)
            found = self._trial(action)
            if found is None:
                continue
            outcome = judged(self._session, found)
            if outcome is None or found.replacement is None:
                action.setEnabled(False)
                continue
            mark, words = verdict(found.replacement, outcome)
            action.setText(f"{found.entry.name}\t{words}".replace("&", "&&"))
            action.setIcon(mark_icon(self._session.theme, mark))
            action.setToolTip(
                "\n".join(one.title.shown(self._session.system) for one in outcome.come)
            )
            self._marks.start()
            return

    def _trial(self, action: QAction) -> Trial | None:
        """What would come of a line, made when it is first asked for."""
        if action not in self._trials and action in self.entries:
            made = trial(self._session.build, self._item.id, self.entries[action])
            self._trials[action] = made
        return self._trials.get(action)

    def _pointed_at(self, action: QAction) -> None:
        found = self._trial(action)
        if found is not None and found.replacement is not None:
            self._session.preview(found.replacement.build)
        else:
            self._session.cancel_preview()

    def _chosen(self, action: QAction) -> None:
        self._session.cancel_preview()
        found = self._trial(action)
        if found is not None:
            accept(self._session, self._item, found)
        elif action is self.all:
            open_replace(self._session, self._window)
