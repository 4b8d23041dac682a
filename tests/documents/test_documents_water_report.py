"""What the reports say about water: both tell the same, and JSON stays JSON.

The form is held against RFC 8259 (which has no NaN and no Infinity), through the standard
library's strict writer.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from cartlayout.analysis import Analysis, analyse
from cartlayout.build.file import load
from cartlayout.documents.json_report import json_report
from cartlayout.documents.text_report import text_report
from cartlayout.units import UnitSystem

SAMPLES = sorted((Path(__file__).parents[2] / "sample_builds").glob("*.cart"))


def _analysed(name: str) -> Analysis:
    return analyse(load(next(path for path in SAMPLES if path.stem == name)))


def _json(analysis: Analysis) -> dict[str, Any]:
    text = json.dumps(json_report(analysis, UnitSystem.US), allow_nan=False)
    read: dict[str, Any] = json.loads(text)
    return read


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_json_has_every_tap_tube_and_drain(path: Path) -> None:
    analysis = analyse(load(path))
    told = _json(analysis)
    assert {one["item"] for one in told["taps"]} == {tap.item for tap in analysis.water.taps}
    assert {one["run"] for one in told["water"]["tubes"]} >= set(analysis.water.fastest)
    assert len(told["water"]["drains"]) == len(analysis.water.drains)
    assert len(told["water"]["supplies"]) == len(analysis.water.windows)


def test_a_pump_outside_of_its_window_is_told_with_what_would_open_it() -> None:
    analysis = _analysed("market_cart_first_try")
    text = text_report(analysis, UnitSystem.METRIC)
    supply = text.split("What the supply has to give")[1].split("\n\n")[0]
    assert "for Pitcher rinser" in supply
    assert "put a regulator before Pitcher rinser" in supply
    assert "not inside  <- see findings" in supply
    told = _json(analysis)["water"]["supplies"][0]
    assert not told["open"]
    assert not told["hit"]
    assert [one["name"] for one in told["regulators"]] == ["Pitcher rinser"]


def test_mains_say_where_to_hold_the_gauge_on_arrival() -> None:
    """Unknown mains are gauged after the filter: common practice, no source."""
    text = text_report(_analysed("conference_hall_bar"), UnitSystem.US)
    assert "on arrival, gauge after " in text


def test_who_robs_whom_stands_under_the_tap() -> None:
    lines = text_report(_analysed("market_cart"), UnitSystem.METRIC).splitlines()
    at = next(place for place, line in enumerate(lines) if line.startswith("  Espresso machine:"))
    under = lines[at + 1 : at + 5]
    assert any("Pitcher rinser open: " in line and " bar" in line for line in under)


def test_starts_and_useful_volume_are_told() -> None:
    text = text_report(_analysed("market_cart"), UnitSystem.METRIC)
    assert "mL useful" in text
    assert "at the worst draw" in text
    assert "when it shuts in" in text
