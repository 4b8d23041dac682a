"""Doors, lifts, ramps and vehicles: sizes by subtraction, limits as published."""

import building as b
import pytest

from cartlayout.body import solve_body
from cartlayout.body.results import PassageResult
from cartlayout.build import Cart, Caster, Handle, Item, Leaf, Passage, Venue
from cartlayout.limits import body_practice
from cartlayout.units import Length, Mass


def through(
    *items: Item, cart: Cart | None = None, kind: str = "door", width: str = "32 in", **more: object
) -> PassageResult:
    passage = Passage(name="Way", kind=kind, width=Length(width), **more)  # type: ignore[arg-type]
    return solve_body(b.build(*items, cart=cart, venue=Venue(passages=(passage,)))).passages[0]


def wrong(result: PassageResult) -> list[str]:
    return [check.what for check in result.checks if not check.holds]


def test_a_cart_goes_through_with_its_narrow_side_first() -> None:
    result = through()  # 72 x 30 in
    assert result.passes
    assert result.way == "narrow side first"
    assert result.checks[0].value == pytest.approx(30 * 0.0254)


def test_what_sticks_out_counts() -> None:
    assert not through(b.item("a", at=("36 in", "29 in"))).passes  # 4 in over the front edge
    packed = b.item("a", at=("36 in", "29 in"), travels=False)
    assert through(packed).passes


def test_the_handle_counts_along_or_across() -> None:
    at_end = b.cart(handle=Handle(side="right", height=Length("38 in")))
    assert through(cart=at_end).passes
    at_front = b.cart(handle=Handle(side="front", height=Length("38 in")))
    assert not through(cart=at_front).passes  # 30 + 4 in


@pytest.mark.parametrize("up", [True, False])
def test_a_leaf_is_folded_and_adds_its_thickness(up: bool) -> None:
    leaf = Leaf(name="l", side="front", start=Length("0 in"), length=Length("40 in"),
                depth=Length("14 in"), thickness=Length("1.5 in"), up=up)  # fmt: skip
    result = through(b.item("a", at=("20 in", "38 in")), cart=b.cart(leaves=(leaf,)))
    if up:  # what stands on the raised leaf is taken off before it is folded
        assert result.checks[0].value == pytest.approx(31.5 * 0.0254)
    else:
        assert not result.passes


def test_height_counts_what_travels() -> None:
    tall = b.item("a", size=("10 in", "10 in", "40 in"))
    low = through(tall, height=Length("75 in"))
    assert wrong(low) == ["height"]  # 36 + 40 in
    assert through(tall, height=Length("76 in")).passes
    carried = b.item("a", size=("10 in", "10 in", "40 in"), travels=False)
    assert through(carried, height=Length("40 in")).passes


def test_a_lift_needs_door_depth_and_load() -> None:
    car = {"kind": "lift", "width": "36 in", "length": Length("80 in")}
    assert through(**car).passes  # type: ignore[arg-type]
    short = through(kind="lift", width="36 in", length=Length("51 in"))
    assert wrong(short) == ["length"]
    # Long side first fits a wide and shallow car, such as that of 80 x 51 in with its door aside.
    wide = through(kind="lift", width="80 in", length=Length("51 in"))
    assert wide.passes
    assert wide.way == "long side first"
    heavy = through(b.item("a", mass="200 kg"), load=Mass("150 kg"), **car)  # type: ignore[arg-type]
    assert wrong(heavy) == ["load"]


def test_a_lift_car_can_be_narrower_than_it_is_deep() -> None:
    narrow = through(
        kind="lift", width="36 in", length=Length("80 in"), inner_width=Length("28 in")
    )
    assert wrong(narrow) == ["inner width"]


def test_a_vehicle_has_an_opening_and_a_hold() -> None:
    hold = {"kind": "vehicle", "width": "50 in", "height": Length("48 in")}
    assert through(length=Length("100 in"), **hold).passes  # type: ignore[arg-type]
    assert wrong(through(length=Length("60 in"), **hold)) == ["length"]  # type: ignore[arg-type]


def ramp(rise: str, length: str, mass: str = "40 kg") -> PassageResult:
    cart = b.cart(empty_mass=Mass(mass))
    return through(cart=cart, kind="ramp", width="36 in", rise=Length(rise), length=Length(length))


