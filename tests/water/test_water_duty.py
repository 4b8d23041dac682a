"""Demand pumps and their vessels: cycles, working points, swings."""

import itertools
import math

import msgspec
import numpy as np
import pytest
from building import accumulator, build, drawn, mains, opening, pump, tank, tap, tube
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.build import Build, Bypass, Pump, PumpPoint, Service
from cartlayout.findings.finding import Finding
from cartlayout.findings.water_elements import element_rules
from cartlayout.findings.water_pump import cycle_working, pump_rules
from cartlayout.findings.water_words import Place
from cartlayout.network import make_network
from cartlayout.units import Current, Duration, Flow, Pressure, UnitSystem, Volume
from cartlayout.water import WaterResult, alone, solve_water
from cartlayout.water.accumulator import useful_volume_m3
from cartlayout.water.duty import current_at, cycle
from cartlayout.water.pump_results import PumpDuty, starts_per_hour

PSI = 6894.757
GPM = 6.30902e-5
GAL = 3.785411784e-3
MINUTE = 60.0

# Owner's manuals of solar diaphragm pumps, 911-415 (2012) pp. 4, 14 and IMI-160 (2015) pp. 3, 11:
# pressure in psi, flow in gal/min, current in A; 76 rows.
TABLES = {
    "A 12 V": "9 .933 1.2|17 .900 1.5|26 .867 1.8|35 .833 2.0|43 .817 2.1|52 .783 2.4|61 .767 2.7|"
    "69 .733 3.0|78 .717 3.3|87 .683 3.4|100 .600 3.9",
    "A 24 V": "9 1.950 1.5|17 1.900 1.7|26 1.817 2.1|35 1.767 2.4|43 1.717 2.6|52 1.683 2.8|"
    "61 1.650 3.1|69 1.633 3.3|78 1.550 3.6|87 1.517 3.8|100 1.367 4.1",
    "B 12 V": "9 .62 1.3|17 .60 1.6|26 .58 1.8|35 .57 2.0|43 .56 2.3|52 .53 2.5|61 .52 2.6|"
    "69 .51 2.8|78 .49 3.1|87 .48 3.3|100 .43 3.5",
    "B 24 V": "9 1.35 1.3|17 1.32 1.6|26 1.28 1.8|35 1.25 2.0|43 1.22 2.3|52 1.20 2.5|61 1.15 2.6|"
    "69 1.12 2.8|78 1.08 3.1|87 1.06 3.3|100 1.00 3.5",
    "B 30 V": "9 1.70 1.4|17 1.65 1.7|26 1.60 1.8|35 1.55 2.1|43 1.50 2.4|52 1.48 2.6|61 1.42 2.8|"
    "69 1.40 3.0|78 1.35 3.2|87 1.30 3.4|100 1.25 3.7",
    "C 12 V": "0 2.10 .80|9 1.75 1.70|17 1.60 2.30|26 1.40 3.00|35 1.30 3.50|43 1.20 3.90|"
    "52 1.10 4.40",
    "C 24 V": "0 4.00 2.00|9 3.80 2.50|17 3.40 3.30|26 3.20 3.50|35 3.10 4.30|43 2.90 4.80|"
    "52 2.80 5.10",
    "C 30 V": "0 5.00 2.00|9 4.70 2.50|17 4.50 3.10|26 3.90 3.70|35 3.70 4.30|43 3.50 4.60|"
    "52 3.30 5.00",
}


def rows(name: str) -> list[tuple[float, float, float]]:
    split = (row.split() for row in TABLES[name].split("|"))
    return [(float(psi), float(gal_min), float(amps)) for psi, gal_min, amps in split]


def role(name: str, cut_in: str = "30 psi", cut_out: str = "45 psi") -> Pump:
    curve = tuple(
        PumpPoint(
            pressure=Pressure(f"{p} psi"), flow=Flow(f"{q} gal/min"), current=Current(f"{a} A")
        )
        for p, q, a in rows(name)
    )
    return Pump(curve=curve, cut_in=Pressure(cut_in), cut_out=Pressure(cut_out))


def with_role(item, water):
    specification = msgspec.structs.replace(item.specification, water=water)
    return msgspec.structs.replace(item, specification=specification)


