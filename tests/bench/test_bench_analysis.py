"""How long a full analysis takes: cold, and after a move that touches one tube.

Run with: python -m pytest tests/bench --benchmark-enable --benchmark-only
"""

import itertools
from typing import Any

import pytest

from cartlayout.analysis import analyse
from cartlayout.build import Build, TubeRun, edits
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.network import make_network

NAMES = [path.stem for path in sorted(sample_builds().glob("*.cart"))]


@pytest.fixture(params=NAMES)
def build(request: pytest.FixtureRequest) -> Build:
    return load(sample_builds() / f"{request.param}.cart")


def with_one_tube(build: Build) -> str:
    """An item of the cart that as few supply tubes as possible end at, but at least one."""
    counts: dict[str, int] = {}
    for run in build.runs:
        if isinstance(run, TubeRun) and run.b is not None:
            for end in (run.a, run.b):
                counts[end.item] = counts.get(end.item, 0) + 1
    movable = {item.id for item in build.items if not item.locked and item.level != "venue"}
    return min((one for one in counts if one in movable), key=lambda one: (counts[one], one))


def test_analysis_cold(benchmark: Any, build: Build) -> None:
    analyse(build)  # the tables of limits are read once
    analysis = benchmark(analyse, build)
    assert analysis.build is build
    benchmark.extra_info["items"] = len(build.items)


def test_analysis_after_a_move_that_touches_one_tube(benchmark: Any, build: Build) -> None:
    moved = with_one_tube(build)
    state = {"build": build, "analysis": analyse(build)}
    steps = itertools.cycle([0.001, 0.001, 0.001, -0.003])

    def next_build() -> tuple[tuple[Build], dict[str, Any]]:
        state["build"] = edits.move(state["build"], [moved], next(steps), 0)
        return (state["build"],), {}

    def step(after: Build) -> None:
        state["analysis"] = analyse(after, state["analysis"])

    benchmark.pedantic(step, setup=next_build, rounds=60)
    assert state["analysis"].build is state["build"]


def test_network_cold(benchmark: Any, build: Build) -> None:
    network = benchmark(make_network, build)
    assert len(network.routes) <= len(build.runs)
