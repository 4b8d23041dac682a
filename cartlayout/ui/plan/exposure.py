"""What of the plan is asked to be painted now, in pieces finer than the items' bounds.

Qt asks an item to paint when any of its bounds is exposed. The bounds of a run
that goes around the cart, or of the ground, hold nearly everything, and hardly
any of it is exposed at a step of a drag.
"""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QRegion, QTransform


class Exposure:
    """A region of the viewport that is being painted."""

    def __init__(self, region: QRegion, to_viewport: QTransform) -> None:
        self._region = region
        self._to_viewport = to_viewport

    def sees(self, rect: QRectF) -> bool:
        """Whether any of a rectangle of the plan, in millimetres, is exposed."""
        seen = self._to_viewport.mapRect(rect).toAlignedRect()
        return self._region.intersects(seen.adjusted(-1, -1, 1, 1))
