"""The plan at a standard scale, with every label in its place. Millimetres of the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...units import UnitSystem
from ..labels import Field, Label, Obstacle, place
from ..lettering import wrapped
from ..plan.cart import ground_words
from ..plan.ink import PT_MM, Ink
from ..plan.lines import arrow_places, tube_width_pt
from ..plan.marks import marked_corner
from ..plan.paths import flattened
from ..plan.picture import XY, BodyShape, Box, Note, PlanPicture
from ..plan.texts import dimension_line_box, dimension_text_box, name_faces, name_size, note_size
from ..theme import LIGHT, Theme

# Of one inch to a foot and its parts and multiples, 1:10 and 1:20 between them; and
# those of ISO 5455 with 1:15 and 1:25 between (common practice, no source).
_US_SCALES = {
    4: "3\" = 1'",
    8: "1 1/2\" = 1'",
    10: "",
    12: "1\" = 1'",
    16: "3/4\" = 1'",
    20: "",
    24: "1/2\" = 1'",
    32: "3/8\" = 1'",
    48: "1/4\" = 1'",
    96: "1/8\" = 1'",
}
_METRIC_SCALES = (5, 10, 15, 20, 25, 50, 100, 200, 500)
MARK_MM = 3.0
SIDE_ROOM_MM, END_ROOM_MM = 8.0, 3.0
"""Kept free beside, and above and below, the drawing for labels that stand outside."""
BAR_MM = 7.0
"""Height of the strip of the scale bar."""
GAP_MM = 0.9
_BODY_WEIGHT, _GHOST_WEIGHT = 1.0, 0.12


class ScaleError(ValueError):
    """A drawing does not fit its sheet at the scale asked for."""

    def __init__(self, asked: float, least: float) -> None:
        super().__init__(
            f"At 1:{asked:g} it does not fit the sheet; ask for 1:{least:g} or a larger sheet."
        )


@dataclass(frozen=True, slots=True)
class NameLabel:
    """A body's name, broken into lines."""

    body: BodyShape
    box: Box
    lines: tuple[str, ...]
    leader: tuple[XY, ...]


@dataclass(frozen=True, slots=True)
class NoteLabel:
    """A note in its frame."""

    note: Note
    box: Box
    leader: tuple[XY, ...]


@dataclass(frozen=True, slots=True)
class BodyMark:
    """The mark of the worst finding, on its body."""

    x: float
    y: float
    severity: str
    item: str

    @property
    def box(self) -> Box:
        """Its room."""
        return Box(self.x - MARK_MM / 2, self.y - MARK_MM / 2, MARK_MM, MARK_MM)


@dataclass(frozen=True, slots=True)
class PlanDrawing:
    """The plan on the sheet."""

    picture: PlanPicture
    denominator: float
    """Of the scale: 12 for 1:12."""
    origin: XY
    """Where the plan's own origin is on the sheet."""
    area: Box
    names: tuple[NameLabel, ...]
    notes: tuple[NoteLabel, ...]
    marks: tuple[BodyMark, ...]
    scale_bar: XY
    """Upper left corner."""
    scale_bar_longest: float

    def on_sheet(self, point: XY) -> XY:
        """From millimetres of the plan to millimetres of the sheet."""
        return (
            self.origin[0] + point[0] / self.denominator,
            self.origin[1] + point[1] / self.denominator,
        )

    def box_on_sheet(self, box: Box) -> Box:
        """A box, likewise."""
        x, y = self.on_sheet((box.x, box.y))
        return Box(x, y, box.width / self.denominator, box.height / self.denominator)

    def box_on_plan(self, box: Box) -> Box:
        """From the sheet back to the plan."""
        return Box(
            (box.x - self.origin[0]) * self.denominator,
            (box.y - self.origin[1]) * self.denominator,
            box.width * self.denominator,
            box.height * self.denominator,
        )

    @property
    def label_boxes(self) -> tuple[tuple[str, Box], ...]:
        """Every label with what it says, dimensions included: none may lie on another."""
        ink = Ink(LIGHT, PT_MM * self.denominator)
        return (
            *((" ".join(one.lines), one.box) for one in self.names),
            *((one.note.text, one.box) for one in self.notes),
            *((one.severity, one.box) for one in self.marks),
            *(
                (one.text, self.box_on_sheet(dimension_text_box(one, ink)))
                for one in self.picture.dimensions
            ),
        )


