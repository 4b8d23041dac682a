"""2,000 random networks settle, each in at most 50 steps, and fulfil the laws counted anew.

Continuity (no water is lost at any node: 1e-9 m3/s) and energy (what is lost along a way is what
its parts lose: 1 Pa) are conservation laws; that a regulator lets the lesser of what it holds and
what it is given through, and a check valve nothing back, is what these valves are.
"""

import pytest
from random_networks import RandomNetwork, broken_laws

from cartlayout.water.hydraulics import Conditions, solve

MOST_STEPS = 50


@pytest.mark.parametrize("hundred", range(20))
def test_two_thousand_networks_settle(hundred):
    for seed in range(100 * hundred, 100 * hundred + 100):
        network = RandomNetwork(seed)
        state = solve(network.system, network.conditions)
        assert broken_laws(network, state) == [], seed
        assert state.iterations <= MOST_STEPS, seed


@pytest.mark.parametrize("hundred", range(0, 20, 4))
def test_they_settle_from_another_case_too(hundred):
    """From all shut to some open, and from some open to everything: where a cold start ends."""
    for seed in range(100 * hundred, 100 * hundred + 100):
        network = RandomNetwork(seed)
        system = network.system
        cold = solve(system, network.conditions)
        shut = solve(system, Conditions())
        warm = solve(system, network.conditions, shut.start)
        assert broken_laws(network, warm) == [], seed
        assert warm.iterations <= MOST_STEPS, seed
        everything = Conditions(open_taps=set(network.sketch.taps))
        onward = solve(system, everything, cold.start)
        network.open_taps = everything.open_taps
        assert broken_laws(network, onward) == [], seed
        assert onward.iterations <= MOST_STEPS, seed
        again = solve(system, everything, onward.start)
        assert again.iterations <= 2, seed


def test_what_once_went_round_and_round_settles():
    """Starved pumps, pumps and regulators side by side: picked from 20,000 seeds."""
    for seed in (2999, 3649, 5332, 5766, 6489, 8190, 21323, 23904):
        network = RandomNetwork(seed)
        state = solve(network.system, network.conditions)
        assert broken_laws(network, state) == [], seed


@pytest.mark.campaign
@pytest.mark.parametrize("thousand", range(2, 22))
def test_twenty_thousand_more(thousand):
    for seed in range(1000 * thousand, 1000 * thousand + 1000):
        network = RandomNetwork(seed)
        state = solve(network.system, network.conditions)
        assert broken_laws(network, state) == [], seed
