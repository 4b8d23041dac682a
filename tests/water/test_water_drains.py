"""Drains held against printed worked examples, codes, a reference library and trial carts."""

import math

import fluids
import pytest
from building import (
    basin,
    build,
    drawn,
    fill,
    floor_drain,
    item,
    mains,
    opening,
    port,
    tank,
    tap,
    tube,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, Drain, DrainPump, TubeRun, WayPoint
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.limits import drain_practice, profile, profiles
from cartlayout.network import make_network
from cartlayout.units import Flow, Length, UnitSystem, Volume
from cartlayout.water import WaterResult, solve_water
from cartlayout.water.drains import full_flow

FOOT = 0.3048
INCH = 0.0254
CUBIC_FOOT = FOOT**3
GPM = 3.785411784e-3 / 60
L_MIN = 1.0 / 60_000.0


def judged(*things: object, **more: object) -> tuple[WaterResult, list[Finding]]:
    made: Build = build(*things, **more)
    network = make_network(made)
    result = solve_water(made, network)
    return result, list(rules(made, network, result))


def codes(findings: list[Finding]) -> set[str]:
    return {finding.code for finding in findings}


def one(findings: list[Finding], code: str) -> Finding:
    (found,) = [finding for finding in findings if finding.code == code]
    return found


def drain(a: str, b: str, bore: str = "1 in", **more: object) -> TubeRun:
    return tube(a, b, more.pop("length", None), bore, outer="1.3 in", **more)


def led(run: TubeRun, *bends: tuple[str, str, str | None]) -> TubeRun:
    return replace(
        run,
        waypoints=tuple(
            WayPoint(x=Length(x), y=Length(y), height=None if z is None else Length(z))
            for x, y, z in bends
        ),
    )


# --- Manning -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bore_m", "gradient", "n", "printed_cfs", "share"),
    [
        # Worked example of a sewer calculator: 8 in, n 0.013, slope 0.005: 0.854 cfs, 2.448 ft/s.
        (8 * INCH, 0.005, 0.013, 0.854, 0.005),
        # Engineering exam problem: 0.5 ft, n 0.02, slope 5 %: 0.82 cfs.
        (0.5 * FOOT, 0.05, 0.020, 0.82, 0.01),
        # Worked example of a concrete pipe: 24 in, n 0.012, slope 0.003: 13.4 cfs.
        (24 * INCH, 0.003, 0.012, 13.4, 0.005),
    ],
)
def test_a_pipe_running_full(
    bore_m: float, gradient: float, n: float, printed_cfs: float, share: float
) -> None:
    flow = full_flow(bore_m, gradient, n) / CUBIC_FOOT
    assert flow == pytest.approx(printed_cfs, rel=share)


def test_speed_of_the_printed_sewer() -> None:
    """8 in, n 0.013, slope 0.005: 2.448 ft/s."""
    area = math.pi * (8 * INCH) ** 2 / 4
    assert full_flow(8 * INCH, 0.005, 0.013) / area / FOOT == pytest.approx(2.448, rel=0.005)


@settings(deadline=None)
@given(st.floats(0.005, 0.3), st.floats(1e-4, 1.0), st.floats(0.008, 0.03))
def test_manning_agrees_with_the_reference_library(bore_m: float, gradient: float, n: float):
    """Reference: fluids.open_flow.V_Manning; hydraulic radius of a full circle is D/4."""
    speed = fluids.open_flow.V_Manning(Rh=bore_m / 4, S=gradient, n=n)
    assert full_flow(bore_m, gradient, n) == pytest.approx(speed * math.pi * bore_m**2 / 4)


@pytest.mark.parametrize("gradient", [0.0, -0.1])
def test_without_fall_nothing_runs(gradient: float) -> None:
    assert full_flow(0.025, gradient, 0.01) == 0.0


