"""Taps, pump, drains and tanks: cells against the analysis, rules against what books work out."""

import itertools
import math

import building as b
import pytest
from analysis.random_builds import builds
from documents.packet.technical import (
    GALLON,
    PSI,
    job_of,
    mark,
    row,
    rows,
    si,
    table,
)
from hypothesis import given, settings

from cartlayout.build import Build, Tank
from cartlayout.build.file import load as load_file
from cartlayout.data import sample_builds
from cartlayout.documents.one_line.curve import Graph, Spot, graph_elements, steps
from cartlayout.documents.packet.content import Facts, Picture
from cartlayout.documents.packet.sheets.drains_tanks import drains_tanks
from cartlayout.documents.packet.sheets.pump import pump
from cartlayout.documents.packet.sheets.taps import taps
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.elements import PathItem, TextItem
from cartlayout.units import Length, UnitSystem
from cartlayout.water.results import ALL_OPEN, alone

SAMPLES = sorted(sample_builds().glob("*.cart"))
INCH = 0.0254


# --- taps -----------------------------------------------------------------------------------------


def check_taps(build: Build) -> None:
    job = job_of(build)
    content = taps(job)
    water = job.analysis.water
    if not water.taps:
        return
    told = rows(content, "taps")
    assert len(told) == len(water.taps)
    for one, tap in zip(told, water.taps, strict=True):
        assert si(one["Asks at least"]) == tap.least_pa
        assert si(one["May see"]) == tap.greatest_pa
        if not tap.fed:
            assert one["At rest"] == "not fed"
            continue
        assert si(one["At rest"]) == tap.static_pa
        for title, case in (("Alone", alone(tap.name)), ("All open", ALL_OPEN)):
            state = tap.states.get(case)
            if state is not None:
                assert si(one[f"{title}, pressure"]) == state.pressure_pa
                assert si(one[f"{title}, flow"]) == state.flow
    states = [(tap, state) for tap in water.taps if tap.fed for case, state in tap.states.items()
              if state.open or case == "All shut"]  # fmt: skip
    by_case = table(content, "taps-by-case")
    assert len(by_case.rows) == len(states)
    for mark_, (_, state) in zip(by_case.marks, states, strict=True):
        assert (mark_ == "ok") == (state.pressure_ok and state.flow_ok)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_taps_of_a_sample_are_those_of_the_analysis(path):
    check_taps(load_file(path))


@settings(max_examples=30, deadline=None)
@given(build=builds(most_items=12, most_runs=18))
def test_taps_of_any_build_are_those_of_the_analysis(build: Build):
    check_taps(build)


def test_who_takes_from_whom_is_what_the_analysis_tried():
    job = job_of(load_file(sample_builds() / "conference_hall_bar.cart"))
    content = taps(job)
    told = rows(content, "taps-together-all")
    expected = job.analysis.water.together
    assert len(told) == len(expected)
    for one, robbed in zip(told, expected, strict=True):
        assert si(one["They take"]) == pytest.approx(robbed.alone_pa - robbed.pressure_pa)
    # On paper of each tap the worst stand, none that takes more is left out.
    paper = rows(content, "taps-together")
    for tap in {one["Tap"] for one in told}:
        shown = [si(one["They take"]) for one in paper if one["Tap"] == tap]
        every = sorted((si(one["They take"]) for one in told if one["Tap"] == tap), reverse=True)
        assert len(shown) == 4
        assert sorted(shown, reverse=True) == every[:4]


def test_a_tap_at_rest_stands_at_the_mains_less_its_height():
    """Hydrostatics: 1 m of water at 20 degC is 998.2 kg/m3 x 9.80665 = 9.789 kPa (any handbook)."""
    build = b.build(
        b.mains("mains", "60 psi", level="base"),
        b.tap("sink", b.opening("1 gal/min", "20 psi"), level="counter"),
        b.tube("mains", "sink"),
    )
    content = taps(job_of(build))
    told = row(content, "taps", Tap="sink")
    rise_m = si(told["Height"]) - 6 * INCH
    assert si(told["At rest"]) == pytest.approx(60 * PSI - 9789.0 * rise_m, rel=1e-3)


