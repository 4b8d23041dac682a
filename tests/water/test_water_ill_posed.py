"""Networks that cannot do what they are drawn for: each is answered, and the place is named.

What must come out is conservation and common sense, not a number: no water without a source, none
uphill without a pump, none through a shut valve; never an exception, never a NaN.
"""

import math

import pytest
from building import (
    build,
    check_valve,
    mains,
    opening,
    pump,
    regulator,
    shut_off,
    tank,
    tap,
    tee,
    tube,
)

from cartlayout.build import Build
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Pressure, UnitSystem
from cartlayout.water import WaterResult, solve_water
from cartlayout.water.hydraulics import (
    Characteristic,
    Conditions,
    Limiter,
    PumpCurve,
    Sketch,
    System,
    drawn,
    pipe,
    solve,
)
from cartlayout.water.hydraulics import (
    opening as outflow,
)
from cartlayout.water.properties import water

FLUID = water(293.15)
BAR = 1e5
L_MIN = 1.0 / 60_000.0


def judged(*parts: object) -> tuple[WaterResult, list[Finding]]:
    made: Build = build(*parts)
    network = make_network(made)
    result = solve_water(made, network)
    found = list(rules(made, network, result))
    for case in result.cases.values():
        assert case.converged
        assert all(map(math.isfinite, case.pressures_pa.values()))
    for one in found:
        assert one.text(UnitSystem.METRIC)
    return result, found


def faucet(name: str = "faucet", **more: str) -> object:
    return tap(name, opening("4 L/min", "1 bar"), required_flow="1 L/min", least="0 bar", **more)


def named(found: list[Finding], item: str) -> list[str]:
    """Codes of what is said of an item, notes aside."""
    return [one.code for one in found if item in one.items and one.severity != "note"]


def test_no_source():
    result, found = judged(faucet(), tee("tee"), tube("tee.a", "faucet"))
    assert not result.taps[0].fed
    assert named(found, "faucet")


def test_a_part_that_no_tube_joins():
    result, found = judged(
        mains("mains", connector="3/8 push-fit"),
        faucet("one"),
        faucet("other"),
        tee("tee"),
        tube("mains", "one"),
        tube("tee.a", "other"),
    )
    assert [one.fed for one in result.taps] == [True, False]
    assert named(found, "other")
    assert not named(found, "one")


def test_a_tap_above_its_tank_without_a_pump():
    result, found = judged(
        tank("jug", level="base"), faucet(level="counter"), tube("jug", "faucet")
    )
    assert not result.taps[0].fed
    assert {"faucet", "jug"} <= {item for one in found for item in one.items}


def test_everything_shut_by_hand():
    result, found = judged(
        mains("mains", connector="3/8 push-fit"),
        shut_off("valve", is_open=False),
        faucet(),
        tube("mains", "valve.a"),
        tube("valve.b", "faucet"),
    )
    assert not result.taps[0].fed
    assert named(found, "valve")


def test_a_check_valve_the_wrong_way_round():
    result, found = judged(
        mains("mains", connector="3/8 push-fit"),
        check_valve("check"),
        faucet(),
        tube("mains", "check.outlet"),
        tube("check.inlet", "faucet"),
    )
    assert not result.taps[0].fed
    assert named(found, "faucet")


def test_a_pump_that_pumps_in_a_circle():
    """Nothing enters the circle, so nothing can leave it."""
    result, found = judged(
        pump("pump"),
        tee("tee"),
        faucet(),
        tube("pump.outlet", "tee.a"),
        tube("tee.b", "pump.inlet"),
        tube("tee.c", "faucet"),
    )
    assert not result.taps[0].fed
    assert named(found, "faucet")


def test_a_pump_round_itself_with_a_tank():
    result, _ = judged(
        tank("jug"),
        pump("pump"),
        tee("before"),
        tee("behind"),
        check_valve("check"),
        faucet(),
        tube("jug", "before.a"),
        tube("before.b", "pump.inlet"),
        tube("pump.outlet", "behind.a"),
        tube("behind.b", "check.inlet"),
        tube("check.outlet", "before.c"),
        tube("behind.c", "faucet"),
    )
    assert result.taps[0].fed


@pytest.mark.parametrize(
    ("first", "second", "fights"),
    [
        ("2 bar", "3 bar", True),
        ("3 bar", "3 bar", True),
        ("3.3 bar", "3 bar", True),
        ("4 bar", "2 bar", False),
    ],
)
def test_two_regulators_in_a_row(first, second, fights):
    """The one behind never holds unless it is set well below the one before."""
    result, found = judged(
        mains("mains", "6 bar", connector="3/8 push-fit"),
        regulator("first", first),
        regulator("second", second),
        faucet(level="base"),
        tube("mains", "first.inlet"),
        tube("first.outlet", "second.inlet"),
        tube("second.outlet", "faucet"),
    )
    codes = [one.code for one in found if set(one.items) == {"first", "second"}]
    assert ("water.regulators-in-a-row" in codes) is fights
    # At rest the lesser of the two stands before the tap.
    at_rest = result.taps[0].static_pa
    assert at_rest == pytest.approx(min(Pressure(first).si, Pressure(second).si), abs=0.02 * BAR)


