"""The way of the power: from each supply through wires, strips and boxes to the loads.

The power graph of a build may be anything that can be drawn. What is made of
it here is a forest: every receptacle and plug belongs to the supply that
reaches it first, and a ring of wires is cut where it closes. The rings and
joined supplies themselves are reported by the network stage.
"""

import math
from collections import deque
from dataclasses import dataclass

from ..build import (
    Battery,
    Box,
    Build,
    Extension,
    Generator,
    Item,
    Load,
    Outlet,
    Port,
    Strip,
    Wire,
)
from ..limits import Profile, power_connector, resistance_ohm_per_m
from ..network.results import Network, Node
from .circuits import (
    CircuitDraft,
    battery_circuit,
    box_circuits,
    branch_legs,
    generator_circuits,
    gives_power,
    letter,
    receptacles_of,
    set_legs,
    venue_circuits,
)
from .loads import LoadModel, a_third, load_model
from .parts import Draw, Segment
from .placed import Here, Meter, PlacedLoad, PlacedWire, PowerTree
from .running import Runnings, at_most
from .systems import ConductorSet

_ROOT_3 = math.sqrt(3)
_ALWAYS_SUMMED = ("circuit", "supply", "main")
"""Meters whose sums are told for every case, not only with everything on."""


@dataclass(frozen=True, slots=True)
class _Part:
    """A load, or a third of one, and what it hangs between."""

    part: int
    parts: int
    line: float
    across: float
    model: LoadModel
    between: tuple[int, int]


def third_pairs(here: Here, connector_key: str) -> tuple[bool, tuple[tuple[int, int], ...]]:
    """Whether a three-phase load is a star, and the conductors that each of its thirds is between.

    A connector with a neutral makes a star; without one the thirds hang between the legs.
    """
    connector = power_connector(connector_key)
    star = connector is None or not connector.poles or "N" in connector.poles
    one, two, three = here.legs[:3]
    neutral = here.source.neutral
    if star:
        return True, ((one, neutral), (two, neutral), (three, neutral))
    return False, ((one, two), (two, three), (three, one))


def make_tree(
    build: Build, network: Network, profile: Profile, running: Runnings | None = None
) -> PowerTree:
    """Walk a build's power graph from its supplies to its loads."""
    walk = _Walk(build, network, running or {})
    walk.venue(profile)
    for item in build.items:
        walk.own_supply(item)
    walk.run()
    walk.finish()
    return walk.tree


