"""The load schedule: its cells against the analysis, and against sums that books do by hand."""

import math

import building as b
import pytest
from analysis.random_builds import builds
from documents.packet.technical import job_of, mark, row, rows, si, table
from hypothesis import given, settings

from cartlayout.build import Build
from cartlayout.build.file import load as load_file
from cartlayout.data import sample_builds
from cartlayout.documents.packet.sheets.load_schedule import load_schedule
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem, Value

SAMPLES = sorted(sample_builds().glob("*.cart"))


def check_against_analysis(build: Build) -> None:
    job = job_of(build)
    content = load_schedule(job)
    power = job.analysis.power
    if not power.circuits:
        return
    circuits = rows(content, "circuits")
    assert [one["Circuit"] for one in circuits] == [one.letter for one in power.circuits]
    loads = rows(content, "load-schedule")
    for told, circuit in zip(circuits, power.circuits, strict=True):
        together = next(one for one in loads
                        if one["Load"] == f"Circuit {circuit.letter} together")  # fmt: skip
        for leg in circuit.legs:
            amps = circuit.leg_amps[EVERYTHING_ON][leg]
            assert si(told[leg]) == amps
            assert si(together[leg]) == amps
        assert si(told["Of breaker"]) == circuit.share
    limits = rows(content, "circuit-limits")
    assert len(limits) == sum(len(one.limits) for one in power.circuits)
    fed = [key for key, states in power.appliances.items() if states[EVERYTHING_ON].fed]
    names = {build.item(key).name for key in fed}
    # Every load that is fed stands in the schedule once, under the circuit it is plugged into.
    told_loads = [one for one in loads if one["At plug"] is not None]
    assert len(told_loads) == len(fed)
    assert {one["Load"] for one in told_loads} == names


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_cells_of_a_sample_are_those_of_the_analysis(path):
    check_against_analysis(load_file(path))


@settings(max_examples=40, deadline=None)
@given(build=builds(most_items=12, most_runs=18))
def test_cells_of_any_build_are_those_of_the_analysis(build: Build):
    check_against_analysis(build)


def test_loads_of_a_leg_add_up_to_its_sum():
    """Resistive loads at one voltage: plain addition, as on any panel schedule."""
    build = b.build(
        b.outlet("outlet", ways=3),
        b.load("kettle", amps=10, heater=True),
        b.load("warmer", amps=4, heater=True),
        b.wire("kettle", "outlet.1"),
        b.wire("warmer", "outlet.2"),
    )
    content = load_schedule(job_of(build))
    assert si(row(content, "load-schedule", Load="kettle")["L"]) == pytest.approx(10.0)
    assert si(row(content, "load-schedule", Load="warmer")["L"]) == pytest.approx(4.0)
    assert si(row(content, "load-schedule", Load="Circuit A together")["L"]) == pytest.approx(14.0)


def test_sixteen_continuous_amps_fill_a_twenty_amp_circuit():
    """NFPA 70 (NEC) 210.20(A): 125 % of 16 A continuous are 20 A, the worked case of textbooks."""
    build = b.build(
        b.outlet("outlet", ways=1),
        b.load("lamp", amps=16, longest_run="4 h", plug="5-20P"),
        b.wire("lamp", "outlet.1"),
    )
    content = load_schedule(job_of(build))
    held = next(one for one in rows(content, "circuit-limits") if "hours" in one["What is held"])
    assert si(held["Counted"]) == pytest.approx(20.0)
    assert si(held["Limit"]) == pytest.approx(20.0)
    assert "210.20(A)" in held["Source"]
    assert row(content, "load-schedule", Load="lamp")["Continuous"] == "yes"
    room = row(content, "circuits", Circuit="A")
    assert si(room["Room left"]) == pytest.approx(0.0, abs=1e-9)


def split(volts: float, one_a: float, other_a: float) -> Build:
    """A box on two legs with a heater on each."""
    branches = [b.branch("1", 20, "L1", "a"), b.branch("2", 20, "L2", "c")]
    return b.build(
        b.outlet("feed", volts=volts, breaker=50, receptacle="14-50R", ways=1,
                 electrical={"system": "split-phase"}),
        b.box("box", branches),
        b.load("left", amps=one_a, plug="5-20P"),
        b.load("right", amps=other_a, plug="5-20P"),
        b.wire("box", "feed.1"),
        b.wire("left", "box.a"),
        b.wire("right", "box.c"),
    )  # fmt: skip


def test_the_neutral_of_two_legs_in_opposition_carries_the_difference():
    """120/240 V: 16 A and 10 A leave 6 A (NFPA 70 (NEC) 220.61, maximum unbalance)."""
    content = load_schedule(job_of(split(240, 16, 10)))
    feeder = row(content, "circuits", Circuit="A")
    assert si(feeder["L1"]) == pytest.approx(16.0)
    assert si(feeder["L2"]) == pytest.approx(10.0)
    assert si(feeder["N"]) == pytest.approx(6.0)
    # Each of the box's circuits has one leg; what its neutral carries is no news.
    left = row(content, "circuits", Circuit="B")
    assert left["L2"] is None
    assert left["N"] is None


def test_the_neutral_of_two_legs_of_a_wye_carries_as_much_as_they_do():
    """120/208 V with two legs loaded alike: NFPA 70 (NEC) 310.15(E)(2) counts that neutral."""
    build = split(208, 10, 10)
    content = load_schedule(job_of(build))
    assert si(row(content, "circuits", Circuit="A")["N"]) == pytest.approx(10.0, rel=1e-3)


