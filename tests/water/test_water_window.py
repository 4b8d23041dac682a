"""The window that a supply has to hit: its edges by hand and by a second engine."""

import importlib
import math

import pytest
from building import (
    build,
    check_valve,
    drawn,
    heater,
    item,
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
from msgspec.structs import replace

from cartlayout.build import Build, OperatingCase, Pump
from cartlayout.build.edits import move, replace_item
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.limits import loss_coefficient
from cartlayout.network import make_network
from cartlayout.units import Length, Pressure, Temperature, UnitSystem
from cartlayout.water import ALL_OPEN, WaterResult, alone, solve_water
from cartlayout.water.properties import water

PSI = 6894.757
BAR = 1e5
L_MIN = 1.0 / 60_000.0
GPM = 6.30902e-5
FLOOR_TO_COUNTER = 30 * 0.0254
"""The counter of the test's cart stands 30 in above its base [m]."""
WIDE = {"length": "10 mm", "bore": "150 mm"}
"""Next to nothing is lost in a tube like a drum."""
G = 9.80665


def judged(made: Build, before: WaterResult | None = None) -> tuple[WaterResult, list[Finding]]:
    network = make_network(made)
    result = solve_water(made, network, before)
    return result, list(rules(made, network, result))


def density() -> float:
    """Of water at 20 °C, by IAPWS-IF97 (the iapws package) [kg/m3]."""
    iapws = pytest.importorskip("iapws")
    return iapws.IAPWS97(T=293.15, P=0.101325).rho


# --- edges by hand: nothing is lost on the way ---------------------------------------------------


def lossless(**more: object) -> Build:
    return build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("4 bar", "6 L/min")], "1 bar", "4 bar"),
        tap(
            "machine",
            drawn("2 L/min"),
            required_flow="2 L/min",
            least="1.5 bar",
            greatest="5 bar",
        ),
        tube("jug", "pump", **WIDE),
        tube("pump", "machine", **WIDE),
        **more,
    )


def test_edges_of_a_line_that_loses_nothing_are_the_taps_and_the_climb():
    """Hydrostatics: p + rho g h, with the density of IAPWS-IF97."""
    result, _ = judged(lossless())
    (window,) = result.windows
    climb = density() * G * FLOOR_TO_COUNTER
    assert window.kind == "pump"
    assert window.least.pressure_pa == pytest.approx(1.5 * BAR + climb, abs=200.0)
    assert window.greatest.pressure_pa == pytest.approx(5.0 * BAR + climb, abs=1.0)
    assert window.least.name == window.greatest.name == "machine"
    assert window.flow == pytest.approx(2 * L_MIN, rel=1e-4)
    assert window.flow_taps == ("machine",)
    assert window.is_open


def test_a_regulator_on_the_way_takes_the_upper_edge_away():
    """Behind it stands its set point with what it creeps, whatever stands before it."""
    made = build(
        mains("mains", "6 bar", connector="3/8 push-fit", level="base", height="2 in"),
        regulator("regulator", "3 bar", {"creep": Pressure("0.2 bar")}),
        tap(
            "machine", drawn("2 L/min"), required_flow="2 L/min", least="1.5 bar", greatest="5 bar"
        ),
        tube("mains", "regulator", **WIDE),
        tube("regulator", "machine", **WIDE),
    )
    result, _ = judged(made)
    (window,) = result.windows
    assert window.greatest is None
    assert window.greatest_pa == math.inf
    assert result.tap("machine").static_pa == pytest.approx(
        3.2 * BAR - density() * G * FLOOR_TO_COUNTER, abs=1.0
    )


def test_a_regulator_set_above_what_the_tap_may_see_does_not():
    made = build(
        mains("mains", "6 bar", connector="3/8 push-fit", level="base", height="2 in"),
        regulator("regulator", "5.5 bar", {"creep": Pressure("0.2 bar")}),
        tap("machine", greatest="5 bar", level="base", height="2 in"),
        tube("mains", "regulator", **WIDE),
        tube("regulator", "machine", **WIDE),
    )
    result, _ = judged(made)
    assert result.windows[0].greatest_pa == pytest.approx(5 * BAR, abs=1.0)


