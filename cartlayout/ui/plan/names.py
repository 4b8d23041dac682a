"""Names inside their bodies: where they fit, clear of what lies over them."""

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ...documents.lettering import wrapped
from ...documents.plan import XY, BodyShape, Box, PlanPicture, RunShape
from ...documents.plan.kept import once
from ...documents.plan.paint import Ink, name_size
from ...documents.plan.paths import flattened
from ...documents.plan.texts import name_faces
from ...documents.plan.wording import shorter
from .mirrors import Name

if TYPE_CHECKING:
    from .arrange import Part

INSET_PT = 2.4
LEAST_INSET_PT = 0.9
"""From the outline, for a name that would otherwise not fit."""
SMALL = 0.86
"""Share of the usual size of letters where a name would otherwise stand outside its body."""
LETTERING = (1.0, SMALL)
LARGE_LETTERING = LETTERING[:1]
"""Of ghosts, and of the venue's things, around which there is room enough."""
BODY_GAP_PT = 1.2
RUN_GAP_PT = 2.6
SYMBOL_PT = 16.0
"""Free height from which a name stands low, to leave the silhouette its place."""
LEAST_LETTERS = 4
"""A name cut shorter than this says nothing."""
NEAR_MM = 2.2
"""Millimetres a typographic point covers: from here on there is room for details."""
CARRIERS = frozenset({"tray"})
"""Symbols of what other bodies stand on, so that its name lies between them."""
DETAIL_SHARE = 0.45
"""So much of a body's depth its name with details may take; the rest is the silhouette's."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What a name had better not lie under: bodies that hide it, runs that cross it out."""

    own: Box
    """The upright rectangle of the body itself."""
    bodies: tuple[Box, ...] = ()
    """Also names that are written already, and marks."""
    pieces: tuple[tuple[XY, XY], ...] = ()
    strikes: tuple[tuple[XY, XY], ...] = ()
    """Those of the pieces that strike a ghost's name out, which is written under them."""


Looked = tuple[BodyShape, Cover, Name | None]
"""A name inside its body, and all that it follows from."""


def look_for_names(
    picture: PlanPicture,
    ink: Ink,
    known: Mapping[str, Looked],
    marks: Sequence[Box] = (),
    far: bool = False,
    part: "Part | None" = None,
    words: Sequence[Box] = (),
) -> dict[str, Looked]:
    """The name inside every body, looked for only where something about it has changed.

    Args:
        picture: what is drawn.
        ink: sizes.
        known: what was found before at the same zoom.
        marks: where marks of findings lie; no name lies under one.
        far: an overview: names alone, abbreviated where they do not fit.
        part: only these bodies are named, clear of the names that stay.
        words: on the ground; a body hides them, a dashed outline does not.
    """
    made: dict[str, Looked] = {}
    written: list[Box] = list(part.names) if part is not None else []
    for body, cover in covers(picture, marks, part.named if part is not None else None, words):
        names = tuple(box for box in written if box.meets(cover.own))
        if names:
            cover = replace(cover, bodies=(*cover.bodies, *names))
        old = known.get(body.id)
        if old is None or old[0] != body or old[1] != cover:
            old = body, cover, name_inside(body, ink, cover, old, far)
        made[body.id] = old
        name = made[body.id][2]
        if name is not None:
            written.append(name.box)
    return made


def name_inside(
    body: BodyShape, ink: Ink, cover: Cover, before: Looked | None = None, far: bool = False
) -> Name | None:
    """The name in its body, with its number if there is room; None where it has no place.

    What stood well before stays, unless the best place of all is free.
    """
    best: tuple[int, Name] | None = None
    room = _room(body).grown(-LEAST_INSET_PT * ink.unit)
    if room.width <= 0 or room.height <= 0:
        return None
    under = _under(body, ink, room, far)
    if before is not None and (kept := _carried(before, body, ink, cover, under[0])) is not None:
        whole = Name(kept.lines, kept.sub, room)
        first = _set(whole, body, ink, room, cover, most=1)
        return first[1] if first is not None and first[0] == 0 else kept
    for share in LARGE_LETTERING if body.ghosted or body.venue else LETTERING:
        found = _least_crossed(body.name, body, ink, room, cover, share, under)
        if found is not None and (best is None or found[0] < best[0]):
            best = found
        if best is not None and best[0] == 0:
            return best[1]
    if best is None and (far or body.ghosted):
        for words in shorter(body.name):
            best = _least_crossed(words, body, ink, room, cover, 1.0, ("",))
            if best is not None and best[0] == 0:
                return best[1]
    if not body.ghosted:
        return replace(best[1], over=True) if best is not None else None
    if best is not None and not any(crosses(piece, best[1].box) for piece in cover.strikes):
        return best[1]
    return _cut_short(body, ink, room, cover)


