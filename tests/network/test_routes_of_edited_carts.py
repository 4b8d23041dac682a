"""What of an edited cart makes runs look for their ways anew. Counts, not times."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from cartlayout.build.cart_edits import add, move_edge, new_caster, new_handle, with_cart
from cartlayout.build.file import load
from cartlayout.network import make_network

SAMPLE = Path(__file__).parents[2] / "sample_builds" / "market_cart.cart"


def searched(build, edited) -> int:
    """How many runs were looked for again; trails that were lent are the same objects."""
    before = make_network(build)
    after = make_network(edited, before)
    assert after.routes == make_network(edited).routes
    return sum(after.routes[run] is not before.routes[run] for run in after.routes)


@pytest.fixture(scope="module")
def build():
    return load(SAMPLE)


def test_wheels_and_handles_are_none_of_a_runs_business(build):
    with_caster, _ = add(build, new_caster(build, 0.9, 0.4))
    assert searched(build, with_caster) == 0
    assert searched(build, add(build, new_handle(build, "left"))[0]) == 0
    lighter = replace(build.cart, empty_mass=build.cart.empty_mass.__class__("10 kg"))
    assert searched(build, with_cart(build, lighter)) == 0


def test_edges_are(build):
    assert searched(build, with_cart(build, move_edge(build.cart, 1, 0.1, 0.0))) > 0
