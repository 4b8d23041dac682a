"""Spaces around bodies, and the cart's own parts: legs, leaves, panel, holes, outlines."""

import building as b
import pytest

from cartlayout.body import solve_body
from cartlayout.body.results import Clash
from cartlayout.build import (
    Cart,
    CartLeg,
    Clearance,
    Handle,
    Item,
    Leaf,
    Point,
    RearPanel,
    Zone,
)
from cartlayout.units import Length, Mass

INCH = 0.0254


def boxed(item_id: str, x: str, y: str = "15 in", **more) -> Item:  # type: ignore[no-untyped-def]
    return b.item(item_id, at=(x, y), **more)


def needing(item_id: str, *needs: Clearance, at: tuple[str, str], **more) -> Item:  # type: ignore[no-untyped-def]
    return b.item(item_id, at=at, spec={"clearances": needs}, **more)


def clashes(*items: Item, cart: Cart | None = None) -> tuple[Clash, ...]:
    return solve_body(b.build(*items, cart=cart)).clashes


def codes(*items: Item, cart: Cart | None = None) -> list[tuple[str, str]]:
    return [(clash.code, clash.items[0]) for clash in clashes(*items, cart=cart)]


def test_each_purpose_is_told_apart_with_its_side() -> None:
    air = Clearance(purpose="ventilation", left=Length("2 in"))
    hands = Clearance(purpose="work", right=Length("5 in"))
    machine = needing("m", air, hands, at=("36 in", "15 in"))
    found = clashes(boxed("l", "25 in"), machine, boxed("r", "47 in"))
    said = [(one.items, one.purpose, one.side, one.need_m / INCH) for one in found]
    # 10 in wide bodies with gaps of 1 in on both sides.
    assert said == [
        (("m", "l"), "ventilation", "left", pytest.approx(2.0)),
        (("m", "r"), "work", "right", pytest.approx(5.0)),
    ]
    assert [one.depth_m / INCH for one in found] == pytest.approx([1.0, 4.0])


def test_a_space_turns_with_its_body() -> None:
    need = Clearance(purpose="lid", front=Length("4 in"))
    machine = needing("m", need, at=("36 in", "15 in"), rotation=90.0)
    # Turned a quarter clockwise on the plan the front looks to the left.
    assert codes(machine, boxed("l", "24 in")) == [("clearance", "m")]
    assert codes(machine, boxed("r", "48 in")) == []


def test_what_stands_across_the_corner_is_not_beside() -> None:
    need = Clearance(right=Length("4 in"), front=Length("4 in"))
    machine = needing("m", need, at=("30 in", "10 in"))
    assert codes(machine, boxed("o", "42 in", "22 in")) == []


def test_room_above_is_taken_by_what_hangs_there() -> None:
    kettle = needing("k", Clearance(purpose="hot", top=Length("12 in")), at=("36 in", "15 in"))
    lamp = boxed("lamp", "36 in", raised=Length("16 in"))
    (clash,) = clashes(kettle, lamp)
    # The kettle ends at 10 in, the lamp starts at 16 in: 6 of 12 in are left.
    assert (clash.code, clash.items, clash.side) == ("clearance", ("k", "lamp"), "top")
    assert clash.depth_m / INCH == pytest.approx(6.0)


def test_room_above_ends_at_the_level_above() -> None:
    lid = Clearance(purpose="lid", top=Length("8 in"))
    (clash,) = clashes(needing("j", lid, at=("36 in", "15 in"), level="shelf"))
    assert (clash.code, clash.purpose) == ("clearance-top", "lid")
    assert clash.depth_m / INCH == pytest.approx(10 + 8 - 15)


def leg(x: str, y: str) -> CartLeg:
    return CartLeg(x=Length(x), y=Length(y), width=Length("2 in"))


def test_a_leg_is_in_the_way_below_the_counter_only() -> None:
    cart = b.cart(legs=(leg("2 in", "2 in"), leg("70 in", "2 in")))
    assert codes(boxed("a", "6 in", "6 in", level="base"), cart=cart) == [("leg", "a")]
    assert codes(boxed("a", "6 in", "6 in"), cart=cart) == []
    assert codes(boxed("a", "9 in", "6 in", level="base"), cart=cart) == []


