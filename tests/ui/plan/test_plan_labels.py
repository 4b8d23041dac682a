"""Names and numbers of every sample: in their bodies, in sight, and off the lines they belong to.

Crossings are found with shapely, which the drawing does not use.
"""

import pytest
from plan_cart import bare_cart, small_cart
from PySide6.QtCore import QPointF, Qt
from shapely import LineString
from shapely import box as rectangle

from cartlayout.build import End
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.plan.paths import flattened
from cartlayout.network import connect

INCH = 25.4
# What a window of 1280 x 800 leaves for the plan, and one of 1920 x 1200.
SMALL, LARGE = (742, 468), (1382, 868)
SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))


def sample(name):
    return load(sample_builds() / f"{name}.cart")


def upright(box):
    return rectangle(box.x, box.y, box.right, box.bottom)


def covered_by_own_run(view):
    """Names beside their bodies, and numbers, that lie on a run of their own item."""
    arranged, picture = view.plan.arranged, view.plan.picture
    labels = [(key, arranged.names[key].box) for key in arranged.outer]
    labels += [(one.note.item, one.box) for one in arranged.notes if one.note.item]
    return [
        (item_id, run.id)
        for item_id, box in labels
        for run in picture.runs
        if item_id in run.ends and not run.ghosted
        if LineString(flattened(run, 24)).intersects(upright(box))
    ]


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize("name", SAMPLES)
def test_no_label_covers_a_run_of_its_own_item(show_plan, name, size):
    assert covered_by_own_run(show_plan(sample(name), size).view) == []


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize("name", SAMPLES)
def test_every_label_of_a_fitted_plan_is_wholly_in_sight(show_plan, name, size):
    view = show_plan(sample(name), size).view
    arranged, seen = view.plan.arranged, view.camera.seen()
    boxes = [one.box for one in arranged.names.values()] + [one.box for one in arranged.notes]
    boxes += [box for _, box in arranged.captions]
    assert boxes
    for box in boxes:
        assert seen.contains(QPointF(box.x, box.y))
        assert seen.contains(QPointF(box.right, box.bottom))


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_a_name_that_fits_in_its_body_on_two_lines_is_written_there(show_plan, size):
    plan = show_plan(sample("conference_hall_bar"), size).view.plan
    for words in (
        "Batch grinder",
        "Decaf grinder",
        "Grinder",
        "Pitcher rinser",
        "Soda taps",
        "Knock box",
        "Hall drain",
    ):
        (body,) = (one for one in plan.picture.bodies if one.name == words)
        name = plan.arranged.names[body.id]
        assert body.box.holds(name.box), words
        assert " ".join(name.lines) == words
        assert len(name.lines) <= 2


def test_a_name_in_its_body_keeps_off_the_marks_of_findings(show_plan):
    plan = show_plan(sample("market_cart_first_try"), SMALL).view.plan
    marks = [mark.sceneBoundingRect().center() for mark in plan.marks.values()]
    assert marks
    for key, name in plan.arranged.names.items():
        if not plan.arranged.outer & {key}:
            box = name.box
            under = [
                at for at in marks if box.x < at.x() < box.right and box.y < at.y() < box.bottom
            ]
            assert not under, key


@pytest.mark.parametrize("dragged", ["machine", "kettle"])
def test_an_outlets_name_keeps_off_wires_that_leave_it_while_they_are_dragged(show_plan, dragged):
    build = small_cart()  # the machine is on outlet 1 already
    if dragged == "kettle":
        plug, receptacle = End(item="kettle", port="plug"), End(item="outlet-1", port="2")
        build, _ = connect(build, plug, receptacle)
    hand = show_plan(build, SMALL)
    assert covered_by_own_run(hand.view) == []
    x, y = hand.middle(dragged)
    hand.start((x, y), (x + INCH, y))
    for step in range(16):
        hand.move((x + 3 * step * INCH, y))
        assert "outlet-1" in hand.view.plan.arranged.outer
        assert not [one for one in covered_by_own_run(hand.view) if one[0] == "outlet-1"]
    hand.key(Qt.Key.Key_Escape)


def test_the_venues_band_has_its_word_wherever_the_venues_things_stand(show_plan):
    for name in SAMPLES:
        captions = show_plan(sample(name), SMALL).view.plan.arranged.captions
        assert "VENUE" in [words for words, _ in captions], name


def test_the_venues_band_of_a_bare_cart_is_above_it_in_sight_and_says_what_it_is_for(show_plan):
    view = show_plan(bare_cart(), SMALL).view
    venue, cart = view.plan.picture.venue, view.plan.picture.cart.box
    assert venue.bottom < cart.y
    seen = view.camera.seen()
    assert seen.contains(QPointF(venue.x, venue.y))
    assert seen.contains(QPointF(venue.right, venue.bottom))
    (words,) = (text for text, _ in view.plan.arranged.captions if text.startswith("VENUE"))
    assert "outlets" in words
    assert "water" in words
    assert "drains" in words
