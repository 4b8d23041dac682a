"""Labels of every sample at every zoom: none on another, none off the paper, none on an arrow.

Checked by geometry alone: two rectangles overlap or they do not.
"""

import itertools

import pytest

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.plan import Box, PlanOptions, plan_picture
from cartlayout.documents.plan.cart import zone_words
from cartlayout.documents.plan.lines import arrow_boxes
from cartlayout.documents.plan.paint import Ink, dimension_text_box
from cartlayout.documents.plan.picture import OVERLAYS
from cartlayout.documents.theme import LIGHT
from cartlayout.ui.plan.arrange import AROUND_PT, Arranged, arrange
from cartlayout.ui.plan.mirrors import MARK_PT
from cartlayout.ui.plan.names import NEAR_MM
from cartlayout.ui.plan.scene import POINT_PX

SAMPLES = sorted(sample_builds().glob("*.cart"))
ZOOMS = (0.08, 0.14, 0.25, 0.4, 0.7, 1.2, 2.5, 6.0)
"""Pixels a millimetre: from a cart as wide as a stamp to one appliance that fills the screen."""
SHOWN = (frozenset(OVERLAYS), frozenset({"power", "water", "drain"}))


def pictures(name):
    build = load(name)
    analysis = analyse(build)
    for level in (one.name for one in build.cart.levels):
        for shown in SHOWN:
            yield plan_picture(build, analysis, PlanOptions(level=level, overlays=shown))


def labels(picture, arranged: Arranged, ink: Ink) -> list[tuple[str, Box]]:
    """All that has letters, and the marks, with where each lies."""
    size = MARK_PT * ink.unit
    made = [(f"name {key}", name.box) for key, name in arranged.names.items()]
    made += [(one.note.key, one.box) for one in arranged.notes]
    made += list(arranged.captions)
    made += [(one.text, dimension_text_box(one, ink)) for one in picture.dimensions]
    made += [
        (f"mark {key}", Box(x - size / 2, y - size / 2, size, size))
        for key, (_, (x, y)) in arranged.marks.items()
    ]
    return made


def shared(one: Box, other: Box) -> float:
    """Area of two boxes in common, as a share of the smaller."""
    wide = min(one.right, other.right) - max(one.x, other.x)
    high = min(one.bottom, other.bottom) - max(one.y, other.y)
    if wide <= 0 or high <= 0:
        return 0.0
    return wide * high / min(one.width * one.height, other.width * other.height)


@pytest.mark.parametrize("zoom", ZOOMS)
@pytest.mark.parametrize("name", SAMPLES, ids=lambda path: path.stem)
def test_no_label_lies_on_another(name, zoom):
    ink = Ink(LIGHT, POINT_PX / zoom)
    found = []
    for picture in pictures(name):
        arranged = arrange(picture, ink, None)
        for (a, one), (b, other) in itertools.combinations(labels(picture, arranged, ink), 2):
            if shared(one, other) > 0.001:
                found.append((picture.options.level, a, b, round(shared(one, other), 3)))
    assert found == []


@pytest.mark.parametrize("zoom", ZOOMS)
@pytest.mark.parametrize("name", SAMPLES, ids=lambda path: path.stem)
def test_no_note_hides_an_arrow_or_a_zones_words(name, zoom):
    ink = Ink(LIGHT, POINT_PX / zoom)
    found = []
    for picture in pictures(name):
        arranged = arrange(picture, ink, None)
        arrows = [
            (f"arrow of {run.id}", box)
            for run in picture.runs
            if not run.ghosted
            for box in arrow_boxes(run, ink)
        ]
        words = [
            (f"words of {zone.name}", made.box)
            for zone in picture.zones
            if (made := zone_words(zone, ink)) is not None
        ]
        for placed in arranged.notes:
            for what, box in (*arrows, *words):
                if shared(placed.box, box) > 0.001:
                    found.append((picture.options.level, placed.note.key, what))
        see_through = {body.id for body in picture.bodies if body.ghosted}
        for key, name in arranged.names.items():
            for what, box in words if key in see_through else ():
                if shared(name.box, box) > 0.001:
                    found.append((picture.options.level, key, what))
    assert found == []


@pytest.mark.parametrize("zoom", ZOOMS)
@pytest.mark.parametrize("name", SAMPLES, ids=lambda path: path.stem)
def test_labels_stay_near_what_they_speak_of(name, zoom):
    """No further off the plan than a pill is wide, and whole."""
    ink = Ink(LIGHT, POINT_PX / zoom)
    for picture in pictures(name):
        around = picture.box.grown(AROUND_PT * ink.unit + 0.01)
        if picture.venue is not None:
            around = around.united(picture.venue)
        arranged = arrange(picture, ink, None)
        for key, box in (
            *((key, one.box) for key, one in arranged.names.items()),
            *((one.note.key, one.box) for one in arranged.notes),
        ):
            assert around.holds(box), key


@pytest.mark.parametrize("name", SAMPLES, ids=lambda path: path.stem)
def test_the_nearer_the_more_is_said(name):
    """From far only names and what is wrong; from near also which one, its size, its plug."""
    picture = next(pictures(name))
    far, usual, near = (
        arrange(picture, Ink(LIGHT, unit), None) for unit in (14.0, NEAR_MM + 0.6, 0.9)
    )
    assert all(not one.sub for key, one in far.names.items() if key not in far.outer)
    assert all(
        one.note.state in ("stop", "care") or one.note.kind == "circuit" for one in far.notes
    )
    assert any(one.sub for one in usual.names.values())
    assert not any("\n" in one.sub for one in usual.names.values())
    written = [one for body in picture.bodies if (one := near.names.get(body.id)) and not one.over]
    assert sum("×" in one.sub for one in written) >= 3
    letters = [sum(len(" ".join(one.lines) + one.sub) for one in view.names.values())
               for view in (far, usual, near)]  # fmt: skip
    assert letters == sorted(letters)
