"""What an exchange would bring, as the panel shows it under the list."""

from PySide6.QtWidgets import QWidget

from ...documents.theme import Theme
from ...network import Replacement
from ...units import UnitSystem, counted
from .. import widgets
from ..details.views import FactsView
from ..trying import CountsLine, Line, TrialReport
from .comparison import Comparison

_SAID = {"changed": "care", "moved": "care", "dropped": "stop"}


class Report(TrialReport):
    """Counts, numbers, findings, and what became of the wires and tubes."""

    def __init__(self) -> None:
        super().__init__(spacing=5)
        self.setAccessibleName("What would change")

    def show_outcome(
        self, replacement: Replacement, found: Comparison, theme: Theme, system: UnitSystem
    ) -> None:
        """Show what an exchange would bring."""
        parts: list[QWidget] = [CountsLine(found.counts, theme)]
        if found.facts:
            facts = FactsView()
            facts.show_facts(found.facts)
            parts.append(facts)
        parts += [Line(remark, "note", theme, "muted") for remark in replacement.remarks]
        parts += _runs(replacement, theme)
        for heading, findings, mark in (("Comes", found.come, ""), ("Goes", found.gone, "ok")):
            if findings:
                parts.append(widgets.label(f"{heading} ({len(findings)})", "title"))
            for one in findings:
                words = one.title.shown(system)
                parts.append(Line(words, mark or one.severity, theme, "muted" if mark else ""))
        self._show(parts)


def _runs(replacement: Replacement, theme: Theme) -> list[QWidget]:
    """What became of the wires and tubes."""
    if not replacement.runs:
        return []
    parts: list[QWidget] = [widgets.label("Wires and tubes", "title")]
    kept = replacement.of("kept")
    if kept:
        ways = counted(len(kept), "connection")
        line = Line(f"{ways} as {'it is' if len(kept) == 1 else 'they are'}", "ok", theme)
        line.words.setToolTip("\n".join(one.text for one in kept))
        parts.append(line)
    for what, mark in _SAID.items():
        parts += [Line(one.text, mark, theme) for one in replacement.runs if one.what == what]
    return parts
