"""The power side as a one-line diagram: supply, breaker, outlet, cord, strip or box, appliance."""

from collections import Counter
from collections.abc import Iterable, Iterator

from ...analysis import Analysis
from ...build import Battery, Box, Extension, Generator, Item, Load, Outlet, Strip, Transformer
from ...power.circuits import receptacles_of
from ...power.results import EVERYTHING_ON, Circuit, Limit
from ...units import UnitSystem, show, show_pair
from ..verdict import limit_state
from .feeds import Feed, feeds
from .model import Diagram, Link, Part, Symbol, Words

_VENUE = "venue"


def power_diagram(analysis: Analysis, system: UnitSystem) -> Diagram:
    """Everything that power reaches, with everything on. Lengths and volts in `system`."""
    return _Maker(analysis, system).make()


def power_asides(analysis: Analysis) -> tuple[str, ...]:
    """What is not in the diagram, and why: one line each."""
    return tuple(_asides(analysis))


def _asides(analysis: Analysis) -> Iterator[str]:
    build, power = analysis.build, analysis.power
    known = feeds(analysis)
    drawn = {feed.wire.id for feed in known.values()}
    for item in build.items:
        role = item.specification.electrical
        if isinstance(role, Load):
            state = power.appliances.get(item.id, {}).get(EVERYTHING_ON)
            if state is None or not state.fed:
                yield f"{item.name}: no supply reaches it"
        elif isinstance(role, (Strip, Extension, Box, Transformer)) and item.id not in known:
            yield f"{item.name}: plugged into nothing that gives power"
    for wire in build.wires:
        if wire.id in drawn:
            continue
        names = [_end(analysis, end.item) for end in (wire.a, wire.b) if end is not None]
        if len(names) == 2 and wire.id in power.wires:
            yield f"Second cord, {names[0]} to {names[1]}"
        elif len(names) == 2:
            yield f"Cord, {names[0]} to {names[1]}: carries nothing as drawn"
        else:
            yield f"Cord of {names[0]}: its other end hangs free"


def _end(analysis: Analysis, item_id: str) -> str:
    item = analysis.build.item(item_id)
    return item.name if item is not None else f"'{item_id}', which is not in the build"


