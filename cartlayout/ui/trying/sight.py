"""A panel of trials that looks elsewhere while it is open, and gives back what was looked at."""

from PySide6.QtWidgets import QWidget

from ...analysis import Analysis
from ...build import Build
from ..selection import Selection
from ..session import Session
from .panel import TryingPanel


class SightedPanel(TryingPanel):
    """Selects and shows levels as its rows need; leaving it shows what was shown before.

    What the person selects while it is open is theirs: then it is left, and nothing is given back.
    """

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(session, window)
        self._level = ""
        """Where the plan was looked at before a row showed another level; empty: it stays."""
        self._selected: Selection | None = None
        """What was selected before a row selected something; None: what is selected stays."""
        self._selects = False

    def cancel(self) -> None:
        """Leave everything as it was, and show it as it was shown."""
        level, selected = self._level, self._selected
        super().cancel()
        if level:
            self._session.set_level(level)
        if selected is not None:
            self._select(selected)

    def _remember(self) -> None:
        """What is looked at now is given back when it is left."""
        self._level, self._selected = self._session.level, self._session.selection

    def _stay(self) -> None:
        """What is looked at now stays so."""
        self._level, self._selected = "", None

    def _forget(self) -> None:
        self._stay()

    def _select(self, selection: Selection) -> None:
        self._selects = True
        self._session.select(selection)
        self._selects = False

    def _levels_of(self, build: Build, items: tuple[str, ...]) -> list[str]:
        """On which levels of the cart some items stand."""
        found = [item.level for one in items if (item := build.item(one)) is not None]
        return [one for one in found if build.cart.level(one) is not None]

    def _show_changes(self, before: Analysis | None) -> None:
        """Let the plan draw where things were; None: not any more."""
        plan = getattr(self._window, "plan", None)
        if plan is not None:
            plan.before.show(before)

    def _analysis_changed(self, _analysis: Analysis) -> None:
        session = self._session
        if self.is_open and session.shown not in (self._shows, session.build):
            self._close()  # something else is shown, such as a drag on the plan

    def _selection_changed(self, selection: Selection) -> None:
        if self.is_open and selection and not self._selects:
            self._stay()
            self.cancel()

    def _build_changed(self, build: Build) -> None:
        self.cancel()
