"""Looking around the plan, walking through it by keyboard, what it says, what it draws."""

import dataclasses

import pytest
from msgspec.structs import replace
from plan_cart import bare_cart, small_cart
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLineEdit, QMenu, QWidget

from cartlayout.build.edits import replace_item
from cartlayout.documents.plan import plan_picture
from cartlayout.documents.theme import DARK
from cartlayout.ui.selection import Selection
from cartlayout.units import Length, UnitSystem

Key = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier
INCH = 25.4


def wheel(hand, place, notches):
    spot = QPointF(hand.at(place))
    port = hand.view.viewport()
    event = QWheelEvent(
        spot,
        QPointF(port.mapToGlobal(spot)),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(port, event)
    hand.settle()


def test_the_whole_plan_is_in_sight_at_the_start(hand):
    seen = hand.view.camera.seen()
    for body in hand.view.plan.picture.bodies:
        assert all(seen.contains(QPointF(*corner)) for corner in body.corners)
    for note in hand.view.plan.arranged.notes:
        x, y, w, h = note.box
        assert seen.contains(QPointF(x, y))
        assert seen.contains(QPointF(x + w, y + h))


@pytest.mark.parametrize("notches", [1, 3, -2])
def test_the_wheel_zooms_about_what_is_under_the_mouse(hand, notches):
    place = hand.middle("kettle")
    before, scale = hand.at(place), hand.view.pixels_per_m
    wheel(hand, place, notches)
    assert (hand.view.pixels_per_m > scale) == (notches > 0)
    assert (hand.at(place) - before).manhattanLength() <= 2


def test_the_whole_plan_stays_in_sight_while_the_window_changes_until_one_looks_closer(hand):
    scale = hand.view.pixels_per_m
    hand.view.resize(600, 400)
    hand.settle()
    assert hand.view.pixels_per_m < scale
    wheel(hand, hand.middle("kettle"), 2)
    scale = hand.view.pixels_per_m
    hand.view.resize(900, 640)
    hand.settle()
    assert hand.view.pixels_per_m == scale
    hand.view.fit()
    hand.view.resize(1000, 700)
    hand.settle()
    assert hand.view.plan.extent().width() * hand.view.camera.scale <= 1000


def test_zoom_stops_at_its_limits(hand):
    for _ in range(60):
        hand.view.zoom_in()
    nearest = hand.view.pixels_per_m
    hand.view.zoom_in()
    assert hand.view.pixels_per_m == nearest
    for _ in range(90):
        hand.view.zoom_out()
    furthest = hand.view.pixels_per_m
    hand.view.zoom_out()
    assert hand.view.pixels_per_m == furthest
    hand.view.fit()
    assert furthest < hand.view.pixels_per_m < nearest


def test_the_middle_button_drags_the_paper_and_changes_nothing(hand):
    build = hand.session.build
    place = (30 * INCH, 20 * INCH)
    before = hand.at(place)
    hand.press(place, button=Qt.MouseButton.MiddleButton)
    spot = hand.at((40 * INCH, 25 * INCH))
    hand.move((40 * INCH, 25 * INCH), button=Qt.MouseButton.MiddleButton)
    assert (hand.at(place) - spot).manhattanLength() <= 2
    hand.release(place, button=Qt.MouseButton.MiddleButton)
    assert hand.at(place) != before
    assert hand.session.build is build


def test_the_space_bar_drags_the_paper_too(hand, qtbot):
    place = hand.middle("kettle")
    qtbot.keyPress(hand.view.viewport(), Key.Key_Space)
    spot = hand.at((50 * INCH, 20 * INCH))
    hand.start(place, (50 * INCH, 20 * INCH))
    hand.release(place)
    qtbot.keyRelease(hand.view.viewport(), Key.Key_Space)
    assert hand.undo_texts == []
    assert (hand.at(place) - spot).manhattanLength() > 0
    hand.drag(hand.middle("kettle"), (48 * INCH, 12 * INCH))
    assert hand.undo_texts == ["Move Kettle"]


def test_tab_reaches_every_solid_thing_and_then_leaves_the_plan(hand, qtbot):
    reached = []
    for _ in range(40):
        before = hand.session.selection
        hand.key(Key.Key_Tab)
        if hand.session.selection == before:
            break
        reached.append(hand.session.selection)
    items = {one for selection in reached for one in selection.items}
    runs = {one for selection in reached for one in selection.runs}
    assert items == {"outlet-1", "outlet-2", "machine", "grinder", "kettle", "rinser"}
    assert runs == {run.id for run in hand.session.build.runs}
    assert len(reached) == len(items) + len(runs)


def test_shift_tab_walks_back(hand):
    hand.key(Key.Key_Tab)
    first = hand.session.selection
    hand.key(Key.Key_Tab)
    assert hand.session.selection != first
    hand.key(Key.Key_Backtab, SHIFT)
    assert hand.session.selection == first


def test_page_keys_change_the_level(hand):
    assert hand.session.level == "counter"
    hand.key(Key.Key_PageDown)
    assert hand.session.level == "shelf"
    hand.key(Key.Key_PageDown)
    hand.key(Key.Key_PageDown)
    assert hand.session.level == "base"
    assert hand.view.plan.picture.body("kettle").ghosted
    hand.key(Key.Key_PageUp)
    assert hand.session.level == "shelf"


def test_the_description_tells_a_screen_reader_what_is_selected(hand):
    assert "level counter: 4 items" in hand.view.accessibleDescription()
    hand.click(hand.middle("kettle"))
    words = hand.view.accessibleDescription()
    assert words.startswith("Kettle, on counter, 44.0 in from the left, 9.0 in from the rear")
    hand.session.set_system(UnitSystem.METRIC)
    # 44 in = 1117.6 mm, 9 in = 228.6 mm
    assert "1,118 mm from the left, 229 mm from the rear" in hand.view.accessibleDescription()


def test_showing_culprits_goes_to_their_level_selects_and_rings_them(hand):
    hand.view.show_items(("pump",))
    assert hand.session.level == "base"
    assert hand.session.selection == Selection(items=("pump",))
    assert hand.view.plan.halo.strength > 0


def test_the_ring_fades_by_itself(hand, qtbot):
    hand.view.show_items(("kettle",))
    qtbot.waitUntil(lambda: hand.view.plan.halo.strength == 0.0, timeout=4000)


def test_showing_something_out_of_sight_brings_it_into_sight(hand):
    for _ in range(8):
        wheel(hand, hand.middle("machine"), 1)
    assert not hand.view.camera.seen().contains(QPointF(*hand.middle("rinser")))
    hand.view.show_items(("rinser",))
    assert hand.view.camera.seen().contains(QPointF(*hand.middle("rinser")))


def test_showing_a_run_selects_it(hand):
    run = hand.session.build.runs[2]  # jug to pump, on the base
    hand.view.show_items((), (run.id,))
    assert hand.session.level == "base"
    assert hand.session.selection.runs == (run.id,)


def test_an_empty_cart_says_what_to_do(show_plan):
    hand = show_plan(bare_cart())
    assert hand.view.paper.hint.isVisible()
    assert hand.view.paper.hint.text() == "Drag equipment from Stock onto the counter"
    hand.session.apply("Fill", small_cart())
    hand.settle()
    assert not hand.view.paper.hint.isVisible()


def overlaps(boxes):
    return [
        (one, other)
        for number, one in enumerate(boxes)
        for other in boxes[number + 1 :]
        if one.meets(other)
    ]


@pytest.mark.parametrize("notches", [-8, -4, -1, 0, 2, 5, 9])
def test_no_label_lies_on_another_at_any_zoom(hand, notches):
    wheel(hand, hand.middle("grinder"), notches)
    arranged = hand.view.plan.arranged
    boxes = [one.box for one in arranged.notes] + [one.box for one in arranged.names.values()]
    boxes += [box for _, box in arranged.captions]
    assert overlaps(boxes) == []


def test_no_label_lies_on_another_while_dragging_through_everything(hand):
    hand.start(hand.middle("kettle"), (40 * INCH, 12 * INCH))
    for step in range(30):
        hand.move(((60 - 2 * step) * INCH, (4 + step % 20) * INCH))
        arranged = hand.view.plan.arranged
        boxes = [one.box for one in arranged.notes] + [
            name.box for key, name in arranged.names.items() if key != "kettle"
        ]
        assert overlaps(boxes) == []
    hand.key(Key.Key_Escape)


def test_labels_that_stand_well_stay_where_they_are(hand):
    before = {one.note.key: one.box for one in hand.view.plan.arranged.notes}
    assert before
    x, y = hand.middle("kettle")
    hand.start((x, y), (x + 3 * INCH, y))
    after = {one.note.key: one.box for one in hand.view.plan.arranged.notes}
    assert {key: after[key] for key in before} == before
    hand.key(Key.Key_Escape)


def test_names_in_bodies_keep_to_their_bodies(hand):
    for item_id, name in hand.view.plan.arranged.names.items():
        if item_id not in hand.view.plan.arranged.outer:
            assert hand.view.plan.picture.body(item_id).box.holds(name.box)


def test_the_theme_repaints_everything(hand):
    hand.session.set_theme(DARK)
    hand.settle()
    image = hand.view.grab().toImage()
    assert image.pixelColor(3, 3).name() == DARK.paper


def test_the_context_menu_offers_what_fits(hand):
    hand.click(hand.middle("kettle"), button=Qt.MouseButton.RightButton)
    assert hand.session.selection.items == ("kettle",)
    from cartlayout.ui.plan.menu import make_menu

    menu = make_menu(hand.view, None)
    texts = {action.text().partition("\t")[0]: action for action in menu.actions()}
    assert {"Edit label", "Rotate clockwise", "Duplicate", "Lock in place", "Delete"} <= set(texts)
    plugs = texts["Plug into"].menu()
    assert [action.text() for action in plugs.actions()] == ["Outlet 1: 2", "Outlet 2: 2"]
    plugs.actions()[1].trigger()
    assert hand.undo_texts == ["Join Kettle and Outlet 2: 2"]
    assert isinstance(menu, QMenu)
    menu.deleteLater()


def test_the_menu_of_a_wire_disconnects_it(hand):
    wire = hand.session.build.wires[0]
    hand.session.select(Selection(runs=(wire.id,)))
    from cartlayout.ui.plan.menu import make_menu

    menu = make_menu(hand.view, None)
    action = next(one for one in menu.actions() if one.text().startswith("Disconnect"))
    action.trigger()
    assert hand.session.build.run(wire.id) is None
    menu.deleteLater()


def test_the_menu_selects_a_circuit_and_puts_things_on_levels(hand):
    hand.click(hand.middle("grinder"))
    from cartlayout.ui.plan.menu import make_menu

    menu = make_menu(hand.view, None)
    texts = {action.text().partition("\t")[0]: action for action in menu.actions()}
    levels = {one.text(): one for one in texts["Put on level"].menu().actions()}
    assert not levels["counter"].isEnabled()
    circuit = next(action for text, action in texts.items() if text.startswith("Select all on"))
    circuit.trigger()
    assert "grinder" in hand.session.selection.items
    assert len(hand.session.selection.runs) == 1
    levels["base"].trigger()
    assert hand.session.build.item("grinder").level == "base"
    menu.deleteLater()


@pytest.mark.parametrize(
    "change",
    [
        {"label": ""},
        {"label": "A very long name that nobody can read at this size, and longer still"},
        {"label": "Ünïcödé ☕ 水"},
        {"rotation": 33.0},
        {"x": Length("900 in")},
    ],
)
def test_odd_items_are_drawn_without_a_word(show_plan, change):
    build = small_cart()
    hand = show_plan(replace_item(build, replace(build.item("kettle"), **change)))
    assert not hand.view.grab().toImage().isNull()
    for _ in range(3):
        hand.view.zoom_out()
    assert not hand.view.grab().toImage().isNull()


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -1e300, 0.0])
def test_results_that_are_no_numbers_are_drawn_all_the_same(hand, number):
    analysis = hand.session.analysis
    power = dataclasses.replace(
        analysis.power,
        circuits=tuple(
            dataclasses.replace(one, amps=dict.fromkeys(one.amps, number), rating_a=number)
            for one in analysis.power.circuits
        ),
        appliances={
            key: {
                case: dataclasses.replace(state, amps=number, volts=number)
                for case, state in states.items()
            }
            for key, states in analysis.power.appliances.items()
        },
    )
    water = dataclasses.replace(
        analysis.water,
        taps=tuple(
            dataclasses.replace(
                tap,
                fed=True,
                static_pa=number,
                states={
                    case: dataclasses.replace(state, pressure_pa=number, flow=number)
                    for case, state in tap.states.items()
                },
            )
            for tap in analysis.water.taps
        ),
    )
    hand.session.analysis_changed.emit(analysis)
    odd = dataclasses.replace(analysis, power=power, water=water)
    picture = plan_picture(odd.build, odd)
    hand.view.plan.show_picture(picture, Selection(items=("kettle",)))
    assert not hand.view.grab().toImage().isNull()


