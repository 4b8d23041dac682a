"""What lies over the plan for a moment: handles, guides, rubber lines, the halo of a finding.

Sizes are in pixels whatever the zoom; places are in millimetres.
"""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from ...documents.fonts import font
from ...documents.theme import SPACE, TYPE, Theme
from .camera import WORLD_MM
from .exposure import ask_for_paint
from .gestures.base import NOTHING, Trace
from .handles import Handle
from .snapping import Box
from .trace_texts import place_measures, place_words

MM = 1000.0


def colour(text: str, alpha: float = 1.0) -> QColor:
    """A theme's colour, let through by so much."""
    made = QColor(text)
    made.setAlphaF(alpha)
    return made


def pen(text: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen whose width is in pixels at any zoom."""
    made = QPen(QColor(text), width, style)
    made.setCosmetic(True)
    made.setCapStyle(Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return made


class Layer(QGraphicsItem):
    """An item that never takes the mouse and whose sizes follow the view's scale."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__()
        self.theme = theme
        self.scale_px = 1.0
        """Pixels a millimetre."""
        self._bounds = QRectF()
        self.setZValue(z)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)

    def boundingRect(self) -> QRectF:
        return self._bounds

    def set_bounds(self, bounds: QRectF) -> None:
        """Take new bounds; the one place that tells the scene before they change."""
        if bounds != self._bounds:
            self.prepareGeometryChange()
            self._bounds = bounds
        self.update()

    def look(self, theme: Theme, scale_px: float) -> None:
        """Take another theme or zoom."""
        self.theme = theme
        self.scale_px = scale_px
        self.prepare()

    def prepare(self) -> None:
        """Compute everything that paint needs."""
        raise NotImplementedError


