"""Where names and notes stand at the zoom of now.

A name is written in its body where it fits. What does not fit, and every note,
is placed beside so that nothing lies on anything else. What stood well before
stays where it was: labels must not dance while something is dragged.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ...documents.labels import Field, Label, Obstacle, place
from ...documents.lettering import wrapped
from ...documents.plan import XY, BodyShape, Box, Note, PlanPicture
from ...documents.plan.paint import Ink, dimension_text_box, name_size, note_size
from ...documents.plan.paths import flattened
from ...documents.plan.texts import name_faces
from .mirrors import MARK_PT, Name, PlacedNote, mark_place

INSET_PT = 2.4
GAP_PT = 2.2
SYMBOL_PT = 16.0
"""Free height from which a name stands low, to leave the silhouette its place."""
LEAST_LETTERS = 4
"""A name cut shorter than this says nothing."""
LEAST_BODY_PT = 9.0
"""A body smaller than this gets no name beside it either: zoom in."""
CROWDED_PT = 230.0
"""A plan narrower than this is an overview: pills only."""
_PRIORITY = {"circuit": 3.0, "tap": 2.0, "name": 1.5, "tag": 1.0}


@dataclass(frozen=True, slots=True)
class Arranged:
    """Names by item id, and notes with their places."""

    names: dict[str, Name] = field(default_factory=dict)
    notes: tuple[PlacedNote, ...] = ()
    outer: frozenset[str] = frozenset()
    """Items whose names stand beside them."""
    unit: float = 1.0


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A label to place: a note, or a name that has no room in its body."""

    key: str
    label: Label
    note: Note | None = None
    body: BodyShape | None = None
    lines: tuple[str, ...] = ()
    sub: str = ""


def arrange(picture: PlanPicture, ink: Ink, before: Arranged | None) -> Arranged:
    """Place everything; with `before`, what still stands well keeps its place."""
    names: dict[str, Name] = {}
    wanted: list[_Wanted] = []
    solid = [body.box for body in picture.bodies if not body.ghosted]
    for body in picture.bodies:
        over = [box for box in solid if box.meets(body.box)] if body.ghosted else []
        inner = name_inside(body, ink, over)
        if inner is not None:
            names[body.id] = inner
        elif not body.ghosted:
            beside = _name_beside(body, ink)
            if beside is not None:
                wanted.append(beside)
    wanted += [_note(note, picture, ink) for note in _shown(picture, ink)]
    walls = [name.box for name in names.values()] + _marks(picture, ink)
    walls += [dimension_text_box(one, ink) for one in picture.dimensions]
    kept = _kept(wanted, before, picture, ink, walls) if before is not None else {}
    rest = [one for one in wanted if one.key not in kept]
    placed = dict(kept)
    if rest:
        area = _field(picture, ink, [*walls, *(box for box, _ in kept.values())])
        for found in place([one.label for one in rest], area):
            placed[found.key] = (found.box, found.leader)
    return _arranged(names, wanted, placed, ink)


def _arranged(
    names: dict[str, Name],
    wanted: list[_Wanted],
    placed: dict[str, tuple[Box, tuple[XY, ...]]],
    ink: Ink,
) -> Arranged:
    notes = []
    outer = set()
    for one in wanted:
        box, leader = placed[one.key]
        if one.note is not None:
            notes.append(PlacedNote(one.note, box, leader))
        elif one.body is not None:
            names[one.body.id] = Name(one.lines, one.sub, box, leader, one.label.anchor)
            outer.add(one.body.id)
    return Arranged(names, tuple(notes), frozenset(outer), ink.unit)


def name_inside(body: BodyShape, ink: Ink, over: Sequence[Box] = ()) -> Name | None:
    """The name in its body, with its number if there is room; None where it has no place.

    Args:
        body: what is named.
        ink: sizes.
        over: bodies that lie over it and would hide its name.
    """
    inset = INSET_PT * ink.unit
    room = _room(body).grown(-inset)
    if room.width <= 0 or room.height <= 0:
        return None
    face, _ = name_faces(body, ink)
    for width in (room.width, 0.62 * room.width) if over else (room.width,):
        lines = tuple(wrapped(body.name, face, width))
        if not lines or any(line.endswith("…") or not line for line in lines):
            continue
        for sub in (body.sub, "") if body.sub else ("",):
            name = _set(lines, sub, body, ink, room, over)
            if name is not None:
                return name
    short = tuple(wrapped(body.name, face, room.width, 1))
    if body.ghosted and len(short) == 1 and len(short[0]) > LEAST_LETTERS:
        return _set(short, "", body, ink, room, over)
    return None


def _room(body: BodyShape) -> Box:
    """The upright rectangle inside a body, however it is turned."""
    if body.rotation % 90.0 == 0.0:
        return body.box
    side = min(body.width, body.depth) / 2**0.5
    x, y = body.centre
    return Box(x - side / 2, y - side / 2, side, side)