def test_a_ladder_ends_at_what_the_tap_has():
    job = job_of(load_file(sample_builds() / "market_cart.cart"))
    ladder = [one for one in rows(taps(job), "taps-ladders")
              if one["Tap, alone open"] == "Pitcher rinser"]  # fmt: skip
    tap = next(one for one in job.analysis.water.taps if one.name == "Pitcher rinser")
    last = si(ladder[-1]["Left behind it"])
    assert last == pytest.approx(tap.states[alone(tap.name)].pressure_pa, rel=1e-6)
    for before, after in itertools.pairwise(ladder):
        fall = si(before["Left behind it"]) - si(after["Left behind it"])
        assert fall == pytest.approx(si(after["Takes"]), abs=1.0)


def test_a_supply_that_cannot_do_for_all_says_so():
    content = taps(job_of(load_file(sample_builds() / "market_cart_first_try.cart")))
    assert mark(content, "supplies") == "care"
    assert "No one pressure does for all" in rows(content, "supplies")[0]["Remarks"]


# --- pump -----------------------------------------------------------------------------------------


def pumped(pre_charge: str = "28 psi") -> Build:
    return b.build(
        b.tank("jug"),
        b.pump("pump", cut_in="30 psi", cut_out="50 psi"),
        b.accumulator("vessel", "1 L", pre_charge),
        b.tap("sink", b.opening("0.15 gal/min", "20 psi"), required_flow="0.1 gal/min"),
        b.tube("jug", "pump", bore="9 mm"),
        b.tube("pump", "vessel.a", bore="9 mm"),
        b.tube("vessel.b", "sink", bore="9 mm"),
    )


def facts(content, title: str) -> dict:
    return next(dict(one.pairs) for one in content.parts
                if isinstance(one, Facts) and title in one.title)  # fmt: skip


def test_a_vessel_gives_what_boyle_says():
    """p V = const, absolute: 1 L filled at 28 psi, from 50 down to 30 psi, at sea level.

    1 x (42.696 / 44.696 - 42.696 / 64.696) = 0.2953 L, by hand.
    """
    told = facts(pump(job_of(pumped())), "switch and starts")
    assert si(told["Useful, all vessels"]) == pytest.approx(0.2953e-3, rel=2e-3)
    assert si(told["Cut-in"]) == pytest.approx(30 * PSI, rel=1e-6)
    assert si(told["Cut-out"]) == pytest.approx(50 * PSI, rel=1e-6)


def test_the_pre_charge_advised_is_two_psi_under_cut_in():
    """As well-tank instructions say (2 psi below the cut-in)."""
    told = facts(pump(job_of(pumped("25 psi"))), "vessel")
    assert si(told["Pre-charge advised"]) == pytest.approx(28 * PSI, rel=1e-6)
    assert si(told["Pre-charge"]) == pytest.approx(25 * PSI, rel=1e-6)


def test_suction_head_is_air_less_vapour_less_lift_less_losses():
    """NPSH as pump handbooks define it; water of 20 degC: 2.339 kPa, 998.2 kg/m3; 1 atm of air."""
    told = rows(pump(job_of(pumped())), "pump-suction")[0]
    weight = 998.2 * 9.80665
    by_hand = (101325 - 2339 - si(told["Loses"])) / weight - si(told["Lift, last water"])
    assert si(told["Suction head it has"]) == pytest.approx(by_hand, rel=2e-3)


def test_duty_cells_are_those_of_the_analysis():
    for path in SAMPLES:
        job = job_of(load_file(path))
        duties = job.analysis.water.duties
        if not duties:
            continue
        told = rows(pump(job), "pump-duty")
        points = [point for duty in duties for point in duty.points]
        assert len(told) == len(points)
        for one, point in zip(told, points, strict=True):
            assert si(one["Drawn"]) == point.demand
            assert si(one["Starts an hour"]) == point.starts_per_hour
            assert one["Case"] == point.case


