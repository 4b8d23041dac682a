"""While a regulator's set point is dragged in Details, the taps on plan and board follow.

A regulator that does not creep leaves its set point behind it with everything shut.
"""

import pytest
from building import build, drawn, mains, regulator, tap, tube
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session
from cartlayout.units import Pressure

PSI = 6894.757
SAME = {"least": Pressure("80 psi"), "greatest": Pressure("80 psi")}


def held():
    """A main, a regulator, and one tap on the same height."""
    return build(
        mains("mains", "80 psi", connector="3/8 push-fit", water=SAME),
        regulator("regulator", "40 psi", at=("12 in", "12 in")),
        tap(
            "tap",
            drawn("0.5 gal/min"),
            required_flow="0.5 gal/min",
            least="20 psi",
            greatest="60 psi",
            level="base",
            at=("40 in", "12 in"),
        ),
        tube("mains.outlet", "regulator.inlet", "1 m"),
        tube("regulator.outlet", "tap.inlet", "1 m"),
    )


def turn() -> None:
    for _ in range(4):
        QApplication.processEvents()


def on_plan(window: MainWindow) -> str:
    """What stands at the tap on the plan."""
    (note,) = (one for one in window.plan.plan.picture.notes if one.item == "tap")
    return note.text


@pytest.fixture
def window(qtbot):
    window = MainWindow(Session(held()))
    window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(window, before_close_func=lambda each: each.session.undo_stack.setClean())
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    return window


def test_taps_answer_on_the_plan_while_a_set_point_is_dragged(window, qtbot):
    session = window.session
    session.select(Selection(items=("regulator",)))
    turn()
    part = window.details.page.sections["Pressure it is set to"]
    window.details.area.bring_up(part)
    turn()
    slider = part.editor.slider
    start, words = window.taps.gauges[0].row.static_pa, on_plan(window)
    assert start == pytest.approx(40 * PSI, rel=0.01)
    left = Qt.MouseButton.LeftButton
    QTest.mousePress(slider, left, pos=QPoint(round(slider.x_of(40 * PSI)), 28))
    for psi in (34, 28, 19):
        QTest.mouseMove(slider, QPoint(round(slider.x_of(psi * PSI)), 28))
        qtbot.waitUntil(lambda: not session.behind)
        turn()
        assert session.previewing
        assert window.taps.gauges[0].row.static_pa == pytest.approx(psi * PSI, rel=0.03)
        before, words = words, on_plan(window)
        assert words != before
    assert words.endswith("low")  # 20 psi is asked for, and the tube takes its share
    QTest.keyClick(slider, Qt.Key.Key_Escape)
    turn()
    assert window.taps.gauges[0].row.static_pa == pytest.approx(start)
    assert not on_plan(window).endswith("low")
    QTest.mouseRelease(slider, left)
    assert session.undo_stack.count() == 0
