"""What happened to people (reference cases C08 to C16): each gets a proven remedy, or a reason."""

import pytest
from building import (
    accumulator,
    basin,
    build,
    drawn,
    heater,
    mains,
    opening,
    outlet,
    point,
    pump,
    tank,
    tap,
    tube,
    water_filter,
)
from msgspec.structs import replace
from remedies_claims import check_remedy

from cartlayout.advice.remedies import Remedy, best_first, remedies
from cartlayout.advice.remedies.sources import why_none
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, Item, Pump, TubeRun, WayPoint
from cartlayout.network import tube_named
from cartlayout.units import Concentration, Length, Pressure

PSI_PA = 6894.757
GAL_M3 = 3.785412e-3
INCH_M = 0.0254


def spread(*things: Item | TubeRun) -> Build:
    """The things a foot apart from left to right, with nothing in each other's way."""
    placed: list[object] = []
    for thing in things:
        if isinstance(thing, Item) and thing.level != "venue":
            at = sum(1 for one in placed if isinstance(one, Item) and one.level == thing.level)
            thing = replace(thing, x=Length(f"{6 + 11 * at} in"))
        placed.append(thing)
    return build(*placed)  # type: ignore[arg-type]


def helped(made: Build, code: str) -> tuple[Analysis, tuple[Remedy, ...]]:
    """Every remedy against a finding, each held against an analysis of its own."""
    analysis = analyse(made)
    finding = next(one for one in analysis.findings if one.code == code)
    found = [one for one in remedies(analysis, finding) if isinstance(one, Remedy)]
    for one in found:
        check_remedy(analysis, one)
    return analysis, best_first(found)


def supply(name: str, a: str, b: str) -> TubeRun:
    return replace(tube(a, b, None), tube=tube_named(name))


# --- C08 ---------------------------------------------------------------------------------------


def unlit(*more: Item | TubeRun) -> Build:
    return spread(
        tank("jug", level="base"),
        pump(
            "pump",
            [("0 psi", "1.5 gal/min"), ("40 psi", "1 gal/min")],
            "10 psi",
            "20 psi",
            level="base",
        ),
        accumulator("vessel", pre_charge="8 psi", level="base"),
        supply("3/8 in tube", "jug", "pump"),
        supply("3/8 in tube", "pump", "vessel.a"),
        *more,
    )


def test_c08_a_heater_that_never_lights_gets_a_pump_that_pushes_higher() -> None:
    """The pump shuts off at 20 psi, the heater lights at 25 psi: it takes more than 25 psi."""
    made = unlit(
        heater("heater", water={"least_pressure": Pressure("25 psi")}, level="base"),
        tap("sink", opening("0.5 gal/min", "8 psi"), least="8 psi", required_flow="0.2 gal/min"),
        supply("3/8 in tube", "vessel.b", "heater"),
        supply("3/8 in PEX tube", "heater", "sink"),
    )
    _, found = helped(made, "water.heater-never")
    pumps = [one for one in found if one.kind == "other pump"]
    assert pumps
    for one in pumps:
        item = one.build.item("pump")
        assert item is not None
        assert isinstance(item.specification.water, Pump)
        assert item.specification.water.cut_out.si > 25 * PSI_PA
        assert one.value is not None
        assert one.value.si > 25 * PSI_PA


def test_c08_the_same_where_the_heater_is_the_tap() -> None:
    made = unlit(
        tap("heater", opening("0.5 gal/min", "25 psi"), least="25 psi",
            required_flow="0.5 gal/min"),
        supply("3/8 in tube", "vessel.b", "heater"),
    )  # fmt: skip
    _, found = helped(made, "water.never")
    assert any(one.kind == "other pump" for one in found)


# --- C09, C10 ----------------------------------------------------------------------------------


def vessel_line(pre_charge: str) -> Build:
    return spread(
        tank("jug", level="base"),
        pump("pump", cut_in="30 psi", cut_out="45 psi", level="base"),
        accumulator("vessel", "1 L", pre_charge, level="base"),
        tap("rinser", opening("0.5 gal/min", "20 psi"), required_flow="0.5 gal/min"),
        supply("3/8 in tube", "jug", "pump"),
        supply("3/8 in tube", "pump", "vessel.a"),
        supply("3/8 in tube", "vessel.b", "rinser"),
    )


def test_c10_a_vessel_charged_above_the_cut_in_is_let_down_to_28_psi() -> None:
    """Well-tank fitting instructions: 2 psi below a cut-in of 30 psi."""
    _, found = helped(vessel_line("35 psi"), "water.pre-charge")
    assert found[0].value is not None
    assert found[0].value.si == pytest.approx(28 * PSI_PA, rel=1e-3)
    assert found[0].effort == 0


def test_c09_a_vessel_as_it_should_be_needs_no_remedy() -> None:
    """1 L, 27 psi, 30 on and 45 off: nothing is said of it, so nothing is offered."""
    analysis = analyse(vessel_line("27 psi"))
    said = {one.code for one in analysis.findings}
    assert not said & {"water.pre-charge", "water.pre-charge-low", "water.no-accumulator"}


# --- C11 ---------------------------------------------------------------------------------------


def test_c11_fresh_and_waste_of_one_size() -> None:
    """Waste 15 % larger (Food Code 5-401.11): 20 gal of fresh ask for 23 gal of waste."""
    made = spread(
        tank("fresh", "20 gal", level="base"), tank("waste", "20 gal", "waste", level="base")
    )
    _, found = helped(made, "water.waste-ratio")
    kinds = {one.kind for one in found}
    assert {"larger waste tank", "smaller fresh tank"} <= kinds
    for one in found:
        balance = one.analysis.water.balance
        assert balance is not None
        assert balance.waste >= 1.15 * balance.fresh * (1 - 1e-6)
    largest = next(one for one in found if one.kind == "larger waste tank")
    assert largest.value is not None
    assert largest.value.si >= 23 * GAL_M3 * 0.999


