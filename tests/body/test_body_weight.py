"""Balance, casters, pushing and lifting against statics worked by hand and published limits."""

import itertools
import math

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.body import solve_body
from cartlayout.body.support import make_support, shrunk
from cartlayout.body.travel import push
from cartlayout.build import Build, Cart, CartLeg, Caster, Item, Leaf
from cartlayout.limits import body_practice
from cartlayout.units import Length, Mass

LBF_N = 4.4482216  # NIST SP 811, appendix B.8


def wheels(*places: tuple[str, str], rating: str = "60 kg") -> tuple[Caster, ...]:
    return tuple(Caster(x=Length(x), y=Length(y), rating=Mass(rating)) for x, y in places)


def corner_wheels(width: str, depth: str, rating: str = "60 kg") -> tuple[Caster, ...]:
    return wheels(("0 m", "0 m"), (width, "0 m"), (width, depth), ("0 m", depth), rating=rating)


def cart(width: str = "1.2 m", depth: str = "0.6 m", mass: str = "60 kg", **more) -> Cart:  # type: ignore[no-untyped-def]
    more.setdefault("casters", corner_wheels(width, depth))
    more.setdefault("centre_of_mass_height", Length("0.5 m"))
    return b.cart(width, depth, empty_mass=Mass(mass), **more)


# A 90 kg cart on a slope: 44 N along a slope of 5 %, 106 N at 12 %, worked by hand for a
# service trailer. Rolling resistance comes on top.
@pytest.mark.parametrize(("grade", "newtons"), [(0.05, 44.0), (0.12, 106.0)])
def test_the_weight_along_a_slope(grade: float, newtons: float) -> None:
    force = push(90.0, "a slope", grade)
    assert force.slope_n == pytest.approx(newtons, abs=0.5)
    assert force.start_n > force.roll_n > force.slope_n


def test_on_the_level_only_the_wheels_resist() -> None:
    # 2 % of 100 kg x 9.80665 m/s2 to roll, twice that to start (common practice, no source).
    force = push(100.0, "level", 0.0)
    assert force.slope_n == 0.0
    assert force.roll_n == pytest.approx(19.6, abs=0.05)
    assert force.start_n == pytest.approx(39.2, abs=0.05)


def test_push_limits_are_those_of_the_guideline() -> None:
    # Workplace guideline for carts: 50 lb to start, 40 lb rolling, 25 lb beyond 10 ft.
    practice = body_practice()
    assert practice.push_start_n.value == pytest.approx(50 * LBF_N, abs=0.01)
    assert practice.push_roll_n.value == pytest.approx(40 * LBF_N, abs=0.01)
    assert practice.push_far_n.value == pytest.approx(25 * LBF_N, abs=0.01)
    assert practice.push_far_m.value == pytest.approx(10 * 0.3048)


def test_the_limit_of_a_lift_is_the_load_constant() -> None:
    # NIOSH Publication 94-110: load constant 51 lb, 23 kg.
    assert body_practice().lift_kg.value == 23.0


def test_caster_rules_are_told_apart() -> None:
    # Caster makers: cart and load over three, for four casters as well; suppliers: over n - 1.
    six = wheels(*[(x, y) for x in ("0 m", "0.6 m", "1.2 m") for y in ("0 m", "0.6 m")])
    feet = solve_body(b.build(cart=cart(mass="150 kg", casters=six))).feet
    assert feet is not None
    assert feet.thirds_kg == pytest.approx(50.0)
    assert feet.one_less_kg == pytest.approx(30.0)
    # Six alike under a mass in the middle: a sixth each, if all give alike.
    assert [one.worst_kg for one in feet.loads] == pytest.approx([25.0] * 6)


def test_four_wheels_and_a_load_beside_the_middle() -> None:
    # Moments as on a beam: 20 kg at a quarter of the length and a third of the depth put
    # three quarters on the left wheels and two thirds on the rear ones.
    load = b.item("a", at=("0.3 m", "0.2 m"), mass="20 kg", size=("4 in", "4 in", "4 in"))
    feet = solve_body(b.build(load, cart=cart(mass="0 kg"))).feet
    assert feet is not None
    rear_left, rear_right, front_right, front_left = (one.full_kg for one in feet.loads)
    assert rear_left + front_left == pytest.approx(15.0)
    assert rear_left + rear_right == pytest.approx(40 / 3)
    assert rear_left + rear_right + front_right + front_left == pytest.approx(20.0)


def test_three_wheels_have_one_answer() -> None:
    # Lever rule on a triangle: a mass over one wheel is borne by that wheel alone.
    three = wheels(("0 m", "0 m"), ("1.2 m", "0 m"), ("0.6 m", "0.6 m"))
    load = b.item("a", at=("0.6 m", "0.6 m"), mass="30 kg")
    feet = solve_body(b.build(load, cart=cart(mass="0 kg", casters=three))).feet
    assert feet is not None
    assert [one.full_kg for one in feet.loads] == pytest.approx([0.0, 0.0, 30.0], abs=1e-9)