@pytest.mark.parametrize(("low", "fights"), [("2 bar", True), ("3 bar", False)])
def test_two_regulators_side_by_side(low, fights):
    """Set apart, the lower one stays shut: the higher one holds their common line above it."""
    result, found = judged(
        mains("mains", "6 bar", connector="3/8 push-fit"),
        tee("split"),
        regulator("high", "3 bar"),
        regulator("low", low),
        tee("join"),
        faucet(level="base"),
        tube("mains", "split.a"),
        tube("split.b", "high.inlet"),
        tube("split.c", "low.inlet"),
        tube("high.outlet", "join.a"),
        tube("low.outlet", "join.b"),
        tube("join.c", "faucet"),
    )
    pushed = [one for one in found if one.code == "water.regulator-pushed"]
    assert [one.items for one in pushed] == ([("low", "high")] if fights else [])
    assert result.taps[0].static_pa == pytest.approx(3 * BAR, abs=0.02 * BAR)


def sketch_of(*nodes: str) -> Sketch:
    sketch = Sketch(FLUID)
    for node in nodes:
        sketch.node(node, 0.0)
    return sketch


def test_regulators_in_a_ring():
    """Each feeds the next, one of them is fed: what holds is the lesser on the way."""
    sketch = sketch_of("a", "b", "c")
    sketch.fix("S", 0.0, 5 * BAR)
    sketch.line("in", "S", "a", pipe(FLUID, 1.0, 0.009))
    wide = Characteristic(least=0.0)
    for key, a, b, set_pa in (("1", "a", "b", 3.0), ("2", "b", "c", 4.0), ("3", "c", "a", 2.0)):
        sketch.limiter(key, a, b, Limiter(wide, set_pa * BAR))
    sketch.tap("t", "c", outflow(3 * L_MIN, 1 * BAR))
    state = solve(System(sketch), Conditions(open_taps={"t"}))
    assert state.converged
    assert state.flows["3"] == pytest.approx(0.0, abs=2e-9)
    assert state.flows["t"] == pytest.approx(3 * L_MIN * math.sqrt(3.0), rel=1e-3)


def test_a_ring_of_pumps_that_feed_each_other():
    sketch = sketch_of("a", "b")
    sketch.fix("S", 0.0, 0.0)
    sketch.line("in", "S", "a", pipe(FLUID, 1.0, 0.009))
    curve = PumpCurve([(0.0, 10 * L_MIN), (4 * BAR, 2 * L_MIN)])
    sketch.limiter("1", "a", "b", Limiter(curve, 3 * BAR))
    sketch.limiter("2", "b", "a", Limiter(curve, 3 * BAR))
    sketch.tap("t", "b", outflow(3 * L_MIN, 1 * BAR))
    state = solve(System(sketch), Conditions(open_taps={"t"}))
    assert all(map(math.isfinite, (*state.pressures_pa.values(), *state.flows.values())))
    if state.converged:
        assert state.flows["1"] - state.flows["2"] == pytest.approx(state.flows["t"], abs=1e-9)


def test_a_tap_that_draws_more_than_any_line_gives():
    """It is given what comes at no pressure at all, not what it asks for."""
    sketch = sketch_of("a")
    sketch.fix("S", 0.0, 1 * BAR)
    sketch.line("in", "S", "a", pipe(FLUID, 10.0, 0.004))
    sketch.tap("t", "a", drawn(100 * L_MIN))
    state = solve(System(sketch), Conditions(open_taps={"t"}))
    assert state.converged
    assert state.pressures_pa["a"] == pytest.approx(0.0, abs=1.0)
    assert 0.0 < state.flows["t"] < 20 * L_MIN


def test_tubes_of_no_length_and_nodes_on_the_source():
    sketch = sketch_of("a", "b")
    sketch.fix("S", 0.0, 2 * BAR)
    sketch.line("1", "S", "a", pipe(FLUID, 1e-6, 0.006))
    sketch.line("2", "a", "b", Characteristic())
    sketch.line("3", "S", "b", Characteristic())
    sketch.tap("t", "b", outflow(5 * L_MIN, 2 * BAR))
    state = solve(System(sketch), Conditions(open_taps={"t"}))
    assert state.converged
    assert state.flows["t"] == pytest.approx(5 * L_MIN, rel=1e-3)


def test_two_sources_with_nothing_between_them_but_a_tube():
    """The higher one flows into the lower; a cart's finding is another matter."""
    sketch = sketch_of("a")
    sketch.fix("S", 0.0, 2 * BAR)
    sketch.fix("T", 0.0, 1 * BAR)
    sketch.line("1", "S", "a", pipe(FLUID, 1.0, 0.006))
    sketch.line("2", "a", "T", pipe(FLUID, 1.0, 0.006))
    state = solve(System(sketch), Conditions())
    assert state.converged
    assert state.pressures_pa["a"] == pytest.approx(1.5 * BAR, abs=10.0)