def test_on_and_off_times_make_the_starts_an_hour():
    told = [one for one in rows(pump(job_of(pumped())), "pump-duty") if one["On"] is not None]
    assert told
    for one in told:
        assert si(one["Starts an hour"]) == pytest.approx(3600 / (si(one["On"]) + si(one["Off"])))


def test_the_curve_stays_in_its_box_and_shows_every_case():
    content = pump(job_of(pumped()))
    (picture,) = [one for one in content.parts if isinstance(one, Picture)]
    box = Box(10.0, 20.0, 259.0, 72.0)
    drawn = picture.draw(box)
    texts = [one for one in drawn.elements if isinstance(one, TextItem)]
    assert all(box.grown(0.5).holds(one.box) for one in texts if not one.turn)
    numbers = {number for text in texts for number in text.text.split(", ") if number.isdigit()}
    assert {one["No."] for one in rows(content, "pump-duty")} <= numbers
    assert any("cut-in 30.0 psi" in text.text for text in texts)


def test_steps_of_an_axis_are_round():
    """1, 2 or 5 times a power of ten, as on any printed graph (common practice, no source)."""
    assert steps(60.0) == (0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0)
    assert steps(1.9) == pytest.approx((0.0, 0.5, 1.0, 1.5, 2.0))
    assert steps(0.0) == (0.0, 1.0)


def test_a_curve_falls_where_its_numbers_fall():
    graph = Graph("x", "y", ((2.0, 0.0), (0.0, 60.0)), spots=(Spot(1.0, 30.0, "1"),))
    drawn = graph_elements(graph, Box(0.0, 0.0, 160.0, 80.0))
    (line,) = [one for one in drawn if isinstance(one, PathItem)]
    (x0, y0), (x1, y1) = line.points
    assert x0 > x1
    assert y0 > y1


# --- drains and tanks -----------------------------------------------------------------------------


def vessels(fresh: str, waste: str) -> Build:
    return b.build(b.tank("fresh", fresh), b.tank("waste", waste, "waste"), b.basin("sink"))


@pytest.mark.parametrize(("waste", "said"), [("5.75 gal", "ok"), ("5.7 gal", "stop")])
def test_five_gallons_fresh_ask_for_five_and_three_quarters(waste: str, said: str):
    """FDA Food Code 5-401.11: a waste tank 15 % larger than the fresh one; 1.15 x 5 = 5.75 gal."""
    job = job_of(vessels("5 gal", waste))
    content = drains_tanks(job)
    first = rows(content, "waste-ratio")[0]
    assert si(first["Waste asked"]) == pytest.approx(5.75 * GALLON)
    assert first["Waste asked"].shown(job.system) == "5.75 gal"
    assert mark(content, "waste-ratio") == said
    assert "5-401.11" in first["Source"]
    stricter = next(one for one in rows(content, "waste-ratio") if "California" in one["Rule"])
    assert si(stricter["Waste asked"]) == pytest.approx(7.5 * GALLON)


def drained(bore: str = "25.4 mm", length: str = "40 in") -> Build:
    return b.build(
        b.basin("sink", level="counter", at=("36 in", "15 in")),
        b.tank("waste", "10 gal", "waste", level="base", at=("36 in", "15 in")),
        b.tube("sink.drain", "waste", length, bore, run_id="drain"),
    )


def test_a_drain_falls_from_its_outlet_to_the_inlet_of_the_tank():
    """Counter at 36 in; base at 6 in with the inlet 10 in up: 20 in, the cart's own heights."""
    told = rows(drains_tanks(job_of(drained())), "drains")[0]
    assert si(told["Falls"]) == pytest.approx(20 * INCH)
    # 1/4 in for each foot (Chicago Plumbing Code 18-29-704.1): 1 in 48.
    assert si(told["Asked"]) == pytest.approx(1 / 48, rel=1e-3)


