"""Supply water and drains as one-line diagrams."""

import math
from collections import deque
from collections.abc import Iterator
from dataclasses import replace

import networkx as nx

from ...analysis import Analysis
from ...build import Appliance, Item, Mains, Tank, TubeRun
from ...network.results import Node
from ...units import UnitSystem, show
from ...water.drain_results import DrainState
from ...water.results import ALL_OPEN
from .model import Diagram, Link, Part, Words
from .water_words import WaterWords

_STILL = 1e-9
"""Less than this flows nowhere, m3/s."""


def supply_diagram(analysis: Analysis, system: UnitSystem) -> Diagram:
    """From tanks and mains to every inlet that a tube leads to; what flows is everything open."""
    return _Supply(analysis, system).make()


def drain_diagram(analysis: Analysis, system: UnitSystem) -> Diagram:
    """From every drain outlet to the tank or the drain that it ends in."""
    return _Drains(analysis, system).make()


def water_asides(analysis: Analysis) -> tuple[str, ...]:
    """What is not in the diagrams, and why."""
    return tuple(_asides(analysis))


def _asides(analysis: Analysis) -> Iterator[str]:
    network = analysis.network
    laid = {key for graph in (network.supply, network.drain) for *_, key in graph.edges(keys=True)}
    joined: set[Node] = set()
    for run in analysis.build.tubes:
        ends = [(end.item, end.port) for end in (run.a, run.b) if end is not None]
        if run.id in laid:
            joined.update(ends)
            continue
        names = [_end_name(analysis, end[0]) for end in ends]
        if len(names) < 2:
            yield f"Tube from {names[0]} ({run.tube.name}): its other end hangs free"
        else:
            both = f"{names[0]} to {names[1]}"
            yield f"Tube {both} ({run.tube.name}): joins nothing that water passes"
    for item in analysis.build.items:
        role = item.specification.water
        if role is None:
            continue
        wet = [port for port in item.specification.ports if port.medium != "power"]
        if wet and not any((item.id, port.id) in joined for port in wet):
            yield f"{item.name}: no tube at it"
            continue
        for port in item.specification.ports:
            if port.medium == "power" or (item.id, port.id) in joined:
                continue
            leads = port.medium == "drain" or isinstance(role, (Tank, Mains))
            if isinstance(role, Appliance) and port.medium == "water":
                yield f"{item.name}, {port.id}: no tube feeds it"
            elif leads and port.direction == "out":
                yield f"{item.name}, {port.id}: no tube leads away from it"


def _end_name(analysis: Analysis, item_id: str) -> str:
    item = analysis.build.item(item_id)
    return item.name if item is not None else f"'{item_id}', which is not in the build"