def test_a_tube_can_set_the_upper_edge():
    """Its rating falls with the temperature of its water, on a line between two stated ones."""
    first = lossless()
    run = next(one for one in first.tubes if one.a.item == "pump")
    rated = replace(
        run.tube,
        rating=Pressure("6 bar"),
        rating_at=Temperature("20 degC"),
        warm_rating=Pressure("2 bar"),
        warm_rating_at=Temperature("60 degC"),
    )
    made = replace(
        first,
        runs=tuple(replace(one, tube=rated) if one is run else one for one in first.runs),
        venue=replace(first.venue, water_temperature=Temperature("40 degC")),
    )
    result, _ = judged(made)
    (window,) = result.windows
    assert window.greatest.run == run.id
    assert window.greatest.pressure_pa == pytest.approx(4 * BAR, abs=1.0)  # half way
    static = next(one for one in result.statics if one.run == run.id)
    assert static.rating_pa == pytest.approx(4 * BAR)
    assert static.highest_pa == pytest.approx(4 * BAR, abs=50.0)


def test_behind_a_check_valve_stands_what_it_ever_let_through():
    """Its cracking pressure is not taken off: it shut when the flow ended, not before."""
    made = build(
        mains(
            "mains",
            "3 bar",
            connector="3/8 push-fit",
            level="base",
            height="2 in",
            water={"least": Pressure("2 bar"), "greatest": Pressure("5 bar")},
        ),
        check_valve("check", cracking="0.2 bar"),
        tap("sink", level="base", height="2 in"),
        tube("mains", "check", **WIDE),
        tube("check", "sink", **WIDE),
    )
    result, _ = judged(made)
    behind = next(one for one in result.statics if one.run == "tube check sink")
    assert behind.highest_pa == pytest.approx(5 * BAR, abs=1.0)


def test_a_heater_that_wants_pressure_sets_the_lower_edge():
    """A pump that shuts off at 20 psi never lights a heater that needs 25 psi (reported)."""
    made = build(
        tank("jug"),
        pump("pump", [("0 psi", "3 gal/min"), ("20 psi", "2 gal/min")], "10 psi", "20 psi"),
        heater(
            "heater", loss=point("2 gal/min", "0 psi"), water={"least_pressure": Pressure("25 psi")}
        ),
        tap(
            "shower",
            drawn("1 L/min"),
            required_flow="1 L/min",
            least="0 psi",
            level="base",
            height="2 in",
        ),
        tube("jug", "pump", **WIDE),
        tube("pump", "heater", **WIDE),
        tube("heater", "shower", **WIDE),
    )
    result, _ = judged(made)
    (window,) = result.windows
    assert window.least.name == "heater"
    assert window.least.pressure_pa == pytest.approx(25 * PSI, abs=200.0)
    assert not window.is_hit


# --- edges through real tubes, by a second engine ------------------------------------------------


def real_line() -> Build:
    level = {"level": "base", "height": "2 in"}
    return build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("4 bar", "6 L/min")], "2 bar", "4 bar"),
        tee("tee"),
        tap("machine", drawn("2 L/min"), required_flow="2 L/min", least="1.5 bar", **level),
        tap(
            "rinser",
            opening("4 L/min", "1.5 bar"),
            required_flow="3 L/min",
            least="0.5 bar",
            **level,
        ),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "tee.a", "3 m"),
        tube("tee.b", "machine", "2 m", "4.3 mm"),
        tube("tee.c", "rinser", "1 m"),
    )


