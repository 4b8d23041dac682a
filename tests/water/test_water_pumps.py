"""Pump tables as curves, and what a demand pump does with them."""

import pytest
from building import (
    accumulator,
    build,
    drawn,
    mains,
    opening,
    pump,
    tank,
    tap,
    tube,
)
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.build import Build
from cartlayout.network import make_network
from cartlayout.water import WaterResult, alone, solve_water
from cartlayout.water.accumulator import useful_volume_m3
from cartlayout.water.hydraulics import PumpCurve

PSI = 6894.757
GPM = 6.30902e-5
BAR = 1e5
L_MIN = 1.0 / 60_000.0

# Owner's manuals of two ranges of solar diaphragm pumps, doc 911-415 (2012) pp. 4, 14 and
# IMI-160 (2015) pp. 3, 11: pressure in psi, flow in gal/min at 12 V and 24 V.
THREE_CHAMBER = {
    "A 12 V": "9 .933|17 .900|26 .867|35 .833|43 .817|52 .783|61 .767|69 .733|78 .717|87 .683|"
    "100 .600",
    "A 24 V": "9 1.950|17 1.900|26 1.817|35 1.767|43 1.717|52 1.683|61 1.650|69 1.633|78 1.550|"
    "87 1.517|100 1.367",
    "B 12 V": "9 .62|17 .60|26 .58|35 .57|43 .56|52 .53|61 .52|69 .51|78 .49|87 .48|100 .43",
    "B 24 V": "9 1.35|17 1.32|26 1.28|35 1.25|43 1.22|52 1.20|61 1.15|69 1.12|78 1.08|87 1.06|"
    "100 1.00",
}
FIVE_CHAMBER = {
    "C 12 V": "0 2.10|9 1.75|17 1.60|26 1.40|35 1.30|43 1.20|52 1.10",
    "C 24 V": "0 4.00|9 3.80|17 3.40|26 3.20|35 3.10|43 2.90|52 2.80",
    "C 30 V": "0 5.00|9 4.70|17 4.50|26 3.90|35 3.70|43 3.50|52 3.30",
}


def rows(table: str) -> list[tuple[float, float]]:
    pairs = [row.split() for row in table.split("|")]
    return [(float(psi) * PSI, float(gallons) * GPM) for psi, gallons in pairs]


@pytest.mark.parametrize("name", [*THREE_CHAMBER, *FIVE_CHAMBER])
def test_a_table_is_met_in_every_row(name):
    table = rows({**THREE_CHAMBER, **FIVE_CHAMBER}[name])
    curve = PumpCurve(table)
    for pressure, flow in table:
        assert curve.flow_at(pressure) == pytest.approx(flow, rel=1e-9)
        assert curve.pressure_pa(flow) == pytest.approx(pressure, abs=1e-3)
    # A printed fact of the tables: the three-chamber pumps lose 31 to 36 % from 9 to 100 psi,
    # the five-chamber one at 12 V 48 % from open to 52 psi.
    lost = 1.0 - table[-1][1] / table[0][1]
    if name == "C 12 V":
        assert lost == pytest.approx(0.48, abs=0.005)
    if name in ("A 12 V", "B 12 V"):
        assert 0.30 < lost < 0.365


@given(
    st.lists(
        st.tuples(st.floats(0, 1e6), st.floats(0, 1e-3)),
        min_size=2,
        max_size=12,
        unique_by=lambda row: round(row[0], -3),
    ),
    st.floats(-1e-4, 2e-3),
    st.floats(1e-7, 1e-3),
)
def test_any_table_makes_a_falling_curve(table, flow, more):
    """Rows out of order, twice the same flow, or rising with pressure: still usable."""
    curve = PumpCurve(table)
    low, slope = curve.loss(flow)
    high, _ = curve.loss(flow + more)
    assert slope > 0.0
    assert high > low


def test_one_pressure_is_no_curve():
    with pytest.raises(ValueError, match="two rows of different pressure"):
        PumpCurve([(1e5, 1e-4), (1e5, 2e-4)])


# --- the drawdown of a vessel ------------------------------------------------------------------


def test_published_drawdown():
    """Driller's article: pre-charge 28, 30 to 50 psi, 85 gal, air 14.7 psi: 0.295, 25.1 gal."""
    share = useful_volume_m3(1.0, 28 * PSI, 30 * PSI, 50 * PSI, 14.7 * PSI)
    assert share == pytest.approx(0.295, abs=0.0005)
    assert 85 * share == pytest.approx(25.1, rel=0.002)


@pytest.mark.parametrize(
    ("low", "high", "factor"),
    # Published drawdown charts, pre-charge equal to cut-in: 20/40, 30/50, 40/60 psi.
    [(20, 40, 0.366), (30, 50, 0.309), (40, 60, 0.268)],
)
def test_drawdown_charts(low, high, factor):
    share = useful_volume_m3(1.0, low * PSI, low * PSI, high * PSI, 14.7 * PSI)
    assert share == pytest.approx(factor, abs=0.001)


def test_height_helps_the_vessel_a_little():
    """The same vessel at 6000 ft (11.8 psi of air): 0.3081; inputs from the driller's article."""
    share = useful_volume_m3(1.0, 28 * PSI, 30 * PSI, 50 * PSI, 11.8 * PSI)
    assert share == pytest.approx(0.308, abs=0.001)