def test_the_slopes_asked_for() -> None:
    """Chicago Plumbing Code 18-29-704.1: 1/4 in/ft to 2 1/2 in, 1/8 to 6 in, 1/16 from 8 in."""
    us = profile("US")
    for bore_in, asked_in_per_foot in (
        (1, 1 / 4),
        (2.5, 1 / 4),
        (3, 1 / 8),
        (6, 1 / 8),
        (8, 1 / 16),
    ):
        slope = us.drain_slope(bore_in * INCH).slope
        assert slope == pytest.approx(asked_in_per_foot / 12, rel=1e-4)
    assert all(one.drain_slope(0.025).slope > 0.0 for one in profiles())


# --- the way down ------------------------------------------------------------------------------


def sink_over_tank(
    *bends: tuple[str, str, str | None], sink_at: str = "12 in"
) -> tuple[object, ...]:
    """A sink whose drain looks out at its side, on the counter (36 in); a tank on the base."""
    sink = basin("sink", at=(sink_at, "15 in"))
    out = replace(sink.specification.ports[0], x=Length("10 in"), z=Length("1 in"))
    sink = replace(sink, specification=replace(sink.specification, ports=(out,)))
    return (
        sink,
        tank("waste", "6 gal", "waste", at=("60 in", "15 in")),
        led(drain("sink.drain", "waste", run_id="hose"), *bends),
    )


def test_a_drain_that_rises_over_a_rail() -> None:
    """It leaves level, rises over a rail and falls to the tank: air lock and no fall, a stop.

    Common practice, no source.
    """
    result, findings = judged(
        *sink_over_tank(("30 in", "15 in", "40 in"), ("34 in", "15 in", "36.5 in"))
    )
    (state,) = result.drains
    (low,) = state.low_points
    # The place: under the rail, 30 in from the left, 15 in from the rear, at the outlet's height.
    assert low.at == pytest.approx((30 * INCH, 15 * INCH, 37 * INCH))
    assert low.crest[2] == pytest.approx(40 * INCH)
    assert low.along_m == pytest.approx(13 * INCH)
    assert low.rise_m == pytest.approx(3 * INCH)
    assert low.blocked
    assert low.sealed
    found = one(findings, "water.drain-rise")
    assert found.severity == "stop"
    assert found.items == ("sink", "waste")
    assert found.runs == ("hose",)
    text = found.text(UnitSystem.US)
    assert "3.0 in" in text
    assert "13.0 in" in text or "1.1 ft" in text
    assert "air is locked in" in text
    assert "no fall" in text
    worked = [line.shown(UnitSystem.US) for line in found.working]
    assert any("30.0 in" in line and "15.0 in" in line and "37.0 in" in line for line in worked)


def test_a_dip_below_the_outlet_shuts_in_air_but_is_not_blocked() -> None:
    """A trap in a hose: down to 20 in, up to 25 in, the outlet at 37 in."""
    result, findings = judged(
        *sink_over_tank(("30 in", "-2 in", "20 in"), ("36 in", "-2 in", "25 in"))
    )
    (low,) = result.drains[0].low_points
    assert not low.blocked
    assert low.sealed
    assert low.rise_m == pytest.approx(5 * INCH)
    assert one(findings, "water.drain-rise").severity == "care"


@pytest.mark.parametrize("crest", ["20.5 in", "20.9 in"])
def test_a_dip_less_deep_than_the_bore_lets_air_by(crest: str) -> None:
    """Water that stands level in a bore of 1 in leaves air above it until the dip is 1 in deep."""
    result, findings = judged(
        *sink_over_tank(("30 in", "-2 in", "20 in"), ("36 in", "-2 in", crest))
    )
    (low,) = result.drains[0].low_points
    assert not low.sealed
    assert "Water stands" in one(findings, "water.drain-rise").text(UnitSystem.US)


def test_a_drain_all_the_way_down_is_not_mentioned() -> None:
    _, findings = judged(*sink_over_tank())
    assert not {one for one in codes(findings) if one.startswith("water.drain")}


