"""Comparing in the window: with a file, with what was saved, with what was there a step ago.

What two builds differ in is tried in tests/comparing; here only that the window says it, shows
it on the plan, and leaves the build alone.
"""

import pytest
from clipping import clipped_texts
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from ui_samples import sample

from cartlayout.build import edits
from cartlayout.build.file import save
from cartlayout.comparing import changes
from cartlayout.ui import dialogs
from cartlayout.ui.comparing import ComparePanel, State, earlier
from cartlayout.ui.main_window import MainWindow

Key = Qt.Key
Both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def _turn() -> None:
    for _ in range(3):
        QApplication.processEvents()


def _panel(window: MainWindow, qtbot) -> ComparePanel:
    panel = window.findChild(ComparePanel)
    assert panel is not None
    qtbot.waitUntil(lambda: panel.found is not None, timeout=10_000)
    _turn()
    return panel


def _asked(window: MainWindow, qtbot) -> ComparePanel:
    _ask(window)
    return _panel(window, qtbot)


def _ask(window: MainWindow) -> None:
    _turn()
    window.plan.setFocus()
    QTest.keyClick(window.plan, Key.Key_O, Both)


@pytest.fixture
def other(tmp_path, monkeypatch):
    """The first try, in a file that the dialog answers with."""
    path = tmp_path / "first try.cart"
    save(sample("market_cart_first_try"), path)
    monkeypatch.setattr(dialogs, "ask_open", lambda *_: path)
    return path


@pytest.fixture
def panel(window, other, qtbot) -> ComparePanel:
    return _asked(window, qtbot)


def _words(panel: ComparePanel) -> str:
    return "\n".join(one.text() for one in panel.findChildren(QLabel) if one.isVisible())


def _choose_earlier(window: MainWindow, qtbot, at: int = 0) -> ComparePanel:
    menu = window.menus.choices["file.compare-state"]
    menu.fill()
    menu.actions()[at].trigger()
    return _panel(window, qtbot)


def test_everything_that_differs_is_listed_and_counted(window, panel) -> None:
    first = sample("market_cart_first_try")
    found = changes(first, window.session.build)
    assert found
    names = [row.title for row in panel.rows]
    for one in found:
        assert one.name in names
    stops = panel.found.before.count("stop"), panel.found.after.count("stop")
    assert stops[0] > stops[1]
    assert f"{stops[0]} → {stops[1]}" in _words(panel)
    gone = [row for row in panel.rows if row.key.startswith("turn gone")]
    assert {row.mark for row in gone} == {"ok"}
    assert "first try.cart" in panel.heading.text()


def test_the_build_is_left_alone(window, other, qtbot) -> None:
    session = window.session
    before, path = session.build, session.path
    panel = _asked(window, qtbot)
    QTest.mouseClick(panel.other, Qt.MouseButton.LeftButton)
    QTest.mouseClick(panel.now, Qt.MouseButton.LeftButton)
    QTest.keyClick(panel.list, Key.Key_Escape)
    assert not panel.is_open
    assert session.build is before
    assert session.path == path
    assert session.undo_stack.count() == 0
    assert not session.previewing
    assert not window.plan.before.is_on


def test_a_row_shows_where_it_is(window, panel) -> None:
    session = window.session
    row = next(one for one in panel.rows if one.items == ("kettle",))
    panel.list.setFocus()
    while panel.list.current_key() != row.key:
        QTest.keyClick(panel.list, Key.Key_Down)
    assert session.selection.items == ("kettle",)
    assert row.title in _words(panel)


def test_what_was_taken_away_is_shown_where_it_was(window, panel) -> None:
    """The long cord of the first try lay on the base; here there is none."""
    session = window.session
    row = next(one for one in panel.rows if one.key == "change removed item cord")
    panel.list.setFocus()
    while panel.list.current_key() != row.key:
        QTest.keyClick(panel.list, Key.Key_Down)
    assert not session.selection
    assert session.level == panel.found.before.build.item("cord").level
    assert window.plan.plan.changes.pointed == {"cord"}
    assert [one.far for one in window.plan.plan.changes.shown.gone] == [False]
    panel.cancel()
    assert not window.plan.plan.changes.pointed


def test_the_plan_shows_where_things_were(window, panel) -> None:
    """The knock box of the first try hangs over the front edge; here it was moved to the rear."""
    shown = window.plan.plan.changes.shown
    assert len(shown.left) == 2  # the box, and the jug that was exchanged for a larger one
    assert len(shown.ways) == 1
    (was, now) = shown.ways[0]
    assert now[1] < was[1]
    assert now == window.plan.plan.picture.body("knock-box").centre
    assert len(shown.gone) == 1  # the long cord


def test_the_other_build_can_be_looked_at(window, panel) -> None:
    session = window.session
    now = window.plan.plan.changes.shown.ways[0]
    QTest.mouseClick(panel.other, Qt.MouseButton.LeftButton)
    _turn()
    assert session.shown is panel.found.before.build
    assert session.analysis is panel.found.before
    shown = window.plan.plan.changes.shown
    assert shown.ways == (now,)  # it still leads from where it was to where it is
    assert not shown.gone
    assert len(shown.left) == 3  # where the box, the jug and the kettle will be
    QTest.mouseClick(panel.now, Qt.MouseButton.LeftButton)
    _turn()
    assert session.shown is session.build
    panel.cancel()


