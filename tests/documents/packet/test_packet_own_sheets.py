"""Plan review, checklist and labels: what they say, against figures from outside."""

import math

import building as b
import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from packet_jobs import SAMPLES, boxes_apart, job_of, sample_job

from cartlayout.build import Appliance, Regulator, Tank
from cartlayout.build.runs import WayPoint
from cartlayout.documents.packet.cells import shown, words
from cartlayout.documents.packet.content import (
    Blanks,
    Checks,
    Content,
    Job,
    Labels,
    Paragraph,
    Table,
)
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.running.holding import holding_items, holding_tubes
from cartlayout.documents.packet.sheets.checklist import checklist
from cartlayout.documents.packet.sheets.labels import labels
from cartlayout.documents.packet.sheets.plan_review import plan_review
from cartlayout.units import Length, UnitSystem, Volume

GALLON_M3 = 3.785412e-3  # NIST SP 811, appendix B.8
PSI_PA = 6894.757  # NIST SP 811, appendix B.8
AIR_PA = 101325.0  # standard atmosphere, NIST SP 811


def table(content: Content, key: str) -> Table:
    (found,) = [one for one in content.parts if isinstance(one, Table) and one.key == key]
    return found


def rows(content: Content, key: str, system: UnitSystem = UnitSystem.US) -> list[list[str]]:
    found = table(content, key)
    return [
        [shown(cell, column, system) for cell, column in zip(row, found.columns, strict=False)]
        for row in found.rows
    ]


def steps(content: Content) -> list[str]:
    return [
        words(line, UnitSystem.US)
        for part in content.parts
        if isinstance(part, Checks)
        for line in part.lines
    ]


def wet(*more, **rest):
    """A jug, a pump with its vessel, a rinser, a waste jug."""
    return b.build(
        b.tank("Jug", "5 gal"),
        b.pump("Pump"),
        b.accumulator("Vessel", "1 L", "28 psi", level="base"),
        b.tap("Rinser", b.opening("1 gal/min", "40 psi")),
        b.tank("Waste", "6 gal", "waste"),
        b.tube("Jug", "Pump", "1 m", run_id="suction"),
        b.tube("Pump", "Vessel.a", "0.5 m", run_id="middle"),
        b.tube("Vessel.b", "Rinser", "2 m", run_id="last"),
        *more,
        **rest,
    )


# --- plan review ----------------------------------------------------------------------------------


def asked_for(content: Content) -> dict[str, list[str]]:
    found = table(content, "review-items")
    pairs = zip(rows(content, "review-items"), found.marks, strict=True)
    return {row[0]: [*row[1:], mark] for row, mark in pairs}


def test_the_waste_tank_is_held_to_the_rule_of_15_percent() -> None:
    """Ohio Adm. Code 3717-1-05.3(A), FDA Food Code 5-401.11: 5 gal ask for 5.75 gal."""
    said, source, mark = asked_for(plan_review(job_of(wet())))[
        "Waste water: tank size against fresh water"
    ]
    assert said == "6.00 gal against 5.75 gal, 1.15 times the fresh tank"
    assert "3717-1-05.3(A)" in source
    assert mark == "ok"
    small = wet()
    small = b.build(*(one for one in (*small.items, *small.runs) if one.id != "Waste"),
                    b.tank("Waste", "5 gal", "waste"))  # fmt: skip
    assert (
        asked_for(plan_review(job_of(small)))["Waste water: tank size against fresh water"][-1]
        == "care"
    )


def test_places_with_a_stricter_ratio_are_named_with_theirs() -> None:
    """California HSC 114240 and Chicago 7-38-132: half as much again, 7.5 gal for 5 gal."""
    asked = asked_for(plan_review(job_of(wet())))
    for place, source in (("California", "114240"), ("Chicago", "7-38-132")):
        said, cited, mark = asked[f"Waste tank in {place}"]
        assert said == "6.00 gal against 7.50 gal there"
        assert source in cited
        assert mark == "care"


def test_switch_pressures_sizes_and_masses_are_as_entered() -> None:
    content = plan_review(job_of(wet()))
    assert (
        asked_for(content)["Switch pressures of Pump"][0] == "starts at 45.0 psi, stops at 60.0 psi"
    )
    line = {row[0]: row[-1] for row in rows(content, "review-water-line")}
    assert line["Pump"] == "starts at 45.0 psi, stops at 60.0 psi"
    assert line["Vessel"] == "0.3 gal, pre-charge 28.0 psi"  # 1 L = 0.264 gal
    for row in rows(content, "review-equipment"):
        assert row[3:6] == ["10.0", "10.0", "10.0"]
    assert {row[0]: row[3] for row in rows(content, "review-tanks")} == {
        "Jug": "5.0", "Waste": "6.0",
    }  # fmt: skip


