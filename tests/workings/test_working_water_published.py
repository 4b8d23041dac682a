"""Workings of water read back as text, against examples that others worked out."""

import math
import re

import pytest
from building import (
    accumulator,
    build,
    drawn,
    mains,
    opening,
    point,
    pump,
    regulator,
    tank,
    tap,
    tube,
    water_filter,
)
from fluids.friction import friction_factor
from msgspec.structs import replace

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Venue
from cartlayout.units import Length, Pressure, Temperature, UnitSystem
from cartlayout.workings.find import working
from cartlayout.workings.model import Number, Step, Working
from cartlayout.workings.shown import lines, text

SAME = {"least": Pressure("4 bar"), "greatest": Pressure("4 bar")}


def line(length: str, bore: str, flow: str, celsius: str = "20 degC", **more: str) -> Analysis:
    made = build(
        mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base", height="2 in"),
        tap(
            "tap", drawn(flow), required_flow=flow, least="0.1 bar", greatest="6 bar", level="base"
        ),
        tube("mains.outlet", "tap.inlet", length, bore, run_id="line", **more),
    )
    return analyse(replace(made, venue=Venue(water_temperature=Temperature(celsius))))


def of(analysis: Analysis, number: Number) -> Working:
    found = working(analysis, number)
    assert found is not None
    return found


def step(found: Working, symbol: str) -> Step:
    return next(one for one in found.steps if one.symbol == symbol)


def test_soda_straw():
    """Fluid-mechanics textbook, laminar flow in a straw: 0.2 m long, 2 mm wide, 3 cm3/s of water at
    10 degC (density 1,000, viscosity 1.307e-3): Re 1460, head lost 0.204 m."""
    found = of(
        line("0.2 m", "2 mm", "0.18 L/min", "10 degC"), Number("tube", "line", "loss", "tap alone")
    )
    assert step(found, "Re").result.si == pytest.approx(1460, rel=2e-3)
    assert step(found, "p_f").result.si == pytest.approx(0.204 * 1000 * 9.81, rel=5e-3)
    said = text(found, UnitSystem.METRIC)
    assert "f = 64 / Re" in said
    assert "Hagen and Poiseuille" in said


def test_smooth_plastic_tube():
    """Flow of Fluids (TP-410M), example 7.1: smooth plastic pipe of 50 mm, 200 L/min at 30 degC:
    Re 100,600, friction factor 0.0179. Such a pipe of schedule 40 is 52.5 mm wide (ASME B36.10)."""
    analysis = line("20 m", "52.5 mm", "200 L/min", "30 degC", roughness="0 mm", outer="60 mm")
    found = of(analysis, Number("tube", "line", "loss", "tap alone"))
    assert step(found, "Re").result.si == pytest.approx(100_600, rel=0.01)
    assert step(found, "f").result.si == pytest.approx(0.0179, rel=0.01)
    assert "Colebrook" in text(found, UnitSystem.METRIC)


@pytest.mark.parametrize("flow", ["2 L/min", "4 L/min", "8 L/min"])
def test_friction_factor_is_that_of_a_library(flow):
    """The `fluids` library's exact solution of Colebrook's formula."""
    found = of(line("3 m", "4.318 mm", flow), Number("tube", "line", "loss", "tap alone"))
    reynolds = step(found, "Re").result.si
    assert step(found, "f").result.si == pytest.approx(
        friction_factor(Re=reynolds, eD=0.0015 / 4.318), rel=1e-6
    )


def test_undecided_flow_says_so():
    """Between Re 2,000 and 4,000 no formula is right (any text on fluid mechanics)."""
    found = of(line("3 m", "6.35 mm", "0.9 L/min"), Number("tube", "line", "loss", "tap alone"))
    said = text(found, UnitSystem.METRIC)
    assert 2000 < step(found, "Q_2").result.si / step(found, "Q_1").result.si * 2000 <= 4000
    assert "no formula is right" in said
    assert "cubic" in said


def test_drawdown_of_a_pressure_tank():
    """Well-drillers' journal on drawdown: charge 28 psi, switch 30 to 50 psi, 85 gal at sea level:
    0.295 of it, 25.1 gal."""
    made = analyse(
        build(
            tank("jug", outlet_height="1 in"),
            pump("pump", (("0 psi", "10 gal/min"), ("60 psi", "2 gal/min")), "30 psi", "50 psi"),
            accumulator("vessel", "85 gal", "28 psi"),
            tap("tap", opening("1 gal/min", "20 psi")),
            tube("jug.outlet", "pump.inlet"),
            tube("pump.outlet", "vessel.a"),
            tube("vessel.b", "tap.inlet"),
        )
    )
    found = of(made, Number("pump", "pump", "useful volume"))
    gallon = 3.785411784e-3
    assert found.result.si / gallon == pytest.approx(25.1, rel=2e-3)
    assert found.result.si / gallon / 85 == pytest.approx(0.295, abs=5e-4)
    assert "Boyle" in text(found, UnitSystem.US)


def test_waste_tank_of_forty_gallons():
    """FDA Food Code 5-401.11: waste 15 % larger than supply; 40 gal of fresh water ask for 46."""
    made = analyse(build(tank("fresh", "40 gal"), tank("waste", "40 gal", "waste")))
    found = of(made, Number("tank", "waste", "needed"))
    assert found.result.shown(UnitSystem.US) == "46.0 gal"
    assert not found.held[0].holds
    assert "5-401.11" in found.held[0].source
    assert "1.15 × 40 gal = 46 gal" in text(found, UnitSystem.US)