def test_legs_carry_where_there_are_no_wheels() -> None:
    legs = tuple(
        CartLeg(x=Length(x), y=Length(y), width=Length("40 mm"))
        for x in ("0.1 m", "1.1 m") for y in ("0.1 m", "0.5 m")
    )  # fmt: skip
    assert len(make_support(cart(casters=(), legs=legs)).feet) == 4
    assert len(make_support(cart(legs=legs)).feet) == 4
    assert make_support(cart(legs=legs)).casters
    between = tuple(replace(leg, carries=False) for leg in legs)
    assert make_support(cart(casters=(), legs=between)).edges == ()


def test_without_support_nothing_is_said_of_tilt() -> None:
    line = wheels(("0 m", "0.3 m"), ("0.6 m", "0.3 m"), ("1.2 m", "0.3 m"))
    for casters in ((), wheels(("0 m", "0 m")), line):
        result = solve_body(b.build(cart=cart(casters=casters)))
        assert result.tilts == ()
        assert result.feet is None
        assert result.full is not None
        assert result.full.tilt_deg is None


def jugs() -> Build:
    """Vessels here and there, high and low: which mix is worst is not to be seen at once."""
    places = [
        ("0.2 m", "0.1 m", "base", "fresh"),
        ("0.9 m", "0.5 m", "counter", "fresh"),
        ("1.1 m", "0.2 m", "base", "waste"),
        ("0.5 m", "0.12 m", "counter", "waste"),
        ("0.7 m", "0.3 m", "shelf", "fresh"),
    ]
    tanks = [
        b.tank(f"t{at}", f"{8 + 3 * at} L", contents=sort, at=(x, y), level=level, mass="1 kg")
        for at, (x, y, level, sort) in enumerate(places)
    ]
    return b.build(*tanks, cart=cart(mass="40 kg"))


def angle_over(build: Build, shares: tuple[int, ...], edge: str) -> float:
    """Lean of a rigid body over an edge, added up here from the items alone."""
    masses = [(40.0, 0.6, 0.3, 0.5)]
    for item, share in zip(build.items, shares, strict=True):
        bottom_m = build.cart.level(item.level).height.si  # type: ignore[union-attr]
        high_m = item.specification.size.height.si
        place = item.x.si, item.y.si
        masses.append((1.0, *place, bottom_m + high_m / 2))
        water_kg = item.specification.water.volume.si * 998.2 * share  # type: ignore[union-attr]
        masses.append((water_kg, *place, bottom_m + high_m * share / 2))
    total = sum(mass for mass, *_ in masses)
    x, y, z = (sum(mass * place[axis] for mass, *place in masses) / total for axis in range(3))
    away = {"left": x, "right": 1.2 - x, "rear": y, "front": 0.6 - y}[edge]
    return math.degrees(math.atan(away / z))


def test_the_worst_mix_is_the_worst_of_all_mixes() -> None:
    build = jugs()
    result = solve_body(build)
    mixes = list(itertools.product((0, 1), repeat=len(build.items)))
    for tilt in result.tilts:
        each = [angle_over(build, mix, tilt.edge) for mix in mixes]
        assert tilt.worst_deg == pytest.approx(min(each), abs=1e-6)
        assert tilt.full_deg == pytest.approx(each[-1], abs=1e-6)
        assert tilt.empty_deg == pytest.approx(each[0], abs=1e-6)
    assert result.worst is not None
    assert result.worst.tilt_deg == min(tilt.worst_deg for tilt in result.tilts)


def test_partly_full_is_never_worse_than_the_worst_mix() -> None:
    build = jugs()
    result = solve_body(build)
    for shares in itertools.product((0.0, 0.3, 0.7, 1.0), repeat=len(build.items)):
        for tilt in result.tilts:
            angle = angle_over(build, shares, tilt.edge)  # type: ignore[arg-type]
            assert angle >= tilt.worst_deg - 1e-9


def test_the_worst_caster_load_is_the_worst_of_all_mixes() -> None:
    build = jugs()
    feet = solve_body(build).feet
    assert feet is not None
    worst = [0.0] * 4
    for mix in itertools.product((0.0, 1.0), repeat=len(build.items)):
        filled = tuple(
            replace(item, fill=share) for item, share in zip(build.items, mix, strict=True)
        )
        now = solve_body(replace(build, items=filled)).now
        assert now is not None
        worst = [max(old, new) for old, new in zip(worst, now.caster_kg, strict=True)]
    assert [one.worst_kg for one in feet.loads] == pytest.approx(worst)


