"""Water on the plan: which way it runs in the case shown, hot tubes, low points, the fastest."""

from dataclasses import replace as with_

import pytest
from msgspec.structs import replace

from cartlayout.advice.inserting import insert
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, End, WayPoint
from cartlayout.build.edits import replace_run
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.gauge_lines import gauge_lines, gauges_json
from cartlayout.documents.json_report import json_report
from cartlayout.documents.plan import PlanOptions, PlanPicture, plan_picture
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.elements import TextItem
from cartlayout.documents.sheet.key import key_elements
from cartlayout.documents.text_report import text_report
from cartlayout.stock import entry
from cartlayout.units import Length, UnitSystem
from cartlayout.water.results import ALL_OPEN, ALL_SHUT, alone

METRIC = UnitSystem.METRIC


def _sample(name: str = "market_cart") -> Build:
    return load(sample_builds() / f"{name}.cart")


def _picture(analysis: Analysis, case: str = ALL_OPEN) -> PlanPicture:
    return plan_picture(analysis.build, analysis, PlanOptions(system=METRIC, case=case))


def _hot() -> Build:
    """The market cart with a heater before its rinser."""
    return insert(_sample(), End("rinser", "inlet"), entry("water-heater-120"))[0]


def test_arrows_are_outlines_where_nothing_runs_in_the_case_shown() -> None:
    analysis = analyse(_sample())
    tubes = {run.id for run in _picture(analysis).runs if run.medium == "water"}
    for case, still in (
        (ALL_OPEN, set()),
        (alone("Pitcher rinser"), {"espresso-line"}),
        (alone("Espresso machine"), {"rinser-line"}),
        (ALL_SHUT, tubes),
    ):
        picture = _picture(analysis, case)
        assert {run.id for run in picture.runs if run.still} == still, case
        assert all(run.flow for run in picture.runs if run.medium == "water")


def test_arrows_point_from_the_tank_to_the_taps() -> None:
    analysis = analyse(_sample())
    runs = {run.id: run for run in _picture(analysis).runs}
    for run_id, state in analysis.water.cases[ALL_OPEN].runs.items():
        assert runs[run_id].flow == (1 if state.flow > 0 else -1)
    assert runs["espresso-line"].ends[1 if runs["espresso-line"].flow > 0 else 0] == "espresso"


def test_tubes_behind_a_heater_are_drawn_as_hot_and_say_how_hot() -> None:
    analysis = analyse(_hot())
    picture = _picture(analysis)
    hot = {run.id for run in picture.runs if run.hot}
    assert hot == set(analysis.water.temperatures_k)
    assert hot
    notes = [note for note in picture.notes if note.key.startswith("hot ")]
    assert len(notes) == 1
    assert notes[0].run in hot
    assert notes[0].text.endswith("°C")
    assert not any(run.hot for run in _picture(analyse(_sample())).runs)


def test_the_sheets_key_tells_of_hot_and_still_tubes_only_where_there_are_any(qapp) -> None:
    def words(build: Build, case: str) -> str:
        made = key_elements(build, _picture(analyse(build), case), Box(0.0, 0.0, 180.0, 60.0))
        return " ".join(one.text for one in made if isinstance(one, TextItem))

    assert "hot water" in words(_hot(), ALL_OPEN)
    assert "stands still" not in words(_hot(), ALL_OPEN)
    plain = words(_sample(), alone("Pitcher rinser"))
    assert "hot water" not in plain
    assert "stands still (pitcher rinser alone)" in plain


def test_the_fastest_tube_is_told() -> None:
    analysis = analyse(_sample())
    for case in (ALL_OPEN, alone("Pitcher rinser")):
        note = next(one for one in _picture(analysis, case).notes if one.key == "fastest")
        runs = analysis.water.cases[case].runs
        assert runs[note.run].velocity_m_s == max(one.velocity_m_s for one in runs.values())
    shut = _picture(analysis, ALL_SHUT)
    assert not [one for one in shut.notes if one.key == "fastest"]


@pytest.mark.parametrize(("height", "state"), [("10 mm", "stop")])
def test_a_drain_that_hangs_through_has_a_low_point_marked(height: str, state: str) -> None:
    """That water stands where a drain climbs again is common practice, no source."""
    build = _sample()
    run = build.run("rinser-drain")
    assert run is not None
    points = tuple(
        WayPoint(x=Length(f"{x} mm"), y=Length("450 mm"), height=Length(high))
        for x, high in ((1200, height), (1350, "915 mm"))
    )
    analysis = analyse(replace_run(build, replace(run, waypoints=points)))
    low = next(one for one in analysis.water.drains if one.run == "rinser-drain").low_points
    assert low
    notes = [one for one in _picture(analysis).notes if one.key.startswith("low rinser-drain")]
    assert len(notes) == len(low)
    assert notes[0].anchor == pytest.approx((low[0].at[0] * 1000.0, low[0].at[1] * 1000.0))
    assert notes[0].state == state
    drainless = PlanOptions(system=METRIC, overlays=frozenset({"water"}))
    hidden = plan_picture(analysis.build, analysis, drainless)
    assert not [one for one in hidden.notes if one.key.startswith("low ")]


def test_gauges_are_told_in_both_reports() -> None:
    build, item_id = insert(_sample(), End("rinser", "inlet"), entry("gauge"))
    analysis = analyse(build)
    gauge = next(one for one in analysis.water.gauges if one.item == item_id)
    lines = list(gauge_lines(analysis.water, METRIC))
    assert len(lines) == 1 + len(gauge.readings)
    assert all("should show" in line for line in lines[1:])
    assert lines[1] in text_report(analysis, METRIC)
    told = json_report(analysis, METRIC)["water"]["gauges"]
    assert told == gauges_json(analysis.water)
    read = with_(gauge.readings[0], read_pa=gauge.readings[0].high_pa + 2 * gauge.full_scale_pa)
    off = with_(analysis.water, gauges=(with_(gauge, readings=(read,)),))
    assert "not what it should" in list(gauge_lines(off, METRIC))[1]
