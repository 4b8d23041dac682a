"""Details of water, with real events: ladders in any case, set points, ways to be fed, tubes."""

import gc
import weakref

import pytest
from building import (
    accumulator,
    build,
    drawn,
    mains,
    opening,
    pump,
    regulator,
    tank,
    tap,
    tee,
    tube,
)
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from shiboken6 import isValid
from ui_samples import sample

from cartlayout.advice.tube_sizes import with_tube
from cartlayout.build import Build, edits
from cartlayout.documents.theme import DARK
from cartlayout.ui.choosing_pump import ChoosingPumpPanel
from cartlayout.ui.details.facts import item_facts, run_facts
from cartlayout.ui.details.feed_view import FeedView
from cartlayout.ui.details.panel import DetailsPanel
from cartlayout.ui.details.pump_pictures import pump_chart, vessel_of
from cartlayout.ui.details.set_point import SetPointView
from cartlayout.ui.details.tube_menu import TubeMenu
from cartlayout.ui.details.tube_sizes import TubeSizes
from cartlayout.ui.details.water_facts import window_facts
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session
from cartlayout.units import Pressure, UnitSystem, show
from cartlayout.water.results import ALL_OPEN, alone

Key = Qt.Key
PSI = 6894.757
SAME = {"least": Pressure("80 psi"), "greatest": Pressure("80 psi")}


def held() -> Build:
    """A main, a regulator, and one tap on the same height."""
    return build(
        mains("mains", "80 psi", connector="3/8 push-fit", water=SAME),
        regulator("regulator", "40 psi"),
        tap("tap", drawn("0.5 gal/min"), required_flow="0.5 gal/min", least="20 psi",
            greatest="60 psi", level="base"),
        tube("mains.outlet", "regulator.inlet", "1 m"),
        tube("regulator.outlet", "tap.inlet", "1 m"),
    )  # fmt: skip


def pumped(volume: str = "85 gal", pre_charge: str = "28 psi") -> Build:
    """A pump that holds 30 to 50 psi, with a vessel."""
    return build(
        tank("jug"),
        pump("pump", (("0 psi", "3 gal/min"), ("60 psi", "2 gal/min")), "30 psi", "50 psi"),
        accumulator("vessel", volume, pre_charge),
        tee("tee"),
        tap("tap", drawn("0.5 gal/min"), required_flow="0.5 gal/min", least="10 psi"),
        tap("other", opening("0.8 gal/min", "20 psi"), required_flow="0.8 gal/min", least="10 psi"),
        tube("jug.outlet", "pump.inlet", "1 m"),
        tube("pump.outlet", "vessel.a", "1 m"),
        tube("vessel.b", "tee.a", "1 m"),
        tube("tee.b", "tap.inlet", "1 m", run_id="line"),
        tube("tee.c", "other.inlet", "1 m"),
    )


@pytest.fixture
def open_details(qtbot):
    """The panel on a build, with something selected."""
    kept = []

    def open_(shown: Build, *items: str, runs: tuple[str, ...] = ()) -> DetailsPanel:
        session = Session(shown)
        panel = DetailsPanel(session)
        kept.append(session)
        qtbot.addWidget(panel)
        panel.resize(308, 900)
        panel.show()
        qtbot.waitExposed(panel)
        panel.activateWindow()
        qtbot.waitUntil(panel.isActiveWindow)
        session.select(Selection(items=items, runs=runs))
        turn()
        return panel

    return open_


def chart_of(panel, qtbot):
    """The chart, which comes after its page."""
    editor = panel.page.sections["Curve"].editor
    qtbot.waitUntil(lambda: editor.view is not None)
    return editor.view


def turn() -> None:
    for _ in range(4):
        QApplication.processEvents()


# The pump


def test_the_vessel_holds_what_the_drawdown_formula_says():
    """Well-drilling trade paper: 85 gal, air at 28 psi, 30 to 50 psi, gives 25.1 gal (0.295)."""
    session = Session(pumped())
    vessel = vessel_of(session.analysis, session.build.item("vessel"), UnitSystem.US)
    assert vessel.high_water_share - vessel.low_water_share == pytest.approx(0.295, abs=0.001)
    litres = float(vessel.useful.split()[0].replace(",", "")) / 1000
    assert litres == pytest.approx(25.1 * 3.785412, rel=0.003)
    assert vessel.useful in vessel.spoken


