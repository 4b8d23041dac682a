"""How long ways take: of every run from scratch, and of what one step of a drag touches.

Besides the time on the wall the time of the processor is noted (`cpu_ms`), because the
machine is shared. Times are reported, never asserted. Run with:
python -m pytest tests/bench/test_bench_routes.py --benchmark-enable --benchmark-only
"""

import itertools
import time
from collections.abc import Callable
from typing import Any

import pytest
from building_many import hall
from msgspec.structs import replace

from cartlayout.build import Build, WayPoint, edits
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.network import make_network
from cartlayout.network.places import Places
from cartlayout.network.routes import make_routes
from cartlayout.units import Length

CASES: dict[str, Callable[[], Build]] = {
    "market cart, 18 items": lambda: load(sample_builds() / "market_cart.cart"),
    "hall bar, 30 items": lambda: load(sample_builds() / "conference_hall_bar.cart"),
    "hall, 200 items": lambda: hall(200),
    "hall, 1000 items": lambda: hall(1000),
}
STEPS_M = [0.012] * 12 + [-0.012] * 12


def busiest(build: Build) -> str:
    """The movable item with the most runs."""
    ends = [end.item for run in build.runs for end in (run.a, run.b) if end is not None]
    movable = [item.id for item in build.items if item.level != "venue"]
    return max(movable, key=lambda one: (ends.count(one), one))


def forty_runs() -> Build:
    """Two bars, with forty of their runs."""
    build = hall(60, "conference_hall_bar")
    return replace(build, runs=build.runs[:40])


def drag(benchmark: Any, build: Build, item: str, step: Callable[[Build], None]) -> None:
    """Measure one step of a drag, as often as there are steps to and fro, twice."""
    state = {"build": build}
    steps = itertools.cycle(STEPS_M)
    cpu: list[float] = []

    def next_build() -> tuple[tuple[Build], dict[str, Any]]:
        state["build"] = edits.move(state["build"], [item], next(steps), 0.0)
        return (state["build"],), {}

    def timed(after: Build) -> None:
        started = time.process_time()
        step(after)
        cpu.append(time.process_time() - started)

    benchmark.pedantic(timed, setup=next_build, rounds=2 * len(STEPS_M))
    cpu.sort()
    benchmark.extra_info["cpu_ms"] = round(cpu[len(cpu) // 2] * 1000, 2)
    benchmark.extra_info["cpu_p95_ms"] = round(cpu[int(0.95 * len(cpu))] * 1000, 2)


@pytest.mark.parametrize("name", CASES)
def test_bench_routes_of_one_drag_step(benchmark: Any, name: str) -> None:
    build = CASES[name]()
    state: dict[str, Any] = {"places": Places.of(build)}
    state["trails"] = make_routes(state["places"], build.runs)

    def step(after: Build) -> None:
        state["places"] = Places.of(after, state["places"])
        state["trails"] = make_routes(state["places"], after.runs, state["trails"])

    drag(benchmark, build, busiest(build), step)
    assert len(state["trails"].by_run) == len(build.runs)


@pytest.mark.parametrize("name", CASES)
def test_bench_network_of_one_drag_step(benchmark: Any, name: str) -> None:
    """Graphs and problems are taken over while things only move about."""
    build = CASES[name]()
    state = {"network": make_network(build)}
    power = state["network"].power

    def step(after: Build) -> None:
        state["network"] = make_network(after, state["network"])

    drag(benchmark, build, busiest(build), step)
    assert state["network"].power is power


@pytest.mark.parametrize("name", ["forty runs", *CASES])
def test_bench_routes_from_scratch(benchmark: Any, name: str) -> None:
    build = forty_runs() if name == "forty runs" else CASES[name]()
    places = Places.of(build)
    trails = make_routes(places, build.runs)
    started = time.process_time()
    make_routes(places, build.runs)
    benchmark.extra_info["cpu_ms"] = round((time.process_time() - started) * 1000, 2)
    benchmark.extra_info["runs"] = len(trails.by_run)
    benchmark.pedantic(make_routes, args=(places, build.runs), rounds=5)


def test_bench_a_dragged_way_point(benchmark: Any) -> None:
    build = CASES["market cart, 18 items"]()
    at = next(number for number, run in enumerate(build.runs) if run.id == "espresso-line")
    state = {"network": make_network(build)}

    def bent(x_m: float) -> Build:
        point = WayPoint(x=Length(f"{x_m:.3f} m"), y=Length("0.5 m"))
        run = replace(build.runs[at], waypoints=(point,))
        return replace(build, runs=(*build.runs[:at], run, *build.runs[at + 1 :]))

    builds = itertools.cycle([bent(1.0 + 0.01 * number) for number in range(12)])

    def step() -> None:
        state["network"] = make_network(next(builds), state["network"])

    benchmark.pedantic(step, rounds=24)
    assert len(state["network"].routes) == len(build.runs)
