"""The ring around what a finding is about: it fades once, by itself."""

from PySide6.QtCore import QObject, QVariantAnimation

from ..selection import NOTHING, Selection
from .scene import PlanScene

LASTS_MS = 1100


class Pulse(QObject):
    """One animation of a fixed length; nothing keeps running after it."""

    def __init__(self, plan: PlanScene, parent: QObject) -> None:
        super().__init__(parent)
        self._plan = plan
        self._around = NOTHING
        self._animation = QVariantAnimation(self)
        self._animation.setDuration(LASTS_MS)
        self._animation.setStartValue(1.0)
        self._animation.setEndValue(0.0)
        self._animation.valueChanged.connect(self._changed)

    @property
    def is_on(self) -> bool:
        """Whether it is fading just now."""
        return self._animation.state() == QVariantAnimation.State.Running

    def ring(self, selection: Selection) -> None:
        """Ring these now."""
        self._around = selection
        self._animation.stop()
        self._changed(1.0)
        self._animation.start()

    def selection_changed(self, selection: Selection) -> None:
        """Stop if something else is selected meanwhile."""
        if self._around and selection != self._around:
            self._animation.stop()
            self._around = NOTHING
            self._plan.halo.show_halo((), (), 0.0)

    def _changed(self, value: float) -> None:
        polygons = tuple(self._plan.polygon(one) for one in self._around.items)
        lines = tuple(self._plan.line(one) for one in self._around.runs)
        self._plan.halo.show_halo(polygons, lines, float(value))
