"""Times of the body side: a whole cart cold, and after one thing was moved, up to 1,000 items.

Run with: python -m pytest tests/bench/test_bench_body.py --benchmark-enable --benchmark-only
"""

import itertools

import pytest
from building_many import hall

from cartlayout.body import solve_body
from cartlayout.build import Build, edits

SIZES = (20, 200, 1000)


@pytest.mark.parametrize("size", SIZES)
def test_bench_body_cold(benchmark, size):
    build = hall(size)
    result = benchmark(solve_body, build)
    assert len(result.solids) == sum(1 for item in build.items if item.level != "venue")


@pytest.mark.parametrize("size", SIZES)
def test_bench_body_after_a_move(benchmark, size):
    builds = moved(hall(size))
    previous = solve_body(next(builds))

    def step():
        nonlocal previous
        previous = solve_body(next(builds), previous)

    benchmark(step)
    assert previous.full is not None


def moved(build: Build):
    """The build over and over, the espresso machine of the first stand a millimetre on."""
    there, back = build, edits.move(build, ("espresso",), 0.001, 0.0)
    yield from itertools.cycle((there, back))
