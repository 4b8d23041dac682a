"""What is drawn while the cart is edited: a veil over all that stands on it, and marks on top."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from ....build import Build, Cart
from ....documents.plan.cart import draw_around, draw_fixtures, draw_zone
from ....documents.plan.ink import Ink
from ....documents.plan.picture import PlanPicture
from ....documents.theme import Theme
from ..camera import WORLD_MM
from ..overlay import MM, Layer, colour, pen
from .grips import CASTER_RADIUS_M, Grip, outline_grips, ring_of, size_grips

VEIL = 0.62
MARK_PX = 4.2
POINT_PX = 1.5


class CartLayer(Layer):
    """Veil, zones and wheels drawn clear once more, outlines of what is selected, marks."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.on = False
        self.hovered = ""
        self._cart: Cart | None = None
        self._picture: PlanPicture | None = None
        self._marks: list[tuple[QRectF, QPen, QBrush, bool]] = []
        self._lines: list[tuple[QPolygonF, QPen, bool]] = []
        self._state: tuple[object, ...] = ()
        self.hide()

    def show_cart(
        self,
        build: Build,
        picture: PlanPicture | None,
        selected: tuple[str, ...],
        hovered: Grip | None,
    ) -> None:
        """Show the cart of a build with its marks."""
        state = (build.cart, picture, selected, hovered, self.on)
        if state == self._state:
            return
        self._state = state
        self._cart, self._picture = build.cart, picture
        self._build, self._selected, self._hovered = build, selected, hovered
        self.prepare()

    def prepare(self) -> None:
        """Everything that paint needs."""
        if self._bounds.isNull():
            self.set_bounds(QRectF(-WORLD_MM, -WORLD_MM, 2 * WORLD_MM, 2 * WORLD_MM))
        self._marks, self._lines = [], []
        if self._cart is not None and self.on:
            self._prepare_lines(self._cart)
            self._prepare_marks(self._cart)
        self.update()

    def _prepare_lines(self, cart: Cart) -> None:
        theme = self.theme
        names = [(one, True) for one in self._selected]
        if self._hovered is not None and self._hovered.part not in self._selected:
            names.append((self._hovered.part, False))
        for part, chosen in names:
            ring = [QPointF(x * MM, y * MM) for x, y in ring_of(cart, part)]
            width = 2.4 if chosen else 1.6
            line = pen(theme.selection, width)
            if len(ring) == 1 and part.startswith("caster"):
                radius = CASTER_RADIUS_M * MM
                box = QRectF(ring[0].x() - radius, ring[0].y() - radius, 2 * radius, 2 * radius)
                ground = QBrush(colour(theme.selection, 0.14 if chosen else 0.0))
                self._marks.append((box, line, ground, True))
            elif len(ring) > 1:
                self._lines.append((QPolygonF(ring), line, len(ring) > 2))

    def _prepare_marks(self, cart: Cart) -> None:
        theme = self.theme
        grips = list(outline_grips(cart))
        for part in self._selected:
            grips += size_grips(self._build, part)
        for grip in grips:
            chosen = grip.part in self._selected and grip.sort in ("corner", "edge")
            hovered = grip == self._hovered
            size = (MARK_PX + (1.6 if hovered else 0.0)) / self.scale_px
            wide, high = size, size
            if grip.sort == "edge":  # a bar along the edge, not to be taken for a corner
                wide, high = (
                    (0.7 * size, 1.9 * size) if grip.way == (1, 0) else (1.9 * size, 0.7 * size)
                )
            x, y = grip.at[0] * MM, grip.at[1] * MM
            box = QRectF(x - wide, y - high, 2 * wide, 2 * high)
            ground = theme.selection if chosen else theme.panel_raised
            self._marks.append((box, pen(theme.selection, 1.6), QBrush(QColor(ground)), False))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        if not self.on or self._picture is None:
            return
        theme = self.theme
        painter.fillRect(option.exposedRect & self._bounds, colour(theme.paper, VEIL))
        ink = Ink(theme, POINT_PX / self.scale_px)
        cart = self._picture.cart
        draw_around(painter, cart, ink)
        painter.setPen(ink.pen(theme.ink, 1.8))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in cart.outline]))
        draw_fixtures(painter, cart, ink, faint=False)
        for zone in self._picture.zones:
            if not zone.ghosted:
                draw_zone(painter, zone, ink)
        for polygon, line, closed in self._lines:
            painter.setPen(line)
            painter.setBrush(colour(theme.selection, 0.10) if closed else Qt.BrushStyle.NoBrush)
            if closed:
                painter.drawPolygon(polygon)
            else:
                painter.drawPolyline(polygon)
        for box, line, ground, is_round in self._marks:
            painter.setPen(line)
            painter.setBrush(ground)
            if is_round:
                painter.drawEllipse(box)
            else:
                painter.drawRect(box)
