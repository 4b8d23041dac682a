"""Snapping is plain geometry: the expected places are worked out by hand in each test."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.ui.plan.snapping import (
    Box,
    drawn_grid_m,
    fine_step_m,
    grid_step_m,
    snap_move,
)
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