def by_epanet(at_pump_pa: float, opened: set[str]) -> tuple[dict[str, float], float]:
    """Pressures [Pa] of `real_line` with its pump held at a pressure, and the rinser's flow."""
    pytest.importorskip("epanet", reason="owa-epanet has wheels for Linux below Python 3.13")
    reference = importlib.import_module("epanet_reference")
    minor = 2 * loss_coefficient("union, threaded")
    with reference.Epanet(water(293.15)) as net:
        net.fix("pump", 0.0, at_pump_pa)
        net.node("tee")
        net.node("machine", demand=2 * L_MIN if "machine" in opened else 0.0)
        net.node("rinser")
        if "rinser" in opened:
            net.emitter("rinser", 4 * L_MIN, 1.5 * BAR)
        net.pipe("line", "pump", "tee", 3.0, 0.00635, minor=minor)
        net.pipe("to-machine", "tee", "machine", 2.0, 0.0043, minor=minor)
        net.pipe("to-rinser", "tee", "rinser", 1.0, 0.00635, minor=minor)
        pressures, flows = net.solve()
    return pressures, flows["to-rinser"]


@pytest.mark.parametrize(
    ("case", "opened"),
    [
        (alone("machine"), {"machine"}),
        (alone("rinser"), {"rinser"}),
        (ALL_OPEN, {"machine", "rinser"}),
    ],
)
def test_at_the_lower_edge_the_last_tap_has_just_enough(case, opened):
    """EPANET 2.3 with a reservoir in the pump's place, at the pressure that was found."""
    result, _ = judged(real_line())
    (window,) = result.windows
    need = next(one for one in window.needs if one.case == case)
    pressures, rinser_flow = by_epanet(need.least_pa, opened)
    share = []
    if "machine" in opened:
        share.append(pressures["machine"] / (1.5 * BAR))
    if "rinser" in opened:
        share += [pressures["rinser"] / (0.5 * BAR), rinser_flow / (3 * L_MIN)]
    assert min(share) == pytest.approx(1.0, rel=0.01)
    assert need.name == ("machine" if opened == {"machine"} else need.name)


def test_the_hungriest_case_is_all_that_run_together():
    """Where the person names what runs together, that sets the window; else everything may."""
    result, _ = judged(real_line())
    (window,) = result.windows
    assert window.flow_case == ALL_OPEN
    _, rinser_flow = by_epanet(window.least_pa, {"machine", "rinser"})
    assert window.flow == pytest.approx(2 * L_MIN + rinser_flow, rel=0.01)
    told = replace(
        real_line(),
        cases=(
            OperatingCase(name="Brewing", taps=("machine",)),
            OperatingCase(name="Rinsing", taps=("rinser", "machine")),
        ),
    )
    assert judged(told)[0].windows[0].flow_case == "Rinsing"


def test_a_case_that_never_happens_does_not_set_the_window():
    made = build(
        *real_line().items,
        tap("sink", opening("4 L/min", "1.5 bar"), required_flow="3 L/min", least="0.5 bar"),
        *real_line().runs,
        tube("tee.d", "sink"),
        cases=(OperatingCase(name="Rinsing", taps=("rinser", "machine")),),
    )
    made = replace_item(made, tee("tee", 4))
    (window,) = judged(made)[0].windows
    everything = next(one for one in window.needs if one.case == ALL_OPEN)
    assert not everything.counts
    assert window.flow_case == "Rinsing"
    assert window.least_pa < everything.least_pa


# --- facts of the trade --------------------------------------------------------------------------


def two_wants(*more: object) -> Build:
    """A machine that may see 3 bar, and a rinser up the line that wants 4 bar."""
    level = {"level": "base", "height": "2 in"}
    return build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("6 bar", "7 L/min")], "2 bar", "3 bar"),
        tee("tee"),
        tap(
            "machine",
            drawn("2 L/min"),
            required_flow="2 L/min",
            least="1.5 bar",
            greatest="3 bar",
            **level,
        ),
        tap(
            "rinser",
            opening("4 L/min", "4 bar"),
            required_flow="4 L/min",
            least="3.5 bar",
            greatest="8 bar",
            **level,
        ),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "tee.a", "0.5 m", "9.5 mm"),
        tube("tee.c", "rinser", "0.5 m", "9.5 mm"),
        *(more or (tube("tee.b", "machine", "0.5 m"),)),
        cases=(OperatingCase(name="Rush", taps=("machine", "rinser")),),
    )


