"""The list of remedies: what is done, and under it the number that comes of it."""

from collections.abc import Sequence

from ...advice.remedies import Remedy
from ...documents.theme import Theme
from ...units import UnitSystem
from ..trying import TallList
from .words import effort_word, verdict


class RemedyList(TallList):
    """Remedies, the best first; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.setAccessibleName("Remedies")

    def fill(self, remedies: Sequence[Remedy], theme: Theme, system: UnitSystem) -> None:
        """Show other remedies; the current one stays current."""
        before = self.current_key()
        self.rows.theme = theme
        self.blockSignals(True)
        self.clear()
        for one in remedies:
            words = (one.outcome.shown(system), effort_word(one.effort))
            self.add_row(key_of(one), verdict(one), one.title.shown(system), words)
        if before:
            self.choose(before)
        self.fit_rows()
        self.blockSignals(False)


def key_of(remedy: Remedy) -> str:
    """What a remedy's row is known by: what it does, to what."""
    return "\n".join((remedy.kind, remedy.title.shown(UnitSystem.METRIC), *remedy.items))