def test_a_column_of_water_weighs_what_the_trade_says():
    """0.433 psi a foot (every plumbing handbook); 0.098 bar a metre."""
    made = line("1 m", "6 mm", "1 L/min")
    found = of(made, Number("tap", "tap.inlet", "static"))
    assert "0.4327 psi/ft" in text(found, UnitSystem.US)
    assert "0.09789 bar/m" in text(found, UnitSystem.METRIC)
    assert round(0.4327, 3) == 0.433


def test_filter_through_two_points():
    """A line and a square through (1 L/min, 0.1 bar) and (3 L/min, 0.6 bar), solved by hand:
    b = (0.6/3 - 0.1/1) / (3 - 1) = 0.05, a = 0.1 - 0.05 = 0.05; at 2 L/min 0.1 + 0.2 = 0.3 bar."""
    made = analyse(
        build(
            mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base"),
            water_filter("filter", point("1 L/min", "0.1 bar"), point("3 L/min", "0.6 bar")),
            tap(
                "tap", drawn("2 L/min"), required_flow="2 L/min", least="0.1 bar", greatest="6 bar"
            ),
            tube("mains.outlet", "filter.inlet"),
            tube("filter.outlet", "tap.inlet"),
        )
    )
    key = next(
        number.of
        for number in _numbers(made, "element")
        if number.case == "tap alone" and "filter" in number.of
    )
    found = of(made, Number("element", key, "loss", "tap alone"))
    assert found.result.si == pytest.approx(0.3e5, rel=1e-4)
    said = text(found, UnitSystem.METRIC)
    assert re.search(r"b = .* = 0\.05 bar/\(L/min\)²", said)
    assert re.search(r"a = .* = 0\.05 bar/\(L/min\)", said)


def _numbers(analysis: Analysis, subject: str) -> list[Number]:
    from cartlayout.workings.water import WATER

    return [*WATER[subject].numbers(analysis)]


def test_opening_follows_the_root_of_the_pressure():
    """Spray-tip tests: 0.40 gal/min at 40 psi, 0.346 gal/min at 30 psi."""
    made = analyse(
        build(
            mains(
                "mains",
                "30 psi",
                connector="3/8 push-fit",
                water={"least": Pressure("30 psi"), "greatest": Pressure("30 psi")},
                level="base",
                height="2 in",
            ),
            tap("tap", opening("0.40 gal/min", "40 psi"), least="5 psi", level="base"),
            tube("mains.outlet", "tap.inlet", "0.01 m", "30 mm", outer="40 mm"),
        )
    )
    found = of(made, Number("tap", "tap.inlet", "flow", "tap alone"))
    given = step(found, "Q")
    pressure = next(one.value.si for one in given.symbols if one.name == "p")
    assert pressure == pytest.approx(30 * 6894.757, rel=0.05)
    by_root = 0.40 * math.sqrt(pressure / 6894.757 / 40)
    assert found.result.si / 6.30902e-5 == pytest.approx(by_root, rel=1e-3)
    assert found.result.si / 6.30902e-5 == pytest.approx(0.346, rel=0.03)


def test_regulator_shut_and_running():
    """By hand: set at 2 bar, 0.2 bar creep, 0.5 bar droop at 10 L/min: 2.2 bar shut, and at 4 L/min
    2 - 0.2 = 1.8 bar."""
    made = analyse(
        build(
            mains("mains", "5 bar", connector="3/8 push-fit", level="base"),
            regulator(
                "reg",
                "2 bar",
                {"droop": point("10 L/min", "0.5 bar"), "creep": Pressure("0.2 bar")},
            ),
            tap(
                "tap", drawn("4 L/min"), required_flow="4 L/min", least="0.1 bar", greatest="6 bar"
            ),
            tube("mains.outlet", "reg.inlet", bore="12 mm", outer="16 mm"),
            tube("reg.outlet", "tap.inlet", bore="12 mm", outer="16 mm"),
        )
    )
    shut = of(made, Number("regulator", "reg", "shut"))
    assert shut.result.si == pytest.approx(2.2e5, rel=1e-6)
    running = of(made, Number("regulator", "reg", "outlet"))
    assert running.result.si == pytest.approx(1.8e5, rel=1e-4)


def test_words_are_whole_in_both_systems():
    made = line("2 m", "6 mm", "3 L/min")
    for number in (
        Number("tap", "tap.inlet", "pressure", "tap alone"),
        Number("tube", "line", "loss", "tap alone"),
    ):
        for system in UnitSystem:
            for one in lines(of(made, number), system):
                assert "{" not in one.text
                assert "nan" not in one.text


def test_typical_figures_are_marked():
    """A specification that says "typical" is said to be so, in the working's own words."""
    from cartlayout.build import Origin

    made = build(
        mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base"),
        tap("tap", opening("4 L/min", "2 bar"), least="1 bar", greatest="6 bar"),
        tube("mains.outlet", "tap.inlet", "2 m"),
    )
    items = tuple(
        replace(
            one,
            specification=replace(
                one.specification, origins=(Origin(of="inlet flow", basis="typical"),)
            ),
        )
        if one.id == "tap"
        else one
        for one in made.items
    )
    found = of(analyse(replace(made, items=items)), Number("tap", "tap.inlet", "flow", "tap alone"))
    assert any("typical" in one.shown(UnitSystem.US) for one in found.assumptions)
    assert any(symbol.is_typical for one in found.steps for symbol in one.symbols)


def test_spare_is_said_where_the_length_is_not_entered():
    made = build(
        mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base"),
        tap("tap", drawn("2 L/min"), least="1 bar", greatest="6 bar", level="base"),
        tube("mains.outlet", "tap.inlet", None, spare=Length("100 mm"), run_id="line"),
    )
    found = of(analyse(made), Number("tube", "line", "loss", "tap alone"))
    assert "100 mm to spare" in " ".join(one.shown(UnitSystem.METRIC) for one in found.assumptions)