def test_a_tank_that_stands_higher_than_the_outlet() -> None:
    """Water does not run uphill."""
    result, findings = judged(
        basin("sink", level="base", at=("12 in", "15 in")),
        tank("waste", "6 gal", "waste", level="counter", at=("60 in", "15 in")),
        drain("sink.drain", "waste"),
    )
    assert result.drains[0].fall_m < 0.0
    assert result.drains[0].full == 0.0
    assert one(findings, "water.drain-rise").severity == "stop"


def along_the_floor(drop_in: str) -> tuple[object, object]:
    """A sink and a drain 4 ft away, so much lower."""
    outlet_m = Length("2 in").si + Length(drop_in).si
    sink = basin("sink", level="base", at=("11 in", "15 in"))
    out = replace(sink.specification.ports[0], x=Length("10 in"), z=Length(f"{outlet_m} m"))
    sink = replace(sink, specification=replace(sink.specification, ports=(out,)))
    end = floor_drain("end", level="base", at=("69 in", "15 in"))
    into = replace(end.specification.ports[0], x=Length("0 in"), z=Length("2 in"))
    return sink, replace(end, specification=replace(end.specification, ports=(into,)))


@pytest.mark.parametrize(
    ("drop_in", "code"),
    [("0 in", "water.drain-no-fall"), ("0.25 in", "water.drain-slope"), ("1.1 in", "")],
)
def test_fall_of_a_drain_along_the_floor(drop_in: str, code: str) -> None:
    """4 ft along the floor ask for 1 in at 1/4 in per foot (Chicago Plumbing Code 18-29-704.1)."""
    sink, end = along_the_floor(drop_in)
    result, findings = judged(sink, end, drain("sink.drain", "end"))
    assert result.drains[0].flat_m == pytest.approx(4 * FOOT)
    told = {one for one in codes(findings) if one.startswith("water.drain")}
    assert told == ({code} if code else set())
    if code == "water.drain-slope":
        # 1/4 in in 4 ft is 0.52 %, 1/4 in per foot 2.1 %.
        text = one(findings, code).text(UnitSystem.US)
        assert "0.5 %" in text
        assert "2.1 %" in text


# --- what comes to it --------------------------------------------------------------------------


def rinser_line(
    drain_bore: str, *, share: float = 1.0, flow: str = "2 gal/min"
) -> tuple[object, ...]:
    return (
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("rinser", drawn(flow), drain="drain 1 in", required_flow="0.1 gal/min", least="0 psi",
            at=("20 in", "15 in"), water={"drained_share": share}),
        tank("waste", "6 gal", "waste", at=("60 in", "15 in")),
        tube("mains", "rinser", "1 m", "10 mm"),
        drain("rinser.drain", "waste", drain_bore, run_id="hose"),
    )  # fmt: skip


def test_what_a_drain_gets_is_what_its_taps_let_go() -> None:
    """The drained share of the flow in each case; shut taps and melting ice bring nothing."""
    result, _ = judged(*rinser_line("1 in", share=0.25))
    (state,) = result.drains
    assert state.arriving == {"rinser alone": pytest.approx(0.5 * GPM, rel=1e-3)}


def test_a_tube_too_thin_for_what_comes() -> None:
    """1/4 in of bore, about 0.6 m of fall in 1.8 m: Manning gives under 2 L/min, 7.6 come."""
    result, findings = judged(*rinser_line("1/4 in"))
    (state,) = result.drains
    gradient = state.stretches[0].fall_m / state.stretches[0].length_m
    speed = fluids.open_flow.V_Manning(
        Rh=0.25 * INCH / 4, S=gradient, n=drain_practice().manning_n.value
    )
    assert state.full == pytest.approx(speed * math.pi * (0.25 * INCH) ** 2 / 4, rel=1e-6)
    assert state.half_full == pytest.approx(state.full / 2)
    found = one(findings, "water.drain-full")
    assert found.severity == ("care" if state.advisory else "stop")
    assert found.value.si == pytest.approx(2 * GPM, rel=1e-3)
    assert "water.drain-narrows" in codes(findings)  # and thinner than the outlet of 1 in