def test_the_curve_ends_where_the_makers_table_does_and_points_lie_on_it():
    """The rows of the table are the maker's: a point between two of them lies on their line.

    The suction side takes a little more while the pump runs than while it rests.
    """
    session = Session(pumped())
    chart = pump_chart(session.analysis, session.build.item("pump"), ALL_OPEN, UnitSystem.US)
    (curve,) = [one for one in chart.curves if one.strong]
    assert curve.points[0] == pytest.approx((3.0, 0.0), abs=1e-3)
    assert curve.points[-1] == pytest.approx((2.0, 60.0), abs=1e-3)
    assert {one.name for one in chart.spots} == {alone("tap"), alone("other"), ALL_OPEN}
    for spot in chart.spots:
        assert spot.x == pytest.approx(3.0 - spot.y / 60.0, abs=0.02)
    assert [level.y for level in chart.levels] == pytest.approx([50.0, 30.0], abs=1e-3)


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_arrows_walk_along_the_curve_and_the_mouse_points(open_details, qtbot):
    panel = open_details(pumped(), "pump")
    view = chart_of(panel, qtbot)
    panel.area.bring_up(panel.page.sections["Curve"])
    turn()
    assert "cut-in 30.0 psi" in view.accessibleName()
    view.setFocus()
    QTest.keyClick(view, Key.Key_Right)
    first = view.spot
    assert first.tip.splitlines()[0] in view.accessibleDescription()
    QTest.keyClick(view, Key.Key_Right)
    assert view.spot.x >= first.x
    assert view.spot is not first
    QTest.keyClick(view, Key.Key_Escape)
    assert view.spot is None
    spot = view.chart.spots[0]
    at = view.pixel(spot.x, spot.y)
    assert view.rect().contains(at.toPoint())
    assert view.chart.spots[view.spot_at(at)].x == pytest.approx(spot.x, abs=0.1)
    QTest.mouseMove(view, at.toPoint())
    turn()
    assert view.spot is not None


def test_no_words_lie_on_others_in_a_chart(open_details, qtbot):
    panel = open_details(sample(), "pump")
    view = chart_of(panel, qtbot)
    panel.area.bring_up(panel.page.sections["Curve"])
    turn()
    view.grab()
    labels = view._marks.labels
    assert {text for text, _ in labels} >= {"cut-in 45.0 psi", "cut-out 60.0 psi"}
    for at, (_, one) in enumerate(labels):
        assert not any(one.intersects(other) for _, other in labels[at + 1 :])


def test_a_chart_is_only_made_when_its_part_is_open(open_details, qtbot):
    panel = open_details(pumped(), "pump")
    panel.page.sections["Curve"].head.click()
    panel._session.select(Selection(items=("tap",)))
    turn()
    panel._session.select(Selection(items=("pump",)))
    turn()
    assert panel.page.sections["Curve"].editor is None
    assert panel.page.sections["Vessel"].editor is not None


# The ladder


def test_the_ladder_is_looked_at_in_any_case(open_details):
    panel = open_details(pumped(), "tap")
    (chooser,) = panel.page.ladder.choosers
    words = [chooser.itemText(at) for at in range(chooser.count())]
    assert words == ["This tap alone", ALL_OPEN, "With other"]
    water = panel._session.analysis.water
    tap_ = water.tap("tap")
    by_itself = panel.page.ladder.bars[-1].rung.value
    chooser.setFocus()
    QTest.keyClick(chooser, Key.Key_End)
    turn()
    (case,) = water.pairs
    steps = water.ladder(tap_, case)
    shown = panel.page.ladder.bars
    assert [bar.rung.id for bar in shown] == [step.id for step in steps]
    assert shown[-1].rung.value != by_itself
    # Energy is kept on the way: what each step took, summed, is what is missing at its end.
    taken = sum(step.loss_pa for step in steps[1:])
    assert steps[0].pressure_pa - taken == pytest.approx(steps[-1].pressure_pa, abs=1.0)
    QTest.mouseClick(shown[1], Qt.MouseButton.LeftButton)
    assert panel._session.selection.runs or panel._session.selection.items != ("tap",)


# The regulator


def slider_of(panel) -> tuple[SetPointView, object]:
    view = panel.page.sections["Pressure it is set to"].editor
    panel.area.bring_up(panel.page.sections["Pressure it is set to"])
    turn()
    return view, view.slider


def test_taps_answer_while_a_set_point_is_dragged(open_details, qtbot):
    """A regulator that does not creep leaves its set point behind it with everything shut."""
    panel = open_details(held(), "regulator")
    session = panel._session
    before = session.build
    _, slider = slider_of(panel)
    start = QPoint(round(slider.x_of(40 * PSI)), 28)
    goal = QPoint(round(slider.x_of(30 * PSI)), 28)
    QTest.mousePress(slider, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(slider, goal)
    turn()
    assert session.previewing
    assert session.build is before
    qtbot.waitUntil(lambda: not session.behind)
    assert session.analysis.water.tap("tap").static_pa == pytest.approx(30 * PSI, rel=0.02)
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=goal)
    turn()
    assert session.undo_stack.count() == 1
    assert session.build.item("regulator").specification.water.set_point.text == "30 psi"
    session.undo_stack.undo()
    assert session.build is before


