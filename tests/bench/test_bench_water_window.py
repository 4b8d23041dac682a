"""What pairs, windows and the choice of a pump cost; reported, never asserted."""

from typing import Any

import pytest
from building import build, drawn, opening, pump, tank, tap, tee, tube

from cartlayout.advice.pumps import candidates, choose_pumps
from cartlayout.build import Build, file
from cartlayout.data import sample_builds
from cartlayout.network import make_network
from cartlayout.water import solve_water


def six_taps() -> Build:
    """Jug, pump, manifold and six taps, three that draw and three that open."""
    behaviours = [drawn("2 L/min"), opening("3 L/min", "1 bar")] * 3
    ports = "bcdefg"
    return build(
        tank("jug"),
        pump("pump", [("0 bar", "14 L/min"), ("5 bar", "6 L/min")], "2.4 bar", "3.4 bar"),
        tee("manifold", 7),
        *(
            tap(f"tap {at}", one, required_flow="2 L/min", least="0.5 bar")
            for at, one in enumerate(behaviours)
        ),
        tube("jug", "pump", "0.4 m", "9.5 mm"),
        tube("pump", "manifold.a", "1.5 m", "9.5 mm"),
        *(tube(f"manifold.{ports[at]}", f"tap {at}") for at in range(6)),
    )


def test_all_automatic_cases_of_six_taps_with_every_pair(benchmark: Any) -> None:
    """Shut, six alone, fifteen pairs, everything open; with making the model. Aim: 8 ms."""
    made = six_taps()
    network = make_network(made)
    result = benchmark(solve_water, made, network)
    assert len(result.pairs) == 15


@pytest.mark.parametrize("name", ["market_cart", "market_cart_first_try", "conference_hall_bar"])
def test_windows(benchmark: Any, name: str) -> None:
    """Every supply's window, from a result that has not been asked for it."""
    made = file.load(sample_builds() / f"{name}.cart")
    network = make_network(made)
    windows = benchmark.pedantic(
        lambda result: result.windows,
        setup=lambda: ((solve_water(made, network),), {}),
        rounds=30,
    )
    assert windows


def test_choosing_a_pump(benchmark: Any) -> None:
    """Every pump of the stock in the market cart, each analysed whole, with its vessel."""
    made = file.load(sample_builds() / "market_cart.cart")
    choices = benchmark.pedantic(lambda: list(choose_pumps(made, "pump")), rounds=5)
    assert len(choices) == len(candidates(made))
