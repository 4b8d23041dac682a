"""Where things were, drawn over where they are: one build held against another on the plan."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from ...analysis import Analysis
from ...build import Item, Run
from ...documents.plan import XY, BodyShape, PlanPicture, RunShape
from ...documents.plan.paths import flattened
from ...documents.theme import Theme
from .overlay import Layer, colour, pen

Parts = Sequence[Item] | Sequence[Run]
_LEAST_MM = 0.05
"""What moved by less reads as where it was."""
_SPARE_PX = 14.0
_HEAD_PX = 7.0
_SHORT_PX = 12.0
"""A shorter way gets no arrow: the two outlines say it."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A body's corners, or a run's way, in millimetres of the plan."""

    id: str
    points: tuple[XY, ...]
    far: bool = False
    """It is on another level than the one that is shown: drawn quietly."""


@dataclass(frozen=True, slots=True)
class Changed:
    """What differs between two pictures."""

    left: tuple[Outline, ...] = ()
    """Bodies where they were before they were moved."""
    now: tuple[Outline, ...] = ()
    """Bodies that are new, elsewhere, or otherwise in any way."""
    gone: tuple[Outline, ...] = ()
    """Bodies that are nowhere now."""
    ways: tuple[tuple[XY, XY], ...] = ()
    """From the middle of a body that was to where it is."""
    far_ways: frozenset[tuple[XY, XY]] = frozenset()
    """Those of `ways` that lie wholly on other levels."""
    old_runs: tuple[Outline, ...] = ()
    new_runs: tuple[Outline, ...] = ()

    def turned(self) -> "Changed":
        """The same told of the earlier one: arrows lead on, what is yet to come is no loss."""
        ways = tuple((b, a) for a, b in self.ways)
        far = frozenset((b, a) for a, b in self.far_ways)
        return replace(self, left=(*self.left, *self.gone), gone=(), ways=ways, far_ways=far)


@dataclass(frozen=True, slots=True)
class Side:
    """A build with its routes, and how it is drawn."""

    analysis: Analysis
    picture: PlanPicture


def changed(before: Side, after: Side) -> Changed:
    """What two builds of one cart, drawn alike, differ in."""
    old = {one.id: one for one in before.picture.bodies}
    new = {one.id: one for one in after.picture.bodies}
    moved = [key for key, one in new.items() if key in old and _moved(old[key], one)]
    touched = _unlike(before.analysis.build.items, after.analysis.build.items)
    gone = [key for key in old if key not in new]
    was = {one.id: one for one in before.picture.runs}
    now = {one.id: one for one in after.picture.runs}
    elsewhere = _led_elsewhere(before.analysis, after.analysis)
    other = _unlike(before.analysis.build.runs, after.analysis.build.runs) | elsewhere
    return Changed(
        left=tuple(_outline(key, old[key]) for key in moved),
        now=tuple(_outline(key, one) for key, one in new.items() if key in touched),
        gone=tuple(_outline(key, old[key]) for key in gone),
        ways=tuple(way for key in moved if _leads(way := (old[key].centre, new[key].centre))),
        far_ways=frozenset(
            (old[key].centre, new[key].centre)
            for key in moved
            if old[key].ghosted and new[key].ghosted
        ),
        old_runs=tuple(_way(run) for key, run in was.items() if key in elsewhere),
        new_runs=tuple(_way(run) for key, run in now.items() if key in other),
    )


def _way(run: RunShape) -> Outline:
    return Outline(run.id, flattened(run), run.ghosted)


def _moved(old: BodyShape, new: BodyShape) -> bool:
    return any(
        abs(a - b) > _LEAST_MM
        for was, now in zip(old.corners, new.corners, strict=True)
        for a, b in zip(was, now, strict=True)
    )


def _leads(way: tuple[XY, XY]) -> bool:
    """Not so of what was only turned, or exchanged for something larger."""
    return any(abs(a - b) > _LEAST_MM for a, b in zip(*way, strict=True))


def _led_elsewhere(before: Analysis, after: Analysis) -> set[str]:
    """Runs that go another way, or only in one of the two.

    Asked of the routes: on the plan a run that stays is moved aside where others lie beside it.
    """
    old, new = before.network.routes, after.network.routes
    same = {key for key in old if key in new and old[key].points == new[key].points}
    return (old.keys() | new.keys()) - same


def _unlike(
    before: Sequence[Item] | Sequence[Run], after: Sequence[Item] | Sequence[Run]
) -> set[str]:
    """Ids of what is there now and was not, or was otherwise."""
    old = {one.id: one for one in before}
    return {one.id for one in after if old.get(one.id) is not one and old.get(one.id) != one}


NONE = Changed()
Shapes = tuple[tuple[QPolygonF, bool], ...]
"""Each with whether it is on another level."""
POINTED_PX = 2.6


