"""The many-at-once geometry against shapely, one pair at a time."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from cartlayout.documents.labels.boxes import (
    crosses,
    length_inside,
    meets,
    overlap_area,
)

# Whole numbers, so that touching and running along an edge happen often.
whole = st.integers(-6, 6)
boxes = st.lists(
    st.tuples(whole, whole, st.integers(1, 8), st.integers(1, 8)), min_size=1, max_size=4
)
segments = st.lists(st.tuples(whole, whole, whole, whole), min_size=1, max_size=4)


def rows(found):
    return np.array([(x, y, x + w, y + h) for x, y, w, h in found], dtype=float)


@settings(max_examples=80, deadline=None)
@given(boxes, boxes)
def test_overlap_of_boxes(a, b):
    area, touch = overlap_area(rows(a), rows(b)), meets(rows(a), rows(b))
    for i, one in enumerate(rows(a)):
        for j, other in enumerate(rows(b)):
            expected = box(*one).intersection(box(*other)).area
            assert area[i, j] == pytest.approx(expected)
            assert touch[i, j] == (expected > 0)


@settings(max_examples=120, deadline=None)
@given(boxes, segments)
def test_length_of_segments_in_boxes(found, lines):
    lines = [line for line in lines if line[:2] != line[2:]] or [(0, 0, 1, 0)]
    inside = length_inside(rows(found), np.array(lines, dtype=float))
    for i, one in enumerate(rows(found)):
        for j, (ax, ay, bx, by) in enumerate(lines):
            expected = LineString([(ax, ay), (bx, by)]).intersection(box(*one)).length
            assert inside[i, j] == pytest.approx(expected, abs=1e-9)


@settings(max_examples=120, deadline=None)
@given(segments, segments)
def test_crossing_of_segments(a, b):
    found = crosses(np.array(a, dtype=float), np.array(b, dtype=float))
    for i, (ax, ay, bx, by) in enumerate(a):
        for j, (cx, cy, dx, dy) in enumerate(b):
            one, other = LineString([(ax, ay), (bx, by)]), LineString([(cx, cy), (dx, dy)])
            if _proper(one, other):
                assert bool(found[i, j]) == one.crosses(other)


def _proper(one, other):
    """Whether they can cross at all: both have length, and no end of one lies on the other."""
    if not one.length or not other.length:
        return False
    ends = [(Point(p), other) for p in one.coords] + [(Point(p), one) for p in other.coords]
    return all(line.distance(point) > 0 for point, line in ends)


def test_a_segment_of_no_length_to_speak_of_is_nowhere():
    """Found by chance: a length near the smallest float made a quotient run over."""
    inside = length_inside(np.array([[-1.0, -1.0, 1.0, 1.0]]), np.array([[-1e-308, 0.0, 0.0, 0.0]]))
    assert inside[0, 0] == pytest.approx(0.0)