def scale_text(denominator: float, system: UnitSystem) -> str:
    """Such as '1:12 (1" = 1')'."""
    text = f"1:{denominator:g}"
    words = _US_SCALES.get(int(denominator), "") if system is UnitSystem.US else ""
    return f"{text} ({words})" if words else text


def standard_scales(system: UnitSystem) -> tuple[float, ...]:
    """Denominators of the scales that rulers have, the largest scale first."""
    return tuple(_US_SCALES) if system is UnitSystem.US else _METRIC_SCALES


def content(picture: PlanPicture) -> Box:
    """What the drawing needs at least, in millimetres of the plan: bodies, runs, dimensions."""
    box = picture.box
    if picture.venue is not None:
        box = box.united(picture.venue)
    for one in picture.dimensions:
        box = box.united(Box.around([one.a, one.b]))
    left, below = picture.cart.box.x, picture.cart.box.bottom
    offset = max((abs(one.offset) for one in picture.dimensions), default=0.0)
    return box.united(Box(left - offset, below, 0.0, offset))


def usable(area: Box) -> tuple[float, float]:
    """Width and height of an area that the drawing itself can fill."""
    return area.width - 2 * SIDE_ROOM_MM, area.height - 2 * END_ROOM_MM - BAR_MM


def fits(picture: PlanPicture, area: Box, denominator: float) -> bool:
    """Whether the drawing and its labels' room fit an area at a scale."""
    need, (wide, high) = content(picture), usable(area)
    return need.width / denominator <= wide and need.height / denominator <= high


