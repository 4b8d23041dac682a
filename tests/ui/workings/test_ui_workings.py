"""The panel that shows how a number came about: from everywhere, with the mouse and by keys."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu
from ui_samples import sample

from cartlayout.build.edits import move
from cartlayout.data import sample_builds
from cartlayout.documents.theme import DARK, LIGHT
from cartlayout.findings.number import Number
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.ui.details.facts import build_facts, item_facts, run_facts
from cartlayout.ui.selection import Selection
from cartlayout.ui.workings.asking import NumberLabel, numbers_at
from cartlayout.units import UnitSystem
from cartlayout.water.results import ALL_OPEN
from cartlayout.workings.find import working
from cartlayout.workings.shown import text

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")  # popups, offscreen
LEFT = Qt.MouseButton.LeftButton
SAMPLES = (
    "market_cart",
    "market_cart_first_try",
    "station_kiosk_230v",
    "conference_hall_bar",
    "folding_cart_modules",
)


def texts(window) -> str:
    return "\n".join(one.text() for one in window.workings.panel.findChildren(QLabel))


def total(window) -> Number:
    return Number("circuit", window.session.analysis.power.circuits[0].key, "total")


def answered(window, qtbot) -> None:
    """Until what is shown has been analysed."""
    session = window.session
    qtbot.waitUntil(lambda: session.analysis.build is session.shown and session.analysis.whole)


def menu_shown() -> QMenu:
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    return menu


def choose(menu: QMenu, words: str) -> None:
    action = next(one for one in menu.actions() if words in one.text())
    QTest.mouseClick(menu, LEFT, pos=menu.actionGeometry(action).center())


# --- from boards, findings, Details -----------------------------------------------------------


def test_a_click_on_the_amps_of_a_circuit(window):
    bar = window.circuits.bars[0]
    window.grab()
    where = next(
        place.center().toPoint() for place, told in bar.spots._places if told[0].what == "total"
    )
    QTest.mouseMove(bar, where)
    assert bar.cursor().shape() == Qt.CursorShape.PointingHandCursor
    before = window.session.selection
    QTest.mouseClick(bar, LEFT, pos=where)
    assert window.workings.number == total(window)
    assert window.session.selection == before  # the number is asked about, nothing is selected
    shown = texts(window)
    assert "Amps on circuit A" in shown
    assert "15.5 A" in shown
    assert "Kettle" in shown


def test_a_click_on_what_is_left(window):
    bar = window.circuits.bars[0]
    window.grab()
    where = next(
        place.center().toPoint() for place, told in bar.spots._places if told[0].what == "room"
    )
    QTest.mouseClick(bar, LEFT, pos=where)
    assert window.workings.number.what == "room"
    assert "3.5 A" in texts(window)


def test_a_click_on_the_pressure_and_on_the_flow_of_a_tap(window):
    gauge = window.taps.gauges[0]
    window.grab()
    for at, what in enumerate(("pressure", "flow")):
        where = gauge.spots._places[at][0].center().toPoint()
        QTest.mouseClick(gauge, LEFT, pos=where)
        number = window.workings.number
        assert number.what == what
        assert number.of.startswith(gauge.row.item)
        one = working(window.session.analysis, number)
        assert one.result.shown(UnitSystem.US).split()[0] in gauge.row.numbers


def test_the_card_of_a_finding_opens_the_whole_working(open_window):
    window = open_window("market_cart_first_try")
    card = next(one for one in window.findings.cards if one.finding.number is not None)
    QTest.mouseClick(card, LEFT)
    QTest.mouseClick(card.more, LEFT)
    assert window.workings.number == card.finding.number


def test_a_line_of_details(window):
    facts = window.details.page.facts
    label = next(
        one
        for one in facts.findChildren(NumberLabel)
        if one.told_numbers() and one.told_numbers()[0].subject == "tilt"
    )
    assert label.cursor().shape() == Qt.CursorShape.PointingHandCursor
    QTest.mouseClick(label, LEFT)
    choose(menu_shown(), "to the rear")
    assert window.workings.number.subject == "tilt"
    assert "arctan" in texts(window)


def test_a_line_of_details_by_keys(window):
    window.session.select(Selection(items=("espresso",)))
    label = next(
        one
        for one in window.details.page.facts.findChildren(NumberLabel)
        if one.told_numbers() and one.told_numbers()[0].what == "volts"
    )
    label.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(label, Qt.Key.Key_Return)
    menu = menu_shown()
    QTest.keyClick(menu, Qt.Key.Key_Down)
    QTest.keyClick(menu, Qt.Key.Key_Return)
    assert window.workings.number == Number("appliance", "espresso", "volts")
    QTest.keyClick(window.workings.panel, Qt.Key.Key_Escape)
    assert window.workings.number is None
    assert window.focusWidget() is label


def test_the_row_that_has_the_keyboard(window):
    bar = window.circuits.bars[0]
    bar.setFocus()
    QTest.keyClick(bar, Qt.Key.Key_Right)  # to the first load
    QTest.keyClick(window, Qt.Key.Key_W, _ctrl_shift())
    assert window.workings.number == Number("appliance", "kettle", "counted")


def _ctrl_shift() -> Qt.KeyboardModifier:
    return Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def test_what_is_selected_on_the_plan(window):
    window.plan.setFocus()
    window.session.select(Selection(items=("kettle",)))
    QTest.keyClick(window, Qt.Key.Key_W, _ctrl_shift())
    choose(menu_shown(), "Volts at Kettle")
    assert window.workings.number == Number("appliance", "kettle", "volts")


def test_nothing_to_ask_about_is_said(window):
    told = []
    window.session.told.connect(told.append)
    window.session.select(Selection())
    window.plan.setFocus()
    QTest.keyClick(window, Qt.Key.Key_W, _ctrl_shift())
    assert told
    assert "number" in told[-1]
    assert window.workings.number is None


def test_the_numbers_of_a_build_are_in_the_command_box(window):
    (listed,) = (one for one in window.actions_.choices if one.key == "view.workings")
    found = listed.list(window)
    assert len(found) > 8
    assert any(one.text == "Amps on circuit A: 15.5 A" for one in found)
    listed.choose(window, found[0].value)
    assert window.workings.number == found[0].value


def test_the_menu_of_a_load_on_a_bar(window):
    bar = window.circuits.bars[0]
    bar.setFocus()
    QTest.keyClick(bar, Qt.Key.Key_Right)
    QTest.keyClick(bar, Qt.Key.Key_Menu)
    choose(menu_shown(), "Show Working")
    assert window.workings.number == Number("appliance", "kettle", "counted")


def test_the_menu_of_a_circuit(window):
    bar = window.circuits.bars[0]
    bar.setFocus()
    QTest.keyClick(bar, Qt.Key.Key_Menu)
    choose(menu_shown(), "Show Working")
    choose(menu_shown(), "Amps on circuit A")
    assert window.workings.number == total(window)


# --- in the panel -----------------------------------------------------------------------------


def test_deeper_and_back(window):
    window.workings.open(total(window))
    view = window.workings.panel.view
    link = view.steps[-1].links[0]
    QTest.mouseClick(link, LEFT)
    assert window.workings.number.what == "counted"
    assert window.workings.panel.back.isVisible()
    assert "Amps on circuit A" in window.workings.panel.back.accessibleName()
    QTest.mouseClick(window.workings.panel.back, LEFT)
    assert window.workings.number == total(window)
    assert not window.workings.panel.back.isVisible()


def test_back_by_keys(window):
    window.workings.open(total(window))
    link = window.workings.panel.view.steps[-1].links[0]
    link.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(link, Qt.Key.Key_Return)
    assert window.workings.number.what == "counted"
    QTest.keyClick(window.workings.panel, Qt.Key.Key_Backspace)
    assert window.workings.number == total(window)


def test_copied_as_text(window):
    window.workings.open(total(window))
    QTest.keyClick(window.workings.panel, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    copied = QGuiApplication.clipboard().text()
    one = working(window.session.analysis, total(window))
    assert copied == text(one, UnitSystem.US)
    assert copied.startswith("Amps on circuit A: 15.5 A")


def test_steps_fold(window):
    window.workings.open(Number("balance", "", "z", "full"))
    panel = window.workings.panel
    first = panel.view.steps[0]
    assert not first.is_open
    QTest.mouseClick(first.head, LEFT)
    assert first.is_open
    assert "m₁ · z₁" in first.lines.text()
    assert panel.unfold.whole == "Fold all"
    QTest.mouseClick(panel.unfold, LEFT)
    assert not any(step.is_open for step in panel.view.steps)
    QTest.mouseClick(panel.unfold, LEFT)
    assert panel.view.all_open


def test_it_follows_a_drag_and_takes_nothing_anew(window, qtbot):
    """Numbers change in the widgets that are there; what a person unfolded stays so."""
    session = window.session
    window.workings.open(Number("tilt", "edge 0", "angle", "worst"))
    panel = window.workings.panel
    before, step = panel.result.text(), panel.view.steps[-1]
    lines = step.lines.text()
    session.preview(move(session.build, ("espresso",), 0.0, 0.15))
    answered(window, qtbot)
    assert panel.view.steps[-1] is step
    assert step.lines.text() != lines
    one = working(session.analysis, window.workings.number)
    assert panel.result.text() == one.result.shown(session.system)
    session.cancel_preview()
    answered(window, qtbot)
    assert panel.result.text() == before


def test_a_number_that_goes_and_comes_back(window, qtbot):
    session = window.session
    window.workings.open(Number("appliance", "kettle", "volts"))
    session.select(Selection(items=("kettle",)))
    QTest.keyClick(window.plan, Qt.Key.Key_Delete)
    panel = window.workings.panel
    assert session.build.item("kettle") is None
    answered(window, qtbot)
    assert panel.gone.isVisible()
    session.undo_stack.undo()
    answered(window, qtbot)
    assert not panel.gone.isVisible()
    assert panel.view.isEnabled()


def test_units_and_colours_follow(window):
    window.workings.open(Number("appliance", "kettle", "volts"))
    assert "ft" in texts(window)
    window.session.set_system(UnitSystem.METRIC)
    assert "ohm/m" in texts(window)
    assert "ohm/ft" not in texts(window)
    for theme in (DARK, LIGHT):
        window.session.set_theme(theme)
        assert window.workings.panel.isVisible()


def test_it_stays_in_the_window_and_where_it_was_put(window):
    window.workings.open(total(window))
    panel = window.workings.panel
    start = panel.pos()
    title = panel.title
    QTest.mousePress(title, LEFT, pos=QPoint(5, 5))
    QTest.mouseMove(title, QPoint(-95, 45))
    QTest.mouseRelease(title, LEFT, pos=QPoint(5, 5))
    moved = panel.pos()
    assert moved != start
    panel.close_panel()
    window.workings.open(total(window))
    assert panel.pos() == moved
    window.resize(700, 500)
    assert window.rect().contains(panel.geometry())


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1200), (500, 320)])
def test_it_has_room_in_any_window(open_window, size):
    window = open_window("conference_hall_bar", *size)
    for number in (total(window), Number("foot", "foot 0", "load", "worst")):
        window.workings.open(number)
        panel = window.workings.panel
        assert window.rect().contains(panel.geometry())
        bar = panel.area.horizontalScrollBar()
        assert bar.maximum() == 0


def test_typical_figures_are_marked_with_words(window):
    window.workings.open(total(window))
    assert "typical figure" in texts(window)
    assert "Assumed: typical figures, to be read off the nameplate" in texts(window)


def test_another_document_closes_it(window):
    window.workings.open(total(window))
    window.session.open(sample_builds() / "station_kiosk_230v.cart")
    assert not window.workings.panel.isVisible()


def test_numbers_are_found_from_inside_out(window):
    card = window.findings.cards[0]
    assert numbers_at(card.title) == card.told_numbers()
    assert numbers_at(None) == ()


# --- what leads somewhere leads to something ---------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_every_number_in_details_has_its_working(name):
    from cartlayout.analysis import analyse

    analysis = analyse(sample(name))
    facts = list(build_facts(analysis, UnitSystem.US))
    for item in analysis.build.items:
        facts += item_facts(analysis, item, EVERYTHING_ON, ALL_OPEN, UnitSystem.US)
    for run in analysis.build.runs:
        facts += run_facts(analysis, run, ALL_OPEN, UnitSystem.US)
    missing = [
        (fact.label, number)
        for fact in facts
        for number in fact.numbers
        if working(analysis, number) is None
    ]
    assert missing == []
    assert sum(bool(fact.numbers) for fact in facts) > 60
