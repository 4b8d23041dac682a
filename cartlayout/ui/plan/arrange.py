"""Where names and notes stand at the zoom of now.

A name is written in its body where it fits. What does not fit, and every note,
is placed beside so that nothing lies on anything else. What stood well before
stays where it was: labels must not dance while something is dragged.
"""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import partial

from ...documents.labels import NEAR_OWN_GAPS, Field, Label, Obstacle, PlacedLabel, place
from ...documents.lettering import wrapped
from ...documents.plan import XY, BodyShape, Box, Note, PlanPicture
from ...documents.plan.cart import ground_words
from ...documents.plan.lines import arrow_boxes
from ...documents.plan.marks import mark_places
from ...documents.plan.paint import Ink, dimension_text_box, name_size, note_size
from ...documents.plan.paths import flattened
from ...documents.plan.texts import name_faces
from ...findings.finding import Severity
from .captions import captions
from .mirrors import MARK_PT, Name, PlacedNote
from .names import Looked, crosses, look_for_names, near, pieces_of

GAP_PT = 2.2
AROUND_PT = 90.0
"""How far from the plan a label may stand."""
LEAST_BODY_PT = 9.0
"""A body smaller than this gets no name beside it either: zoom in."""
CROWDED_PT = 230.0
"""A plan narrower than this is an overview: pills only."""
FAR_MM = 11.5
"""So is one on which a typographic point covers more: a grinder is no wider than its name."""
MOST_SEARCHED = 40
"""Of more labels than this each takes a free spot beside what it speaks of; only so many of those
that find none, the most urgent, are searched a place for, and the others wait for a nearer look."""
_PRIORITY = {"circuit": 3.0, "weight": 2.5, "tap": 2.0, "water": 1.7, "name": 1.5, "tag": 1.0}


_Place = tuple[Box, tuple[XY, ...]]
"""Of a label: its box and its leader."""
Lines = tuple[tuple[XY, ...], ...]


@dataclass(frozen=True, slots=True)
class Arranged:
    """Names by item id, and notes with their places."""

    names: dict[str, Name] = field(default_factory=dict)
    notes: tuple[PlacedNote, ...] = ()
    outer: frozenset[str] = frozenset()
    """Items whose names stand beside them."""
    unit: float = 1.0
    looked: dict[str, Looked] = field(default_factory=dict)
    """What every name inside its body followed from; it need not be looked for again."""
    own: dict[str, Lines] = field(default_factory=dict)
    """The lines that every label kept off, by its key."""
    captions: list[tuple[str, Box]] = field(default_factory=list)
    """Small words on the ground."""
    marks: dict[str, tuple[Severity, XY]] = field(default_factory=dict)
    """Of findings: severity and middle, by "item <id>" or "run <id>"."""
    crowded: bool = False
    """Seen from so far that only names and what is wrong are said."""


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A label to place: a note, or a name that has no room in its body."""

    key: str
    label: Label
    note: Note | None = None
    body: BodyShape | None = None
    lines: tuple[str, ...] = ()
    sub: str = ""
    faint: bool = False
    """A good number of something on another level: only said if there is room beside it."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the plan that is arranged anew, while all around it stays."""

    named: frozenset[str]
    """Items whose names are looked for; the other bodies are only in the way."""
    names: tuple[Box, ...]
    """Where names stand that stay."""
    notes: tuple[Box, ...]
    """Where notes stand that stay."""
    marks: dict[str, tuple[Severity, XY]]
    """Of findings, near to what is named."""
    words: list[tuple[str, Box]]
    """Captions of the whole plan."""
    crowded: bool
    """Whether the whole plan is."""