def test_a_regulator_serves_the_one_appliance_that_needs_less():
    """Common practice, no source: a regulator before it, and the line may stand higher."""
    result, findings = judged(two_wants())
    (window,) = result.windows
    assert not window.is_open
    assert window.least.name == "rinser"
    assert window.greatest.name == "machine"
    (point_,) = window.set_points
    assert point_.name == "machine"
    assert 1.5 * BAR < point_.set_point_pa < 3 * BAR
    (found,) = [one for one in findings if one.code == "water.window"]
    assert found.items == ("pump", "rinser", "machine")
    text = found.text(UnitSystem.METRIC)
    assert "Put a regulator before machine" in text
    assert "(tried)" in text


def test_a_set_point_leaves_room_for_what_a_regulator_droops_and_creeps():
    """Common practice, no source: a small regulator creeps 3 psi and falls 8 psi at 2 gal/min.

    The machine has 2 L/min (0.528 gal/min, so 2.1 psi) and wants 1.5 to 3 bar.
    """
    (advised,) = judged(two_wants())[0].windows[0].set_points
    assert advised.least_pa == pytest.approx(1.5 * BAR + 8 * PSI * 0.5283 / 2, abs=50)
    assert advised.greatest_pa == pytest.approx(3 * BAR - 3 * PSI, abs=50)


def test_what_is_advised_holds_when_it_is_done():
    """The regulator put in at its set point, the pump set inside the window that then is open."""
    (window,) = judged(two_wants())[0].windows
    (advised,) = window.set_points
    inside_pa = 0.5 * (window.opened_least.pressure_pa + window.opened_greatest.pressure_pa)
    after = two_wants(
        regulator("regulator", f"{advised.set_point_pa / BAR} bar"),
        tube("tee.b", "regulator", "0.1 m", "9.5 mm"),
        tube("regulator", "machine", "0.5 m"),
    )
    there = after.item("pump")
    role = there.specification.water
    assert isinstance(role, Pump)
    held = f"{inside_pa / BAR} bar"
    switched = replace(role, cut_in=Pressure(held), cut_out=Pressure(held))
    after = replace_item(
        after, replace(there, specification=replace(there.specification, water=switched))
    )
    result, findings = judged(after)
    for name in ("machine", "rinser"):
        one = result.tap(name)
        assert one.static_pa <= one.greatest_pa, name
        for state in one.states.values():
            assert not state.open or (state.lowest_pa >= one.least_pa - 20 and state.flow_ok), name
    assert not [one for one in findings if one.code in ("water.window", "water.static")]


def test_a_second_engine_agrees_that_the_regulator_opens_the_window():
    """EPANET 2.3 with a pressure-reducing valve at the advised set point before the machine."""
    pytest.importorskip("epanet", reason="owa-epanet has wheels for Linux below Python 3.13")
    reference = importlib.import_module("epanet_reference")
    (window,) = judged(two_wants())[0].windows
    (advised,) = window.set_points
    minor = 2 * loss_coefficient("union, threaded")

    def pressures(at_pump_pa: float) -> tuple[dict[str, float], float]:
        with reference.Epanet(water(293.15)) as net:
            net.fix("pump", 0.0, at_pump_pa)
            net.node("tee")
            net.node("held")
            net.node("machine", demand=2 * L_MIN)
            net.node("rinser")
            net.emitter("rinser", 4 * L_MIN, 4 * BAR)
            net.pipe("line", "pump", "tee", 0.5, 0.0095, minor=minor)
            net.regulator("regulator", "tee", "held", advised.set_point_pa)
            net.pipe("to-machine", "held", "machine", 0.5, 0.00635, minor=minor)
            net.pipe("to-rinser", "tee", "rinser", 0.5, 0.0095, minor=minor)
            found, flows = net.solve()
        return found, flows["to-rinser"]

    low, rinser_flow = pressures(window.opened_least.pressure_pa)
    assert rinser_flow == pytest.approx(4 * L_MIN, rel=0.005)
    assert low["machine"] > 1.5 * BAR
    high, _ = pressures(window.opened_greatest.pressure_pa)
    assert high["machine"] < 3 * BAR
    assert high["rinser"] < 8 * BAR


