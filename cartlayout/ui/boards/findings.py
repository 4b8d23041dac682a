"""The findings board: what the program says about the build, worst first."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from ...documents.theme import Theme
from ...findings.finding import Finding, Severity
from ...findings.number import Number
from ...units import UnitSystem
from .. import widgets
from ..marks import mark_icon, mark_pixmap
from ..selection import Selection
from ..session import Session
from .board import Board

MOST_SPARE = 24
"""So many unused cards are kept: in a drag findings come and go at every step."""
Key = tuple[str, tuple[str, ...], tuple[str, ...], int]
_WORDS: dict[Severity, tuple[str, str]] = {
    "stop": ("Stop", "Will fail, or is not allowed"),
    "care": ("Care", "May fail: check it"),
    "note": ("Note", "Worth knowing"),
}


class FindingCard(QFrame):
    """One finding: severity and title; once chosen, what to do and where the limit is from."""

    chosen = Signal(object)
    """The Finding."""
    remedies_asked = Signal(object)
    """The Finding whose remedies are to be seen."""
    working_asked = Signal(object)
    """Number of the finding whose whole working is to be seen."""

    def __init__(self, finding: Finding, system: UnitSystem, theme: Theme) -> None:
        super().__init__()
        self.finding = finding
        self._shown: tuple[object, ...] = ()
        self._open = False
        self.setProperty("card", True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.mark = QLabel()
        self.mark.setFixedSize(QSize(16, 16))
        self.title = widgets.wrapped("", "strong")
        self.detail = widgets.wrapped("", "muted")
        self.source = widgets.wrapped("", "caption")
        self.working = widgets.wrapped("", "caption")
        self.more = QToolButton()
        self.more.setProperty("link", True)
        self.more.setCheckable(True)
        self.more.setToolTip("The numbers that went in, for checking by hand")
        self.more.toggled.connect(self._fold)
        self.more.clicked.connect(self._ask_working)
        self.remedies = widgets.LinkButton(fills=True)
        self.remedies.hide()
        self.remedies.clicked.connect(self._ask_remedies)
        texts = QVBoxLayout()
        texts.setSpacing(2)
        texts.setContentsMargins(0, 0, 0, 0)
        for text in (self.title, self.detail, self.source, self.working):
            texts.addWidget(text)
        texts.insertWidget(2, self.remedies)
        texts.insertWidget(4, self.more, 0, Qt.AlignmentFlag.AlignLeft)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(8, 6, 8, 6)
        whole.setSpacing(8)
        whole.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        whole.addLayout(texts, 1)
        self.show_finding(finding, system, theme)
        self._fold()

    def show_finding(self, finding: Finding, system: UnitSystem, theme: Theme) -> None:
        """Show other numbers of the same finding."""
        shown = (finding, system, theme.name)
        if shown == self._shown:
            return
        self._shown = shown
        self.finding = finding
        mark = theme.mark(finding.severity)
        title = finding.title.shown(system)
        self.mark.setPixmap(mark_pixmap(mark, 15, self.devicePixelRatioF()))
        self.title.setText(title)
        self.detail.setText(finding.detail.shown(system))
        self.source.setText(f"Limit from: {finding.source}" if finding.source else "")
        self.working.setText("\n".join(line.shown(system) for line in finding.working))
        self.setAccessibleName(f"{mark.word}: {title}")
        self.setAccessibleDescription(finding.detail.shown(system))
        self.setToolTip("" if self._open else finding.detail.shown(system))
        self._fold()

    @property
    def is_open(self) -> bool:
        """Whether everything is shown."""
        return self._open

    def set_open(self, is_open: bool) -> None:
        """Show everything, or the title alone."""
        if is_open != self._open:
            self._open = is_open
            self._fold()

    def say_remedies(self, text: str, tip: str = "") -> None:
        """What is known of its remedies; nothing takes the line away."""
        self.remedies.set_whole(text)
        self.remedies.setToolTip(tip)
        self.remedies.setVisible(self._open and bool(text))

    def _ask_remedies(self) -> None:
        self.remedies_asked.emit(self.finding)

    def _ask_working(self) -> None:
        """The whole working where the finding has one; else the lines below are folded."""
        if self.finding.number is not None:
            self.working_asked.emit(self.finding.number)

    def told_numbers(self) -> tuple[Number, ...]:
        """What the finding is about, for whoever asks how it came about."""
        return (self.finding.number,) if self.finding.number is not None else ()

    def fold_up(self) -> None:
        """Show the title alone, and no working when it is opened again."""
        self.say_remedies("")
        self.more.setChecked(False)
        self.set_open(False)

    def _fold(self, *_: object) -> None:
        has_number = self.finding.number is not None
        self.more.setCheckable(not has_number)
        has_working = has_number or bool(self.working.text())
        self.more.setText("Hide working" if self.more.isChecked() else "Show working")
        self.more.setVisible(self._open and has_working)
        self.remedies.setVisible(self._open and bool(self.remedies.whole))
        self.detail.setVisible(self._open)
        self.source.setVisible(self._open and bool(self.source.text()))
        self.working.setVisible(
            self._open and has_working and not has_number and self.more.isChecked()
        )
        self.setToolTip("" if self._open else self.detail.text())
        widgets.set_state(self, "open", self._open)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(self.finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self.finding)
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.focusNextPrevChild(event.key() == Qt.Key.Key_Down)
        else:
            super().keyPressEvent(event)


class FindingsBoard(Board):
    """Cards, worst first, with a chip a severity to leave some out."""

    chosen = Signal(object)
    """Finding that was opened or shown on the plan."""
    remedies_asked = Signal(object)
    """Finding whose remedies are to be seen."""
    mend_asked = Signal()
    """Everything that can be mended is to be."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Findings", parent)
        self._session = session
        self._cards: dict[Key, FindingCard] = {}
        self._spare: list[FindingCard] = []
        self._counted: tuple[object, ...] = ()
        self._open: Key | None = None
        self.mend = widgets.LinkButton("Mend…")
        self.mend.setToolTip("Mend what can be mended: a few changes that clear the stops")
        self.mend.clicked.connect(self.mend_asked)
        self.mend.setMinimumWidth(self.mend.sizeHint().width())
        self.head.addWidget(self.mend)
        self.chips = {severity: widgets.chip(word, tip) for severity, (word, tip) in _WORDS.items()}
        for chip in self.chips.values():
            chip.setChecked(True)
            chip.toggled.connect(self._refresh)
            self.head.addWidget(chip)
        self.area.column.setSpacing(5)
        session.analysis_changed.connect(self._refresh)
        session.system_changed.connect(self._refresh)
        session.theme_changed.connect(self._refresh)
        self._refresh()

    @property
    def cards(self) -> tuple[FindingCard, ...]:
        """The cards from top to bottom."""
        return tuple(self._cards.values())

    @property
    def open_finding(self) -> Finding | None:
        """The finding whose card is open, as it is said now."""
        card = self.open_widget
        return card.finding if card is not None else None

    def say_remedies(self, text: str, tip: str = "") -> None:
        """Say in the open card what is known of its remedies."""
        card = self.open_widget
        if card is not None:
            card.say_remedies(text, tip)

    def open_card(self, finding: Finding) -> None:
        """Open the card of a finding, as a click on it would; nothing if it is left out."""
        card = next((one for one in self._cards.values() if one.finding is finding), None)
        if card is not None and not card.is_open:
            self._chosen(finding)

    @property
    def open_widget(self) -> FindingCard | None:
        """The card that is open; None while there is no such finding."""
        return self._cards.get(self._open) if self._open is not None else None

    def _refresh(self, *_: object) -> None:
        session = self._session
        findings = session.analysis.findings
        self._show_chips(findings)
        wanted = _keyed([one for one in findings if self.chips[one.severity].isChecked()])
        if list(wanted) != list(self._cards):
            self._arrange(wanted)
        for key, finding in wanted.items():
            card = self._cards[key]
            card.show_finding(finding, session.system, session.theme)
            card.set_open(key == self._open)
        if findings and not wanted:
            self.say_empty("The chips above leave every finding out.")
        elif not findings:
            self.say_empty(
                "Nothing to stop for. The program found no fault in what is drawn; "
                "what is not drawn it cannot judge.\n\n"
                "Looked at with every change: breakers, plugs, cords and voltage drop; pressure "
                "and flow at every tap; tanks and drains; overlap, clearances, weight and tilt. "
                "A fault would stand here with its number, its limit and where the limit is from."
            )
        else:
            self.say_empty("")

    def _arrange(self, wanted: dict[Key, Finding]) -> None:
        """Keep the cards that stay, so that focus and scroll position stay too."""
        for key in [key for key in self._cards if key not in wanted]:
            card = self._cards.pop(key)
            card.hide()
            if len(self._spare) < MOST_SPARE:
                self._spare.append(card)
            else:
                self.area.column.removeWidget(card)
                card.deleteLater()
        arranged: dict[Key, FindingCard] = {}
        for at, (key, finding) in enumerate(wanted.items()):
            card = self._cards.get(key) or self._new_card(finding)
            if self.area.column.indexOf(card) != at:
                self.area.column.removeWidget(card)
                self.area.column.insertWidget(at, card)
            card.show()
            arranged[key] = card
        self._cards = arranged

    def _new_card(self, finding: Finding) -> FindingCard:
        if self._spare:
            spare = self._spare.pop()
            spare.fold_up()
            return spare
        card = FindingCard(finding, self._session.system, self._session.theme)
        card.chosen.connect(self._chosen)
        card.remedies_asked.connect(self.remedies_asked)
        card.working_asked.connect(self._session.working_requested)
        return card

    def _show_chips(self, findings: tuple[Finding, ...]) -> None:
        theme = self._session.theme
        counts = {
            severity: sum(1 for one in findings if one.severity == severity)
            for severity in self.chips
        }
        shown = (tuple(counts.values()), theme.name)
        if shown == self._counted:
            return
        self._counted = shown
        self.mend.setVisible(counts["stop"] > 0)
        for severity, chip in self.chips.items():
            count = counts[severity]
            word, tip = _WORDS[severity]
            chip.setText(str(count))
            chip.setIcon(mark_icon(theme, severity))
            chip.setToolTip(f"{word}: {tip}. {count} now; click to leave them out or show them.")
            chip.setAccessibleName(f"{count} {word}")

    def _chosen(self, finding: Finding) -> None:
        key = next((key for key, card in self._cards.items() if card.finding is finding), None)
        self._open = None if key == self._open else key
        for one, card in self._cards.items():
            card.set_open(one == self._open)
            if one != self._open:
                card.say_remedies("")
        if key is not None and self._open is not None:
            self.area.bring_up(self._cards[key])
        self._session.show_on_plan(Selection(finding.items, finding.runs))
        self.chosen.emit(finding)


def _keyed(findings: list[Finding]) -> dict[Key, Finding]:
    """Give every finding a key that stays the same while its numbers change."""
    made: dict[Key, Finding] = {}
    for finding in findings:
        number = 0
        key = (finding.code, finding.items[:1], finding.runs, number)
        while key in made:
            number += 1
            key = (finding.code, finding.items[:1], finding.runs, number)
        made[key] = finding
    return made