def arrange(
    picture: PlanPicture,
    ink: Ink,
    before: Arranged | None,
    frame: Box | None = None,
    part: Part | None = None,
) -> Arranged:
    """Place everything; with `before`, what still stands well keeps its place.

    With a frame no label is put outside it, unless there is no room within.
    With a part, the picture holds only what is near to what is arranged.
    """
    limit = _limit(picture, ink, frame)
    names: dict[str, Name] = {}
    wanted: list[_Wanted] = []
    crowded = part.crowded if part is not None else _crowded(picture, ink)
    same = before is not None and (before.unit, before.crowded) == (ink.unit, crowded)
    known = before.looked if before is not None and same else {}
    size = MARK_PT * ink.unit
    marked = part.marks if part is not None else mark_places(picture, size)
    marks = [Box(x - size / 2, y - size / 2, size, size) for _, (x, y) in marked.values()]
    on_zones = ground_words(picture, ink)
    looked = look_for_names(picture, ink, known, marks, crowded, part, on_zones)
    own = own_lines(picture)
    for body in picture.bodies:
        if body.id not in looked:
            continue
        inner = looked[body.id][2]
        if inner is not None:
            names[body.id] = inner
        elif not body.ghosted and not (crowded and not body.venue):
            beside = _name_beside(body, ink, own.get(body.id, ()))
            if beside is not None:
                wanted.append(beside)
    wanted += [_note(note, picture, ink, own.get(note.item, ())) for note in _shown(picture, ink)]
    walls = [*(name.box for name in names.values()), *marks]
    walls += [dimension_text_box(one, ink) for one in picture.dimensions]
    walls += on_zones
    walls += [box for run in picture.runs if not run.ghosted for box in arrow_boxes(run, ink)]
    on_ground = part.words if part is not None else captions(picture, ink)
    walls += [box for _, box in on_ground]
    walls += [*part.names, *part.notes] if part is not None else []
    solid = [(body.id, body.box) for body in picture.bodies if not body.ghosted]
    placed = _kept(wanted, before, solid, ink, walls, limit) if before is not None else {}
    rest = [one for one in wanted if one.key not in placed and not one.faint]
    many = len(rest) > MOST_SEARCHED
    if placed or many:
        rest = _quick(rest, placed, picture, ink, [*walls, *(box for _, box in solid)], limit)
    if many:
        rest = sorted(rest, key=_urgency)[:MOST_SEARCHED]
    if rest:
        area = _field(picture, ink, [*walls, *(box for box, _ in placed.values())], limit)
        for found in place([one.label for one in rest], area):
            label = next(one.label for one in rest if one.key == found.key)
            placed[found.key] = (found.box, _leader(found, label, area.gap))
    # What is faint takes a spot that is left, or none.
    faint = [one for one in wanted if one.faint and one.key not in placed]
    if faint:
        _quick(faint, placed, picture, ink, [*walls, *(box for _, box in solid)], limit)
    made = _arranged(names, wanted, placed, looked, on_ground, ink)
    return replace(made, crowded=crowded, marks=marked)


def _urgency(one: _Wanted) -> tuple[bool, float]:
    """Orders what is searched a place for where there is too much: what is wrong comes first."""
    wrong = one.note is not None and one.note.state in ("stop", "care")
    return not wrong, -one.label.priority


def _arranged(
    names: dict[str, Name],
    wanted: list[_Wanted],
    placed: dict[str, _Place],
    looked: dict[str, Looked],
    words: list[tuple[str, Box]],
    ink: Ink,
) -> Arranged:
    notes = []
    outer = set()
    for one in wanted:
        if one.key not in placed:
            continue
        box, leader = placed[one.key]
        if one.note is not None:
            notes.append(PlacedNote(one.note, box, leader))
        elif one.body is not None:
            names[one.body.id] = Name(one.lines, one.sub, box, leader, one.label.anchor, over=True)
            outer.add(one.body.id)
    own = {one.key: one.label.own for one in wanted}
    return Arranged(names, tuple(notes), frozenset(outer), ink.unit, looked, own, words)


def _name_beside(body: BodyShape, ink: Ink, own: Lines) -> _Wanted | None:
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
        own=own,
    )
    return _Wanted(label.key, label, body=body, lines=lines, sub=sub)


def own_lines(picture: PlanPicture) -> dict[str, Lines]:
    """The runs of every item, as straight pieces: its name and numbers keep off them."""
    lines: dict[str, Lines] = {}
    for run in picture.runs:
        if not run.ghosted:
            for end in run.ends:
                if end is not None:
                    lines[end] = (*lines.get(end, ()), pieces_of(run)[2])
    return lines


def on_lines(box: Box, lines: Lines) -> bool:
    """Whether any of the lines comes into a box."""
    return any(crosses(piece, box) for points in lines for piece in itertools.pairwise(points))


def _crowded(picture: PlanPicture, ink: Ink) -> bool:
    return ink.unit > FAR_MM or picture.cart.box.width < CROWDED_PT * ink.unit


def _shown(picture: PlanPicture, ink: Ink) -> Iterator[Note]:
    """The notes worth their room: numbers on the plan are few and decisive.

    A circuit of a box on another level speaks up when something is wrong with
    it; its bar on the board is there all the time.
    """
    crowded = _crowded(picture, ink)
    ghost_runs = {run.id for run in picture.runs if run.ghosted}
    ghosts = {body.id for body in picture.bodies if body.ghosted}
    for note in picture.notes:
        if note.kind == "tag" and (crowded or note.run in ghost_runs):
            continue
        good = note.state not in ("stop", "care")
        if good and (note.kind == "circuit" and note.item in ghosts):
            continue
        if good and (note.kind in ("tap", "weight", "water") and crowded):
            continue
        yield note


