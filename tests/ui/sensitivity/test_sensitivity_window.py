"""What to check first, in the window: tried in another thread, seen on the plan, led to a field.

What is said of a threshold is held against analyses made anew in tests/advice/sensitivity.
"""

from functools import cache

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from ui_samples import sample

from cartlayout.advice.sensitivity import Found, all_found, ranked
from cartlayout.analysis import analyse
from cartlayout.build import Appliance
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.selection import Selection
from cartlayout.ui.sensitivity import SensitivityPanel
from cartlayout.ui.sensitivity import panel as panel_module
from cartlayout.ui.sensitivity.rows import key_of
from cartlayout.ui.trying.rows import VERDICT
from cartlayout.units import UnitSystem

Key = Qt.Key


def begin(window: MainWindow) -> SensitivityPanel:
    """By the menu, as a person does."""
    QApplication.processEvents()
    window.plan.setFocus()
    action = next(
        one
        for menu in window.menuBar().actions()
        for one in (menu.menu().actions() if menu.menu() else ())
        if one.text().replace("&", "") == "What to Check First"
    )
    action.trigger()
    panel = window.findChild(SensitivityPanel)
    assert panel is not None
    assert panel.is_open
    return panel


@cache
def found_once() -> tuple[Found, ...]:
    """What the search finds in the market cart: the same for each test, found once."""
    return all_found(analyse(sample("market_cart")))


@pytest.fixture
def done(window, qtbot, monkeypatch) -> SensitivityPanel:
    """The panel when everything has been told; the first test lets it search by itself."""
    monkeypatch.setattr(panel_module, "Search", lambda _analysis: found_once())
    panel = begin(window)
    qtbot.waitUntil(lambda: not panel.works, timeout=120_000)
    QApplication.processEvents()
    return panel


def test_it_finds_what_the_core_finds_nearest_first(window, qtbot) -> None:
    done = begin(window)
    qtbot.waitUntil(lambda: not done.works, timeout=120_000)
    QApplication.processEvents()
    keys = [key for key, _ in done.list.keyed()]
    assert keys == [key_of(one) for one in ranked(found_once())]
    assert len(keys) > 5
    assert len(keys) == len(set(keys))
    assert done.list.current_key() == keys[0]
    assert not done.progress.isVisible()
    assert "figures would turn a verdict" in done.count.accessibleName()


def test_rows_say_what_the_sheet_says(window, done) -> None:
    system = window.session.system
    for (_, row), threshold in zip(done.list.keyed(), done.thresholds, strict=True):
        assert row.text() == threshold.condition.shown(system)
        assert threshold.consequence.shown(system) in row.toolTip()
        assert row.data(VERDICT) in ("stop", "care", "ok")
        assert row.data(Qt.ItemDataRole.AccessibleTextRole)


def test_a_row_shows_whose_figure_it_is(window, done) -> None:
    for key, _ in list(done.list.keyed()):
        done.list.choose(key)
        threshold = done.current
        assert threshold is not None
        unknown = threshold.unknown
        items = (unknown.item,) if unknown.item else ()
        runs = (unknown.run,) if unknown.run else ()
        assert window.session.selection == Selection(items=items, runs=runs)
        item = window.session.build.item(unknown.item)
        if item is not None and item.level != "venue":
            assert window.session.level == item.level


def test_keys_walk_the_list_and_escape_leaves_all_as_it_was(window, done) -> None:
    session = window.session
    done.cancel()
    session.select(Selection(items=("jug",)))
    session.set_level("counter")
    build = session.build
    panel = begin(window)
    panel.stop_trying()
    panel._told(Found(done_unknown(window), all_found_of(window), 1, 1))
    QTest.keyClick(panel.list, Key.Key_Down)
    assert panel.current is not None
    QTest.keyClick(panel.list, Key.Key_Escape)
    assert not panel.is_open
    assert session.build is build
    assert session.selection == Selection(items=("jug",))
    assert session.level == "counter"


def done_unknown(window: MainWindow):
    return next(one for one in found_once() if one.thresholds).unknown


def all_found_of(window: MainWindow):
    return next(one for one in found_once() if one.thresholds).thresholds