@pytest.mark.parametrize(("bore", "rough"), [("1/2 in", True), ("1 in", False)])
def test_where_manning_is_a_rough_figure_only(bore: str, rough: bool) -> None:
    """1 in of fall in 4 ft. Reference: speed and Reynolds number by the fluids library."""
    sink, end = along_the_floor("1 in")
    result, _ = judged(sink, end, drain("sink.drain", "end", bore))
    (state,) = result.drains
    bore_m = Length(bore).si
    gradient = math.sin(math.atan2(1, 48))  # fall for each length of tube
    speed = fluids.open_flow.V_Manning(Rh=bore_m / 4, S=gradient, n=0.010)
    reynolds = fluids.Reynolds(V=speed, D=bore_m, nu=1.0034e-6)  # water at 20 degC, IAPWS
    assert (reynolds < 4500) is rough
    assert state.reynolds == pytest.approx(reynolds, rel=0.02)  # the square way is 1 in longer
    assert state.advisory is rough


def by_manning(bore_m: float, gradient: float) -> float:
    """Flow of a full plastic tube by the fluids library, n 0.010 (a city's drainage manual)."""
    speed = fluids.open_flow.V_Manning(Rh=bore_m / 4, S=gradient, n=0.010)
    return speed * math.pi * bore_m**2 / 4


def test_a_tube_laid_longer_than_its_way_falls_less_steeply() -> None:
    """1 in of fall in 8 ft of hose along a way of 4 ft: 1/96."""
    sink, end = along_the_floor("1 in")
    result, _ = judged(sink, end, drain("sink.drain", "end", length="8 ft"))
    (state,) = result.drains
    assert state.full == pytest.approx(by_manning(INCH, 1 / 96), rel=1e-3)


def test_the_flattest_stretch_governs_what_a_tube_carries() -> None:
    """4 ft by a bend half way: 0.1 in of fall in the first 2 ft, 1.9 in in the other 2 ft.

    A stretch no longer than a hand does not count (common practice, no source): with the bend 2 in
    before the end and 0.02 in for those, it is 1.98 in in 46 in that governs.
    """
    sink, end = along_the_floor("2 in")
    first = led(drain("sink.drain", "end"), ("40 in", "15 in", "9.9 in"))
    result, _ = judged(sink, end, first)
    (state,) = result.drains
    heights = [stretch.fall_m / INCH for stretch in state.stretches]
    assert heights == pytest.approx([0.1, 1.9], abs=1e-6)
    assert state.full == pytest.approx(by_manning(INCH, 0.1 / 24.1), rel=1e-3)
    last = led(drain("sink.drain", "end"), ("62 in", "15 in", "8.02 in"))
    (state,) = judged(sink, end, last)[0].drains
    heights = [stretch.fall_m / INCH for stretch in state.stretches]
    assert heights == pytest.approx([1.98, 0.02], abs=1e-6)
    assert state.full == pytest.approx(by_manning(INCH, 1.98 / 47.98), rel=1e-3)