def test_a_regulator_that_is_there_is_set_anew():
    """No second one is put behind it."""
    made = two_wants(
        regulator("regulator", "5 bar"),
        tube("tee.b", "regulator", "0.1 m", "9.5 mm"),
        tube("regulator", "machine", "0.5 m"),
    )
    (window,) = judged(made)[0].windows
    (advised,) = window.set_points
    assert advised.regulator == "regulator"
    assert advised.set_point_pa < 3 * BAR


def test_a_window_that_nothing_opens_says_so():
    """The tap's own window is too narrow for any regulator: least and greatest are one."""
    made = build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("6 bar", "7 L/min")], "2 bar", "3 bar"),
        tap("machine", drawn("4 L/min"), required_flow="4 L/min", least="2 bar", greatest="2 bar"),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "machine", "6 m"),
    )
    result, findings = judged(made)
    assert result.windows[0].set_points == ()
    (found,) = [one for one in findings if one.code == "water.window"]
    assert "No regulator opens that either" in found.text(UnitSystem.METRIC)


def filtered(flow: str, residual: bool = False) -> Build:
    level = {"level": "base", "height": "2 in"}
    return build(
        mains(
            "mains",
            "50 psi",
            connector="3/8 push-fit",
            residual=point("3 gal/min", "40 psi") if residual else None,
            **level,
        ),
        water_filter("filter", point("1 gal/min", "6 psi"), point("2 gal/min", "15 psi")),
        tap("sink", drawn(flow), required_flow=flow, least="20 psi", greatest="80 psi", **level),
        tube("mains", "filter", **WIDE),
        tube("filter", "sink", **WIDE),
    )


@pytest.mark.parametrize(("flow", "lost_psi"), [("1 gal/min", 6.0), ("2 gal/min", 15.0)])
def test_behind_a_filter_the_gauge_shows_less_and_how_much_depends_on_the_flow(flow, lost_psi):
    """Trade facts (common practice, no source): a filter's outlet is below its inlet, by what its
    maker states at that flow; at rest both are alike; so unknown mains are gauged behind it.
    """
    result, findings = judged(filtered(flow))
    arrival = result.windows[0].arrival
    assert arrival.behind == "filter"
    assert arrival.node == ("filter", "outlet")
    assert arrival.usual_pa == pytest.approx(50 * PSI, abs=5.0)
    (expected,) = arrival.open
    assert expected.usual_pa == pytest.approx((50 - lost_psi) * PSI, rel=0.005)
    assert expected.least_pa == pytest.approx(20 * PSI, rel=0.005)
    assert arrival.greatest_pa == pytest.approx(80 * PSI, abs=5.0)
    (found,) = [one for one in findings if one.code == "water.mains-unknown"]
    text = found.text(UnitSystem.US)
    assert "behind filter: about 50.0 psi with all taps shut" in text
    assert f"{50 - lost_psi:.1f} psi with sink open" in text
    assert found.source == "common practice, no source"


def test_the_gauge_stands_behind_the_filter_that_serves_most_taps():
    """Common practice, no source: what is gauged behind it is true of as many taps as there are."""
    level = {"level": "base", "height": "2 in"}
    made = build(
        mains("mains", "50 psi", connector="3/8 push-fit", **level),
        water_filter("of the machine", point("1 gal/min", "6 psi")),
        water_filter("of all", point("1 gal/min", "6 psi")),
        tee("tee"),
        tap("machine", drawn("0.5 gal/min"), required_flow="0.5 gal/min", least="20 psi", **level),
        tap("sink", drawn("0.5 gal/min"), required_flow="0.5 gal/min", least="20 psi", **level),
        tube("mains", "of all", **WIDE),
        tube("of all", "tee.a", **WIDE),
        tube("tee.b", "of the machine", **WIDE),
        tube("of the machine", "machine", **WIDE),
        tube("tee.c", "sink", **WIDE),
    )
    result, _ = judged(made)
    assert result.windows[0].arrival.behind == "of all"