def field_for(window: MainWindow, panel: SensitivityPanel, key: str) -> QLineEdit:
    """Choose the row of a figure, take it with Enter, and get where the cursor is."""
    row = next(one for one in panel.thresholds if one.unknown.key == key)
    panel.list.choose(key_of(row))
    QTest.keyClick(panel.list, Key.Key_Return)
    QApplication.processEvents()
    assert not panel.is_open
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    assert window.details.isAncestorOf(field)
    return field


def test_who_checked_it_is_led_to_its_field_and_enters_it(window, done) -> None:
    field = field_for(window, done, "espresso/watts")
    assert field.text() == "1650 W"
    assert field.selectedText() == "1650 W"
    QTest.keyClicks(field, "1700 W")
    QTest.keyClick(field, Key.Key_Return)
    item = window.session.build.item("espresso")
    assert item.specification.electrical.power.si == 1700.0
    assert window.session.undo_stack.count() == 1


def test_fields_of_inlets_plans_and_venues_are_found(window, done) -> None:
    keys = {one.unknown.key for one in done.thresholds}
    rinser = window.session.build.item("rinser").specification.water
    assert isinstance(rinser, Appliance)
    texts = {
        "rinser/inlet/flow": rinser.inlets[0].required_flow.text,
        "rinser/inlet/greatest": rinser.inlets[0].greatest_pressure.text,
        "service/drinks": "20",
        "service/water_per_drink": window.session.build.service.water_per_drink.text,
        "outlet-2/run length": "",
        "accumulator/pre-charge": (
            window.session.build.item("accumulator").specification.water.pre_charge.text
        ),
    }
    assert set(texts) <= keys
    panel = done
    for key, text in texts.items():
        row = next(one for one in all_thresholds(window) if one.unknown.key == key)
        if not panel.is_open:
            panel = begin(window)
            panel.stop_trying()
            panel._told(Found(row.unknown, (row,), 1, 1))
        assert field_for(window, panel, key).text() == text, key


def all_thresholds(window: MainWindow):
    return ranked(found_once())


def test_stop_keeps_what_was_found(window, qtbot) -> None:
    panel = begin(window)
    qtbot.waitUntil(lambda: bool(panel.thresholds) or not panel.works, timeout=60_000)
    found = len(panel.thresholds)
    QTest.mouseClick(panel.stop, Qt.MouseButton.LeftButton)
    assert not panel.works
    QApplication.processEvents()
    assert len(panel.thresholds) == found
    assert panel.list.current_key()
    assert "stopped" in panel.count.accessibleName()


def test_an_edit_drops_it(window, qtbot) -> None:
    panel = begin(window)
    qtbot.waitUntil(lambda: bool(panel.thresholds) or not panel.works, timeout=60_000)
    from cartlayout.build.edits import remove

    window.session.apply("Remove Cups", remove(window.session.build, ("cups",)))
    assert not panel.is_open
    assert not panel.works
    assert panel.thresholds == ()


def test_units_change_in_mid_search(window, done) -> None:
    first = done.thresholds[0]
    window.session.set_system(UnitSystem.METRIC)
    QApplication.processEvents()
    _, row = next(iter(done.list.keyed()))
    assert row.text() == first.condition.shown(UnitSystem.METRIC)


def test_the_command_box_finds_it(window) -> None:
    from cartlayout.ui.menus import subjects

    entry = next(one for one in subjects() if one.key == "cart.what-to-check")
    assert "typical" in entry.words
    assert entry.enabled is not None
    assert entry.enabled(window.session)


def test_what_is_as_taken_leaves_the_list_and_can_be_undone(window, done) -> None:
    session = window.session
    row = next(one for one in done.thresholds if one.unknown.key == "espresso/watts")
    done.list.choose(key_of(row))
    before = session.build
    QTest.mouseClick(done.as_taken, Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    assert done.is_open
    assert "espresso/watts" not in {one.unknown.key for one in done.thresholds}
    assert done.thresholds
    assert session.undo_stack.count() == 1
    origins = session.build.item("espresso").specification.origins
    assert (origins[0].of, origins[0].basis) == ("watts", "measured")
    session.undo_stack.undo()
    assert session.build == before
    assert not done.is_open


def test_what_is_not_known_cannot_be_as_taken(window, done) -> None:
    row = next(one for one in done.thresholds if one.unknown.taken is None)
    done.list.choose(key_of(row))
    assert not done.as_taken.isEnabled()
    assert done.take.isEnabled()