class _Maker:
    def __init__(self, analysis: Analysis, system: UnitSystem) -> None:
        self.analysis = analysis
        self.build = analysis.build
        self.power = analysis.power
        self.system = system
        self.feeds = feeds(analysis)
        self.is_us = analysis.build.region == "US"
        self.parts: dict[str, Part] = {}
        self.links: list[Link] = []
        self.taken = Counter((feed.source.id, feed.receptacle.id) for feed in self.feeds.values())
        self.failing: dict[str, list[Limit]] = {}
        for key, limit in self.power.limits:
            if not limit.holds:
                self.failing.setdefault(key, []).append(limit)

    def make(self) -> Diagram:
        venue = [one for one in self.power.circuits if self._is_venue(one)]
        if venue:
            lines = ("Venue's panel", *self._systems(venue))
            self._part(_VENUE, "panel", lines, bar=True)
        for circuit in venue:
            self._venue_circuit(circuit)
        for item in self.build.items:
            self._item(item)
        for feed in self.feeds.values():
            self._cord(feed)
        keys = set(self.parts)
        links = tuple(one for one in self.links if one.a in keys and one.b in keys)
        return Diagram(tuple(self.parts.values()), links)

    # --- small parts -----------------------------------------------------------------------------

    def _part(
        self,
        key: str,
        symbol: Symbol,
        lines: Iterable[str],
        state: str = "",
        bar: bool = False,
        called: str = "",
    ) -> None:
        words = tuple(Words(line, 600 if at == 0 else 400) for at, line in enumerate(lines) if line)
        self.parts.setdefault(key, Part(key, symbol, words, state, bar, called))

    def _link(
        self, a: str, b: str, circuit: Circuit | None, above: str = "", below: str = ""
    ) -> None:
        colour = f"circuit {circuit.letter}" if circuit is not None else "ink"
        self.links.append(
            Link(
                f"{a}>{b}",
                a,
                b,
                (Words(above),) if above else (),
                (Words(below),) if below else (),
                colour,
            )
        )

    def _state(self, key: str) -> str:
        """Mark of an item or a cord; none where everything holds."""
        limits = self.failing.get(key)
        return limit_state(self.analysis, limits) if limits else ""

    def _amps(self, amps: float) -> str:
        return f"{amps:g} A"

    # --- supplies --------------------------------------------------------------------------------

    def _is_venue(self, circuit: Circuit) -> bool:
        item = self.build.item(circuit.items[0]) if circuit.items else None
        return item is not None and isinstance(item.specification.electrical, Outlet)

    def _systems(self, circuits: list[Circuit]) -> list[str]:
        """Voltages of the venue's circuits."""
        found: dict[str, None] = {}
        for circuit in circuits:
            volts = show(circuit.voltage_v, "voltage", self.system, 0)
            legs = "" if len(circuit.legs) < 2 else f", {len(circuit.legs)} legs"
            found[f"{volts}{legs}"] = None
        return [*found]

    def _breaker(self, circuit: Circuit) -> str:
        key = f"breaker {circuit.key}"
        assumed = ", assumed" if circuit.rating_assumed else ""
        amps = circuit.amps.get(EVERYTHING_ON, 0.0)
        state = limit_state(self.analysis, circuit.limits)
        over = state != "ok"
        legs = "" if circuit.legs == ("L",) else "+".join(circuit.legs)
        volts = " ".join(filter(None, (show(circuit.voltage_v, "voltage", self.system, 0), legs)))
        self._part(
            key,
            "breaker us" if self.is_us else "breaker",
            (
                f"{circuit.letter} · {self._amps(circuit.rating_a)}{assumed} · {volts}",
                show_pair(amps, circuit.rating_a, "current", self.system, apart=over),
            ),
            state if over else "",
            called=f"circuit {circuit.letter}",
        )
        return key

    def _venue_circuit(self, circuit: Circuit) -> None:
        breaker = self._breaker(circuit)
        self._link(_VENUE, breaker, circuit)
        for item_id in circuit.items:
            item = self.build.item(item_id)
            if item is None:
                continue
            role = item.specification.electrical
            assert isinstance(role, Outlet)
            size = role.run_size.text if role.run_size is not None else ""
            length = ""
            if role.run_length is not None:
                length = f"{show(role.run_length.si, 'distance', self.system)} run"
            self._link(breaker, item.id, circuit, size, length)
            self._receptacles(item.id, item, receptacles_of(item), item.name, role.gfci)

    def _receptacles(
        self,
        key: str,
        item: Item,
        nodes: Iterable[tuple[str, str]],
        name: str = "",
        gfci: bool | None = None,
        says_gfci: bool = True,
    ) -> None:
        """One symbol for receptacles behind one breaker."""
        ports = [port for node in nodes if (port := item.specification.port(node[1])) is not None]
        kinds = Counter(port.connector for port in ports)
        lines = [name] if name else []
        lines += [kind if count == 1 else f"{count} × {kind}" for kind, count in kinds.items()]
        free = sum(1 for port in ports if not self.taken[item.id, port.id])
        says = []
        if says_gfci:
            device = "GFCI" if self.is_us else "RCD"
            says.append({True: device, False: f"no {device}", None: f"{device} not known"}[gfci])
        if ports and free:
            says.append("free" if free == len(ports) else f"{free} free")
        lines.append(", ".join(says))
        state = self._state(item.id) if name else ""
        self._part(key, "receptacle us" if self.is_us else "receptacle", lines, state)

    # --- items -----------------------------------------------------------------------------------

    def _item(self, item: Item) -> None:
        role = item.specification.electrical
        state = self._state(item.id)
        if isinstance(role, Load) and item.id in self.feeds:
            self._load(item, role, state)
        elif isinstance(role, Strip) and item.id in self.feeds:
            free = self._free(item)
            lines = (item.name, f"rated {self._amps(role.rating.si)}", free)
            self._part(item.id, "bar", lines, state, bar=True)
        elif isinstance(role, Extension) and item.id in self.feeds:
            lines = (item.name, f"rated {self._amps(role.rating.si)}", self._free(item))
            self._part(item.id, "cord", lines, state, bar=True)
        elif isinstance(role, Box) and item.id in self.feeds:
            self._box(item, role, state)
        elif isinstance(role, Generator):
            lines = (item.name, show(role.running.si, "power", self.system),
                     show(role.voltage.si, "voltage", self.system, 0))  # fmt: skip
            self._part(item.id, "generator", lines, state, bar=True)
            self._branches(item, item.id, None)
        elif isinstance(role, Battery):
            self._battery(item, role, state)
        elif isinstance(role, Transformer) and item.id in self.feeds:
            volts = (f"{show(one.si, 'voltage', self.system, 0)}"
                     for one in (role.primary, role.secondary))  # fmt: skip
            lines = (item.name, " to ".join(volts), "what is behind it is not worked out")
            self._part(item.id, "transformer", lines, state)

    def _free(self, item: Item) -> str:
        nodes = receptacles_of(item)
        free = sum(1 for node in nodes if not self.taken[node])
        return f"{free} of {len(nodes)} free" if nodes and free else ""

    def _load(self, item: Item, role: Load, state: str) -> None:
        circuit = self.power.circuit_of(item.id)
        loads = circuit.loads if circuit is not None else ()
        amps = next((one.amps for one in loads if one.item == item.id), 0.0)
        there = self.power.appliances.get(item.id, {}).get(EVERYTHING_ON)
        draws = [show(amps, "current", self.system)]
        if role.power is not None:
            draws.append(show(role.power.si, "power", self.system))
        if there is not None:
            draws.append(show(there.volts, "voltage", self.system))
        phases = ", three-phase" if role.phases == 3 else ""
        self._part(item.id, "load", (item.name + phases, " · ".join(draws)), state)

    def _box(self, item: Item, role: Box, state: str) -> None:
        bar = f"{item.id}/bar"
        lines = (item.name, "" if role.main else "no main breaker")
        if role.main is not None:
            there = self.power.conductor_amps.get(item.id, {}).get(EVERYTHING_ON, {})
            most = max((amps for leg, amps in there.items() if leg != "N"), default=0.0)
            pair = show_pair(most, role.main.si, "current", self.system, apart=bool(state))
            main = (f"main {self._amps(role.main.si)}", pair)
            self._part(item.id, "breaker us" if self.is_us else "breaker", main, state)
            self._part(bar, "bar", lines, bar=True)
            self._link(item.id, bar, self.power.circuit_of(item.id))
        else:
            bar = item.id
            self._part(bar, "bar", lines, state, bar=True)
        self._branches(item, bar, role.gfci)

    def _branches(self, item: Item, bar: str, gfci: bool | None) -> None:
        says = isinstance(item.specification.electrical, Box)
        role = item.specification.electrical
        assert isinstance(role, (Box, Generator))
        known = set(receptacles_of(item))
        for branch in role.branches:
            circuit = self.power.circuit(f"{item.id}/{branch.name}")
            if circuit is None:
                continue
            breaker = self._breaker(circuit)
            self._link(bar, breaker, circuit)
            nodes = [node for port in branch.ports if (node := (item.id, port)) in known]
            if nodes:
                self._receptacles(breaker + "/out", item, nodes, "", gfci, says)
                self._link(breaker, breaker + "/out", circuit)

    def _battery(self, item: Item, role: Battery, state: str) -> None:
        lines = (item.name, show(role.energy.si, "energy", self.system),
                 f"inverter {show(role.running.si, 'power', self.system)}")  # fmt: skip
        self._part(item.id, "battery", lines, state)
        circuit = self.power.circuit(f"{item.id}/inverter")
        nodes = receptacles_of(item)
        if circuit is None or not nodes:
            return
        amps = circuit.amps.get(EVERYTHING_ON, 0.0)
        pair = show_pair(amps, circuit.rating_a, "current", self.system, apart=False)
        out = f"{item.id}/out"
        self._receptacles(out, item, nodes, f"{circuit.letter} · {pair}", says_gfci=False)
        self._link(item.id, out, circuit)

    # --- cords -----------------------------------------------------------------------------------

    def _cord(self, feed: Feed) -> None:
        start = self._receptacle_of(feed)
        circuit = self.power.circuit(feed.state.circuit) if feed.state.circuit else None
        plug = "" if feed.is_terminals else feed.plug.connector
        state = self._state(feed.wire.id)
        link = Link(
            f"wire {feed.wire.id}",
            start,
            feed.item.id,
            (Words(plug),) if plug else (),
            (Words(feed.cord_words(self.system), 600 if state else 400, state or "ink"),),
            f"circuit {circuit.letter}" if circuit is not None else "ink",
        )
        self.links.append(link)

    def _receptacle_of(self, feed: Feed) -> str:
        """Key of the part that stands for a receptacle."""
        item, role = feed.source, feed.source.specification.electrical
        if isinstance(role, (Box, Generator)):
            for branch in role.branches:
                if feed.receptacle.id in branch.ports:
                    return f"breaker {item.id}/{branch.name}/out"
        return f"{item.id}/out" if isinstance(role, Battery) else item.id
