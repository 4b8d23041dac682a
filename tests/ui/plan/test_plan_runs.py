"""Ways on the plan with real mouse events: parts pulled sideways, words beside runs, menu."""

import itertools

import pytest
from PySide6.QtCore import Qt
from shapely import LineString, Point

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.plan import PlanOptions, plan_picture
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.plan.legs import corners, is_level, led_along, leg_at, pulled
from cartlayout.ui.plan.run_words import is_short, run_words
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session
from cartlayout.units import UnitSystem

INCH = 25.4
WAY = ((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (2.0, 0.5))


def market():
    return load(sample_builds() / "market_cart.cart")


# --- pulling, as geometry -------------------------------------------------------------------------


def test_the_nearest_leg_is_taken():
    assert leg_at(WAY, 0.4, 0.05) == 0
    assert leg_at(WAY, 1.05, 0.3) == 1
    assert [is_level(WAY, leg) for leg in range(3)] == [True, False, True]


def test_a_middle_leg_takes_its_neighbours_along():
    assert pulled(WAY, 1, 1.4) == ((0.0, 0.0), (1.4, 0.0), (1.4, 0.5), (2.0, 0.5))


def test_a_first_leg_stays_straight_at_its_port():
    way = pulled(WAY, 0, -0.2)
    assert way[0] == WAY[0]
    assert way[1] == pytest.approx((0.04, 0.0))
    assert way[2] == pytest.approx((0.04, -0.2))
    assert way[-2:] == WAY[-2:]


def test_pulled_into_line_two_bends_fewer_are_left():
    assert pulled(((0, 0), (1, 0), (1, 0.5), (2, 0.5), (2, 0), (3, 0)), 2, 0.0) == ((0, 0), (3, 0))


# --- pulling, with the mouse ----------------------------------------------------------------------


@pytest.fixture
def window(qtbot, hand_of):
    return hand_of(MainWindow(Session(market())))


@pytest.fixture
def hand_of(qtbot):
    from plan_hand import Hand
    from PySide6.QtWidgets import QApplication

    def make(window):
        qtbot.addWidget(window)
        window.resize(1280, 800)
        window.show()
        QApplication.processEvents()
        hand = Hand(window.plan)
        hand.window = window
        return hand

    return make


def level_leg(points):
    legs = [(a, b) for a, b in itertools.pairwise(points) if abs(b[0] - a[0]) > 0.2]
    (ax, ay), (bx, _) = max(legs, key=lambda leg: abs(leg[1][0] - leg[0][0]))
    return (ax + bx) * 500, ay * 1000


def test_a_part_of_a_tube_is_pulled_aside_in_one_step(window):
    hand = window
    hand.session.set_level("counter")
    run_id = "card-reader-wire"
    place = level_leg(hand.view.plan.lines[run_id])
    hand.session.select(Selection(runs=(run_id,)))
    before = hand.session.analysis.network.routes[run_id]
    hand.drag(place, (place[0], place[1] + 1.5 * INCH))
    after = hand.session.analysis.network.routes[run_id]
    assert hand.undo_texts == ["Lead wire another way"]
    assert hand.session.build.run(run_id).waypoints
    assert after != before
    for (px, py, pz), (qx, qy, qz) in zip(after.points, after.points[1:], strict=False):
        assert (abs(px - qx) > 1e-9) + (abs(py - qy) > 1e-9) + (abs(pz - qz) > 1e-9) <= 1
    line = LineString([point[:2] for point in after.points])
    assert line.distance(Point(place[0] / 1000, place[1] / 1000 + 1.5 * 0.0254)) < 0.02


def test_a_kept_way_is_the_same_way_and_can_be_found_anew(window):
    hand = window
    for run_id in ("card-reader-wire", "espresso-line", "rinser-drain"):
        route = hand.session.analysis.network.routes[run_id]
        kept = led_along(hand.session.build, run_id, corners(route))
        again = analyse(kept).network.routes[run_id]
        assert again.length_m == pytest.approx(route.length_m, abs=0.002)
    actions = hand.window.actions_
    hand.session.select(Selection(runs=("espresso-line",)))
    assert not actions["runs.automatic"].isEnabled()
    actions["runs.keep"].trigger()
    assert hand.undo_texts == ["Keep the way of 1 wire or tube"]
    assert hand.session.build.run("espresso-line").waypoints
    actions["runs.automatic"].trigger()
    assert hand.undo_texts[-1] == "Route 1 wire or tube automatically"
    assert hand.session.build == market()


# --- words beside runs ----------------------------------------------------------------------------


def test_words_say_sort_length_bends_and_spare(window):
    hand = window
    route = hand.session.analysis.network.routes["pump-wire"]
    hand.session.select(Selection(runs=("pump-wire",)))
    (said,) = hand.view.plan.run_words.said
    cord = next(
        port.cord for port in hand.session.build.item("pump").specification.ports if port.cord
    )
    spare_ft = (cord.length.si - route.length_m) / 0.3048
    assert said.text.startswith(cord.size.text)
    assert f"{route.length_m / 0.3048:.1f} ft" in said.text
    assert f"{spare_ft:.1f} ft spare" in said.text
    assert "bend" in said.text
    metric = run_words(hand.session.analysis, "pump-wire", UnitSystem.METRIC)
    assert f"{route.length_m:.2f} m" in metric


def test_words_go_along_with_a_drag_and_leave_with_the_selection(window):
    hand = window
    hand.session.select(Selection(items=("card-reader",)))
    hand.session.select(Selection(items=("card-reader",), runs=("card-reader-wire",)))
    (before,) = hand.view.plan.run_words.said
    x, y = hand.middle("card-reader")
    hand.start((x, y), (x, y - 2 * INCH))
    (during,) = hand.view.plan.run_words.said
    assert during.text != before.text
    hand.key(Qt.Key.Key_Escape)
    hand.release((x, y))
    hand.session.select(Selection())
    assert hand.view.plan.run_words.said == ()


def test_what_is_too_short_or_too_tight_warns():
    from msgspec.structs import replace

    from cartlayout.build import edits
    from cartlayout.units import Length

    build = market()
    tube = build.run("espresso-line")
    short = edits.replace_run(build, replace(tube, length=Length("0.5 m")))
    analysis = analyse(short)
    assert "short" in run_words(analysis, tube.id, UnitSystem.METRIC)
    assert is_short(analysis, tube.id)
    supple = replace(tube, tube=replace(tube.tube, least_bend_radius=Length("2 mm")))
    assert not is_short(analyse(edits.replace_run(build, supple)), tube.id)


# --- levels ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("level", ["counter", "shelf", "base"])
def test_parts_on_other_levels_are_told_apart(level):
    build = market()
    analysis = analyse(build)
    picture = plan_picture(build, analysis, PlanOptions(level=level))
    for run in picture.runs:
        route = analysis.network.routes[run.id]
        if not run.far:
            continue
        shown = {route.levels.index(one) for one in route.levels if one in (level, "venue")}
        assert len(shown) == 1, "one part is on the shown level, the other is not"
        assert run.near
        assert {run.near[0], run.near[-1]} & {run.far[0], run.far[-1]}, "they meet at the climb"
        ends = {run.points[0], run.points[-1]}
        assert ends <= {run.near[0], run.near[-1], run.far[0], run.far[-1]}