def best_scale(picture: PlanPicture, area: Box, system: UnitSystem) -> float:
    """The largest standard scale at which the drawing and its labels' room fit an area."""
    need = content(picture)
    wide, high = usable(area)
    scales = standard_scales(system)
    for denominator in scales:
        if fits(picture, area, denominator):
            return denominator
    over = max(need.width / max(wide, 1.0), need.height / max(high, 1.0), scales[-1])
    return float(-(-over // 100) * 100)


def draw_plan(
    picture: PlanPicture, area: Box, denominator: float, theme: Theme, system: UnitSystem
) -> PlanDrawing:
    """Put the plan in the middle of an area and give every label its place.

    The lowest strip of the area, the height of the scale bar, stays free of labels.
    """
    need = content(picture)
    frame = Box(area.x, area.y, area.width, area.height - BAR_MM)
    origin = (
        frame.x + (frame.width - need.width / denominator) / 2 - need.x / denominator,
        frame.y + (frame.height - need.height / denominator) / 2 - need.y / denominator,
    )
    bare = PlanDrawing(
        picture=picture,
        denominator=denominator,
        origin=origin,
        area=area,
        names=(),
        notes=(),
        marks=(),
        scale_bar=(area.x + 4.0, area.bottom - BAR_MM + 0.6),
        scale_bar_longest=min(60.0, area.width / 3) * denominator,
    )
    return _Labelling(bare, frame, theme).done()


class _Labelling:
    """Gathers what has to be placed and what is in the way."""

    def __init__(self, bare: PlanDrawing, frame: Box, theme: Theme) -> None:
        self.bare = bare
        self.frame = frame
        self.ink = Ink(theme, PT_MM)
        self.picture = bare.picture
        self.lines_of: dict[str, tuple[tuple[str, ...], ...]] = {}
        self.marks = tuple(self._mark(body) for body in self.picture.bodies if body.severity)

    def done(self) -> PlanDrawing:
        """Place everything."""
        labels = [
            *(self._note(note) for note in self.picture.notes),
            *(self._name(body) for body in self.picture.bodies),
        ]
        placed = {one.key: one for one in place(labels, self._field())}
        return replace(
            self.bare,
            names=tuple(
                NameLabel(
                    body,
                    placed[body.id].box,
                    self.lines_of[body.id][placed[body.id].size],
                    placed[body.id].leader,
                )
                for body in self.picture.bodies
            ),
            notes=tuple(
                NoteLabel(note, placed[f"note {note.key}"].box, placed[f"note {note.key}"].leader)
                for note in self.picture.notes
            ),
            marks=self.marks,
        )

    def _mark(self, body: BodyShape) -> BodyMark:
        x, y = self.bare.on_sheet(marked_corner(body, self.picture))
        middle = self.bare.on_sheet(body.centre)
        inset = 0.7 * MARK_MM if body.rotation % 90.0 == 0.0 else MARK_MM
        dx = min(inset, abs(middle[0] - x) / 2)
        dy = min(inset, abs(middle[1] - y) / 2)
        return BodyMark(
            x + (dx if middle[0] > x else -dx),
            y + (dy if middle[1] > y else -dy),
            str(body.severity),
            body.id,
        )

    def _name(self, body: BodyShape) -> Label:
        box = self.bare.box_on_sheet(body.box)
        name, _ = name_faces(body, self.ink)
        ways: list[tuple[str, ...]] = []
        natural = name.width(body.name)
        for lines in (1, 2, 3):
            width = max(
                natural / lines * 1.15, max(name.width(w) for w in [*body.name.split(), ""])
            )
            way = tuple(wrapped(body.name, name, width + 0.01))
            if way and way not in ways:
                ways.append(way)
        self.lines_of[body.id] = tuple(ways or [("",)])
        sizes = []
        for way in self.lines_of[body.id]:
            width, height = name_size(way, body.sub, body, self.ink)
            sizes.append((width + 1.2, height + 0.4))
        return Label(
            key=body.id,
            sizes=tuple(sizes),
            target=box,
            inner=self.bare.box_on_sheet(body.inner),
            anchor=box.centre,
            inside=True,
            belongs=body.id,
            priority=1.0 + (box.width * box.height) ** 0.5 / 1000.0,
        )

    def _note(self, note: Note) -> Label:
        target = self.bare.box_on_sheet(note.target)
        if note.kind == "tap":  # its pressure is that at the port, so it stands there
            x, y = self.bare.on_sheet(note.anchor)
            target = Box(x, y, 0.0, 0.0).grown(0.8)
        return Label(
            key=f"note {note.key}",
            sizes=(note_size(note, self.ink),),
            target=target,
            anchor=self.bare.on_sheet(note.anchor),
            along=tuple(self.bare.on_sheet(point) for point in note.along),
            priority={"circuit": 4.0, "weight": 3.5, "water": 2.5, "tap": 3.0, "tag": 2.0}[
                note.kind
            ],
            belongs=note.item,
            apart=1.4,
        )

    def _field(self) -> Field:
        bare, picture = self.bare, self.picture
        bodies = []
        for body in picture.bodies:
            weight = _GHOST_WEIGHT if body.ghosted else _BODY_WEIGHT
            bodies.append(Obstacle(body.id, bare.box_on_sheet(body.box), weight))
        lines: list[tuple[tuple[XY, ...], float]] = [
            (tuple(bare.on_sheet(point) for point in flattened(run)), 1.0) for run in picture.runs
        ]
        lines += [(self._closed(body), 0.35 if body.ghosted else 0.5) for body in picture.bodies]
        lines.append((self._ring(picture.cart.outline), 1.2))
        if picture.venue is not None:
            lines.append((self._ring(_corners(picture.venue)), 0.8))
        arrows = []
        for run in picture.runs:
            half = (tube_width_pt(run.bore_mm) + 2.0) * PT_MM
            for point, _ in arrow_places(run):
                x, y = bare.on_sheet(point)
                arrows.append(Obstacle(run.id, Box(x - half, y - half, 2 * half, 2 * half), 0.8))
        ink = Ink(self.ink.theme, PT_MM * bare.denominator)
        dimensions = tuple(
            bare.box_on_sheet(box)
            for one in picture.dimensions
            for box in (dimension_text_box(one, ink), dimension_line_box(one, ink))
        )
        words = tuple(bare.box_on_sheet(one) for one in ground_words(picture, ink))
        return Field(
            frame=self.frame,
            bodies=(*bodies, *arrows),
            lines=tuple(lines),
            keep_out=(*dimensions, *words, *(mark.box for mark in self.marks)),
            gap=GAP_MM,
        )

    def _closed(self, body: BodyShape) -> tuple[XY, ...]:
        return self._ring(body.corners)

    def _ring(self, corners: Sequence[XY]) -> tuple[XY, ...]:
        return tuple(self.bare.on_sheet(point) for point in (*corners, corners[0]))


def _corners(box: Box) -> tuple[XY, ...]:
    return (box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom)