def leaf(up: bool, rating: str | None = "20 kg") -> Leaf:
    return Leaf(
        name="flap", side="right", start=Length("0 in"), length=Length("30 in"),
        depth=Length("12 in"), up=up, rating=Mass(rating) if rating else None,
    )  # fmt: skip


def test_a_raised_leaf_lengthens_the_counter_and_only_the_counter() -> None:
    cart = b.cart(leaves=(leaf(True),))
    assert codes(boxed("a", "76 in"), cart=cart) == []
    assert codes(boxed("a", "70 in"), cart=cart) == []
    assert codes(boxed("a", "76 in", level="base"), cart=cart) == [("overhang", "a")]


def test_a_leaf_that_hangs_down_holds_nothing() -> None:
    (clash,) = clashes(boxed("a", "76 in"), cart=b.cart(leaves=(leaf(False),)))
    assert (clash.code, clash.detail) == ("leaf-down", "flap")
    assert clash.depth_m / INCH == pytest.approx(9.0)


def test_a_leaf_bears_what_stands_on_it_by_its_share() -> None:
    whole = boxed("a", "78 in", mass="15 kg")
    half = boxed("b", "72 in", "24 in", mass="12 kg")
    (load,) = solve_body(b.build(whole, half, cart=b.cart(leaves=(leaf(True),)))).leaves
    assert load.mass_kg == pytest.approx(15 + 6, rel=1e-3)
    assert load.items == ("a", "b")
    assert load.rating_kg == 20.0


def panelled() -> Cart:
    panel = RearPanel(bottom=Length("36 in"), top=Length("60 in"))
    return b.cart(rear_panel=panel)


def hung(y: str, raised: str = "6 in", x: str = "36 in") -> Item:
    return boxed("a", x, y, mount="wall", raised=Length(raised))


def test_wall_mounted_gear_hangs_on_the_panel() -> None:
    # The board is 0.5 in thick; a body 10 in deep against it has its middle at 5.5 in.
    assert codes(hung("5.5 in"), cart=panelled()) == []
    assert codes(hung("6.4 in"), cart=panelled()) == []  # a bracket of 1 in
    assert codes(hung("9 in"), cart=panelled()) == [("off-panel", "a")]
    assert codes(hung("5.5 in", x="2 in"), cart=panelled()) == [("off-panel", "a")]
    assert codes(hung("5.5 in", "20 in"), cart=panelled()) == [("panel-height", "a")]
    assert codes(hung("3 in"), cart=panelled()) == [("panel", "a")]
    assert codes(hung("5.5 in")) == [("no-panel", "a")]


def test_a_panel_takes_the_air_behind_a_body() -> None:
    need = Clearance(purpose="ventilation", rear=Length("2 in"))
    (clash,) = clashes(needing("f", need, at=("36 in", "6 in")), cart=panelled())
    assert (clash.code, clash.items) == ("clearance-panel", ("f",))
    assert clash.depth_m / INCH == pytest.approx(0.5)
    assert codes(needing("f", need, at=("36 in", "8 in")), cart=panelled()) == []


def hole(x: str, y: str, width: str, depth: str, *, is_round: bool = False) -> Zone:
    return Zone(
        name="cut-out", kind="opening", level="counter", x=Length(x), y=Length(y),
        width=Length(width), depth=Length(depth), round=is_round,
    )  # fmt: skip


def test_nothing_stands_over_a_hole() -> None:
    cart = b.cart(zones=(hole("32 in", "11 in", "8 in", "8 in"),))
    assert codes(boxed("a", "30 in"), cart=cart) == [("zone-opening", "a")]


def test_a_round_hole_has_no_corners() -> None:
    # The corner of the square around a disc of 8 in lies 4 x (sqrt 2 - 1) = 1.66 in from it.
    corner = boxed("a", "27.8 in", "6.8 in")
    square = b.cart(zones=(hole("32 in", "11 in", "8 in", "8 in"),))
    disc = b.cart(zones=(hole("32 in", "11 in", "8 in", "8 in", is_round=True),))
    assert codes(corner, cart=square) == [("zone-opening", "a")]
    assert codes(corner, cart=disc) == []