def test_water_moves_from_fresh_to_waste_over_a_service() -> None:
    fresh = b.tank("fresh", "20 L", at=("0.3 m", "0.3 m"), level="base")
    waste = b.tank("waste", "20 L", contents="waste", at=("0.9 m", "0.3 m"), level="base")
    build = b.build(fresh, waste, cart=cart())
    path = solve_body(build).path
    # 0.35 L a drink leaves the cart in cups and 0.2 L of rinse water stays: 20 L drawn leave
    # 20 x 0.2 / 0.55 = 7.27 L in the waste tank, and 12.73 L (12.7 kg) less on the cart.
    assert path[0].mass_kg - path[-1].mass_kg == pytest.approx(12.70, abs=0.02)
    assert all(a.x_m < z.x_m for a, z in itertools.pairwise(path))


def test_a_leaf_weighs_where_it_is() -> None:
    leaf = Leaf(
        name="right", side="right", start=Length("0 m"), length=Length("0.6 m"),
        depth=Length("0.4 m"), mass=Mass("10 kg"),
    )  # fmt: skip
    up = solve_body(b.build(cart=cart(mass="30 kg", leaves=(leaf,)))).full
    down = solve_body(b.build(cart=cart(mass="30 kg", leaves=(replace(leaf, up=False),)))).full
    assert up is not None
    assert down is not None
    assert up.x_m == pytest.approx((30 * 0.6 + 10 * 1.4) / 40)
    assert down.x_m == pytest.approx((30 * 0.6 + 10 * 1.2) / 40)
    assert down.z_m < up.z_m


def test_the_safe_area_is_where_the_lean_is_just_stood() -> None:
    # Statics: 10 degrees at 0.8 m of height take 0.8 m x tan(10 degrees) = 0.141 m off each side.
    area = shrunk(make_support(cart()).edges, 0.8 * math.tan(math.radians(10.0)))
    xs, ys = zip(*area, strict=True)
    assert min(xs) == pytest.approx(0.141, abs=5e-4)
    assert max(xs) == pytest.approx(1.2 - 0.141, abs=5e-4)
    assert min(ys) == pytest.approx(0.141, abs=5e-4)
    assert shrunk(make_support(cart()).edges, 0.31) == ()


def lift_of(*items: Item) -> list[tuple[str, float]]:
    return [(one.name, one.mass_kg) for one in solve_body(b.build(*items)).lifts]


def test_a_jug_is_lifted_full_and_a_tank_where_it_stands_empty() -> None:
    # 5 US gal of water: 18.893 kg at 20 degC (IAPWS-95).
    (jug,) = lift_of(b.tank("jug", "5 gal", mass="1 kg"))
    assert jug[1] == pytest.approx(19.893, abs=0.005)
    (tank,) = lift_of(b.tank("tank", "20 gal", mass="4 kg"))
    assert tank[1] == 4.0


def test_a_module_is_one_lift_and_a_group_for_order_is_none() -> None:
    place = ("20 in", "15 in")
    pump = b.item("pump", mass="14 kg", group="row")
    box = b.item("box", mass="12 kg", group="row", at=place)
    (single,) = solve_body(b.build(pump, box)).lifts
    assert (single.items, single.mass_kg) == (("pump",), 14.0)
    pump = b.item("pump", mass="14 kg", group="module", travels=False)
    box = b.item("box", mass="12 kg", group="module", at=place, travels=False)
    first = solve_body(b.build(pump, box)).lifts[0]
    assert (first.name, first.mass_kg, first.often) == ("module", 26.0, True)
    assert first.items == ("pump", "box")


def test_many_vessels_are_weighed_as_few_are() -> None:
    """Columns of numbers, used from some dozens of vessels on, against a sum item by item."""
    tanks = [
        b.tank(
            f"t{at}", f"{5 + at % 7} L", contents="waste" if at % 3 else "fresh", mass="1 kg",
            at=(f"{0.05 + 0.02 * at} m", f"{0.05 + 0.011 * at} m"),
            level=("base", "shelf", "counter")[at % 3], fill=(at % 5) / 4,
        )
        for at in range(45)
    ]  # fmt: skip
    build = b.build(*tanks, cart=cart(mass="40 kg"))
    result = solve_body(build)
    assert result.now is not None
    shares = tuple(item.fill for item in build.items)
    now = min(angle_over(build, shares, edge) for edge in ("left", "right", "rear", "front"))  # type: ignore[arg-type]
    assert result.now.tilt_deg == pytest.approx(now)
    for tilt in result.tilts:
        # Turning any one vessel over makes the worst mix no worse.
        mix = [round(one.share) for one in tilt.worst.fills]
        assert angle_over(build, tuple(mix), tilt.edge) == pytest.approx(tilt.worst_deg)
        for at in range(len(mix)):
            other = [1 - share if at == place else share for place, share in enumerate(mix)]
            assert angle_over(build, tuple(other), tilt.edge) >= tilt.worst_deg - 1e-9
    assert result.feet is not None
    assert sum(one.full_kg for one in result.feet.loads) == pytest.approx(result.full.mass_kg)  # type: ignore[union-attr]
