"""Which port of a new body takes over which run of the old one."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

import networkx as nx
import rustworkx

from ..build import Build, End, Item, Mains, Port, Run, Specification, Tank, TubeRun, Wire
from ..limits import end_fitting, plug_fits, tube_row, tubes_between
from .fit import is_plug
from .graphs import supply_graph
from .places import Places

Side = Literal["in", "out", ""]
_KEPT = 10_000
_OTHER_TUBE = 5_000
_OTHER_CONNECTOR = 1_000
_OTHER_NAME = 200
_MOST_AWAY = 100


@dataclass(frozen=True, slots=True)
class Held:
    """One run at the body that is exchanged."""

    run: Run
    near: End
    """Its end at the body."""
    far: End | None
    port: Port | None
    """Of the old body; None where the run names one that it does not have."""
    far_port: Port | None
    side: Side = ""
    """Of a tube at a port that lets water both ways: where its other end leads."""


def held_runs(build: Build, places: Places, item: Item) -> tuple[Held, ...]:
    """Every run with an end at an item, in the build's order."""
    sides = _Sides(build, places, item.id)
    found = []
    for run in build.runs:
        for near, far in ((run.a, run.b), (run.b, run.a)):
            if near is None or near.item != item.id:
                continue
            node = places.known(far)
            port = item.specification.port(near.port)
            found.append(
                Held(
                    run=run,
                    near=near,
                    far=far,
                    port=port,
                    far_port=places.ports[node] if node is not None else None,
                    side=sides.of(far) if port is not None and port.medium == "water" else "",
                )
            )
            break
    return tuple(found)


class _Sides:
    """Where water comes from: asked only for tubes at ports that let it both ways."""

    def __init__(self, build: Build, places: Places, item_id: str) -> None:
        self._build, self._places, self._item = build, places, item_id
        self._graph: nx.MultiGraph[tuple[str, str]] | None = None

    def of(self, far: End | None) -> Side:
        node = self._places.known(far)
        if node is None:
            return ""
        if self._graph is None:
            graph = supply_graph(self._build, self._places)
            graph.remove_nodes_from([one for one in graph if one[0] == self._item])
            self._graph = graph
        if node not in self._graph:
            return ""
        reached = {one[0] for one in nx.node_connected_component(self._graph, node)}
        return "in" if any(self._gives(one) for one in reached) else "out"

    def _gives(self, item_id: str) -> bool:
        role = self._places.items[item_id].specification.water
        return isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh")


def take_over(held: Iterable[Held], old: Specification, new: Specification) -> dict[str, Port]:
    """Run id to the port of the new body that takes it over; as many as can be, then the likest.

    A matching of greatest cardinality and then greatest weight, so that no run loses its port
    to another that had a choice.
    """
    runs = tuple(held)
    graph: rustworkx.PyGraph[str, int] = rustworkx.PyGraph()
    left = graph.add_nodes_from([one.run.id for one in runs])
    right = graph.add_nodes_from([port.id for port in new.ports])
    for number, one in zip(left, runs, strict=True):
        for port_number, port in zip(right, new.ports, strict=True):
            worth = _worth(one, port, old, new)
            if worth:
                graph.add_edge(number, port_number, worth)
    pairs = rustworkx.max_weight_matching(graph, max_cardinality=True, weight_fn=_same)
    found = {}
    for one_end, other_end in pairs:
        number, port_number = sorted((one_end, other_end))
        found[runs[number].run.id] = new.ports[port_number - len(runs)]
    return found


def _same(worth: int) -> int:
    return worth


def _worth(held: Held, port: Port, old: Specification, new: Specification) -> int:
    """How gladly a run is put on a port; 0: not at all."""
    if held.port is None or held.port.medium != port.medium:
        return 0
    kept = _wire_worth(held, port) if isinstance(held.run, Wire) else _tube_worth(held, port)
    if not kept:
        return 0
    off = _OTHER_CONNECTOR if port.connector != held.port.connector else 0
    off += _OTHER_NAME if port.id != held.port.id else 0
    return kept - off - round(_away(held.port, port, old, new))


def _wire_worth(held: Held, port: Port) -> int:
    if held.port is None or is_plug(held.port) != is_plug(port):
        return 0
    if held.far_port is None:
        return _KEPT
    plug, receptacle = (port, held.far_port) if is_plug(port) else (held.far_port, port)
    return _KEPT if plug_fits(plug.connector, receptacle.connector) else 0


def _tube_worth(held: Held, port: Port) -> int:
    run = held.run
    if not isinstance(run, TubeRun) or not flows_alike(held, port):
        return 0
    if tube_goes_on(run, port):
        return _KEPT
    other = held.far_port.connector if held.far_port is not None else port.connector
    return _OTHER_TUBE if tubes_between(port.connector, other, port.medium) else 0


def tube_goes_on(run: TubeRun, port: Port) -> bool:
    """Tell whether a tube can be fastened to a port. One that is in no table: its owner knows."""
    return tube_row(run.tube.name) is None or end_fitting(run.tube.name, port.connector) is not None


def flows_alike(held: Held, port: Port) -> bool:
    """Tell whether water would go through a port the way it went through the old one."""
    if held.port is None:
        return False
    if "through" not in (held.port.direction, port.direction):
        return held.port.direction == port.direction
    if port.direction == "through":
        return True
    if held.far_port is not None and held.far_port.direction != "through":
        return held.far_port.direction != port.direction
    return held.side in ("", port.direction)


def _away(one: Port, other: Port, old: Specification, new: Specification) -> float:
    """How far apart two ports are on their bodies, 0 to 100: order first, then place."""
    order = abs(_number(one, old) - _number(other, new))
    place = _share(one, old, new, other)
    return min(_MOST_AWAY, 10.0 * order + 10.0 * place)


def _number(port: Port, specification: Specification) -> int:
    alike = [one.id for one in specification.ports if _like(one, port)]
    return alike.index(port.id) if port.id in alike else 0


def _like(one: Port, other: Port) -> bool:
    return one.medium == other.medium and one.direction == other.direction


def _share(one: Port, old: Specification, new: Specification, other: Port) -> float:
    sides: tuple[tuple[Callable[[Port], float], float, float], ...] = (
        (lambda port: port.x.si, old.size.width.si, new.size.width.si),
        (lambda port: port.y.si, old.size.depth.si, new.size.depth.si),
    )
    return sum(
        abs(place(one) / before - place(other) / after)
        for place, before, after in sides
        if before > 0 and after > 0
    )
