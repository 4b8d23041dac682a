"""The taps board: windows, dots and rings where the numbers say."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from cartlayout.build.edits import move
from cartlayout.ui.boards.pressure_row import scale_x
from cartlayout.ui.boards.tap_rows import pressure_scale, tap_rows
from cartlayout.ui.boards.taps import TapsBoard
from cartlayout.units import UnitSystem


@pytest.fixture
def board(session, qtbot) -> TapsBoard:
    made = TapsBoard(session)
    qtbot.addWidget(made)
    made.resize(400, 240)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_a_gauge_a_tap(board, session):
    taps = session.analysis.water.taps
    assert [gauge.row.key for gauge in board.gauges] == [(tap.item, tap.port) for tap in taps]
    for gauge, tap in zip(board.gauges, taps, strict=True):
        assert gauge.row.static_pa == tap.static_pa


@pytest.mark.parametrize(
    ("system", "unit_pa", "unit"),
    # NIST SP 811, appendix B.8: 1 psi is 6.894757 kPa, 1 bar is 100 kPa.
    [(UnitSystem.US, 6894.757, "psi"), (UnitSystem.METRIC, 1e5, "bar")],
)
def test_ticks_stand_at_the_pressures_they_name(session, system, unit_pa, unit):
    rows = tap_rows(session.analysis, "Everything open", system)
    scale = pressure_scale(rows, system)
    assert scale.unit == unit
    for pressure_pa, text in scale.ticks:
        assert pressure_pa == pytest.approx(float(text) * unit_pa, rel=1e-6, abs=1e-6)
    assert scale.top_pa >= max(row.greatest_pa for row in rows)


def test_places_on_the_scale_follow_the_pressure(session):
    rows = tap_rows(session.analysis, "Everything open", UnitSystem.US)
    scale = pressure_scale(rows, UnitSystem.US)
    left, middle, right = (scale_x(share * scale.top_pa, scale, 400.0) for share in (0.0, 0.5, 1.0))
    assert middle - left == pytest.approx(right - middle)
    assert scale_x(-5e5, scale, 400.0) == left
    assert scale_x(1e9, scale, 400.0) == right


def test_a_click_and_enter_select(board, session):
    first, second = board.gauges[:2]
    QTest.mouseClick(first, Qt.MouseButton.LeftButton)
    assert session.selection.items == (first.row.item,)
    second.setFocus()
    QTest.keyClick(second, Qt.Key.Key_Return)
    assert session.selection.items == (second.row.item,)


def test_the_other_units_and_another_case(board, session):
    numbers = board.gauges[0].row.numbers
    assert "psi" in numbers
    session.set_system(UnitSystem.METRIC)
    assert "bar" in board.gauges[0].row.numbers
    session.set_case(f"{board.gauges[0].row.name} alone")
    alone = board.gauges[0].row.open_pa
    state = session.analysis.water.taps[0].states[session.case]
    assert alone == state.pressure_pa
    board.grab()


def test_without_taps_the_board_says_so(qtbot):
    from cartlayout.ui.new_cart import new_build
    from cartlayout.ui.session import Session

    board = TapsBoard(Session(new_build()))
    qtbot.addWidget(board)
    board.show()
    assert board.empty.isVisible()
    assert "No tap yet" in board.empty.text()


def test_a_bar_a_supply_says_what_it_gives_and_what_it_has_to(board, session):
    """That the supply lies between both edges is common practice, no source."""
    windows = session.analysis.water.windows
    assert [bar.row.item for bar in board.supplies] == [one.item for one in windows]
    row = board.supplies[0].row
    assert (row.least_pa, row.greatest_pa) == (windows[0].least_pa, windows[0].greatest_pa)
    assert row.state == "ok"
    assert row.least_pa <= row.low_pa <= row.high_pa <= row.greatest_pa
    assert "starts an hour" in row.words
    QTest.mouseClick(board.supplies[0], Qt.MouseButton.LeftButton)
    assert session.selection.items == (row.item,)


def test_who_takes_most_from_a_tap_stands_under_it(board, session):
    told = {one.item: one for one in reversed(session.analysis.water.together) if len(one.by) == 1}
    assert told
    for gauge in board.gauges:
        line = gauge.row.line
        assert line.startswith("shut ")
        one = told.get(gauge.row.item)
        if one is not None:
            assert f"with {one.by[0].name}" in line
            assert gauge.row.item in told
        # NIST SP 811, appendix B.8: 1 psi is 6.894757 kPa.
        assert line.endswith(" psi")
        shut = float(line.split(" · ")[0].removeprefix("shut ").removesuffix(" psi"))
        assert shut * 6894.757 == pytest.approx(gauge.row.static_pa, abs=400)


def test_while_something_moves_supplies_follow_when_it_rests(board, session, qtbot):
    other = move(session.build, ("espresso",), 0.05, 0.0)
    before = board.supplies[0].row
    session.preview(other)
    qtbot.waitUntil(lambda: session.analysis.build is other)
    assert board.supplies[0].row is before
    qtbot.waitUntil(lambda: board.supplies[0].row is not before, timeout=2000)
    session.cancel_preview()
    assert board.supplies[0].row == before