class _Walk:
    """One walk; consumed by `make_tree`."""

    def __init__(self, build: Build, network: Network, running: Runnings) -> None:
        self.build = build
        self.running = running
        self.network = network
        self.items = {item.id: item for item in build.items}
        self.tree = PowerTree(self.items)
        self.ports = {
            (item.id, port.id): (item, port)
            for item in build.items
            for port in reversed(item.specification.ports)
            if port.medium == "power"
        }
        self.drafts: dict[str, CircuitDraft] = {}
        self.reached: set[str] = set()
        self.queue: deque[tuple[Node, Here]] = deque()
        for item in build.items:
            role = item.specification.electrical
            drafts: list[CircuitDraft] = []
            if isinstance(role, Box):
                drafts = box_circuits(item, role)
            elif isinstance(role, Generator):
                drafts = generator_circuits(item, role)
            elif isinstance(role, Battery):
                drafts = [battery_circuit(item, role)]
            for draft in drafts:
                self.drafts.setdefault(draft.key, draft)

    # --- supplies ----------------------------------------------------------------------------

    def venue(self, profile: Profile) -> None:
        for circuit in venue_circuits(self.build, profile):
            draft = circuit.draft
            self.drafts[draft.key] = draft
            assert draft.source is not None
            root = self._segment(-1, draft.source, 0.0)
            draft.meter = self._meter("circuit", draft.key, -1, draft.source, draft.legs)
            self._outlets(circuit.outlets, draft, root)

    def _outlets(self, outlets: list[Item], draft: CircuitDraft, root: int) -> None:
        """Hang a circuit's outlets on its run from the panel, the nearest first.

        Outlets of one circuit hang on one run of wire, so what the far one
        draws passes the near one.
        """
        at_m, segment = 0.0, root
        for item in sorted(outlets, key=_run_length_m):
            role = item.specification.electrical
            assert isinstance(role, Outlet)
            assert draft.source is not None
            here = root
            if role.run_length is not None:
                ohm = 0.0
                if role.run_size is not None:
                    each = resistance_ohm_per_m(role.run_size, wiring="fixed")
                    ohm = (role.run_length.si - at_m) * each
                at_m = role.run_length.si
                here = segment = self._segment(segment, draft.source, ohm)
            self.reached.add(item.id)
            meter = self._meter("outlet", item.id, draft.meter, draft.source, draft.legs)
            start = Here(here, meter, draft.source, draft.legs, draft.key, ())
            self._offer(receptacles_of(item), start)

    def own_supply(self, item: Item) -> None:
        role = item.specification.electrical
        if not isinstance(role, (Generator, Battery)):
            return
        drafts = [draft for draft in self.drafts.values() if draft.items == (item.id,)]
        source = next((draft.source for draft in drafts if draft.source is not None), None)
        if source is None:
            return
        self.reached.add(item.id)
        root = self._segment(-1, source, 0.0)
        supply = self._meter("supply", item.id, -1, source, source.legs)
        for draft in drafts:
            if draft.source is None:
                continue  # dead while the generator gives everything on one leg
            draft.meter = self._meter("circuit", draft.key, supply, source, draft.legs)
            start = Here(root, draft.meter, source, draft.legs, draft.key, ())
            self._offer(draft.receptacles, start)

    # --- the walk ----------------------------------------------------------------------------

    def run(self) -> None:
        while self.queue:
            receptacle, here = self.queue.popleft()
            self._follow(receptacle, here)

    def _offer(self, receptacles: tuple[Node, ...], here: Here) -> None:
        for node in receptacles:
            self.tree.offered.setdefault(node, here)
            self.queue.append((node, here))

    def _follow(self, receptacle: Node, here: Here) -> None:
        """Go along every wire that is plugged into a receptacle."""
        neighbours = self.network.power.adj.get(receptacle)
        if not neighbours:
            return
        given = self.ports.get(receptacle)
        if given is None:
            return
        here = narrowed(here, given[1])
        meter = -1
        for plug, edges in neighbours.items():
            for data in edges.values():
                wire = data.get("run")
                taken = self.ports.get(plug)
                if not isinstance(wire, Wire) or taken is None or gives_power(taken[1]):
                    continue
                charges = isinstance(taken[0].specification.electrical, Battery)
                if taken[0].id in self.reached and not charges:
                    continue
                if meter < 0:
                    meter = self._meter(
                        "receptacle", receptacle[0], here.meter, here.source, here.legs, receptacle
                    )
                self._arrive(wire, taken, given, here.past(meter))

    def _arrive(
        self, wire: Wire, plug: tuple[Item, Port], receptacle: tuple[Item, Port], here: Here
    ) -> None:
        item, port = plug
        self.reached.add(item.id)
        here = narrowed(here, port)
        cord = wire.cord or port.cord
        route = self.network.routes.get(wire.id)
        length_m = cord.length.si if cord else route.length_m if route else 0.0
        ohm = resistance_ohm_per_m(cord.size) * length_m if cord else 0.0
        segment = self._segment(here.segment, here.source, ohm)
        meter = self._meter("wire", wire.id, here.meter, here.source, here.legs)
        self.tree.wires.append(
            PlacedWire(
                wire,
                meter,
                segment,
                here.source,
                here.legs,
                cord,
                length_m,
                ohm,
                here.circuit,
                plug,
                receptacle,
            )
        )
        role = item.specification.electrical
        if isinstance(role, Battery):  # it charges, by how much nobody says; it passes nothing on
            return
        self.tree.item_circuit[item.id] = here.circuit
        self.tree.fed_from[item.id] = receptacle[0].id
        beyond = Here(segment, meter, here.source, here.legs, here.circuit, here.through)
        if isinstance(role, Load):
            self._load(item, role, port, wire.id, (receptacle[0].id, receptacle[1].id), beyond)
        elif isinstance(role, (Strip, Extension)):
            kind = "strip" if isinstance(role, Strip) else "extension"
            inside = self._inside(beyond, item, kind)
            self._offer(receptacles_of(item), inside)
        elif isinstance(role, Box):
            self._box(item, role, self._inside(beyond, item, "main"))

    def _inside(self, here: Here, item: Item, kind: str) -> Here:
        meter = self._meter(kind, item.id, here.meter, here.source, here.legs)
        return Here(
            here.segment, meter, here.source, here.legs, here.circuit, (*here.through, item.id)
        )

    def _box(self, item: Item, box: Box, here: Here) -> None:
        for branch in box.branches:
            draft = self.drafts[f"{item.id}/{branch.name}"]
            if draft.meter >= 0:  # two branches of one name
                continue
            draft.source = here.source
            set_legs(draft, here.source, branch_legs(branch, here.legs))
            draft.parent = here.circuit
            draft.meter = self._meter("circuit", draft.key, here.meter, here.source, draft.legs)
            start = Here(
                here.segment, draft.meter, here.source, draft.legs, draft.key, here.through
            )
            self._offer(draft.receptacles, start)

    def _load(
        self, item: Item, load: Load, plug: Port, wire: str, receptacle: Node, here: Here
    ) -> None:
        if load.phases == 3 and len(here.legs) > 2:
            star, pairs = third_pairs(here, plug.connector)
            third = a_third(load, to_neutral=star)
            for part, (p, q) in enumerate(pairs):
                line, across = (1.0, _ROOT_3) if star else (_ROOT_3, 1.0)
                thirds = _Part(part, 3, line, across, load_model(third), (p, q))
                self._place(item, load, plug, wire, receptacle, here, thirds)
            return
        p, q = connection(here.source, here.legs, plug.connector, load.voltage.si)
        model = at_most(load, load_model(load), self.running.get(item.id))
        whole = _Part(0, 1, 1.0, 1.0, model, (p, q))
        self._place(item, load, plug, wire, receptacle, here, whole)

    def _place(
        self,
        item: Item,
        load: Load,
        plug: Port,
        wire: str,
        receptacle: Node,
        here: Here,
        one: "_Part",
    ) -> None:
        chain = self.tree.chain(here.meter)
        p, q = one.between
        for passed in chain:
            self.tree.loads_behind.setdefault(passed, []).append(len(self.tree.loads))
        self.tree.loads.append(
            PlacedLoad(
                item,
                load,
                one.model,
                Draw(here.segment, p, q, one.model),
                here.source,
                here.source.between(p, q),
                chain,
                tuple(meter for meter in chain if self.tree.meters[meter].kind in _ALWAYS_SUMMED),
                here.circuit,
                plug,
                wire,
                receptacle,
                here.through,
                one.part,
                one.parts,
                one.line,
                one.across,
            )
        )

    def finish(self) -> None:
        """Collect what no power reaches, and put the circuits in the order of the build."""
        for item in self.build.items:
            role = item.specification.electrical
            if isinstance(role, Load) and item.id not in self.reached:
                self.tree.dark.append((item, role))
        order = {item.id: index for index, item in enumerate(self.build.items)}
        drafts = sorted(self.drafts.values(), key=lambda draft: order[draft.items[0]])
        for index, draft in enumerate(drafts):
            draft.letter = letter(index)
        self.tree.circuits = drafts

    # --- small parts -------------------------------------------------------------------------

    def _segment(self, parent: int, source: ConductorSet, ohm: float) -> int:
        self.tree.segments.append(Segment(parent, source.volts, complex(max(ohm, 0.0))))
        return len(self.tree.segments) - 1

    def _meter(
        self,
        kind: str,
        key: str,
        parent: int,
        source: ConductorSet,
        legs: tuple[int, ...],
        node: Node | None = None,
    ) -> int:
        self.tree.meters.append(Meter(kind, key, parent, source, legs, node))
        return len(self.tree.meters) - 1