def test_escape_gives_a_dragged_set_point_up(open_details):
    panel = open_details(held(), "regulator")
    session = panel._session
    _, slider = slider_of(panel)
    QTest.mousePress(
        slider, Qt.MouseButton.LeftButton, pos=QPoint(round(slider.x_of(20 * PSI)), 28)
    )
    assert session.previewing
    QTest.keyClick(slider, Key.Key_Escape)
    turn()
    assert not session.previewing
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton)
    assert session.undo_stack.count() == 0
    assert slider.value.set_pa == pytest.approx(40 * PSI, rel=1e-4)


def test_arrows_step_by_a_psi_or_a_twentieth_of_a_bar_in_one_undo_step(open_details):
    panel = open_details(held(), "regulator")
    session = panel._session
    _, slider = slider_of(panel)
    slider.setFocus()
    for _ in range(3):
        QTest.keyClick(slider, Key.Key_Right)
        turn()
    assert session.build.item("regulator").specification.water.set_point.text == "43 psi"
    assert session.undo_stack.count() == 1
    session.set_system(UnitSystem.METRIC)
    turn()
    QTest.keyClick(slider, Key.Key_Right)
    turn()
    bar = session.build.item("regulator").specification.water.set_point.si / 1e5
    # 43 psi is 2.96 bar (NIST SP 811: 1 psi is 6894.757 Pa); the next step up is 3.00 bar.
    assert bar == pytest.approx(3.0, abs=1e-6)


def test_a_set_point_is_typed_in_any_unit(open_details):
    panel = open_details(held(), "regulator")
    view, _ = slider_of(panel)
    view.field.line.setFocus()
    view.field.line.selectAll()
    QTest.keyClicks(view.field.line, "2.5 bar")
    QTest.keyClick(view.field.line, Key.Key_Return)
    turn()
    assert panel._session.build.item("regulator").specification.water.set_point.text == "2.5 bar"
    assert panel._session.undo_stack.count() == 1


# How an appliance is fed


def test_another_way_to_be_fed_is_one_step_and_the_item_stays(open_details):
    panel = open_details(sample(), "espresso")
    session = panel._session
    before = session.build
    view = panel.page.sections["How it is fed"].editor
    assert isinstance(view, FeedView)
    panel.area.bring_up(panel.page.sections["How it is fed"])
    turn()
    assert "Reservoir: no tube, filled by hand" in view.words.text()
    QTest.mouseClick(view.buttons["own reservoir"], Qt.MouseButton.LeftButton)
    turn()
    assert session.undo_stack.count() == 1
    now = session.build.item("espresso")
    assert now.specification.water.feed == "own reservoir"
    assert (now.x, now.y) == (before.item("espresso").x, before.item("espresso").y)
    assert view.buttons["own reservoir"].isChecked()
    session.undo_stack.undo()
    turn()
    assert session.build is before
    assert not view.buttons["own reservoir"].isChecked()


# Tubes


def test_a_tubes_pressure_is_seen_before_it_is_taken(open_details, qtbot):
    panel = open_details(pumped(), runs=("line",))
    session = panel._session
    before = session.build
    section = panel.page.sections["Tubes that fit"]
    assert section.editor is None
    section.head.click()
    view = section.editor
    assert isinstance(view, TubeSizes)
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))
    names = list(view.rows)
    panel.area.bring_up(section)
    turn()
    view.rows[names[0]].setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(view.rows[names[0]], Key.Key_Down)
    turn()
    assert QApplication.focusWidget() is view.rows[names[1]]
    assert session.shown.run("line").tube.name == names[1]
    assert session.build is before
    told = view.rows[names[1]].tried
    QTest.keyClick(view.rows[names[1]], Key.Key_Return)
    turn()
    assert session.undo_stack.count() == 1
    assert session.build.run("line").tube.name == names[1]
    assert not session.previewing
    # What was said beforehand is what comes: the same line is solved whole.
    tap_ = next(one for one in session.analysis.water.taps if one.name == told.tap)
    assert tap_.states[told.case].pressure_pa == pytest.approx(told.pressure_pa, abs=1.0)


