"""The list of what is on the cart: found by words, selected by click and by key."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.build.edits import remove, replace_item
from cartlayout.documents.theme import THEMES
from cartlayout.ui.item_rows import NOTE
from cartlayout.ui.items_list import ItemsList
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session

Key = Qt.Key


@pytest.fixture
def session(qtbot) -> Session:
    return Session(sample("market_cart"))


@pytest.fixture
def panel(session, qtbot) -> ItemsList:
    made = ItemsList(session)
    qtbot.addWidget(made)
    made.resize(230, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def click(panel, kind: str, one: str, modifiers=Qt.KeyboardModifier.NoModifier) -> None:
    line = panel._lines[kind, one]
    panel.tree.scrollToItem(line)
    spot = panel.tree.visualItemRect(line).center()
    QTest.mouseClick(panel.tree.viewport(), Qt.MouseButton.LeftButton, modifiers, spot)


def shown(panel) -> list[str]:
    return [line.text(0) for line in panel._lines.values() if not line.isHidden()]


def test_every_item_and_run_is_listed_once_under_its_level(panel, session):
    build = session.build
    ids = {("item", item.id) for item in build.items} | {("run", run.id) for run in build.runs}
    assert set(panel._lines) == ids
    heads = [panel.tree.topLevelItem(at).text(0) for at in range(panel.tree.topLevelItemCount())]
    assert heads[:4] == ["Counter", "Shelf", "Base", "Venue"]
    assert panel._lines["item", "jug"].parent().text(0) == "Base"


def test_a_click_selects_and_goes_to_the_level(panel, session):
    click(panel, "item", "jug")
    assert session.selection == Selection(items=("jug",))
    with_control = Qt.KeyboardModifier.ControlModifier
    click(panel, "item", "pump", with_control)
    assert set(session.selection.items) == {"jug", "pump"}
    run = session.build.runs[0].id
    click(panel, "run", run)
    assert session.selection == Selection(runs=(run,))


def test_the_list_follows_the_plans_selection(panel, session):
    session.select(Selection(items=("kettle", "grinder")))
    picked = {line.text(0) for line in panel.tree.selectedItems()}
    assert picked == {session.build.item(one).name for one in ("kettle", "grinder")}
    session.select(Selection())
    assert not panel.tree.selectedItems()


def test_words_find_and_enter_picks_the_first(panel, session):
    panel.focus_search()
    QTest.keyClicks(panel.field, "base water jug")
    assert all("jug" in text.lower() for text in shown(panel))
    QTest.keyClick(panel.field, Key.Key_Return)
    assert session.selection.items == ("jug",)
    assert panel.tree.hasFocus()
    panel.focus_search()
    QTest.keyClicks(panel.field, "zebra")
    assert shown(panel) == []
    assert panel.none.isVisible()


def test_arrows_walk_and_enter_asks_for_the_label(panel, session, qtbot):
    click(panel, "item", "jug")
    first = session.selection
    QTest.keyClick(panel.tree, Key.Key_Down)
    assert session.selection != first
    with qtbot.waitSignal(session.label_requested) as caught:
        QTest.keyClick(panel.tree, Key.Key_Return)
    assert caught.args == [session.selection.items[0]]


def test_delete_takes_away_what_is_selected(panel, session):
    click(panel, "item", "knock-box")
    QTest.keyClick(panel.tree, Key.Key_Delete)
    assert session.build.item("knock-box") is None
    assert ("item", "knock-box") not in panel._lines
    session.undo_stack.undo()
    assert ("item", "knock-box") in panel._lines


def test_names_groups_and_locks_are_up_to_date(panel, session):
    item = session.build.item("kettle")
    changed = replace(item, label="Tea kettle", locked=True, group="tea")
    session.apply("Change", replace_item(session.build, changed))
    line = panel._lines["item", "kettle"]
    assert (line.text(0), line.data(0, NOTE)) == ("Tea kettle", "tea, locked")


def test_a_hidden_list_is_filled_when_it_comes_up(panel, session):
    panel.hide()
    session.apply("Remove", remove(session.build, ("kettle",)))
    panel.show()
    assert ("item", "kettle") not in panel._lines


def test_headings_fold_and_colours_change(panel, session):
    head = panel._lines["item", "jug"].parent()
    spot = panel.tree.visualItemRect(head).center()
    QTest.mouseClick(
        panel.tree.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot
    )
    assert not head.isExpanded()
    session.set_theme(THEMES["dark"])
    assert not panel._lines["item", "jug"].parent().isExpanded()
    assert panel._lines["item", "kettle"].parent().isExpanded()
