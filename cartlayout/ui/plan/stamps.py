"""Bodies as small pictures: at every step of a drag the same silhouettes are laid down again.

A silhouette is a dozen curves, and the eye sees no difference between drawing
them anew and laying down what was drawn before. Only the window does this;
whatever is exported draws its curves.
"""

from collections import OrderedDict

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPixmap, QTransform

from ...documents.plan import BodyShape, Box
from ...documents.plan.paint import Ink, draw_body

MOST = 160
"""So many are kept, those laid down last."""
LARGEST_PX = 320
"""A body larger than this is drawn: there are never many of that size in sight."""
MARGIN_PX = 4
PARTS_PX = 2
"""A body keeps its picture for places within a pixel that differ by less than half of one."""

_Key = tuple[object, ...]


class Stamps:
    """The pictures of one scene."""

    def __init__(self) -> None:
        self._kept: OrderedDict[_Key, QPixmap] = OrderedDict()

    def draw(
        self, painter: QPainter, body: BodyShape, ink: Ink, label: Box | None, selected: bool
    ) -> None:
        """Draw a body, or lay down its picture where there is one."""
        to_device = painter.worldTransform()
        device = painter.device()
        size = self._size(body, to_device)
        if device is None or size is None:
            draw_body(painter, body, ink, label, selected)
            return
        ratio = device.devicePixelRatioF()
        x, y = body.centre
        middle = to_device.map(QPointF(x, y)) * ratio
        # Edges stay as sharp as they are drawn: the picture is kept for each part of a pixel.
        left, phase_x = divmod(round(middle.x() * PARTS_PX), PARTS_PX)
        top, phase_y = divmod(round(middle.y() * PARTS_PX), PARTS_PX)
        scale = to_device.m11() * ratio
        key = _key(body, ink, label, selected, round(scale, 6), phase_x, phase_y)
        stamp = self._kept.get(key)
        width, height = (round(side * ratio / 2) + MARGIN_PX for side in size)
        if stamp is None:
            stamp = QPixmap(2 * width, 2 * height)
            stamp.fill(Qt.GlobalColor.transparent)
            drawn = QPainter(stamp)
            drawn.setRenderHints(painter.renderHints())
            drawn.translate(width + phase_x / PARTS_PX, height + phase_y / PARTS_PX)
            drawn.scale(scale, scale)
            drawn.translate(-x, -y)
            draw_body(drawn, body, ink, label, selected)
            drawn.end()
            stamp.setDevicePixelRatio(ratio)
            self._kept[key] = stamp
            if len(self._kept) > MOST:
                self._kept.popitem(last=False)
        else:
            self._kept.move_to_end(key)
        painter.setWorldTransform(QTransform())
        painter.drawPixmap(QPointF((left - width) / ratio, (top - height) / ratio), stamp)
        painter.setWorldTransform(to_device)

    def _size(self, body: BodyShape, to_device: QTransform) -> tuple[float, float] | None:
        """Its width and height in pixels; None where it is drawn without a picture."""
        if to_device.isRotating() or to_device.m11() <= 0:
            return None
        width, height = body.box.width * to_device.m11(), body.box.height * to_device.m11()
        return (width, height) if max(width, height) <= LARGEST_PX else None


def _key(body: BodyShape, ink: Ink, label: Box | None, selected: bool, *more: float) -> _Key:
    x, y = body.centre
    place = (
        tuple(round(one, 1) for one in (label.x - x, label.y - y, label.width, label.height))
        if label is not None
        else None
    )
    shape = (body.symbol, round(body.width, 2), round(body.depth, 2), body.rotation)
    return (shape, body.ghosted, body.venue, place, selected, ink.theme.name, ink.unit, *more)