class HandleLayer(Layer):
    """Ports, plugs and bends that can be taken hold of now."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.handles: tuple[Handle, ...] = ()
        self.hovered: Handle | None = None
        self.active: tuple[str, int] | None = None
        self._marks: list[tuple[QPointF, float, QPen, QBrush, bool]] = []
        self._stems: list[tuple[QPointF, QPointF]] = []

    def show_handles(
        self,
        handles: tuple[Handle, ...],
        hovered: Handle | None,
        active: tuple[str, int] | None,
    ) -> None:
        """Show these; the hovered one larger, the active bend filled."""
        if (handles, hovered, active) == (self.handles, self.hovered, self.active):
            return
        self.handles, self.hovered, self.active = handles, hovered, active
        self.prepare()

    def prepare(self) -> None:
        """Places, sizes and colours of all marks."""
        self._marks = [self._mark(handle) for handle in self.handles]
        reach = 14.0 / self.scale_px
        box = QRectF()
        self._stems = [
            (_at(*handle.stem), _at(*handle.at)) for handle in self.handles if handle.stem
        ]
        for at in (*(mark[0] for mark in self._marks), *(one for one, _ in self._stems)):
            box |= QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach)
        self.set_bounds(box)

    def _mark(self, handle: Handle) -> tuple[QPointF, float, QPen, QBrush, bool]:
        theme = self.theme
        tint = {"power": theme.ink, "water": theme.water_ink, "drain": theme.drain_ink}
        ink = (
            theme.selection
            if handle.kind in ("bend", "turn")
            else tint.get(handle.medium, theme.ink)
        )
        if handle.letter:
            ink = theme.circuit(handle.letter).ink
        hovered = handle == self.hovered
        radius = {"port": 4.5, "plug": 3.8, "bend": 4.0, "turn": 5.0}[handle.kind] + (
            2.0 if hovered else 0.0
        )
        radius = min(radius, handle.reach_px + 1.0)
        active = handle.kind == "bend" and (handle.run, handle.index) == self.active
        filled = handle.taken or active
        brush = QBrush(QColor(ink if filled else theme.panel_raised))
        return (
            QPointF(handle.at[0] * MM, handle.at[1] * MM),
            radius,
            pen(ink, 2.0 if hovered else 1.6),
            brush,
            handle.kind in ("plug", "bend"),
        )

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        for a, b in self._stems:
            painter.setPen(pen(self.theme.selection, 1.4))
            painter.drawLine(a, b)
        for at, radius_px, ring, brush, square in self._marks:
            radius = radius_px / self.scale_px
            painter.setPen(ring)
            painter.setBrush(brush)
            if square:
                box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
                painter.drawRoundedRect(box, radius / 2, radius / 2)
            else:
                painter.drawEllipse(at, radius, radius)


class TraceLayer(Layer):
    """What a drag draws: guides, distances, the band, the rubber line and what fits it."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.trace: Trace = NOTHING
        self.tip = ""
        self.tip_at = QPointF()
        self.font = font(TYPE.caption, 600)
        self._tip_box = QRectF()
        self._measures: list[tuple[QPointF, QPointF, str, QRectF]] = []
        self._words: list[tuple[str, QRectF]] = []
        self._dirty: list[QRectF] = []

    def show_trace(self, trace: Trace) -> None:
        """Draw this now."""
        if trace != self.trace:
            self.trace = trace
            self.prepare()

    def show_tip(self, text: str, at: QPointF) -> None:
        """A sentence beside the mouse; empty takes it away. `at` in millimetres."""
        if text == self.tip and (not text or at == self.tip_at):
            return
        self.tip, self.tip_at = text, at
        self.prepare()

    def prepare(self) -> None:
        """Boxes of everything, and only those asked to be painted.

        The bounds are the whole paper for good: a change of bounds would
        paint all that lies between the four distances of a drag, at every step.
        """
        if self._bounds.isNull():
            self.set_bounds(QRectF(-WORLD_MM, -WORLD_MM, 2 * WORLD_MM, 2 * WORLD_MM))
        px = 1.0 / self.scale_px
        metrics = QFontMetricsF(self.font)
        self._place_texts(metrics, px)
        self._tip_box = QRectF()
        if self.tip:
            wide = metrics.horizontalAdvance(self.tip) + 2 * SPACE.medium
            high = metrics.height() + SPACE.medium
            self._tip_box = QRectF(
                self.tip_at.x() + 16 * px, self.tip_at.y() + 18 * px, wide * px, high * px
            )
        old, self._dirty = self._dirty, self._parts(px)
        ask_for_paint(self.scene(), [*old, *self._dirty])  # an item would unite them into one

    def _place_texts(self, metrics: QFontMetricsF, px: float) -> None:
        def size_of(text: str) -> tuple[float, float]:
            wide = metrics.horizontalAdvance(text) + 2 * SPACE.small
            return wide * px / MM, (metrics.height() + SPACE.hair) * px / MM

        trace = self.trace
        boxes = place_measures(trace.measures, size_of, px / MM, trace.dragged)
        self._measures = [
            (_at(*one.a), _at(*one.b), one.text, _rect(box))
            for one, box in zip(trace.measures, boxes, strict=True)
        ]
        words = place_words(trace.guides, size_of, px / MM, boxes)
        self._words = [(text, _rect(box)) for text, box in words]

    def _parts(self, px: float) -> list[QRectF]:
        """Rectangles that hold what is drawn now; `px` is a pixel, in millimetres."""
        trace = self.trace
        lines = [_between(_at(x1, y1), _at(x2, y2)) for x1, y1, x2, y2, _ in trace.guides]
        lines += [_between(a, b) for a, b, *_ in self._measures]
        frames = [box for *_, box in self._measures] + [box for _, box in self._words]
        if trace.band is not None:
            frames.append(_rect(trace.band))
        if self.tip:
            frames.append(self._tip_box)
        spots = [_between(_at(x, y), _at(x, y)) for x, y in trace.lit]
        if trace.rubber is not None:
            (x1, y1), (x2, y2) = trace.rubber
            spots.append(_between(_at(x1, y1), _at(x2, y2)))
        return [
            box.adjusted(-margin, -margin, margin, margin)
            for boxes, margin in ((lines, 6.0 * px), (frames, 2.0 * px), (spots, 12.0 * px))
            for box in boxes
        ]

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        trace, theme, px = self.trace, self.theme, 1.0 / self.scale_px
        painter.setPen(pen(theme.selection, 1.0, Qt.PenStyle.DashLine))
        for x1, y1, x2, y2, _ in trace.guides:
            painter.drawLine(QPointF(x1 * MM, y1 * MM), QPointF(x2 * MM, y2 * MM))
        if trace.band is not None:
            painter.setPen(pen(theme.selection, 1.0))
            painter.setBrush(colour(theme.selection, 0.10))
            painter.drawRect(_rect(trace.band))
        self._paint_rubber(painter, px)
        for a, b, text, box in self._measures:
            painter.setPen(pen(theme.ink_muted, 1.0))
            _arrowed(painter, a, b, px)
            self._paint_text(painter, text, box, theme.panel_raised, theme.ink, theme.line)
        for text, box in self._words:
            self._paint_text(painter, text, box, theme.paper, theme.selection, "")
        if self.tip:
            self._paint_text(painter, self.tip, self._tip_box, theme.primary, theme.on_primary, "")

    def _paint_rubber(self, painter: QPainter, px: float) -> None:
        theme, trace = self.theme, self.trace
        for x, y in trace.lit:
            target = (x, y) == trace.target
            painter.setPen(pen(theme.ok.ink, 2.0))
            painter.setBrush(colour(theme.ok.fill, 1.0 if target else 0.35))
            radius = (8.0 if target else 6.0) * px
            painter.drawEllipse(QPointF(x * MM, y * MM), radius, radius)
        if trace.rubber is None or trace.rubber_ok:
            return  # what fits is previewed as the run it will be
        ink = theme.ink_muted if trace.rubber_ok is None else theme.stop.ink
        painter.setPen(pen(ink, 2.2, Qt.PenStyle.DashLine))
        (x1, y1), (x2, y2) = trace.rubber
        painter.drawLine(QPointF(x1 * MM, y1 * MM), QPointF(x2 * MM, y2 * MM))
        painter.setBrush(QColor(ink))
        painter.drawEllipse(QPointF(x2 * MM, y2 * MM), 4 * px, 4 * px)
        if trace.rubber_ok is False:  # a shape as well, not the colour alone
            painter.setPen(pen(ink, 2.4))
            arm = 8 * px
            for sign in (-1, 1):
                painter.drawLine(
                    QPointF(x2 * MM - arm, y2 * MM - sign * arm),
                    QPointF(x2 * MM + arm, y2 * MM + sign * arm),
                )

    def _paint_text(
        self, painter: QPainter, text: str, box: QRectF, ground: str, ink: str, edge: str
    ) -> None:
        painter.save()
        painter.translate(box.center())
        painter.scale(1.0 / self.scale_px, 1.0 / self.scale_px)
        wide, high = box.width() * self.scale_px, box.height() * self.scale_px
        pill = QRectF(-wide / 2, -high / 2, wide, high)
        painter.setPen(QPen(QColor(edge), 1.0) if edge else Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(pill, SPACE.small, SPACE.small)
        painter.setPen(QColor(ink))
        painter.setFont(self.font)
        painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, text)
        painter.restore()


