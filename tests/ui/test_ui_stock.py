"""The stock panel: found by words, placed by Enter, dragged with its key."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from cartlayout.stock import stock
from cartlayout.ui.stock_panel import _KEY, MIME, StockPanel, stock_mime


@pytest.fixture
def panel(session, qtbot) -> StockPanel:
    made = StockPanel(session)
    qtbot.addWidget(made)
    made.resize(216, 460)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def keys(panel) -> list[str]:
    tree = panel.tree
    heads = [tree.topLevelItem(at) for at in range(tree.topLevelItemCount())]
    return [head.child(at).data(0, _KEY) for head in heads for at in range(head.childCount())]


def test_everything_for_the_region_is_there(panel, session):
    here = session.build.region
    assert set(keys(panel)) == {
        one.key for one in stock() if not one.regions or here in one.regions
    }
    QTest.mouseClick(panel.everywhere, Qt.MouseButton.LeftButton)
    assert set(keys(panel)) == {one.key for one in stock()}


def test_words_find_and_enter_places(panel, qtbot):
    QTest.keyClicks(panel.field, "kettle")
    found = keys(panel)
    assert found
    assert all("kettle" in key or "kettle" in str(key) for key in found[:1])
    with qtbot.waitSignal(panel.place_requested) as caught:
        QTest.keyClick(panel.field, Qt.Key.Key_Return)
    assert caught.args[0] == found[0]


def test_down_goes_to_the_list_and_enter_places(panel, qtbot):
    QTest.keyClicks(panel.field, "grinder")
    QTest.keyClick(panel.field, Qt.Key.Key_Down)
    assert panel.tree.hasFocus()
    with qtbot.waitSignal(panel.place_requested):
        QTest.keyClick(panel.tree, Qt.Key.Key_Return)


def test_nothing_found_is_said(panel):
    QTest.keyClicks(panel.field, "zeppelin")
    assert panel.none.isVisible()
    assert "zeppelin" in panel.none.text()
    panel.field.clear()
    assert not panel.none.isVisible()


def test_a_category_folds(panel):
    head = panel.tree.topLevelItem(0)
    place = panel.tree.visualItemRect(head).center()
    QTest.mouseClick(panel.tree.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert not panel.tree.topLevelItem(0).isExpanded()
    panel._fill()
    assert not panel.tree.topLevelItem(0).isExpanded()


def test_a_drag_carries_the_key():
    data = stock_mime("kettle")
    assert data.hasFormat(MIME)
    assert bytes(data.data(MIME).data()) == b"kettle"


def test_placing_from_the_window_is_one_undo_step(window):
    session = window.session
    count = len(session.build.items)
    window.stock.place_requested.emit("grinder-on-demand-120")
    assert len(session.build.items) == count + 1
    assert session.undo_stack.undoText().startswith("Place ")
    session.undo_stack.undo()
    assert len(session.build.items) == count
