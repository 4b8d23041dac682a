"""Reach from the operator's side, the way of a drip, and that reuse changes nothing."""

import building as b
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from random_body import bodies

from cartlayout.body import solve_body
from cartlayout.body.results import BodyResult, Drip
from cartlayout.build import Build, Cart, Clearance, Item, Leaf, Strip, Zone
from cartlayout.build.edits import move
from cartlayout.limits import body_practice
from cartlayout.units import Current, Length

INCH = 0.0254
_LENT = {"frame", "solids", "shared", "reads", "support"}


def used(y: str, **more) -> Item:  # type: ignore[no-untyped-def]
    return b.item("a", at=("36 in", y), spec={"operated": True, **more.pop("spec", {})}, **more)


def depth(item: Item, cart: Cart | None = None) -> float:
    (reach,) = solve_body(b.build(item, cart=cart or b.cart(operator_side="front"))).reaches
    return reach.depth_m / INCH


def test_reach_limits_are_those_of_the_standard() -> None:
    # 2010 ADA Standards 308.2.2: 20 in (510 mm) with full height, 25 in (635 mm) at most.
    practice = body_practice()
    assert practice.reach_easy_m.value == pytest.approx(0.510, abs=0.003)
    assert practice.reach_limit_m.value == pytest.approx(0.635, abs=0.0005)


def test_hands_go_to_the_front_of_a_body() -> None:
    assert depth(used("15 in")) == pytest.approx(10.0)  # its front is at 20 of 30 in
    assert depth(used("15 in", rotation=180.0)) == pytest.approx(20.0)


def test_hands_go_into_what_is_worked_at_from_above() -> None:
    need = {"clearances": (Clearance(purpose="work", top=Length("8 in")),)}
    assert depth(used("15 in", spec=need)) == pytest.approx(15.0)


def test_the_operator_may_stand_on_any_side() -> None:
    assert depth(used("15 in"), b.cart(operator_side="rear")) == pytest.approx(20.0)
    assert depth(used("15 in"), b.cart(operator_side="left")) == pytest.approx(36.0)
    assert depth(used("15 in"), b.cart(operator_side="right")) == pytest.approx(36.0)


def test_a_raised_leaf_keeps_the_operator_away() -> None:
    leaf = Leaf(name="l", side="front", start=Length("20 in"), length=Length("30 in"),
                depth=Length("10 in"))  # fmt: skip
    cart = b.cart(operator_side="front", leaves=(leaf,))
    assert depth(used("15 in"), cart) == pytest.approx(20.0, abs=0.05)
    folded = replace(cart, leaves=(replace(leaf, up=False),))
    assert depth(used("15 in"), folded) == pytest.approx(10.0)


def strip(at: tuple[str, str], level: str, **more) -> Item:  # type: ignore[no-untyped-def]
    return b.item("strip", electrical=Strip(rating=Current("15 A")), at=at, level=level,
                  size=("14 in", "2 in", "2 in"), **more)  # fmt: skip


def drips(*items: Item, cart: Cart | None = None) -> list[tuple[str, str]]:
    found: tuple[Drip, ...] = solve_body(b.build(*items, cart=cart)).drips
    return [(one.wet, one.shield) for one in found]


def test_a_counter_without_a_hole_shields_what_is_below() -> None:
    jug = b.tank("jug", at=("36 in", "15 in"), level="counter")
    assert drips(jug, strip(("36 in", "15 in"), "shelf")) == [("jug", "counter")]


def test_a_hole_lets_water_through_where_it_is_near() -> None:
    jug = b.tank("jug", at=("36 in", "15 in"), level="counter")

    def holed(x: str) -> Cart:
        return b.cart(zones=(Zone(name="h", kind="opening", level="counter", x=Length(x),
                                  y=Length("20.5 in"), width=Length("2 in"),
                                  depth=Length("2 in"), round=True),))  # fmt: skip

    below = strip(("36 in", "20 in"), "shelf")
    assert drips(jug, below, cart=holed("35 in")) == [("jug", "")]
    assert drips(jug, below, cart=holed("60 in")) == [("jug", "counter")]


def test_on_one_level_water_beside_counts_within_the_margin() -> None:
    # Common practice, no source: an inch to the side.
    jug = b.tank("jug", at=("20 in", "15 in"), level="base")
    assert drips(jug, strip(("32.5 in", "15 in"), "base")) == [("jug", "")]  # 0.5 in away
    assert drips(jug, strip(("34 in", "15 in"), "base")) == []  # 2 in away


def test_water_below_does_not_drip_up() -> None:
    jug = b.tank("jug", at=("36 in", "15 in"), level="base")  # 10 in high on 6 in
    assert drips(jug, strip(("36 in", "15 in"), "shelf")) == []


def test_a_joint_counts_where_it_is() -> None:
    low = b.shut_off("valve", at=("36 in", "10 in"), level="base", size=("4 in", "4 in", "30 in"))
    above = strip(("36 in", "13 in"), "shelf")
    # The valve's body reaches past the strip, its joints at 2 in do not.
    assert drips(low, above) == []


def told(result: BodyResult) -> dict[str, object]:
    return {
        name: getattr(result, name) for name in BodyResult.__dataclass_fields__ if name not in _LENT
    }


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_reuse_changes_nothing(data: st.DataObject) -> None:
    build: Build = data.draw(bodies())
    previous = solve_body(build)
    for _ in range(3):
        if build.items:
            item = data.draw(st.sampled_from(build.items))
            by = data.draw(st.sampled_from([0.02, -0.05, 0.3]))
            build = move(build, (item.id,), by, -by)
        fresh, warm = solve_body(build), solve_body(build, previous)
        assert told(warm) == told(fresh)
        previous = warm
