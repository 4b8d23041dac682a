"""networkx graphs, one a medium: nodes are ports, edges are runs and the insides of items."""

import networkx as nx

from ..build import (
    Accumulator,
    Basin,
    Battery,
    Box,
    Build,
    CheckValve,
    DrainPump,
    Extension,
    Filter,
    Fitting,
    Gauge,
    Generator,
    Heater,
    Item,
    Outlet,
    Pump,
    Regulator,
    ShutOff,
    Strip,
)
from .places import Places
from .results import Node

MIDDLE = "*"
"""Port id of the node in the middle of something whose ports meet."""

_SUPPLIES = (Outlet, Generator, Battery)
_PASS_ON = (Strip, Box, Extension)
_INLINE = (Pump, Filter, Regulator, CheckValve, ShutOff, Heater)
_MEETING = (Fitting, Accumulator, Gauge)


def power_graph(build: Build, places: Places) -> "nx.MultiGraph[Node]":
    """Wires, and the bars inside whatever passes power on."""
    graph: nx.MultiGraph[Node] = nx.MultiGraph()
    for item in build.items:
        power = [node for node, port in places.ports_of(item) if port.medium == "power"]
        graph.add_nodes_from(power)
        electrical = item.specification.electrical
        if isinstance(electrical, _PASS_ON):
            _star(graph, item, power)
        elif isinstance(electrical, _SUPPLIES):
            # A battery's charging plug takes power; it does not meet what the inverter gives.
            gives = [node for node in power if places.ports[node].direction != "in"]
            _star(graph, item, gives)
    for wire in build.wires:
        a, b = places.known(wire.a), places.known(wire.b)
        if a is not None and b is not None and a != b and _media(places, a, b) == {"power"}:
            graph.add_edge(a, b, key=wire.id, run=wire)
    return graph


def supply_graph(build: Build, places: Places) -> "nx.MultiGraph[Node]":
    """Supply tubes, and the insides of pumps, filters, valves and fittings."""
    graph: nx.MultiGraph[Node] = nx.MultiGraph()
    for item in build.items:
        ports = [(node, port) for node, port in places.ports_of(item) if port.medium == "water"]
        nodes = [node for node, _ in ports]
        graph.add_nodes_from(nodes)
        water = item.specification.water
        if isinstance(water, _INLINE):
            inlet = next((node for node, port in ports if port.direction == "in"), None)
            outlet = next((node for node, port in ports if port.direction == "out"), None)
            if inlet is None or outlet is None:  # turned either way: a plain valve
                inlet, outlet = (*nodes, None, None)[:2]
            if inlet is not None and outlet is not None:
                graph.add_edge(inlet, outlet, key=f"{item.id}/in-out", item=item)
        elif isinstance(water, _MEETING):
            _star(graph, item, nodes)
    for tube in build.tubes:
        a, b = places.known(tube.a), places.known(tube.b)
        if a is not None and b is not None and a != b and _media(places, a, b) == {"water"}:
            graph.add_edge(a, b, key=tube.id, run=tube)
    return graph


def drain_graph(build: Build, places: Places) -> "nx.MultiDiGraph[Node]":
    """Drain tubes in the direction the water runs, and drain pumps."""
    graph: nx.MultiDiGraph[Node] = nx.MultiDiGraph()
    for item in build.items:
        ports = [(node, port) for node, port in places.ports_of(item) if port.medium == "drain"]
        graph.add_nodes_from(node for node, _ in ports)
        if isinstance(item.specification.water, (DrainPump, Basin)):
            inlets = [node for node, port in ports if port.direction != "out"]
            outlets = [node for node, port in ports if port.direction == "out"]
            for inlet in inlets:
                for outlet in outlets:
                    graph.add_edge(inlet, outlet, key=f"{item.id}/in-out", item=item)
    for tube in build.tubes:
        a, b = places.known(tube.a), places.known(tube.b)
        if a is None or b is None or a == b or _media(places, a, b) != {"drain"}:
            continue
        if _runs_backwards(places, a, b):
            a, b = b, a
        graph.add_edge(a, b, key=tube.id, run=tube)
    return graph


def _star(graph: "nx.MultiGraph[Node]", item: Item, nodes: list[Node]) -> None:
    for node in nodes:
        graph.add_edge(node, (item.id, MIDDLE), key=f"{item.id}/{node[1]}", item=item, port=node[1])


def _media(places: Places, a: Node, b: Node) -> set[str]:
    return {places.ports[a].medium, places.ports[b].medium}


def _runs_backwards(places: Places, a: Node, b: Node) -> bool:
    """Tell whether the second end is where the water comes from."""
    first, second = places.ports[a].direction, places.ports[b].direction
    if first != second:
        return first == "in" or second == "out"
    return places.positions[a][2] < places.positions[b][2]
