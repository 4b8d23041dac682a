"""Where the water is warm: everything that can be reached from a source only through a heater.

Water that has not been heated is followed from every tank and mains tap, the way that pumps and
check valves let it, and never through a heater. What it does not reach, and water from a heater's
outlet does, is warm. A tube that both reach is fed with both; it is taken to be as cold as it
comes.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from ..build import CheckValve, Filter, Heater, Item, Mains, Port, Pump, Regulator, Tank, TubeRun
from ..network.results import Network, Node

_ONE_WAY = (Pump, CheckValve, Regulator, Filter, Heater)
"""Through which water is followed from inlet to outlet only."""


@dataclass(frozen=True, slots=True)
class Warmth:
    """Temperatures behind heaters."""

    nodes_k: dict[Node, float] = field(default_factory=dict)
    """Of ports that only heated water reaches."""
    tubes_k: dict[str, float] = field(default_factory=dict)
    """Id of each tube between two of them."""
    from_m: dict[Node, float] = field(default_factory=dict)
    """Height [m] of the heater's outlet that such a port is fed from."""


def warmth(
    network: Network,
    items: Iterable[Item],
    ports: Mapping[Node, Port],
    heights: Mapping[Node, float],
) -> Warmth:
    """Find what is warm among some items of a build; nothing where there is no heater."""
    listed = list(items)
    heaters = [item for item in listed if isinstance(item.specification.water, Heater)]
    if not heaters:
        return Warmth()
    sources = {
        node
        for item in listed
        if _is_source(item)
        for node in _ports_of(item)
        if ports[node].direction != "in"
    }
    cold = follow(network, sources, ports, through_heaters=False)
    found = Warmth()
    for item in heaters:
        role = item.specification.water
        outlet = next((node for node in _ports_of(item) if ports[node].direction == "out"), None)
        if outlet is None or not isinstance(role, Heater) or outlet in cold:
            continue
        for node in follow(network, {outlet}, ports, through_heaters=False) - cold:
            if role.outlet.si > found.nodes_k.get(node, 0.0):
                found.nodes_k[node] = role.outlet.si
                found.from_m[node] = heights.get(outlet, 0.0)
    for a, b, data in network.supply.edges(list(found.nodes_k), data=True):
        run = data.get("run")
        if isinstance(run, TubeRun) and a in found.nodes_k and b in found.nodes_k:
            found.tubes_k[run.id] = max(found.nodes_k[a], found.nodes_k[b])
    return found


def only_through(
    network: Network, item: Item, items: Iterable[Item], ports: Mapping[Node, Port]
) -> set[Node]:
    """Ports that water reaches through an inline item, and by no other way."""
    outlet = next((node for node in _ports_of(item) if ports[node].direction == "out"), None)
    if outlet is None:
        return set()
    sources = {
        node
        for one in items
        if _is_source(one)
        for node in _ports_of(one)
        if ports[node].direction != "in"
    }
    past = follow(network, sources, ports, without=item.id)
    return follow(network, {outlet}, ports, without=item.id) - past


def follow(
    network: Network,
    start: set[Node],
    ports: Mapping[Node, Port],
    *,
    through_heaters: bool = True,
    without: str = "",
) -> set[Node]:
    """All that water can reach from some ports, one-way things taken the right way round."""
    supply = network.supply
    seen = {node for node in start if node in supply}
    queue = list(seen)
    while queue:
        node = queue.pop()
        for other, edges in supply.adj[node].items():
            if other not in seen and any(
                _lets(data, node, ports, through_heaters, without) for data in edges.values()
            ):
                seen.add(other)
                queue.append(other)
    return seen


def _lets(
    data: Mapping[str, object],
    node: Node,
    ports: Mapping[Node, Port],
    through_heaters: bool,
    without: str,
) -> bool:
    """Whether water passes an edge from this end of it."""
    item = data.get("item")
    if not isinstance(item, Item):
        return True
    role = item.specification.water
    if item.id == without or (isinstance(role, Heater) and not through_heaters):
        return False
    port = ports.get(node)
    return not isinstance(role, _ONE_WAY) or port is None or port.direction != "out"


def _is_source(item: Item) -> bool:
    role = item.specification.water
    return isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh")


def _ports_of(item: Item) -> Iterator[Node]:
    for port in item.specification.ports:
        if port.medium == "water":
            yield item.id, port.id
