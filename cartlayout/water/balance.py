"""Waste against fresh: what the rule asks, and what the day will bring."""

from ..build import Appliance, Basin, Build, Drain, Item, Tank
from ..limits import profile
from ..network.results import Network, Node
from .results import WaterBalance

_S_PER_HOUR = 3600.0


def water_balance(build: Build, network: Network) -> WaterBalance | None:
    """Vessels of a build against each other; None where there is no water in it at all."""
    fresh = _volume(build, "fresh")
    waste = _volume(build, "waste")
    if not any(item.specification.water is not None for item in build.items):
        return None
    ratio = profile(build.region).waste_ratio
    service = build.service
    drinks = service.hours.si / _S_PER_HOUR * service.drinks_per_hour
    return WaterBalance(
        fresh=fresh,
        waste=waste,
        waste_needed=fresh * ratio.value,
        ratio=ratio.value,
        source=ratio.citation,
        fresh_per_day=drinks * (service.water_per_drink.si + service.rinse_per_drink.si),
        to_drain=_leaves(build, network),
        waste_per_day=drinks * service.rinse_per_drink.si + service.waste_besides_fresh.si,
    )


def _volume(build: Build, contents: str) -> float:
    return sum(
        item.specification.water.volume.si
        for item in build.items
        if isinstance(item.specification.water, Tank)
        and item.specification.water.contents == contents
    )


def _leaves(build: Build, network: Network) -> bool:
    """Whether everything that is let down a drain tube ends in the venue's drain."""
    items = {item.id: item for item in build.items}
    ends = {
        end[0]
        for item in build.items
        if isinstance(item.specification.water, (Appliance, Basin))
        for outlet in drain_outlets(item)
        for end in drain_ends(network, outlet)
        if end[0] != item.id
    }
    return bool(ends) and all(
        isinstance(items[end].specification.water, Drain) for end in ends if end in items
    )


def drain_outlets(item: Item) -> list[Node]:
    """Ports by which an item lets waste water go."""
    return [
        (item.id, port.id)
        for port in item.specification.ports
        if port.medium == "drain" and port.direction != "in"
    ]


def drain_ends(network: Network, outlet: Node) -> list[Node]:
    """Where the water let out at a port ends up; the port itself where it leads nowhere."""
    graph = network.drain
    if outlet not in graph:
        return []
    seen, queue, ends = {outlet}, [outlet], []
    while queue:
        node = queue.pop()
        onward = list(graph.successors(node))
        if not onward:
            ends.append(node)
        for one in onward:
            if one not in seen:
                seen.add(one)
                queue.append(one)
    return ends
