"""What an item is to the power side: a load, a supply, or something in between."""

from typing import Literal

from ..units import (
    ConductorSize,
    Current,
    Duration,
    Energy,
    Flow,
    Length,
    Power,
    Temperature,
    Voltage,
    Volume,
)
from .base import Part

System = Literal["single-phase", "split-phase", "three-phase"]
"""single-phase: L and N. split-phase: L1 and L2 with N between them; voltage is L1 to L2.
three-phase: L1, L2 and L3 a third of a turn apart, with N; voltage is leg to leg."""
Leg = Literal["L", "L1", "L2", "L3"]


class Load(Part, frozen=True, tag="load", tag_field="role"):
    """An appliance that uses power."""

    voltage: Voltage
    """Rated voltage."""
    power: Power | None = None
    current: Current | None = None
    """Nameplate amps; they govern where both are given and differ."""
    lowest_voltage: Voltage | None = None
    highest_voltage: Voltage | None = None
    power_factor: float = 1.0
    resistive_share: float = 0.0
    """Share of the power that is a heater, whose watts follow the square of the voltage."""
    phases: Literal[1, 3] = 1
    """3: it takes a third from each leg; its voltage is leg to leg, its amps are a leg's."""
    thermostat: bool = False
    longest_run: Duration | None = None
    """Longest time on without a break; None when nobody knows."""
    start_multiple: float = 1.0
    start_time: Duration | None = None
    leakage: Current | None = None
    hardwired: bool = False
    fastened: bool = False
    """Fastened in place, as against plugged in and movable."""
    needs_own_circuit: bool = False
    """The maker asks for an individual circuit."""
    overnight: bool = False
    """Stays on while nobody is there, such as a fridge with something in it."""


class Outlet(Part, frozen=True, tag="outlet", tag_field="role"):
    """A venue's outlet: the end of a circuit that somebody else owns."""

    voltage: Voltage
    system: System = "single-phase"
    circuit: str | None = None
    """The venue's name for the circuit; None when unknown. Unknown ones share one circuit."""
    breaker: Current | None = None
    """None when unknown: the least that the receptacle may be behind is assumed."""
    limit: Power | None = None
    """What the venue allows in total where that is less than the breaker does."""
    gfci: bool | None = None
    """Ground-fault or residual-current protected; None when unknown."""
    shared: bool = False
    """Somebody else draws from the same circuit."""
    run_length: Length | None = None
    """One way, from the panel."""
    run_size: ConductorSize | None = None


class Strip(Part, frozen=True, tag="strip", tag_field="role"):
    """A power strip: several receptacles on one cord, with one rating for all."""

    rating: Current


class Branch(Part, frozen=True):
    """One breaker of a box or generator and the receptacles behind it."""

    name: str
    breaker: Current
    legs: tuple[Leg, ...]
    """("L",) or ("L1",) ...: one leg to neutral. ("L1", "L2"): between two. All three: a wye."""
    ports: tuple[str, ...]


class Box(Part, frozen=True, tag="box", tag_field="role"):
    """A distribution box: one feed in, receptacles behind breakers of their own."""

    main: Current | None
    branches: tuple[Branch, ...]
    system: System = "single-phase"
    gfci: bool | None = None


class Extension(Part, frozen=True, tag="extension", tag_field="role"):
    """An extension cord; its conductors are those of its plug's cord."""

    rating: Current


class Generator(Part, frozen=True, tag="generator", tag_field="role"):
    """An engine-driven set."""

    voltage: Voltage
    branches: tuple[Branch, ...]
    running: Power
    surge: Power
    system: System = "single-phase"
    leg_current: Current | None = None
    """Most amps a leg; None: running watts spread over the legs."""
    full_power: bool | None = None
    """A switch that gives everything at the lower voltage, on either leg; None: it has none."""
    rated_altitude: Length = Length("1000 ft")
    """Up to there it gives what it is rated for."""
    rated_ambient: Temperature = Temperature("85 degF")
    """The same for the air around it."""
    fuel: Volume | None = None
    burn_full: Flow | None = None
    """Fuel at its running watts."""
    burn_half: Flow | None = None
    """Fuel at half of them."""


class Battery(Part, frozen=True, tag="battery", tag_field="role"):
    """A battery with an inverter."""

    voltage: Voltage
    energy: Energy
    running: Power
    surge: Power
    usable_share: float = 0.8
    """Share of the nominal energy that may be drawn."""
    efficiency: float = 0.9
    idle: Power = Power("0 W")
    """Of the inverter, on top of the load."""
    greatest_discharge: Power | None = None
    """Most that the battery itself gives; None: as much as its inverter asks for."""


class Transformer(Part, frozen=True, tag="transformer", tag_field="role"):
    """Changes the voltage. It can be drawn; what hangs behind it is not worked out."""

    primary: Voltage
    secondary: Voltage
    rating: Power


ElectricalRole = Load | Outlet | Strip | Box | Extension | Generator | Battery | Transformer
