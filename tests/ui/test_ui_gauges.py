"""Gauges in the window: put in where one points, read by typing, asked what explains them."""

import itertools

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from cartlayout.build import Gauge, Reading, edits
from cartlayout.network import insert_inline
from cartlayout.network.inserting import middle_of
from cartlayout.stock import entry
from cartlayout.ui.gauges import GaugesView
from cartlayout.ui.selection import Selection
from cartlayout.units import Pressure, UnitSystem
from cartlayout.water import ALL_OPEN, ALL_SHUT


def settle(session) -> None:
    QApplication.processEvents()
    while session.behind:
        QApplication.processEvents()
    QApplication.processEvents()


def put_in(session, run_id: str = "filtered-line") -> str:
    """A gauge in the middle of a tube, without the mouse."""
    build = session.build
    at = middle_of(build, session.analysis.network, run_id)
    made, gauge_id = insert_inline(build, run_id, entry("gauge").specification, *at)
    session.apply("Insert gauge", made, select=Selection(items=(gauge_id,)))
    settle(session)
    return gauge_id


def type_reading(view: GaugesView, gauge_id: str, case: str, text: str) -> None:
    field = view.tables[gauge_id].rows[case].field
    field.line.setFocus()
    field.line.selectAll()
    QTest.keyClick(field.line, Qt.Key.Key_Delete)
    QTest.keyClicks(field.line, text)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    settle(view.session)


@pytest.fixture
def shown(window, qtbot):
    """The window with a gauge selected: window, view of its readings, id."""
    gauge_id = put_in(window.session)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    return window, window.details.gauges, gauge_id


def test_every_case_says_what_it_should_show(shown) -> None:
    window, view, gauge_id = shown
    states = {one.item: one for one in window.session.analysis.water.gauges}
    cases = [one.case for one in states[gauge_id].readings]
    assert list(view.tables[gauge_id].rows) == cases
    assert {ALL_SHUT, ALL_OPEN} <= set(cases)
    rest = view.tables[gauge_id].rows[ALL_SHUT].should.text()
    assert rest.endswith("psi")
    window.session.set_system(UnitSystem.METRIC)
    settle(window.session)
    assert view.tables[gauge_id].rows[ALL_SHUT].should.text().endswith("bar")


def test_a_reading_is_typed_in_any_unit_and_is_one_step(shown) -> None:
    window, view, gauge_id = shown
    session = window.session
    before = session.undo_stack.count()
    type_reading(view, gauge_id, ALL_SHUT, "2 bar")
    assert session.undo_stack.count() == before + 1
    assert session.build.item(gauge_id).readings == (Reading(ALL_SHUT, Pressure("2 bar")),)
    row = view.tables[gauge_id].rows[ALL_SHUT]
    assert row.verdict.isVisible()
    assert row.word.text().endswith("less than it should")
    assert row.word.property("state") == "care"
    assert any(one.code == "water.gauge" for one in session.analysis.findings)
    type_reading(view, gauge_id, ALL_SHUT, "")
    assert session.build.item(gauge_id).readings == ()
    assert not row.verdict.isVisible()
    session.undo_stack.undo()
    settle(session)
    assert row.field.line.text() == "2 bar"


def test_a_bare_number_is_in_the_units_that_are_shown(shown) -> None:
    window, view, gauge_id = shown
    type_reading(view, gauge_id, ALL_OPEN, "41")
    assert window.session.build.item(gauge_id).readings[0].pressure.text == "41 psi"


def test_what_is_no_pressure_says_so_and_changes_nothing(shown) -> None:
    window, view, gauge_id = shown
    before = window.session.undo_stack.count()
    type_reading(view, gauge_id, ALL_OPEN, "quite low")
    field = view.tables[gauge_id].rows[ALL_OPEN].field
    assert field.error.isVisible()
    assert window.session.undo_stack.count() == before


def test_as_it_should_be_is_told_too(shown) -> None:
    window, view, gauge_id = shown
    state = next(one for one in window.session.analysis.water.gauges if one.item == gauge_id)
    psi = state.reading(ALL_SHUT).high_pa / 6894.757
    type_reading(view, gauge_id, ALL_SHUT, f"{psi:.1f} psi")
    row = view.tables[gauge_id].rows[ALL_SHUT]
    assert (row.word.text(), row.word.property("state")) == ("as it should be", "ok")


def used_filter_readings(window, gauge_id: str, used: float) -> None:
    """What the gauge would show if the filter were used up so far; typed into the document."""
    from msgspec.structs import replace

    from cartlayout.analysis import analyse

    session = window.session
    item = session.build.item("filter")
    role = replace(item.specification.water, used=used)
    worn = replace(item, specification=replace(item.specification, water=role))
    truth = analyse(edits.replace_item(session.build, worn)).water.gauges[0]
    readings = tuple(
        Reading(one.case, Pressure.from_si(one.low_pa, "psi", 1))
        for one in truth.readings
        if one.low_pa == one.high_pa
    )
    gauge = replace(session.build.item(gauge_id), readings=readings)
    session.apply("Read", edits.replace_item(session.build, gauge))
    settle(session)