def test_what_is_missing_is_said_with_the_place_to_enter_it() -> None:
    outlet = b.outlet("Outlet", breaker=None, circuit=None)
    content = plan_review(job_of(b.build(outlet, b.mains("Tap"), name="")))
    missing = dict(rows(content, "review-missing"))
    assert missing["Who designed it"] == "Details of the cart"
    assert missing["Breaker behind Outlet"] == "Details of Outlet"
    assert missing["Earth-leakage protection of Outlet"] == "Details of Outlet"
    assert missing["Least and greatest pressure of Tap"] == "Details of Tap"
    asked = asked_for(content)
    assert asked["Hand sink"][-1] == "care"
    assert asked["Where utensils are washed"][-1] == "care"
    whole = b.build(name="Cart", designer="A. Person", revision="2")
    left = dict(rows(plan_review(job_of(whole)), "review-missing"))
    assert "Who designed it" not in left
    assert "Revision of the drawing" not in left


def test_a_hand_sink_is_asked_for_water_of_85_degrees() -> None:
    """FDA Food Code 5-202.12: at least 85 °F (29.4 °C)."""
    for outlet, mark in (("28 degC", "care"), ("43 degC", "ok")):
        sink = b.tap("Sink", b.opening("1 gal/min", "40 psi"), kind="hand sink")
        build = b.build(
            b.mains("Tap", connector="3/8 push-fit"),
            b.heater("Heater", outlet),
            sink,
            b.tube("Tap", "Heater", run_id="cold"),
            b.tube("Heater", "Sink", run_id="warm"),
        )
        said, source, found = asked_for(plan_review(job_of(build)))["Warm water at Sink"]
        assert found == mark, said
        assert "85 °F" in source


def test_it_never_claims_approval_and_leaves_lines_for_the_pen() -> None:
    for name in SAMPLES:
        content = plan_review(sample_job(name))
        assert "approves nothing" in content.cautions[0]
        (blanks,) = [one for one in content.parts if isinstance(one, Blanks)]
        assert len(blanks.names) >= 5
        findings = table(content, "review-findings")
        found = [one for one in sample_job(name).analysis.findings if one.severity != "note"]
        assert len(findings.rows) == len(found)


# --- checklist ---------------------------------------------------------------------------------


def test_power_comes_before_water_and_water_before_heat() -> None:
    lines = steps(checklist(sample_job("market_cart")))
    order = [
        next(at for at, line in enumerate(lines) if start in line)
        for start in (
            "switched off, every tap",
            "GFCI",
            "Circuit A: Outlet 1, 120 V, 20 A breaker",
            "fill with drinking water, 5.0 gal",
            "read its air valve",
            "switch it on with the tap nearest",
            "stops at 60.0 psi",
            "Only once water has come: switch on Espresso machine",
            "Switch off Pump.",
            "Open every tap until nothing comes",
            "Pull the plugs",
            "Drain down",
        )
    ]
    assert order == sorted(order)


def test_a_circuit_that_does_not_hold_is_never_told_to_be_switched_on_whole() -> None:
    """12.5 A and 12.5 A of 1,500 W each at 120 V on one 20 A breaker: 25 A."""
    build = b.build(
        b.outlet("Outlet"),
        b.load("Kettle", watts=1500),
        b.load("Urn", watts=1500),
        b.wire("Kettle", "Outlet.1"),
        b.wire("Urn", "Outlet.2"),
    )
    content = checklist(job_of(build))
    lines = steps(content)
    (plugged,) = [line for line in lines if line.startswith("Circuit A")]
    assert "25.0 A. As drawn that does not hold" in plugged
    assert "Never everything on at once as drawn: circuit A does not hold." in lines
    assert not any("Everything on for ten minutes" in line for line in lines)
    cautions = [words(one.text, UnitSystem.US) for one in content.parts
                if isinstance(one, Paragraph) and one.role == "caution"]  # fmt: skip
    assert any("to stop for" in one for one in cautions)


def test_every_plug_tank_and_pump_is_named_in_some_step() -> None:
    for name in SAMPLES:
        job = sample_job(name)
        text = " ".join(steps(checklist(job)))
        for wire in job.build.wires:
            item = job.build.item(wire.a.item)
            assert item is not None
            assert item.name in text
        for item in job.build.items:
            role = item.specification.water
            if isinstance(role, Tank) or (isinstance(role, Appliance) and role.reservoir):
                assert item.name in text
        numbers = [part.first + len(part.lines) for part in checklist(job).parts
                   if isinstance(part, Checks)]  # fmt: skip
        firsts = [part.first for part in checklist(job).parts if isinstance(part, Checks)]
        assert firsts == [1, *numbers[:-1]]  # numbered through


