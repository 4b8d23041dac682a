"""Times of assigning loads to outlets: twenty-four loads on six circuits."""

import random

import pytest
from building import build, load, outlet, wire

from cartlayout.network import make_network
from cartlayout.power.assign import best, make_problem


def twenty_four_loads(seed: int):
    rng = random.Random(seed)
    watts = (60, 120, 240, 350, 500, 700, 900, 1100, 1400)
    loads = [load(f"l{n}", rng.choice(watts)) for n in range(24)]
    outlets = [outlet(f"o{n}", breaker=20, ways=6) for n in range(6)]
    holes = [(o, way) for o in range(6) for way in range(1, 7)]
    rng.shuffle(holes)
    plugs = [wire(f"l{n}", f"o{o}.{way}") for n, (o, way) in enumerate(holes[:24])]
    return build(*loads, *outlets, *plugs)


@pytest.mark.parametrize("seed", range(3))
def test_bench_rebalance_24_loads_6_circuits(benchmark, seed):
    made = twenty_four_loads(seed)
    problem = make_problem(made, make_network(made))
    answer = benchmark.pedantic(best, (problem,), rounds=1)
    benchmark.extra_info["gaps"] = dict(answer.gaps)
    benchmark.extra_info["proven"] = answer.proven
    # Whatever the machine: everything has a place, and no aim is without its gap.
    assert None not in answer.chosen
    assert [name for name, _ in answer.gaps] == ["overload", "peak", "moves", "cord"]


def test_bench_make_problem(benchmark):
    made = twenty_four_loads(0)
    network = make_network(made)
    problem = benchmark(make_problem, made, network)
    assert len(problem.ways) == 24 * 6