def test_pointing_at_a_tube_previews_and_leaving_takes_it_back(open_details, qtbot):
    panel = open_details(pumped(), runs=("line",))
    session = panel._session
    section = panel.page.sections["Tubes that fit"]
    section.head.click()
    view = section.editor
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))
    panel.area.bring_up(section)
    turn()
    row = next(iter(view.rows.values()))
    QTest.mouseMove(view.words, QPoint(2, 2))
    QTest.mouseMove(row, row.rect().center())
    qtbot.waitUntil(lambda: session.previewing)
    assert session.shown.run("line").tube.name == row.name
    QTest.mouseMove(view.words, QPoint(2, 2))
    qtbot.waitUntil(lambda: not session.previewing)
    assert session.undo_stack.count() == 0


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_context_menu_tells_and_takes(open_details, qtbot):
    panel = open_details(pumped(), runs=("line",))
    session = panel._session
    menu = TubeMenu(session, session.build.run("line"), panel)
    menu.popup(panel.mapToGlobal(QPoint(10, 10)))
    qtbot.waitUntil(lambda: all(not one.icon().isNull() for one in menu.entries.values()))
    assert all("psi" in one.text() for one in menu.entries.values())
    QTest.keyClick(menu, Key.Key_Down)
    turn()
    name = menu._named(menu.activeAction())
    assert session.shown.run("line").tube.name == name
    QTest.keyClick(menu, Key.Key_Return)
    turn()
    assert session.build.run("line").tube.name == name
    assert session.undo_stack.count() == 1
    menu.deleteLater()


def test_where_no_water_side_is_there_are_no_parts_of_it(open_details):
    panel = open_details(sample(), "grinder")
    assert not {"Curve", "Vessel", "How it is fed"} & set(panel.page.sections)


def test_a_chart_goes_with_its_page(open_details, qtbot):
    panel = open_details(sample(), "pump")
    view = weakref.ref(chart_of(panel, qtbot))
    panel._session.select(Selection(items=("grinder",)))
    turn()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    assert view() is None


def test_a_chart_takes_over_the_theme(open_details, qtbot):
    panel = open_details(sample(), "pump")
    view = chart_of(panel, qtbot)
    panel._session.set_theme(DARK)
    turn()
    assert view.plot.backgroundBrush().color().name() == DARK.panel


def test_which_pump_is_asked_from_the_pump(open_window, qtbot):
    window = open_window()
    window.session.select(Selection(items=("pump",)))
    turn()
    button = window.details.page.water.ask
    window.details.area.bring_up(button)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    panel = window.findChild(ChoosingPumpPanel)
    assert panel.is_open
    panel.cancel()


def test_facts_of_the_water_side_are_told_where_they_belong():
    """What is told is what the results hold; how they come about is checked in tests/water."""
    session = Session(sample("conference_hall_bar"))
    analysis = session.analysis

    def told(one: str) -> dict[str, str]:
        run, item = analysis.build.run(one), analysis.build.item(one)
        found = (
            run_facts(analysis, run, ALL_OPEN, UnitSystem.US)
            if run is not None
            else (
                *item_facts(analysis, item, "", ALL_OPEN, UnitSystem.US),
                *window_facts(analysis, item, UnitSystem.US),
            )
        )
        return {fact.label: fact.value for fact in found}

    arrival = analysis.water.window("mains").arrival
    assert arrival.behind in told("mains")["On arrival"]
    (state,) = [one for one in analysis.water.filters if one.item == "carbon"]
    assert show(state.rated_flow, "flow", UnitSystem.US) in told("carbon")["Passes"]
    (drain,) = [one for one in analysis.water.drains if one.run == "hall-drain"]
    assert f"{drain.slope:.1%}" in told("hall-drain")["Falls"]
    assert show(drain.half_full, "flow", UnitSystem.US) in told("hall-drain")["Carries"]
    assert "of 100.0 psi" in told("mains-line")["At rest"]


def test_a_tube_that_goes_while_others_are_tried_in_its_place(open_details, qtbot):
    panel = open_details(pumped(), runs=("line",))
    session = panel._session
    section = panel.page.sections["Tubes that fit"]
    section.head.click()
    trials = section.editor.trials
    assert trials.works
    session.apply("Disconnect", edits.remove(session.build, run_ids=("line",)))
    qtbot.waitUntil(lambda: session.selection.runs == ())
    assert not isValid(trials) or not trials.works


def test_a_folded_list_of_tubes_tries_nothing(open_details, qtbot):
    panel = open_details(pumped(), runs=("line",))
    section = panel.page.sections["Tubes that fit"]
    section.head.click()
    view = section.editor
    section.head.click()
    assert not view.trials.works
    panel._session.apply("Move", edits.move(panel._session.build, ("other",), 0.01, 0.0))
    turn()
    assert not view.trials.works
    section.head.click()
    assert view.trials.works
    qtbot.waitUntil(lambda: all(row.tried is not None for row in view.rows.values()))


def test_what_a_supply_has_to_give_is_asked_anew_only_when_a_drag_is_over(open_details, qtbot):
    panel = open_details(pumped(), "pump")
    session = panel._session
    told = panel.page._window
    assert told[0].label == "Has to give"
    thinner = with_tube(session.build, session.build.run("line"), "1/4 in tube")
    session.preview(thinner)
    qtbot.waitUntil(lambda: not session.behind)
    assert panel.page._window is told
    session.apply("Change tube", thinner)
    qtbot.waitUntil(lambda: panel.page._window is not told)
    assert panel.page._window[0].label == "Has to give"
