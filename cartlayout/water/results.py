"""What the water side computes. SI throughout: pascals (gauge), cubic metres a second, metres."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..network.results import Node
from .drain_results import AirGap, DayShare, DrainPumpState, DrainState, VesselDay
from .element_results import FilterState, HeaterState, RegulatorState
from .gauge_results import GaugeState
from .hydraulics import Key
from .pump_results import PumpDuty, Suction, Surge
from .supply_results import Robbed, SupplyWindow, TubeStatic

if TYPE_CHECKING:
    from .drains import DrainSide
    from .islands import Island
    from .window import Supply

ALL_SHUT = "All shut"
ALL_OPEN = "Everything open"
"""Names of automatic cases; a tap alone is named by `alone`."""


def alone(tap_name: str) -> str:
    """Name of the automatic case in which one tap is open."""
    return f"{tap_name} alone"


@dataclass(frozen=True, slots=True)
class LadderStep:
    """Pressure after one thing on the way from source to tap."""

    name: str
    id: str
    """Of the item or run that took it."""
    pressure_pa: float
    loss_pa: float
    """What this step took; negative where it added (a pump, a fall in height)."""


@dataclass(frozen=True, slots=True)
class TapState:
    """A tap in one case, at the end of the pump's range that is worse for it."""

    open: bool
    pressure_pa: float
    flow: float
    pressure_ok: bool
    flow_ok: bool
    """Both true for a shut tap whose static pressure is inside its window."""
    lowest_pa: float = 0.0
    """Where the sources push least: pumps at cut-in, mains at their least."""
    highest_pa: float = 0.0
    """Where they push hardest."""


@dataclass(frozen=True, slots=True)
class Tap:
    """One inlet of an appliance, held against its maker's window."""

    item: str
    port: str
    name: str
    fed: bool
    least_pa: float
    greatest_pa: float
    required_flow: float
    static_pa: float
    """The highest its line can see with everything shut."""
    states: dict[str, TapState] = field(default_factory=dict)
    """Case name to what happens here."""
    ladder: tuple[LadderStep, ...] = ()
    """From the source to this tap, this tap alone open."""
    assumed: str = ""
    temperature_k: float = 293.15
    """Of its water: the venue's, or that of the heater before it."""


@dataclass(frozen=True, slots=True)
class RunState:
    """A supply tube in one case."""

    flow: float
    """From its end a to its end b; negative the other way."""
    velocity_m_s: float
    loss_pa: float


@dataclass(frozen=True, slots=True)
class CaseState:
    """The whole supply side in one case."""

    name: str
    converged: bool
    iterations: int
    worst_imbalance: float
    """Largest continuity error at a junction, m3/s."""
    pressures_pa: dict[Node, float] = field(default_factory=dict)
    runs: dict[str, RunState] = field(default_factory=dict)
    source_flow: dict[str, float] = field(default_factory=dict)
    """Item id of each tank, mains tap or pump to what it gives."""


@dataclass(frozen=True, slots=True)
class WaterBalance:
    """Vessels against each other, litres in cubic metres."""

    fresh: float
    waste: float
    waste_needed: float
    """By the profile's ratio."""
    ratio: float
    source: str
    fresh_per_day: float
    """What the service plan uses."""
    to_drain: bool
    """Waste leaves through the venue's drain."""
    waste_per_day: float = 0.0
    """What the service plan lets down the drain."""
    shares: tuple[DayShare, ...] = ()
    """What fresh water is used for, and what goes down the drain, each by name."""
    vessels: tuple[VesselDay, ...] = ()
    """Every vessel over the day, the one that is empty or full first before the others."""
    reads: tuple[Any, ...] = field(default=(), compare=False, repr=False)
    """What this was made from, compared for re-use."""

    @property
    def first(self) -> VesselDay | None:
        """What is empty or full first before the day is over; None where nothing is."""
        return next((one for one in self.vessels if one.visits > 0), None)


@dataclass(frozen=True, slots=True)
class Trouble:
    """A part of the supply side that cannot be solved as drawn, and why."""

    code: str
    """"not fed", "no source", "not converged", "wrong way"..."""
    items: tuple[str, ...]
    runs: tuple[str, ...] = ()
    detail: str = ""


@dataclass(frozen=True, slots=True)
class PumpState:
    """A demand pump: the range it holds, and whether its vessel helps."""

    item: str
    cut_in_pa: float
    cut_out_pa: float
    accumulator: str | None
    useful_volume: float