def flat(flow: str) -> list[tuple[str, str]]:
    """A pump that gives nearly the same at any pressure, as the printed examples take it."""
    given = Flow(flow).si / GPM
    return [("0 psi", f"{given * 1.0001} gal/min"), ("100 psi", f"{given * 0.9999} gal/min")]


def cart(*things: object, **more: object) -> tuple[Build, WaterResult]:
    made: Build = build(*things, **more)
    return made, solve_water(made, make_network(made))


def line(
    made_pump, draw: str = "0.5 gal/min", vessel=None, **more: object
) -> tuple[Build, WaterResult]:
    """A jug, a pump, a vessel and a tap that draws evenly, on short stiff tubes."""
    things = [tank("jug"), made_pump, tap("rinser", drawn(draw), least="0 psi")]
    things.append(tube("jug", made_pump.id, "50 mm", "25 mm"))
    if vessel is not None:
        things += [vessel, tube(made_pump.id, f"{vessel.id}.a", "50 mm", "10 mm", outer="20 mm")]
    start = f"{vessel.id}.b" if vessel is not None else made_pump.id
    things.append(tube(start, "rinser", "50 mm", "10 mm", outer="20 mm"))
    return cart(*things, **more)


def duty_of(result: WaterResult) -> PumpDuty:
    (duty,) = result.duties
    return duty


def found_in(build: Build, result: WaterResult) -> dict[str, Finding]:
    place = Place(build, make_network(build), result)
    return {one.code: one for one in (*pump_rules(place), *element_rules(place))}


def codes(build: Build, result: WaterResult) -> dict[str, str]:
    return {code: one.severity for code, one in found_in(build, result).items()}


def test_there_are_76_rows():
    assert sum(len(rows(name)) for name in TABLES) == 76


@pytest.mark.parametrize("name", TABLES)
def test_current_follows_the_table(name):
    pump_role = role(name)
    table = rows(name)
    for pressure, _, amps in table:
        assert current_at(pump_role, pressure * PSI) == pytest.approx(amps, abs=1e-6)
    for (p0, _, a0), (p1, _, a1) in itertools.pairwise(table):
        between = current_at(pump_role, 0.5 * (p0 + p1) * PSI)
        assert min(a0, a1) <= between <= max(a0, a1)


def test_without_currents_nobody_knows():
    assert current_at(role("A 12 V"), 0.0) == 1.2  # below its first row
    plain = Pump(
        curve=(PumpPoint(pressure=Pressure("0 psi"), flow=Flow("1 gal/min")),),
        cut_in=Pressure("30 psi"),
        cut_out=Pressure("45 psi"),
    )
    assert current_at(plain, 0.0) is None


# --- cycles against printed examples -----------------------------------------------------------


@pytest.mark.parametrize(
    ("draw", "on_min", "off_min", "a_day"),
    # Pump-control page on run and off times: a 10 gal/min pump, 10 gal of drawdown. The last row
    # is its own rule for the most starts, at half the flow: 4 V / Q.
    [(8, 5.0, 1.25, 230), (2, 1.25, 5.0, 230), (5, 2.0, 2.0, 360)],
)
def test_published_cycles(draw, on_min, off_min, a_day):
    low, high = 30 * PSI, 50 * PSI
    on, off = cycle(
        lambda _: 10 * GAL / (high - low),
        lambda _: 10 * GPM,
        lambda _: draw * GPM,
        low,
        high,
    )
    assert on / MINUTE == pytest.approx(on_min, rel=1e-4)
    assert off / MINUTE == pytest.approx(off_min, rel=1e-4)
    assert starts_per_hour(on, off) * 24 == pytest.approx(a_day, abs=0.5)


