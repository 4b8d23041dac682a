"""A shown plan with a small cart on it, and a hand on the mouse."""

import pytest
from plan_cart import small_cart
from plan_hand import Hand, shown_plan

from cartlayout.build import Build


@pytest.fixture
def show_plan(qtbot):
    """Show a build on a plan of 900 x 640 pixels, fitted."""

    def show(build: Build, size=(900, 640)) -> Hand:
        return shown_plan(qtbot, build, size)

    return show


@pytest.fixture
def hand(show_plan) -> Hand:
    """A hand on the small cart."""
    return show_plan(small_cart())