def test_the_grade_of_a_ramp_is_held_against_one_in_twelve() -> None:
    # 2010 ADA Standards 405.2: no steeper than 1:12. A rise of 1 ft over a run of 12 ft is a
    # slope of 12.042 ft.
    assert wrong(ramp("12 in", "144.5 in")) == []
    assert wrong(ramp("12 in", "143 in")) == ["grade"]
    assert ramp("12 in", "143 in").passes


def test_the_push_up_a_ramp_is_held_against_the_guideline() -> None:
    # 300 kg x 9.81 m/s2 / 12 = 245 N along the slope alone; 50 lb are 222 N.
    assert set(wrong(ramp("10 in", "140 in", "300 kg"))) == {
        "force to start", "force to keep going",
    }  # fmt: skip
    # 100 kg: 82 N along the slope and 20 N to roll stay below 111 N (25 lb, beyond 10 ft).
    assert wrong(ramp("10 in", "122 in", "100 kg")) == []


def test_the_steepest_ramp_is_the_push_that_is_shown() -> None:
    steep = Passage(name="Steep", kind="ramp", width=Length("40 in"), rise=Length("8 in"),
                    length=Length("80 in"))  # fmt: skip
    flat = Passage(name="Flat", kind="ramp", width=Length("40 in"), rise=Length("4 in"),
                   length=Length("80 in"))  # fmt: skip
    build = b.build(cart=b.cart(empty_mass=Mass("80 kg")), venue=Venue(passages=(flat, steep)))
    level, worst = solve_body(build).pushes
    assert level.where == "level"
    assert (worst.where, worst.grade) == ("Steep", pytest.approx(0.1))


def test_without_a_ramp_the_steepest_floor_is_taken() -> None:
    # 2010 ADA Standards 403.3, from memory: a walking surface is no steeper than 1:20.
    floor = solve_body(b.build(cart=b.cart(empty_mass=Mass("80 kg")))).pushes[-1]
    assert floor.grade == pytest.approx(0.05, rel=2e-3)
    assert floor.slope_n == pytest.approx(39.2, abs=0.1)  # 80 kg x 9.81 m/s2 x 0.05
    assert body_practice().ramp_grade.value == pytest.approx(1 / 12)


def test_as_it_is_moved_the_cart_stands_differently() -> None:
    # Statics: 40 kg at 0.5 m of height and 60 kg of ballast at 0.2 m that is carried in by hand.
    # 0.6 m wide wheels: arctan(0.3 / 0.32) = 43.2 degrees standing, arctan(0.3 / 0.5) = 31.0 moved.
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass("90 kg"))
        for x in ("0 m", "1.2 m") for y in ("0 m", "0.6 m")
    )  # fmt: skip
    cart = b.cart("1.2 m", "0.6 m", empty_mass=Mass("40 kg"), casters=casters,
                  centre_of_mass_height=Length("0.5 m"))  # fmt: skip
    ballast = b.item("a", mass="60 kg", size=("0.1 m", "0.1 m", "0.1 m"), level="base",
                     at=("0.6 m", "0.3 m"), raised=Length("-2.4 mm"), travels=False)  # fmt: skip
    result = solve_body(b.build(ballast, cart=cart))
    assert result.tilts[0].worst_deg == pytest.approx(43.15, abs=0.05)
    assert result.travel is not None
    assert result.travel.tilt is not None
    assert result.travel.tilt.worst_deg == pytest.approx(30.96, abs=0.01)


def test_a_ramp_steeper_than_the_cart_stands_is_in_the_way() -> None:
    # A cart that goes over at arctan(0.05 / 0.5) = 5.7 degrees on a ramp of 1 in 8 (7.2 degrees).
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass("90 kg"))
        for x in ("0 m", "1.2 m") for y in ("0.25 m", "0.35 m")
    )  # fmt: skip
    cart = b.cart("1.2 m", "0.6 m", empty_mass=Mass("40 kg"), casters=casters,
                  centre_of_mass_height=Length("0.5 m"))  # fmt: skip
    result = through(
        cart=cart, kind="ramp", width="36 in", rise=Length("1 m"), length=Length("8 m")
    )
    assert "lean" in wrong(result)
    assert not result.passes
