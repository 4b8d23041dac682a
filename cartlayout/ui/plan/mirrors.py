"""Graphics items that mirror the prepared drawing: one a body, a run, a note.

They keep nothing of their own: each is given a prepared value and paints it
with the same functions that paint the exported sheet. `paint` draws prepared
values only, because an exception in there can end the process.
"""

import itertools
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from ...documents.lettering import draw_text
from ...documents.plan import XY, BodyShape, Box, Note, PlanPicture, RunShape
from ...documents.plan.overview import (
    OVERVIEW_MM,
    draw_body_far,
    draw_mark_far,
    draw_run_far,
)
from ...documents.plan.paint import (
    Ink,
    draw_dimension,
    draw_ground,
    draw_leader,
    draw_mark,
    draw_name,
    draw_note,
    draw_run,
    run_path,
    tube_width_pt,
)
from ...documents.plan.paths import flattened, near_part
from ...documents.plan.picture import ZoneShape
from ...findings.finding import Severity
from .exposure import Exposure, ask_for_paint
from .stamps import Stamps

MARK_PT = 9.0
CAPTION_PT = 6.6
PATCH_OPACITY = 0.82
SPARE_PT = 30.0
_DIMENSION_PT = 10.0
"""Of a dimension's letters and slashes, beyond its line."""
STRIPS = 6
"""Into so many pieces a curve is cut where it has to be painted."""
_PEN_PT = 4.0
"""Half the widest outline, with room for anti-aliasing."""


@dataclass(frozen=True, slots=True)
class Name:
    """A body's name as it is written at the zoom of now."""

    lines: tuple[str, ...]
    sub: str
    box: Box
    leader: tuple[XY, ...] = ()
    anchor: XY = (0.0, 0.0)
    """Middle of the body, where it stands beside it."""
    over: bool = False
    """A run crosses it: it is written over the run on a patch of its ground."""
    share: float = 1.0
    """Of the usual size of letters: smaller where it would not fit otherwise."""


@dataclass(frozen=True, slots=True)
class PlacedNote:
    """A note and where it stands."""

    note: Note
    box: Box
    leader: tuple[XY, ...] = ()


class Mirror(QGraphicsItem):
    """What all mirrors share: the mouse is the view's, geometry changes in one place."""

    def __init__(self, ink: Ink, z: float) -> None:
        super().__init__()
        self.ink = ink
        self.shown: Any = None
        """What is mirrored: prepared values of the subclass's own sort; None before the first."""
        self._bounds = QRectF()
        self.painted = 0
        """How often it was painted; tests count that only what changed is."""
        self._z = z
        self.setZValue(z)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)

    def boundingRect(self) -> QRectF:
        return self._bounds

    def place(self, z: float) -> None:
        """Take a place among the others, from below; most keep theirs."""
        if z != self._z:
            self._z = z
            self.setZValue(z)

    def settle(self, bounds: QRectF, margin_pt: float = _PEN_PT) -> None:
        """Take new bounds and ask to be painted."""
        margin = margin_pt * self.ink.unit
        grown = bounds.adjusted(-margin, -margin, margin, margin)
        if grown != self._bounds:
            self.prepareGeometryChange()
            if not self._bounds.isEmpty():
                # Qt takes away what was painted here by what it remembers of the last paint.
                # A paint that was due already comes before that, and it remembers the new place.
                ask_for_paint(self.scene(), [self._bounds])
            self._bounds = grown
        self.update()

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        self.painted += 1
        if self.shown is not None:
            self.draw(painter, self.shown)

    def draw(self, painter: QPainter, shown: Any) -> None:
        """Paint what is mirrored; nothing is prepared here."""
        raise NotImplementedError

    def sees(self, *parts: QRectF) -> bool:
        """Whether any of these parts is to be painted now."""
        exposure: Exposure | None = getattr(self.scene(), "exposure", None)
        return exposure is None or any(exposure.sees(part) for part in parts)


class BodyMirror(Mirror):
    """One item."""

    def __init__(self, ink: Ink, z: float, stamps: Stamps) -> None:
        super().__init__(ink, z)
        self.stamps = stamps

    def show_body(self, body: BodyShape, name: Name | None, selected: bool, ink: Ink) -> None:
        """Mirror this body. Does nothing if it is what is shown."""
        wanted = (body, name, selected, ink)
        if wanted == self.shown:
            return
        self.shown, self.ink = wanted, ink
        self.settle(rect(body.box))

    def draw(self, painter: QPainter, shown: tuple[BodyShape, Name | None, bool, Ink]) -> None:
        body, name, selected, ink = shown
        if ink.unit > OVERVIEW_MM:
            draw_body_far(painter, body, ink, selected)
        else:
            label = name.box if name is not None else None
            self.stamps.draw(painter, body, ink, label, selected)
        if body.locked:
            _draw_lock(painter, body, ink)
        if name is not None and not name.over:
            draw_name(painter, name.box, name.lines, name.sub, body, ink, name.share)


