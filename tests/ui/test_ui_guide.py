"""The guided first cart watches what is done, however it is done."""

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.analysis import analyse
from cartlayout.build import End, edits
from cartlayout.network import connect
from cartlayout.stock import entry, placed, search
from cartlayout.ui.guide.card import place_beside
from cartlayout.ui.guide.steps import STEPS, Watched, done, next_step
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.new_cart import new_build
from cartlayout.ui.panels import PANELS
from cartlayout.ui.session import Session

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def guided(qtbot) -> MainWindow:
    """The window with the guide begun from the start page."""
    window = MainWindow(Session(new_build()))
    qtbot.addWidget(window, before_close_func=lambda one: one.session.undo_stack.setClean())
    window.show_start()
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    QTest.mouseClick(window.start.guide, LEFT)
    qtbot.wait(1)
    return window


def place_from_stock(window, qtbot, words: str) -> str:
    """As a person does: look for it, Enter. Returns the id of the new item."""
    before = {item.id for item in window.session.build.items}
    field = window.stock.field
    window.activateWindow()
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, words)
    QTest.keyClick(field, Qt.Key.Key_Return)
    answered(window, qtbot)
    (new,) = {item.id for item in window.session.build.items} - before
    return new


def join(window, qtbot, a: tuple[str, str], b: tuple[str, str]) -> None:
    session = window.session
    ends = (End(item=one, port=port) for one, port in (a, b))
    build, _ = connect(session.build, *ends)
    session.apply("Join", build)
    answered(window, qtbot)


def answered(window, qtbot) -> None:
    """On a busy machine what follows from an edit comes a little later."""
    session = window.session
    qtbot.waitUntil(lambda: session.settled.build is session.build)
    qtbot.wait(1)


def on(window) -> str:
    return window.guide.step.key if window.guide.step is not None else "end"


def test_it_begins_from_the_start_page(guided):
    assert guided.guide.running
    assert not guided.at_start
    assert guided.guide.card.isVisible()
    assert on(guided) == "outlet"
    assert guided.guide.outline.isVisible()
    stock = guided.arrangement.folds["stock"]
    corner = stock.mapTo(guided, QPoint(0, 0))
    assert guided.guide.outline.geometry() == QRect(corner, stock.size())


def test_it_goes_on_by_itself_and_back_with_undo(guided, qtbot):
    outlet = place_from_stock(guided, qtbot, "outlet 20 A 120")
    assert on(guided) == "machine"
    machine = place_from_stock(guided, qtbot, "espresso machine 1 group")
    assert on(guided) == "plug"
    join(guided, qtbot, (machine, "plug"), (outlet, "1"))
    assert on(guided) == "jug"
    guided.session.undo_stack.undo()
    answered(guided, qtbot)
    assert on(guided) == "plug"
    guided.session.undo_stack.redo()
    answered(guided, qtbot)
    assert on(guided) == "jug"


def test_another_order_is_as_good(guided, qtbot):
    place_from_stock(guided, qtbot, "water jug 5 gal")
    place_from_stock(guided, qtbot, "demand pump 5 chamber 12")
    assert on(guided) == "outlet"
    assert sum(guided.guide.ticks) == 2
    place_from_stock(guided, qtbot, "outlet 20 A 120")
    place_from_stock(guided, qtbot, "espresso machine 1 group")
    assert on(guided) == "plug"  # jug and pump are there already


def test_the_whole_way(guided, qtbot, monkeypatch, tmp_path):
    outlet = place_from_stock(guided, qtbot, "outlet 20 A 120")
    machine = place_from_stock(guided, qtbot, "espresso machine 1 group")
    join(guided, qtbot, (machine, "plug"), (outlet, "1"))
    jug = place_from_stock(guided, qtbot, "water jug 5 gal")
    pump = place_from_stock(guided, qtbot, "demand pump 5 chamber 12")
    assert on(guided) == "pump-plug"
    join(guided, qtbot, (pump, "plug"), (outlet, "2"))
    assert on(guided) == "tubes"
    join(guided, qtbot, (jug, "outlet"), (pump, "inlet"))
    assert on(guided) == "tubes"
    join(guided, qtbot, (pump, "outlet"), (machine, "inlet"))
    assert on(guided) == "kettle"
    kettle = place_from_stock(guided, qtbot, "kettle 1.5")
    second = place_from_stock(guided, qtbot, "outlet 20 A 120")
    join(guided, qtbot, (kettle, "plug"), (second, "1"))
    assert on(guided) == "read"
    card = next(iter(guided.findings._cards.values()))
    QTest.mouseClick(card, LEFT)
    assert on(guided) == "circuits"
    session = guided.session
    build = session.build
    for one, circuit in ((outlet, "1"), (second, "2")):
        build = with_circuit(build, one, circuit)
    session.apply("Name circuits", build)
    answered(guided, qtbot)
    assert on(guided) == "export"  # two circuits, each within its breaker: shared already
    monkeypatch.setattr("cartlayout.ui.export_dialog.ask_export", lambda *_: tmp_path / "plan.pdf")
    guided.actions_["file.export"].trigger()
    assert on(guided) == "end"
    assert guided.guide.card.title.text() == "That is a cart"
    assert not guided.guide.outline.isVisible()
    QTest.mouseClick(guided.guide.card.leave, LEFT)
    assert not guided.guide.card.isVisible()