def test_a_drain_carries_what_manning_says():
    """Q = A R^(2/3) S^(1/2) / n, half full: A = pi d^2 / 8, R = d / 4 (any hydraulics text)."""
    build = b.build(
        b.basin("sink", level="counter", at=("6 in", "15 in")),
        b.tank("waste", "10 gal", "waste", level="base", at=("66 in", "15 in")),
        b.tube("sink.drain", "waste", None, "25.4 mm", run_id="drain"),
    )
    job = job_of(build)
    told = rows(drains_tanks(job), "drains")[0]
    state = job.analysis.water.drains[0]
    d, n = 0.0254, 0.010
    gradient = state.flattest.fall_m / state.flattest.length_m
    half = math.pi * d**2 / 8 * (d / 4) ** (2 / 3) * math.sqrt(gradient) / n
    assert si(told["Carries half full"]) == pytest.approx(half, rel=1e-6)
    assert si(told["Carries full"]) == pytest.approx(2 * half, rel=1e-6)


def test_an_air_gap_over_a_drain_is_twice_the_bore():
    """FDA Food Code 5-202.13: twice the diameter of the inlet, at least 1 in."""
    build = b.build(
        b.basin("sink"),
        b.floor_drain("floor"),
        b.tube("sink.drain", "floor", "2 m", "25.4 mm", run_id="drain"),
    )
    told = row(drains_tanks(job_of(build)), "air-gaps", Air_gap_of="floor")
    assert si(told["Asked"]) == pytest.approx(2 * INCH)
    assert told["Given"] == "not stated"


@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_drains_and_vessels_are_those_of_the_analysis(path, system: UnitSystem):
    job = job_of(load_file(path), system)
    content = drains_tanks(job)
    water = job.analysis.water
    for one, drain in zip(rows(content, "drains"), water.drains, strict=True):
        assert si(one["Falls"]) == drain.fall_m
        assert si(one["Length"]) == drain.length_m
        assert si(one["Carries half full"]) == drain.half_full
    assert water.balance is not None
    for one, vessel in zip(rows(content, "vessels"), water.balance.vessels, strict=True):
        assert si(one["Volume"]) == vessel.volume
        assert si(one["Over the day"]) == vessel.per_day
    day = facts(content, "day of service")
    assert si(day["Fresh water used"]) == water.balance.fresh_per_day
    shares = rows(content, "water-of-the-day")
    fresh = sum(si(one["A day"]) for one in shares if one["Where"] == "fresh water for")
    assert fresh == pytest.approx(water.balance.fresh_per_day)


@settings(max_examples=30, deadline=None)
@given(build=builds(most_items=12, most_runs=18))
def test_any_build_has_its_sheets(build: Build):
    job = job_of(build)
    for make in (taps, pump, drains_tanks):
        content = make(job)
        for part in content.parts:
            if hasattr(part, "columns"):
                assert all(len(one) == len(part.columns) for one in part.rows)
                assert len(part.marks) in (0, len(part.rows))
    tanks = [one for one in build.items if isinstance(one.specification.water, Tank)]
    fresh = sum(one.specification.water.volume.si for one in tanks
                if one.specification.water.contents == "fresh")  # fmt: skip
    found = [one for one in drains_tanks(job).parts if getattr(one, "key", "") == "waste-ratio"]
    if found and fresh:
        assert found[0].rows[0][1].si == pytest.approx(fresh)


def test_lengths_of_bores_keep_their_size():
    """A 1/4 in bore must not read 0.2 in."""
    build = drained("6.35 mm")
    told = rows(drains_tanks(job_of(build)), "drains")[0]
    assert told["Bore"].shown(UnitSystem.US) == "0.25 in"
    assert Length("6.35 mm").si == told["Bore"].si
