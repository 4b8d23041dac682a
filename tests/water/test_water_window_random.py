"""The window of any line: what it promises holds when a pump of that pressure is put in."""

import math

from building import (
    build,
    drawn,
    fill,
    mains,
    opening,
    point,
    pump,
    regulator,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from test_water_absurd_numbers import carts

from cartlayout.build import Build, OperatingCase, PumpPoint
from cartlayout.build.edits import replace_item
from cartlayout.network import make_network
from cartlayout.units import Flow, Pressure
from cartlayout.water import WaterResult, solve_water

relaxed = settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
PORTS = "bcdefg"


@st.composite
def lines(draw: st.DrawFn, supply: str = "pump") -> Build:
    """A supply, perhaps a filter, a manifold, two to four taps, some behind regulators."""
    count = draw(st.integers(2, 4))
    things = [
        tank("jug"),
        pump("pump", [("0 bar", "14 L/min"), ("5 bar", "6 L/min")], "2.4 bar", "3.4 bar")
        if supply == "pump"
        else mains("mains", "3.5 bar", connector="3/8 push-fit", level="base"),
        tee("manifold", count + 1),
    ]
    before = supply
    if supply == "pump":
        things.append(tube("jug", "pump", "0.4 m", "9.5 mm"))
    if draw(st.booleans()):
        things.append(water_filter("filter", point("6 L/min", "0.4 bar"), rated_flow="8 L/min"))
        things.append(tube(before, "filter", "0.5 m", "9.5 mm"))
        before = "filter"
    trunk = draw(st.sampled_from(["4.3 mm", "6.35 mm", "9.5 mm"]))
    things.append(tube(before, "manifold.a", f"{draw(st.integers(2, 40)) / 10} m", trunk))
    for at in range(count):
        name, flow = f"tap {at}", draw(st.sampled_from([0.5, 1.0, 2.0, 3.5]))
        least = draw(st.sampled_from([0.3, 1.0, 1.5, 2.0]))
        behaviour = draw(
            st.sampled_from(
                [
                    drawn(f"{flow} L/min"),
                    opening(f"{flow} L/min", f"{least} bar"),
                    fill(f"{flow} L/min", f"{least + 0.2} bar", "0.2 bar"),
                ]
            )
        )
        things.append(
            tap(
                name,
                behaviour,
                required_flow=f"{flow} L/min",
                least=f"{least} bar",
                greatest=f"{draw(st.sampled_from([2.2, 3.0, 4.0, 6.0]))} bar",
                level=draw(st.sampled_from(["base", "counter"])),
            )
        )
        outlet = f"manifold.{PORTS[at]}"
        if draw(st.integers(0, 3)) == 0:
            things.append(
                regulator(f"regulator {at}", draw(st.sampled_from(["1.8 bar", "2.6 bar"])))
            )
            things.append(tube(outlet, f"regulator {at}", "0.2 m"))
            outlet = f"regulator {at}"
        things.append(tube(outlet, name, f"{draw(st.integers(2, 30)) / 10} m"))
    cases = (OperatingCase(name="Rush", taps=("tap 0", "tap 1")),) if draw(st.booleans()) else ()
    return build(*things, cases=cases)


def solved(made: Build) -> WaterResult:
    return solve_water(made, make_network(made))


def steady(made: Build, pressure_pa: float) -> Build:
    """The build with a pump that holds one pressure, whatever is drawn."""
    there = made.item("pump")
    held = Pressure(f"{pressure_pa} Pa")
    curve = (
        PumpPoint(pressure=Pressure("0 bar"), flow=Flow("500 L/min")),
        PumpPoint(pressure=Pressure("100 bar"), flow=Flow("400 L/min")),
    )
    role = replace(there.specification.water, curve=curve, cut_in=held, cut_out=held)
    return replace_item(
        made, replace(there, specification=replace(there.specification, water=role))
    )


def all_fed(result: WaterResult, cases: list[str]) -> bool:
    return all(
        tap.states[case].flow_ok and tap.states[case].lowest_pa >= tap.least_pa - 20.0
        for tap in result.taps
        for case in cases
        if tap.states[case].open
    )


@relaxed
@given(lines())
def test_a_pump_just_above_the_lower_edge_feeds_all_and_one_below_does_not(made):
    window = solved(made).window("pump")
    cases = [need.case for need in window.needs if need.counts]
    if window.unreachable or window.least is None:
        return
    edge = window.least.pressure_pa
    assert all_fed(solved(steady(made, edge + 500.0)), cases)
    if edge > 5e3:
        assert not all_fed(solved(steady(made, edge - 2e3)), cases)


@relaxed
@given(lines())
def test_a_pump_just_below_the_upper_edge_hurts_nothing_and_one_above_does(made):
    window = solved(made).window("pump")
    if window.greatest is None:
        return
    edge = window.greatest.pressure_pa

    def suffers(result: WaterResult) -> bool:
        return any(tap.static_pa > tap.greatest_pa + 20.0 for tap in result.taps)

    assert not suffers(solved(steady(made, edge - 100.0)))
    assert suffers(solved(steady(made, edge + 200.0)))


@relaxed
@given(st.sampled_from(["pump", "mains"]).flatmap(lines))
def test_the_short_way_to_an_empty_window_and_the_whole_window_agree(made):
    result = solved(made)
    (supply,) = result.supplies
    window, empty = supply.window, supply.emptiness
    assert window is not None
    if window.greatest is None or window.least is None:
        assert empty is None
        return
    if abs(window.least_pa - window.greatest_pa) > 500.0 and not window.unreachable:
        assert (empty is not None) == (window.least_pa > window.greatest_pa)
    if empty is not None and not window.unreachable:
        assert empty.greatest == window.greatest
        assert abs(empty.least.pressure_pa - window.least_pa) < 500.0


@relaxed
@given(lines())
def test_regulators_that_are_advised_open_the_window(made):
    window = solved(made).window("pump")
    if not window.set_points:
        return
    low = window.opened_least.pressure_pa if window.opened_least else 0.0
    high = window.opened_greatest.pressure_pa if window.opened_greatest else math.inf
    assert low <= high + 500.0
    for one in window.set_points:
        assert one.least_pa <= one.set_point_pa <= one.greatest_pa


@relaxed
@given(carts())
def test_nonsense_has_a_window_or_none(made):
    for window in solved(made).windows:
        assert math.isfinite(window.flow)
        assert window.least is None or math.isfinite(window.least.pressure_pa)
        assert window.greatest is None or math.isfinite(window.greatest.pressure_pa)
        assert isinstance(window.is_hit, bool)
