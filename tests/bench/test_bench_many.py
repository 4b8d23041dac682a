"""How the cost of a drag, of zoom and of pan grows from 20 to 1,000 items.

Run with: python -m pytest tests/bench/test_bench_many.py --benchmark-enable --benchmark-only -m ""
(without -m "" the halls of 1,000 items, which take a minute, are left out)

Times are reported, never asserted. Beside the wall clock the processor's time of
the thread is kept (`cpu_p50_ms`, `cpu_p95_ms`): on a shared machine it says what
the program itself takes. "whole": all of the hall is in sight; "near": one stand
fills the view, as when a person works on it.
"""

import itertools
import time
from typing import Any

import pytest
from building_many import hall
from plan_hand import Hand, shown_plan
from PySide6.QtCore import QRectF, Qt
from PySide6.QtWidgets import QApplication

from cartlayout.analysis import analyse
from cartlayout.build import edits
from cartlayout.ui.icons import add_icon_folder
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.session import Session

SIZES = (20, 200, pytest.param(1000, marks=pytest.mark.campaign))
STAND = QRectF(-100.0, -300.0, 2100.0, 1400.0)
"""Around the first stand, millimetres."""
LEAST_STEP_PX = 3.0


def look_near(hand: Hand) -> None:
    """Let one stand fill the view."""
    hand.view._keeps_fit = False
    hand.view.camera.fit(STAND)
    hand.view.outlook.settle()
    QApplication.processEvents()


def shown_window(qtbot: Any, items: int) -> Hand:
    add_icon_folder()
    window = MainWindow(Session(hall(items)))
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    QApplication.processEvents()
    hand = Hand(window.plan)
    hand.window = window  # nothing else keeps it
    return hand


def measure(benchmark: Any, step: Any, rounds: int = 90, between: Any = None) -> None:
    """Time a step by wall clock and by what this thread took of the processor.

    `between` is done before every step and not timed.
    """
    cpu: list[float] = []

    def timed() -> None:
        before = time.thread_time()
        step()
        cpu.append(time.thread_time() - before)

    benchmark.pedantic(timed, setup=between, rounds=rounds, warmup_rounds=0 if between else 5)
    if benchmark.stats is None:
        return
    wall = sorted(benchmark.stats.stats.data)
    cpu = sorted(cpu[5:])
    info = benchmark.extra_info
    info["p95_ms"] = round(wall[int(0.95 * len(wall))] * 1000, 2)
    info["cpu_p50_ms"] = round(cpu[len(cpu) // 2] * 1000, 2)
    info["cpu_p95_ms"] = round(cpu[int(0.95 * len(cpu))] * 1000, 2)


def drag(benchmark: Any, hand: Hand, item: str, answered: bool = False) -> None:
    """From the mouse event to the paint that shows it there, or to the whole answer."""
    way = 1 if item == "kettle" else -1
    x, y = hand.middle(item)
    by = max(8.0, LEAST_STEP_PX / hand.view.camera.scale)
    hand.start((x, y), (x + 30 * way, y))
    places = itertools.cycle([(x + way * (30 + by * n), y + by * n / 2) for n in range(30)])
    if answered:
        measure(benchmark, lambda: hand.move(next(places)))
    else:
        measure(benchmark, lambda: hand.follow(next(places)), between=hand.settle)
    hand.key(Qt.Key.Key_Escape)
    assert hand.undo_texts == []


@pytest.mark.parametrize("item", ["kettle", "espresso"])
@pytest.mark.parametrize("looks", ["whole", "near"])
@pytest.mark.parametrize("items", SIZES)
def test_drag_step_on_the_plan(benchmark, qtbot, items, looks, item):
    hand = shown_plan(qtbot, hall(items), (850, 560))
    if looks == "near":
        look_near(hand)
    drag(benchmark, hand, item)


@pytest.mark.parametrize("item", ["kettle", "espresso"])
@pytest.mark.parametrize("items", SIZES)
def test_drag_step_in_the_window(benchmark, qtbot, items, item):
    hand = shown_window(qtbot, items)
    look_near(hand)
    drag(benchmark, hand, item)


@pytest.mark.parametrize("item", ["kettle", "espresso"])
@pytest.mark.parametrize("items", SIZES)
def test_drag_step_with_its_answer(benchmark, qtbot, items, item):
    hand = shown_window(qtbot, items)
    look_near(hand)
    drag(benchmark, hand, item, answered=True)


@pytest.mark.parametrize("looks", ["whole", "near"])
@pytest.mark.parametrize("items", SIZES)
def test_zoom_frame(benchmark, qtbot, items, looks):
    hand = shown_plan(qtbot, hall(items), (850, 560))
    if looks == "near":
        look_near(hand)
    view = hand.view
    does = itertools.cycle([view.zoom_in] * 4 + [view.zoom_out] * 4)

    def step():
        next(does)()
        QApplication.processEvents()

    before = hand.session.analyses
    measure(benchmark, step, 64)
    assert hand.session.analyses == before, "looking computes nothing"


@pytest.mark.parametrize("looks", ["whole", "near"])
@pytest.mark.parametrize("items", SIZES)
def test_pan_frame(benchmark, qtbot, items, looks):
    hand = shown_plan(qtbot, hall(items), (850, 560))
    if looks == "near":
        look_near(hand)
    view = hand.view
    by = 4.0 / view.pixels_per_m
    ways = itertools.cycle([by] * 20 + [-by] * 20)

    def step():
        way = next(ways)
        view.shift(way, way / 2)
        QApplication.processEvents()

    refreshes = view.refreshes
    measure(benchmark, step, 80)
    assert view.refreshes == refreshes, "looking prepares nothing"


@pytest.mark.parametrize("item", ["kettle", "espresso"])
@pytest.mark.parametrize("items", SIZES)
def test_analysis_of_one_step(benchmark, items, item):
    state = {"build": hall(items)}
    state["analysis"] = analyse(state["build"])
    ways = itertools.cycle([0.003] * 20 + [-0.003] * 20)

    def step():
        state["build"] = edits.move(state["build"], [item], next(ways), 0.0)
        state["analysis"] = analyse(state["build"], state["analysis"])

    measure(benchmark, step, 40)
    assert state["analysis"].build is state["build"]