class ChangesLayer(Layer):
    """Dashed outlines where bodies and runs were, a ring where they are, arrows between."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.shown = NONE
        self.pointed: frozenset[str] = frozenset()
        """Ids of what is pointed at: where that was is drawn strongly."""
        self._pointed: tuple[QPolygonF, ...] = ()
        self._ghosts: Shapes = ()
        self._rings: Shapes = ()
        self._crosses: tuple[QLineF, ...] = ()
        self._arrows: tuple[tuple[QLineF, bool], ...] = ()
        self._old: Shapes = ()
        self._new: Shapes = ()

    def show_changes(self, found: Changed) -> None:
        """Draw these."""
        if found != self.shown:
            self.shown = found
            self.prepare()

    def point_at(self, ids: frozenset[str]) -> None:
        """Draw strongly where these were."""
        if ids != self.pointed:
            self.pointed = ids
            self.prepare()

    def prepare(self) -> None:
        """Polygons and bounds."""
        found = self.shown
        was = (*found.left, *found.gone, *found.old_runs)
        marked = _shapes(tuple(one for one in was if one.id in self.pointed))
        self._pointed = tuple(polygon for polygon, _ in marked)
        self._ghosts = _shapes((*found.left, *found.gone))
        self._crosses = tuple(
            QLineF(QPointF(*one.points[at]), QPointF(*one.points[at + 2]))
            for one in found.gone
            for at in (0, 1)
            if not one.far
        )
        self._rings = _shapes(found.now)
        self._arrows = tuple(
            (QLineF(QPointF(*a), QPointF(*b)), (a, b) in found.far_ways) for a, b in found.ways
        )
        self._old, self._new = _shapes(found.old_runs), _shapes(found.new_runs)
        box = QRectF()
        for one, _ in (*self._ghosts, *self._rings, *self._old, *self._new):
            box |= one.boundingRect().adjusted(-1, -1, 1, 1)
        if not box.isNull():
            spare = _SPARE_PX / self.scale_px
            box = box.adjusted(-spare, -spare, spare, spare)
        self.set_bounds(box)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        theme = self.theme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for way, far in self._new:
            glow = pen(theme.selection, 4.0 if far else 7.0)
            glow.setColor(colour(theme.selection, 0.16 if far else 0.28))
            painter.setPen(glow)
            painter.drawPolyline(way)
        for way, far in self._old:
            painter.setPen(self._faint(theme.ink_muted, 1.4, Qt.PenStyle.DotLine, far))
            painter.drawPolyline(way)
        for polygon, far in self._ghosts:
            painter.setBrush(colour(theme.ghost, 0.05 if far else 0.16))
            painter.setPen(self._faint(theme.ink_muted, 1.6, Qt.PenStyle.DashLine, far))
            painter.drawPolygon(polygon)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen(theme.stop.ink, 1.8))
        for line in self._crosses:
            painter.drawLine(line)
        for polygon, far in self._rings:
            style = Qt.PenStyle.DashLine if far else Qt.PenStyle.SolidLine
            painter.setPen(self._faint(theme.selection, 2.6, style, far))
            painter.drawPolygon(polygon)
        painter.setPen(pen(theme.selection, POINTED_PX, Qt.PenStyle.DashLine))
        for polygon in self._pointed:
            painter.drawPolyline(polygon)
        for arrow, far in self._arrows:
            self._paint_arrow(painter, arrow, far)

    def _faint(self, ink: str, width: float, style: Qt.PenStyle, far: bool) -> QPen:
        """A pen that is thin and quiet for what is on another level."""
        made = pen(ink, width * 0.6 if far else width, style)
        made.setColor(colour(ink, 0.6 if far else 1.0))
        return made

    def _paint_arrow(self, painter: QPainter, arrow: QLineF, far: bool) -> None:
        px = 1.0 / self.scale_px
        if arrow.length() < _SHORT_PX * px:
            return
        painter.setPen(self._faint(self.theme.selection, 2.0, Qt.PenStyle.SolidLine, far))
        painter.drawLine(arrow)
        painter.setBrush(QBrush(colour(self.theme.selection, 0.6 if far else 1.0)))
        head = QLineF(arrow.p2(), arrow.p1())
        head.setLength(_HEAD_PX * px)
        sides = []
        for angle in (25.0, -25.0):
            side = QLineF(head)
            side.setAngle(head.angle() + angle)
            sides.append(side.p2())
        painter.drawPolygon(QPolygonF([arrow.p2(), *sides]))
        painter.setBrush(Qt.BrushStyle.NoBrush)


def _shapes(found: tuple[Outline, ...]) -> Shapes:
    return tuple((QPolygonF([QPointF(*at) for at in one.points]), one.far) for one in found)


def _outline(key: str, body: BodyShape) -> Outline:
    """A body's corners, and the first once more so that they close."""
    return Outline(key, (*body.corners, body.corners[0]), body.ghosted)
