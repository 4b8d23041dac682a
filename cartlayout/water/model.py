"""From Build and supply graph to one hydraulic network, with the way back to items and runs."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ..build import (
    Accumulator,
    Appliance,
    Build,
    CheckValve,
    Filter,
    Fitting,
    Gauge,
    Heater,
    Inlet,
    Item,
    Mains,
    Port,
    Pump,
    Regulator,
    ShutOff,
    Tank,
    TubeRun,
)
from ..network.results import Network, Node
from . import parts
from .heating import Warmth, Ways, warmth
from .hydraulics import Characteristic, Key, Sketch, System
from .properties import Fluid, water
from .results import Trouble

_MEETING = (Accumulator, Fitting, Gauge)


@dataclass(frozen=True, slots=True)
class TapPlace:
    """A tap of the build: where it hangs and what its maker asks."""

    node: Node
    item: Item
    inlet: Inlet
    name: str
    """Of its item; unique among the taps once the whole build is known."""
    assumed: str
    outlet_pa: float


@dataclass(frozen=True, slots=True)
class PumpPlace:
    """A demand pump of the build; its key in the sketch is its item's id."""

    item: Item
    role: Pump
    inlet: Node
    outlet: Node


@dataclass(frozen=True, slots=True)
class PassedPlace:
    """A heater, a filter or a regulator of the build."""

    item: Item
    role: Heater | Filter | Regulator
    key: Key
    """In the sketch."""
    inlet: Node
    outlet: Node
    taps: tuple[Node, ...]
    """That get water by no other way; not asked for behind a regulator."""


@dataclass(frozen=True, slots=True)
class MainsRange:
    """Node of known pressure of a mains tap, and between what its pressure lies."""

    key: Key
    least_pa: float
    greatest_pa: float


@dataclass(slots=True)
class Model:
    """The supply side, ready to be solved for any case."""

    fluid: Fluid
    sketch: Sketch
    taps: list[TapPlace] = field(default_factory=list)
    pumps: list[PumpPlace] = field(default_factory=list)
    mains: list[MainsRange] = field(default_factory=list)
    sources: dict[str, list[Key]] = field(default_factory=dict)
    """Item id of each tank and mains tap to its nodes of known pressure."""
    links: dict[Key, tuple[str, str]] = field(default_factory=dict)
    """Key in the sketch to ("run" or "item", id)."""
    troubles: list[Trouble] = field(default_factory=list)
    temperature_k: float = 293.15
    """Of the water as it comes."""
    temperatures_k: dict[str, float] = field(default_factory=dict)
    """Id of each tube behind a heater to the temperature of its water."""
    warm_nodes_k: dict[Node, float] = field(default_factory=dict)
    """Ports behind a heater to the temperature of their water."""
    mixes: bool = False
    """Whether heated water meets water that came round its heater."""
    passed: list[PassedPlace] = field(default_factory=list)
    """Heaters, filters and regulators."""
    system: System = field(init=False)

    def finish(self) -> "Model":
        """Make the sketch solvable."""
        self.system = System(self.sketch)
        return self


