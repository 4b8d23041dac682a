"""Labels arranged anew only near to what has changed.

At a step of a drag one body and its runs are elsewhere. Labels that neither
speak of them nor lie where they were or are now stay as they stand, without
being looked at; the others find their places among them.
"""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import replace
from typing import TypeVar

from ...documents.plan import XY, BodyShape, Box, Note, PlanPicture, RunShape
from ...documents.plan.marks import mark_places
from ...documents.plan.paint import Ink
from .arrange import Arranged, Part, arrange
from .captions import captions
from .mirrors import MARK_PT, PlacedNote
from .names import near, pieces_of

REACH_PT = 80.0
"""From what they speak of, labels stand no further than this as a rule."""
SPARE_PT = 3.0
"""A change so near to a label is as good as one on it."""
MOST = 0.34
"""Where more than such a share of the plan has changed, all of it is arranged anew."""

T = TypeVar("T")


def arrange_again(
    picture: PlanPicture, old: PlanPicture, before: Arranged, ink: Ink, frame: Box | None
) -> Arranged:
    """Like `arrange` with what was there before, for the cost of what has changed."""
    change = _Change(picture, old, before, ink)
    words = captions(picture, ink)
    if change.wide or before.unit != ink.unit or words != before.captions:
        return arrange(picture, ink, before, frame)
    if change.nothing:
        return replace(before, notes=_in_order(picture.notes, before.notes))
    marks = change.marks
    part = Part(
        named=frozenset(change.named),
        names=change.names(),
        notes=change.placed(),
        marks={key: one for key, one in marks.items() if change.near.meets(_point(one[1]))},
        words=words,
        crowded=before.crowded,
    )
    anew = arrange(change.sight(), ink, change.lent(), frame, part)
    return replace(_merged(change, before, anew), marks=marks)


def in_sight(picture: PlanPicture, area: Box) -> PlanPicture:
    """What of a picture comes into a part of it, with what speaks of that."""
    return replace(
        picture,
        bodies=tuple(body for body in picture.bodies if near(area, body.box)),
        runs=tuple(run for run in picture.runs if near(area, pieces_of(run)[0])),
        notes=tuple(note for note in picture.notes if near(area, note.target)),
    )


class _Change:
    """What differs between two pictures, and the labels that this concerns."""

    def __init__(self, picture: PlanPicture, old: PlanPicture, before: Arranged, ink: Ink) -> None:
        self.picture, self.before, self.ink = picture, before, ink
        bodies, gone = _differing(picture.bodies, old.bodies, _id)
        runs, gone_runs = _differing(picture.runs, old.runs, _id)
        notes, gone_notes = _differing(picture.notes, old.notes, _key)
        self.gone = {body.id for body in gone} - {body.id for body in bodies}
        self.wide = (
            not before.looked
            or (picture.options, picture.cart) != (old.options, old.cart)
            or (picture.zones, picture.dimensions) != (old.zones, old.dimensions)
            or len(bodies) + len(gone) > MOST * len(picture.bodies)
        )
        self.nothing = not (bodies or gone or runs or gone_runs or notes or gone_notes)
        if self.wide or self.nothing:
            return
        self.stirred = [body.box for body in (*bodies, *gone)]
        self.stirred += _pieces(runs, gone_runs)
        self.other = {f"item {body.id}" for body in (*bodies, *gone)}
        self.other |= {f"run {run.id}" for run in (*runs, *gone_runs)}
        half = MARK_PT * ink.unit / 2
        self.marks = mark_places(
            picture,
            2 * half,
            {key: one for key, one in before.marks.items() if key not in self.other},
        )
        for key in self.other:
            for marks in (before.marks, self.marks):
                if key in marks:
                    self.stirred.append(_point(marks[key][1]).grown(half))
        touched = {end for run in (*runs, *gone_runs) for end in run.ends if end is not None}
        self._find_names({body.id for body in bodies}, touched)
        self._find_notes({note.key for note in (*notes, *gone_notes)}, touched, runs)
        targets = [body.box for body in self.shapes] + [note.target for note in self.notes]
        self.near = _Places(targets, REACH_PT * ink.unit)

    def _find_names(self, changed: set[str], touched: set[str]) -> None:
        """The bodies that are named anew: changed ones, those that a change lies on or runs to."""
        stirred = _Places(self.stirred, SPARE_PT * self.ink.unit)
        outer, names = self.before.outer, self.before.names
        self.shapes = [
            body
            for body in self.picture.bodies
            if body.id in changed
            or stirred.meets(body.box)
            or (body.id in outer and (body.id in touched or stirred.meets(names[body.id].box)))
        ]
        self.named = {body.id for body in self.shapes}

    def _find_notes(self, changed: set[str], touched: set[str], runs: list[RunShape]) -> None:
        of_runs = {run.id for run in runs}
        standing = {one.note.key: one.box for one in self.before.notes}
        boxes = (*self.stirred, *(body.box for body in self.shapes))
        stirred = _Places(boxes, SPARE_PT * self.ink.unit)
        self.notes = [
            note
            for note in self.picture.notes
            if note.key in changed
            or note.item in touched
            or note.run in of_runs
            or stirred.meets(standing.get(note.key, note.target))
        ]

    def sight(self) -> PlanPicture:
        """What is near enough to be in the way of what is arranged anew."""
        owners = self.named | {note.item for note in self.notes}
        return replace(
            self.picture,
            bodies=tuple(
                body
                for body in self.picture.bodies
                if body.id in owners or self.near.meets(body.box)
            ),
            runs=tuple(run for run in self.picture.runs if self.near.meets(pieces_of(run)[0])),
            notes=tuple(self.notes),
        )

    def lent(self) -> Arranged:
        """How that was arranged before."""
        before, keys = self.before, {note.key for note in self.notes}
        return replace(
            before,
            names={key: before.names[key] for key in self.named if key in before.names},
            notes=tuple(one for one in before.notes if one.note.key in keys),
            outer=before.outer & self.named,
            looked={key: before.looked[key] for key in self.named if key in before.looked},
        )

    def names(self) -> tuple[Box, ...]:
        """The names that stay, as far as they are in the way."""
        return tuple(
            name.box
            for key, name in self.before.names.items()
            if key not in self.named and key not in self.gone and self.near.meets(name.box)
        )

    def placed(self) -> tuple[Box, ...]:
        """The notes that stay, as far as they are in the way."""
        anew = {note.key for note in self.notes}
        keys = {note.key for note in self.picture.notes} - anew
        return tuple(
            one.box
            for one in self.before.notes
            if one.note.key in keys and self.near.meets(one.box)
        )


