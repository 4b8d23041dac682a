"""Circuits on the legs of one supply: named, side by side, with the neutral between them."""

import pytest
from building import box, branch, build, load, outlet, wire
from PySide6.QtGui import QFontMetricsF

from cartlayout.analysis import analyse
from cartlayout.documents.fonts import font
from cartlayout.documents.theme import LIGHT, TYPE
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.ui.boards.circuit_bar import CircuitBar
from cartlayout.ui.boards.circuit_rows import circuit_rows
from cartlayout.units import UnitSystem


@pytest.fixture
def rows():
    made = build(
        outlet("feed", 240, 50, receptacle="14-50R", electrical={"system": "split-phase"}),
        box("box", (branch("1", 20, "L1", "1a"), branch("2", 20, "L2", "2a"))),
        load("heater", 1440),
        load("kettle", 960),
        wire("box", "feed.1"),
        wire("heater", "box.1a"),
        wire("kettle", "box.2a"),
    )
    found = circuit_rows(analyse(made), EVERYTHING_ON, UnitSystem.US)
    return {row.key: row for row in found}


def test_a_breaker_says_which_leg_it_sits_on(rows):
    assert (rows["box/1"].title, rows["box/1"].tail, rows["box/1"].leg) == (
        "box, 1",
        ", 1",
        " · L1",
    )
    assert rows["box/2"].spoken.startswith("Circuit C, box, 2 · L2: ")
    assert rows["box/1"].tip.splitlines()[0] == "Circuit B, box, 1 · L1"
    assert rows["venue/feed"].leg == ""


def test_legs_and_neutral_lie_side_by_side(rows):
    """Two legs of a split phase: the neutral carries the difference, 12 - 8 A."""
    legs = rows["venue/feed"].legs
    assert [leg.text for leg in legs] == ["L1 12.0 A", "L2 8.0 A", "N 4.0 A"]
    assert [leg.neutral for leg in legs] == [False, False, True]
    assert legs[0].share == pytest.approx(12 / 50)


def test_a_title_loses_its_leg_first_and_never_its_breaker(rows, qtbot):
    bar = CircuitBar(rows["box/1"], 1.25, LIGHT)
    qtbot.addWidget(bar)
    metrics = QFontMetricsF(font(TYPE.body, 600, tabular=True))
    whole = metrics.horizontalAdvance("box, 1 · L1")
    assert bar._title(metrics, whole + 1) == "box, 1 · L1"
    assert bar._title(metrics, whole - 1) == "box, 1"
    tight = metrics.horizontalAdvance("bo…, 1")
    assert bar._title(metrics, tight).endswith(", 1")