def _under(body: BodyShape, ink: Ink, room: Box, far: bool) -> tuple[str, ...]:
    """What may stand under a name at the zoom of now, the most first."""
    if far:
        return ("",)
    usual = (body.sub, "") if body.sub else ("",)
    if body.ghosted or ink.unit > NEAR_MM:
        return usual
    number = body.near_sub or body.sub
    if body.near_sub:
        usual = (number, *usual)
    if not body.details:
        return usual
    more = f"{number}\n{body.details}" if number else body.details
    width, height = name_size((body.name,), more, body, ink)
    if height > DETAIL_SHARE * room.height or width > room.width:
        return usual
    return (more, *usual)


def _carried(before: Looked, body: BodyShape, ink: Ink, cover: Cover, under: str) -> Name | None:
    """The name of before, taken along with its body, if it is whole and nothing lies over it."""
    was, _, name = before
    if name is None or name.over or name.share < 1.0 or " ".join(name.lines) != body.name:
        return None
    alike = (was.width, was.depth, was.rotation, was.ghosted, was.name, name.sub) == (
        body.width,
        body.depth,
        body.rotation,
        body.ghosted,
        body.name,
        under,
    )
    if not alike:
        return None
    dx, dy = body.centre[0] - was.centre[0], body.centre[1] - was.centre[1]
    box = Box(name.box.x + dx, name.box.y + dy, name.box.width, name.box.height)
    if _hidden(box, cover, ink) or _crossings(box, cover, ink):
        return None
    return replace(name, box=box)


def _hidden(box: Box, cover: Cover, ink: Ink) -> bool:
    apart = box.grown(BODY_GAP_PT * ink.unit)
    return any(apart.meets(other) for other in cover.bodies)


def _crossings(box: Box, cover: Cover, ink: Ink, enough: int = 1) -> int:
    """How many pieces come into a box; it stops counting at `enough`."""
    apart = box.grown(RUN_GAP_PT * ink.unit)
    count = 0
    for piece in cover.pieces:
        count += crosses(piece, apart)
        if count >= enough:
            break
    return count


def _least_crossed(
    words: str,
    body: BodyShape,
    ink: Ink,
    room: Box,
    cover: Cover,
    share: float,
    under: Sequence[str],
) -> tuple[int, Name] | None:
    """Of all ways to break a name into lines the one that fewest runs cross, and how many."""
    face, _ = name_faces(body, ink, share)
    covered = bool(cover.bodies or cover.pieces)
    best: tuple[int, Name] | None = None
    for width in (room.width, 0.62 * room.width) if covered else (room.width,):
        lines = tuple(wrapped(words, face, width))
        if not lines or any(line.endswith("…") or not line for line in lines):
            continue
        for sub in under:
            found = _set(Name(lines, sub, room, share=share), body, ink, room, cover)
            if found is not None and (best is None or found[0] < best[0]):
                best = found
            if best is not None and best[0] == 0:
                return best
    return best