def test_what_is_let_into_the_counter_has_a_hole_under_its_rim() -> None:
    sink = boxed("sink", "36 in", raised=Length("-6 in"))
    smaller = b.cart(zones=(hole("32 in", "11 in", "8 in", "8 in"),))
    larger = b.cart(zones=(hole("30 in", "9 in", "12 in", "12 in"),))
    assert codes(sink, cart=smaller) == []
    assert codes(sink, cart=larger) == [("sunk", "sink")]
    assert codes(sink) == [("sunk", "sink")]


def test_what_is_let_in_meets_what_stands_below() -> None:
    sink = boxed("sink", "36 in", raised=Length("-6 in"))
    below = boxed("crate", "40 in", level="shelf", size=("10 in", "10 in", "12 in"))
    cart = b.cart(zones=(hole("32 in", "11 in", "8 in", "8 in"),))
    assert ("overlap", "sink") in codes(sink, below, cart=cart)


def test_an_l_shape_has_no_floor_in_its_notch() -> None:
    points = ((0, 0), (72, 0), (72, 12), (36, 12), (36, 30), (0, 30))
    cart = b.cart(outline=tuple(Point(x=Length(f"{x} in"), y=Length(f"{y} in")) for x, y in points))
    assert codes(boxed("a", "60 in", "6 in"), cart=cart) == []
    assert codes(boxed("a", "60 in", "20 in"), cart=cart) == [("overhang", "a")]
    assert codes(boxed("a", "20 in", "20 in"), cart=cart) == []


def test_a_rounded_corner_is_cut_off() -> None:
    # A body 0.5 in from both edges: 3.5 x sqrt 2 = 4.95 in from the middle of a 4 in arc.
    assert codes(boxed("a", "5.5 in", "5.5 in"), cart=b.cart()) == []
    rounded = b.cart(corner_radius=Length("4 in"))
    assert codes(boxed("a", "5.5 in", "5.5 in"), cart=rounded) == [("overhang", "a")]
    assert codes(boxed("a", "6.5 in", "6.5 in"), cart=rounded) == []


def test_an_outline_that_crosses_itself_is_still_judged() -> None:
    points = ((0, 0), (72, 30), (72, 0), (0, 30))
    cart = b.cart(outline=tuple(Point(x=Length(f"{x} in"), y=Length(f"{y} in")) for x, y in points))
    assert codes(boxed("a", "36 in", "15 in"), cart=cart) == [("overhang", "a")]


def test_room_left_is_what_nothing_takes() -> None:
    zones = (
        Zone(name="n", kind="no-go", level="base", x=Length("0 in"), y=Length("0 in"),
             width=Length("10 in"), depth=Length("30 in")),
        Zone(name="jugs", kind="reserved", level="base", x=Length("60 in"), y=Length("0 in"),
             width=Length("12 in"), depth=Length("15 in")),
    )  # fmt: skip
    crate = boxed("crate", "36 in", level="base", size=("20 in", "18 in", "14 in"))
    room = solve_body(b.build(crate, cart=b.cart(zones=zones))).room("base")
    assert room is not None
    # 72 x 30 in, less 10 x 30 and 20 x 18; 12 x 15 of the rest is kept. 28 in are clear.
    assert room.free_share == pytest.approx(1 - (300 + 360) / 2160)
    assert room.open_share == pytest.approx(1 - (300 + 360 + 180) / 2160)
    assert room.free_m3 / INCH**3 == pytest.approx((2160 - 300) * 28 - 360 * 14)


def test_bodies_that_overlap_take_their_room_once() -> None:
    pair = (boxed("a", "20 in", level="base"), boxed("b", "25 in", level="base"))
    room = solve_body(b.build(*pair)).room("base")
    assert room is not None
    assert room.free_share == pytest.approx(1 - 150 / 2160)


def test_a_sink_takes_room_of_the_level_it_hangs_into() -> None:
    sink = boxed("sink", "36 in", raised=Length("-6 in"))
    room = solve_body(b.build(sink)).room("base")  # 6 to 34 in clear; the sink comes down to 30
    assert room is not None
    assert room.free_m3 / INCH**3 == pytest.approx(2160 * 28 - 100 * 4)


def test_the_handle_does_not_hold_things() -> None:
    cart = b.cart(handle=Handle(side="right", height=Length("38 in")))
    assert codes(boxed("a", "70 in"), cart=cart) == [("overhang", "a")]