def test_shared_branches_add_up() -> None:
    """Two taps into one gathering basin, and from there one tube to the floor drain."""
    gather = item(
        "gather",
        ports=(
            port("1", "drain", "in", "drain 1 in", "3 in"),
            port("2", "drain", "in", "drain 1 in", "3 in"),
            port("outlet", "drain", "out", "drain 1 in", "1 in"),
        ),
        water=basin("x").specification.water,
        level="base",
        at=("40 in", "15 in"),
    )
    taps = [
        tap(name, drawn(flow), drain="drain 1 in", required_flow="0.1 gal/min", least="0 psi",
            at=(x, "15 in"), water={"drained_share": 1.0})
        for name, flow, x in (("a", "1 gal/min", "10 in"), ("b", "0.5 gal/min", "64 in"))
    ]  # fmt: skip
    result, _ = judged(
        mains("m1", "3 bar", connector="3/8 push-fit"),
        mains("m2", "3 bar", connector="3/8 push-fit"),
        *taps,
        gather,
        floor_drain("floor", level="venue", at=("80 in", "15 in")),
        tube("m1", "a", "1 m", "10 mm"),
        tube("m2", "b", "1 m", "10 mm"),
        drain("a.drain", "gather.1"),
        drain("b.drain", "gather.2"),
        drain("gather.outlet", "floor", run_id="both"),
    )
    both = next(one for one in result.drains if one.run == "both")
    assert both.arriving["Everything open"] == pytest.approx(1.5 * GPM, rel=1e-3)
    assert both.arriving["a alone"] == pytest.approx(1.0 * GPM, rel=1e-3)
    assert set(both.serves) == {"a", "b"}
    assert both.greatest == ("Everything open", pytest.approx(1.5 * GPM, rel=1e-3))


def test_a_drain_never_gets_narrower() -> None:
    """Chicago Plumbing Code 18-29-704.2: not reduced in size in the direction of the flow."""
    _, thin = judged(*rinser_line("3/4 in"))
    found = one(thin, "water.drain-narrows")
    assert found.value.si == pytest.approx(0.75 * INCH)
    assert found.limit.si == pytest.approx(INCH)
    _, same = judged(*rinser_line("1 in"))
    assert "water.drain-narrows" not in codes(same)
    _, metric = judged(*rinser_line("25 mm"))  # sold for the same spigot
    assert "water.drain-narrows" not in codes(metric)
    _, wide = judged(*rinser_line("1 1/4 in"))  # into an inlet of 1 in
    assert "water.drain-narrows" in codes(wide)


def test_a_venue_drain_takes_so_much() -> None:
    end = floor_drain("end", level="venue", at=("80 in", "15 in"))
    small = replace(
        end, specification=replace(end.specification, water=Drain(capacity=Flow("1 gal/min")))
    )
    things = list(rinser_line("1 in"))
    things[2] = small
    things[4] = drain("rinser.drain", "end")
    _, findings = judged(*things)
    found = one(findings, "water.drain-capacity")
    assert found.severity == "stop"
    assert found.limit.si == pytest.approx(GPM)
    assert found.value.si == pytest.approx(2 * GPM, rel=1e-3)


def test_a_full_tank_backs_up_into_what_stands_too_low() -> None:
    """The outlet 11 in above the base, the inlet at 10 in, the tank 20 in tall."""
    sink = basin("sink", level="base", at=("12 in", "15 in"))
    out = replace(sink.specification.ports[0], x=Length("10 in"), z=Length("11.5 in"))
    sink = replace(sink, specification=replace(sink.specification, ports=(out,)))
    tall = tank("waste", "6 gal", "waste", at=("40 in", "15 in"), size=("10 in", "10 in", "20 in"))
    result, findings = judged(sink, tall, drain("sink.drain", "waste"))
    assert result.drains[0].backs_up_m == pytest.approx(8.5 * INCH)
    assert one(findings, "water.drain-backs-up").items == ("sink", "waste")
    overflowing = replace(
        tall,
        specification=replace(
            tall.specification, water=replace(tall.specification.water, overflow=Length("11 in"))
        ),
    )
    result, findings = judged(sink, overflowing, drain("sink.drain", "waste"))
    assert result.drains[0].backs_up_m is None
    assert "water.drain-backs-up" not in codes(findings)


# --- pumped waste ------------------------------------------------------------------------------


def lifter(lift: str = "4 m", flow: str = "10 L/min", sump: str = "2 L") -> object:
    return item(
        "lifter",
        ports=(
            port("inlet", "drain", "in", "drain 1 in", "8 in"),
            port("outlet", "drain", "out", "drain 1 in", "2 in"),
        ),
        water=DrainPump(sump=Volume(sump), flow=Flow(flow), lift=Length(lift)),
        level="base",
        at=("45 in", "15 in"),
    )


