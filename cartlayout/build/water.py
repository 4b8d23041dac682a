"""What an item is to the water side: a tap, a source, a part of the line, or a drain."""

from typing import Literal

from ..units import (
    Concentration,
    Current,
    Duration,
    Flow,
    Length,
    Pressure,
    Temperature,
    Voltage,
    Volume,
)
from .base import Part


class FlowPoint(Part, frozen=True):
    """A pressure and the flow that goes with it: a loss, a residual, a nozzle rating."""

    flow: Flow
    pressure: Pressure


class Opening(Part, frozen=True, tag="opening", tag_field="type"):
    """Water leaves to the open: flow follows the square root of the pressure."""

    rated: FlowPoint
    cap: Flow | None = None
    """A restrictor that lets no more than this through."""
    assumed: bool = False
    """The rating was put together from the least pressure and the required flow."""


class Drawn(Part, frozen=True, tag="drawn", tag_field="type"):
    """An internal pump takes what it needs."""

    flow: Flow


class Fill(Part, frozen=True, tag="fill", tag_field="type"):
    """A valve fills a vessel against its back pressure.

    The rated pressure is that at the inlet while it fills, back pressure included.
    """

    rated: FlowPoint
    back_pressure: Pressure = Pressure("0 bar")
    assumed: bool = False


class Inlet(Part, frozen=True):
    """One water inlet of an appliance, and what its maker allows there."""

    port: str
    behaviour: Opening | Drawn | Fill
    required_flow: Flow
    least_pressure: Pressure
    """While water flows."""
    greatest_pressure: Pressure
    """The highest it may ever see."""
    highest_temperature: Temperature | None = None
    closing_time: Duration | None = None
    """How long its valve takes to shut; None: as long as is typical of its behaviour."""


FeedMode = Literal["own reservoir", "internal pump", "line pressure"]
"""Filled by hand, no tube; plumbed, and its own pump draws; plumbed, and the line pushes."""


class Feed(Part, frozen=True):
    """One way an appliance can be fed."""

    mode: FeedMode
    inlets: tuple[Inlet, ...] = ()
    """None where it is filled by hand."""
    reservoir: Volume | None = None
    """What it holds where it is filled by hand."""


class Appliance(Part, frozen=True, tag="appliance", tag_field="role"):
    """Something that takes water: each inlet is a tap of the build."""

    inlets: tuple[Inlet, ...]
    drained_share: float = 0.0
    """Share of what it takes that goes down its drain."""
    per_drink: Volume | None = None
    """What it takes for one drink; None: its share of the service plan's."""
    feed: FeedMode = "line pressure"
    """How it is fed now; the inlets are those of this way."""
    reservoir: Volume | None = None
    """What it holds where it is filled by hand."""
    other_feeds: tuple[Feed, ...] = ()
    """Other ways its maker lets it be fed."""
    carbonates: bool = False
    """Carbonated water can come back from it: it needs a vented double check before it."""
    level_probe: bool = False
    """Feels its water level by the water's conductivity."""
    air_gap: Length | None = None
    """From its outlet down to the flood rim of what it pours into; None: not stated."""


class Tank(Part, frozen=True, tag="tank", tag_field="role"):
    """A vented vessel: a jug, a fresh tank, a waste tank."""

    contents: Literal["fresh", "waste"]
    volume: Volume
    pick_up: Length = Length("0 in")
    """Height of the lowest water that can be drawn, above the tank's underside."""
    foot_valve: bool = False
    """A check valve with a strainer at the pick-up keeps the suction line full."""
    overflow: Length | None = None
    """Height of its overflow above its underside; None: at the top."""


class Mains(Part, frozen=True, tag="mains", tag_field="role"):
    """A venue's tap: static pressure at rest, less when water flows."""

    usual: Pressure
    least: Pressure | None = None
    greatest: Pressure | None = None
    residual: FlowPoint | None = None
    """A measured flow and the pressure left at that flow."""


class PumpPoint(Part, frozen=True):
    """One row of a pump maker's table."""

    pressure: Pressure
    flow: Flow
    current: Current | None = None


class Bypass(Part, frozen=True):
    """A spring valve inside a pump that lets water back, so that it cycles less."""

    opens: Pressure
    full: Pressure
    """Everything the pump gives goes back here."""


