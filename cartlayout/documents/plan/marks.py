"""Where the mark of what is said about a body or a run stands."""

import itertools
import math
from collections.abc import Iterator

from ...findings.finding import Severity
from .paths import at_share, flattened
from .picture import XY, BodyShape, PlanPicture, RunShape

_INWARDS = 0.35
"""From a body's corner, in sizes of the mark."""
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)
_TURNS = 8
_RINGS = (1.1, 1.7, 2.4)
"""Further off, in sizes of the mark, where all good places are taken."""
_WORST_FIRST = {"stop": 0, "care": 1, "note": 2}


Marks = dict[str, tuple[Severity, XY]]


def mark_places(picture: PlanPicture, size: float, kept: Marks | None = None) -> Marks:
    """Severity and middle of every mark, by "item <id>" or "run <id>": none lies on another.

    Args:
        picture: what is drawn.
        size: height of a mark, in millimetres of the plan.
        kept: marks that stay where they are.
    """
    kept = kept or {}
    wanted: list[tuple[str, Severity, Iterator[XY]]] = [
        (f"item {body.id}", body.severity, _body_places(body, picture, size))
        for body in picture.bodies
        if body.severity is not None and f"item {body.id}" not in kept
    ]
    wanted += [
        (f"run {run.id}", run.severity, _run_places(run, size))
        for run in picture.runs
        if run.severity is not None and len(run.points) > 1 and f"run {run.id}" not in kept
    ]
    made = dict(kept)
    for key, severity, places in sorted(wanted, key=lambda one: _WORST_FIRST.get(one[1], 2)):
        first = next(places)
        free = (at for at in itertools.chain((first,), places) if not _taken(at, made, size))
        made[key] = severity, next(free, first)
    return made


def _taken(at: XY, made: dict[str, tuple[Severity, XY]], size: float) -> bool:
    x, y = at
    return any(abs(x - mx) < size and abs(y - my) < size for _, (mx, my) in made.values())


def _body_places(body: BodyShape, picture: PlanPicture, size: float) -> Iterator[XY]:
    """The corner it belongs to, the others, then around that corner."""
    cx, cy = body.centre

    def inside(corner: XY) -> XY:
        x, y = corner
        by = _INWARDS * size
        return x - by * (1 if x > cx else -1), y - by * (1 if y > cy else -1)

    first = marked_corner(body, picture)
    yield inside(first)
    for corner in body.corners:
        if corner != first:
            yield inside(corner)
    yield from _around(inside(first), size)


def _run_places(run: RunShape, size: float) -> Iterator[XY]:
    """Half way along, elsewhere along, then around the middle."""
    points = flattened(run)
    for share in _ALONG:
        yield at_share(points, share)[0]
    yield from _around(at_share(points, _ALONG[0])[0], size)


def _around(at: XY, size: float) -> Iterator[XY]:
    for ring in _RINGS:
        for turn in range(_TURNS):
            angle = turn * math.tau / _TURNS
            yield at[0] + ring * size * math.cos(angle), at[1] + ring * size * math.sin(angle)


def marked_corner(body: BodyShape, picture: PlanPicture) -> XY:
    """The corner that carries a body's mark: up and right, whichever way the body is turned.

    A body on another level is drawn beneath the solid ones, and a mark in the
    middle of one of those would speak of the wrong thing: such a body takes
    the first corner that none of them hides.
    """
    corners = sorted(
        body.corners,
        key=lambda corner: (round(corner[0] - corner[1], 3), corner),
        reverse=True,
    )
    if not body.ghosted:
        return corners[0]
    solid = [other.box for other in picture.bodies if not other.ghosted]
    for corner in corners:
        x, y = corner
        if not any(box.x < x < box.right and box.y < y < box.bottom for box in solid):
            return corner
    return corners[0]
