"""What cannot be right in the connections, found before anything is computed."""

from collections import defaultdict
from collections.abc import Iterator

import networkx as nx

from ..build import Battery, Build, Generator, Item, Outlet, Run, TubeRun, Wire
from ..limits import end_fitting, plug_fit_reason, plug_fits, tube_row
from .fit import is_plug
from .places import Places
from .results import Node, Problem

_SUPPLIES = (Outlet, Generator, Battery)


def problems(
    build: Build,
    places: Places,
    power: "nx.MultiGraph[Node]",
    drain: "nx.MultiDiGraph[Node]",
) -> tuple[Problem, ...]:
    """Everything that does not join up."""
    return (
        *_loose(build, places),
        *_pairs(build, places),
        *_shared(build, places),
        *_power_loops(power),
        *_joined_supplies(places, power),
        *_drain_loops(drain),
    )


def _ends(run: Run) -> tuple[Node, ...]:
    return tuple((end.item, end.port) for end in (run.a, run.b) if end is not None)


def _items(nodes: tuple[Node, ...] | list[Node]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(node[0] for node in nodes))


def _loose(build: Build, places: Places) -> Iterator[Problem]:
    """Runs with an end in nothing."""
    for run in build.runs:
        missing = [end for end in (run.a, run.b) if end is not None and places.known(end) is None]
        known = tuple(node for node in _ends(run) if node in places.ports)
        for end in missing:
            yield Problem(
                "end-missing",
                _items(known),
                (run.id,),
                known,
                f"it names the port '{end.port}' of '{end.item}', which is not in the build",
            )
        if run.b is None and not missing:
            yield Problem("free-end", _items(known), (run.id,), known)


def _pairs(build: Build, places: Places) -> Iterator[Problem]:
    """Runs whose two ends do not go together."""
    for run in build.runs:
        a, b = places.known(run.a), places.known(run.b)
        if a is None or b is None:
            continue
        found = _pair(run, places, a, b)
        if found is not None:
            code, detail = found
            yield Problem(code, _items((a, b)), (run.id,), (a, b), detail)


def _pair(run: Run, places: Places, a: Node, b: Node) -> tuple[str, str] | None:
    one, other = places.ports[a], places.ports[b]
    if a[0] == b[0]:
        return "same-item", "both ends are on the same item"
    media = {one.medium, other.medium}
    if len(media) > 1:
        return "mixed-media", f"one end is {one.medium}, the other is {other.medium}"
    if isinstance(run, Wire) != (one.medium == "power"):
        kind = "wire" if isinstance(run, Wire) else "tube"
        return "mixed-media", f"a {kind} between {one.medium} ports"
    if isinstance(run, Wire):
        return _plugged(places, a, b)
    return _piped(run, places, a, b)


def _plugged(places: Places, a: Node, b: Node) -> tuple[str, str] | None:
    one, other = places.ports[a], places.ports[b]
    if is_plug(one) == is_plug(other):
        both = "plugs" if is_plug(one) else "receptacles"
        return "power.ends-alike", f"both ends are {both}"
    plug, receptacle = (one, other) if is_plug(one) else (other, one)
    if not plug_fits(plug.connector, receptacle.connector):
        return "power.misfit", plug_fit_reason(plug.connector, receptacle.connector)
    return None


def _piped(run: TubeRun, places: Places, a: Node, b: Node) -> tuple[str, str] | None:
    one, other = places.ports[a], places.ports[b]
    # A tube of the person's own is in no table: which ends it has, only they know.
    tabled = tube_row(run.tube.name) is not None
    for port in (one, other) if tabled else ():
        if end_fitting(run.tube.name, port.connector) is None:
            return "water.thread", f"{run.tube.name} has no end that fits {port.connector}"
    if one.direction == other.direction and one.direction != "through":
        both = "inlets" if one.direction == "in" else "outlets"
        return f"{one.medium}.ends-alike", f"both ends are {both}"
    return None


def _shared(build: Build, places: Places) -> Iterator[Problem]:
    """Ports that more than one run ends at."""
    at: dict[Node, list[str]] = defaultdict(list)
    for run in build.runs:
        for node in dict.fromkeys(_ends(run)):
            if node in places.ports:
                at[node].append(run.id)
    for node, runs in at.items():
        if len(runs) < 2:
            continue
        port = places.ports[node]
        if port.medium == "power":
            code = "power.plug-twice" if is_plug(port) else "power.receptacle-shared"
        else:
            code = f"{port.medium}.port-shared"
        others = [
            end
            for run in runs
            for end in _ends(_run(build, run))
            if end != node and end in places.ports
        ]
        yield Problem(
            code, _items([node, *others]), tuple(runs), (node, *others), f"{len(runs)} at one port"
        )


def _run(build: Build, run_id: str) -> Run:
    found = build.run(run_id)
    if found is None:  # the id was taken from this build
        raise KeyError(run_id)
    return found


def _power_loops(graph: "nx.MultiGraph[Node]") -> Iterator[Problem]:
    """Rings of wires: power that comes back to where it started."""
    pieces = nx.number_connected_components(graph)
    if graph.number_of_edges() == graph.number_of_nodes() - pieces:
        return  # a forest
    simple = nx.Graph(graph)
    rings = [*nx.cycle_basis(simple)]
    for a, b in simple.edges:
        if graph.number_of_edges(a, b) > 1:
            rings.append([a, b])
    for ring in rings:
        runs = tuple(
            dict.fromkeys(
                data["run"].id
                for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
                for data in (graph.get_edge_data(a, b) or {}).values()
                if "run" in data
            )
        )
        if runs:
            ends = tuple(sorted(node for node in ring if node[1] != "*"))
            yield Problem("power.loop", tuple(sorted(_items(ring))), runs, ends)


def _joined_supplies(places: Places, graph: "nx.MultiGraph[Node]") -> Iterator[Problem]:
    """Two supplies that feed into each other."""
    for piece in nx.connected_components(graph):
        ids = sorted({node[0] for node in piece})
        supplies = [one for one in ids if _is_supply(places.items[one])]
        if len(supplies) < 2:
            continue
        runs = sorted(
            {data["run"].id for _, _, data in graph.edges(piece, data=True) if "run" in data}
        )
        ends = tuple(sorted(node for node in piece if node[0] in supplies and node[1] != "*"))
        yield Problem("power.two-supplies", tuple(supplies), tuple(runs), ends)


def _is_supply(item: Item) -> bool:
    return isinstance(item.specification.electrical, _SUPPLIES)


def _drain_loops(graph: "nx.MultiDiGraph[Node]") -> Iterator[Problem]:
    if nx.is_directed_acyclic_graph(graph):
        return
    for ring in nx.strongly_connected_components(graph):
        if len(ring) < 2:
            continue
        part = graph.subgraph(ring)
        runs = sorted({data["run"].id for _, _, data in part.edges(data=True) if "run" in data})
        yield Problem(
            "drain.loop",
            tuple(sorted({node[0] for node in ring})),
            tuple(runs),
            tuple(sorted(ring)),
        )