class Pump(Part, frozen=True, tag="pump", tag_field="role"):
    """A demand pump: a curve, and a switch that stops it and starts it."""

    curve: tuple[PumpPoint, ...]
    cut_in: Pressure
    cut_out: Pressure
    greatest_lift: Length = Length("1.8 m")
    """Highest suction lift the maker allows."""
    bypass: Bypass | None = None
    net_suction_head: Length | None = None
    """Net positive suction head it requires; None: judged by its greatest lift."""
    starts_per_hour: float | None = None
    """Most starts its maker allows; None: not stated."""
    voltage: Voltage | None = None
    """That the currents of its curve were taken at, before any adapter; None: not known."""
    rating: str = ""
    """As printed on the label; its flow and its pressure are two ends of the curve."""


class Accumulator(Part, frozen=True, tag="accumulator", tag_field="role"):
    """A vessel with an air cushion."""

    volume: Volume
    pre_charge: Pressure


class Filter(Part, frozen=True, tag="filter", tag_field="role"):
    """A cartridge, or a softener: loss grows with flow, and with what it has caught."""

    loss: tuple[FlowPoint, ...]
    """One or two points of the clean loss; a line plus a square is laid through them."""
    rated_flow: Flow
    used: float = 0.0
    """Share of its life used up; the loss grows as 1 / (1 - used / 2)."""
    capacity: Volume | None = None
    """Water it treats in its life, at the hardness below."""
    capacity_hardness: Concentration | None = None
    """Hardness that the capacity is stated for."""
    softens: bool = False
    """Its capacity goes by the water's hardness."""
    purifies: bool = False
    """Takes nearly everything dissolved out of the water."""


class Regulator(Part, frozen=True, tag="regulator", tag_field="role"):
    """Lowers pressure to a set point, never raises it."""

    set_point: Pressure
    droop: FlowPoint | None = None
    """Fall below the set point at a flow."""
    creep: Pressure = Pressure("0 bar")
    """Rise above the set point with nothing flowing."""
    wide_open: FlowPoint = FlowPoint(flow=Flow("10 L/min"), pressure=Pressure("0.3 bar"))
    """Loss fully open."""
    rated_flow: Flow | None = None
    """Most it is made for."""


class CheckValve(Part, frozen=True, tag="check valve", tag_field="role"):
    """Lets water through one way."""

    wide_open: FlowPoint
    cracking: Pressure = Pressure("0 bar")
    vented: bool = False
    """Two checks with a vent to the open between them."""
    stuck_open: bool = False
    """Dirt, scale or a worn seat keeps it from shutting: water gets back."""


class ShutOff(Part, frozen=True, tag="shut-off", tag_field="role"):
    """A valve turned by hand."""

    wide_open: FlowPoint
    is_open: bool = True
    closed_share: float = 0.0
    """How far its handle is turned towards shut while it is open."""


class Heater(Part, frozen=True, tag="heater", tag_field="role"):
    """Heats water that flows through it to the taps behind."""

    outlet: Temperature
    wide_open: FlowPoint
    least_pressure: Pressure | None = None
    """Below this it does not switch on."""
    least_flow: Flow | None = None
    """Below this it does not switch on."""
    greatest_pressure: Pressure | None = None


class PortLoss(Part, frozen=True):
    """Loss between one port and the middle of a fitting, at a flow."""

    port: str
    at: FlowPoint


class Fitting(Part, frozen=True, tag="fitting", tag_field="role"):
    """A tee, a manifold, a cross: ports that meet."""

    losses: tuple[PortLoss, ...] = ()


class Gauge(Part, frozen=True, tag="gauge", tag_field="role"):
    """Shows pressure, changes nothing."""

    full_scale: Pressure


class Drain(Part, frozen=True, tag="drain", tag_field="role"):
    """The venue's drain."""

    capacity: Flow | None = None
    air_gap: Length | None = None
    """From the end of the tube down to its flood rim; None: not stated."""


class DrainPump(Part, frozen=True, tag="drain pump", tag_field="role"):
    """Lifts waste water: a small sump with a pump and a float."""

    sump: Volume
    flow: Flow
    """With nothing to lift."""
    lift: Length
    """At which it gives nothing more."""


class Basin(Part, frozen=True, tag="basin", tag_field="role"):
    """Catches water and has a drain but no inlet of its own: a dump sink, a drip tray."""


WaterRole = (
    Appliance
    | Tank
    | Mains
    | Pump
    | Accumulator
    | Filter
    | Regulator
    | CheckValve
    | ShutOff
    | Heater
    | Fitting
    | Gauge
    | Drain
    | DrainPump
    | Basin
)
