"""The plan beside another state of the build: where things were is drawn over where they are."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from ...analysis import Analysis
from ...documents.plan import PlanOptions, PlanPicture, plan_picture
from .changes import NONE, Side, changed

if TYPE_CHECKING:
    from .view import PlanView


class Before(QObject):
    """Keeps what the plan is held against while somebody asks for it."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self._view = view
        self._analysis: Analysis | None = None
        self._picture: PlanPicture | None = None
        self._turned = False

    @property
    def is_on(self) -> bool:
        """Whether the plan is held against anything."""
        return self._analysis is not None

    def show(self, analysis: Analysis | None, *, turned: bool = False) -> None:
        """Draw where things were in an analysed build; None: no more.

        Args:
            analysis: of the other state of the build.
            turned: that is the later one, and the plan shows the earlier.
        """
        if analysis is not self._analysis:
            self._analysis, self._picture = analysis, None
            self.point_at(())
        self._turned = turned
        self.refreshed()

    def point_at(self, ids: Iterable[str]) -> None:
        """Draw strongly where these were."""
        self._view.plan.changes.point_at(frozenset(ids))

    def refreshed(self) -> None:
        """The plan shows another picture."""
        layer, now = self._view.plan.changes, self._view.plan.picture
        if self._analysis is None or now is None:
            layer.show_changes(NONE)
            return
        old = Side(self._analysis, self._drawn(self._analysis, now.options))
        found = changed(old, Side(self._view.session.drawn, now))
        layer.show_changes(found.turned() if self._turned else found)

    def _drawn(self, analysis: Analysis, options: PlanOptions) -> PlanPicture:
        """The other state with the same options; kept, because only the plan changes mostly."""
        if self._picture is None or self._picture.options != options:
            self._picture = plan_picture(analysis.build, analysis, options)
        return self._picture