def test_what_explains_it_is_found_shown_and_taken_over(shown, qtbot) -> None:
    window, view, gauge_id = shown
    session = window.session
    used_filter_readings(window, gauge_id, 1.0)
    assert any(one.code == "water.gauge" for one in session.analysis.findings)
    QTest.mouseClick(view.ask, Qt.MouseButton.LeftButton)
    settle(session)
    cards = {card.cause.kind: card for card in view.causes.cards}
    card = cards["filter used up"]
    assert card.isVisible()
    assert card.cause.explains_all
    steps = session.undo_stack.count()
    qtbot.waitUntil(lambda: card.take.height() > 0)
    QTest.mouseClick(card.take, Qt.MouseButton.LeftButton)
    settle(session)
    assert session.undo_stack.count() == steps + 1
    assert session.undo_stack.undoText().startswith("Take ")
    assert session.build.item("filter").specification.water.used > 0.5
    assert not any(one.code == "water.gauge" for one in session.analysis.findings)
    assert view.causes.cards == []  # the build is another one: nothing is explained any more


def test_a_click_on_a_cause_shows_it_and_the_answer_is_there_when_one_comes_back(shown) -> None:
    window, view, gauge_id = shown
    session = window.session
    used_filter_readings(window, gauge_id, 1.0)
    QTest.mouseClick(view.ask, Qt.MouseButton.LeftButton)
    settle(session)
    card = next(one for one in view.causes.cards if one.cause.kind == "filter used up")
    QTest.mouseClick(card, Qt.MouseButton.LeftButton, pos=QPoint(4, 4))
    settle(session)
    assert session.selection.items == ("filter",)
    session.select(Selection(items=(gauge_id,)))
    settle(session)
    again = window.details.gauges
    assert "filter used up" in [one.cause.kind for one in again.causes.cards]
    session.undo_stack.undo()
    settle(session)
    assert window.details.gauges.causes.cards == []


def test_the_keyboard_reaches_a_cause(shown) -> None:
    window, view, gauge_id = shown
    used_filter_readings(window, gauge_id, 1.0)
    view.ask.setFocus()
    QTest.keyClick(view.ask, Qt.Key.Key_Space)
    settle(window.session)
    card = view.causes.cards[0]
    card.setFocus()
    QTest.keyClick(card, Qt.Key.Key_Return)
    chosen = window.session.selection
    assert (chosen.items, chosen.runs) == (card.cause.items, card.cause.runs)


def test_several_gauges_have_a_table_each(window) -> None:
    session = window.session
    first = put_in(session)
    second = put_in(session, "filter-line")
    session.select(Selection(items=(first, second)))
    settle(session)
    view = window.details.gauges
    assert set(view.tables) == {first, second}
    assert all(table.title.isVisible() for table in view.tables.values())
    type_reading(view, second, ALL_SHUT, "50 psi")
    assert session.build.item(second).readings
    assert not session.build.item(first).readings


def test_what_is_no_gauge_has_no_readings(window) -> None:
    window.session.select(Selection(items=("filter",)))
    settle(window.session)
    assert window.details.gauges is None


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_menu_of_a_tube_inserts_where_one_points(window, qtbot) -> None:
    session, view = window.session, window.plan
    run_id = "espresso-line"
    session.select(Selection(runs=(run_id,)))
    settle(session)
    points = session.analysis.network.routes[run_id].points
    legs = list(itertools.pairwise(points))
    a, b = max(legs, key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
    at = (0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]))
    where = view.camera.to_viewport(at).toPoint()
    event = QContextMenuEvent(
        QContextMenuEvent.Reason.Mouse, where, view.viewport().mapToGlobal(where)
    )
    QApplication.sendEvent(view.viewport(), event)
    menu = next(one for one in view.findChildren(QMenu) if one.isVisible())
    inserts = next(one for one in menu.actions() if one.text() == "Insert here")
    gauge = inserts.menu().kinds[0].actions()[0]
    gauge.trigger()
    menu.close()
    settle(session)
    new = session.build.item(session.selection.items[0])
    assert isinstance(new.specification.water, Gauge)
    assert abs(new.x.si - at[0]) + abs(new.y.si - at[1]) < 0.35
    assert session.undo_stack.undoText().startswith("Insert ")
    assert window.details.gauges is not None
    session.undo_stack.undo()
    assert session.build.item(new.id) is None


def test_the_menu_bar_inserts_half_way(window) -> None:
    session = window.session
    session.select(Selection(runs=("rinser-line",)))
    settle(session)
    from cartlayout.ui.menus.runs import ENTRIES

    choices = next(one for one in ENTRIES if one.key == "runs.insert")
    lines = choices.list(window)
    gauge = next(one for one in lines if isinstance(one.value.specification.water, Gauge))
    choices.choose(window, gauge.value)
    settle(session)
    assert len(session.build.tubes) == 10
    session.select(Selection(items=("filter",)))
    assert choices.list(window) == ()


def test_a_drain_has_nothing_to_insert(window) -> None:
    from cartlayout.ui.plan.menu import make_menu

    window.session.select(Selection(runs=("rinser-drain",)))
    menu = make_menu(window.plan, None)
    assert "Insert here" not in [one.text() for one in menu.actions()]
    menu.deleteLater()