def test_an_outlet_nobody_knows_is_not_taken_for_protected() -> None:
    build = b.build(b.outlet("Outlet"), b.load("Kettle"), b.wire("Kettle", "Outlet"))
    text = " ".join(steps(checklist(job_of(build))))
    assert "Find the GFCI and the breaker of Outlet" in text
    assert "Press test" not in text
    known = b.outlet("Outlet", electrical={"gfci": True})
    text = " ".join(steps(checklist(job_of(b.build(known, region="EU")))))
    assert "on the RCD of Outlet" in text


def test_gauges_are_listed_with_what_they_should_show_in_every_case() -> None:
    build = wet(
        b.tee("Tee"), b.gauge("Gauge"), b.tube("Vessel.b", "Tee.a"), b.tube("Tee.b", "Gauge.a")
    )
    job = job_of(build)
    found = rows(checklist(job), "expected-gauges")
    (gauge,) = job.analysis.water.gauges
    assert gauge.fed
    assert [row[1] for row in found] == [one.case for one in gauge.readings]
    for row, one in zip(found, gauge.readings, strict=True):
        assert float(row[2]) == pytest.approx(one.low_pa / PSI_PA, abs=0.051)
        assert float(row[3]) == pytest.approx(one.high_pa / PSI_PA, abs=0.051)


def test_a_jug_at_a_tap_takes_as_long_as_its_flow_says() -> None:
    """One quart is a quarter of a gallon: at 0.5 gal/min it takes half a minute."""
    for name in SAMPLES:
        for row in rows(checklist(sample_job(name)), "expected-taps"):
            if row[4] and float(row[4]) > 0.05:
                assert float(row[5].replace(",", "")) == pytest.approx(
                    15.0 / float(row[4]), rel=0.06, abs=0.6
                )


def test_tubes_hold_bore_times_length() -> None:
    """A bore of 6.35 mm holds 31.67 mL a metre: pi / 4 * 0.635 cm squared * 100 cm."""
    held = {one.id: one for one in holding_tubes(job_of(wet()).analysis)}
    assert held["suction"].volume == pytest.approx(31.67e-6, rel=1e-3)
    assert held["last"].volume == pytest.approx(2 * 31.67e-6, rel=1e-3)
    found = {row[0]: row[4] for row in rows(checklist(job_of(wet())), "drain-down-tubes")}
    assert found["Jug to Pump"] == "32"


def test_vessels_hold_what_boyle_says() -> None:
    """p V = const (Boyle): from 28 psi to a cut-out of 60 psi, 1 L takes 1 - 42.7 / 74.7 of it."""
    held = {one.id: one for one in holding_items(job_of(wet()).analysis)}
    absolute = (28 * PSI_PA + AIR_PA, 60 * PSI_PA + AIR_PA)
    assert held["Vessel"].volume == pytest.approx(1e-3 * (1 - absolute[0] / absolute[1]), rel=1e-3)
    assert held["Jug"].volume == pytest.approx(5 * GALLON_M3, rel=1e-6)


# What is opened to be drained has no power: separation before work on equipment is the rule of
# every electrical code (EN 50110-1 clause 6.2; OSHA 29 CFR 1910.147 for the United States).
def test_a_pump_is_drained_too_and_unplugged_first() -> None:
    held = {one.id: one for one in holding_items(job_of(wet()).analysis)}
    assert held["Pump"].how.startswith("unplugged")
    lines = steps(checklist(job_of(wet())))
    plugs, drains = (
        next(at for at, line in enumerate(lines) if word in line)
        for word in ("Pull the plugs", "Drain down by the lists")
    )
    assert plugs < drains


def test_a_regulator_is_read_once_there_is_water_on_its_inlet() -> None:
    """With no water on its inlet it shows nothing; common practice, no source."""
    for name in SAMPLES:
        job = sample_job(name)
        lines = steps(checklist(job))
        read = [at for at, line in enumerate(lines) if "while nothing flows" in line]
        water = [
            at for at, line in enumerate(lines)
            if "open it slowly" in line or "switch it on with the tap nearest" in line
        ]  # fmt: skip
        count = sum(isinstance(one.specification.water, Regulator) for one in job.build.items)
        assert len(read) == count
        assert not read or max(water) < min(read)


def test_what_goes_into_a_lead_is_told() -> None:
    lines = steps(checklist(sample_job("station_kiosk_230v")))
    lead = next(at for at, line in enumerate(lines) if line.startswith("16 A lead: plug in"))
    box = next(at for at, line in enumerate(lines) if line.startswith("Breaker box: main on"))
    assert "Breaker box" in lines[lead]
    assert lead < box  # a box is switched on once its feed is in