@pytest.mark.parametrize(("draw", "on_min", "off_min"), [(8, 5.0, 1.25), (2, 1.25, 5.0)])
def test_published_cycles_of_a_whole_line(draw, on_min, off_min):
    """The same, with a vessel that gives 10 gal by the published chart: factor 0.309 at 30/50."""
    vessel = accumulator("vessel", f"{10 / 0.309} gal", "30 psi")
    _, result = line(
        pump("pump", flat("10 gal/min"), "30 psi", "50 psi"), f"{draw} gal/min", vessel
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    assert point.cycles
    assert point.on_s / MINUTE == pytest.approx(on_min, rel=0.005)
    assert point.off_s / MINUTE == pytest.approx(off_min, rel=0.005)
    assert point.share_on == pytest.approx(draw / 10, rel=0.002)


@pytest.mark.parametrize(
    ("vessel", "useful_l", "starts"),
    # Tank-trade formulas worked with a pocket calculator for a 1.4 gal/min pump, pre-charge 2 psi
    # below cut-in: drawdown, and 3600 / (4 V / Q) starts an hour at half the pump's flow. A curve
    # has to fall a little, so that the pump gives half a percent more than 1.4 gal/min.
    [
        (("0.7 L", "28 psi", "30 psi", "45 psi"), 0.168, 473),
        (("1 L", "28 psi", "30 psi", "45 psi"), 0.240, 331),
        (("2 L", "28 psi", "30 psi", "45 psi"), 0.480, 166),
        (("8 L", "38 psi", "40 psi", "60 psi"), 2.06, 38.6),
    ],
)
def test_starts_at_the_worst_draw(vessel, useful_l, starts):
    volume, charge, cut_in, cut_out = vessel
    _, result = line(
        pump("pump", flat("1.4 gal/min"), cut_in, cut_out),
        "0.7 gal/min",
        accumulator("vessel", volume, charge),
    )
    duty = duty_of(result)
    assert duty.useful_volume * 1e3 == pytest.approx(useful_l, rel=0.005)
    assert duty.most_starts_per_hour == pytest.approx(starts, rel=0.01)
    assert duty.worst is not None
    assert duty.worst.starts_per_hour == pytest.approx(starts, rel=0.01)


def test_a_litre_between_30_and_45_psi():
    """Common practice, no source: 1 L at 27 psi gives about 0.23 L; starts by 4 V / Q."""
    made, result = line(
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "27 psi"),
    )
    duty = duty_of(result)
    assert duty.useful_volume * 1e3 == pytest.approx(0.23, abs=0.005)
    # 4 V / Q with V = 0.23 L and Q = 1.4 gal/min = 5.3 L/min: 10.4 s, 346 an hour.
    assert duty.worst is not None
    assert duty.worst.starts_per_hour == pytest.approx(346, rel=0.02)
    found = codes(made, result)
    assert "water.pre-charge" not in found
    assert "water.no-accumulator" not in found


def test_charged_above_cut_in_the_vessel_is_empty_before_the_pump_starts():
    made, result = line(
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "35 psi"),
    )
    assert codes(made, result)["water.pre-charge"] == "care"
    # Air at 35 psi holds water only above 35 psi: 49.7/49.7 - 49.7/59.7 of it (Boyle, 14.7 psi).
    assert duty_of(result).useful_volume * 1e3 == pytest.approx(1 - 49.7 / 59.7, rel=0.002)


def test_a_vessel_charged_within_the_band_is_filled_and_emptied_above_its_charge_only():
    """0.1675 L between 35 and 45 psi (Boyle, as above). Even draw of 0.7 of 1.4 gal/min, which is
    0.04416 L/s: 0.1675 / 0.04416 = 3.79 s on and as long off. Below 35 psi there is only the tube.
    """
    _, result = line(
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "35 psi"),
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    assert point.on_s == pytest.approx(3.79, rel=0.01)
    assert point.off_s == pytest.approx(3.79, rel=0.01)


def test_charged_above_cut_out_it_is_as_if_it_were_not_there():
    made, result = line(
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "50 psi"),
    )
    assert duty_of(result).useful_volume == 0.0
    told = found_in(made, result)["water.pre-charge"]
    assert "no water gets in" in told.detail.shown(UnitSystem.US)


def test_two_vessels_give_back_both():
    """0.24 L each by the drawdown formula, so half as many starts as with one: 331 / 2."""
    made, result = cart(
        tank("jug"),
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        accumulator("near", "1 L", "28 psi"),
        accumulator("far", "1 L", "28 psi"),
        tap("rinser", drawn("0.7 gal/min"), least="0 psi"),
        tube("jug", "pump", "50 mm", "25 mm"),
        tube("pump", "near.a", "50 mm", "10 mm", outer="20 mm"),
        tube("near.b", "far.a", "50 mm", "10 mm", outer="20 mm"),
        tube("far.b", "rinser", "50 mm", "10 mm", outer="20 mm"),
    )
    duty = duty_of(result)
    assert (duty.accumulator, duty.vessels) == ("near", ("near", "far"))
    assert duty.useful_volume * 1e3 == pytest.approx(0.480, rel=0.005)
    assert duty.worst is not None
    assert duty.worst.starts_per_hour == pytest.approx(331 / 2, rel=0.01)
    shown = [
        line.shown(UnitSystem.US)
        for line in cycle_working(Place(made, None, result), duty, duty.worst)
    ]
    assert [text.split(" gives")[0] for text in shown[:2]] == ["near", "far"]
    assert all("14.7 psi of air" in text for text in shown[:2])


