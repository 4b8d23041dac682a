"""The window: menus, levels, looks, what it remembers, and that nothing is clipped."""

import contextlib
import gc
import weakref

import pytest
from clipping import clipped_texts
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)
from shiboken6 import isValid
from ui_samples import sample

from cartlayout.build import edits
from cartlayout.documents.theme import DARK, LIGHT
from cartlayout.ui.entries import plain
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session
from cartlayout.units import UnitSystem

SAMPLES = (
    "market_cart",
    "market_cart_first_try",
    "station_kiosk_230v",
    "folding_cart_modules",
    "conference_hall_bar",
)


@pytest.mark.parametrize("name", SAMPLES)
def test_no_text_is_clipped_at_1280_by_800(open_window, qtbot, name):
    window = open_window(name, 1280, 800)
    for item in window.session.build.items[:6]:
        window.session.select(Selection(items=(item.id,)))
        for section in window.details.page.sections.values():
            section.open()
        # Layouts inside layouts take a few turns of the event loop to come to rest.
        with contextlib.suppress(qtbot.TimeoutError):
            qtbot.waitUntil(lambda: not clipped_texts(window), timeout=2_000)
        assert clipped_texts(window) == []
    assert (window.width(), window.height()) == (1280, 800)


def test_panels_stay_inside_the_window(open_window):
    window = open_window("conference_hall_bar", 1280, 800)
    for part in (window.stock, window.plan, window.details, window.circuits, window.taps,
                 window.findings):  # fmt: skip
        corner = part.mapTo(window, QPoint(part.width(), part.height()))
        assert corner.x() <= 1280
        assert corner.y() <= 800
        assert part.isVisible()
        assert part.width() >= 200


@pytest.mark.parametrize("name", ["market_cart", "conference_hall_bar"])
def test_scales_are_as_wide_as_the_rows_under_them(open_window, qtbot, name):
    """With and without a scroll bar beside the rows."""
    window = open_window(name)
    for scale, row in (
        (window.circuits.scale, window.circuits.bars[0]),
        (window.taps.axis, window.taps.gauges[0]),
        (window.taps.axis, window.taps.supplies[0]),
    ):
        qtbot.waitUntil(lambda scale=scale, row=row: scale.width() == row.width())


def test_everything_that_takes_the_keyboard_has_a_name(open_window, qtbot):
    window = open_window("market_cart_first_try")
    window.session.select(Selection(items=("espresso",)))
    for section in window.details.page.sections.values():
        section.open()
    qtbot.wait(1)
    nameless = []
    for one in window.findChildren(QWidget):
        if not one.isVisible() or one.focusPolicy() == Qt.FocusPolicy.NoFocus:
            continue
        if not isinstance(one, (QAbstractButton, QLineEdit, QComboBox, QPlainTextEdit)):
            continue
        text = one.text() if isinstance(one, QAbstractButton) else ""
        if not (one.accessibleName() or text):
            nameless.append((one, one.parent()))
    assert nameless == []


def test_tab_reaches_every_part(window, qtbot):
    """The keyboard goes through stock, plan, details and boards, and comes back."""
    window.activateWindow()
    window.stock.field.setFocus()
    met = set()
    parts = (window.stock, window.plan, window.details, window.circuits, window.taps)
    for _ in range(220):
        QTest.keyClick(window.focusWidget() or window, Qt.Key.Key_Tab)
        now = window.focusWidget()
        met |= {part for part in parts if part is now or part.isAncestorOf(now)}
    assert met == set(parts)


def test_every_menu_entry_is_named_and_no_key_is_given_twice(window):
    keys = [key.toString() for one in window.actions_ for key in one.shortcuts()]
    assert len(keys) == len(set(keys))
    standard = {
        "Ctrl+N", "Ctrl+O", "Ctrl+S", "Ctrl+Shift+S", "Ctrl+Z", "Ctrl+Y", "Ctrl+C", "Ctrl+V",
        "Ctrl+X", "Ctrl+D", "Ctrl+A", "Del", "Ctrl+0", "Ctrl+-", "Ctrl++", "R",
    }  # fmt: skip
    assert standard <= set(keys)


def test_undo_is_named_in_the_edit_menu(window):
    session = window.session
    session.apply("Move Kettle", edits.move(session.build, ("kettle",), 0.05, 0.0))
    assert plain(window.actions_["edit.undo"].text()) == "Undo Move Kettle"
    QTest.keySequence(window, QKeySequence("Ctrl+Z"))
    assert not session.undo_stack.canUndo()
    assert plain(window.actions_["edit.redo"].text()) == "Redo Move Kettle"
    QTest.keySequence(window, QKeySequence("Ctrl+Y"))
    assert session.undo_stack.canUndo()


