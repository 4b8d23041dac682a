"""What explains the readings: a card for every cause, the likely ones first."""

from collections.abc import Iterator

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from ...advice.diagnosis import Cause, Diagnosis
from ...advice.further import Further
from ...build import Build
from ...documents.theme import Theme
from ...units import UnitSystem, counted, show
from .. import widgets
from ..commands import sentence
from ..details.editors import small_button
from ..marks import mark_pixmap

_MOST_OTHERS = 3

_ALL = {1: "Explains the reading", 2: "Explains both readings"}


class CauseCard(QFrame):
    """One cause: what it is, how much it explains, and a button that takes it over."""

    chosen = Signal(object)
    """The Cause, to be shown on the plan."""
    taken = Signal(object)
    """The Cause, to be taken over."""

    def __init__(self, cause: Cause, likely: bool, theme: Theme, system: UnitSystem) -> None:
        super().__init__()
        self.cause = cause
        self.setProperty("card", True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        state = "care" if likely else "note"
        self.mark = QLabel()
        self.mark.setFixedSize(QSize(16, 16))
        self.mark.setPixmap(mark_pixmap(theme.mark(state), 15, self.devicePixelRatioF()))
        words = sentence(cause.words.shown(system))
        self.title = widgets.wrapped(words, "strong" if likely else "")
        self.detail = widgets.wrapped(_explains(cause), "caption")
        label = cause.taken.shown(system)
        self.take = small_button("Take it so", f"{label}: put this value into the build")
        self.take.clicked.connect(self._take)
        texts = QVBoxLayout()
        texts.setSpacing(2)
        texts.setContentsMargins(0, 0, 0, 0)
        texts.addWidget(self.title)
        texts.addWidget(self.detail)
        texts.addWidget(self.take, 0, Qt.AlignmentFlag.AlignLeft)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(8, 6, 8, 6)
        whole.setSpacing(8)
        whole.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        whole.addLayout(texts, 1)
        self.setAccessibleName(words)
        self.setAccessibleDescription(self.detail.text())
        self.setToolTip("Click to see it on the plan")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(self.cause)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self.cause)
        else:
            super().keyPressEvent(event)

    def _take(self) -> None:
        self.taken.emit(self.cause)


def _explains(cause: Cause) -> str:
    count = len(cause.readings)
    if cause.explains_all:
        words = _ALL.get(count, f"Explains all {count} readings")
    else:
        words = f"Explains {cause.explains} of {counted(count, 'reading')}"
    if len(cause.runs) > 1:
        others = len(cause.runs) - 1
        words += f"; it may as well be {'the tube' if others == 1 else f'one of {others} tubes'} "
        words += "beside it, no gauge lies between"
    if cause.sways:
        words += ". A needle that goes to and fro speaks for it, one that stands against it"
    return f"{words}."


class CauseList(QWidget):
    """What a diagnosis says."""

    chosen = Signal(object)
    taken = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.cards: list[CauseCard] = []
        self.notes: list[QLabel] = []
        self._shown: tuple[object, ...] = ()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(5)

    def show_diagnosis(self, diagnosis: Diagnosis | None, theme: Theme, system: UnitSystem) -> None:
        """Show another one, or none."""
        shown = (diagnosis, theme.name, system)
        if self._shown and shown[1:] == self._shown[1:] and diagnosis is self._shown[0]:
            return
        self._shown = shown
        for widget in (*self.cards, *self.notes):
            widget.hide()
            widget.deleteLater()
        self.cards, self.notes = [], []
        if diagnosis is None:
            return
        self._note(verdict(diagnosis), "strong" if diagnosis.causes else "")
        likely = {id(one) for one in diagnosis.likely}
        others = 0
        for cause in diagnosis.causes:
            is_likely = id(cause) in likely
            others += not is_likely
            if is_likely or others <= _MOST_OTHERS:
                self._card(cause, is_likely, theme, system)
        for words in _advice(diagnosis, system):
            self._note(words, "muted")

    def _note(self, words: str, role: str) -> None:
        label = widgets.wrapped(words, role)
        self.notes.append(label)
        self._column.addWidget(label)

    def _card(self, cause: Cause, likely: bool, theme: Theme, system: UnitSystem) -> None:
        card = CauseCard(cause, likely, theme, system)
        card.chosen.connect(self.chosen)
        card.taken.connect(self.taken)
        self.cards.append(card)
        self._column.addWidget(card)


def verdict(diagnosis: Diagnosis) -> str:
    """In one sentence, what came of it."""
    if not diagnosis.readings:
        return "Type what a gauge shows first."
    if not diagnosis.off:
        return "Nothing to explain: every gauge shows what it should, within its error."
    if not diagnosis.causes:
        return "No single cause explains any of it: more than one thing is wrong, or a gauge is."
    best = diagnosis.causes[0]
    if not best.explains_all:
        return (
            "No single cause explains all of it. More than one thing may be wrong, or a gauge is; "
            "this comes nearest:"
        )
    if diagnosis.tellable:
        return "One cause explains it:"
    return f"These readings cannot tell {len(diagnosis.likely)} causes apart:"


def _advice(diagnosis: Diagnosis, system: UnitSystem) -> Iterator[str]:
    if len(diagnosis.likely) > 1:
        yield from _next(diagnosis, system)
    if diagnosis.off and diagnosis.unseen:
        names = " and ".join(_name(diagnosis.build, one) for one in diagnosis.unseen)
        yield (
            f"No reading of a line at rest or in steady flow tells of the air in {names}: "
            "let the water out and gauge its pre-charge."
        )


def _next(diagnosis: Diagnosis, system: UnitSystem) -> Iterator[str]:
    if not diagnosis.further:
        yield "No further reading in this line would tell them apart: look at each."
        return
    best = diagnosis.further[0]
    lines = [f"{_place(diagnosis.build, best)} in '{best.case}' would tell more:"]
    for cause, (low_pa, high_pa) in zip(diagnosis.likely, best.shows, strict=True):
        shows = show(high_pa, "pressure", system)
        if high_pa - low_pa > 500.0:
            shows = f"{show(low_pa, 'pressure', system)} to {shows}"
        lines.append(f"• {shows} if {cause.words.shown(system)}")
    yield "\n".join(lines)


def _place(build: Build, further: Further) -> str:
    if further.gauge:
        return f"Reading {_name(build, further.gauge)}"
    item_id, port = further.node
    return f"A gauge at {_name(build, item_id)}, {port},"


def _name(build: Build, item_id: str) -> str:
    item = build.item(item_id)
    return item.name if item is not None else item_id
