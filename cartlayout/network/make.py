"""From a Build to its graphs."""

from dataclasses import replace

from ..build import Build
from .checks import problems
from .graphs import drain_graph, power_graph, supply_graph
from .places import Places
from .results import Network
from .routes import make_routes


def make_network(build: Build, previous: Network | None = None) -> Network:
    """Make the graphs, routes and connection problems of a build. Never raises.

    Args:
        build: any build that loads.
        previous: an earlier network; returned as it is if nothing it read has changed, and
            its graphs are taken over where things were only moved about. An item in the data
            of a taken-over edge is then the one from before the move.
    """
    reads = (build.cart, build.items, build.runs)
    if previous is not None and all(
        old is new for old, new in zip(previous.reads, reads, strict=False)
    ):
        return previous
    places = Places.of(build, previous.places if previous is not None else None)
    trails = make_routes(places, build.runs, previous.trails if previous is not None else None)
    if previous is not None and _joined_alike(previous, places, build):
        return replace(previous, routes=trails.routes, places=places, trails=trails, reads=reads)
    power = power_graph(build, places)
    drain = drain_graph(build, places)
    return Network(
        power=power,
        supply=supply_graph(build, places),
        drain=drain,
        routes=trails.routes,
        heights_m={node: position[2] for node, position in places.positions.items()},
        problems=problems(build, places, power, drain),
        places=places,
        trails=trails,
        reads=reads,
    )


def _joined_alike(previous: Network, places: Places, build: Build) -> bool:
    """Whether only places on the plan differ: graphs and problems know nothing of them."""
    _, _, runs = previous.reads
    return runs is build.runs and (
        previous.places is not None and places.as_high_as(previous.places)
    )
