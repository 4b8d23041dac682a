"""Snapping is plain geometry: the expected places are worked out by hand in each test."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.ui.plan.distances import distances
from cartlayout.ui.plan.gestures.base import Measure
from cartlayout.ui.plan.snapping import (
    Box,
    Guide,
    drawn_grid_m,
    fine_step_m,
    grid_step_m,
    snap_move,
)
from cartlayout.ui.plan.trace_texts import place_measures, place_words
from cartlayout.units import UnitSystem


def test_left_and_rear_edges_come_to_rest_on_the_grid():
    # A 300 x 200 mm body at the origin, dragged 103 and 48 mm on a 10 mm grid.
    snap = snap_move(Box(0, 0, 0.3, 0.2), 0.103, 0.048, [], 0.01, 0.005)
    assert (snap.dx, snap.dy) == pytest.approx((0.10, 0.05))
    assert snap.guides == ()


def test_grid_counts_from_the_edge_and_not_from_the_middle():
    # 305 mm wide: with its left edge at 100 mm its middle is at 252.5 mm, off the grid.
    snap = snap_move(Box(0, 0, 0.305, 0.2), 0.098, 0, [], 0.01, 0.005)
    assert snap.dx == pytest.approx(0.1)


def test_a_neighbours_edge_wins_over_the_grid_and_shows_why():
    neighbour = Box(0.5037, 0.4, 0.8, 0.7)
    # Right edge at 0.300 + 0.200 = 0.500; the neighbour's left edge is 3.7 mm further.
    snap = snap_move(Box(0, 0, 0.3, 0.2), 0.2, 0.0, [neighbour], 0.01, 0.005)
    assert snap.dx == pytest.approx(0.2037)
    (guide,) = snap.guides
    assert (guide.x1, guide.x2) == pytest.approx((0.5037, 0.5037))
    assert (guide.y1, guide.y2) == pytest.approx((0.0, 0.7))


def test_middles_line_up_with_middles():
    neighbour = Box(1.0, 0.1, 1.2, 0.5)  # middle from rear to front: 0.3
    snap = snap_move(Box(0, 0, 0.3, 0.3), 0, 0.147, [neighbour], 0.01, 0.005)
    assert snap.dy == pytest.approx(0.15)
    (guide,) = snap.guides
    assert (guide.y1, guide.y2) == pytest.approx((0.3, 0.3))
    assert (guide.x1, guide.x2) == pytest.approx((0.0, 1.2))


def test_out_of_reach_neighbours_do_not_pull():
    snap = snap_move(Box(0, 0, 0.3, 0.2), 0.2, 0.0, [Box(0.513, 1, 0.9, 2)], 0.01, 0.005)
    assert snap.dx == pytest.approx(0.2)
    assert snap.guides == ()


def test_the_persons_units_set_the_steps():
    # 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    assert grid_step_m(UnitSystem.US) == pytest.approx(0.0127)
    assert fine_step_m(UnitSystem.US) == pytest.approx(0.0254 / 16)
    assert grid_step_m(UnitSystem.METRIC) == 0.01
    assert fine_step_m(UnitSystem.METRIC) == 0.001


@pytest.mark.parametrize("system", list(UnitSystem))
def test_drawn_lines_never_crowd(system):
    for pixels_per_m in (20, 100, 500, 2_000, 20_000):
        step = drawn_grid_m(system, pixels_per_m)
        assert step * pixels_per_m >= 14 or step >= 1.5


boxes = st.builds(
    lambda x, y, w, d: Box(x, y, x + w, y + d),
    st.floats(-2, 2),
    st.floats(-2, 2),
    st.floats(0.01, 1),
    st.floats(0.01, 1),
)


@given(boxes, st.floats(-1, 1), st.floats(-1, 1), st.lists(boxes, max_size=6))
def test_snapping_never_moves_further_than_its_reach(box, dx, dy, neighbours):
    grid, reach = 0.01, 0.006
    snap = snap_move(box, dx, dy, neighbours, grid, reach)
    assert math.isfinite(snap.dx)
    assert abs(snap.dx - dx) <= reach + 1e-9
    assert abs(snap.dy - dy) <= reach + 1e-9


@given(boxes, st.floats(-1, 1), st.floats(-1, 1))
def test_snapping_twice_changes_nothing(box, dx, dy):
    once = snap_move(box, dx, dy, [], 0.01, 0.006)
    twice = snap_move(box, once.dx, once.dy, [], 0.01, 0.006)
    assert (twice.dx, twice.dy) == pytest.approx((once.dx, once.dy), abs=1e-9)


CART = Box(0, 0, 1.8, 0.7)


def test_the_carts_edge_and_middle_hold_and_are_named():
    # 300 mm wide: its middle on the cart's, at 900 mm, with the left edge at 750 mm.
    snap = snap_move(Box(0, 0, 0.3, 0.2), 0.746, 0.003, [], 0.01, 0.006, CART)
    assert (snap.dx, snap.dy) == pytest.approx((0.75, 0.0))
    assert {guide.says for guide in snap.guides} == {"cart middle", "cart edge"}
    assert snap_move(Box(0, 0, 0.3, 0.2), 0.746, 0.003, [], 0.05, 0.006).guides == ()


def test_a_neighbours_line_is_named_for_what_it_is():
    other = Box(1.0, 0.3, 1.3, 0.5)
    snap = snap_move(Box(0, 0, 0.2, 0.2), 0.998, 0, [other], 0.01, 0.005)
    assert [guide.says for guide in snap.guides] == ["edge"]
    snap = snap_move(Box(0, 0, 0.2, 0.2), 1.052, 0, [other], 0.01, 0.005)
    assert [guide.says for guide in snap.guides] == ["middle"]


def test_between_two_the_gaps_become_equal():
    # Free between 0.20 and 0.80 m: 0.60; the body takes 0.30; 0.15 m on either side.
    row = [Box(0.0, 0, 0.20, 0.3), Box(0.80, 0, 1.0, 0.3)]
    snap = snap_move(Box(0, 0.05, 0.3, 0.25), 0.353, 0, row, 0.1, 0.006)
    assert snap.dx == pytest.approx(0.35)
    assert [gap.length_m for gap in snap.gaps] == pytest.approx([0.15, 0.15])
    assert snap.gaps[0].x1 == pytest.approx(0.20)
    assert snap.gaps[1].x2 == pytest.approx(0.80)


def test_the_gap_of_two_others_is_taken_over():
    # The two stand 0.12 m apart; the third comes to rest 0.12 m after the second.
    row = [Box(0.0, 0, 0.2, 0.3), Box(0.32, 0, 0.5, 0.3)]
    snap = snap_move(Box(0, 0, 0.3, 0.31), 0.617, 0, row, 0.1, 0.006)
    assert snap.dx == pytest.approx(0.62)
    assert [gap.length_m for gap in snap.gaps] == pytest.approx([0.12, 0.12])
    # And before the first, on the other side.
    row = [Box(0.5, 0, 0.7, 0.3), Box(0.82, 0, 1.0, 0.3)]
    snap = snap_move(Box(0, 0, 0.3, 0.31), 0.083, 0, row, 0.1, 0.006)
    assert snap.dx == pytest.approx(0.08)


def test_gaps_count_from_rear_to_front_too():
    column = [Box(0, 0.0, 0.3, 0.2), Box(0, 0.8, 0.3, 1.0)]
    snap = snap_move(Box(0.05, 0, 0.25, 0.3), 0, 0.353, column, 0.1, 0.006)
    assert snap.dy == pytest.approx(0.35)
    assert [gap.length_m for gap in snap.gaps] == pytest.approx([0.15, 0.15])
    assert all(gap.x1 == gap.x2 for gap in snap.gaps)


def test_what_is_not_in_the_row_makes_no_gap():
    beyond = [Box(0.0, 1, 0.20, 1.3), Box(0.80, 1, 1.0, 1.3)]
    snap = snap_move(Box(0, 0, 0.3, 0.2), 0.353, 0, beyond, 0.1, 0.006)
    assert snap.gaps == ()
    assert snap.dx == pytest.approx(0.4)


def test_distances_on_four_sides_go_to_what_is_nearest():
    rest = Box(0.6, 0.2, 0.9, 0.5)
    left, far_left = Box(0.3, 0.1, 0.5, 0.3), Box(0.0, 0.1, 0.2, 0.3)
    beside = Box(1.0, 0.6, 1.2, 0.7)  # right of it, but not in its row
    found = distances(rest, [left, far_left, beside], CART)
    lengths = [round(one.length_m, 6) for one in found]
    # Left: to the neighbour, 0.6 - 0.5. Right: to the cart's edge, 1.8 - 0.9.
    # Rear: 0.2 from the edge. Front: 0.7 - 0.5.
    assert lengths == pytest.approx([0.1, 0.9, 0.2, 0.2])
    assert [one.across for one in found] == [True, True, False, False]
    assert found[0].a[1] == pytest.approx(0.25), "where the two stand side by side"


def test_there_is_no_distance_into_a_body_or_from_outside_the_cart():
    rest = Box(0.6, 0.2, 0.9, 0.5)
    assert len(distances(rest, [Box(0.5, 0.1, 0.7, 0.3)], CART)) == 2
    assert distances(Box(0.6, -0.9, 0.9, -0.6), [], CART) == ()


def size_of(text):
    """Letters of 5 by 10 mm."""
    return 0.005 * len(text), 0.010


sides = st.floats(0, 0.4)


@given(lengths=st.tuples(sides, sides, sides, sides), px=st.floats(0.0002, 0.005))
def test_no_number_of_a_drag_lies_on_another(lengths, px):
    rest = Box(0.6, 0.6, 0.75, 0.7)
    left, right, rear, front = lengths
    x, y = rest.middle_x, rest.middle_y
    ends = (
        ((rest.left, y), (rest.left - left, y)),
        ((rest.right, y), (rest.right + right, y)),
        ((x, rest.top), (x, rest.top - rear)),
        ((x, rest.bottom), (x, rest.bottom + front)),
    )
    measures = [Measure(a, b, "12.5 in") for a, b in ends]
    boxes = place_measures(measures, size_of, px, rest)
    guides = [Guide(rest.left, 0, rest.left, 1, "edge"), Guide(0, rest.top, 1, rest.top, "edge")]
    words = place_words(guides, size_of, px, boxes)
    every = [*boxes, *(box for _, box in words)]
    for number, one in enumerate(every):
        for other in every[number + 1 :]:
            apart_x = one.right <= other.left or other.right <= one.left
            apart_y = one.bottom <= other.top or other.bottom <= one.top
            assert apart_x or apart_y


def test_a_long_line_carries_its_number_and_a_short_one_has_it_beside():
    long = Measure((0, 0), (0.5, 0), "0.5 m")
    (box,) = place_measures([long], size_of, 0.001, None)
    assert box.middle_y == 0
    assert 0 < box.left < box.right < 0.5
    short = Measure((0, 0), (0.02, 0), "20 mm")
    (box,) = place_measures([short], size_of, 0.001, None)
    assert box.bottom < 0 or box.top > 0
