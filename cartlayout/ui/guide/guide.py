"""Runs the guided first cart: watches the session, moves the card, remembers where it was left."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QWidget

from ...analysis import Analysis
from ...findings.finding import Finding
from .. import settings
from ..new_cart import new_build
from .card import Card, Outline, place_beside
from .steps import STEPS, Step, Watched, done, next_step

if TYPE_CHECKING:
    from ..main_window import MainWindow

_END_TITLE = "That is a cart"
_END_TEXT = (
    "It has power, water and a plan to show. Save it, change it, break it and watch what the "
    "boards say. A licensed electrician and a licensed plumber check what is built from it."
)

_LAST_TITLE = "That was the last step"
_LAST_TEXT = (
    "What you skipped is not done yet. You can take it up now, or leave the guide and come back "
    "to it from the Help menu."
)


class Guide(QObject):
    """The guide of one window."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self.running = False
        self.at: int | None = None
        """Number of the step that is on; None: all are done."""
        self.ticks: tuple[bool, ...] = ()
        self._read = self._exported = False
        self._skipped: frozenset[str] = frozenset()
        self._told: tuple[object, ...] = ()
        self.outline = Outline(window)
        self.card = Card(window)
        self.card.left.connect(self.leave)
        self.card.skipped.connect(self.skip)
        self.card.find_asked.connect(self._find)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(0)
        self._settle.timeout.connect(self._place)
        session = window.session
        session.analysis_changed.connect(self._analysis_changed)
        session.document_changed.connect(self._document_changed)
        session.theme_changed.connect(self._look_again)
        window.findings.chosen.connect(self._finding_read)
        window.exported.connect(self._plan_exported)
        window.arrangement.changed.connect(self._moved)

    # Starting and leaving

    def start(self) -> None:
        """Begin with an empty cart, unless there is a build on the screen to go on with."""
        if self._window.at_start:
            region = self._window.start.form.chosen_region() if self._window.start else "US"
            if not self._window.files.new(new_build("My first cart", region)):
                return
            self._read = self._exported = False
            self._skipped = frozenset()
        elif not self.running:
            self._recall()
        if not self.running:
            self._window.installEventFilter(self)
        self.running = True
        self._told = ()
        self._watch(self._window.session.analysis)

    def leave(self) -> None:
        """Close the card; it can be taken up again."""
        if self.running:
            had_keyboard = self.card.isAncestorOf(self._window.focusWidget() or self._window)
            self.running = False
            self._window.removeEventFilter(self)
            self._remember()
            self._settle.stop()
            self.card.hide()
            self.outline.hide()
            if had_keyboard:
                self._window.plan.setFocus()

    def skip(self) -> None:
        """Go on without the step that is on; at the end, take up what was skipped."""
        if self.at is not None:
            self._skipped |= {STEPS[self.at].key}
        else:
            self._skipped = frozenset()
        self._look_again()

    @property
    def step(self) -> Step | None:
        """The step that is on."""
        return STEPS[self.at] if self.at is not None else None

    # Watching

    def _analysis_changed(self, analysis: Analysis) -> None:
        # In mid-drag nothing is done yet: only what is committed counts.
        if self.running and analysis.build is self._window.session.build:
            self._watch(analysis)

    def _finding_read(self, _finding: Finding) -> None:
        self._read = True
        self._look_again()

    def _plan_exported(self, _path: object) -> None:
        self._exported = True
        self._look_again()

    def _look_again(self, *_: object) -> None:
        if self.running:
            self._told = ()
            self._watch(self._window.session.settled)

    def _document_changed(self, _build: object) -> None:
        self._told = ()

    def _watch(self, analysis: Analysis) -> None:
        watched = Watched(analysis, self._read, self._exported)
        self.ticks = done(watched)
        self.at = next_step(self.ticks, self._skipped)
        told = (self.ticks, self.at)
        if told != self._told:
            if not self._told or told[1] != self._told[1]:
                self.card.was_dragged = False
            self._told = told
            self._say()

    # The card

    def _say(self) -> None:
        step, theme = self.step, self._window.session.theme
        total = len(STEPS)
        if step is None or self.at is None:
            count = f"{sum(self.ticks)} of {total} done"
            title, text = (_END_TITLE, _END_TEXT) if all(self.ticks) else (_LAST_TITLE, _LAST_TEXT)
        else:
            count, title, text = f"Step {self.at + 1} of {total}", step.title, step.text
        self.card.show_words(count, title, text)
        self.card.ticks.show_ticks(self.ticks, self.at, theme)
        self.card.find_it.setVisible(step is not None and bool(step.find))
        self.card.skip.setVisible(step is not None or not all(self.ticks))
        self.card.skip.setText("Skip" if step is not None else "Take Up the Skipped Steps")
        self.card.leave.setText("Leave" if step is not None else "Close")
        self.outline.colour = theme.selection
        self._place()
        QAccessible.updateAccessibility(QAccessibleEvent(self.card, QAccessible.Event.Alert))

    def _place(self) -> None:
        """Put the card and the outline beside the part where the step is done."""
        if not self.running or self._window.at_start:
            self.card.hide()
            self.outline.hide()
            return
        window = self._window
        where = self.step.where if self.step is not None else "plan"
        target = self._target(where)
        box = QRect(target.mapTo(window, QPoint(0, 0)), target.size())
        self.outline.setGeometry(box)
        self.outline.setVisible(self.step is not None)
        self.outline.raise_()
        room = QRect(window.plan.mapTo(window, QPoint(0, 0)), window.plan.size())
        size = self.card.size_in(window.size())
        if size.height() + 24 > room.height() or size.width() + 24 > room.width():
            room = window.rect()
        stays = self.card.was_dragged and window.rect().contains(QRect(self.card.pos(), size))
        corner = self.card.pos() if stays else place_beside(box, where, size, room)
        self.card.setGeometry(QRect(corner, size))
        self.card.show()
        self.card.raise_()

    def _target(self, where: str) -> QWidget:
        window = self._window
        if where == "tools":
            return window.tools
        if where in window.arrangement.folds:
            fold = window.arrangement.folds[where]
            return fold if fold.isVisible() else window.arrangement.folds["boards"]
        return window.plan

    def _find(self) -> None:
        if self.step is not None and self.step.find:
            self._window.show_panel("stock")
            self._window.left.show_page("Stock")
            self._window.stock.field.setText(self.step.find)
            self._window.stock.focus_search()

    def _moved(self) -> None:
        if self.running:
            self._settle.start()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if self.running and event.type() in (QEvent.Type.Resize, QEvent.Type.LayoutRequest):
            self._settle.start()
        elif event.type() == QEvent.Type.Close:
            self._settle.stop()
        return False

    # Remembering

    def _remember(self) -> None:
        seen = [name for name, on in (("read", self._read), ("exported", self._exported)) if on]
        settings.remember("guide", "\n".join((*seen, *sorted(self._skipped))))

    def _recall(self) -> None:
        stored = set(settings.text("guide").split("\n"))
        self._read = self._read or "read" in stored
        self._exported = self._exported or "exported" in stored
        self._skipped = frozenset(step.key for step in STEPS if step.key in stored)