def test_keys_switch_between_the_two(window, panel) -> None:
    panel.other.setFocus()
    QTest.keyClick(panel.other, Key.Key_Space)
    assert window.session.previewing
    panel.now.setFocus()
    QTest.keyClick(panel.now, Key.Key_Space)
    assert not window.session.previewing
    panel.cancel()


def test_an_edit_is_compared_as_soon_as_it_is_made(window, panel, qtbot) -> None:
    session = window.session
    before = {row.key for row in panel.rows}
    session.apply("Move cups", edits.move(session.build, ("cups",), 0.05, 0.0))
    qtbot.waitUntil(lambda: panel.found.after.build is session.build, timeout=5000)
    assert "change moved item cups" in {row.key for row in panel.rows} - before
    session.undo_stack.undo()
    qtbot.waitUntil(lambda: panel.found.after.build is session.build, timeout=5000)
    assert {row.key for row in panel.rows} == before
    panel.cancel()


def test_a_drag_goes_on_while_it_is_compared(window, panel, qtbot) -> None:
    session, view = window.session, window.plan
    QTest.mouseClick(panel.other, Qt.MouseButton.LeftButton)
    QTest.mouseClick(panel.now, Qt.MouseButton.LeftButton)
    _turn()
    at = view.mapFromScene(QPointF(*view.plan.picture.body("cups").centre))
    QTest.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    for step in range(1, 12):
        QTest.mouseMove(view.viewport(), at + QPoint(2 * step, step))
        _turn()
    assert len(view.plan.changes.shown.ways) == 2
    QTest.keyClick(view, Key.Key_Escape)  # gives up the drag, not the comparison
    assert panel.is_open
    assert not session.previewing
    QTest.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    panel.cancel()


def test_with_the_step_before(window, qtbot) -> None:
    session = window.session
    session.apply("Move cups", edits.move(session.build, ("cups",), 0.05, 0.0))
    session.apply("Move kettle", edits.move(session.build, ("kettle",), 0.0, 0.02))
    _turn()
    assert [one.name for one in earlier(session)] == ["before Move kettle", "before Move cups"]
    panel = _choose_earlier(window, qtbot)
    assert [row.key for row in panel.rows if "item" in row.key] == ["change moved item kettle"]
    panel = _choose_earlier(window, qtbot, 1)
    qtbot.waitUntil(lambda: len(panel.rows) >= 2, timeout=5000)
    moved = {row.items[0] for row in panel.rows if row.key.startswith("change moved item")}
    assert moved == {"cups", "kettle"}
    panel.cancel()


def test_with_what_was_saved(window, qtbot, tmp_path) -> None:
    session = window.session
    session.save(tmp_path / "mine.cart")
    assert not earlier(session)
    session.apply("Move cups", edits.move(session.build, ("cups",), 0.05, 0.0))
    _turn()
    assert earlier(session)[0].name == "what was last saved"
    panel = _choose_earlier(window, qtbot)
    assert "what was last saved" in panel.heading.text()
    assert [row.items for row in panel.rows if "moved" in row.key] == [("cups",)]
    panel.cancel()


def test_equal_builds_are_said_to_be(window, qtbot, tmp_path, monkeypatch) -> None:
    path = tmp_path / "same.cart"
    save(window.session.build, path)
    monkeypatch.setattr(dialogs, "ask_open", lambda *_: path)
    panel = _asked(window, qtbot)
    assert panel.list.count() == 0
    assert "The two builds are the same." in _words(panel)
    assert not panel.other.isEnabled()
    panel.cancel()


def test_a_file_that_cannot_be_read_is_said(window, qtbot, tmp_path, monkeypatch) -> None:
    path = tmp_path / "broken.cart"
    path.write_text("{", encoding="utf-8")
    told: list[tuple[str, str]] = []
    monkeypatch.setattr(dialogs, "ask_open", lambda *_: path)
    monkeypatch.setattr(dialogs, "show_error", lambda _w, title, text: told.append((title, text)))
    _ask(window)
    qtbot.waitUntil(lambda: bool(told), timeout=5000)
    assert told[0][0] == "broken.cart cannot be compared"
    assert "broken.cart" in told[0][1]
    assert not window.findChild(ComparePanel).is_open


def test_another_document_ends_it(window, panel) -> None:
    window.session.set_document(sample("station_kiosk_230v"), None)
    _turn()
    assert not panel.is_open
    assert not window.plan.before.is_on


def test_closing_the_window_waits_for_the_thread(window, qtbot) -> None:
    from cartlayout.ui.comparing import open_compare

    panel = open_compare(window.session, window, State("itself", lambda: window.session.build))
    assert panel.comparer.works
    window.session.undo_stack.setClean()
    window.close()
    assert not panel.comparer.works


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1200)])
def test_everything_has_room(open_window, other, qtbot, size) -> None:
    window = open_window("market_cart", *size)
    panel = _asked(window, qtbot)
    for part in (panel.now, panel.other, panel.leave):
        assert part.visibleRegion().boundingRect().size() == part.size()
        assert part.width() >= part.sizeHint().width()
    assert clipped_texts(panel) == []
    assert panel.list.height() >= 150
    panel.cancel()
