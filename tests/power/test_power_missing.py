"""What is missing where no assignment works: by the code's own rules and by sums."""

import pytest
from building import build, load, outlet, wire
from msgspec.structs import replace

from cartlayout.build import Build
from cartlayout.network import make_network
from cartlayout.power.assign import make_problem, missing


def one_circuit(watts: tuple[float, ...], hours: str, locked: int = 0) -> Build:
    """So many loads on one outlet of 20 A, the first of them locked."""
    loads = [load(f"l{n}", one, longest_run=hours) for n, one in enumerate(watts)]
    loads = [replace(one, locked=n < locked) for n, one in enumerate(loads)]
    wires = [wire(f"l{n}", f"wall.{n + 1}") for n in range(len(watts))]
    return build(outlet("wall", ways=len(watts)), *loads, *wires)


@pytest.mark.parametrize(
    ("hours", "circuits"),
    # NEC 2023 210.20(A): 9 A for three hours count 11.25 A, so that each wants 20 A for itself; for
    # two hours two of them share.
    [("3 h", 2), ("2 h", 1)],
)
def test_what_runs_for_hours_counts_125_percent_on_circuits_that_are_missing(hours, circuits):
    made = one_circuit((1080, 1080, 1080), hours)
    found = missing(made, make_problem(made, make_network(made)))
    assert [(one.amps, one.count) for one in found.more] == [(20.0, circuits)]


def test_where_what_stays_is_too_much_taking_others_off_is_no_help():
    """15 A and 15 A that may not move are 30 A of 20, with the third load or without."""
    made = one_circuit((1800, 1800, 600), "10 min", locked=2)
    found = missing(made, make_problem(made, make_network(made)))
    assert found.take_off == ()
    assert found.more == ()
    freed = one_circuit((1800, 1800, 600), "10 min", locked=1)
    found = missing(freed, make_problem(freed, make_network(freed)))
    assert len(found.take_off) == 1
