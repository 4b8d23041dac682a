"""Names inside their bodies: where they fit, clear of what lies over them."""

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from ...documents.lettering import wrapped
from ...documents.plan import XY, BodyShape, Box, PlanPicture, RunShape
from ...documents.plan.paint import Ink, name_size
from ...documents.plan.paths import flattened
from ...documents.plan.texts import name_faces
from .mirrors import Name

INSET_PT = 2.4
RUN_GAP_PT = 2.6
SYMBOL_PT = 16.0
"""Free height from which a name stands low, to leave the silhouette its place."""
LEAST_LETTERS = 4
"""A name cut shorter than this says nothing."""


@dataclass(frozen=True, slots=True)
class Cover:
    """What a name had better not lie under: bodies that hide it, runs that cross it out."""

    own: Box
    """The upright rectangle of the body itself."""
    bodies: tuple[Box, ...] = ()
    """Also names that are written already."""
    pieces: tuple[tuple[XY, XY], ...] = ()


Looked = tuple[BodyShape, Cover, Name | None]
"""A name inside its body, and all that it follows from."""


def look_for_names(
    picture: PlanPicture, ink: Ink, known: Mapping[str, Looked]
) -> dict[str, Looked]:
    """The name inside every body, looked for only where something about it has changed.

    Args:
        picture: what is drawn.
        ink: sizes.
        known: what was found before at the same zoom.
    """
    made: dict[str, Looked] = {}
    written: list[Box] = []
    for body, cover in covers(picture):
        names = tuple(box for box in written if box.meets(cover.own))
        if names:
            cover = replace(cover, bodies=(*cover.bodies, *names))
        old = known.get(body.id)
        same = old is not None and old[0] == body and old[1] == cover
        made[body.id] = (
            old if old is not None and same else (body, cover, name_inside(body, ink, cover))
        )
        name = made[body.id][2]
        if name is not None:
            written.append(name.box)
    return made


def name_inside(body: BodyShape, ink: Ink, cover: Cover) -> Name | None:
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
        return replace(best[1], over=not body.ghosted)
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
    lines: tuple[str, ...], sub: str, body: BodyShape, ink: Ink, room: Box, cover: Cover
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
            crossings = sum(crosses(piece, apart) for piece in cover.pieces)
            if best is None or crossings < best[0]:
                best = (crossings, Name(lines, sub, box))
            if crossings == 0:
                return best
    return best


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


@lru_cache(maxsize=512)
def pieces_of(run: RunShape) -> tuple[Box, tuple[tuple[XY, XY], ...]]:
    """A run as straight pieces, and the rectangle around them."""
    points = flattened(run, 8)
    return Box.around(points), tuple(itertools.pairwise(points))


def covers(picture: PlanPicture) -> Iterator[tuple[BodyShape, Cover]]:
    """Every body with what lies over it, the solid ones first: their names come first."""
    boxes = {body.id: body.box for body in picture.bodies}
    solid = [boxes[body.id] for body in picture.bodies if not body.ghosted]
    runs = [(run, pieces_of(run)[0]) for run in picture.runs]
    for body in sorted(picture.bodies, key=lambda one: one.ghosted):
        box = boxes[body.id]
        pieces = tuple(
            piece
            for run, around in runs
            if (body.ghosted or not run.ghosted) and near(around, box)
            for piece in _pieces_over(run, box)
        )
        hidden = tuple(one for one in solid if one.meets(box)) if body.ghosted else ()
        yield body, Cover(box, hidden, pieces)


@lru_cache(maxsize=2048)
def _pieces_over(run: RunShape, box: Box) -> tuple[tuple[XY, XY], ...]:
    """The pieces of a run that come into a box."""
    return tuple(piece for piece in pieces_of(run)[1] if crosses(piece, box))


def near(around: Box, box: Box) -> bool:
    """Like `meets`, but a straight run, which has no area, counts as well."""
    return (
        around.x <= box.right
        and box.x <= around.right
        and around.y <= box.bottom
        and box.y <= around.bottom
    )