def _draw_lock(painter: QPainter, body: BodyShape, ink: Ink) -> None:
    """A small padlock in the corner that is rear left on the un-turned body."""
    size = 5.0 * ink.unit
    if min(body.width, body.depth) < 3 * size:
        return
    painter.save()
    painter.translate(*body.centre)
    painter.rotate(body.rotation)
    x, y = 0.9 * size - body.width / 2, 1.5 * size - body.depth / 2
    painter.setPen(ink.pen(ink.theme.ink_muted, 0.9))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawArc(QRectF(x + 0.18 * size, y - 0.62 * size, 0.64 * size, 1.1 * size), 0, 180 * 16)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(ink.theme.ink_muted))
    painter.drawRect(QRectF(x, y, size, 0.8 * size))
    painter.restore()


class RunMirror(Mirror):
    """One wire or tube.

    It asks for paint along its pieces only: the rectangle around a run that
    goes around the cart holds half of what is on it. For the same reason its
    bounds have room to spare, and stay while the run keeps within.
    """

    def __init__(self, ink: Ink, z: float) -> None:
        super().__init__(ink, z)
        self.path = QPainterPath()
        self._strips: list[QRectF] = []

    def show_run(self, run: RunShape, selected: bool, ink: Ink) -> None:
        """Mirror this run. Does nothing if it is what is shown."""
        wanted = (run, selected, ink)
        if wanted == self.shown:
            return
        if self.shown is None or self.shown[0] != run:
            self.path = run_path(near_part(run)) if len(run.points) > 1 else QPainterPath()
        self.shown, self.ink = wanted, ink
        # Its width with the glow of a selected one around it; arrows reach a little less far.
        margin = (0.75 * tube_width_pt(run.bore_mm) + _PEN_PT) * ink.unit
        old, self._strips = self._strips, _strips(run, margin)
        self._keep_within(self.path.boundingRect().adjusted(-margin, -margin, margin, margin))
        ask_for_paint(self.scene(), [*old, *self._strips])  # an item would unite them into one

    def _keep_within(self, bounds: QRectF) -> None:
        spare = SPARE_PT * self.ink.unit
        roomy = bounds.adjusted(-2 * spare, -2 * spare, 2 * spare, 2 * spare)
        if not self._bounds.contains(bounds) or not roomy.contains(self._bounds):
            self.prepareGeometryChange()
            self._bounds = bounds.adjusted(-spare, -spare, spare, spare)

    def draw(self, painter: QPainter, shown: tuple[RunShape, bool, Ink]) -> None:
        run, selected, ink = shown
        if not self.sees(*self._strips):
            return
        if selected:
            glow = ink.pen(ink.theme.selection, tube_width_pt(run.bore_mm) + 4.5)
            colour = glow.color()
            colour.setAlphaF(0.35)
            glow.setColor(colour)
            painter.setPen(glow)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(self.path)
        if run.ghosted:
            painter.setOpacity(0.45)
        if ink.unit > OVERVIEW_MM:
            draw_run_far(painter, run, ink)
        else:
            draw_run(painter, run, ink)


def _strips(run: RunShape, margin: float) -> list[QRectF]:
    """Rectangles along a run that hold all of it, with its ends and arrows."""
    return [
        rect(Box.around([a, b]).grown(margin))
        for a, b in itertools.pairwise(flattened(run, STRIPS))
    ]


class MarkMirror(Mirror):
    """The mark that a finding leaves on its culprit; nothing lies over it."""

    def show_mark(self, severity: Severity, at: XY, ink: Ink) -> None:
        """Mirror this mark. Does nothing if it is what is shown."""
        wanted = (severity, at, ink)
        if wanted == self.shown:
            return
        self.shown, self.ink = wanted, ink
        half = MARK_PT * ink.unit / 2
        self.settle(QRectF(at[0] - half, at[1] - half, 2 * half, 2 * half), 2.0)

    def draw(self, painter: QPainter, shown: tuple[Severity, XY, Ink]) -> None:
        severity, (x, y), ink = shown
        if ink.unit > OVERVIEW_MM:
            draw_mark_far(painter, (x, y), MARK_PT * ink.unit, severity, ink)
        else:
            draw_mark(painter, x, y, MARK_PT * ink.unit, severity, ink)


