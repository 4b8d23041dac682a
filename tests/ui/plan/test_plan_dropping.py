"""Stock that is dragged onto the plan, with the platform's own drag events."""

import pytest
from plan_cart import bare_cart, small_cart
from PySide6.QtCore import QMimeData, QPointF, QRectF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from cartlayout.build import VENUE
from cartlayout.stock import entry, stock
from cartlayout.ui.plan.dropping import MIME

INCH = 25.4
COPY = Qt.DropAction.CopyAction
LEFT = Qt.MouseButton.LeftButton
NO_KEY = Qt.KeyboardModifier.NoModifier


def carrying(key: str) -> QMimeData:
    mime = QMimeData()
    mime.setData(MIME, key.encode())
    return mime


def first(stands: str, module: bool = False) -> str:
    return next(one.key for one in stock() if one.stands == stands and one.is_module == module)


class Carry:
    """A drag from another window."""

    def __init__(self, hand, key):
        self.hand, self.mime = hand, carrying(key)
        self.port = hand.view.viewport()

    def _send(self, event):
        QApplication.sendEvent(self.port, event)
        self.hand.settle()
        return event.isAccepted()

    def enter(self, place):
        spot = self.hand.at(place)
        return self._send(QDragEnterEvent(spot, COPY, self.mime, LEFT, NO_KEY))

    def move(self, place):
        spot = self.hand.at(place)
        return self._send(QDragMoveEvent(spot, COPY, self.mime, LEFT, NO_KEY))

    def leave(self):
        return self._send(QDragLeaveEvent())

    def drop(self, place):
        spot = QPointF(self.hand.at(place))
        return self._send(QDropEvent(spot, COPY, self.mime, LEFT, NO_KEY))


def test_dragging_over_shows_it_in_place_and_computed(show_plan):
    hand = show_plan(bare_cart())
    carry = Carry(hand, first("counter"))
    assert carry.enter((30 * INCH, 15 * INCH))
    assert carry.move((30 * INCH, 15 * INCH))
    assert hand.session.previewing
    assert len(hand.view.plan.bodies) == 1
    assert hand.session.analysis.build is hand.session.shown
    assert hand.undo_texts == []


def test_leaving_takes_it_away_again(show_plan):
    hand = show_plan(bare_cart())
    carry = Carry(hand, first("counter"))
    carry.enter((30 * INCH, 15 * INCH))
    carry.move((30 * INCH, 15 * INCH))
    carry.leave()
    assert not hand.session.previewing
    assert hand.view.plan.bodies == {}


def test_a_drop_is_one_step_on_the_shown_level_near_the_mouse(show_plan):
    hand = show_plan(bare_cart())
    hand.session.set_level("base")
    key = first("counter")
    carry = Carry(hand, key)
    carry.enter((30 * INCH, 15 * INCH))
    carry.move((20 * INCH, 12 * INCH))
    assert carry.drop((30 * INCH, 15 * INCH))
    (item,) = hand.session.build.items
    assert item.level == "base"
    assert item.specification.stock == key
    assert (item.x.si * 1000, item.y.si * 1000) == pytest.approx((30 * INCH, 15 * INCH), abs=INCH)
    assert hand.undo_texts == [f"Place {entry(key).name}"]
    assert hand.session.selection.items == (item.id,)


def test_what_belongs_to_the_venue_goes_there_whatever_the_level(show_plan):
    hand = show_plan(bare_cart())
    carry = Carry(hand, first("venue"))
    carry.enter((30 * INCH, 3 * INCH))
    carry.drop((30 * INCH, 3 * INCH))
    assert hand.session.build.items[0].level == VENUE


def test_a_module_is_placed_whole_as_one_group(show_plan):
    key = next(one.key for one in stock() if one.is_module)
    hand = show_plan(bare_cart())
    hand.view.place_stock(key)
    hand.settle()
    items = hand.session.build.items
    assert len(items) == len(entry(key).items) + 1 > 2  # and its tray
    assert len({item.group for item in items}) == 1
    assert items[0].group
    assert set(hand.session.selection.items) == {item.id for item in items}


def test_something_else_is_refused(hand):
    carry = Carry(hand, "no such thing")
    assert not carry.enter((30 * INCH, 15 * INCH))
    assert not carry.drop((30 * INCH, 15 * INCH))
    assert hand.undo_texts == []


def test_placing_by_key_never_stands_on_something(show_plan):
    hand = show_plan(bare_cart())
    key = first("counter")
    for _ in range(4):
        hand.view.place_stock(key)
        hand.settle()
    boxes = [body.box for body in hand.view.plan.picture.bodies]
    assert len(boxes) == 4
    slack = [box.grown(-0.1) for box in boxes]
    assert not any(
        one.meets(other) for number, one in enumerate(slack) for other in slack[number + 1 :]
    )


def seen_whole(hand, item_id) -> bool:
    """The body and its name are within the view."""
    seen, plan = hand.view.camera.seen(), hand.view.plan
    name = plan.arranged.names[item_id].box
    return seen.contains(plan.polygon(item_id).boundingRect()) and seen.contains(
        QRectF(name.x, name.y, name.width, name.height)
    )


@pytest.mark.parametrize("steps", [0, 1, 3, 6])
@pytest.mark.parametrize("category", ["venue", "counter"])
def test_what_is_placed_by_key_is_wholly_in_sight_with_its_name(show_plan, steps, category):
    hand = show_plan(small_cart())
    for _ in range(steps):
        hand.view.zoom_in()
    hand.view.place_stock(first(category))
    hand.settle()
    placed_id = hand.session.selection.items[0]
    assert seen_whole(hand, placed_id)
    # Of what was fitted before, all is still in sight.
    if steps == 0:
        assert hand.view.camera.seen().contains(hand.view.plan.extent())


def test_the_paper_rests_while_what_is_placed_is_in_sight(show_plan):
    hand = show_plan(bare_cart())
    before = hand.view.camera.seen()
    hand.view.place_stock(first("counter"))
    hand.settle()
    assert hand.view.camera.seen() == before


def test_an_unknown_key_is_told_and_changes_nothing(hand, qtbot):
    with qtbot.waitSignal(hand.session.told):
        hand.view.place_stock("no such thing")
    assert hand.undo_texts == []


def test_the_mouse_within_one_step_of_the_grid_computes_nothing_new(show_plan):
    hand = show_plan(bare_cart())
    carry = Carry(hand, first("counter"))
    carry.enter((30 * INCH, 15 * INCH))
    carry.move((30 * INCH, 15 * INCH))
    (item,) = hand.session.shown.items  # it rests on the grid: start from there
    x, y = item.x.si * 1000, item.y.si * 1000
    carry.move((x, y))
    before = hand.session.analyses
    carry.move((x + 4, y))
    assert hand.session.analyses == before
    carry.move((x + 4 * INCH, y))
    assert hand.session.analyses == before + 1
