"""What a walk along the power finds: meters, loads and wires in their places."""

from dataclasses import dataclass, field

from ..build import Cord, Item, Load, Port, Wire
from ..network.results import Node
from .circuits import CircuitDraft
from .loads import LoadModel
from .parts import Draw, Segment
from .systems import ConductorSet


@dataclass(frozen=True, slots=True)
class Meter:
    """A place where amps are added up: everything behind it flows through it."""

    kind: str
    """"supply", "circuit", "outlet", "receptacle", "wire", "strip", "extension", "main"."""
    key: str
    """Of a circuit, or the id of a run or an item (for a receptacle that of its item)."""
    parent: int
    source: ConductorSet
    legs: tuple[int, ...]
    node: Node | None = None
    """Of a receptacle."""


@dataclass(frozen=True, slots=True)
class PlacedLoad:
    """A load that power reaches."""

    item: Item
    load: Load
    model: LoadModel
    """What counts against limits."""
    draw: Draw
    source: ConductorSet
    volts: complex
    """Of the supply between its conductors, before any cord."""
    meters: tuple[int, ...]
    """From its own plug back to the supply."""
    circuit_meters: tuple[int, ...]
    """Those of them that are circuits, boxes or supplies."""
    circuit: str
    plug: Port
    wire: str
    receptacle: Node
    through: tuple[str, ...]
    """Ids of the strips, extension cords and boxes on the way, the nearest last."""
    part: int = 0
    """Which third of a three-phase load; 0 for others."""
    parts: int = 1
    line: float = 1.0
    """Amps of a leg over those of this part."""
    across: float = 1.0
    """Rated voltage of the load over that of this part."""


@dataclass(frozen=True, slots=True)
class PlacedWire:
    """A wire that power reaches."""

    wire: Wire
    meter: int
    segment: int
    source: ConductorSet
    legs: tuple[int, ...]
    cord: Cord | None
    length_m: float
    ohm: float
    """Of one conductor."""
    circuit: str
    plug: tuple[Item, Port]
    receptacle: tuple[Item, Port]


@dataclass(slots=True)
class PowerTree:
    """Everything that the sweep and the limits read."""

    items: dict[str, Item] = field(default_factory=dict)
    segments: list[Segment] = field(default_factory=list)
    meters: list[Meter] = field(default_factory=list)
    circuits: list[CircuitDraft] = field(default_factory=list)
    loads: list[PlacedLoad] = field(default_factory=list)
    wires: list[PlacedWire] = field(default_factory=list)
    dark: list[tuple[Item, Load]] = field(default_factory=list)
    """Loads that no power reaches."""
    item_circuit: dict[str, str] = field(default_factory=dict)
    fed_from: dict[str, str] = field(default_factory=dict)
    """Item id of whatever has a plug to the item whose receptacle it is plugged into."""
    offered: "dict[Node, Here]" = field(default_factory=dict)
    """Every receptacle that power reaches, taken or not, and what lies behind it."""
    loads_behind: dict[int, list[int]] = field(default_factory=dict)
    """Meter to the indices of the loads whose amps pass it."""

    def chain(self, meter: int) -> tuple[int, ...]:
        """A meter and all before it, back to the supply."""
        chain = []
        while meter >= 0:
            chain.append(meter)
            meter = self.meters[meter].parent
        return tuple(chain)

    def behind(self, meter: int) -> list[PlacedLoad]:
        """The loads whose amps pass a meter."""
        return [self.loads[index] for index in self.loads_behind.get(meter, ())]

    def draft(self, key: str) -> CircuitDraft | None:
        """The circuit of that key, or None."""
        return next((draft for draft in self.circuits if draft.key == key), None)


@dataclass(frozen=True, slots=True)
class Here:
    """A place in the tree: what feeds it, and through what."""

    segment: int
    meter: int
    source: ConductorSet
    legs: tuple[int, ...]
    circuit: str
    through: tuple[str, ...]

    def past(self, meter: int) -> "Here":
        """The same place one meter on."""
        return Here(self.segment, meter, self.source, self.legs, self.circuit, self.through)
