"""Where things were, beside where they are: what the plan draws of two states of a build.

What must hold whatever the build: what did not change is not drawn, what was moved leads from
where it was to where it is.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_cart import small_cart
from ui_samples import sample

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, edits
from cartlayout.documents.plan import plan_picture
from cartlayout.ui.plan.changes import NONE, Side, changed

CART = sample("market_cart")
LOOSE = tuple(item.id for item in CART.items if item.level != "venue")


def _side(build: Build, previous: Analysis | None = None) -> Side:
    analysis = analyse(build, previous)
    return Side(analysis, plan_picture(build, analysis))


BEFORE = _side(CART)


def test_equal_builds_show_nothing() -> None:
    assert changed(BEFORE, _side(CART)) == NONE
    assert changed(BEFORE, BEFORE).turned() == NONE


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(LOOSE), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))
def test_what_is_moved_leads_from_where_it_was(item: str, dx: float, dy: float) -> None:
    after = _side(edits.move(CART, (item,), dx, dy), BEFORE.analysis)
    found = changed(BEFORE, after)
    old, new = BEFORE.picture.body(item), after.picture.body(item)
    if max(abs(dx), abs(dy)) > 1e-4:
        assert (old.centre, new.centre) in found.ways
        assert [one.points[:4] for one in found.left] == [old.corners]
        assert (item, new.corners) in {(one.id, one.points[:4]) for one in found.now}
    assert len(found.ways) <= 1
    assert not found.gone
    back = changed(after, BEFORE)
    assert back.ways == tuple((b, a) for a, b in found.ways)
    assert found.turned().ways == back.ways


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(LOOSE), st.floats(-0.1, 0.1))
def test_runs_that_keep_their_way_are_not_drawn(item: str, dx: float) -> None:
    """A run is moved aside on the plan where others lie beside it; that is no change of its own."""
    after = _side(edits.move(CART, (item,), dx, 0.0), BEFORE.analysis)
    found = changed(BEFORE, after)
    old, new = BEFORE.analysis.network.routes, after.analysis.network.routes
    led = [key for key in new if key not in old or new[key].points != old[key].points]
    assert len(found.new_runs) == len(led)


def test_what_is_taken_away_and_what_is_added() -> None:
    left = edits.remove(CART, ("cups",))
    found = changed(BEFORE, _side(left))
    assert [one.points[:4] for one in found.gone] == [BEFORE.picture.body("cups").corners]
    assert not found.now
    back = changed(_side(left), BEFORE)
    assert [one.points[:4] for one in back.now] == [BEFORE.picture.body("cups").corners]
    assert not back.gone
    assert not found.turned().gone


def test_an_exchange_in_its_place_has_no_arrow() -> None:
    turned = edits.rotate(CART, ("cups",), 90.0)
    found = changed(BEFORE, _side(turned))
    assert found.left
    assert found.now
    assert not found.ways


def test_another_level_is_drawn_quietly() -> None:
    item = next(one for one in CART.items if one.level == CART.cart.levels[-1].name)
    assert BEFORE.picture.body(item.id).ghosted
    found = changed(BEFORE, _side(edits.move(CART, (item.id,), 0.05, 0.0)))
    assert all(one.far for one in found.left)
    assert set(found.ways) == found.far_ways
    assert set(found.turned().ways) == found.turned().far_ways


def test_the_plan_draws_it_while_it_is_asked_for(show_plan) -> None:
    hand = show_plan(small_cart())
    view, session = hand.view, hand.session
    item = next(one for one in session.build.items if one.level != "venue")
    before = session.settled
    empty = _pixels(view)
    session.apply("Move", edits.move(session.build, (item.id,), 0.08, 0.0))
    hand.settle()
    plain = _pixels(view)
    view.before.show(before)
    hand.settle()
    assert view.before.is_on
    assert len(view.plan.changes.shown.ways) == 1
    assert _pixels(view) != plain
    view.before.show(None)
    hand.settle()
    assert _pixels(view) == plain != empty


def _pixels(view) -> bytes:
    image = view.grab().toImage()
    return bytes(image.constBits())


@pytest.mark.parametrize("system", ["US", "METRIC"])
def test_units_do_not_matter(show_plan, system) -> None:
    from cartlayout.units import UnitSystem

    hand = show_plan(small_cart())
    view, session = hand.view, hand.session
    view.before.show(session.settled)
    session.set_system(UnitSystem[system])
    hand.settle()
    assert view.plan.changes.shown == NONE
