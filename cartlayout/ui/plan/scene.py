"""The scene: one mirror for every thing drawn, kept by id, touched only when its value changed."""

from PySide6.QtCore import QObject, QPointF, QRectF
from PySide6.QtGui import QPolygonF
from PySide6.QtWidgets import QGraphicsScene

from ...documents.plan import BodyShape, Box, PlanPicture
from ...documents.plan.paint import Ink
from ...documents.plan.paths import far_part, flattened
from ...documents.theme import Theme
from ..selection import NOTHING, Selection
from .arrange import Arranged, arrange
from .body_layers import BodyLayers
from .camera import WORLD_MM
from .carried import carry
from .changes import ChangesLayer
from .exposure import Exposure
from .handles import XY
from .mirrors import (
    BodyMirror,
    GroundMirror,
    MarkMirror,
    Mirror,
    Name,
    NameMirror,
    NoteMirror,
    RunMirror,
)
from .nearby import arrange_again, in_sight
from .overlay import HaloLayer, HandleLayer, TraceLayer
from .run_words import RunWords
from .stamps import Stamps

FRESH = 1.5
"""Zoom by more than so much looks for the best place of every label again."""
LARGE = 80
"""A plan of more bodies is a hall of carts: its labels are arranged where one looks."""
GROUND_SPARE_PT = 14.0
"""The ground asks to be painted so much wider than anything on it reaches."""
POINT_PX = 1.5
"""Pixels of a typographic point of the drawing on the screen."""

Z_GROUND, Z_GHOST, Z_GHOST_RUN, Z_DRAIN, Z_BODY, Z_WATER, Z_POWER = 0, 10, 15, 20, 30, 40, 50
Z_HALO, Z_NAME, Z_MARK, Z_NOTE, Z_HANDLE, Z_TRACE = 18, 55, 60, 70, 80, 90
Z_RUN_WORDS = 85
Z_CHANGES = 54
_Z_RUN = {"drain": Z_DRAIN, "water": Z_WATER, "power": Z_POWER}


