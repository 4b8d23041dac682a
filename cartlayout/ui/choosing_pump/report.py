"""The window of a supply, and what is said of a pump, as the panel shows them."""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from ...advice.pumps import PumpChoice
from ...analysis import Analysis
from ...documents.theme import Theme
from ...units import UnitSystem, show
from ...water.supply_results import SupplyWindow
from .. import widgets
from ..boards.supply_bar import SupplyBar
from ..boards.supply_rows import supply_row
from ..boards.tap_rows import scale_to
from ..commands import sentence
from ..details.facts import Fact
from ..details.views import FactsView
from ..trying import Line, TrialReport
from .words import arrival_facts, choice_facts, verdict, window_facts


class Report(TrialReport):
    """A page of facts and sentences."""

    def __init__(self, most: int = 0) -> None:
        super().__init__(spacing=4)
        self._page: QWidget | None = None
        self.most = most
        """It is as high as what it shows, up to so many pixels; 0: as high as there is room."""

    def show_window(
        self, window: SupplyWindow | None, analysis: Analysis, theme: Theme, system: UnitSystem
    ) -> None:
        """Show what a supply has to give."""
        if window is None:
            self.say("What its taps need is found out by trying: no pump gives water here yet.")
            return
        row = supply_row(analysis, window, system)
        bar = SupplyBar(row, scale_to(row.top_pa, system), theme)
        parts: list[QWidget] = [bar, _facts(window_facts(window, system))]
        if not window.is_open:
            words = "No pressure does for all of its taps."
            parts.append(Line(words, "stop", theme))
        for point in window.set_points:
            at = show(point.set_point_pa, "pressure", system)
            verb = "Set the regulator" if point.regulator else "Put a regulator"
            words = f"{verb} before {point.name}{' to' if point.regulator else ', set to'} {at}."
            parts.append(Line(words, "note", theme))
        if window.arrival is not None:
            parts.append(widgets.label("On arrival", "title"))
            parts.append(_facts(arrival_facts(window.arrival, system)))
        self._show(parts)

    def show_choice(self, choice: PumpChoice, theme: Theme, system: UnitSystem) -> None:
        """Show what came of trying a pump."""
        parts: list[QWidget] = []
        if choice.reason is not None:
            parts.append(Line(sentence(choice.reason.shown(system)), verdict(choice), theme))
        facts = choice_facts(choice, system)
        if facts:
            parts.append(_facts(facts))
        parts += [Line(one.shown(system), "stop", theme) for one in choice.new_stops]
        parts += [Line(sentence(one), "note", theme, "muted") for one in choice.remarks]
        self._show(parts)

    def _show(self, parts: list[QWidget]) -> QWidget:
        self._page = super()._show(parts)
        self._fit()
        return self._page

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        if self.most and self._page is not None:
            width = max(self.viewport().width() - 6, 60)
            wanted = self._page.heightForWidth(width) if self._page.hasHeightForWidth() else 0
            wanted = max(wanted, self._page.minimumSizeHint().height()) + 6
            self.setFixedHeight(min(wanted, self.most))


def _facts(facts: tuple[Fact, ...]) -> FactsView:
    made = FactsView()
    made.show_facts(facts)
    return made