def pumped(*, lift: str = "4 m", flow: str = "10 L/min") -> tuple[object, ...]:
    return (
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("rinser", drawn("2 L/min"), drain="drain 1 in", required_flow="0.1 gal/min",
            least="0 psi", at=("20 in", "15 in"), water={"drained_share": 1.0}),
        lifter(lift, flow),
        tank("waste", "6 gal", "waste", level="counter", at=("60 in", "15 in")),
        tube("mains", "rinser", "1 m", "10 mm"),
        drain("rinser.drain", "lifter", run_id="down"),
        drain("lifter.outlet", "waste", run_id="up"),
    )  # fmt: skip


def test_a_drain_pump_lifts_and_starts() -> None:
    """From 8 in to 46 in of height are 0.965 m of 4 m: 10 x (1 - 0.965 / 4) = 7.6 L/min.

    A wide tube takes next to nothing. A sump of 2 L is full in 1 min at 2 L/min, and empty in
    2 / (7.6 - 2) = 0.36 min: a start every 1.36 min, 44 an hour.
    """
    result, findings = judged(*pumped())
    (state,) = result.drain_pumps
    assert state.lift_m == pytest.approx(38 * INCH, rel=1e-6)
    assert state.flow / L_MIN == pytest.approx(7.587, rel=0.01)
    assert state.fills_s == pytest.approx(60.0, rel=1e-3)
    assert state.starts_per_hour == pytest.approx(44.2, rel=0.01)
    assert not {one for one in codes(findings) if one.startswith("water.drain-")}
    up = next(one for one in result.drains if one.run == "up")
    assert up.pumped
    assert up.arriving["rinser alone"] == pytest.approx(state.flow)
    assert up.backs_up_m is None


def test_a_drain_pump_lifts_to_the_highest_bend_of_its_hose() -> None:
    """From 8 in up to a bend at 60 in: 52 in, though the tank's inlet stands at 46 in."""
    things = list(pumped())
    things[-1] = led(things[-1], ("52 in", "15 in", "60 in"))
    result, _ = judged(*things)
    assert result.drain_pumps[0].lift_m == pytest.approx(52 * INCH, rel=1e-6)


def test_a_drain_pump_gets_what_comes_by_all_its_inlets() -> None:
    """2 and 1 L/min by two hoses: 3, so a sump of 2 L is full in 40 s."""
    two = item(
        "lifter",
        ports=(
            port("inlet", "drain", "in", "drain 1 in", "8 in"),
            port("other", "drain", "in", "drain 1 in", "8 in"),
            port("outlet", "drain", "out", "drain 1 in", "2 in"),
        ),
        water=DrainPump(sump=Volume("2 L"), flow=Flow("10 L/min"), lift=Length("4 m")),
        level="base",
        at=("45 in", "15 in"),
    )
    second = tap("second", drawn("1 L/min"), drain="drain 1 in", required_flow="0.1 gal/min",
                 least="0 psi", at=("70 in", "15 in"), water={"drained_share": 1.0})  # fmt: skip
    things = [two if one.id == "lifter" else one for one in pumped()]
    result, _ = judged(
        *things,
        second,
        mains("more", "3 bar", connector="3/8 push-fit"),
        tube("more", "second", "1 m", "10 mm"),
        drain("second.drain", "lifter.other"),
    )
    (state,) = result.drain_pumps
    assert state.arriving["Everything open"] == pytest.approx(3 * L_MIN, rel=1e-3)
    assert state.fills_s == pytest.approx(40.0, rel=2e-3)


def test_a_drain_pump_that_cannot_lift_so_high() -> None:
    result, findings = judged(*pumped(lift="0.9 m"))
    assert result.drain_pumps[0].flow == 0.0
    found = one(findings, "water.drain-pump-lift")
    assert found.severity == "stop"
    assert found.limit.si == pytest.approx(0.9)


