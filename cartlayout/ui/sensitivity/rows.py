"""The list of thresholds: the condition, and under it what is said then."""

from collections.abc import Sequence

from ...advice.sensitivity import Threshold
from ...advice.sensitivity.words import cause_word, verdict
from ...documents.theme import Theme
from ...units import UnitSystem
from ..trying import TallList


class ThresholdList(TallList):
    """Thresholds, those nearest to what is taken now first; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.setAccessibleName("Figures to check, the nearest first")

    def fill(self, thresholds: Sequence[Threshold], theme: Theme, system: UnitSystem) -> None:
        """Show others; the current one stays current."""
        before = self.current_key()
        self.rows.theme = theme
        self.blockSignals(True)
        self.clear()
        for one in thresholds:
            words = (one.consequence.shown(system), cause_word(one.unknown))
            self.add_row(key_of(one), verdict(one), one.condition.shown(system), words)
        if before:
            self.choose(before)
        self.fit_rows()
        self.blockSignals(False)


def key_of(threshold: Threshold) -> str:
    """What a row is known by: the figure, the side, and what turns."""
    first = (threshold.come or threshold.gone)[0]
    words = threshold.choice.words if threshold.choice is not None else ""
    return "\n".join((threshold.unknown.key, threshold.side, words, first.code, *first.items))
