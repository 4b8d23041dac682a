"""Times of the plan: one step of a drag with everything computed and painted, zoom, a full paint.

Times are reported, counts are asserted. A step is what a person feels: mouse
event, edit, analysis, drawing prepared and mirrored, repaint.
"""

import itertools

import pytest
from plan_hand import Hand, shown_plan
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.ui.icons import add_icon_folder
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.session import Session


def sample(name: str = "market_cart"):
    return load(sample_builds() / f"{name}.cart")


def heaviest_load(hand) -> str:
    """The appliance with the most on it: wires, and tubes if it can be."""
    build = hand.session.build
    ends = [end.item for run in build.runs for end in (run.a, run.b) if end]
    here = [item.id for item in build.items if item.level == hand.session.level]
    return max(here, key=lambda one: (ends.count(one), one))


def _report_p95(benchmark) -> None:
    """The 95th percentile of the steps that moved something."""
    if benchmark.stats is not None:
        times = sorted(one for one in benchmark.stats.stats.data if one > 0.001)
        benchmark.extra_info["p95_ms"] = round(times[int(0.95 * len(times))] * 1000, 2)


@pytest.mark.parametrize("what", ["kettle", "heaviest"])
def test_bench_one_drag_step_with_repaint(benchmark, qtbot, what):
    hand = shown_plan(qtbot, sample(), (850, 560))
    item = what if what != "heaviest" else heaviest_load(hand)
    x, y = hand.middle(item)
    hand.start((x, y), (x + 30, y))
    places = itertools.cycle([(x + 30 + 8 * n, y + 4 * n) for n in range(30)])
    before = hand.session.analyses
    # Until the plan is painted with the item under the mouse; the answer follows.
    benchmark.pedantic(lambda: hand.follow(next(places)), setup=hand.settle, rounds=120)
    _report_p95(benchmark)
    hand.settle()
    assert hand.session.analyses - before <= 125
    hand.release(next(places))
    assert len(hand.undo_texts) == 1


@pytest.mark.parametrize("item", ["kettle", "espresso"])
def test_bench_one_drag_step_in_the_window(benchmark, qtbot, item):
    """With the whole answer and every board. The espresso machine touches a wire, a tube and a
    drain, and passes over what has them."""
    add_icon_folder()
    session = Session(sample())
    window = MainWindow(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    QApplication.processEvents()
    hand = Hand(window.plan)
    x, y = hand.middle(item)
    way = 1 if item == "kettle" else -1
    hand.start((x, y), (x + 30 * way, y))
    places = itertools.cycle([(x + way * (30 + 8 * n), y + 4 * n) for n in range(30)])
    benchmark.pedantic(lambda: hand.move(next(places)), rounds=120, warmup_rounds=5)
    _report_p95(benchmark)
    hand.key(Qt.Key.Key_Escape)
    assert hand.undo_texts == []


def test_bench_zoom_step(benchmark, qtbot):
    hand = shown_plan(qtbot, sample(), (850, 560))
    does = itertools.cycle([hand.view.zoom_in, hand.view.zoom_out])

    def step():
        next(does)()
        QApplication.processEvents()

    before = hand.session.analyses
    benchmark.pedantic(step, rounds=60, warmup_rounds=2)
    assert hand.session.analyses == before, "looking computes nothing"


def test_bench_paint_all(benchmark, qtbot):
    hand = shown_plan(qtbot, sample(), (1280, 720))

    def step():
        hand.view.viewport().update()
        QApplication.processEvents()

    refreshes = hand.view.refreshes
    benchmark.pedantic(step, rounds=40, warmup_rounds=2)
    assert hand.view.refreshes == refreshes, "painting prepares nothing"
