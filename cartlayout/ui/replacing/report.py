"""What an exchange would bring, as the panel shows it under the list."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from ...documents.theme import Theme
from ...findings.finding import Finding
from ...network import Replacement
from ...units import UnitSystem, counted
from .. import widgets
from ..details.views import FactsView
from ..marks import mark_pixmap
from .comparison import ARROW, Comparison

_SAID = {"changed": "care", "moved": "care", "dropped": "stop"}


class Line(QWidget):
    """A mark and a sentence that breaks."""

    def __init__(self, text: str, mark: str, theme: Theme, role: str = "") -> None:
        super().__init__()
        picture = QLabel()
        picture.setFixedSize(QSize(14, 16))
        picture.setPixmap(mark_pixmap(theme.mark(mark), 13, self.devicePixelRatioF()))
        picture.setAccessibleName(theme.mark(mark).word)
        self.words = widgets.wrapped(text, role)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(7)
        row.addWidget(picture, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.words, 1)


class Report(widgets.ColumnArea):
    """Counts, numbers, findings, and what became of the wires and tubes."""

    def __init__(self) -> None:
        super().__init__(spacing=5)
        self.setAccessibleName("What would change")

    def say(self, sentence: str) -> None:
        """Show one sentence and nothing else."""
        self.clear()
        self.add(widgets.wrapped(sentence, "muted"))

    def show_outcome(
        self, replacement: Replacement, found: Comparison, theme: Theme, system: UnitSystem
    ) -> None:
        """Show what an exchange would bring."""
        self.clear()
        self.add(_counts(found, theme))
        if found.facts:
            facts = FactsView()
            facts.show_facts(found.facts)
            self.add(facts)
        for remark in replacement.remarks:
            self.add(Line(remark, "note", theme, "muted"))
        self._runs(replacement, theme)
        self._findings("Comes", found.come, theme, system, gone=False)
        self._findings("Goes", found.gone, theme, system, gone=True)
        self.verticalScrollBar().setValue(0)

    def _runs(self, replacement: Replacement, theme: Theme) -> None:
        if not replacement.runs:
            return
        self.add(widgets.label("Wires and tubes", "title"))
        kept = replacement.of("kept")
        if kept:
            ways = counted(len(kept), "connection")
            line = Line(f"{ways} as {'it is' if len(kept) == 1 else 'they are'}", "ok", theme)
            line.words.setToolTip("\n".join(one.text for one in kept))
            self.add(line)
        for what, mark in _SAID.items():
            for one in replacement.runs:
                if one.what == what:
                    self.add(Line(one.text, mark, theme))

    def _findings(
        self,
        heading: str,
        findings: tuple[Finding, ...],
        theme: Theme,
        system: UnitSystem,
        *,
        gone: bool,
    ) -> None:
        if not findings:
            return
        self.add(widgets.label(f"{heading} ({len(findings)})", "title"))
        for one in findings:
            mark = "ok" if gone else one.severity
            line = Line(one.title.shown(system), mark, theme, "muted" if gone else "")
            self.add(line)


def _counts(found: Comparison, theme: Theme) -> QWidget:
    """Stops, cares and notes, before and after."""
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 2, 0, 2)
    row.setSpacing(4)
    spoken = []
    for severity, before, after in found.counts:
        picture = QLabel()
        picture.setPixmap(mark_pixmap(theme.mark(severity), 13, made.devicePixelRatioF()))
        text = f"{before}{ARROW}{after}" if before != after else f"{after}"
        number = widgets.label(text, "strong")
        if after != before and severity != "note":
            widgets.set_state(number, "state", "stop" if after > before else "ok")
        number.setToolTip(f"{theme.mark(severity).word}: {before} now, {after} with it")
        row.addWidget(picture)
        row.addWidget(number)
        row.addSpacing(10)
        spoken.append(f"{severity} {text}")
    row.addStretch(1)
    made.setAccessibleName(", ".join(spoken))
    return made
