"""Labels carried along with what they speak of, for the moment until they are arranged anew.

In a drag the body has to be seen where the mouse is within a frame; where labels fit best
is looked for with the answer that follows.
"""

from dataclasses import replace

from ...documents.plan import XY, Box, Note, PlanPicture
from .arrange import Arranged
from .mirrors import Name, PlacedNote

_STILL = (0.0, 0.0)


def carry(picture: PlanPicture, old: PlanPicture, before: Arranged) -> Arranged:
    """What was arranged for `old`, with every label moved as its body or its run has."""
    centres = {body.id: body.centre for body in old.bodies}
    shifts = {
        body.id: _way(centres[body.id], body.centre)
        for body in picture.bodies
        if body.id in centres and centres[body.id] != body.centre
    }
    anchors = {note.key: note.anchor for note in old.notes}
    notes = {note.key: note for note in picture.notes}
    return replace(
        before,
        names={key: _name(name, shifts.get(key, _STILL)) for key, name in before.names.items()},
        notes=tuple(
            _note(one, note, _way(anchors.get(note.key, note.anchor), note.anchor))
            for one in before.notes
            if (note := notes.get(one.note.key)) is not None
        ),
        marks={
            key: (severity, _moved(at, shifts.get(key.removeprefix("item "), _STILL)))
            for key, (severity, at) in before.marks.items()
        },
    )


def _way(a: XY, b: XY) -> XY:
    return b[0] - a[0], b[1] - a[1]


def _moved(at: XY, by: XY) -> XY:
    return at[0] + by[0], at[1] + by[1]


def _box(box: Box, by: XY) -> Box:
    return Box(box.x + by[0], box.y + by[1], box.width, box.height)


def _name(name: Name, by: XY) -> Name:
    if by == _STILL:
        return name
    return replace(
        name,
        box=_box(name.box, by),
        leader=tuple(_moved(at, by) for at in name.leader),
        anchor=_moved(name.anchor, by),
    )


def _note(one: PlacedNote, note: Note, by: XY) -> PlacedNote:
    if by == _STILL:
        return one if one.note is note else replace(one, note=note)
    return replace(
        one, note=note, box=_box(one.box, by), leader=tuple(_moved(at, by) for at in one.leader)
    )
