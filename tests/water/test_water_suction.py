"""The suction side: head that is left at a pump, prime, and what a pick-up leaves behind."""

import msgspec
import pytest
from building import build, check_valve, drawn, mains, pump, tank, tap, tee, tube
from fluids.friction import friction_factor
from iapws import IAPWS97

from cartlayout.build import Service, Venue, WayPoint
from cartlayout.findings.water_suction import suction_rules
from cartlayout.findings.water_words import Place
from cartlayout.network import make_network
from cartlayout.units import Duration, Length, Temperature, UnitSystem, Volume
from cartlayout.water import solve_water
from cartlayout.water.properties import STANDARD_GRAVITY, Fluid, water
from cartlayout.water.suction import head_available_m

FOOT = 0.3048
PSI = 6894.757
GPM = 6.30902e-5
CURVE = [("0 psi", "3 gal/min"), ("60 psi", "2 gal/min")]


def heads(air_ft: float, vapour_ft: float) -> Fluid:
    """Water whose heads of air and of vapour are given in feet."""
    weight = 1000.0 * STANDARD_GRAVITY * FOOT
    return Fluid(1000.0, 1e-3, vapour_ft * weight, air_ft * weight)


def feet_of_loss(feet: float) -> float:
    return 1000.0 * STANDARD_GRAVITY * FOOT * feet


def test_flooded_suction():
    """Civil engineering handbook, NPSHa: 33.9 + 6.0 - 0.839 - 2.0 - 2.0 = 35.061 ft."""
    found = head_available_m(heads(33.9, 0.839), -6.0 * FOOT, feet_of_loss(2.0 + 2.0))
    assert found / FOOT == pytest.approx(35.061, abs=0.001)


def test_open_tank_below_a_pump_in_the_mountains():
    """The same page: air 26.2 ft, 8 ft up, water at 50 degF 0.411 ft, 1 ft and 2 ft lost."""
    found = head_available_m(heads(26.2, 0.411), 8.0 * FOOT, feet_of_loss(1.0 + 2.0))
    assert found / FOOT == pytest.approx(14.79, abs=0.005)


def test_from_a_gauge_at_the_suction():
    """Pump handbook: 2.4 psi on the gauge, 10 ft/s (1.55 ft), 68 degF, 1 ft: 41.27 ft."""
    found = head_available_m(water(293.15), -(1.55 + 1.0) * FOOT, 0.0, 2.4 * PSI)
    assert found / FOOT == pytest.approx(41.27, abs=0.03)


def test_closed_tank_far_below():
    """Flow of Fluids (TP-410), example 7.32: 5 psi on the tank, 25 ft of lift, 6 ft lost.

    Vapour at 0.256 psi, 62.364 lb/ft3: 13.89 ft (worked with the fluids package).
    """
    density = 62.364 * 16.01846
    fluid = Fluid(density, 1e-3, 0.256 * PSI, 14.696 * PSI)
    loss = 6.0 * FOOT * density * STANDARD_GRAVITY
    assert head_available_m(fluid, 25.0 * FOOT, loss, 5.0 * PSI) / FOOT == pytest.approx(
        13.89, abs=0.01
    )


# --- whole builds ------------------------------------------------------------------------------


def cart(
    *,
    fill=1.0,
    pick_up="0 in",
    foot_valve=False,
    level="counter",
    suction=("0.5 m", "9 mm"),
    draw="1 gal/min",
    needs=None,
    lift="1.8 m",
    **more,
):
    """A jug of 10 in on the base, a pump on a level, a tap beside it."""
    jug = tank("jug", fill=fill)
    role = msgspec.structs.replace(
        jug.specification.water, pick_up=Length(pick_up), foot_valve=foot_valve
    )
    jug = msgspec.structs.replace(
        jug, specification=msgspec.structs.replace(jug.specification, water=role)
    )
    made = pump("pump", CURVE, "30 psi", "45 psi", level=level)
    role = msgspec.structs.replace(
        made.specification.water,
        net_suction_head=Length(needs) if needs else None,
        greatest_lift=Length(lift),
    )
    made = msgspec.structs.replace(
        made, specification=msgspec.structs.replace(made.specification, water=role)
    )
    return build(
        jug,
        made,
        tap("rinser", drawn(draw), least="0 psi"),
        tube("jug", "pump", *suction),
        tube("pump", "rinser", "0.5 m", "9 mm"),
        **more,
    )