def with_circuit(build, item_id: str, circuit: str):
    from msgspec.structs import replace

    item = build.item(item_id)
    role = replace(item.specification.electrical, circuit=circuit)
    spec = replace(item.specification, electrical=role)
    return edits.replace_item(build, replace(item, specification=spec))


def test_it_can_be_left_and_taken_up_again(guided, qtbot):
    place_from_stock(guided, qtbot, "outlet 20 A 120")
    QTest.mouseClick(guided.guide.card.skip, LEFT)
    assert on(guided) == "plug"  # skipped: nothing can be plugged in yet, but the guide goes on
    QTest.mouseClick(guided.guide.card.leave, LEFT)
    assert not guided.guide.card.isVisible()
    assert not guided.guide.outline.isVisible()
    place_from_stock(guided, qtbot, "water jug 5 gal")
    assert not guided.guide.card.isVisible()
    guided.actions_["help.guide"].trigger()
    assert guided.guide.card.isVisible()
    assert on(guided) == "plug"
    assert guided.guide.ticks[3]  # what was done meanwhile counts


def test_what_was_skipped_is_taken_up_at_the_end(guided):
    while guided.guide.step is not None:
        QTest.mouseClick(guided.guide.card.skip, LEFT)
    assert guided.guide.card.title.text() == "That was the last step"
    QTest.mouseClick(guided.guide.card.skip, LEFT)
    assert on(guided) == "outlet"


def test_it_never_takes_the_keyboard_and_finds_in_stock(guided, qtbot):
    guided.activateWindow()
    guided.plan.setFocus()
    place_from_stock(guided, qtbot, "outlet 20 A 120")
    assert guided.stock.field.hasFocus()
    QTest.mouseClick(guided.guide.card.find_it, LEFT)
    assert guided.stock.field.text() == STEPS[1].find
    assert guided.stock.field.hasFocus()


def test_the_card_is_dragged_out_of_the_way(guided, qtbot):
    card = guided.guide.card
    before = card.pos()
    grip = QPoint(card.width() // 2, 8)
    QTest.mousePress(card, LEFT, pos=grip)
    QTest.mouseMove(card, grip + QPoint(120, -60))
    QTest.mouseRelease(card, LEFT, pos=grip)
    assert card.pos() != before
    there = card.pos()
    guided.resize(1270, 800)
    qtbot.wait(2)
    assert card.pos() == there
    place_from_stock(guided, qtbot, "outlet 20 A 120")
    assert not card.was_dragged  # the next step has a place of its own


@pytest.mark.parametrize("size", [(1280, 800), (640, 420), (430, 270)])
def test_the_card_stays_within_the_window_with_its_words(guided, qtbot, size):
    from clipping import clipped_texts

    guided.resize(*size)
    qtbot.wait(2)
    for _ in STEPS:
        assert guided.rect().contains(guided.guide.card.geometry())
        if size[1] > 300:
            assert clipped_texts(guided.guide.card) == []
        guided.guide.skip()
        qtbot.wait(1)


def test_every_step_is_undone_on_an_empty_cart_and_done_on_the_samples():
    empty = done(Watched(analyse(new_build())))
    assert not any(empty)
    assert next_step(empty, frozenset()) == 0
    full = done(Watched(analyse(sample("market_cart")), read=True, exported=True))
    assert all(full)
    assert next_step(full, frozenset()) is None
    first_try = done(Watched(analyse(sample("market_cart_first_try"))))
    keys = [step.key for step, ticked in zip(STEPS, first_try, strict=True) if not ticked]
    assert {"read", "export"} <= set(keys)


def test_steps_point_at_parts_there_are_and_at_stock_there_is():
    for step in STEPS:
        assert step.where in (*PANELS, "plan", "tools")
        assert step.text.endswith(".")
        if step.find:
            regions = {region for one in search(step.find) for region in one.regions or ("any",)}
            assert regions & {"US", "any"}, step.key
            assert regions & {"EU", "any"}, step.key


def test_unnamed_outlets_are_one_circuit_until_they_are_named():
    """Outlets nobody can tell apart share a breaker: the cautious reading."""
    build = new_build()
    for x in (0.3, 0.8):
        build, _ = placed(build, entry("outlet-20-120"), "venue", x, -0.3)
    assert len(Watched(analyse(build)).circuits) == 1
    ids = [item.id for item in build.items]
    for one, circuit in zip(ids, ("1", "2"), strict=True):
        build = with_circuit(build, one, circuit)
    assert len(Watched(analyse(build)).circuits) == 2


def test_where_a_card_is_put():
    room = QRect(200, 60, 700, 480)
    size = QSize(300, 160)
    for where, target in (
        ("stock", QRect(0, 60, 200, 480)),
        ("details", QRect(900, 60, 300, 480)),
        ("circuits", QRect(0, 540, 400, 220)),
        ("findings", QRect(800, 540, 400, 220)),
        ("tools", QRect(0, 20, 1200, 40)),
        ("plan", room),
    ):
        placed_at = QRect(place_beside(target, where, size, room), size)
        assert room.contains(placed_at), where
        if where != "plan":
            assert not placed_at.intersects(target), where
