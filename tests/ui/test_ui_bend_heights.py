"""Heights of bends in the details: typed, read back from the way, one undo step each."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.build import WayPoint, edits
from cartlayout.ui.details.panel import DetailsPanel
from cartlayout.ui.plan.bends import move_bend
from cartlayout.ui.plan.legs import led_along
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session
from cartlayout.units import Length

INCH = 0.0254
RUN = "dump-sink-drain"


@pytest.fixture
def session(qtbot) -> Session:
    build = sample("market_cart")
    bends = (
        WayPoint(x=Length("32 in"), y=Length("10 in")),
        WayPoint(x=Length("37 in"), y=Length("1 in")),
    )
    return Session(edits.replace_run(build, replace(build.run(RUN), waypoints=bends)))


@pytest.fixture
def panel(session, qtbot) -> DetailsPanel:
    made = DetailsPanel(session)
    qtbot.addWidget(made)
    made.resize(308, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def fields(panel: DetailsPanel) -> list:
    section = panel.page.sections["Bends"]
    section.open()
    return list(section.editor.editors.values())


def type_into(field, text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    QTest.keyClicks(field.line, text)
    QTest.keyClick(field.line, Qt.Key.Key_Return)


def test_a_bend_gets_a_height_and_loses_it_again(panel, session, qtbot):
    session.select(Selection(runs=(RUN,)))
    first, second = fields(panel)
    assert "36.0 in" in first.line.placeholderText()  # the counter, where the sink's drain is
    type_into(first, "38 in")
    assert session.build.run(RUN).waypoints[0].height.text == "38 in"
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == "Change height of bend 1 of tube"
    qtbot.waitUntil(lambda: session.settled.build is session.build)
    route = session.analysis.network.routes[RUN]
    assert max(z for _, _, z in route.points) == pytest.approx(38 * INCH)
    assert "38.0 in" in second.line.placeholderText()
    assert "water.drain-rise" in {one.code for one in session.analysis.findings}
    first.line.setFocus()
    first.line.selectAll()
    QTest.keyClick(first.line, Qt.Key.Key_Delete)
    QTest.keyClick(first.line, Qt.Key.Key_Return)
    assert session.build.run(RUN).waypoints[0].height is None
    qtbot.waitUntil(lambda: session.settled.build is session.build)
    assert "water.drain-rise" not in {one.code for one in session.analysis.findings}


def test_what_is_no_height_changes_nothing(panel, session):
    session.select(Selection(runs=(RUN,)))
    first = fields(panel)[0]
    type_into(first, "-3 in")
    assert session.build.run(RUN).waypoints[0].height is None
    assert session.undo_stack.count() == 0
    assert first.error.isVisible()


def test_rows_follow_the_bends(panel, session):
    session.select(Selection(runs=(RUN,)))
    assert len(fields(panel)) == 2
    run = session.build.run(RUN)
    fewer = replace(run, waypoints=run.waypoints[:1])
    session.apply("Remove bend", edits.replace_run(session.build, fewer))
    assert len(fields(panel)) == 1
    none = replace(run, waypoints=())
    session.apply("Remove bend", edits.replace_run(session.build, none))
    assert not fields(panel)
    assert "The program finds its way" in panel.page.sections["Bends"].editor.words.text()


def test_wires_have_bends_as_well(panel, session):
    wire = session.build.wires[0]
    bends = (WayPoint(x=Length("20 in"), y=Length("-4 in"), height=Length("30 in")),)
    session.apply("Add bend", edits.replace_run(session.build, replace(wire, waypoints=bends)))
    session.select(Selection(runs=(wire.id,)))
    assert fields(panel)[0].line.text() == "30 in"


def test_dragging_a_bend_or_a_leg_keeps_heights(session):
    run = session.build.run(RUN)
    high = replace(run.waypoints[0], height=Length("38 in"))
    build = edits.replace_run(session.build, replace(run, waypoints=(high, run.waypoints[1])))
    moved = move_bend(build, RUN, 0, 30 * INCH, 9 * INCH).run(RUN)
    assert moved.waypoints[0].height == Length("38 in")
    corners = [(0.8, 0.6), (32 * INCH, 0.3), (37 * INCH, 0.3), (1.4, 0.3)]
    pulled = led_along(build, RUN, corners).run(RUN)
    assert [one.height for one in pulled.waypoints] == [Length("38 in"), None]
