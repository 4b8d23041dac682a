"""Valves, heaters, filters and fittings against textbooks, makers' tables and libraries."""

import math

import fluids
import iapws
import pytest
from building import (
    build,
    drawn,
    heater,
    load,
    mains,
    opening,
    point,
    port,
    pump,
    regulator,
    shut_off,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Bypass, Pump, PumpPoint, Service, Venue
from cartlayout.network import make_network, tube_named
from cartlayout.stock import entry
from cartlayout.units import Concentration, Duration, Flow, Pressure, Volume
from cartlayout.water import parts, pump_curve, solve_water
from cartlayout.water.hydraulics import at_point
from cartlayout.water.properties import water
from cartlayout.water.valve import ball_valve, turned_loss

PSI = 6894.757
BAR = 1e5
GPM = 3.785411784e-3 / 60
L_MIN = 1.0 / 60_000.0


def solved(*things, **more):
    made = build(*things, **more)
    return solve_water(made, make_network(made))


# --- ball valves -------------------------------------------------------------------------------


@pytest.mark.parametrize(("closed", "heads"), [(0.0, 0.05), (1 / 3, 5.5), (2 / 3, 210.0)])
def test_the_tabled_places_of_a_ball_valve(closed, heads):
    """Fluid-mechanics textbook, table 8.2: open, a third closed, two thirds closed."""
    assert turned_loss(closed) == pytest.approx(heads, rel=1e-9)


def test_two_sources_for_a_valve_two_thirds_closed():
    """An engineering reference site prints 200 where the textbook prints 210."""
    assert turned_loss(2 / 3) == pytest.approx(200, rel=0.06)


@given(st.floats(0.0, 0.999), st.floats(1e-4, 0.1))
def test_more_turned_is_always_more_loss(closed, more):
    """No valve opens while it is being shut (what a valve is; no source needed)."""
    further = min(closed + more, 1.0)
    assert turned_loss(further) >= turned_loss(closed)
    # Smooth: a thousandth of the way never doubles the loss until it is all but shut.
    if closed < 0.9:
        assert turned_loss(closed + 1e-3) < 1.1 * turned_loss(closed)


def test_the_published_head_of_a_valve_one_third_closed():
    """Engineering reference site: one third closed, 2 m/s, 1.1 m of head."""
    bore = 0.01
    flow = 2.0 * math.pi / 4 * bore**2
    valve = ball_valve(at_point(1.0, 1e-9), 1 / 3, bore, 1000.0)
    assert valve is not None
    assert valve.loss(flow)[0] / (1000.0 * 9.80665) == pytest.approx(1.1, abs=0.05)


def test_a_valve_part_shut_in_a_line():
    """The fluids library's loss of 5.5 - 0.05 velocity heads in a 1/4 in bore more than open."""
    losses = []
    for closed in (0.0, 1 / 3):
        result = solved(
            mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
            shut_off("valve", closed_share=closed),
            tap("sink", drawn("0.5 gal/min"), required_flow="0.5 gal/min", level="base"),
            tube("mains", "valve.a"),
            tube("valve.b", "sink"),
        )
        state = result.tap("sink").states["sink alone"]
        assert state.flow == pytest.approx(0.5 * GPM, rel=1e-4)
        losses.append(60 * PSI - state.pressure_pa)
    speed = 0.5 * GPM / (math.pi / 4 * 6.35e-3**2)
    expected = fluids.core.dP_from_K(K=5.45, rho=998.21, V=speed)
    assert losses[1] - losses[0] == pytest.approx(expected, rel=2e-3)


def test_a_valve_turned_all_the_way_is_shut():
    result = solved(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        shut_off("valve", closed_share=1.0),
        tap("sink", drawn("0.5 gal/min"), level="base"),
        tube("mains", "valve.a"),
        tube("valve.b", "sink"),
    )
    assert not result.tap("sink").fed


# --- foot valve --------------------------------------------------------------------------------


def test_a_foot_valve_costs_as_much_as_420_bores_of_tube():
    """Flow-of-fluids handbooks: foot valve with strainer, poppet disk, L/D 420."""
    fluid = water(293.15)
    run = tube("a", "b", "2 m", bore="9.525 mm")
    flow = 1.4 * GPM
    bore = 9.525e-3
    speed = flow / (math.pi / 4 * bore**2)
    reynolds = fluids.core.Reynolds(V=speed, D=bore, rho=998.21, mu=1.0016e-3)
    friction = fluids.friction.friction_factor(Re=reynolds, eD=1.5e-6 / bore)
    expected = fluids.core.dP_from_K(K=friction * 420, rho=998.21, V=speed)
    without = parts.tube(fluid, run, 2.0, (None, None))
    behind = parts.tube(fluid, run, 2.0, (None, None), 1)
    before = parts.tube(fluid, run, 2.0, (None, None), -1)
    assert behind.loss(flow)[0] - without.loss(flow)[0] == pytest.approx(expected, rel=5e-3)
    assert behind.lets_forward
    assert not behind.lets_back
    assert before.lets_back
    assert not before.lets_forward


@pytest.mark.parametrize("away", [True, False])
def test_a_foot_valve_stands_at_the_tank_whichever_way_its_tube_was_drawn(away):
    def static(foot_valve):
        run = tube("jug", "pump", "2 m") if away else tube("pump.inlet", "jug.outlet", "2 m")
        result = solved(
            tank("jug", water={"foot_valve": foot_valve}),
            pump("pump"),
            tap("sink", drawn("1 gal/min"), level="base"),
            run,
            tube("pump", "sink"),
        )
        return result.suctions[0].loss_pa, result.tap("sink").states["sink alone"].flow

    with_loss, flow = static(True)
    plain_loss, _ = static(False)
    assert flow == pytest.approx(GPM, rel=1e-3)
    assert with_loss > plain_loss * 1.5


# --- pumps with a bypass -----------------------------------------------------------------------


def bypassed(cut_out="55 psi", opens="40 psi", full="62 psi"):
    return Pump(
        curve=(
            PumpPoint(pressure=Pressure("0 psi"), flow=Flow("3 gal/min")),
            PumpPoint(pressure=Pressure("30 psi"), flow=Flow("2.4 gal/min")),
            PumpPoint(pressure=Pressure("70 psi"), flow=Flow("1.6 gal/min")),
        ),
        cut_in=Pressure("30 psi"),
        cut_out=Pressure(cut_out),
        bypass=Bypass(opens=Pressure(opens), full=Pressure(full)),
    )


def test_a_spring_bypass():
    """Owners' article on such a pump: switch off 55 psi, bypass from about 40, full at about 62."""
    curve = pump_curve(bypassed())
    assert curve.flow_at(0.0) == pytest.approx(3 * GPM, rel=1e-6)
    assert curve.flow_at(30 * PSI) == pytest.approx(2.4 * GPM, rel=1e-6)
    # At 40 psi the table's own line: 2.2 gal/min, by hand.
    assert curve.flow_at(40 * PSI) == pytest.approx(2.2 * GPM, rel=1e-6)
    assert curve.flow_at(62 * PSI) == pytest.approx(0.0, abs=1e-9)
    assert curve.flow_at(65 * PSI) == 0.0
    # Halfway, at 51 psi, half of the table's 1.98 gal/min goes back, by hand; a little less is
    # left between two of the curve's lines.
    assert curve.flow_at(51 * PSI) == pytest.approx(0.99 * GPM, rel=0.02)
    at = [curve.flow_at(psi * PSI) for psi in range(70)]
    assert at == sorted(at, reverse=True)


@pytest.mark.parametrize(("cut_out", "stops"), [("55 psi", True), ("65 psi", False)])
def test_a_bypass_below_the_switch_never_lets_it_stop(cut_out, stops):
    one = pump("pump")
    result = solved(
        tank("jug"),
        replace(one, specification=replace(one.specification, water=bypassed(cut_out))),
        tap("sink", level="base"),
        tube("jug", "pump"),
        tube("pump", "sink"),
    )
    assert result.duties[0].reaches_cut_out == stops


# --- heaters -----------------------------------------------------------------------------------


def hot_line(*, height="2 in", outlet="60 degC", length="10 m"):
    return solved(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base", height="2 in"),
        heater("heater", outlet, point("2 gal/min", "1 psi")),
        tap(
            "sink",
            drawn("1 L/min"),
            required_flow="1 L/min",
            level="base",
            height=height,
        ),
        tube("mains", "heater", "1 m", run_id="cold"),
        tube("heater", "sink", length, bore="6.35 mm", run_id="hot"),
    )


@pytest.mark.parametrize("degc", [40, 60, 90])
def test_warm_water_runs_easier(degc):
    """Friction of the fluids library with density and viscosity of IAPWS-IF97 at 0.1 MPa."""
    result = hot_line(outlet=f"{degc} degC")
    assert result.temperatures_k == {"hot": pytest.approx(degc + 273.15)}
    assert result.tap("sink").temperature_k == pytest.approx(degc + 273.15)
    hot = iapws.IAPWS97(T=degc + 273.15, P=0.101325)
    bore, flow = 6.35e-3, L_MIN
    speed = flow / (math.pi / 4 * bore**2)
    reynolds = fluids.core.Reynolds(V=speed, D=bore, rho=hot.rho, mu=hot.mu)
    assert reynolds > 4000
    friction = fluids.friction.friction_factor(Re=reynolds, eD=1.5e-6 / bore)
    # The two ends are unions of 0.08 velocity heads (fluid-mechanics textbook, table 8.2).
    expected = fluids.core.dP_from_K(K=friction * 10 / bore + 0.16, rho=hot.rho, V=speed)
    loss = result.cases["sink alone"].runs["hot"].loss_pa
    assert loss == pytest.approx(expected, rel=3e-3)


def test_warm_water_weighs_less():
    """A column of 0.6 m of water at 90 degC weighs rho g h with the density of IAPWS-IF97."""
    level, high = hot_line(outlet="90 degC"), hot_line(outlet="90 degC", height="25.6220 in")
    rise = 0.6
    weighs = level.tap("sink").static_pa - high.tap("sink").static_pa
    hot = iapws.IAPWS97(T=363.15, P=0.101325)
    assert weighs == pytest.approx(hot.rho * 9.80665 * rise, rel=1e-3)


def test_only_what_is_behind_the_heater_is_warm():
    result = solved(
        tank("jug"),
        pump("pump"),
        heater("heater"),
        mixing_sink(),
        tap("rinser", level="base"),
        tee("tee", 4),
        tube("jug", "pump", run_id="suction"),
        tube("pump", "tee.a", run_id="main"),
        tube("tee.b", "heater", run_id="to heater"),
        tube("heater", "sink", run_id="hot"),
        tube("tee.c", "sink.cold", run_id="cold"),
        tube("tee.d", "rinser", run_id="rinser"),
    )
    assert set(result.temperatures_k) == {"hot"}
    assert result.tap("sink", "inlet").temperature_k == pytest.approx(333.15)
    assert result.tap("sink", "cold").temperature_k == pytest.approx(293.15)
    assert result.tap("rinser").temperature_k == pytest.approx(293.15)
    assert result.heaters[0].taps == (("sink", "inlet"),)


@pytest.mark.parametrize("degc", [("60 degC", "45 degC"), ("45 degC", "60 degC")])
def test_behind_two_heaters_side_by_side_the_warmer_counts(degc):
    """All of the water can come through either, so tubes and taps have to bear the warmer."""
    result = solved(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        tee("before"),
        heater("one", degc[0]),
        heater("two", degc[1]),
        tee("behind"),
        tap("sink", drawn("1 L/min"), required_flow="1 L/min", level="base"),
        tube("mains", "before.a"),
        tube("before.b", "one"),
        tube("before.c", "two"),
        tube("one", "behind.a"),
        tube("two", "behind.b"),
        tube("behind.c", "sink", run_id="joined"),
    )
    assert result.temperatures_k["joined"] == pytest.approx(333.15)
    assert result.tap("sink").temperature_k == pytest.approx(333.15)


def round_the_heater(hot="1 m", cold="1 m"):
    made = round_the_heater_build(hot, cold)
    return solve_water(made, make_network(made))


def round_the_heater_build(hot, cold):
    return build(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        heater("heater", loss=point("2 gal/min", "0.001 psi")),
        tee("before"),
        tee("behind"),
        tap("sink", drawn("1 L/min"), required_flow="1 L/min", level="base"),
        tube("mains", "before.a", run_id="main"),
        tube("before.b", "heater", hot, run_id="to heater"),
        tube("heater", "behind.a", hot, run_id="hot"),
        tube("before.c", "behind.b", cold, run_id="round"),
        tube("behind.c", "sink", run_id="mixed"),
    )


def test_cold_water_that_comes_round_the_heater_mixes():
    """Heat is kept (calorimetry): what leaves a tee is as warm as what comes, by mass."""
    result = round_the_heater("2 m", "4 m")
    runs = result.cases["sink alone"].runs
    hot, cold = runs["hot"].flow, runs["round"].flow
    assert 0.2 < hot / (hot + cold) < 0.8
    expected = (hot * 333.15 + cold * 293.15) / (hot + cold)
    assert result.temperatures_k["mixed"] == pytest.approx(expected, abs=0.01)
    assert result.temperatures_k["hot"] == pytest.approx(333.15)
    assert set(result.temperatures_k) == {"hot", "mixed"}
    assert result.tap("sink").temperature_k == pytest.approx(expected, abs=0.01)
    static = {one.run: one.temperature_k for one in result.statics}
    assert static["mixed"] == pytest.approx(expected, abs=0.01)
    assert static["round"] == pytest.approx(293.15)
    assert result.heaters[0].taps == ()


def test_a_mix_is_the_same_with_and_without_what_was_solved_before():
    """What is lent by an earlier result never changes the answer (no source needed)."""
    first = round_the_heater_build("1 m", "1 m")
    before = solve_water(first, make_network(first))
    for made in (
        round_the_heater_build("1 m", "5 m"),
        replace(first, items=tuple(first.items[::-1])),
        replace(first, service=Service(hours=Duration("2 h"))),
    ):
        network = make_network(made)
        fresh, again = solve_water(made, network), solve_water(made, network, before)
        assert again.temperatures_k == pytest.approx(fresh.temperatures_k, abs=1e-3)
        assert [tap.temperature_k for tap in again.taps] == pytest.approx(
            [tap.temperature_k for tap in fresh.taps], abs=1e-3
        )


def test_less_comes_round_a_longer_way():
    temperatures = [
        round_the_heater(cold=cold).tap("sink").temperature_k for cold in ("1 m", "5 m", "50 m")
    ]
    assert temperatures == sorted(temperatures)
    assert temperatures[0] < 323.15
    assert temperatures[-1] > 325.15


def mixing_sink():
    """A sink with an inlet for hot water, "inlet", and one for cold, "cold"."""
    one = tap("sink", level="base", ports=(port("cold", "water", "in", "3/8 push-fit"),))
    role = one.specification.water
    hot = role.inlets[0]
    both = replace(role, inlets=(hot, replace(hot, port="cold")))
    return replace(one, specification=replace(one.specification, water=both))


def test_what_a_heaters_watts_warm():
    """Handbook rule of instantaneous heaters: gal/min x 500 x degF = Btu/h, 3412 Btu/h a kilowatt.

    3.5 kW lift 0.5 gal/min by 47.8 degF, 26.5 K.
    """
    result = solved(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        heater(
            "heater",
            "60 degC",
            water={"least_flow": Flow("0.3 gal/min")},
            electrical=load("x", 3500).specification.electrical,
        ),
        tap("sink", drawn("0.5 gal/min"), required_flow="0.5 gal/min", level="base"),
        tube("mains", "heater"),
        tube("heater", "sink"),
    )
    (one,) = result.heaters[0].points
    assert one.reaches_k - 293.15 == pytest.approx(3.5 * 3412 / (500 * 0.5) / 1.8, rel=0.01)


# --- filters -----------------------------------------------------------------------------------


def cartridge(dkh, key="filter-blend-100", used=0.0, **more):
    role = entry(key).specification.water
    return solved(
        mains("mains", "40 psi", connector="3/8 push-fit", level="base"),
        water_filter(
            "filter",
            *role.loss,
            rated_flow=role.rated_flow.text,
            water={
                "capacity": role.capacity,
                "capacity_hardness": role.capacity_hardness,
                "softens": role.softens,
                "used": used,
            },
        ),
        tap("machine", drawn("1.6 L/min"), required_flow="1.6 L/min", level="base"),
        tube("mains", "filter"),
        tube("filter", "machine"),
        **more,
    ).filters[0]


def venue(dkh):
    return Venue(hardness=Concentration(f"{dkh} dH"))


@pytest.mark.parametrize(
    ("key", "litres"),
    # Filter manual, section 10.1.1, blend 3 at 4 to 10 degrees of carbonate hardness.
    [
        ("filter-blend-100", (17_000, 13_600, 11_330, 9_710, 8_500, 7_555, 6_800)),
        ("filter-blend-200", (30_000, 24_000, 20_000, 17_143, 15_000, 13_333, 12_000)),
    ],
)
def test_a_cartridge_lasts_by_the_hardness_of_the_water(key, litres):
    for dkh, printed in zip(range(4, 11), litres, strict=True):
        found = cartridge(dkh, key, venue=venue(dkh))
        assert found.life * 1e3 == pytest.approx(printed, rel=2e-3)
        assert not found.hardness_missing


def test_how_many_days_of_service_a_cartridge_lasts():
    """By hand: 8,500 L half used, 120 drinks a day of 0.35 L: 12,143 drinks, 101 days."""
    service = Service(
        hours=Duration("4 h"),
        drinks_per_hour=30.0,
        water_per_drink=Volume("0.35 L"),
        rinse_per_drink=Volume("0.2 L"),
    )
    found = cartridge(8, used=0.5, venue=venue(8), service=service)
    assert found.left == pytest.approx(4.25)
    assert found.drinks_left == pytest.approx(12_143, rel=1e-4)
    assert found.days_left == pytest.approx(101.2, rel=1e-3)
    unknown = cartridge(8, service=service)
    assert unknown.hardness_missing
    assert unknown.life == pytest.approx(8.5)


def test_rinse_water_does_not_pass_a_filter_that_only_the_machine_is_behind():
    """The machine's filter sees the drinks' water, the filter of everything sees it all."""

    def passes(before):
        things = [
            tank("jug"),
            pump("pump"),
            water_filter("filter", water={"capacity": Volume("5000 L")}),
            tee("tee", 4),
            tap("machine", drawn("1.6 L/min"), required_flow="1.6 L/min", level="base"),
            tap("rinser", level="base", drain="drain 1 in", water={"drained_share": 1.0}),
            tube("jug", "pump"),
        ]
        if before:
            things += [tube("pump", "filter"), tube("filter", "tee.a"), tube("tee.b", "machine")]
        else:
            things += [tube("pump", "tee.a"), tube("tee.b", "filter"), tube("filter", "machine")]
        found = solved(
            *things,
            tube("tee.c", "rinser"),
            service=Service(water_per_drink=Volume("0.3 L"), rinse_per_drink=Volume("0.2 L")),
        )
        return found.filters[0].per_drink * 1e3

    assert passes(before=True) == pytest.approx(0.5)
    assert passes(before=False) == pytest.approx(0.3)


def test_a_filter_passes_most_when_the_pump_is_about_to_stop():
    """An opening's flow goes with the root of pressure: 1 gal/min at 30 psi is 1.22 at 45."""
    wide = {"length": "50 mm", "bore": "25 mm"}
    (found,) = solved(
        tank("jug", fill=0.1),
        pump("pump", [("0 psi", "5 gal/min"), ("60 psi", "3 gal/min")], "30 psi", "45 psi"),
        water_filter("filter", point("1 gal/min", "0.001 psi")),
        tap("sink", opening("1 gal/min", "30 psi"), required_flow="1 gal/min", level="base"),
        tube("jug", "pump", **wide),
        tube("pump", "filter", **wide),
        tube("filter", "sink", **wide),
    ).filters
    assert found.flow == pytest.approx(math.sqrt(45 / 30) * GPM, rel=5e-3)


# --- regulators, fittings ----------------------------------------------------------------------


def test_what_a_regulator_carries():
    result = solved(
        mains("mains", "60 psi", connector="3/8 push-fit", level="base"),
        regulator(
            "regulator",
            "40 psi",
            {"rated_flow": Flow("1 gal/min"), "creep": Pressure("3 psi")},
        ),
        tap("sink", drawn("1.5 gal/min"), required_flow="1.5 gal/min", level="base"),
        tube("mains", "regulator"),
        tube("regulator", "sink"),
    )
    (found,) = result.regulators
    assert found.flow == pytest.approx(1.5 * GPM, rel=1e-3)
    assert found.shut_pa == pytest.approx(43 * PSI, abs=5.0)
    assert found.outlet_pa == pytest.approx(40 * PSI, rel=1e-3)
    assert found.holds


def port_losses(key):
    role = entry(key).specification.water
    return {one.port: one.at.pressure.si / one.at.flow.si**2 for one in role.losses}


@pytest.mark.parametrize(
    ("key", "bore_m"), [("tee", 6.35e-3), ("tee-8-mm", 6e-3), ("tee-10-mm", 7e-3)]
)
def test_a_tees_branch_costs_more_than_its_run(key, bore_m):
    """Fluid-mechanics textbook, table 8.2, threaded tee: line flow 0.9, branch flow 2.0."""
    losses = port_losses(key)
    speed = GPM / (math.pi / 4 * bore_m**2)
    head = fluids.core.dP_from_K(K=1.0, rho=998.21, V=speed)
    assert (losses["a"] + losses["b"]) * GPM**2 / head == pytest.approx(0.9, rel=0.01)
    assert (losses["a"] + losses["c"]) * GPM**2 / head == pytest.approx(2.0, rel=0.01)
    assert (losses["b"] + losses["c"]) * GPM**2 / head == pytest.approx(2.0, rel=0.01)


def test_a_manifolds_outlets_are_as_tested():
    """Certified tests in a plumbing design manual, appendix C: 6 outlets, Cv 3.7 at an outlet."""
    losses = port_losses("manifold-6")
    for outlet in "123456":
        loss_psi = (losses["in"] + losses[outlet]) * GPM**2 / PSI
        assert 1.0 / math.sqrt(loss_psi) == pytest.approx(3.7, rel=0.01)


# --- tubes -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "printed"),
    # Design guide of such plumbing: psi lost in 100 ft at 0.5, 1, 2 and 3 gal/min.
    [("3/8 in PEX tube", (2.50, 7.50, 26.1, 54.1)), ("1/2 in PEX tube", (0.51, 1.70, 5.30, 11.0))],
)
def test_published_losses_of_hot_water_tube(name, printed):
    made = tube_named(name)
    run = tube("a", "b", "100 ft", bore=made.bore.text)
    plain = parts.tube(water(293.15), run, 30.48, ())
    for gal_per_min, psi in zip((0.5, 1, 2, 3), printed, strict=True):
        assert plain.loss(gal_per_min * GPM)[0] / PSI == pytest.approx(psi, rel=0.23)
        if name.startswith("3/8"):
            assert plain.loss(gal_per_min * GPM)[0] / PSI == pytest.approx(psi, rel=0.1)


@pytest.mark.parametrize(
    ("name", "bore_in", "bend_in"),
    # Size tables of such tube: bores (some print 0.010 in more); the same guide: bends.
    [("3/8 in PEX tube", 0.350, 4.0), ("1/2 in PEX tube", 0.475, 5.0)],
)
def test_sizes_of_hot_water_tube(name, bore_in, bend_in):
    made = tube_named(name)
    assert made.bore.si == pytest.approx(bore_in * 0.0254)
    assert made.least_bend_radius.si == pytest.approx(bend_in * 0.0254)
    assert made.least_bend_radius.si == pytest.approx(8 * made.outer.si)
    assert made.warm_rating is not None
    assert made.elastic_modulus.si == pytest.approx(67_425 * PSI)