# --- C12 ---------------------------------------------------------------------------------------


def test_c12_the_fill_governs_a_filter() -> None:
    """2.5 L/min through a cartridge rated 1.9 L/min is 132 %: a larger one carries it."""
    made = spread(
        mains("mains", "2.2 bar", connector="3/8 push-fit", level="venue"),
        water_filter(
            "filter", point("1.9 L/min", "0.6 bar"), rated_flow="1.9 L/min", level="base"
        ),
        tap("machine", drawn("2.5 L/min"), required_flow="2.5 L/min", least="1.5 bar",
            greatest="6 bar"),
        supply("3/8 in tube", "mains", "filter"),
        supply("3/8 in tube", "filter", "machine"),
    )  # fmt: skip
    for code in ("water.filter-flow", "water.pressure"):
        _, found = helped(made, code)
        larger = [one for one in found if one.kind == "larger filter"]
        assert larger, code
        assert all(one.cautions for one in larger)  # what it takes out is to be looked at
        assert all(state.rated_flow >= 2.5 / 60000 for state in larger[0].analysis.water.filters)


# --- C14 ---------------------------------------------------------------------------------------


def test_c14_water_too_pure_for_a_probe_is_nothing_that_can_be_tried() -> None:
    """How pure water may be is the maker's word: a reason is told, no remedy made up."""
    made = spread(
        mains("mains", "40 psi", connector="3/8 push-fit", level="venue"),
        tap("machine", drawn("2 L/min"), required_flow="2 L/min", water={"level_probe": True}),
        supply("3/8 in tube", "mains", "machine"),
    )
    venue = replace(made.venue, dissolved=Concentration("1 mg/L"))
    analysis = analyse(replace(made, venue=venue))
    finding = next(one for one in analysis.findings if one.code == "water.level-probe")
    assert not [one for one in remedies(analysis, finding) if isinstance(one, Remedy)]
    assert "maker" in why_none(finding)


# --- C16 ---------------------------------------------------------------------------------------


def over_a_rail() -> Build:
    """Leaves the sink level, rises over a rail and falls to the tank."""
    drain = replace(
        tube("sink.drain", "waste", None, "1 in", outer="1.3 in"),
        waypoints=(
            WayPoint(x=Length("20 in"), y=Length("15 in"), height=Length("36 in")),
            WayPoint(x=Length("30 in"), y=Length("15 in"), height=Length("39 in")),
        ),
    )
    return build(
        basin("sink", level="counter", at=("10 in", "15 in")),
        tank("waste", "10 gal", "waste", level="base", at=("60 in", "15 in"),
             connector="drain 1 in"),
        outlet("outlet"),
        drain,
    )  # fmt: skip


def test_c16_an_air_lock_is_led_down_all_the_way() -> None:
    """The rail is left aside: water falls from end to end, as a drain has to."""
    analysis, found = helped(over_a_rail(), "water.drain-rise")
    assert found[0].kind == "shorter tube"
    drain = next(iter(found[0].analysis.water.drains))
    assert not drain.low_points
    assert drain.fall_m > 0.0
    assert analysis.count("stop") > found[0].analysis.count("stop")


def test_c16_a_drain_that_lies_level_gets_the_fall_that_codes_ask() -> None:
    """1/4 in a foot for pipes of 2 1/2 in and less: International Plumbing Code, table 704.1."""
    made = build(
        basin("sink", level="base", at=("10 in", "15 in"), raised=Length("10 in")),
        tank("waste", "10 gal", "waste", level="base", at=("58 in", "15 in"),
             connector="drain 1 in"),
        tube("sink.drain", "waste", None, "1 in", outer="1.3 in"),
    )  # fmt: skip
    _, found = helped(made, "water.drain-no-fall")
    assert found
    for one in found:
        for drain in one.analysis.water.drains:
            flattest = drain.flattest
            if drain.pumped or flattest is None or flattest.flat_m < 0.1:
                continue
            assert flattest.fall_m / flattest.flat_m >= 0.25 / 12 - 1e-6


# --- cautions ----------------------------------------------------------------------------------


def test_a_storage_heater_set_lower_brings_a_word_about_germs() -> None:
    """Below 60 degC stored water can breed legionella (WHO 2007, from memory): it is said."""
    made = unlit(
        heater("heater", outlet="65 degC", level="base"),
        tap(
            "sink",
            opening("0.5 gal/min", "4 psi"),
            least="4 psi",
            required_flow="0.2 gal/min",
            highest_temperature="49 degC",
        ),
        supply("3/8 in tube", "vessel.b", "heater"),
        supply("3/8 in PEX tube", "heater", "sink"),
    )
    _, found = helped(made, "water.temperature")
    lower = next(one for one in found if one.kind == "heater setting")
    assert any("legionella" in one for one in lower.cautions)


def test_whoever_has_to_check_it_is_named() -> None:
    """Pumps are plugged in: a licensed electrician; mains and heaters: a licensed plumber."""
    made = unlit(
        heater("heater", water={"least_pressure": Pressure("25 psi")}, level="base"),
        tap("sink", opening("0.5 gal/min", "8 psi"), least="8 psi", required_flow="0.2 gal/min"),
        supply("3/8 in tube", "vessel.b", "heater"),
        supply("3/8 in PEX tube", "heater", "sink"),
    )
    _, found = helped(made, "water.heater-never")
    for one in found:
        if one.kind in ("other pump", "add pump", "other heater"):
            assert any("electrician" in text for text in one.cautions)
        if one.kind == "other heater":
            assert any("plumber" in text for text in one.cautions)
