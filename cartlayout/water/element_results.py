"""What is told of heaters, filters and regulators: what passes them, and what that does to them."""

from dataclasses import dataclass

from ..network.results import Node


@dataclass(frozen=True, slots=True)
class HeaterPoint:
    """A heater in a case in which water flows through it."""

    case: str
    flow: float
    """m3/s, at the end of the sources' range where they push least."""
    pressure_pa: float
    """At its inlet then."""
    enough_pressure: bool
    enough_flow: bool
    reaches_k: float | None = None
    """How warm its watts make so much water, where it heats while the water runs through it."""

    @property
    def switches_on(self) -> bool:
        """Whether it heats."""
        return self.enough_pressure and self.enough_flow


@dataclass(frozen=True, slots=True)
class HeaterState:
    """A heater: whether it switches on, and who is behind it."""

    item: str
    outlet_k: float
    least_pa: float | None
    least_flow: float | None
    greatest_pa: float | None
    static_pa: float
    """The most its inlet can see, everything shut."""
    fed: bool
    points: tuple[HeaterPoint, ...] = ()
    """In the order of the cases; those in which nothing flows through it are left out."""
    taps: tuple[Node, ...] = ()
    """That can get water by no other way."""


@dataclass(frozen=True, slots=True)
class FilterState:
    """A filter, or a softener: what passes it, and how long it lasts."""

    item: str
    rated_flow: float
    flow: float
    """Greatest in any case, m3/s."""
    case: str
    """In which that is; a tap alone before several."""
    loss_pa: float
    """At that flow, as used up as it is."""
    life: float | None = None
    """m3 it treats when new, with this venue's water; None where its maker states none."""
    left: float | None = None
    """m3 it still treats."""
    hardness_missing: bool = False
    """Its life goes by hardness, and either its own or the venue's is not known."""
    per_drink: float = 0.0
    """m3 that pass it for a drink of the service plan."""
    drinks_left: float | None = None
    days_left: float | None = None
    """Days of service as planned."""
    taps: tuple[Node, ...] = ()
    """That can get water by no other way."""


@dataclass(frozen=True, slots=True)
class RegulatorState:
    """A regulator: what passes it, and how far it falls and rises."""

    item: str
    set_pa: float
    rated_flow: float | None
    flow: float
    """Greatest in any case, m3/s."""
    case: str
    outlet_pa: float
    """Behind it at that flow."""
    shut_pa: float
    """Behind it with everything shut: set point and creep, or what the line has."""
    holds: bool
    """Whether it is what holds the pressure down at that flow; else the line brings no more."""
