"""The findings board: worst first, a click shows the culprit."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.build import edits
from cartlayout.ui.boards.findings import FindingsBoard
from cartlayout.ui.session import Session


@pytest.fixture
def session(qtbot) -> Session:
    return Session(sample("market_cart_first_try"))


@pytest.fixture
def board(session, qtbot) -> FindingsBoard:
    made = FindingsBoard(session)
    qtbot.addWidget(made)
    made.resize(420, 400)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_every_finding_has_a_card_worst_first(board, session):
    shown = [card.finding for card in board.cards]
    assert shown == list(session.analysis.findings)
    order = ["stop", "care", "note"]
    ranks = [order.index(one.severity) for one in shown]
    assert ranks == sorted(ranks)
    assert ranks[0] == 0


def test_a_click_selects_and_asks_the_plan_to_show(board, session, qtbot):
    card = next(card for card in board.cards if card.finding.code == "water.flow")
    with qtbot.waitSignal(session.show_requested) as caught:
        QTest.mouseClick(card, Qt.MouseButton.LeftButton)
    assert caught.args[0].items == card.finding.items
    assert session.selection.items[0] == card.finding.items[0]
    assert card.detail.isVisible()
    assert not card.working.isVisible()
    with qtbot.waitSignal(session.working_requested) as asked:
        QTest.mouseClick(card.more, Qt.MouseButton.LeftButton)
    assert asked.args == [card.finding.number]
    assert not card.working.isVisible()  # the whole working is shown in a panel of its own
    top = board.area.verticalScrollBar().value()
    assert top <= card.y() < top + board.area.viewport().height()
    QTest.mouseClick(card, Qt.MouseButton.LeftButton, pos=card.mark.geometry().center())
    assert not card.detail.isVisible()


def test_enter_does_the_same(board, session):
    card = board.cards[0]
    card.setFocus()
    QTest.keyClick(card, Qt.Key.Key_Return)
    assert set(session.selection.items) == set(card.finding.items)


def test_chips_leave_a_severity_out(board, session):
    whole = len(board.cards)
    cares = session.analysis.count("care")
    QTest.mouseClick(board.chips["care"], Qt.MouseButton.LeftButton)
    assert len(board.cards) == whole - cares
    assert all(card.finding.severity != "care" for card in board.cards)
    assert board.chips["care"].text() == str(cares)
    for severity in ("stop", "note"):
        QTest.mouseClick(board.chips[severity], Qt.MouseButton.LeftButton)
    assert board.empty.isVisible()


def test_cards_that_stay_are_the_same_widgets(board, session, qtbot):
    """Focus and place in the column outlive a recompute."""
    cards = {card.finding.code: card for card in board.cards}
    kept = cards["water.flow"]
    kept.setFocus()
    with qtbot.waitSignal(session.analysis_changed):
        session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    assert {card.finding.code: card for card in board.cards}["water.flow"] is kept


def test_nothing_to_stop_for(qtbot):
    from cartlayout.ui.new_cart import new_build

    board = FindingsBoard(Session(new_build()))
    qtbot.addWidget(board)
    board.show()
    assert board.empty.isVisible()
    assert board.empty.text().startswith("Nothing to stop for.")
