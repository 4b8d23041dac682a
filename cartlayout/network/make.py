"""From a Build to its graphs."""

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
        previous: an earlier network; returned as it is if nothing it read has changed.
    """
    reads = (build.cart, build.items, build.runs)
    if previous is not None and all(
        old is new for old, new in zip(previous.reads, reads, strict=False)
    ):
        return previous
    places = Places.of(build, previous.places if previous is not None else None)
    trails = make_routes(places, build.runs, previous.trails if previous is not None else None)
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