@dataclass(frozen=True, slots=True)
class WaterResult:
    """Everything the water side says about a build."""

    taps: tuple[Tap, ...] = ()
    cases: dict[str, CaseState] = field(default_factory=dict)
    pairs: dict[str, frozenset[Key]] = field(default_factory=dict)
    """Name of every two taps of one line, and the two; not among the cases (see `together`)."""
    together: tuple[Robbed, ...] = ()
    """Who robs whom: pairs, the person's cases and everything open; by taps, the worst first."""
    statics: tuple[TubeStatic, ...] = ()
    """How high each supply tube goes."""
    pumps: tuple[PumpState, ...] = ()
    duties: tuple[PumpDuty, ...] = ()
    suctions: tuple[Suction, ...] = ()
    surges: tuple[Surge, ...] = ()
    heaters: tuple[HeaterState, ...] = ()
    filters: tuple[FilterState, ...] = ()
    regulators: tuple[RegulatorState, ...] = ()
    temperatures_k: dict[str, float] = field(default_factory=dict)
    """Supply tube id to the temperature of its water, for tubes behind a heater; the rest carry
    the venue's."""
    gauges: tuple[GaugeState, ...] = ()
    """What every gauge should show in every case of its line, and what was read off."""
    balance: WaterBalance | None = None
    drains: tuple[DrainState, ...] = ()
    """Every drain tube that leads somewhere."""
    drain_pumps: tuple[DrainPumpState, ...] = ()
    air_gaps: tuple[AirGap, ...] = ()
    """Wherever an air gap is asked for, stated or not."""
    troubles: tuple[Trouble, ...] = ()
    reads: tuple[Any, ...] = field(default=(), compare=False, repr=False)
    """The parts of the Build this was made from, compared for re-use."""
    fastest: dict[str, float] = field(default_factory=dict)
    """Supply tube id to the greatest velocity in any case, metres a second."""
    islands: "tuple[Island, ...]" = field(default=(), compare=False, repr=False)
    """What no tube joins is solved apart; lent to the next result."""
    drain_side: "DrainSide | None" = field(default=None, compare=False, repr=False)
    """What drains were made from; lent to the next result."""
    opened: tuple[tuple[str, frozenset[Key]], ...] = field(default=(), compare=False, repr=False)
    """Case name to the taps open in it."""

    def tap(self, item_id: str, port_id: str | None = None) -> Tap | None:
        """The tap of an item (its first inlet unless a port is named), or None."""
        return next(
            (
                tap
                for tap in self.taps
                if tap.item == item_id and (port_id is None or tap.port == port_id)
            ),
            None,
        )

    @property
    def supplies(self) -> "Iterator[Supply]":
        """Pumps and mains taps with the line behind each, to be asked for their windows."""
        for island in self.islands:
            yield from self._supplies_of(island)

    def _supplies_of(self, island: "Island") -> "tuple[Supply, ...]":
        names = {(tap.item, tap.port): tap.name for tap in self.taps}
        automatic = {ALL_SHUT, ALL_OPEN, *(alone(name) for name in names.values())}
        cases = tuple(
            (name, opened & island.taps, name not in automatic)
            for name, opened in self.opened
            if opened & island.taps
        )
        return island.supplies(names, cases)

    def supply(self, item_id: str) -> "Supply | None":
        """A pump or a mains tap with the line behind it."""
        for island in self.islands:
            if item_id in island.gives:
                return next(
                    (one for one in self._supplies_of(island) if one.item.id == item_id), None
                )
        return None

    @property
    def windows(self) -> tuple[SupplyWindow, ...]:
        """What each pump and mains tap has to give.

        Worked out when first asked for, and kept for as long as its line stays as it is.
        """
        found = (supply.window for supply in self.supplies)
        return tuple(one for one in found if one is not None)

    def window(self, item_id: str) -> SupplyWindow | None:
        """What a pump or a mains tap has to give; None where it feeds nothing."""
        supply = self.supply(item_id)
        return supply.window if supply is not None else None

    def ladder(self, tap: Tap, case: str) -> tuple[LadderStep, ...]:
        """Who eats the pressure on the way to a tap in any case, that of a pair included."""
        opened = self.pairs.get(case) or dict(self.opened).get(case, frozenset())
        node = (tap.item, tap.port)
        if node not in opened:
            return ()
        for island in self.islands:
            for place in island.model.taps:
                if place.node == node:
                    return island.ladder(place, opened & island.taps)
        return ()

    def robbed(self, item_id: str, port_id: str | None = None) -> tuple[Robbed, ...]:
        """Who robs a tap, the worst first."""
        return tuple(
            one
            for one in self.together
            if one.item == item_id and (port_id is None or one.port == port_id)
        )
