"""Circuits on the legs of one supply: named, side by side, with the neutral between them."""

import pytest
from building import box, branch, build, generator, load, outlet, wire
from plan_hand import settle
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QTest

from cartlayout.analysis import analyse
from cartlayout.documents.fonts import font
from cartlayout.documents.theme import LIGHT, TYPE
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.ui.boards.circuit_bar import CircuitBar
from cartlayout.ui.boards.circuit_rows import circuit_rows
from cartlayout.ui.boards.circuits import CircuitsBoard
from cartlayout.ui.boards.supply_legs import supply_legs
from cartlayout.ui.session import Session
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


def generator_build(second="set.1b"):
    """A set of 12.5 A a leg with two loads of 10 A, both on its first leg unless said."""
    return build(
        outlet("hall"),
        generator(
            "set",
            [branch("1", 20, "L1", "1a", "1b"), branch("2", 20, "L2", "2a")],
            240,
            3000,
            leg_amps=12.5,
            system="split-phase",
        ),
        load("heater", 1200),
        load("kettle", 1200),
        wire("heater", "set.1a"),
        wire("kettle", second),
    )


def test_the_legs_of_a_generator_lie_side_by_side():
    """20 A on a leg of 12.5 A, whatever the other leg does: 160 %; one on each: 80 %, and nothing
    in the neutral."""
    (row,) = supply_legs(analyse(generator_build()), EVERYTHING_ON, UnitSystem.US)
    assert [leg.text for leg in row.legs] == ["L1 20.0 A", "L2 0.0 A", "N 20.0 A"]
    assert row.share == pytest.approx(1.6, abs=0.01)
    assert (row.verdict, row.state) == ("a leg over by 7.5 A", "stop")
    assert row.numbers == "20.0 of 12.5 A"
    assert row.spoken == "set, legs: L1 20.0 A, L2 0.0 A, N 20.0 A, a leg over by 7.5 A"
    (row,) = supply_legs(analyse(generator_build("set.2a")), EVERYTHING_ON, UnitSystem.US)
    assert [leg.text for leg in row.legs] == ["L1 10.0 A", "L2 10.0 A"]
    assert row.share == pytest.approx(0.8, abs=0.01)
    assert (row.verdict, row.state) == ("legs even", "ok")


def test_a_generator_of_one_leg_has_no_row_of_legs():
    made = build(generator("set", [branch("1", 20, "L", "1")]), load("kettle"), name="one leg")
    assert supply_legs(analyse(made), EVERYTHING_ON, UnitSystem.US) == ()


@pytest.fixture
def session(qtbot):
    return Session(generator_build())


@pytest.fixture
def board(session, qtbot):
    made = CircuitsBoard(session)
    qtbot.addWidget(made)
    made.resize(420, 320)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_legs_stand_above_the_circuits_of_their_generator(session, board, qtbot):
    (legs,) = board.supplies
    hall, first, second = board.bars
    assert hall.y() < legs.y() < first.y() < second.y()
    with qtbot.waitSignal(legs.chosen) as chosen:
        QTest.mouseClick(legs, Qt.MouseButton.LeftButton)
    assert chosen.args == [("set",)]
    session.apply("Other leg", generator_build("set.2a"))
    settle(session)
    assert board.supplies == (legs,)
    assert legs.row.verdict == "legs even"


def test_a_load_cannot_be_dropped_on_legs(session, board):
    before = session.build
    first = next(bar for bar in board.bars if bar.row.segments)
    start = first.segment_rect(first.row.segments[0]).center().toPoint()
    (legs,) = board.supplies
    QTest.mousePress(first, Qt.MouseButton.LeftButton, pos=start)
    over = first.mapFrom(board, legs.mapTo(board, legs.rect().center()))
    QTest.mouseMove(first, start + QPoint(30, 0))
    QTest.mouseMove(first, over)
    QTest.mouseRelease(first, Qt.MouseButton.LeftButton, pos=over)
    settle(session)
    assert session.build is before
