"""Which cord feeds what: plug, receptacle, gauge, length, looked up once for diagram and tables."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Cord, Item, Port, Wire
from ...limits import power_connector
from ...power.circuits import gives_power
from ...power.results import WireState
from ...units import UnitSystem, show


@dataclass(frozen=True, slots=True)
class Feed:
    """A plug in a receptacle that power reaches."""

    wire: Wire
    item: Item
    """Whose plug it is."""
    plug: Port
    source: Item
    """Whose receptacle it is."""
    receptacle: Port
    cord: Cord | None
    """None: nobody knows what cord it is."""
    state: WireState

    def cord_words(self, system: UnitSystem) -> str:
        """Such as "14 AWG, 6.0 ft"."""
        length = show(self.state.length_m, "distance", system)
        if self.is_terminals:
            return f"hardwired, {length}"
        if self.cord is None:
            return length
        return f"{self.cord.size.text.replace('mm2', 'mm²')}, {length}"

    @property
    def is_terminals(self) -> bool:
        """Whether it is wired to terminals instead of plugged in."""
        connector = power_connector(self.plug.connector)
        return connector is not None and connector.kind == "terminals"


def feeds(analysis: Analysis) -> dict[str, Feed]:
    """Item id of whatever has a plug that power reaches to how it is plugged in.

    Of several wires to one item the first that power reaches counts, as for the solver.
    """
    build, power = analysis.build, analysis.power
    found: dict[str, Feed] = {}
    for wire in build.wires:
        state = power.wires.get(wire.id)
        if state is None or wire.b is None:
            continue
        ends = []
        for end in (wire.a, wire.b):
            item = build.item(end.item)
            port = item.specification.port(end.port) if item is not None else None
            if item is not None and port is not None:
                ends.append((item, port))
        takes = [one for one in ends if not gives_power(one[1])]
        gives = [one for one in ends if gives_power(one[1])]
        if len(takes) != 1 or len(gives) != 1:
            continue
        (item, plug), (source, receptacle) = takes[0], gives[0]
        cord = wire.cord or plug.cord
        found.setdefault(item.id, Feed(wire, item, plug, source, receptacle, cord, state))
    return found