def narrowed(here: Here, port: Port) -> Here:
    """Keep only the legs that a connector has contacts for."""
    connector = power_connector(port.connector)
    if connector is None or len(here.legs) < 2:
        return here
    live = sum(1 for pole in connector.poles if pole.startswith("L"))
    if live == 0 or live >= len(here.legs):
        return here
    return Here(here.segment, here.meter, here.source, here.legs[:live], here.circuit, here.through)


def connection(
    source: ConductorSet, legs: tuple[int, ...], connector_key: str, rated_v: float
) -> tuple[int, int]:
    """Which two conductors a load hangs on.

    With two legs and a neutral at hand it is the pair whose voltage is nearer
    to the load's own; a connector without a neutral leaves only the legs.
    """
    neutral = source.neutral
    if not legs:
        return neutral, neutral
    if len(legs) == 1:
        return legs[0], neutral
    connector = power_connector(connector_key)
    if connector is not None and connector.poles and "N" not in connector.poles:
        return legs[0], legs[1]
    across = abs(source.between(legs[0], legs[1]))
    single = abs(source.volts[legs[0]])
    return (legs[0], legs[1]) if rated_v**2 > across * single else (legs[0], neutral)


def _run_length_m(item: Item) -> float:
    role = item.specification.electrical
    return role.run_length.si if isinstance(role, Outlet) and role.run_length else 0.0
