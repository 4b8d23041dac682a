"""Where names and notes stand at the zoom of now.

A name is written in its body where it fits. What does not fit, and every note,
is placed beside so that nothing lies on anything else. What stood well before
stays where it was: labels must not dance while something is dragged.
"""

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from ...documents.labels import Field, Label, Obstacle, place
from ...documents.lettering import wrapped
from ...documents.plan import XY, BodyShape, Box, Note, PlanPicture, RunShape
from ...documents.plan.paint import Ink, dimension_text_box, name_size, note_size
from ...documents.plan.paths import flattened
from ...documents.plan.texts import name_faces
from .mirrors import CAPTION_PT, MARK_PT, Name, PlacedNote, mark_place

INSET_PT = 2.4
GAP_PT = 2.2
RUN_GAP_PT = 2.6
SYMBOL_PT = 16.0
"""Free height from which a name stands low, to leave the silhouette its place."""
LEAST_LETTERS = 4
"""A name cut shorter than this says nothing."""
LEAST_BODY_PT = 9.0
"""A body smaller than this gets no name beside it either: zoom in."""
CROWDED_PT = 230.0
"""A plan narrower than this is an overview: pills only."""
_PRIORITY = {"circuit": 3.0, "tap": 2.0, "name": 1.5, "tag": 1.0}


_Place = tuple[Box, tuple[XY, ...]]
"""Of a label: its box and its leader."""


@dataclass(frozen=True, slots=True)
class _Cover:
    """What a name had better not lie under: bodies that hide it, runs that cross it out."""

    bodies: tuple[Box, ...] = ()
    pieces: tuple[tuple[XY, XY], ...] = ()


@dataclass(frozen=True, slots=True)
class Arranged:
    """Names by item id, and notes with their places."""

    names: dict[str, Name] = field(default_factory=dict)
    notes: tuple[PlacedNote, ...] = ()
    outer: frozenset[str] = frozenset()
    """Items whose names stand beside them."""
    unit: float = 1.0
    looked: dict[str, tuple[BodyShape, _Cover, Name | None]] = field(default_factory=dict)
    """What every name inside its body followed from; it need not be looked for again."""


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
    looked = _look(picture, ink, before)
    for body in picture.bodies:
        inner = looked[body.id][2]
        if inner is not None:
            names[body.id] = inner
        elif not body.ghosted:
            beside = _name_beside(body, ink)
            if beside is not None:
                wanted.append(beside)
    wanted += [_note(note, picture, ink) for note in _shown(picture, ink)]
    walls = [name.box for name in names.values()] + _marks(picture, ink)
    walls += [dimension_text_box(one, ink) for one in picture.dimensions]
    walls += [box for _, box in captions(picture, ink)]
    placed = _kept(wanted, before, picture, ink, walls) if before is not None else {}
    rest = [one for one in wanted if one.key not in placed]
    if placed:
        rest = _quick(rest, placed, picture, ink, walls)
    if rest:
        area = _field(picture, ink, [*walls, *(box for box, _ in placed.values())])
        for found in place([one.label for one in rest], area):
            placed[found.key] = (found.box, found.leader)
    return _arranged(names, wanted, placed, looked, ink)


