"""How tight a way gets: check values are geometry of circles and tangents, done here anew."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.network.routing.bends import bend_room, cleaned


def test_a_straight_way_bends_nowhere() -> None:
    assert bend_room([(0, 0, 0), (1, 0, 0)]) == ()


def test_a_quarter_turn_has_the_room_of_its_shorter_leg() -> None:
    # The circle that touches both legs of a right angle does so one radius from the corner.
    assert bend_room([(0, 0, 0), (0.3, 0, 0), (0.3, 0.2, 0)]) == pytest.approx((0.2,))


def test_a_hairpin_is_as_wide_as_two_radii() -> None:
    way = [(0, 0, 0), (1, 0, 0), (1, 0.1, 0), (0, 0.1, 0)]
    assert min(bend_room(way)) == pytest.approx(0.05)


@given(st.floats(0.02, 0.5), st.floats(0.1, math.pi / 2 - 0.05))
def test_an_offset_takes_two_arcs_of_less_than_a_quarter(radius: float, angle: float) -> None:
    """A reverse curve: two arcs of `angle` move a line aside by 2 r (1 - cos) over 2 r sin."""
    offset = 2 * radius * (1 - math.cos(angle))
    along = 2 * radius * math.sin(angle)
    way = [(0, 0, 0), (along / 2, 0, 0), (along / 2, offset, 0), (along, offset, 0)]
    if offset > 0.006:  # less is taken for play
        assert min(bend_room(way)) == pytest.approx(radius, rel=1e-6)


def test_upright_parts_bend_as_well() -> None:
    assert bend_room([(0, 0, 0), (0, 0, 0.04), (0.5, 0, 0.04)]) == pytest.approx((0.04,))


def test_a_step_of_a_few_millimetres_is_play() -> None:
    assert bend_room([(0, 0, 0), (0.1, 0, 0), (0.1, 0.003, 0), (0.2, 0.003, 0)]) == ()


def test_doubled_corners_and_spurs_are_dropped() -> None:
    way = [(0, 0, 0), (0, 0, 0), (1, 0, 0), (2, 0, 0), (1.5, 0, 0), (1.5, 1, 0)]
    assert cleaned(way) == ((0, 0, 0), (1.5, 0, 0), (1.5, 1, 0))