def test_a_drain_pump_that_moves_less_than_comes() -> None:
    """Of 2 L/min with nothing to lift are left 1.5 at that height; 2 come."""
    result, findings = judged(*pumped(flow="2 L/min"))
    found = one(findings, "water.drain-pump-flow")
    assert found.value.si == pytest.approx(2 * L_MIN, rel=1e-3)
    assert result.drain_pumps[0].starts_per_hour == 0.0


# --- air gaps ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bore", "gap", "needed_mm", "small"),
    [
        # FDA Food Code 5-202.13 wording, as in Minn. R. 4626.1055: twice the bore, 1 in (25 mm).
        ("10 mm", "25 mm", 25.0, False),
        ("10 mm", "24 mm", 25.0, True),
        ("15 mm", "28 mm", 30.0, True),
        ("15 mm", "30 mm", 30.0, False),
    ],
)
def test_air_gap_over_a_basin(bore: str, gap: str, needed_mm: float, small: bool) -> None:
    result, findings = judged(
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("spout", opening("0.5 gal/min", "20 psi"), drain="drain 1 in",
            water={"drained_share": 1.0, "air_gap": Length(gap)}),
        tube("mains", "spout", "1 m", bore),
    )  # fmt: skip
    (state,) = result.air_gaps
    assert state.needed_m * 1e3 == pytest.approx(needed_mm)
    assert ("water.air-gap" in codes(findings)) is small
    if small:
        assert one(findings, "water.air-gap").severity == "stop"


def test_air_gap_over_the_venues_drain() -> None:
    """A tube of 1 in asks for 2 in; UK guidance: 20 mm or twice the bore."""
    end = floor_drain("end", level="venue", at=("80 in", "15 in"))
    near = replace(
        end, specification=replace(end.specification, water=Drain(air_gap=Length("1.5 in")))
    )
    sink = basin("sink", at=("20 in", "15 in"))
    result, findings = judged(sink, near, drain("sink.drain", "end"))
    assert result.air_gaps[0].needed_m == pytest.approx(2 * INCH)
    assert one(findings, "water.air-gap").value.si == pytest.approx(1.5 * INCH)
    _, unknown = judged(sink, end, drain("sink.drain", "end"))
    assert one(unknown, "water.air-gap-unknown").severity == "note"
    thin, _ = judged(sink, end, drain("sink.drain", "end", "8 mm"), region="UK")
    assert thin.air_gaps[0].needed_m == pytest.approx(0.020)


def test_an_appliance_that_fills_inside_is_not_asked_for_a_gap() -> None:
    _, findings = judged(
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("machine", fill("1 L/min", "2 bar"), drain="drain 1 in", water={"drained_share": 0.2}),
        tube("mains", "machine", "1 m", "10 mm"),
    )
    assert not {one for one in codes(findings) if one.startswith("water.air-gap")}


def test_water_that_leaves_in_a_cup_needs_no_gap_over_the_drain() -> None:
    """Food Code 5-202.13 is about what the water falls into; a fifth of it is spilt here."""
    _, findings = judged(
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("spout", opening("0.5 gal/min", "20 psi"), drain="drain 1 in",
            water={"drained_share": 0.2}),
        tube("mains", "spout", "1 m", "10 mm"),
    )  # fmt: skip
    assert not {one for one in codes(findings) if one.startswith("water.air-gap")}


# --- kept from step to step --------------------------------------------------------------------


def test_the_same_with_and_without_an_earlier_answer() -> None:
    before = build(*rinser_line("1 in"))
    network = make_network(before)
    first = solve_water(before, network)
    moved = replace(
        before,
        items=tuple(
            replace(one, x=Length("50 in")) if one.id == "waste" else one for one in before.items
        ),
    )
    after = make_network(moved, network)
    again = solve_water(moved, after, first)
    assert again.drains == solve_water(moved, after).drains
    assert again.drains != first.drains
    assert again.taps is first.taps
