"""The taps board: windows, dots and rings where the numbers say."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from cartlayout.ui.boards.tap_rows import pressure_scale, tap_rows
from cartlayout.ui.boards.taps import TapsBoard, scale_x
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