def test_pre_charge_outside_the_range():
    at_cut_in = useful_volume_m3(1e-3, 30 * PSI, 30 * PSI, 50 * PSI, 14.7 * PSI)
    above = useful_volume_m3(1e-3, 35 * PSI, 30 * PSI, 50 * PSI, 14.7 * PSI)
    assert 0.0 < above < at_cut_in
    assert useful_volume_m3(1e-3, 60 * PSI, 30 * PSI, 50 * PSI, 14.7 * PSI) == 0.0


# --- a demand pump in a line -------------------------------------------------------------------


def solved(*things: object, **more: object) -> WaterResult:
    made: Build = build(*things, **more)
    return solve_water(made, make_network(made))


def line(flow: str, pressure: str, **tap_more: object) -> tuple[object, ...]:
    return (
        tank("jug"),
        pump("pump"),
        tap("rinser", opening(flow, pressure), **tap_more),
        tube("jug", "pump", "0.3 m", "9 mm"),
        tube("pump", "rinser", "0.5 m", "9 mm"),
    )


def outlet_pa(result: WaterResult, case: str) -> float:
    return result.cases[case].pressures_pa["pump", "outlet"]


def test_a_pump_that_can_give_more_cycles_and_is_judged_at_cut_in():
    """0.3 gal/min at 45 psi is far below what the pump gives at cut-out."""
    made = build(
        tank("jug"),
        pump("pump", [("0 psi", "3 gal/min"), ("60 psi", "1.5 gal/min")]),
        tap("rinser", opening("0.3 gal/min", "45 psi"), least="30 psi"),
        tube("jug", "pump"),
        tube("pump", "rinser"),
    )
    result = solve_water(made, make_network(made))
    assert outlet_pa(result, "All shut") == pytest.approx(60 * PSI, abs=50)
    assert outlet_pa(result, alone("rinser")) == pytest.approx(45 * PSI, abs=50)


def test_a_pump_that_cannot_give_enough_runs_on_its_curve():
    """The label's line from 1.9 gal/min at 0 to nothing at 60 psi, met with a root by hand.

    The opening of 1.9 gal/min at 40 psi on the pump itself: q = 1.9 sqrt(p/40) and
    q = 1.9 (1 - p/60) meet where p/60 = 1 - sqrt(p/40): p = 18.8 psi.
    """
    result = solved(
        tank("jug"),
        pump("pump"),
        tap("rinser", opening("1.9 gal/min", "40 psi")),
        tube("jug", "pump", "10 mm", "25 mm"),
        tube("pump", "rinser", "10 mm", "25 mm"),
    )
    at_outlet = outlet_pa(result, alone("rinser"))
    # The tap stands 30 in above the pump (1.1 psi), which a hand calculation leaves out.
    assert at_outlet / PSI == pytest.approx(18.8, abs=1.1)
    flow = result.tap("rinser").states[alone("rinser")].flow
    assert flow / GPM == pytest.approx(1.9 * (1 - (at_outlet / PSI) / 60), rel=0.02)


def test_delivered_pressure_is_never_above_cut_out():
    result = solved(
        tank("jug"),
        pump("pump", [("0 psi", "1.9 gal/min"), ("150 psi", "1.2 gal/min")], "30 psi", "45 psi"),
        tap("rinser", opening("0.5 gal/min", "40 psi")),
        tube("jug", "pump"),
        tube("pump", "rinser"),
    )
    for case in result.cases.values():
        assert case.pressures_pa["pump", "outlet"] <= 45 * PSI + 50


def test_suction_on_a_long_thin_tube_starves_the_pump_without_nonsense():
    """No line goes below the boiling pressure of water, however hard a pump pulls."""
    result = solved(
        tank("jug"),
        pump("pump", [("0 psi", "5 gal/min"), ("60 psi", "4 gal/min")]),
        tap("rinser", opening("4 gal/min", "20 psi")),
        tube("jug", "pump", "10 m", "4 mm"),
        tube("pump", "rinser"),
    )
    state = result.cases[alone("rinser")]
    assert state.converged
    assert [one.code for one in result.troubles] == ["starved"]
    # At 20 degC water boils at 2.3 kPa absolute (IAPWS): -0.99 bar gauge at sea level.
    assert state.pressures_pa["pump", "inlet"] == pytest.approx(-98_990, abs=300)
    assert 0.0 < state.source_flow["pump"] < 4 * GPM


def test_mains_that_push_harder_than_the_switch_pass_through_a_standing_pump():
    result = solved(
        mains("mains", "80 psi", connector="3/8 push-fit"),
        pump("pump", cut_in="30 psi", cut_out="45 psi"),
        tap("rinser", drawn("0.5 gal/min"), greatest="100 psi"),
        tube("mains", "pump"),
        tube("pump", "rinser"),
    )
    assert result.cases["All shut"].pressures_pa["pump", "outlet"] > 75 * PSI


def test_vessel_is_found_behind_the_pump():
    result = solved(
        tank("jug"),
        pump("pump", cut_in="30 psi", cut_out="45 psi"),
        accumulator("vessel", "1 L", "27 psi"),
        tap("rinser"),
        tube("jug", "pump"),
        tube("pump", "vessel.a"),
        tube("vessel.b", "rinser"),
    )
    (state,) = result.pumps
    assert state.accumulator == "vessel"
    # A litre at 27 psi between 30 and 45 psi gives about 0.23 L: reported by people who run carts.
    assert state.useful_volume == pytest.approx(0.23e-3, rel=0.03)