def told(made):
    network = make_network(made)
    result = solve_water(made, network)
    place = Place(made, network, result)
    (suction,) = result.suctions
    return suction, {one.code: one for one in suction_rules(place)}


def test_lift_is_counted_from_the_water_and_from_the_last_of_it():
    """Base at 6 in, counter at 36 in, pump's inlet 2 in up, jug 10 in high and half full."""
    suction, found = told(cart(fill=0.5, pick_up="1 in"))
    assert suction.lift_m == pytest.approx((36 + 2 - 6 - 5) * 0.0254)
    assert suction.last_lift_m == pytest.approx((36 + 2 - 6 - 1) * 0.0254)
    assert suction.left_behind == pytest.approx(0.1 * Volume("5 gal").si)
    assert suction.primed
    assert "water.lift" not in found
    assert found["water.prime"].severity == "note"


def test_a_foot_valve_keeps_the_prime():
    assert "water.prime" not in told(cart(foot_valve=True))[1]


@pytest.mark.parametrize("stuck", [False, True])
def test_a_check_valve_on_the_way_keeps_it_too(stuck):
    """One that is stuck open lets the line run empty: common practice, no source."""
    made = cart()
    (jug, pump_item, rinser), (first, last) = made.items, made.runs
    with_valve = build(
        jug,
        pump_item,
        rinser,
        check_valve("valve", level="base", water={"stuck_open": stuck}),
        tube("jug", "valve", "0.3 m", "9 mm"),
        tube("valve", "pump", "0.5 m", "9 mm"),
        last,
    )
    assert first.id == "tube jug pump"
    suction, found = told(with_valve)
    assert suction.tubes == ("tube jug valve", "tube valve pump")
    assert ("water.prime" in found) == stuck


def test_a_line_led_over_a_crest_gathers_air():
    """The pump's inlet is 38 in above the floor; the tube is led over a rail at 48 in."""
    over = WayPoint(x=Length("30 in"), y=Length("10 in"), height=Length("48 in"))
    made = cart()
    first, last = made.runs
    led = msgspec.structs.replace(first, waypoints=(over,))
    suction, found = told(msgspec.structs.replace(made, runs=(led, last)))
    assert suction.crest_m == pytest.approx(10 * 0.0254)
    assert found["water.suction-crest"].runs == ("tube jug pump",)
    assert told(made)[0].crest_m == 0.0


def test_a_main_nearer_than_any_tank_is_no_suction():
    made = build(
        mains("main", "40 psi", connector="3/8 push-fit"),
        tank("jug"),
        pump("pump", CURVE, "30 psi", "45 psi"),
        tap("rinser", drawn("1 gal/min"), least="0 psi"),
        tee("tee"),
        tube("main", "tee.a"),
        tube("tee.b", "pump"),
        tube("jug", "tee.c", "3 m"),
        tube("pump", "rinser"),
    )
    result = solve_water(made, make_network(made))
    assert result.suctions == ()
    assert len(result.duties) == 1


def test_a_pump_below_the_water_needs_no_prime():
    suction, found = told(cart(level="base"))
    assert suction.lift_m < 0.0
    assert not found


def test_lift_beyond_what_the_maker_allows():
    _, found = told(cart(lift="2 ft"))
    assert found["water.lift"].severity == "stop"
    assert found["water.lift"].value.si == pytest.approx((36 + 2 - 6) * 0.0254)


def test_thin_air_lifts_less():
    """At 3000 m the air pushes water up 7.15 m instead of 10.33 (handbook table, p. 3-23)."""
    high = Venue(altitude_m=3000, water_temperature=Temperature("4 degC"))
    suction, found = told(cart(lift="1 m", venue=high))
    assert suction.lift_here_m == pytest.approx(7.15 / 10.33, rel=0.02)
    assert "thin air" in found["water.lift"].detail.shown(UnitSystem.METRIC)
    assert told(cart(lift="1 m"))[0].lift_here_m == pytest.approx(1.0)