def _note(note: Note, picture: PlanPicture, ink: Ink, own: Lines) -> _Wanted:
    label = Label(
        key=note.key,
        sizes=(note_size(note, ink),),
        target=note.target,
        anchor=note.anchor,
        along=note.along,
        priority=_PRIORITY[note.kind],
        belongs=note.item,
        apart=1.6,
        own=own,
    )
    body = picture.body(note.item) if note.item else None
    good = note.state not in ("stop", "care")
    return _Wanted(note.key, label, note=note, faint=good and body is not None and body.ghosted)


def _limit(picture: PlanPicture, ink: Ink, frame: Box | None) -> Box:
    """Where labels may go: around the plan, and no further than the frame."""
    around = picture.box.grown(AROUND_PT * ink.unit)
    if frame is None:
        return around
    x, y = max(around.x, frame.x), max(around.y, frame.y)
    right, bottom = min(around.right, frame.right), min(around.bottom, frame.bottom)
    return Box(x, y, right - x, bottom - y) if right > x and bottom > y else around


def _field(picture: PlanPicture, ink: Ink, keep_out: list[Box], limit: Box) -> Field:
    outline, venue = picture.cart.outline, picture.venue
    edges = [(*outline, outline[0])]
    if venue is not None:
        corners = ((venue.x, venue.y), (venue.right, venue.y), (venue.right, venue.bottom))
        edges.append((*corners, (venue.x, venue.bottom), corners[0]))
    return Field(
        frame=limit,
        bodies=tuple(
            Obstacle(body.id, body.box, 0.25 if body.ghosted else 1.0) for body in picture.bodies
        ),
        lines=(
            *((flattened(run, 8), 0.4 if run.ghosted else 1.0) for run in picture.runs),
            *((edge, 0.4) for edge in edges),
        ),
        keep_out=tuple(keep_out),
        gap=GAP_PT * ink.unit,
    )


def _kept(
    wanted: list[_Wanted],
    before: Arranged,
    solid: list[tuple[str, Box]],
    ink: Ink,
    walls: list[Box],
    limit: Box,
) -> dict[str, _Place]:
    """Those whose old place, carried along with their anchor, is still a good one."""
    old: dict[str, tuple[Box, XY, tuple[XY, ...]]] = {
        one.note.key: (one.box, one.note.anchor, one.leader) for one in before.notes
    }
    lines = {one.note.key: one.note.along for one in before.notes}
    for item_id in before.outer:
        name = before.names[item_id]
        old[f"name {item_id}"] = (name.box, name.anchor, name.leader)
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
        apart = carried.grown(gap / 2)
        moved = carried != box or one.label.own != before.own.get(one.key, ())
        if moved and on_lines(apart, one.label.own):
            continue
        if covers or not limit.holds(carried) or any(apart.meets(wall) for wall in taken):
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
    limit: Box,
) -> list[_Wanted]:
    """Put labels on the first free spot of their line or beside their body.

    Gives back what has no such spot. The full search weighs hundreds of spots
    for every label; this is for every step of a drag.
    """
    gap = GAP_PT * ink.unit
    taken = [*walls, *(box for box, _ in placed.values())]
    runs = [pieces_of(run)[:2] for run in picture.runs if not run.ghosted]
    left = []
    for one in rest:
        free = []
        for box in _spots(one.label, gap):
            apart = box.grown(gap / 2)
            if limit.holds(box) and not any(apart.meets(other) for other in taken):
                free.append(box)
                if one.label.along:
                    break  # the first will do: they are in order
        if free and not one.label.along:
            free.sort(key=partial(_in_the_way, label=one.label, runs=runs, gap=gap))
        if free:
            placed[one.key] = (free[0], ())
            taken.append(free[0])
        else:
            left.append(one)
    return left


def _in_the_way(
    box: Box, label: Label, runs: list[tuple[Box, tuple[tuple[XY, XY], ...]]], gap: float
) -> tuple[bool, bool, int]:
    """How bad a free spot is: over or beside a run of its own, and over so many of others."""
    over = on_lines(box.grown(gap / 2), label.own)
    beside = over or on_lines(box.grown(NEAR_OWN_GAPS * gap), label.own)
    crossed = sum(
        near(around, box) and any(crosses(piece, box) for piece in pieces)
        for around, pieces in runs
    )
    return over, beside, crossed


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


def _leader(found: PlacedLabel, label: Label, gap: float) -> tuple[XY, ...]:
    """From a label to the nearest edge of what it speaks about; none where it stands beside it."""
    if not found.leader:
        return ()
    target, box = label.target, found.box
    x, y = box.centre
    end = (min(max(x, target.x), target.right), min(max(y, target.y), target.bottom))
    start = (min(max(end[0], box.x), box.right), min(max(end[1], box.y), box.bottom))
    far = abs(start[0] - end[0]) + abs(start[1] - end[1])
    return (start, end) if far > 3.0 * gap else ()


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