def test_what_hangs_below_both_its_ends_does_not_run_out_by_itself() -> None:
    dip = WayPoint(x=Length("50 in"), y=Length("15 in"), height=Length("2 in"))
    build = wet(b.tee("Tee", level="counter"), b.tap("Far", b.opening("1 gal/min", "40 psi")))
    hanging = b.tube("Tee.b", "Far", None, run_id="dip", waypoints=(dip,))
    analysis = job_of(b.build(*build.items, *build.runs, hanging)).analysis
    held = {one.id: one for one in holding_tubes(analysis)}
    lowest = min(z for _, _, z in analysis.network.routes["dip"].points)
    ends = [analysis.network.routes["dip"].points[at][2] for at in (0, -1)]
    assert held["dip"].dip_m == pytest.approx(min(ends) - lowest)
    assert held["dip"].dip_m > 0.5
    assert "blow it out" in held["dip"].how
    assert held["last"].dip_m == 0.0


def test_the_lowest_comes_first_and_sums_are_sums() -> None:
    for name in SAMPLES:
        content = checklist(sample_job(name))
        for key, at in (("drain-down-parts", 2), ("drain-down-tubes", 2)):
            heights = [float(row[at]) for row in rows(content, key)]
            assert heights == sorted(heights)
        analysis = sample_job(name).analysis
        known = [one.volume for one in holding_tubes(analysis) if one.volume is not None]
        total = table(content, "drain-down-tubes").totals[4]
        assert total.si == pytest.approx(math.fsum(known))


def test_everything_with_water_in_it_is_on_a_list() -> None:
    for name in SAMPLES:
        job = sample_job(name)
        content = checklist(job)
        parts = {row[0] for row in rows(content, "drain-down-parts")}
        for item in job.build.items:
            if isinstance(item.specification.water, Tank) and item.level != "venue":
                assert item.name in parts
        assert len(table(content, "drain-down-tubes").rows) == len(job.build.tubes)


def test_a_reservoir_filled_by_hand_is_filled_and_emptied() -> None:
    role = Appliance(inlets=(), feed="own reservoir", reservoir=Volume("2.5 L"))
    build = b.build(b.item("Brewer", water=role))
    content = checklist(job_of(build))
    assert "Brewer: fill its reservoir by hand, 0.7 gal." in steps(content)  # 2.5 / 3.785
    assert [row[0] for row in rows(content, "drain-down-parts")] == ["Brewer"]


# --- labels ------------------------------------------------------------------------------------


def grids(content: Content) -> list[Labels]:
    return [one for one in content.parts if isinstance(one, Labels)]


@pytest.mark.parametrize("name", SAMPLES)
def test_every_plug_receptacle_and_end_of_a_tube_has_its_label(name: str) -> None:
    job = sample_job(name)
    plugs, receptacles, tubes = grids(labels(job))
    wires = job.build.wires
    assert len(plugs.labels) == len(wires)
    assert len(receptacles.labels) == sum(wire.b is not None for wire in wires)
    ends = sum(1 + (run.b is not None) for run in job.build.tubes)
    assert len(tubes.labels) == ends
    letters = {one.key: one.letter for one in job.analysis.power.circuits}
    for wire, label in zip(wires, plugs.labels, strict=True):
        state = job.analysis.power.wires[wire.id]
        assert label.letter == letters[state.circuit]
        text = " ".join(words(line, UnitSystem.US) for line in label.lines)
        assert f"Circuit {label.letter}, " in text
        assert f"carries {state.amps:.1f} A" in text


def test_a_tube_s_arrow_goes_the_way_the_water_runs() -> None:
    build = wet()
    turned = b.build(
        *build.items,
        *(run for run in build.runs if run.id != "last"),
        b.tube("Rinser.inlet", "Vessel.b", "2 m", run_id="last"),
    )
    for one in (build, turned):
        (_, _, tubes) = grids(labels(job_of(one)))
        assert {label.headline for label in tubes.labels} == {
            "Jug → Pump", "Pump → Vessel", "Vessel → Rinser",
        }  # fmt: skip
        text = " ".join(words(line, UnitSystem.METRIC) for label in tubes.labels
                        for line in label.lines)  # fmt: skip
        assert "T3 · 6.35 mm bore, 2,000 mm" in text  # marked as in the cut list


def test_labels_are_also_a_table_for_a_label_printer() -> None:
    job = sample_job("market_cart")
    content = labels(job)
    (found,) = content.file_tables
    assert len(found.rows) == sum(len(grid.labels) for grid in grids(content))


@settings(
    deadline=None,
    max_examples=12,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(builds())
def test_any_build_gives_its_sheets(build) -> None:
    for system in UnitSystem:
        job: Job = job_of(build, system, "A4")
        for make in (plan_review, checklist, labels):
            for page in lay_out(make(job), job).pages():
                boxes_apart(page)
