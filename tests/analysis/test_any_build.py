"""What must hold for every build that loads, however unfinished or wrong."""

import math
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from random_builds import builds

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, TubeRun, edits, file
from cartlayout.documents.json_report import json_report
from cartlayout.documents.text_report import text_report
from cartlayout.units import UnitSystem

relaxed = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@relaxed
@given(builds())
def test_every_build_is_analysed_and_put_in_words(build: Build) -> None:
    analysis = analyse(build)
    for system in UnitSystem:
        assert build.name in text_report(analysis, system)
        assert all(math.isfinite(number) for number in numbers(json_report(analysis, system)))
    known = {item.id for item in build.items}
    runs = {run.id for run in build.runs}
    for finding in analysis.findings:
        assert set(finding.items) <= known
        assert set(finding.runs) <= runs


def numbers(value: Any) -> Iterator[float]:
    """Every number anywhere in a JSON value."""
    if isinstance(value, dict):
        for one in value.values():
            yield from numbers(one)
    elif isinstance(value, list):
        for one in value:
            yield from numbers(one)
    elif isinstance(value, float):
        yield value


@relaxed
@given(builds())
def test_a_build_survives_its_file(build: Build) -> None:
    assert file.decode(file.encode(build)) == build


@relaxed
@given(builds(), st.data())
def test_what_is_taken_over_changes_no_answer(build: Build, data: st.DataObject) -> None:
    """Analysis with the previous one lent says the same as from nothing."""
    before = analyse(build)
    after = build
    if build.items:
        some = data.draw(st.sampled_from([item.id for item in build.items]))
        after = edits.move(build, [some], data.draw(st.floats(-0.5, 0.5)), 0.1)
    assert answers(analyse(after, before)) == answers(analyse(after))


def answers(analysis: Analysis) -> dict[str, Any]:
    """The report with numbers rounded: a warm start may end elsewhere in the last digits."""
    rounded: dict[str, Any] = round_all(json_report(analysis, UnitSystem.METRIC))
    return rounded


def round_all(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: round_all(one) for key, one in value.items()}
    if isinstance(value, list):
        return [round_all(one) for one in value]
    if isinstance(value, float):
        return float(f"{value:.5g}") if abs(value) > 1e-7 else 0.0
    return value


@relaxed
@given(builds())
def test_water_is_neither_made_nor_lost_at_a_junction(build: Build) -> None:
    """Continuity: what tubes bring to an item that only passes water on, tubes take away."""
    analysis = analyse(build)
    passing = {
        item.id
        for item in build.items
        if type(item.specification.water).__name__ in ("Fitting", "Filter", "Gauge", "Regulator")
    }
    tubes = {run.id: run for run in build.runs if isinstance(run, TubeRun)}
    for case in analysis.water.cases.values():
        balance: dict[str, float] = defaultdict(float)
        for run_id, state in case.runs.items():
            tube = tubes[run_id]
            balance[tube.a.item] -= state.flow
            if tube.b is not None:
                balance[tube.b.item] += state.flow
        for item_id in passing & set(balance):
            assert abs(balance[item_id]) < 1e-9
