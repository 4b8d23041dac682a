"""What is known of one threshold, as the panel shows it under the list."""

from PySide6.QtWidgets import QWidget

from ...advice.sensitivity import Threshold
from ...advice.sensitivity.words import ONE_AT_A_TIME, range_words, taken_words
from ...documents.theme import Theme
from ...units import UnitSystem
from .. import widgets
from ..commands import sentence
from ..trying import Line, TrialReport


class ThresholdReport(TrialReport):
    """What is taken now, between what it was tried, and everything that turns."""

    def __init__(self) -> None:
        super().__init__(spacing=5)
        self.setAccessibleName("What is known of this figure")

    def show_threshold(self, one: Threshold, theme: Theme, system: UnitSystem) -> None:
        """Show everything about a threshold."""
        unknown = one.unknown
        parts: list[QWidget] = [
            widgets.label("Taken now", "title"),
            Line(sentence(taken_words(unknown, system)), "note", theme),
        ]
        if unknown.basis:
            parts.append(widgets.wrapped(sentence(unknown.basis), "muted"))
        parts.append(widgets.label("Tried", "title"))
        words = f"{range_words(unknown, system)}: {unknown.rule}"
        parts.append(widgets.wrapped(sentence(words), ""))
        if unknown.source:
            parts.append(widgets.wrapped(sentence(unknown.source), "caption"))
        for heading, found, mark in (("Then", one.come, ""), ("No longer so", one.gone, "ok")):
            if found:
                parts.append(widgets.label(heading, "title"))
            for finding in found:
                words = finding.title.shown(system)
                parts.append(Line(words, mark or finding.severity, theme))
        parts.append(widgets.wrapped(ONE_AT_A_TIME, "caption"))
        self._show(parts)