class PlanScene(QGraphicsScene):
    """Owns the mirrors. Everything shown comes in through `show_picture` and `look`."""

    def __init__(self, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(-WORLD_MM, -WORLD_MM, 2 * WORLD_MM, 2 * WORLD_MM, parent)
        self.ink = Ink(theme, POINT_PX)
        self.scale_px = 1.0
        self._arranged_at = 1.0
        self.picture: PlanPicture | None = None
        self._labels = Arranged()
        """As they were arranged last."""
        self.arranged = self._labels
        """As they stand: in a drag they are carried along for a moment."""
        self._seen: Box | None = None
        self._area: Box | None = None
        """Where labels are arranged; None: everywhere."""
        self._sight: PlanPicture | None = None
        """What was in it when they were."""
        self.frame: Box | None = None
        """What is in sight while all of the plan is: labels stay within. None: anywhere."""
        self.selection = NOTHING
        self.bodies: dict[str, BodyMirror] = {}
        self.runs: dict[str, RunMirror] = {}
        self.far: dict[str, RunMirror] = {}
        """The parts of runs that are on other levels than the rest of them."""
        self.notes: dict[str, NoteMirror] = {}
        self.marks: dict[str, MarkMirror] = {}
        self.names: dict[str, NameMirror] = {}
        """Names written over the runs; the others are part of their bodies."""
        self.lines: dict[str, tuple[XY, ...]] = {}
        """Run id to its way as straight pieces, metres: for hit tests."""
        self.stamps = Stamps()
        self.exposure: Exposure | None = None
        """While a view paints: what of it. None: everything, as for a picture of the scene."""
        self.ground = GroundMirror(self.ink, Z_GROUND)
        self.halo = HaloLayer(theme, Z_HALO)
        self.handles = HandleLayer(theme, Z_HANDLE)
        self.trace = TraceLayer(theme, Z_TRACE)
        self.run_words = RunWords(theme, Z_RUN_WORDS)
        self.changes = ChangesLayer(theme, Z_CHANGES)
        self.over = (self.halo, self.changes, self.handles, self.trace, self.run_words)
        """What lies over the drawing and follows the zoom."""
        for item in (self.ground, *self.over):
            self.addItem(item)
        self.layers = BodyLayers(self)

    @property
    def is_large(self) -> bool:
        """More is drawn than can be arranged anew for every frame: see `outlook`."""
        return self.picture is not None and len(self.picture.bodies) > LARGE

    def arranges(self, seen: Box) -> bool:
        """Whether the labels of all that is seen are arranged."""
        return self._area is None or self._area.holds(seen)

    def look_over(self, theme: Theme, scale_px: float) -> None:
        """Take another zoom for what lies over the plan; what is drawn is enlarged as it is."""
        self.scale_px = scale_px
        for layer in self.over:
            layer.look(theme, scale_px)

    def look(
        self, theme: Theme, scale_px: float, frame: Box | None = None, seen: Box | None = None
    ) -> None:
        """Take another theme, another zoom (pixels a millimetre), or another frame for labels.

        Of a large plan only what is seen is labelled.
        """
        ink = Ink(theme, POINT_PX / scale_px)
        framed = frame is not None and frame != self.frame
        self.frame, self._seen = frame, seen
        apart = self.is_large and seen is not None and not self.arranges(seen)
        if ink == self.ink and not framed and not apart:
            return
        self.ink = ink
        self.look_over(theme, scale_px)
        if self.picture is not None:
            # Labels keep their places over a few notches of the wheel; further
            # in or out there is more or less room, and it is worth looking again.
            ratio = scale_px / self._arranged_at
            self._mirror(self.picture, fresh=framed or not 1 / FRESH < ratio < FRESH)

    def show_picture(
        self, picture: PlanPicture, selection: Selection, carries: bool = False
    ) -> None:
        """Mirror a picture; what is as it was is not touched.

        Args:
            picture: what is to be seen.
            selection: what is marked.
            carries: labels only move with what they speak of; they are arranged soon.
        """
        old, self.picture = self.picture, picture
        self.selection = selection
        self._mirror(picture, old, carries=carries)

    def show_selection(self, selection: Selection) -> None:
        """Mark what is selected."""
        self.selection = selection
        if self.picture is not None:
            self._mirror_bodies(self.picture)
            self._mirror_runs(self.picture)

    def polygon(self, item_id: str) -> QPolygonF:
        """A body's corners."""
        body = self.picture.body(item_id) if self.picture is not None else None
        return QPolygonF([QPointF(*corner) for corner in body.corners] if body is not None else [])

    def line(self, run_id: str) -> QPolygonF:
        """A run's way."""
        return QPolygonF([QPointF(x * 1000, y * 1000) for x, y in self.lines.get(run_id, ())])

    def extent(self) -> QRectF:
        """Around everything that is drawn, with room for the labels."""
        if self.picture is None:
            return QRectF()
        box = self.picture.box
        whole = QRectF(box.x, box.y, box.width, box.height)
        if self.picture.venue is not None:
            venue = self.picture.venue
            whole |= QRectF(venue.x, venue.y, venue.width, venue.height)
        spare = GROUND_SPARE_PT * self.ink.unit
        return whole | self.ground.boundingRect().adjusted(spare, spare, -spare, -spare)

    def labels_in_frame(self) -> bool:
        """Whether every name and note lies within the frame."""
        frame = self.frame
        if frame is None:
            return True
        boxes = [name.box for name in self.arranged.names.values()]
        boxes += [note.box for note in self.arranged.notes]
        return all(frame.holds(box) for box in boxes)

    def _mirror(
        self,
        picture: PlanPicture,
        old: PlanPicture | None = None,
        *,
        fresh: bool = False,
        carries: bool = False,
    ) -> None:
        if carries and self._sight is not None and self._labels.unit == self.ink.unit:
            self.arranged = carry(picture, self._sight, self._labels)
        else:
            self._arrange(picture, old, fresh=fresh)
        self.ground.show_ground(picture, self.arranged.captions, self.ink)
        self.layers.show_picture(picture, self.ink)
        self._mirror_bodies(picture)
        self._mirror_runs(picture)
        self._mirror_names(picture)
        self._mirror_marks()
        self._mirror_notes()

    def _arrange(self, picture: PlanPicture, old: PlanPicture | None, *, fresh: bool) -> None:
        """Find every label its place."""
        if fresh or not self._labels.looked:
            self._arranged_at = self.scale_px
        area = self._area_of_labels()
        sight = picture if area is None else in_sight(picture, area)
        before = self._labels
        if old is not None and self._sight is not None and area == self._area and not fresh:
            self._labels = arrange_again(sight, self._sight, before, self.ink, self.frame)
        else:
            self._labels = arrange(sight, self.ink, None if fresh else before, self.frame)
        self.arranged = self._labels
        self._area, self._sight = area, sight

    def _area_of_labels(self) -> Box | None:
        if not self.is_large or self._seen is None:
            return None
        if self._area is None or self.ink.unit != self._labels.unit:
            return self._seen
        return self._area if self._area.holds(self._seen) else self._seen

    def _mirror_marks(self) -> None:
        wanted = self.arranged.marks
        self._drop(self.marks, set(wanted))
        for key, (severity, at) in wanted.items():
            mirror = self.marks.get(key)
            if mirror is None:
                mirror = self.marks[key] = MarkMirror(self.ink, Z_MARK)
                self.addItem(mirror)
            mirror.show_mark(severity, at, self.ink)

    def _mirror_names(self, picture: PlanPicture) -> None:
        over = {key: name for key, name in self.arranged.names.items() if name.over}
        self._drop(self.names, set(over))
        for body in picture.bodies:
            if body.id not in over:
                continue
            mirror = self.names.get(body.id)
            if mirror is None:
                mirror = self.names[body.id] = NameMirror(self.ink, Z_NAME)
                self.addItem(mirror)
            name = over[body.id]
            mirror.show_name(body, name, self._ground_of(body, name, picture), self.ink)

    def _ground_of(self, body: BodyShape, name: Name, picture: PlanPicture) -> str:
        """The colour that a name is written on."""
        theme = self.ink.theme
        if body.box.holds(name.box):
            return theme.panel_raised if body.venue else theme.body
        if picture.venue is not None and picture.venue.holds(name.box):
            return theme.venue
        return theme.cart if picture.cart.box.holds(name.box) else theme.paper

    def _mirror_bodies(self, picture: PlanPicture) -> None:
        self._drop(self.bodies, {body.id for body in picture.bodies})
        chosen = set(self.selection.items)
        for order, body in enumerate(picture.bodies):
            mirror = self.bodies.get(body.id)
            if mirror is None:
                mirror = self.bodies[body.id] = BodyMirror(self.ink, Z_BODY, self.stamps)
                self.addItem(mirror)
            mirror.place((Z_GHOST if body.ghosted else Z_BODY) + order * 0.01)
            name = self.arranged.names.get(body.id)
            mirror.show_body(body, name, body.id in chosen, self.ink)

    def _mirror_runs(self, picture: PlanPicture) -> None:
        self._drop(self.runs, {run.id for run in picture.runs})
        for run_id in [one for one in self.lines if one not in self.runs]:
            del self.lines[run_id]
        chosen = set(self.selection.runs)
        for order, run in enumerate(picture.runs):
            mirror = self.runs.get(run.id)
            if mirror is None:
                mirror = self.runs[run.id] = RunMirror(self.ink, _Z_RUN[run.medium])
                self.addItem(mirror)
            if mirror.shown is None or (mirror.shown[0] is not run and mirror.shown[0] != run):
                self.lines[run.id] = tuple((x / 1000, y / 1000) for x, y in flattened(run))
            z = Z_GHOST_RUN if run.ghosted else _Z_RUN[run.medium]
            mirror.place(z + order * 0.01)
            mirror.show_run(run, run.id in chosen, self.ink)
        self._mirror_far(picture, chosen)

    def _mirror_far(self, picture: PlanPicture, chosen: set[str]) -> None:
        """The far parts of runs lie under the bodies."""
        far = {run.id: far_part(run) for run in picture.runs if run.far}
        self._drop(self.far, set(far))
        for order, (run_id, part) in enumerate(far.items()):
            mirror = self.far.get(run_id)
            if mirror is None:
                mirror = self.far[run_id] = RunMirror(self.ink, Z_GHOST_RUN)
                self.addItem(mirror)
            mirror.place(Z_GHOST_RUN + order * 0.01)
            mirror.show_run(part, run_id in chosen, self.ink)

    def _mirror_notes(self) -> None:
        placed = {one.note.key: one for one in self.arranged.notes}
        self._drop(self.notes, set(placed))
        for key, one in placed.items():
            mirror = self.notes.get(key)
            if mirror is None:
                mirror = self.notes[key] = NoteMirror(self.ink, Z_NOTE)
                self.addItem(mirror)
            mirror.show_note(one, self.ink)

    def _drop(self, mirrors: dict, wanted: set[str]) -> None:
        for key in [key for key in mirrors if key not in wanted]:
            gone: Mirror = mirrors.pop(key)
            self.removeItem(gone)