def test_mains_that_nobody_measured_may_be_anything_that_mains_are():
    """A water utility's advice to customers: 20 psi at the least, a regulator above 80 psi."""
    (window,) = judged(filtered("1 gal/min"))[0].windows
    assert not window.known
    assert window.low_pa == pytest.approx(20 * PSI, rel=1e-3)
    assert window.high_pa == pytest.approx(80 * PSI, rel=1e-3)
    assert not window.is_hit, "at 20 psi the filter leaves too little"


def test_mains_that_usually_stand_higher_than_most_may_stand_as_high_again():
    """What the venue calls usual is known, whatever mains are elsewhere: 95 psi, 10 psi."""
    level = {"level": "base", "height": "2 in"}
    for usual, low, high in (("95 psi", 20, 95), ("10 psi", 10, 80)):
        made = build(
            mains("mains", usual, connector="3/8 push-fit", **level),
            tap("sink", drawn("0.5 gal/min"), least="5 psi", greatest="150 psi", **level),
            tube("mains", "sink", **WIDE),
        )
        (window,) = judged(made)[0].windows
        assert window.low_pa == pytest.approx(low * PSI, rel=1e-3)
        assert window.high_pa == pytest.approx(high * PSI, rel=1e-3)


def test_what_mains_must_stand_at_counts_the_pipe_behind_them():
    """The fall goes with the square of the flow: 10 psi at 3 gal/min is 1.11 psi at 1 gal/min."""
    (window,) = judged(filtered("1 gal/min", residual=True))[0].windows
    need = window.needs[0]
    assert need.least_pa == pytest.approx(26 * PSI, rel=0.005)
    assert need.at_rest_pa == pytest.approx((26 + 10 / 9) * PSI, rel=0.005)


def test_a_label_names_the_two_ends_of_a_curve():
    """Printed table of a five-chamber diaphragm pump, 12 V (owner's manual IMI-160 Rev D, p. 11):
    2.10 gal/min open, 1.20 gal/min at 43 psi. What asks for the open flow at pressure gets less.
    """
    table = [
        ("0 psi", "2.1 gal/min"),
        ("9 psi", "1.75 gal/min"),
        ("17 psi", "1.6 gal/min"),
        ("26 psi", "1.4 gal/min"),
        ("35 psi", "1.3 gal/min"),
        ("43 psi", "1.2 gal/min"),
        ("52 psi", "1.1 gal/min"),
    ]
    level = {"level": "base", "height": "2 in"}

    def with_want(flow: str) -> WaterResult:
        made = build(
            tank("jug", fill=0.02),
            pump("pump", table, "43 psi", "52 psi"),
            tap("sink", opening(flow, "43 psi"), required_flow=flow, least="43 psi", **level),
            tube("jug", "pump", **WIDE),
            tube("pump", "sink", **WIDE),
        )
        return judged(made)[0]

    enough, too_much = with_want("1.19 gal/min"), with_want("2.1 gal/min")
    assert enough.windows[0].is_hit
    assert not too_much.windows[0].is_hit
    window = too_much.windows[0]
    assert window.least_pa == pytest.approx(43 * PSI, rel=0.005)
    assert window.flow == pytest.approx(2.1 * GPM, rel=0.01)


# --- kept, and cheap -----------------------------------------------------------------------------


def test_a_window_is_kept_while_its_line_is_as_it_was():
    first = build(*real_line().items, item("till"), *real_line().runs)
    before, _ = judged(first)
    kept = before.windows[0]
    after, _ = judged(move(first, ("till",), 0.1, 0.0), before)
    assert after.windows[0] is kept


def test_a_well_fed_line_is_not_asked_for_its_window():
    """What the pump gives does for all, so there is a pressure that does: nothing is solved."""
    made = real_line()
    result, findings = judged(made)
    assert not [one for one in findings if one.code == "water.window"]
    assert "emptiness" not in vars(result.supply("pump"))


def test_the_climb_alone_lifts_the_lower_edge():
    low = judged(lossless())[0].windows[0].least_pa
    raised = lossless()
    machine = replace(raised.item("machine"), raised=Length("10 in"))
    high = judged(replace_item(raised, machine))[0].windows[0].least_pa
    assert high - low == pytest.approx(density() * G * 0.254, abs=250.0)