def _cut_short(body: BodyShape, ink: Ink, room: Box, cover: Cover) -> Name | None:
    """As much of a ghost's name as there is room for on one line."""
    short = tuple(wrapped(body.name, name_faces(body, ink)[0], room.width, 1))
    if len(short) != 1 or len(short[0]) <= LEAST_LETTERS:
        return None
    found = _set(Name(short, "", room), body, ink, room, cover)
    return found[1] if found is not None and found[0] == 0 else None


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
    name: Name, body: BodyShape, ink: Ink, room: Box, cover: Cover, most: int = 5
) -> tuple[int, Name] | None:
    """Lay a name into a room: in the middle, or low where that leaves the silhouette its place.

    Returns how many runs cross the name, and the name; None where it does not fit.
    Looks at so many places at most across, and down.
    """
    width, height = name_size(name.lines, name.sub, body, ink, name.share)
    x, spare_x = _play(room.x, room.width, width, ink)
    y, spare_y = _play(room.y, room.height, height, ink)
    if spare_x < 0 or spare_y < 0:
        return None
    low = not body.ghosted and spare_y > SYMBOL_PT * ink.unit
    most = most if cover.bodies or cover.pieces else 1
    best: tuple[int, Name] | None = None
    for down in (_DOWN_LOW if low else _DOWN)[: most if spare_y else 1]:
        for right in _RIGHT[: most if spare_x else 1]:
            box = Box(x + right * spare_x, y + down * spare_y, width, height)
            if _hidden(box, cover, ink):
                continue
            enough = len(cover.pieces) + 1 if best is None else best[0]
            crossings = _crossings(box, cover, ink, enough)
            if best is None or crossings < best[0]:
                best = (crossings, replace(name, box=box))
            if crossings == 0:
                return best
    return best


def _play(start: float, room: float, size: float, ink: Ink) -> tuple[float, float]:
    """Where a name may begin, and how far it may slide: near the outline only if it must."""
    spare = room - size
    inset = (INSET_PT - LEAST_INSET_PT) * ink.unit
    if spare >= 2 * inset:
        return start + inset, spare - 2 * inset
    return start + spare / 2, min(spare, 0.0)


def crosses(piece: tuple[XY, XY], box: Box) -> bool:
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


@once
def pieces_of(run: RunShape) -> tuple[Box, tuple[tuple[XY, XY], ...], tuple[XY, ...]]:
    """A run as straight pieces: the rectangle around them, the pieces, and their corners."""
    points = flattened(run, 8)
    return Box.around(points), tuple(itertools.pairwise(points)), points


def covers(
    picture: PlanPicture,
    marks: Sequence[Box] = (),
    named: frozenset[str] | None = None,
    words: Sequence[Box] = (),
) -> Iterator[tuple[BodyShape, Cover]]:
    """Every body with what lies over it, the solid ones first: their names come first.

    Drains and what is on other levels run under a solid body.
    """
    boxes = {body.id: body.box for body in picture.bodies}
    solid = [boxes[body.id] for body in picture.bodies if not body.ghosted]
    runs = [(run, pieces_of(run)[0]) for run in picture.runs]
    for body in sorted(picture.bodies, key=lambda one: one.ghosted):
        if named is not None and body.id not in named:
            continue
        box = boxes[body.id]
        pieces = tuple(
            piece
            for run, around in runs
            if (body.ghosted or not (run.ghosted or run.medium == "drain")) and near(around, box)
            for piece in _pieces_over(run, box)
        )
        hidden: tuple[Box, ...] = ()
        if body.ghosted or body.symbol in CARRIERS:
            hidden = tuple(one for one in solid if one is not box and one.meets(box))
        over = (*marks, *words) if body.ghosted else marks
        hidden += tuple(one for one in over if one.meets(box))
        strikes = tuple(
            piece
            for run, around in runs
            if body.ghosted and not run.ghosted and near(around, box)
            for piece in _pieces_over(run, box)
        )
        yield body, Cover(box, hidden, pieces, strikes)


def _pieces_over(run: RunShape, box: Box) -> tuple[tuple[XY, XY], ...]:
    """The pieces of a run that come into a box."""
    return tuple(piece for piece in pieces_of(run)[1] if crosses(piece, box))


def near(around: Box, box: Box) -> bool:
    """Like `meets`, but a straight run, which has no area, counts as well."""
    x, y, width, height = around
    other_x, other_y, other_width, other_height = box
    return (
        x <= other_x + other_width
        and other_x <= x + width
        and y <= other_y + other_height
        and other_y <= y + height
    )