class HaloLayer(Layer):
    """A ring around the culprits of a finding; `strength` falls from 1 to 0 and stays there."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.polygons: tuple[QPolygonF, ...] = ()
        self.lines: tuple[QPolygonF, ...] = ()
        self.strength = 0.0

    def show_halo(
        self, polygons: tuple[QPolygonF, ...], lines: tuple[QPolygonF, ...], strength: float
    ) -> None:
        """Ring these."""
        self.polygons, self.lines, self.strength = polygons, lines, strength
        self.prepare()

    def prepare(self) -> None:
        """Bounds."""
        box = QRectF()
        if self.strength > 0:
            for polygon in (*self.polygons, *self.lines):
                box |= polygon.boundingRect().adjusted(-1, -1, 1, 1)
            margin = 26.0 / self.scale_px
            box = box.adjusted(-margin, -margin, margin, margin)
        self.set_bounds(box)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        if self.strength <= 0:
            return
        ring = pen(self.theme.selection, 4.0 + 14.0 * self.strength)
        ring.setColor(colour(self.theme.selection, 0.15 + 0.35 * self.strength))
        painter.setPen(ring)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for polygon in self.polygons:
            painter.drawPolygon(polygon)
        for line in self.lines:
            painter.drawPolyline(line)


def _at(x_m: float, y_m: float) -> QPointF:
    return QPointF(x_m * MM, y_m * MM)


def _between(a: QPointF, b: QPointF) -> QRectF:
    return QRectF(a, b).normalized()


def _rect(box: Box) -> QRectF:
    return QRectF(
        box.left * MM, box.top * MM, (box.right - box.left) * MM, (box.bottom - box.top) * MM
    )


def _arrowed(painter: QPainter, a: QPointF, b: QPointF, px: float) -> None:
    painter.drawLine(a, b)
    arm = 4.0 * px
    upright = abs(a.x() - b.x()) < abs(a.y() - b.y())
    for at in (a, b):
        across = QPointF(arm, 0.0) if upright else QPointF(0.0, arm)
        painter.drawLine(at - across, at + across)