def test_charged_far_too_low():
    made, result = line(
        pump("pump", flat("1.4 gal/min"), "40 psi", "60 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "10 psi"),
    )
    assert codes(made, result)["water.pre-charge-low"] == "care"


def test_no_vessel_chatters():
    """A few cubic centimetres of stretch at 5 L/min: several starts a second."""
    made, result = line(pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"), "0.7 gal/min")
    duty = duty_of(result)
    assert duty.accumulator is None
    assert duty.useful_volume == 0.0
    assert duty.worst is not None
    assert duty.worst.starts_per_hour > 3600.0
    assert duty.worst.chatters
    found = found_in(made, result)
    assert found["water.no-accumulator"].severity == "care"
    assert "rinser" in found["water.no-accumulator"].detail.shown(UnitSystem.US)


def test_a_swing_that_nobody_could_read_is_not_told():
    """A hair between cut-in and cut-out leaves a hair at the tap: no "between 34.5 and 34.5"."""
    made, result = line(pump("pump", flat("1.4 gal/min"), "44.95 psi", "45 psi"), "0.7 gal/min")
    detail = found_in(made, result)["water.no-accumulator"].detail.shown(UnitSystem.US)
    assert duty_of(result).swings
    assert "then sees" not in detail


def test_a_vessel_far_too_small():
    made, result = line(
        pump("pump", flat("5 gal/min"), "30 psi", "45 psi"),
        "1 gal/min",
        accumulator("vessel", "0.3 L", "28 psi"),
    )
    found = found_in(made, result)
    told = found["water.vessel-small"]
    # 0.3 L at 28/30/45 psi gives 0.072 L (Boyle), filled in 0.23 s at 5 gal/min = 0.315 L/s.
    assert told.value.si == pytest.approx(0.072 / 0.315, rel=0.02)
    assert len(told.working) >= 4


def test_more_starts_than_the_maker_allows():
    base = pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi")
    strict = msgspec.structs.replace(base.specification.water, starts_per_hour=100.0)
    made, result = line(
        with_role(base, strict), "0.7 gal/min", accumulator("vessel", "1 L", "28 psi")
    )
    told = found_in(made, result)["water.starts"]
    assert told.value.si == pytest.approx(331, rel=0.01)
    assert told.limit.si == 100.0


def test_a_pump_that_cannot_give_enough_runs_on():
    _, result = cart(
        tank("jug"),
        with_role(pump("pump"), role("C 12 V", "30 psi", "45 psi")),
        tap("rinser", opening("3 gal/min", "20 psi")),
        tube("jug", "pump", "50 mm", "12 mm"),
        tube("pump", "rinser", "50 mm", "12 mm"),
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    assert not point.cycles
    assert point.share_on == 1.0
    assert point.starts_per_hour == 0.0
    ((flow, added),) = point.ends
    # On the printed curve: the rows around the pressure it adds hold its flow and its current.
    below = max(row for row in rows("C 12 V") if row[0] * PSI <= added)
    above = min(row for row in rows("C 12 V") if row[0] * PSI >= added)
    assert above[1] * GPM <= flow <= below[1] * GPM
    assert below[2] <= point.current_a <= above[2]


def test_a_main_that_pushes_harder_than_its_switch_leaves_it_standing():
    """80 psi before a switch that stops at 45 psi: the pump never starts."""
    _, result = cart(
        mains("main", "80 psi", connector="3/8 push-fit"),
        with_role(pump("pump"), role("C 12 V", "30 psi", "45 psi")),
        tap("rinser", drawn("0.5 gal/min"), least="0 psi", greatest="100 psi"),
        tube("main", "pump"),
        tube("pump", "rinser"),
    )
    duty = duty_of(result)
    assert duty.points == ()
    assert duty.current_a is None


def test_a_main_that_helps_takes_work_off_the_pump():
    """20 psi before it: at a cut-out of 45 psi it adds 25 psi, about 2.9 A by its printed table."""
    _, result = cart(
        mains("main", "20 psi", connector="3/8 push-fit"),
        with_role(pump("pump"), role("C 12 V", "30 psi", "45 psi")),
        accumulator("vessel", "1 L", "28 psi"),
        tap("rinser", drawn("0.3 gal/min"), least="0 psi", level="base"),
        tube("main", "pump", "0.2 m", "12 mm"),
        tube("pump", "vessel.a", "0.2 m", "12 mm"),
        tube("vessel.b", "rinser", "0.2 m", "12 mm"),
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    # 17 psi 2.3 A, 26 psi 3.0 A; the pump's inlet stands some inches off the main's outlet.
    assert 2.7 < point.current_a < 3.1


def test_working_points_between_cut_in_and_cut_out():
    """The printed table at 35 and 52 psi: 1.30 gal/min, 3.5 A and 1.10 gal/min, 4.4 A."""
    _, result = line(
        with_role(pump("pump"), role("C 12 V", "35 psi", "52 psi")),
        "0.4 gal/min",
        accumulator("vessel", "1 L", "33 psi"),
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    (low_flow, _), (high_flow, _) = point.ends
    # The jug stands a little above the pump, which helps it by some hundredths of a bar.
    assert low_flow == pytest.approx(1.30 * GPM, rel=0.02)
    assert high_flow == pytest.approx(1.10 * GPM, rel=0.02)
    assert point.current_a == pytest.approx(4.4, rel=0.02)


def test_a_bypass_that_is_full_below_cut_out_never_lets_it_stop():
    """Common practice, no source: a bypass opens at 40, takes all at 62 psi, cut-out 55."""
    base = pump("pump", flat("3 gal/min"), "40 psi", "55 psi")
    usual = Bypass(opens=Pressure("40 psi"), full=Pressure("62 psi"))
    soft = Bypass(opens=Pressure("40 psi"), full=Pressure("50 psi"))
    vessel = accumulator("vessel", "1 L", "38 psi")
    for bypass, stops in ((usual, True), (soft, False)):
        made, result = line(
            with_role(base, msgspec.structs.replace(base.specification.water, bypass=bypass)),
            "0.3 gal/min",
            vessel,
        )
        assert duty_of(result).reaches_cut_out is stops
        found = codes(made, result)
        assert ("water.bypass" in found) is not stops
        assert "water.never-stops" not in found  # said once


def test_a_pump_too_weak_for_its_switch_never_stops():
    made, result = line(
        pump("pump", [("0 psi", "2 gal/min"), ("40 psi", "0 gal/min")], "45 psi", "60 psi"),
        "0.3 gal/min",
        accumulator("vessel", "1 L", "43 psi"),
    )
    assert not duty_of(result).reaches_cut_out
    assert codes(made, result)["water.never-stops"] == "stop"


# --- what a brewing inlet sees -----------------------------------------------------------------


def test_one_drink_takes_little_off_a_vessel_and_everything_off_bare_tubes():
    """0.1 L out of 1 L charged to 28 psi, full at 45 psi: the air grows from V to V + 0.1 L.

    Boyle: air at 45 psi fills 42.7 / 59.7 = 0.7152 L; 0.1 L more and it is at
    59.7 x 0.7152 / 0.8152 - 14.7 = 37.7 psi.
    """
    things = [
        tank("jug"),
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        accumulator("vessel", "1 L", "28 psi"),
        tap("machine", drawn("0.3 gal/min"), least="0 psi", water={"per_drink": Volume("0.1 L")}),
        tube("jug", "pump", "50 mm", "25 mm"),
        tube("pump", "vessel.a", "50 mm", "10 mm", outer="20 mm"),
        tube("vessel.b", "machine", "50 mm", "10 mm", outer="20 mm"),
    ]
    _, result = cart(*things)
    (swing,) = duty_of(result).swings
    assert (swing.high_pa - swing.low_pa) / PSI == pytest.approx(15.0, rel=0.01)
    assert (swing.high_pa - swing.drink_low_pa) / PSI == pytest.approx(45 - 37.7, abs=0.1)
    assert swing.bare_drink_low_pa == pytest.approx(swing.low_pa)
    # 0.24 L at 0.3 gal/min = 18.9 mL/s fall in 12.7 s.
    assert swing.fall_s == pytest.approx(0.240 / 0.018927, rel=0.01)
    assert swing.bare_fall_s < 0.1


def test_a_rinser_takes_the_rinse_water_of_the_plan_and_a_machine_its_drink():
    """0.1 L of the plan for rinsing falls as by Boyle above, to 37.7 psi; 0.14 L for a drink to
    59.7 x 0.7152 / 0.8552 - 14.7 = 35.2 psi.
    """
    service = Service(water_per_drink=Volume("0.14 L"), rinse_per_drink=Volume("0.1 L"))
    for drained, drink_l, left_psi in ((1.0, 0.1, 37.7), (0.5, 0.14, 35.2)):
        _, result = cart(
            tank("jug"),
            pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
            accumulator("vessel", "1 L", "28 psi"),
            tap("sink", drawn("0.3 gal/min"), least="0 psi", water={"drained_share": drained}),
            tube("jug", "pump", "50 mm", "25 mm"),
            tube("pump", "vessel.a", "50 mm", "10 mm", outer="20 mm"),
            tube("vessel.b", "sink", "50 mm", "10 mm", outer="20 mm"),
            service=service,
        )
        (swing,) = duty_of(result).swings
        assert swing.drink * 1e3 == pytest.approx(drink_l)
        assert (swing.high_pa - swing.drink_low_pa) / PSI == pytest.approx(45 - left_psi, abs=0.1)


def test_service_plan_says_how_often_it_starts():
    """60 drinks an hour of 0.24 L in all are 60 fillings of a vessel that gives 0.24 L."""
    service = Service(
        hours=Duration("4 h"),
        drinks_per_hour=60.0,
        water_per_drink=Volume("0.14 L"),
        rinse_per_drink=Volume("0.1 L"),
    )
    _, result = line(
        pump("pump", flat("1.4 gal/min"), "30 psi", "45 psi"),
        "0.7 gal/min",
        accumulator("vessel", "1 L", "28 psi"),
        service=service,
    )
    assert duty_of(result).service_starts_per_hour == pytest.approx(60, rel=0.01)


# --- against a clock ---------------------------------------------------------------------------


def by_the_clock(table, volume, charge_pa, low, high, draw, air_pa=101_325.0):
    """On and off of a pump, second by second: a vessel's air keeps p V (Boyle), the pump gives
    what its printed table says between its rows, and the switch does what a switch does."""
    pressures = [row[0] * PSI for row in table]
    flows = [row[1] * GPM for row in table]
    dt, cushion = 1e-4, volume * (charge_pa + air_pa)
    times = []
    water, running = volume - cushion / (low + air_pa), True
    for _ in range(2):
        spent = 0.0
        while True:
            pressure = cushion / (volume - water) - air_pa
            if (pressure >= high) if running else (pressure <= low):
                break
            given_m3 = np.interp(pressure, pressures, flows) if running else 0.0
            water += (given_m3 - draw(pressure)) * dt
            spent += dt
        times.append(spent)
        running = not running
    return times


@pytest.mark.parametrize(
    ("name", "rated"), [("C 12 V", "0.5"), ("A 12 V", "0.3"), ("B 24 V", "0.6")]
)
def test_a_cycle_takes_as_long_as_a_clock_says(name, rated):
    """Printed pump tables, a vessel of 1 L, an opening whose flow follows the root of pressure."""
    low, high = 30 * PSI, 45 * PSI
    vessel = accumulator("vessel", "1 L", "28 psi")
    things = [
        tank("jug", level="base"),
        with_role(pump("pump"), role(name)),
        vessel,
        tap("rinser", opening(f"{rated} gal/min", "30 psi"), least="0 psi", level="base"),
        tube("jug", "pump", "50 mm", "25 mm"),
        tube("pump", "vessel.a", "50 mm", "20 mm", outer="40 mm"),
        tube("vessel.b", "rinser", "50 mm", "20 mm", outer="40 mm"),
    ]
    _, result = cart(*things)
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    on, off = by_the_clock(
        rows(name),
        1e-3,
        28 * PSI,
        low,
        high,
        lambda pressure: float(rated) * GPM * math.sqrt(max(pressure, 0.0) / (30 * PSI)),
    )
    # The jug's water stands some inches above the pump, which helps it a little.
    assert point.on_s == pytest.approx(on, rel=0.02)
    assert point.off_s == pytest.approx(off, rel=0.01)


def test_a_main_that_helps_shortens_the_run():
    """20 psi pushed in: the printed table is met 20 psi further down, second by second."""
    low, high = 30 * PSI, 45 * PSI
    _, result = cart(
        mains("main", "20 psi", connector="3/8 push-fit", level="base", height="2 in"),
        with_role(pump("pump"), role("C 12 V")),
        accumulator("vessel", "1 L", "28 psi"),
        tap("rinser", drawn("0.3 gal/min"), least="0 psi", level="base"),
        tube("main", "pump", "50 mm", "25 mm"),
        tube("pump", "vessel.a", "50 mm", "20 mm", outer="40 mm"),
        tube("vessel.b", "rinser", "50 mm", "20 mm", outer="40 mm"),
    )
    point = duty_of(result).point(alone("rinser"))
    assert point is not None
    helped = [(psi + 20, flow, amps) for psi, flow, amps in rows("C 12 V")]
    on, off = by_the_clock(helped, 1e-3, 28 * PSI, low, high, lambda _: 0.3 * GPM)
    assert point.on_s == pytest.approx(on, rel=0.01)
    assert point.off_s == pytest.approx(off, rel=0.01)


# --- what has to hold for any ------------------------------------------------------------------

PRESSURES = st.floats(1.5e5, 5e5)


@given(st.floats(1e-4, 1e-1), st.floats(1.01, 5.0), PRESSURES, st.floats(1e4, 3e5))
def test_a_larger_vessel_gives_more(volume, larger, low, band):
    one = useful_volume_m3(volume, low - 1e4, low, low + band, 101325.0)
    other = useful_volume_m3(volume * larger, low - 1e4, low, low + band, 101325.0)
    assert 0.0 < one < other < volume * larger


@given(st.floats(1e-10, 1e-7), st.floats(1.01, 5.0), st.floats(1e-5, 1e-3), st.floats(0.05, 0.9))
def test_starts_fall_as_the_vessel_grows(slope, larger, given_m3, share):
    times = [
        cycle(lambda _, s=s: s, lambda _: given_m3, lambda _: share * given_m3, 2e5, 3e5)
        for s in (slope, slope * larger)
    ]
    assert starts_per_hour(*times[1]) < starts_per_hour(*times[0])


@given(
    st.floats(1e-4, 1e-2),
    st.floats(1e-5, 1e-3),
    st.floats(0.2, 1.0),
    st.floats(0.05, 0.9),
    st.floats(0.5, 1.0),
)
def test_what_is_pumped_is_drawn(volume, most, falls_to, share, weaker):
    """Over a cycle, with a pump that weakens towards cut-out and a draw that follows pressure.

    While on, the line takes in all of the vessel's water and the draw; while off it gives the
    same back. The means of what is given and drawn while it runs lie between their ends.
    """
    low, high = 2e5, 3e5

    def gives(pressure):
        return most * (1.0 - (1.0 - falls_to) * (pressure - low) / (high - low))

    def draws(pressure):
        return share * most * falls_to * (weaker + (1.0 - weaker) * (pressure - low) / (high - low))

    on, off = cycle(lambda _: volume / (high - low), gives, draws, low, high)
    least = min(gives(p) - draws(p) for p in (low, high))
    greatest = max(gives(p) - draws(p) for p in (low, high))
    assert volume / greatest * (1 - 1e-3) <= on <= volume / least * (1 + 1e-3)
    assert volume / draws(high) * (1 - 1e-3) <= off <= volume / draws(low) * (1 + 1e-3)


@given(st.floats(1e-5, 1e-2), st.floats(1e-5, 1e-3), st.floats(0.05, 0.95))
def test_an_even_pump_pumps_what_is_drawn(volume, most, share):
    """While it runs it gives what is drawn over the whole cycle: Q t_on = q (t_on + t_off)."""
    draw = share * most
    on, off = cycle(lambda _: volume / 1e5, lambda _: most, lambda _: draw, 2e5, 3e5)
    assert most * on == pytest.approx(draw * (on + off), rel=1e-9)
    assert draw * off == pytest.approx(volume, rel=1e-9)


def test_a_draw_as_large_as_what_it_gives_never_ends():
    on, off = cycle(lambda _: 1e-8, lambda _: 1e-4, lambda _: 1e-4, 2e5, 3e5)
    assert math.isinf(on)
    assert starts_per_hour(on, off) == 0.0