class _Places:
    """Some rectangles, and whether another lies on any of them."""

    def __init__(self, boxes: Iterable[Box], grown: float) -> None:
        self._boxes = [box.grown(grown) for box in boxes]
        corners = [(box.x, box.y) for box in self._boxes]
        corners += [(box.right, box.bottom) for box in self._boxes]
        self._around = Box.around(corners) if corners else None

    def meets(self, box: Box) -> bool:
        """Whether it lies on any of them; one without area counts as well."""
        around = self._around
        if around is None or not near(around, box):
            return False
        return any(near(one, box) for one in self._boxes)


def _merged(change: _Change, before: Arranged, anew: Arranged) -> Arranged:
    """What stays, with what was arranged anew."""
    out = change.named | change.gone
    keys = {note.key for note in change.notes}
    notes = (*(one for one in before.notes if one.note.key not in keys), *anew.notes)
    return replace(
        before,
        names={**{key: one for key, one in before.names.items() if key not in out}, **anew.names},
        notes=_in_order(change.picture.notes, notes),
        outer=(before.outer - out) | anew.outer,
        looked={
            **{key: one for key, one in before.looked.items() if key not in out},
            **anew.looked,
        },
        own={**before.own, **anew.own},
        captions=anew.captions,
    )


def _in_order(notes: tuple[Note, ...], placed: Iterable[PlacedNote]) -> tuple[PlacedNote, ...]:
    """The placed notes in the order of the picture, with what they say now."""
    by_key = {one.note.key: one for one in placed}
    made = []
    for note in notes:
        one = by_key.get(note.key)
        if one is not None:
            made.append(one if one.note is note else replace(one, note=note))
    return tuple(made)


def _differing(
    new: tuple[T, ...], old: tuple[T, ...], key: Callable[[T], Hashable]
) -> tuple[list[T], list[T]]:
    """Those of the new that were not there just so, and what the old had in their places."""
    if new is old:
        return [], []
    was = {key(one): one for one in old}
    fresh, replaced = [], []
    for one in new:
        before = was.pop(key(one), None)
        if before is one or before == one:
            continue
        fresh.append(one)
        if before is not None:
            replaced.append(before)
    return fresh, [*replaced, *was.values()]


def _id(one: BodyShape | RunShape) -> str:
    return one.id


def _key(note: Note) -> str:
    return note.key


def _pieces(runs: list[RunShape], gone: list[RunShape]) -> list[Box]:
    """Rectangles of the straight pieces that only one of a run's two ways has."""
    ways = {run.id: set(pieces_of(run)[1]) for run in gone}
    pieces = set()
    for run in runs:
        new = set(pieces_of(run)[1])
        pieces |= new ^ ways.pop(run.id, set())
    for rest in ways.values():
        pieces |= rest
    return [Box.around([a, b]) for a, b in pieces]


def _point(at: XY) -> Box:
    return Box(at[0], at[1], 0.0, 0.0)
