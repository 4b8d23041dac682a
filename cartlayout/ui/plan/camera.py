"""Looking around the plan: zoom, pan, fit. The scene counts in millimetres."""

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtWidgets import QGraphicsView

XY = tuple[float, float]

LEAST_SCALE = 0.04
GREATEST_SCALE = 12.0
"""Pixels a millimetre."""
STEP = 1.2
FIT_MARGIN_PX = 22.0
FIT_BELOW_PX = 44.0
"""The scale bar stands there."""
WORLD_MM = 60_000.0
"""The paper reaches so far from the origin in every direction."""


class Camera:
    """Moves what a view sees. Holds no state of its own beside the view's transform."""

    def __init__(self, view: QGraphicsView) -> None:
        self._view = view

    @property
    def scale(self) -> float:
        """Pixels a millimetre."""
        return self._view.transform().m11()

    def to_metres(self, at: QPointF) -> XY:
        """A place in the viewport, on the plan."""
        point = self._view.viewportTransform().inverted()[0].map(at)
        return point.x() / 1000.0, point.y() / 1000.0

    def to_viewport(self, at: XY) -> QPointF:
        """A place on the plan, in the viewport."""
        return self._view.viewportTransform().map(QPointF(at[0] * 1000.0, at[1] * 1000.0))

    def zoom(self, factor: float, at: QPointF) -> bool:
        """Zoom so that what is under `at` (in the viewport) stays there. False at the limits."""
        wanted = min(max(self.scale * factor, LEAST_SCALE), GREATEST_SCALE)
        if abs(wanted / self.scale - 1.0) < 1e-9:
            return False
        before = self.to_metres(at)
        self._view.scale(wanted / self.scale, wanted / self.scale)
        after = self.to_metres(at)
        self.shift(after[0] - before[0], after[1] - before[1])
        return True

    def shift(self, dx_m: float, dy_m: float) -> None:
        """Move the paper by so much."""
        self._view.translate(dx_m * 1000.0, dy_m * 1000.0)

    def fit(self, box: QRectF, room: float = 1.0) -> None:
        """Show all of a rectangle, in millimetres, with so many times its size around it."""
        size = self._view.viewport().size()
        if box.isEmpty() or size.isEmpty():
            return
        room_w = max(size.width() - 2 * FIT_MARGIN_PX, 1.0)
        room_h = max(size.height() - FIT_MARGIN_PX - FIT_BELOW_PX, 1.0)
        wanted = min(room_w / box.width(), room_h / box.height()) / room
        wanted = min(max(wanted, LEAST_SCALE), GREATEST_SCALE)
        self._view.resetTransform()
        self._view.scale(wanted, wanted)
        lower = (FIT_BELOW_PX - FIT_MARGIN_PX) / 2 / wanted
        self.centre(box.center() + QPointF(0.0, lower))

    def centre(self, at: QPointF) -> None:
        """Put a place (millimetres) into the middle of the viewport."""
        middle = QPointF(self._view.viewport().rect().center())
        x, y = self.to_metres(middle)
        self.shift(x - at.x() / 1000.0, y - at.y() / 1000.0)

    def seen(self) -> QRectF:
        """What the viewport shows, in millimetres."""
        inverted = self._view.viewportTransform().inverted()[0]
        return inverted.mapRect(QRectF(self._view.viewport().rect()))