def test_colder_water_lifts_no_more_than_the_maker_says():
    """A maker's figure is the most it promises, however little the water's vapour takes."""
    cold = Venue(altitude_m=0, water_temperature=Temperature("4 degC"))
    suction, _ = told(cart(lift="1 m", venue=cold))
    assert suction.lift_here_m == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("altitude_m", "head_m"),
    # Altitude table of a water and wastewater engineering handbook, p. 3-23.
    [(0, 10.33), (500, 9.74), (1000, 9.17), (1500, 8.66), (2000, 8.11), (2500, 7.62), (3000, 7.15)],
)
def test_air_as_a_head_at_altitude(altitude_m, head_m):
    venue = Venue(altitude_m=altitude_m, water_temperature=Temperature("4 degC"))
    suction, _ = told(cart(venue=venue))
    assert suction.air_m == pytest.approx(head_m, rel=5e-3)


@pytest.mark.parametrize("celsius", [5, 20, 50, 80])
def test_vapour_takes_its_part(celsius):
    """IAPWS-IF97 through the iapws package."""
    suction, _ = told(cart(venue=Venue(water_temperature=Temperature(f"{celsius} degC"))))
    reference = IAPWS97(T=celsius + 273.15, x=0)
    assert suction.vapour_m == pytest.approx(
        reference.P * 1e6 / (reference.rho * STANDARD_GRAVITY), rel=2e-3
    )


def test_losses_of_a_long_suction_tube_agree_with_colebrook():
    """10 m of 9 mm tube at 1 gal/min, friction factor by the fluids package."""
    suction, _ = told(cart(suction=("10 m", "9 mm")))
    rho, mu, bore = 998.2, 1.0016e-3, 9e-3
    speed = suction.flow / (0.25 * 3.141592653589793 * bore**2)
    factor = friction_factor(Re=rho * speed * bore / mu, eD=1.5e-6 / bore)
    assert suction.flow == pytest.approx(GPM, rel=1e-4)
    # The ends of the tube cost some percent of so much length.
    friction = factor * 10.0 / bore * 0.5 * rho * speed**2
    assert friction < suction.loss_pa < 1.08 * friction
    left = suction.air_m - suction.vapour_m - suction.last_lift_m - suction.available_m
    assert left == pytest.approx(suction.loss_pa / (rho * STANDARD_GRAVITY), rel=1e-3)


def test_hot_water_in_the_mountains_boils_in_the_inlet():
    """At 2000 m the air is 8.1 m of water (handbook table), at 80 degC water takes 4.97 m of it."""
    hot = Venue(altitude_m=2000, water_temperature=Temperature("80 degC"))
    suction, found = told(cart(needs="3 m", venue=hot))
    assert suction.available_m < 8.3 - 4.97 - (36 + 2 - 6) * 0.0254
    assert found["water.suction-head"].severity == "stop"
    assert found["water.suction-head"].working
    assert "water.suction-head" not in told(cart(needs="3 m"))[1]


def test_a_pick_up_that_draws_air_before_the_jug_is_empty():
    """5 gal, pick-up half way up: 2.5 gal = 9.46 L at 4 L an hour last 2 h 22 min of 4 h."""
    plan = Service(
        hours=Duration("4 h"),
        drinks_per_hour=20.0,
        water_per_drink=Volume("0.15 L"),
        rinse_per_drink=Volume("0.05 L"),
    )
    suction, found = told(cart(pick_up="5 in", service=plan))
    assert suction.lasts_s / 3600.0 == pytest.approx(9.46 / 4.0, rel=1e-3)
    assert found["water.prime-lost"].severity == "care"
    assert found["water.left-behind"].value.si == pytest.approx(9.46e-3, rel=1e-3)
    assert "water.prime-lost" not in told(cart(pick_up="0.5 in", service=plan))[1]


def test_a_pick_up_above_the_water_has_lost_its_prime():
    suction, _ = told(cart(pick_up="5 in", fill=0.4))
    assert not suction.primed
    assert suction.lasts_s == 0.0
