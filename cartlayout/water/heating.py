"""Where the water is warm: everything that can be reached from a source only through a heater.

Water that has not been heated is followed from every tank and mains tap, the way that pumps and
check valves let it, and never through a heater. What it does not reach, and water from a heater's
outlet does, is warm. A tube that both reach is fed with both: what runs in it weighs and flows as
water that comes, and how warm the mix is goes by the flows of each case (`mixing`).
"""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from ..build import CheckValve, Filter, Heater, Item, Mains, Port, Pump, Regulator, Tank
from ..network.results import Node

_ONE_WAY = (Pump, CheckValve, Regulator, Filter, Heater)
"""Through which water is followed from inlet to outlet only."""


@dataclass(slots=True)
class Warmth:
    """Temperatures behind heaters."""

    nodes_k: dict[Node, float] = field(default_factory=dict)
    """Of ports that only heated water reaches."""
    tubes_k: dict[str, float] = field(default_factory=dict)
    """Id of each tube between two of them."""
    from_m: dict[Node, float] = field(default_factory=dict)
    """Height [m] of the heater's outlet that such a port is fed from."""
    mixes: bool = False
    """Whether heated water meets water that came round the heater."""


class Ways:
    """Where water can go from each port of some items, kept as plain lists.

    Args:
        edges: of the supply graph, with their data.
        items: all that these edges join.
        ports: of the items.
    """

    def __init__(
        self,
        edges: Iterable[tuple[Node, Node, Mapping[str, object]]],
        items: Iterable[Item],
        ports: Mapping[Node, Port],
    ) -> None:
        self.ports = ports
        self._on: dict[Node, list[tuple[Node, Item | None]]] = {}
        for a, b, data in edges:
            inside = data.get("item")
            item = inside if isinstance(inside, Item) else None
            role = item.specification.water if item is not None else None
            one_way = isinstance(role, _ONE_WAY) and not (
                isinstance(role, CheckValve) and role.stuck_open
            )
            for here, there in ((a, b), (b, a)):
                port = ports.get(here)
                if not one_way or port is None or port.direction != "out":
                    self._on.setdefault(here, []).append((there, item))
        self.sources = [
            node
            for item in items
            if _is_source(item)
            for node in ports_of(item)
            if ports[node].direction != "in"
        ]

    def reached(self, start: Iterable[Node], without: Container[str] = ()) -> set[Node]:
        """All that water gets to from some ports without passing some items, named by id."""
        seen = {node for node in start if node in self._on}
        queue = list(seen)
        while queue:
            for other, item in self._on.get(queue.pop(), ()):
                if other not in seen and (item is None or item.id not in without):
                    seen.add(other)
                    queue.append(other)
        return seen

    def only_through(self, item: Item, outlet: Node) -> set[Node]:
        """Ports that water reaches through an inline item, and by no other way."""
        without = (item.id,)
        return self.reached((outlet,), without) - self.reached(self.sources, without)


def warmth(
    ways: Ways,
    items: Iterable[Item],
    tubes: Iterable[tuple[str, Node, Node]],
    heights: Mapping[Node, float],
) -> Warmth:
    """Find what is warm behind the heaters among some items; nothing where there is none.

    Args:
        ways: of the water.
        items: that may be heaters.
        tubes: id and both ends of every supply tube.
        heights: of ports [m].
    """
    heaters = [item for item in items if isinstance(item.specification.water, Heater)]
    found = Warmth()
    if not heaters:
        return found
    without = {item.id for item in heaters}
    cold = ways.reached(ways.sources, without)
    for item in heaters:
        role = item.specification.water
        outlet = next(
            (node for node in ports_of(item) if ways.ports[node].direction == "out"), None
        )
        if outlet is None or not isinstance(role, Heater):
            continue
        reached = ways.reached((outlet,), without)
        found.mixes = found.mixes or not reached.isdisjoint(cold)
        for node in reached - cold:
            if role.outlet.si > found.nodes_k.get(node, 0.0):
                found.nodes_k[node] = role.outlet.si
                found.from_m[node] = heights.get(outlet, 0.0)
    for run_id, a, b in tubes:
        if a in found.nodes_k and b in found.nodes_k:
            found.tubes_k[run_id] = max(found.nodes_k[a], found.nodes_k[b])
    return found


def ports_of(item: Item) -> Iterator[Node]:
    """Water ports of an item."""
    for port in item.specification.ports:
        if port.medium == "water":
            yield item.id, port.id


def _is_source(item: Item) -> bool:
    role = item.specification.water
    return isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh")