def _set(
    lines: tuple[str, ...], sub: str, body: BodyShape, ink: Ink, room: Box, over: Sequence[Box]
) -> Name | None:
    """Lay a name into a room: in the middle, or low where that leaves the silhouette its place."""
    width, height = name_size(lines, sub, body, ink)
    spare_x, spare_y = room.width - width, room.height - height
    if spare_x < 0 or spare_y < 0:
        return None
    low = not body.ghosted and spare_y > SYMBOL_PT * ink.unit
    for down in (1.0,) if low else (0.5, 1.0, 0.0, 0.75, 0.25) if over else (0.5,):
        for right in (0.5, 0.0, 1.0, 0.25, 0.75) if over else (0.5,):
            box = Box(room.x + right * spare_x, room.y + down * spare_y, width, height)
            if not any(box.meets(other) for other in over):
                return Name(lines, sub, box)
    return None


def _name_beside(body: BodyShape, ink: Ink) -> _Wanted | None:
    if max(body.width, body.depth) < LEAST_BODY_PT * ink.unit:
        return None
    face, _ = name_faces(body, ink)
    lines = tuple(wrapped(body.name, face, 74.0 * ink.unit, 2))
    sub = body.sub if body.venue else ""
    if not lines:
        return None
    label = Label(
        key=f"name {body.id}",
        sizes=(name_size(lines, sub, body, ink),),
        target=body.box,
        anchor=body.centre,
        priority=_PRIORITY["name"],
        belongs=body.id,
    )
    return _Wanted(label.key, label, body=body, lines=lines, sub=sub)


def _shown(picture: PlanPicture, ink: Ink) -> Iterable[Note]:
    crowded = picture.cart.box.width < CROWDED_PT * ink.unit
    return (note for note in picture.notes if note.kind != "tag" or not crowded)


def _note(note: Note, picture: PlanPicture, ink: Ink) -> _Wanted:
    label = Label(
        key=note.key,
        sizes=(note_size(note, ink),),
        target=note.target,
        anchor=note.anchor,
        along=note.along,
        priority=_PRIORITY[note.kind],
        belongs=note.item,
        apart=1.6,
    )
    return _Wanted(note.key, label, note=note)


def _marks(picture: PlanPicture, ink: Ink) -> list[Box]:
    made = []
    for body in picture.bodies:
        if body.severity is not None:
            size = MARK_PT * ink.unit
            x, y = mark_place(body, size)
            made.append(Box(x - size / 2, y - size / 2, size, size))
    return made


def _field(picture: PlanPicture, ink: Ink, keep_out: list[Box]) -> Field:
    outline = picture.cart.outline
    return Field(
        frame=picture.box.grown(90.0 * ink.unit),
        bodies=tuple(
            Obstacle(body.id, body.box, 0.25 if body.ghosted else 1.0) for body in picture.bodies
        ),
        lines=(
            *((flattened(run, 8), 0.4 if run.ghosted else 1.0) for run in picture.runs),
            ((*outline, outline[0]), 0.5),
        ),
        keep_out=tuple(keep_out),
        gap=GAP_PT * ink.unit,
    )


def _kept(
    wanted: list[_Wanted],
    before: Arranged,
    picture: PlanPicture,
    ink: Ink,
    walls: list[Box],
) -> dict[str, tuple[Box, tuple[XY, ...]]]:
    """Those whose old place, carried along with their anchor, is still a good one."""
    old: dict[str, tuple[Box, XY, tuple[XY, ...]]] = {
        one.note.key: (one.box, one.note.anchor, one.leader) for one in before.notes
    }
    for item_id in before.outer:
        name = before.names[item_id]
        old[f"name {item_id}"] = (name.box, name.anchor, name.leader)
    solid = [(body.id, body.box) for body in picture.bodies if not body.ghosted]
    gap = GAP_PT * ink.unit
    ratio = ink.unit / before.unit
    taken = list(walls)
    kept: dict[str, tuple[Box, tuple[XY, ...]]] = {}
    for one in sorted(wanted, key=lambda each: -each.label.priority):
        if one.key not in old:
            continue
        box, anchor, leader = old[one.key]
        carried = _carried(box, anchor, one.label, ratio)
        if one.label.along and not any(_same(box.centre, spot) for spot in one.label.along):
            continue  # its line has moved away from under it
        if leader and (ratio != 1.0 or anchor != one.label.anchor):
            continue  # a leader is drawn anew
        covers = any(
            carried.meets(body) and (item_id == one.label.belongs or not box.meets(body))
            for item_id, body in solid
        )
        if covers or any(carried.grown(gap / 2).meets(wall) for wall in taken):
            continue
        taken.append(carried)
        kept[one.key] = (carried, leader)
    return kept


def _carried(box: Box, anchor: XY, label: Label, ratio: float) -> Box:
    """The old box at the new anchor: same way off in points, of the new size."""
    width, height = label.sizes[0]
    if ratio == 1.0 and anchor == label.anchor and abs(width - box.width) < 1e-9:
        return box
    cx, cy = box.centre
    if label.along:  # stands on a line, and stays on it
        return Box(cx - width / 2, cy - height / 2, width, height)
    x = label.anchor[0] + (cx - anchor[0]) * ratio
    y = label.anchor[1] + (cy - anchor[1]) * ratio
    return Box(x - width / 2, y - height / 2, width, height)


def _same(a: XY, b: XY) -> bool:
    return abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) < 1e-6
