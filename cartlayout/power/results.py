"""What the power side computes. SI throughout: amperes, volts, watts, metres."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..network.results import Node
from ..units import Phrase
from .leakage_results import Leakage
from .trip import TripBound

if TYPE_CHECKING:
    from .trace import PowerTrace

EVERYTHING_ON = "Everything on"
"""Name of the automatic case that governs: every thermostat calls at once."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One number held against one limit, named with its rule and source."""

    name: str
    """Of a circuit: "total", "neutral", "one appliance", "continuous", "fastened", "own circuit",
    "venue limit", "receptacle for circuit", "starts together". Of an item or
    run: "cord", "cord protection", "strip", "extension", "plug", "receptacle", "main", "leg",
    "generator", "inverter", "surge", "starts together", "fuel", "discharge", "battery energy",
    "voltage", "drop"."""
    value: float
    limit: float
    dimension: str
    """Of both numbers: "current", "power", "voltage", "energy", "percent", "count"."""
    rule: str
    """In plain words."""
    source: str
    """Standard and edition, or "common practice, no source"."""
    holds: bool
    assumed: str = ""
    """What was taken for granted, if anything."""
    working: tuple[Phrase, ...] = ()
    items: tuple[str, ...] = ()
    """Whose doing it is, the heaviest first; empty where the circuit or its own item says it."""
    grows: float = 1.0
    """By how much the value grows for one more of what is drawn: a battery gives more than its
    inverter."""
    run: str = ""
    """Id of the cord it is about, where one is: its own limits, its plug's, its receptacle's."""


@dataclass(frozen=True, slots=True)
class CircuitLoad:
    """One appliance on one circuit."""

    item: str
    amps: float
    continuous: bool
    assumed_continuous: bool = False
    conductors: tuple[str, ...] = ()
    """What it hangs between: ("L1", "N"), ("L1", "L2"), or all legs of a three-phase load."""

    def on(self, conductor: str) -> float:
        """Amps that it puts on one conductor; a three-phase load leaves its neutral empty."""
        if conductor not in self.conductors:
            return 0.0
        return 0.0 if conductor == "N" and len(self.conductors) > 2 else self.amps


@dataclass(frozen=True, slots=True)
class Circuit:
    """What one breaker protects."""

    key: str
    """Stable while the build is edited: "venue/<circuit>", "unknown", "<item id>/<branch>"."""
    letter: str
    """A, B, C ... in the order of the build; goes with its accent on the screen."""
    name: str
    """For people: "Outlet 1", "Breaker box, 2"."""
    items: tuple[str, ...]
    """Ids of the items that offer its receptacles (venue outlets, or the box)."""
    rating_a: float
    rating_assumed: bool
    voltage_v: float
    legs: tuple[str, ...]
    amps: dict[str, float] = field(default_factory=dict)
    """Case name to amperes on the heaviest conductor."""
    leg_amps: dict[str, dict[str, float]] = field(default_factory=dict)
    """Case name to amperes by conductor, neutral ("N") included."""
    loads: tuple[CircuitLoad, ...] = ()
    """Heaviest first, as in the case with everything on."""
    limits: tuple[Limit, ...] = ()
    parent: str | None = None
    """Key of the circuit that feeds this one's box."""
    trip: TripBound | None = None
    """When its breaker trips with everything on; None for an inverter, which has none."""

    @property
    def share(self) -> float:
        """Amperes against rating with everything on."""
        return self.amps.get(EVERYTHING_ON, 0.0) / self.rating_a if self.rating_a else 0.0


@dataclass(frozen=True, slots=True)
class ApplianceState:
    """An appliance in one case, as it is at its terminals.

    Behind a long cord a heater draws fewer amps than it is counted with
    against a breaker (`CircuitLoad.amps`).
    """

    amps: float
    volts: float
    """At its terminals."""
    watts: float
    drop_share: float
    """Voltage lost on the way, as a share of the supply's voltage."""
    fed: bool


@dataclass(frozen=True, slots=True)
class WireState:
    """A cord with everything on."""

    amps: float
    ampacity_a: float
    """0 where nobody knows what cord it is."""
    length_m: float
    drop_v: float
    """Out and back."""
    circuit: str | None
    """Key of its circuit."""


@dataclass(frozen=True, slots=True)
class PowerResult:
    """Everything the power side says about a build."""

    circuits: tuple[Circuit, ...] = ()
    appliances: dict[str, dict[str, ApplianceState]] = field(default_factory=dict)
    """Item id, then case name."""
    wires: dict[str, WireState] = field(default_factory=dict)
    """Run id."""
    receptacle_amps: dict[Node, float] = field(default_factory=dict)
    item_circuit: dict[str, str] = field(default_factory=dict)
    """Item id of a load, strip or cord to the key of the circuit that feeds it."""
    limits: tuple[tuple[str, Limit], ...] = ()
    """(item or run id, limit) for everything that is no circuit: cords, strips, plugs, voltages."""
    cases: tuple[str, ...] = (EVERYTHING_ON,)
    battery_hours: dict[str, float] = field(default_factory=dict)
    """Item id of a battery to the hours it lasts with everything on; inf with nothing on."""
    fuel_hours: dict[str, float] = field(default_factory=dict)
    """Item id of a generator to the hours its fuel lasts with everything on, where known."""
    fed_from: dict[str, str] = field(default_factory=dict)
    """Item id of a strip, extension cord, box or load to the item it is plugged into."""
    conductor_amps: dict[str, dict[str, dict[str, float]]] = field(default_factory=dict)
    """Item id of a generator, battery or box to its case names to amperes by conductor, "N"
    included: of all that is on it together, whichever breaker it is behind."""
    above_nameplate: dict[str, tuple[float, float]] = field(default_factory=dict)
    """Item id of a motor whose maker's table asks for more than its nameplate: both in watts."""
    leakages: tuple[Leakage, ...] = ()
    """Standing leakage behind every device that watches it."""
    converged: bool = True
    """False if some case did not settle; its numbers are then those of the last sweep."""
    trace: "PowerTrace | None" = field(default=None, compare=False, repr=False)
    """What the solver had at hand when it came to this."""
    reads: tuple[Any, ...] = field(default=(), compare=False, repr=False)
    """What of the Build this was made from, compared by identity for re-use."""

    def circuit(self, key: str) -> Circuit | None:
        """The circuit of that key, or None."""
        return next((one for one in self.circuits if one.key == key), None)

    def circuit_of(self, item_id: str) -> Circuit | None:
        """The circuit that feeds an item, or None."""
        key = self.item_circuit.get(item_id)
        return self.circuit(key) if key is not None else None
