"""Labels never lie on each other, whatever is asked: a property of the result, measured on it."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.documents.labels import Field, Label, Obstacle, place
from cartlayout.documents.plan import Box

FRAME = Box(0.0, 0.0, 200.0, 150.0)


def overlap(a: Box, b: Box) -> float:
    """Shared area, worked out here from the corners alone."""
    wide = min(a.x + a.width, b.x + b.width) - max(a.x, b.x)
    high = min(a.y + a.height, b.y + b.height) - max(a.y, b.y)
    return max(wide, 0.0) * max(high, 0.0)


def label(key, x, y, w=20.0, h=6.0, body=10.0, **more) -> Label:
    target = Box(x - body / 2, y - body / 2, body, body)
    return Label(key=key, sizes=((w, h),), target=target, anchor=(x, y), **more)


spot = st.tuples(st.floats(-20, 220), st.floats(-20, 170))
size = st.tuples(st.floats(0.5, 60), st.floats(0.5, 20))


@st.composite
def asked(draw):
    count = draw(st.integers(0, 14))
    labels = []
    for number in range(count):
        x, y = draw(spot)
        labels.append(
            Label(
                key=str(number),
                sizes=tuple(draw(st.lists(size, min_size=1, max_size=3))),
                target=Box(x, y, draw(st.floats(0, 40)), draw(st.floats(0, 40))),
                anchor=(x, y),
                inside=draw(st.booleans()),
                along=tuple(draw(st.lists(spot, max_size=3))),
                priority=draw(st.sampled_from((0.0, 1.0))),
            )
        )
    lines = draw(st.lists(st.tuples(spot, spot), max_size=4))
    field = Field(
        frame=FRAME,
        bodies=tuple(
            Obstacle(str(number), one.target) for number, one in enumerate(labels) if number % 2
        ),
        lines=tuple(((a, b), 1.0) for a, b in lines),
        keep_out=(Box(80, 60, 30, 20),),
        gap=draw(st.sampled_from((0.0, 1.0, 2.5))),
    )
    return labels, field


@settings(max_examples=120, deadline=None)
@given(asked())
def test_no_two_labels_share_any_area(case):
    labels, field = case
    placed = place(labels, field)
    assert [one.key for one in placed] == [one.key for one in labels]
    for a, b in itertools.combinations(placed, 2):
        assert overlap(a.box, b.box) < 1e-6
    for one in placed:
        assert overlap(one.box, field.keep_out[0]) < 1e-6
        if not one.outside:
            assert overlap(one.box, FRAME) == pytest.approx(one.box.width * one.box.height)


@settings(max_examples=25, deadline=None)
@given(asked())
def test_the_same_question_has_the_same_answer(case):
    labels, field = case
    assert place(labels, field) == place(labels, field)


def test_a_label_that_fits_lies_in_its_body_without_a_leader():
    (one,) = place(
        [label("machine", 100, 70, w=20, body=40, inside=True, belongs="machine")],
        Field(FRAME, bodies=(Obstacle("machine", Box(80, 50, 40, 40)),)),
    )
    assert Box(80, 50, 40, 40).holds(one.box)
    assert one.leader == ()


def test_a_label_too_wide_for_its_body_stands_beside_it():
    (one,) = place(
        [label("valve", 100, 70, w=30, body=8, inside=True, belongs="valve")],
        Field(FRAME, bodies=(Obstacle("valve", Box(96, 66, 8, 8)),)),
    )
    assert overlap(one.box, Box(96, 66, 8, 8)) == 0.0
    assert abs(one.box.centre[0] - 100) + abs(one.box.centre[1] - 70) < 30


def test_the_size_that_fits_is_taken():
    target = Box(80, 50, 24, 30)
    (one,) = place(
        [Label("a", sizes=((60, 6), (22, 12)), target=target, anchor=(92, 65), inside=True,
               belongs="a")],
        Field(FRAME, bodies=(Obstacle("a", target),)),
    )  # fmt: skip
    assert one.size == 1
    assert target.holds(one.box)


def test_a_crowd_in_one_spot_is_led_out_by_leaders():
    labels = [label(str(number), 100, 70, body=2) for number in range(24)]
    placed = place(labels, Field(FRAME, gap=1.0))
    assert not any(one.outside for one in placed)
    led = [one for one in placed if one.leader]
    assert len(led) >= 12
    for one in led:
        assert one.leader[-1] == (100, 70)


def test_more_than_the_frame_can_hold_goes_below_it():
    labels = [label(str(number), 10, 10, w=18, h=9) for number in range(9)]
    placed = place(labels, Field(Box(0, 0, 20, 20), gap=1.0))
    assert sum(one.outside for one in placed) >= 7  # at most two fit above each other in 20
    for one in placed:
        if one.outside:
            assert one.box.y >= 20


def test_a_wall_of_body_and_a_line_are_avoided():
    wall = Box(0, 80, 200, 70)
    line = ((0.0, 40.0), (200.0, 40.0))
    (one,) = place(
        [label("a", 100, 78, w=30, h=6, body=4)],
        Field(FRAME, bodies=(Obstacle("wall", wall),), lines=((line, 1.0),), gap=1.0),
    )
    assert overlap(one.box, wall) == 0.0
    assert not one.box.y < 40 < one.box.bottom
