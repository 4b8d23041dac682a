"""Times of the power side: a cart of twenty items, and forty loads on twelve circuits."""

from building import box, branch, build, cord, load, outlet, strip, wire

from cartlayout.build import OperatingCase
from cartlayout.findings import power_rules
from cartlayout.network import make_network
from cartlayout.power import solve_power


def twenty_items():
    loads = [
        load(
            f"load{n}",
            100 + 150 * n,
            heater=n % 2 == 0,
            longest_run=None,
            electrical={"power_factor": 0.8 if n % 2 else 1.0},
        )
        for n in range(14)
    ]
    return build(
        outlet("left", ways=4),
        outlet("right", ways=4),
        outlet("third", breaker=None, circuit=None, ways=4),
        strip("strip"),
        wire("strip", "left.1"),
        *loads,
        *(wire(f"load{n}", f"strip.{n + 1}") for n in range(5)),
        *(wire(f"load{n}", f"right.{n - 4}") for n in range(5, 9)),
        *(wire(f"load{n}", f"third.{n - 8}") for n in range(9, 13)),
        wire("load13", "left.2"),
        cases=(OperatingCase(name="Rush", loads=("load1", "load2", "load9")),),
    )  # fmt: skip


def forty_loads():
    branches = [
        branch(str(n), 20, "L1" if n % 2 else "L2", *(f"{n}{c}" for c in "abcd"))
        for n in range(1, 11)
    ]
    loads = [
        load(f"load{n}", amps=0.5 + n / 10, heater=n % 3 == 0, cord=cord("14 AWG", "10 ft"))
        for n in range(40)
    ]
    return build(
        outlet("feed", 240, 50, receptacle="14-50R", ways=1, electrical={"system": "split-phase"}),
        outlet("wall", ways=4),
        box("box", branches),
        wire("box", "feed.1"),
        *loads,
        *(wire(f"load{n}", f"box.{n // 4 + 1}{'abcd'[n % 4]}") for n in range(40)),
        cases=tuple(
            OperatingCase(name=f"Case {k}", loads=tuple(f"load{n}" for n in range(k, 40, 3)))
            for k in range(3)
        ),
    )


def test_bench_power_twenty_items(benchmark):
    cart = twenty_items()
    network = make_network(cart)
    result = benchmark(solve_power, cart, network)
    assert len(result.appliances) == 14


def test_bench_power_unchanged(benchmark):
    cart = twenty_items()
    network = make_network(cart)
    first = solve_power(cart, network)
    assert benchmark(solve_power, cart, network, first) is first


def test_bench_power_findings(benchmark):
    cart = twenty_items()
    network = make_network(cart)
    power = solve_power(cart, network)
    assert benchmark(lambda: tuple(power_rules.rules(cart, network, power)))


def test_bench_power_forty_loads_twelve_circuits(benchmark):
    cart = forty_loads()
    network = make_network(cart)
    result = benchmark(solve_power, cart, network)
    assert len(result.circuits) == 12
    assert len(result.cases) == 4