def test_keys_of_the_edit_menu(window):
    session = window.session
    window.plan.setFocus()
    count = len(session.build.items)
    session.select(Selection(items=("grinder",)))
    QTest.keySequence(window, QKeySequence("Ctrl+D"))
    assert len(session.build.items) == count + 1
    QTest.keySequence(window, QKeySequence("Ctrl+C"))
    QTest.keySequence(window, QKeySequence("Ctrl+V"))
    assert len(session.build.items) == count + 2
    QTest.keyClick(window.plan, Qt.Key.Key_R)
    assert session.build.item(session.selection.items[0]).rotation == 90.0
    QTest.keyClick(window.plan, Qt.Key.Key_Delete)
    assert len(session.build.items) == count + 1
    QTest.keySequence(window, QKeySequence("Ctrl+A"))
    assert len(session.selection.items) > 1


def test_delete_in_a_text_field_deletes_text_only(window):
    session = window.session
    session.select(Selection(items=("grinder",)))
    build = session.build
    window.stock.field.setText("abc")
    window.stock.field.setFocus()
    QTest.keyClick(window.stock.field, Qt.Key.Key_Home)
    QTest.keyClick(window.stock.field, Qt.Key.Key_Delete)
    QTest.keyClick(window.stock.field, Qt.Key.Key_R)
    assert window.stock.field.text() == "rbc"
    assert session.build is build


def test_levels_overlays_and_cases_follow_both_ways(window):
    session, tools = window.session, window.tools
    QTest.mouseClick(tools.level_button("base"), Qt.MouseButton.LeftButton)
    assert session.level == "base"
    session.set_level("counter")
    assert tools.level_button("counter").isChecked()
    QTest.mouseClick(tools.overlays["water"], Qt.MouseButton.LeftButton)
    assert session.overlays == {"power", "drain"}
    session.set_overlay("water", True)
    assert tools.overlays["water"].isChecked()
    names = [tools.cases.itemText(at) for at in range(tools.cases.count())]
    assert names[0] == "Everything on and open"
    assert "All shut" in names
    tools.cases.setCurrentIndex(names.index("All shut"))
    tools.cases.activated.emit(names.index("All shut"))
    assert session.case == "All shut"


def test_units_and_colours(window):
    session = window.session
    QTest.mouseClick(window.tools.units, Qt.MouseButton.LeftButton)
    assert session.system is UnitSystem.METRIC
    assert "bar" in window.counts.text()
    assert window.actions_["view.metric-units"].isChecked()
    window.actions_["view.dark"].trigger()
    assert session.theme is DARK
    assert DARK.panel in window.styleSheet()
    QTest.mouseClick(window.tools.shade, Qt.MouseButton.LeftButton)
    assert session.theme is LIGHT
    window.actions_["view.system-colours"].trigger()
    assert window.actions_["view.system-colours"].isChecked()
    assert not session.dirty  # looking is no edit


def test_the_caution_stands_at_the_foot(window):
    assert window.caution.isVisible()
    for word in ("electrician", "plumber", "local code"):
        assert word in window.caution.text()


def test_what_is_told_goes_away(window):
    window.status.told.setInterval(1)
    window.session.tell("A word.")
    assert window.counts.text() == "A word."
    window.status.untell()
    assert "circuits" in window.counts.text()


def test_sizes_are_remembered(open_window, qtbot):
    first = open_window(width=1300, height=820)
    first.arrangement.middle.setSizes([300, 700, 300])
    wanted = first.arrangement.middle.sizes()
    first.session.set_theme(DARK)
    first.close()
    second = MainWindow(Session(sample()))
    qtbot.addWidget(second)
    second.show()
    second.resize(1300, 820)  # the screen of the tests is smaller than the window was
    assert second.arrangement.middle.sizes()[0] == pytest.approx(wanted[0], abs=3)
    assert second.session.theme is DARK
    second.close()


def test_a_closed_window_leaves_nothing_behind(qtbot, delete_now):
    window = MainWindow(Session(sample()))
    window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    window.show()
    qtbot.waitExposed(window)
    parts = [
        weakref.ref(one)
        for one in (window, window.circuits, window.details, window.stock, window.findings)
    ]
    widgets = [window.circuits, window.details, window.plan]
    window.close()
    delete_now()
    assert not any(isValid(one) for one in widgets)
    del window, widgets
    gc.collect()
    assert [ref() for ref in parts] == [None] * len(parts)


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1200)])
@pytest.mark.parametrize("name", SAMPLES)
def test_no_label_of_the_plan_is_cut_by_its_edge(open_window, name, size):
    plan = open_window(name, *size).plan
    port = QRectF(plan.viewport().rect())
    labels = [*plan.plan.arranged.names.values(), *plan.plan.arranged.notes]
    assert labels
    for label in labels:
        box = label.box
        corners = plan.mapFromScene(QRectF(box.x, box.y, box.width, box.height))
        assert port.contains(QRectF(corners.boundingRect())), label
