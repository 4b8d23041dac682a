"""What a remedy would bring, as the panel shows it under the list."""

from PySide6.QtWidgets import QWidget

from ...advice.remedies.model import Remedy
from ...documents.theme import Theme
from ...units import UnitSystem
from .. import widgets
from ..commands import sentence
from ..trying import Line, TrialReport
from .words import also_gone, effort_tip

LICENSED = "Planning aid only. Licensed electricians and plumbers and the local code decide."


class RemedyReport(TrialReport):
    """What it takes to do a remedy, what goes and comes with it, and who has to do it."""

    def __init__(self) -> None:
        super().__init__(spacing=5)
        self.setAccessibleName("What the remedy brings")

    def show_remedy(self, remedy: Remedy, theme: Theme, system: UnitSystem) -> None:
        """Show everything about a remedy."""
        parts: list[QWidget] = [Line(effort_tip(remedy.effort), "note", theme)]
        parts += [Line(sentence(one), "care", theme) for one in remedy.cautions]
        gone = also_gone(remedy)
        for heading, found, mark in (("Also goes", gone, "ok"), ("Comes", remedy.come, "")):
            if found:
                parts.append(widgets.label(f"{heading} ({len(found)})", "title"))
            for one in found:
                words = one.title.shown(system)
                parts.append(Line(words, mark or one.severity, theme, "muted" if mark else ""))
        parts.append(widgets.wrapped(LICENSED, "caption"))
        self._show(parts)