def _arranged(
    names: dict[str, Name],
    wanted: list[_Wanted],
    placed: dict[str, _Place],
    looked: dict[str, tuple[BodyShape, _Cover, Name | None]],
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
    return Arranged(names, tuple(notes), frozenset(outer), ink.unit, looked)


def _look(
    picture: PlanPicture, ink: Ink, before: Arranged | None
) -> dict[str, tuple[BodyShape, _Cover, Name | None]]:
    """The name inside every body, looked for only where something about it has changed."""
    known = before.looked if before is not None and before.unit == ink.unit else {}
    made = {}
    for body, cover in _covers(picture):
        old = known.get(body.id)
        same = old is not None and old[0] == body and old[1] == cover
        made[body.id] = (
            old if old is not None and same else (body, cover, name_inside(body, ink, cover))
        )
    return made


def name_inside(body: BodyShape, ink: Ink, cover: _Cover = _Cover()) -> Name | None:
    """The name in its body, with its number if there is room; None where it has no place."""
    inset = INSET_PT * ink.unit
    room = _room(body).grown(-inset)
    if room.width <= 0 or room.height <= 0:
        return None
    face, _ = name_faces(body, ink)
    covered = bool(cover.bodies or cover.pieces)
    best: tuple[int, Name] | None = None
    for width in (room.width, 0.62 * room.width) if covered else (room.width,):
        lines = tuple(wrapped(body.name, face, width))
        if not lines or any(line.endswith("…") or not line for line in lines):
            continue
        for sub in (body.sub, "") if body.sub else ("",):
            found = _set(lines, sub, body, ink, room, cover)
            if found is not None and (best is None or found[0] < best[0]):
                best = found
            if best is not None and best[0] == 0:
                return best[1]
    if best is not None:
        return best[1]
    short = tuple(wrapped(body.name, face, room.width, 1))
    if body.ghosted and len(short) == 1 and len(short[0]) > LEAST_LETTERS:
        found = _set(short, "", body, ink, room, cover)
        return found[1] if found is not None else None
    return None


def _room(body: BodyShape) -> Box:
    """The upright rectangle inside a body, however it is turned."""
    if body.rotation % 90.0 == 0.0:
        return body.box
    side = min(body.width, body.depth) / 2**0.5
    x, y = body.centre
    return Box(x - side / 2, y - side / 2, side, side)


_DOWN = (0.5, 1.0, 0.0, 0.75, 0.25)
_DOWN_LOW = (1.0, 0.75, 0.5, 0.25, 0.0)
_RIGHT = (0.5, 0.0, 1.0, 0.25, 0.75)


def _set(
    lines: tuple[str, ...], sub: str, body: BodyShape, ink: Ink, room: Box, cover: _Cover
) -> tuple[int, Name] | None:
    """Lay a name into a room: in the middle, or low where that leaves the silhouette its place.

    Returns how many runs cross the name, and the name; None where it does not fit.
    """
    width, height = name_size(lines, sub, body, ink)
    spare_x, spare_y = room.width - width, room.height - height
    if spare_x < 0 or spare_y < 0:
        return None
    low = not body.ghosted and spare_y > SYMBOL_PT * ink.unit
    covered = bool(cover.bodies or cover.pieces)
    best: tuple[int, Name] | None = None
    for down in (_DOWN_LOW if low else _DOWN)[: None if covered else 1]:
        for right in _RIGHT[: None if covered else 1]:
            box = Box(room.x + right * spare_x, room.y + down * spare_y, width, height)
            if any(box.meets(other) for other in cover.bodies):
                continue
            apart = box.grown(RUN_GAP_PT * ink.unit)
            crossings = sum(_crosses(piece, apart) for piece in cover.pieces)
            if best is None or crossings < best[0]:
                best = (crossings, Name(lines, sub, box))
            if crossings == 0:
                return best
    return best


def _crosses(piece: tuple[XY, XY], box: Box) -> bool:
    """Whether a straight piece comes into a box: clipped to each side in turn."""
    (x1, y1), (x2, y2) = piece
    enter, leave = 0.0, 1.0
    for start, way, least, greatest in (
        (x1, x2 - x1, box.x, box.right),
        (y1, y2 - y1, box.y, box.bottom),
    ):
        if way == 0.0:
            if not least <= start <= greatest:
                return False
            continue
        first, second = sorted(((least - start) / way, (greatest - start) / way))
        enter, leave = max(enter, first), min(leave, second)
        if enter > leave:
            return False
    return True


@lru_cache(maxsize=512)
def _pieces(run: RunShape) -> tuple[Box, tuple[tuple[XY, XY], ...]]:
    """A run as straight pieces, and the rectangle around them."""
    points = flattened(run, 8)
    return Box.around(points), tuple(itertools.pairwise(points))


def _covers(picture: PlanPicture) -> Iterator[tuple[BodyShape, _Cover]]:
    """Every body with what lies over it."""
    runs = [(*_pieces(run), run.ghosted) for run in picture.runs]
    solid = [body.box for body in picture.bodies if not body.ghosted]
    for body in picture.bodies:
        box = body.box
        pieces = [
            piece
            for around, pieces, ghosted in runs
            if (body.ghosted or not ghosted) and _near(around, box)
            for piece in pieces
            if _crosses(piece, box)
        ]
        hidden = tuple(one for one in solid if one.meets(box)) if body.ghosted else ()
        yield body, _Cover(hidden, tuple(pieces))


def _near(around: Box, box: Box) -> bool:
    """Like `meets`, but a straight run, which has no area, counts as well."""
    return (
        around.x <= box.right
        and box.x <= around.right
        and around.y <= box.bottom
        and box.y <= around.bottom
    )


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
    """Every pill; tags of the runs that are drawn plainly, while there is room for them."""
    crowded = picture.cart.box.width < CROWDED_PT * ink.unit
    ghosts = {run.id for run in picture.runs if run.ghosted}
    return (
        note for note in picture.notes if note.kind != "tag" or not (crowded or note.run in ghosts)
    )


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
) -> dict[str, _Place]:
    """Those whose old place, carried along with their anchor, is still a good one."""
    old: dict[str, tuple[Box, XY, tuple[XY, ...]]] = {
        one.note.key: (one.box, one.note.anchor, one.leader) for one in before.notes
    }
    lines = {one.note.key: one.note.along for one in before.notes}
    for item_id in before.outer:
        name = before.names[item_id]
        old[f"name {item_id}"] = (name.box, name.anchor, name.leader)
    solid = [(body.id, body.box) for body in picture.bodies if not body.ghosted]
    gap = GAP_PT * ink.unit
    ratio = ink.unit / before.unit
    taken = list(walls)
    kept: dict[str, _Place] = {}
    for one in sorted(wanted, key=lambda each: -each.label.priority):
        if one.key not in old:
            continue
        box, anchor, leader = old[one.key]
        carried = _carried(box, anchor, one.label, ratio)
        if one.label.along != lines.get(one.key, ()) and not any(
            _same(box.centre, spot) for spot in one.label.along
        ):
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