# The offscreen platform has no window manager to raise windows or grab keys.
@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_menu_key_opens_the_menu_at_the_selection(hand, qtbot):
    hand.click(hand.middle("kettle"))
    port = hand.view.viewport()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, QPoint(0, 0), QPoint(0, 0))
    QApplication.sendEvent(port, event)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    assert any(action.text().startswith("Edit label") for action in menu.actions())
    menu.close()
    hand.settle()


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_tab_past_the_last_thing_goes_to_the_next_widget(qtbot, show_plan):
    hand = show_plan(bare_cart())
    frame = QWidget()
    qtbot.addWidget(frame)
    row = QHBoxLayout(frame)
    before, after = QLineEdit(), QLineEdit()
    for one in (before, hand.view, after):
        row.addWidget(one)
    frame.show()
    qtbot.waitExposed(frame)
    frame.activateWindow()
    before.setFocus()
    qtbot.waitUntil(before.hasFocus)
    qtbot.keyClick(before, Key.Key_Tab)
    assert frame.focusWidget() is hand.view
    assert hand.view.paper.ring.isVisible()
    qtbot.keyClick(hand.view.viewport(), Key.Key_Tab)  # nothing stands on the cart
    assert frame.focusWidget() is after
    hand.view.setParent(None)


def test_marks_of_findings_lie_over_everything_and_go_when_it_is_mended(hand):
    # The rinser has no water and no drain as drawn; nothing is wrong with an unplugged kettle.
    assert "item rinser" in hand.view.plan.marks
    x, y = hand.middle("grinder")
    start = hand.middle("kettle")
    hand.start(start, (x, y))  # the kettle into the grinder: two bodies in one place
    marks = set(hand.view.plan.marks)
    assert marks & {"item kettle", "item grinder"}
    top = max(mirror.zValue() for mirror in hand.view.plan.bodies.values())
    assert all(mark.zValue() > top for mark in hand.view.plan.marks.values())
    hand.key(Key.Key_Escape)
    hand.release((x, y))
    assert not set(hand.view.plan.marks) & {"item kettle", "item grinder"}