class NameMirror(Mirror):
    """A name that is written over the runs: one that a run crosses, or that stands outside."""

    def __init__(self, ink: Ink, z: float) -> None:
        super().__init__(ink, z)
        self._ground = QColor()

    def show_name(self, body: BodyShape, name: Name, ground: str, ink: Ink) -> None:
        """Mirror this name on a patch of its ground. Does nothing if it is what is shown."""
        wanted = (body, name, ground, ink)
        if wanted == self.shown:
            return
        self.shown, self.ink = wanted, ink
        self._ground = QColor(ground)
        self._ground.setAlphaF(PATCH_OPACITY)
        whole = rect(name.box)
        if name.leader:
            whole |= rect(Box.around(list(name.leader)).grown(ink.unit))
        self.settle(whole, 2.0)

    def draw(self, painter: QPainter, shown: tuple[BodyShape, Name, str, Ink]) -> None:
        body, name, _, ink = shown
        draw_leader(painter, name.leader, ink)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._ground)
        patch = rect(name.box.grown(0.6 * ink.unit))
        painter.drawRoundedRect(patch, 2 * ink.unit, 2 * ink.unit)
        draw_name(painter, name.box, name.lines, name.sub, body, ink, name.share)


class NoteMirror(Mirror):
    """One pill or tag, with its leader."""

    def show_note(self, placed: PlacedNote, ink: Ink) -> None:
        """Mirror this note. Does nothing if it is what is shown."""
        wanted = (placed, ink)
        if wanted == self.shown:
            return
        self.shown, self.ink = wanted, ink
        whole = rect(placed.box)
        if placed.leader:
            whole |= rect(Box.around(list(placed.leader)).grown(ink.unit))
        self.settle(whole, 2.0)

    def draw(self, painter: QPainter, shown: tuple[PlacedNote, Ink]) -> None:
        placed, ink = shown
        draw_leader(painter, placed.leader, ink)
        draw_note(painter, placed.note, placed.box, ink)


class GroundMirror(Mirror):
    """The cart, its wheels and zones, the venue's band, the overall dimensions."""

    def __init__(self, ink: Ink, z: float) -> None:
        super().__init__(ink, z)
        self.captions: list[tuple[str, Box]] = []

    def show_ground(self, picture: PlanPicture, captions: list[tuple[str, Box]], ink: Ink) -> None:
        """Mirror what lies under the bodies of a picture."""
        old: PlanPicture | None = self.shown
        same = old is not None and (old.cart, old.venue, old.dimensions) == (
            picture.cart,
            picture.venue,
            picture.dimensions,
        )
        alike = same and ink == self.ink and captions == self.captions
        if alike and old is not None and old.zones == picture.zones:
            return
        self.shown, self.captions, self.ink = picture, captions, ink
        if alike and old is not None and _same_places(old, picture):
            # Those that say something else: how much of their level is free.
            pairs = zip(old.zones, picture.zones, strict=True)
            changed = [self._of_zone(zone) for was, zone in pairs if was != zone]
            ask_for_paint(self.scene(), changed)
            return
        whole = rect(picture.cart.whole)
        for dimension in picture.dimensions:
            whole |= rect(Box.around([dimension.a, dimension.b]).grown(abs(dimension.offset)))
        if picture.venue is not None:
            whole |= rect(picture.venue)
        for zone in picture.zones:
            whole |= rect(zone.box)
        for _, box in captions:
            whole |= rect(box)
        self.settle(whole, 20.0)

    def _of_zone(self, zone: ZoneShape) -> QRectF:
        return rect(zone.box.grown(_PEN_PT * self.ink.unit))

    def draw(self, painter: QPainter, shown: PlanPicture) -> None:
        zones = tuple(zone for zone in shown.zones if self.sees(self._of_zone(zone)))
        draw_ground(painter, shown, self.ink, zones)
        for dimension in shown.dimensions:
            reach = abs(dimension.offset) + _DIMENSION_PT * self.ink.unit
            if self.sees(rect(Box.around([dimension.a, dimension.b]).grown(reach))):
                draw_dimension(painter, dimension, self.ink)
        face = self.ink.face(CAPTION_PT, 600)
        for text, box in self.captions:
            if self.sees(rect(box)):
                baseline = box.y + (face.line + face.cap) / 2
                draw_text(painter, box.x, baseline, text, face, self.ink.theme.ink_muted)


def _same_places(old: PlanPicture, new: PlanPicture) -> bool:
    return [zone.box for zone in old.zones] == [zone.box for zone in new.zones]


def rect(box: Box) -> QRectF:
    """For Qt."""
    return QRectF(box.x, box.y, box.width, box.height)