class _Maker:
    def __init__(self, build: Build, network: Network, items: Sequence[Item]) -> None:
        self.items = items
        self.network = network
        self.altitude_m = build.venue.altitude_m
        fluid = water(build.venue.water_temperature.si, self.altitude_m)
        self.model = Model(fluid, Sketch(fluid), temperature_k=build.venue.water_temperature.si)
        self.ports: dict[Node, Port] = {
            (item.id, port.id): port
            for item in items
            for port in item.specification.ports
            if port.medium == "water"
        }
        self.ways: Ways | None = None
        self.foot_valves = {
            (item.id, port.id)
            for item in items
            if isinstance(item.specification.water, Tank) and item.specification.water.foot_valve
            for port in item.specification.ports
            if port.medium == "water" and port.direction != "in"
        }

    def make(self) -> Model:
        heights = self.network.heights_m
        sketch = self.model.sketch
        nodes = [*self.ports, *((item.id, "*") for item in self.items)]
        edges = list(self.network.supply.edges(nodes, keys=True, data=True))
        warm = self._warmth(edges)
        for node in self.ports:
            sketch.node(node, self._height_m(node, heights.get(node, 0.0), warm))
        for item in self.items:
            role = item.specification.water
            if isinstance(role, _MEETING):
                self._meet(item, role)
        for a, b, key, data in edges:
            if "run" in data:
                self._tube(data["run"])
            elif not isinstance(data["item"].specification.water, _MEETING):
                self._inline(data["item"], key, a, b)
        for item in self.items:
            self._end(item)
        return self.model.finish()

    def _warmth(self, edges: list[tuple[Node, Node, str, dict[str, Any]]]) -> Warmth:
        """What is behind heaters; and the ways of the water, where somebody asks for them."""
        if not any(isinstance(one.specification.water, (Heater, Filter)) for one in self.items):
            return Warmth()
        self.ways = Ways(((a, b, data) for a, b, _, data in edges), self.items, self.ports)
        tubes = ((key, a, b) for a, b, key, data in edges if "run" in data)
        found = warmth(self.ways, self.items, tubes, self.network.heights_m)
        self.model.temperatures_k = found.tubes_k
        self.model.warm_nodes_k = found.nodes_k
        self.model.mixes = found.mixes
        return found

    def _height_m(self, node: Node, height_m: float, warm: Warmth) -> float:
        """Height at which cold water would weigh on a port as what stands there does.

        Warm water is lighter: behind a heater a climb counts for less than it measures.
        """
        temperature_k = warm.nodes_k.get(node)
        if temperature_k is None:
            return height_m
        from_m = warm.from_m[node]
        lighter = self._fluid(temperature_k).density_kg_m3 / self.model.fluid.density_kg_m3
        return from_m + (height_m - from_m) * lighter

    def _fluid(self, temperature_k: float | None) -> Fluid:
        """Water of another temperature under the same sky; as it comes where none is given."""
        if temperature_k is None:
            return self.model.fluid
        return water(temperature_k, self.altitude_m)

    def _nodes(self, item: Item) -> list[Node]:
        return [(item.id, port.id) for port in item.specification.ports if port.medium == "water"]

    def _meet(self, item: Item, role: Accumulator | Fitting | Gauge) -> None:
        nodes = self._nodes(item)
        if not nodes:
            return
        sketch = self.model.sketch
        losses = {one.port: one.at for one in role.losses} if isinstance(role, Fitting) else {}
        middle: Node = (item.id, "*")
        sketch.node(middle, sketch.heights_m[nodes[0]])
        for node in nodes:
            point = losses.get(node[1])
            if point is None:
                sketch.join(middle, node)
            else:
                self._line(f"{item.id}/{node[1]}", node, middle, parts.port_loss(point), item.id)

    def _line(self, key: Key, a: Key, b: Key, characteristic: Characteristic, item_id: str) -> None:
        self.model.sketch.line(key, a, b, characteristic)
        self.model.links[key] = ("item", item_id)

    def _tube(self, run: TubeRun) -> None:
        if run.b is None:
            return
        a, b = (run.a.item, run.a.port), (run.b.item, run.b.port)
        route = self.network.routes.get(run.id)
        length_m = parts.laid_length_m(run, route.length_m if route is not None else 0.0)
        characteristic = parts.tube(
            self._fluid(self.model.temperatures_k.get(run.id)),
            run,
            length_m,
            (self.ports.get(a), self.ports.get(b)),
            1 if a in self.foot_valves else -1 if b in self.foot_valves else 0,
        )
        if characteristic is None:
            self._trouble("no bore", (a[0], b[0]), (run.id,), "its bore is given as nothing")
            return
        self.model.sketch.line(run.id, a, b, characteristic)
        self.model.links[run.id] = ("run", run.id)

    def _inline(self, item: Item, key: str, a: Node, b: Node) -> None:
        role = item.specification.water
        if self._is_outlet(item, a, b):
            a, b = b, a
        model = self.model
        if isinstance(role, Pump):
            limiter = parts.pump(role)
            if limiter is None:
                self._trouble("no curve", (item.id,), (), "no row of its table gives any water")
                return
            model.sketch.limiter(item.id, a, b, limiter)
            model.links[item.id] = ("item", item.id)
            model.pumps.append(PumpPlace(item, role, a, b))
        elif isinstance(role, Regulator):
            model.sketch.limiter(item.id, a, b, parts.regulator(role))
            model.links[item.id] = ("item", item.id)
            self._passed(item, role, item.id, a, b)
        elif isinstance(role, Filter):
            self._line(key, a, b, parts.water_filter(role), item.id)
            self._passed(item, role, key, a, b)
        elif isinstance(role, Heater):
            self._line(key, a, b, parts.heater(role), item.id)
            self._passed(item, role, key, a, b)
        elif isinstance(role, CheckValve):
            self._line(key, a, b, parts.one_way(role), item.id)
        elif isinstance(role, ShutOff):
            bore_m = parts.passage_m((self.ports[a], self.ports[b]))
            valve = parts.hand_valve(role, bore_m, model.fluid)
            if valve is not None:
                self._line(key, a, b, valve, item.id)

    def _passed(
        self, item: Item, role: Heater | Filter | Regulator, key: Key, inlet: Node, outlet: Node
    ) -> None:
        behind: set[Node] = set()
        if self.ways is not None and not isinstance(role, Regulator):
            behind = self.ways.only_through(item, outlet)
        taps = tuple(
            (one.id, tap.port)
            for one in self.items
            if isinstance(one.specification.water, Appliance)
            for tap in one.specification.water.inlets
            if (one.id, tap.port) in behind
        )
        self.model.passed.append(PassedPlace(item, role, key, inlet, outlet, taps))

    def _is_outlet(self, item: Item, a: Node, b: Node) -> bool:
        """Whether the first of two ports is where water leaves."""
        first, second = self.ports[a].direction, self.ports[b].direction
        if first != second:
            return first == "out" or second == "in"
        order = [port.id for port in item.specification.ports]
        return order.index(a[1]) > order.index(b[1])

    def _end(self, item: Item) -> None:
        role = item.specification.water
        if isinstance(role, Tank) and role.contents == "fresh":
            self._tank(item, role)
        elif isinstance(role, Mains):
            self._mains(item, role)
        elif isinstance(role, Appliance):
            for inlet in role.inlets:
                node = (item.id, inlet.port)
                if node in self.ports:
                    part = parts.tap(inlet)
                    self.model.sketch.tap(node, node, part.characteristic, part.outlet_pa)
                    self.model.taps.append(
                        TapPlace(node, item, inlet, item.name, part.assumed, part.outlet_pa)
                    )

    def _gives(self, item: Item) -> list[Node]:
        """Ports that water can leave by."""
        return [node for node in self._nodes(item) if self.ports[node].direction != "in"]

    def _tank(self, item: Item, role: Tank) -> None:
        """A vented vessel: each outlet sees the water standing in it, less its own height."""
        level_m = item.specification.size.height.si * min(max(item.fill, 0.0), 1.0)
        nodes = self._gives(item)
        if not nodes:
            return
        if level_m <= role.pick_up.si or level_m <= 0.0:
            self._trouble("empty", (item.id,), (), "its water stands below what can be drawn")
            return
        sketch, fluid = self.model.sketch, self.model.fluid
        for node in nodes:
            port_m = self.ports[node].z.si
            sketch.fix(node, sketch.heights_m[node], fluid.head_pa(level_m - port_m))
        self.model.sources[item.id] = [*nodes]

    def _mains(self, item: Item, role: Mains) -> None:
        usual = role.usual.si
        least = min(usual, role.least.si if role.least is not None else usual)
        greatest = max(usual, role.greatest.si if role.greatest is not None else usual)
        nodes = self._gives(item)
        sketch = self.model.sketch
        service = parts.mains(role)
        keys: list[Key] = []
        for node in nodes:
            key: Key = node
            if service is not None:
                key = (item.id, node[1], "service")
                self._line(f"{item.id}/{node[1]}", key, node, service, item.id)
            sketch.fix(key, sketch.heights_m[node], usual)
            keys.append(key)
            self.model.mains.append(MainsRange(key, least, greatest))
        if nodes:
            self.model.sources[item.id] = [*dict.fromkeys(keys)]

    def _trouble(
        self, code: str, items: tuple[str, ...], runs: tuple[str, ...], detail: str
    ) -> None:
        self.model.troubles.append(Trouble(code, items, runs, detail))


def make_model(build: Build, network: Network, items: Sequence[Item]) -> Model:
    """The hydraulic network of some items of a build. Never raises on a build that loads.

    Args:
        build: says how warm the water is, and how high above the sea the venue.
        network: of the whole build.
        items: all that supply tubes join with any of them is among them.
    """
    return _Maker(build, network, items).make()