class _Supply:
    def __init__(self, analysis: Analysis, system: UnitSystem) -> None:
        self.analysis = analysis
        self.system = system
        self.words = WaterWords(analysis, system)
        self.taps = {(tap.item, tap.port): tap for tap in analysis.water.taps}
        self.tubes: list[tuple[Node, Node, TubeRun]] = [
            (*_ends(data["run"]), data["run"])
            for _, _, data in analysis.network.supply.edges(data=True)
            if "run" in data and data["run"].b is not None
        ]
        self.depth = self._depths()

    def make(self) -> Diagram:
        touched: dict[str, list[Node]] = {}
        parts: dict[str, Part] = {}
        for a, b, _ in self.tubes:
            for node in (a, b):
                touched.setdefault(node[0], []).append(node)
        for item in self.analysis.build.items:
            nodes = touched.get(item.id, [])
            for node in nodes:
                tap = self.taps.get(node)
                part = self.words.tap(tap, item) if tap is not None else None
                if part is not None:
                    parts[part.key] = part
            plain = tuple(node for node in nodes if node not in self.taps)
            if plain:
                made = self.words.part(item, plain)
                parts[made.key] = replace(made, bar=made.bar or len(plain) > 3)
        links = tuple(self._link(a, b, run) for a, b, run in self.tubes)
        return Diagram(tuple(parts.values()), links)

    def _key(self, node: Node) -> str:
        return f"{node[0]}.{node[1]}" if node in self.taps else node[0]

    def _link(self, a: Node, b: Node, run: TubeRun) -> Link:
        """Drawn from where the water comes; without any flow from the source's side."""
        case = self.analysis.water.cases.get(ALL_OPEN)
        state = case.runs.get(run.id) if case is not None else None
        flow = state.flow if state is not None else 0.0
        fastest = self.analysis.water.fastest.get(run.id, 0.0)
        if abs(flow) <= _STILL:
            backward = self.depth.get(b, 0) < self.depth.get(a, 0)
        else:
            backward = flow < 0.0
        if backward:
            a, b = b, a
        below = [self.words.bore(run), self.words.length(run)]
        if abs(flow) > _STILL:
            below.append(self.words.flow(abs(flow)))
        elif fastest <= 0.0:
            below.append("nothing runs")
        warm = self.analysis.water.temperatures_k.get(run.id)
        if warm is not None:
            below.append(show(warm, "temperature", self.system))
        return Link(
            run.id,
            self._key(a),
            self._key(b),
            (Words(run.tube.name, 600),),
            _lines(below, self.words.states.get(run.id, "")),
            "water",
            width_pt=1.5,
            flow=1 if abs(flow) > _STILL or fastest > 0.0 else 0,
        )

    def _depths(self) -> dict[Node, int]:
        """How many steps each port is from the nearest tank or mains tap."""
        graph = self.analysis.network.supply
        found: dict[Node, int] = {}
        queue: deque[Node] = deque()
        for item in self.analysis.build.items:
            if isinstance(item.specification.water, (Mains, Tank)):
                for port in item.specification.ports:
                    node = (item.id, port.id)
                    if node in graph and port.direction != "in":
                        found[node] = 0
                        queue.append(node)
        while queue:
            node = queue.popleft()
            for other in graph.adj[node]:
                if other not in found:
                    found[other] = found[node] + 1
                    queue.append(other)
        return found


class _Drains:
    def __init__(self, analysis: Analysis, system: UnitSystem) -> None:
        self.analysis = analysis
        self.system = system
        self.words = WaterWords(analysis, system)
        self.states = {one.run: one for one in analysis.water.drains}
        graph: nx.MultiDiGraph[Node] = analysis.network.drain
        self.tubes = [(a, b, data["run"]) for a, b, data in graph.edges(data=True) if "run" in data]

    def make(self) -> Diagram:
        touched: dict[str, list[Node]] = {}
        for a, b, _ in self.tubes:
            for node in (a, b):
                touched.setdefault(node[0], []).append(node)
        parts = [
            self._part(item, tuple(touched[item.id]))
            for item in self.analysis.build.items
            if item.id in touched
        ]
        return Diagram(tuple(parts), tuple(self._link(*one) for one in self.tubes))

    def _part(self, item: Item, nodes: tuple[Node, ...]) -> Part:
        if isinstance(item.specification.water, Appliance):
            lines = (item.name, f"outlet {self.words.height(*nodes)}")
            words = tuple(Words(line, 400 if at else 600) for at, line in enumerate(lines) if line)
            return Part(item.id, "load", words, self.words.states.get(item.id, ""))
        return self.words.part(item, nodes)

    def _link(self, a: Node, b: Node, run: TubeRun) -> Link:
        state = self.states.get(run.id)
        below = [self.words.length(run), *(self._falls(state) if state is not None else ())]
        return Link(
            run.id,
            a[0],
            b[0],
            (Words(run.tube.name, 600),),
            _lines(below, self.words.states.get(run.id, "")),
            "drain",
            dash=(4.0, 1.6),
            width_pt=1.5,
            flow=1,
        )

    def _falls(self, state: DrainState) -> Iterator[str]:
        if state.pumped:
            yield "pumped"
            return
        falls = show(abs(state.fall_m), "length", self.system)
        slope = state.slope
        share = f", {show(slope, 'percent', self.system)}" if math.isfinite(slope) else ""
        yield f"{'falls' if state.fall_m >= 0.0 else 'climbs'} {falls}{share}"
        _, arriving = state.greatest
        if arriving > _STILL:
            yield f"{self.words.flow(arriving)} comes"


def _lines(texts: list[str], state: str) -> tuple[Words, ...]:
    if not state:
        return tuple(Words(text) for text in texts)
    return tuple(Words(text, 600, state) for text in texts)


def _ends(run: TubeRun) -> tuple[Node, Node]:
    assert run.b is not None
    return (run.a.item, run.a.port), (run.b.item, run.b.port)
