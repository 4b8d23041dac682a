"""The way of waste water through the drain graph: who lets it in, and how much."""

from collections.abc import Mapping

from ..build import Appliance, Basin, Build, DrainPump, Item
from ..network.results import Network, Node

Flows = dict[str, float]
Arriving = Mapping[str, Mapping[Node, float]]


class DrainWays:
    """Follows drains against the water, every port once."""

    def __init__(self, build: Build, network: Network, arriving: Arriving) -> None:
        self.items: dict[str, Item] = {item.id: item for item in build.items}
        self.graph = network.drain
        self.moved: dict[str, float] = {}
        """Id of each drain pump to what it moves while it runs [m3/s], once that is known."""
        self._own = self._let_in(arriving)
        self._cases = tuple(arriving)
        self._flows: dict[Node, Flows] = {}

    def _let_in(self, arriving: Arriving) -> dict[str, Flows]:
        """Item id to what it lets down its drain, by case. Melting ice is no flow."""
        let_in: dict[str, Flows] = {}
        for case, inlets in arriving.items():
            for (item_id, _), flow in inlets.items():
                item = self.items.get(item_id)
                role = item.specification.water if item is not None else None
                if isinstance(role, Appliance) and role.drained_share > 0.0 and flow > 0.0:
                    flows = let_in.setdefault(item_id, {})
                    flows[case] = flows.get(case, 0.0) + flow * min(role.drained_share, 1.0)
        return let_in

    def flows(self, node: Node) -> Flows:
        """What comes by a port, by case [m3/s]; an appliance's outlets each take it all."""
        known = self._flows.get(node)
        if known is not None:
            return known
        self._flows[node] = {}  # a ring of drains brings nothing of its own
        total = dict(self._own.get(node[0], {})) if self._is_outlet(node) else {}
        for before, _, item in self.graph.in_edges(node, data="item"):
            came = self.flows(before)
            if item is not None and isinstance(item.specification.water, DrainPump):
                came = {case: self.moved.get(item.id, 0.0) for case, flow in came.items() if flow}
                for case, flow in came.items():
                    total[case] = max(total.get(case, 0.0), flow)
                continue
            for case, flow in came.items():
                total[case] = total.get(case, 0.0) + flow
        self._flows[node] = total
        return total

    def _is_outlet(self, node: Node) -> bool:
        item = self.items.get(node[0])
        port = item.specification.port(node[1]) if item is not None else None
        return port is not None and port.direction != "in"

    def _before(self, node: Node, *, past_pumps: bool) -> list[Node]:
        """A port and every port that water comes to it from, the nearest first."""
        seen, order = {node}, [node]
        for at in order:
            for before, _, item in self.graph.in_edges(at, data="item"):
                pump = item is not None and isinstance(item.specification.water, DrainPump)
                if before not in seen and (past_pumps or not pump):
                    seen.add(before)
                    order.append(before)
        return order

    def serves(self, node: Node) -> tuple[str, ...]:
        """Ids of the appliances and basins that let water in before a port."""
        found = dict.fromkeys(
            before[0] for before in self._before(node, past_pumps=True) if self._lets_in(before[0])
        )
        return tuple(found)

    def _lets_in(self, item_id: str) -> bool:
        """Whether waste water begins here: not in a basin that only gathers drains."""
        item = self.items.get(item_id)
        if item is None or not isinstance(item.specification.water, (Appliance, Basin)):
            return False
        gathers = any(
            port.medium == "drain" and port.direction == "in" for port in item.specification.ports
        )
        return not (gathers and isinstance(item.specification.water, Basin))

    def outlets_before(self, node: Node) -> list[Node]:
        """Outlets of appliances and basins that run into a port by themselves."""
        return [
            before
            for before in self._before(node, past_pumps=False)
            if self._is_outlet(before)
            and isinstance(self.items[before[0]].specification.water, (Appliance, Basin))
        ]

    def pumped(self, node: Node) -> bool:
        """Whether a port is where a drain pump pushes out."""
        item = self.items.get(node[0])
        return item is not None and isinstance(item.specification.water, DrainPump)


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