def test_a_load_between_two_legs_is_on_both_and_not_on_the_neutral():
    """4.8 kW at 240 V are 20 A (P = U I)."""
    build = b.build(
        b.outlet("feed", volts=240, breaker=30, receptacle="L14-30R", ways=1,
                 electrical={"system": "split-phase"}),
        b.load("boiler", watts=4800, volts=240, plug="L14-30P"),
        b.wire("boiler", "feed.1"),
    )  # fmt: skip
    told = row(load_schedule(job_of(build)), "load-schedule", Load="boiler")
    assert [si(told[leg]) for leg in ("L1", "L2", "N")] == pytest.approx([20.0, 20.0, 0.0])


def test_a_three_phase_load_is_on_three_legs():
    """P = sqrt(3) U I: 9 kW at 208 V are 24.98 A a leg."""
    build = b.build(
        b.outlet("feed", volts=208, breaker=30, receptacle="L21-30R", ways=1,
                 electrical={"system": "three-phase"}),
        b.load("washer", watts=9000, volts=208, plug="L21-30P", electrical={"phases": 3}),
        b.wire("washer", "feed.1"),
    )  # fmt: skip
    told = row(load_schedule(job_of(build)), "load-schedule", Load="washer")
    expected = 9000.0 / (math.sqrt(3.0) * 208.0)
    for leg in ("L1", "L2", "L3"):
        assert si(told[leg]) == pytest.approx(expected, rel=1e-6)
    assert si(told["N"]) == pytest.approx(0.0)


def test_a_circuit_that_is_over_is_marked_and_its_sum_never_reads_like_its_limit():
    build = b.build(
        b.outlet("outlet"),
        b.load("one", amps=12.0),
        b.load("two", amps=8.14),
        b.wire("one", "outlet.1"),
        b.wire("two", "outlet.2"),
    )
    job = job_of(build)
    content = load_schedule(job)
    assert mark(content, "circuits") == "stop"
    held = row(content, "circuit-limits", What_is_held="Everything on")
    counted, limit = held["Counted"], held["Limit"]
    assert isinstance(counted, Value)
    assert isinstance(limit, Value)
    assert counted.shown(job.system) != limit.shown(job.system)


def test_what_no_supply_reaches_is_told_apart():
    build = b.build(b.outlet("outlet"), b.load("lamp", watts=40), b.load("till"))
    content = load_schedule(job_of(build))
    dark = {one["Load"]: one["Nameplate"] for one in rows(content, "loads-not-fed")}
    assert si(dark["lamp"]) == pytest.approx(40 / 120)
    assert dark["till"] == "not given"


def test_the_sums_are_set_apart():
    build = load_file(sample_builds() / "market_cart.cart")
    found = table(load_schedule(job_of(build)), "load-schedule")
    assert [found.rows[at][1] for at in found.sums] == ["Circuit A together", "Circuit B together"]


def test_a_cord_loses_what_its_copper_takes():
    """12 AWG has 1.588 ohm and 14 AWG 2.525 ohm each 1,000 ft at 20 degC (ASTM B258 sizes).

    A heater of 120 V and 10 A has 12 ohm. Behind 50 ft of 12 AWG and 6 ft of 14 AWG it draws
    120 / (12 + 0.1588 + 0.0303) = 9.845 A; the long cord loses 9.845 x 0.1588 = 1.563 V.
    """
    build = b.build(
        b.outlet("outlet"),
        b.extension("cord", "12 AWG", "50 ft"),
        b.load("heater", amps=10),
        b.wire("cord", "outlet.1"),
        b.wire("heater", "cord.1"),
    )
    content = load_schedule(job_of(build))
    told = row(content, "cords", Cord_of="cord")
    assert si(told["Loses"]) == pytest.approx(1.563, rel=0.005)
    assert si(told["Length"]) == pytest.approx(50 * 0.3048)
    assert told["Conductors"] == "12 AWG"
    plug = si(row(content, "load-schedule", Load="heater")["At plug"])
    assert plug == pytest.approx(120 * 12 / (12 + 0.1588 + 0.0303), rel=0.001)


def test_a_cord_that_carries_too_much_is_on_paper_with_its_source():
    """16 AWG with two loaded conductors: 13 A (NFPA 70 (NEC) Table 400.5(A)(1))."""
    build = load_file(sample_builds() / "market_cart_first_try.cart")
    content = load_schedule(job_of(build))
    told = row(content, "cords", Cord_of="Long cord")
    assert si(told["May carry"]) == pytest.approx(13.0)
    assert mark(content, "cords") == "stop"
    held = row(content, "power-limits-near", What="Long cord's cord", Held="Cord")
    assert "400.5(A)(1)" in held["Source"]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_files_hold_every_limit_and_paper_all_that_does_not_hold(path):
    job = job_of(load_file(path))
    content = load_schedule(job)
    limits = [limit for _, limit in job.analysis.power.limits]
    every = rows(content, "power-limits")
    assert [si(one["Counted"]) for one in every] == [limit.value for limit in limits]
    missed = [mark_ for mark_ in table(content, "power-limits-near").marks if mark_ != "ok"]
    assert len(missed) == sum(not limit.holds for limit in limits)


def test_what_a_cord_carries_too_much_never_reads_like_what_it_may_carry():
    """1,563 W at 120 V are 13.02 A on 16 AWG that may carry 13 A (NEC table 400.5(A)(1))."""
    cord = b.cord("16 AWG", "3 ft")
    made = b.build(b.outlet("wall"), b.load("urn", 1563, cord=cord), b.wire("urn", "wall.1"))
    told = row(load_schedule(job_of(made)), "cords", Cord_of="urn")
    carried, may = told["Carries"], told["May carry"]
    assert isinstance(carried, Value)
    assert isinstance(may, Value)
    assert carried.si > may.si
    assert carried.shown(UnitSystem.US) != may.shown(UnitSystem.US)
