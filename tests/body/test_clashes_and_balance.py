"""Bodies in each other's way, and the balance of the cart."""

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.body import solve_body
from cartlayout.body.results import BodyResult
from cartlayout.body.weights import item_load
from cartlayout.build import Cart, Caster, Clearance, Passage, Venue, Zone
from cartlayout.units import Length, Mass


def codes(result: BodyResult) -> list[tuple[str, tuple[str, ...]]]:
    return [(clash.code, clash.items) for clash in result.clashes]


def boxed(item_id: str, x: str, y: str = "15 in", **more):  # type: ignore[no-untyped-def]
    return b.item(item_id, at=(x, y), **more)


def test_bodies_that_touch_are_not_in_each_others_way() -> None:
    assert codes(solve_body(b.build(boxed("a", "20 in"), boxed("b", "30 in")))) == []


def test_bodies_that_overlap_say_how_far_to_move() -> None:
    result = solve_body(b.build(boxed("a", "20 in"), boxed("b", "28 in")))
    assert codes(result) == [("overlap", ("a", "b"))]
    assert result.clashes[0].depth_m == pytest.approx(2 * 0.0254)
    assert result.clashes[0].area_m2 == pytest.approx(2 * 10 * 0.0254**2)


def test_bodies_of_other_heights_pass_over_each_other() -> None:
    build = b.build(boxed("a", "20 in"), boxed("b", "20 in", level="base"))
    assert codes(solve_body(build)) == []


def test_a_tall_body_sticks_into_the_level_above() -> None:
    tall = boxed("tank", "20 in", level="base", size=("10 in", "10 in", "32 in"))
    result = solve_body(b.build(tall, boxed("kettle", "20 in")))
    assert ("overlap", ("tank", "kettle")) in codes(result)
    assert ("height", ("tank",)) in codes(result)


def test_overhang_is_measured_from_the_edge() -> None:
    result = solve_body(b.build(boxed("a", "70 in")))
    assert codes(result) == [("overhang", ("a",))]
    assert result.clashes[0].depth_m == pytest.approx(3 * 0.0254)


def test_a_turned_body_is_judged_as_turned() -> None:
    long = boxed("a", "36 in", "15 in", size=("40 in", "10 in", "10 in"))
    assert codes(solve_body(b.build(long))) == []
    assert codes(solve_body(b.build(replace(long, rotation=90.0)))) == [("overhang", ("a",))]


def test_zones_and_clearances_are_kept() -> None:
    zone = Zone(
        name="jugs", kind="no-go", level="counter",
        x=Length("0 in"), y=Length("0 in"), width=Length("12 in"), depth=Length("12 in"),
    )  # fmt: skip
    near = boxed("a", "14 in", "6 in", spec={"clearances": (Clearance(right=Length("4 in")),)})
    build = b.build(near, boxed("b", "26 in", "6 in"), cart=b.cart(zones=(zone,)))
    assert codes(solve_body(build)) == [("zone-no-go", ("a",)), ("clearance", ("a", "b"))]


def wheeled(width: str, **more) -> Cart:  # type: ignore[no-untyped-def]
    corners = (("0 in", "0 in"), (width, "0 in"), (width, "30 in"), ("0 in", "30 in"))
    return b.cart(
        width,
        "30 in",
        casters=tuple(Caster(x=Length(x), y=Length(y), rating=Mass("60 kg")) for x, y in corners),
        empty_mass=Mass("100 kg"),
        **more,
    )


# theta = atan(half the base / height of the centre of mass): statics of a rigid
# body. Angles worked by hand for a 0.60 m base; 9.46 degrees for a 0.30 m one.
@pytest.mark.parametrize(
    ("base_m", "height_m", "degrees"),
    [(0.60, 0.75, 21.80), (0.60, 0.90, 18.43), (0.60, 1.00, 16.70), (0.30, 0.90, 9.46)],
)
def test_tilt_follows_base_and_height(base_m: float, height_m: float, degrees: float) -> None:
    cart = wheeled(f"{base_m} m", centre_of_mass_height=Length(f"{height_m} m"))
    full = solve_body(b.build(cart=cart)).full
    assert full is not None
    assert full.tilt_deg == pytest.approx(degrees, abs=0.005)


def test_caster_loads_carry_the_whole_cart_and_lean_to_the_heavy_side() -> None:
    build = b.build(boxed("a", "10 in", mass="40 kg"), cart=wheeled("72 in"))
    full = solve_body(build).full
    assert full is not None
    assert sum(full.caster_kg) == pytest.approx(140)
    left, right = full.caster_kg[0] + full.caster_kg[3], full.caster_kg[1] + full.caster_kg[2]
    # Moments about the right wheels: 40 kg at 62 in of 72 in, 100 kg in the middle.
    assert left == pytest.approx(50 + 40 * 62 / 72)
    assert right == pytest.approx(50 + 40 * 10 / 72)


def test_a_full_jug_weighs_its_water() -> None:
    # 5 US gal of water at 20 degC: 18.893 kg (density of IAPWS-95, 998.21 kg/m3).
    jug = b.tank("jug", "5 gal", mass="1 kg")
    load = item_load(jug, 0.0)
    assert load.full_kg - load.empty_kg == pytest.approx(18.893, abs=0.005)


def test_door() -> None:
    def through(width: str) -> bool:
        door = Passage(name="Door", kind="door", width=Length(width))
        return solve_body(b.build(venue=Venue(passages=(door,)))).passages[0].passes

    assert through("32 in") is True
    assert through("28 in") is False
    assert solve_body(b.build()).passages == ()


def test_an_unchanged_body_is_not_worked_out_again() -> None:
    build = b.build(boxed("a", "20 in"))
    first = solve_body(build)
    renamed = replace(build, name="Other")
    assert solve_body(renamed, first) is first
    assert solve_body(replace(build, items=()), first) is not first
