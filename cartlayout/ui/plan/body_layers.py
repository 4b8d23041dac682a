"""The clearance and the weight overlay over the plan: mirrors that are there only while asked."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsScene

from ...documents.plan import PlanPicture
from ...documents.plan.clearance import draw_over, draw_spaces
from ...documents.plan.paint import Ink
from ...documents.plan.weight import draw_weight
from .mirrors import Mirror, rect

Z_SPACES, Z_OVER, Z_WEIGHT = 5, 52, 53
_MARGIN_PT = 12.0
_Draw = Callable[[QPainter, Any, Ink], None]


class OverlayMirror(Mirror):
    """One overlay, painted by the function that paints it on the sheet as well."""

    def __init__(self, ink: Ink, z: float, paint_it: _Draw) -> None:
        super().__init__(ink, z)
        self._paint_it = paint_it

    def show_overlay(self, overlay: Any, ink: Ink) -> None:
        """Mirror this overlay. Does nothing if it is what is shown."""
        wanted = (overlay, ink)
        if wanted == self.shown:
            return
        self.shown, self.ink = wanted, ink
        box = overlay.box
        self.settle(rect(box) if box is not None else QRectF(), _MARGIN_PT)

    def draw(self, painter: QPainter, shown: tuple[Any, Ink]) -> None:
        overlay, ink = shown
        self._paint_it(painter, overlay, ink)


class BodyLayers:
    """Makes and drops the mirrors of a scene as the picture has their overlays or not."""

    def __init__(self, scene: QGraphicsScene) -> None:
        self._scene = scene
        self.mirrors: dict[str, OverlayMirror] = {}

    def show_picture(self, picture: PlanPicture, ink: Ink) -> None:
        """Mirror the overlays of a picture."""
        for key, z, overlay, paint_it in (
            ("spaces", Z_SPACES, picture.clearance, draw_spaces),
            ("over", Z_OVER, picture.clearance, draw_over),
            ("weight", Z_WEIGHT, picture.weight, draw_weight),
        ):
            mirror = self.mirrors.get(key)
            if overlay is None:
                if mirror is not None:
                    self._scene.removeItem(self.mirrors.pop(key))
                continue
            if mirror is None:
                mirror = self.mirrors[key] = OverlayMirror(ink, z, paint_it)
                self._scene.addItem(mirror)
            mirror.show_overlay(overlay, ink)
