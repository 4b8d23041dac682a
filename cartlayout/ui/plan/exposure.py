"""What of the plan is asked to be painted now, in pieces finer than the items' bounds.

Qt asks an item to paint when any of its bounds is exposed. The bounds of a run
that goes around the cart, or of the ground, hold nearly everything, and hardly
any of it is exposed at a step of a drag.
"""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QRegion, QTransform
from PySide6.QtWidgets import QGraphicsScene


class Exposure:
    """A region of the viewport that is being painted."""

    def __init__(self, region: QRegion, to_viewport: QTransform) -> None:
        self._region = region
        self._to_viewport = to_viewport

    def sees(self, rect: QRectF) -> bool:
        """Whether any of a rectangle of the plan, in millimetres, is exposed."""
        seen = self._to_viewport.mapRect(rect).toAlignedRect()
        return self._region.intersects(seen.adjusted(-1, -1, 1, 1))


def ask_for_paint(scene: QGraphicsScene | None, areas: list[QRectF]) -> None:
    """Ask for areas of the plan to be painted anew.

    `QGraphicsScene.update` would do as well, but what items ask for in the same turn
    is then painted in a second go (measured).
    """
    for view in scene.views() if scene is not None else ():
        view.updateScene(areas)