def _quick(
    rest: list[_Wanted],
    placed: dict[str, _Place],
    picture: PlanPicture,
    ink: Ink,
    walls: list[Box],
) -> list[_Wanted]:
    """Put labels on the first free spot of their line or beside their body.

    Gives back what has no such spot. The full search weighs hundreds of spots
    for every label; this is for every step of a drag.
    """
    gap = GAP_PT * ink.unit
    taken = [*walls, *(box for box, _ in placed.values())]
    taken += [body.box for body in picture.bodies if not body.ghosted]
    runs = [_pieces(run) for run in picture.runs if not run.ghosted]
    left = []
    for one in rest:
        free = [
            box
            for box in _spots(one.label, gap)
            if not any(box.grown(gap / 2).meets(other) for other in taken)
        ]
        if free and not one.label.along:
            free.sort(
                key=lambda box: sum(
                    _near(around, box) and any(_crosses(piece, box) for piece in pieces)
                    for around, pieces in runs
                )
            )
        if free:
            placed[one.key] = (free[0], ())
            taken.append(free[0])
        else:
            left.append(one)
    return left


def _spots(label: Label, gap: float) -> list[Box]:
    """Good places for a label, best first: on its line, or beside its body nearest its anchor."""
    width, height = label.sizes[0]
    if label.along:
        return [Box(x - width / 2, y - height / 2, width, height) for x, y in label.along]
    target = label.target
    x, y = target.centre
    out_x = (target.width + width) / 2 + label.apart * gap
    out_y = (target.height + height) / 2 + label.apart * gap
    middles = [
        (x + slide * (target.width + width) / 2, y + side * out_y)
        for slide in (0.0, -0.4, 0.4)
        for side in (1, -1)
    ] + [
        (x + side * out_x, y + slide * (target.height + height) / 2)
        for slide in (0.0, -0.4, 0.4)
        for side in (1, -1)
    ]
    ax, ay = label.anchor
    middles.sort(key=lambda at: abs(at[0] - ax) + abs(at[1] - ay))
    return [Box(cx - width / 2, cy - height / 2, width, height) for cx, cy in middles]


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


def captions(picture: PlanPicture, ink: Ink) -> list[tuple[str, Box]]:
    """Small words that say what is seen: the level under the cart, the venue in its band."""
    face = ink.face(CAPTION_PT, 600)
    inset = 3.0 * ink.unit

    def at(text: str, x: float, y: float) -> tuple[str, Box]:
        return text, Box(x, y, face.width(text), face.line)

    cart = picture.cart
    side = {"rear": "front", "front": "rear", "left": "right", "right": "left"}
    guests = side.get(cart.operator_side, "front")
    words = f"{cart.level.upper()} · guests at the {guests}"
    made = [at(words, cart.box.x + inset, cart.box.bottom + inset)]
    if picture.venue is not None:
        venue = at("VENUE", picture.venue.x + inset, picture.venue.y + inset / 2)
        if not any(body.box.meets(venue[1]) for body in picture.bodies):
            made.append(venue)
    return made
