"""What is told of waste water: drain tubes, drain pumps, air gaps, and vessels over the day.

SI throughout: metres, cubic metres, cubic metres a second, seconds. Places are
(x, y, z) as everywhere: x to the right, y from the rear, z up from the floor.
"""

import math
from dataclasses import dataclass, field
from typing import Literal

from ..build.geometry import XYZ
from ..limits import drain_practice
from ..network.results import Node

VesselKind = Literal["fresh", "reservoir", "waste"]

_NOTHING_M = 1e-3
"""So short a piece on the plan is how the numbers were written."""


@dataclass(frozen=True, slots=True)
class LowPoint:
    """A place in a drain tube from which the water would have to climb again."""

    at: XYZ
    crest: XYZ
    """The top that it would have to climb to."""
    along_m: float
    """Along the tube from where the water comes in."""
    rise_m: float
    """From the low point up to the crest."""
    blocked: bool
    """The crest is not below where the water comes in: by itself it never gets over."""
    sealed: bool
    """The rise is at least the bore: water closes the tube, and air is shut in behind it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a drain tube between two heights that are given: ends, and led bends."""

    start: XYZ
    end: XYZ
    fall_m: float
    """Negative where it goes up."""
    flat_m: float
    """Along the plan."""
    length_m: float

    @property
    def slope(self) -> float:
        """Fall for each metre along the plan; endless where it goes straight down."""
        if self.flat_m > _NOTHING_M:
            return self.fall_m / self.flat_m
        return math.copysign(math.inf, self.fall_m) if self.fall_m else 0.0

    @property
    def gradient(self) -> float:
        """Fall for each metre of tube, at most 1: what drives the water."""
        return self.fall_m / self.length_m if self.length_m > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class DrainState:
    """A drain tube: whether it falls, what it can carry, and what comes to it."""

    run: str
    start: Node
    """Where the water comes in."""
    end: Node
    serves: tuple[str, ...]
    """Ids of appliances and basins whose waste runs through it."""
    pumped: bool
    """It comes out of a drain pump: it may climb."""
    fall_m: float
    flat_m: float
    length_m: float
    asked_slope: float
    """Least fall for each metre along the plan, by the region's rule for this bore."""
    stretches: tuple[Stretch, ...]
    """A hose is laid to the same ends and bends with its fall spread over each of them."""
    low_points: tuple[LowPoint, ...]
    bore_m: float
    before_m: float
    """The widest of the bores that lead into it: outlet of the appliance, other tubes."""
    before: str
    """Id of the item or tube that has it."""
    half_full: float
    """Carried by gravity at half its depth [m3/s], after Manning; 0 without fall."""
    full: float
    reynolds: float
    """At half its depth, by four times the hydraulic radius."""
    advisory: bool
    """Manning's formula is not valid for water so slow in a tube so thin."""
    arriving: dict[str, float] = field(default_factory=dict)
    """Case name to the flow that comes to it [m3/s]; melting ice is no flow."""
    backs_up_m: float | None = None
    """How far the full tank's water would stand above the lowest outlet; None: below it."""
    backs_up_to: str = ""
    """Id of the item with that outlet."""
    after_m: float = 0.0
    """Bore of the connector that it ends in; 0: none known, or an open end."""

    @property
    def flattest(self) -> Stretch | None:
        """The stretch with the least slope; of pieces as short as a hand only if there is no other.

        What goes straight up or down has no slope to judge.
        """
        short_m = drain_practice().short_stretch_m.value
        flat = [one for one in self.stretches if one.flat_m > short_m]
        return min(flat or self.stretches, key=lambda one: one.slope, default=None)

    @property
    def slope(self) -> float:
        """The least among its stretches, endless where it goes straight down."""
        flattest = self.flattest
        return flattest.slope if flattest is not None else 0.0

    @property
    def greatest(self) -> tuple[str, float]:
        """Case in which most comes, and how much [m3/s]; nothing where nothing does."""
        return max(self.arriving.items(), key=lambda one: one[1], default=("", 0.0))


@dataclass(frozen=True, slots=True)
class DrainPumpState:
    """A drain pump: what it lifts, how much it moves, how often it starts."""

    item: str
    run: str
    """The tube that it pushes through; empty where there is none."""
    lift_m: float
    """From its outlet up to the highest place of that tube."""
    greatest_lift_m: float
    flow: float
    """What it moves up there, friction counted [m3/s]; 0 where it cannot."""
    arriving: dict[str, float]
    """Case name to the flow that comes to its sump [m3/s]."""
    sump: float
    fills_s: float
    """Time in which the greatest arriving flow fills its sump; endless where none comes."""
    starts_per_hour: float
    """While the greatest flow keeps coming; 0 where it never stops, or never starts."""

    @property
    def greatest(self) -> tuple[str, float]:
        """Case in which most comes, and how much [m3/s]."""
        return max(self.arriving.items(), key=lambda one: one[1], default=("", 0.0))


@dataclass(frozen=True, slots=True)
class AirGap:
    """The open air between an outlet and what it pours into."""

    item: str
    run: str
    """The tube whose bore counts; empty where the item's own connector counts."""
    bore_m: float
    needed_m: float
    given_m: float | None
    """None: not stated."""
    source: str
    """Of the rule."""


@dataclass(frozen=True, slots=True)
class DayShare:
    """One use of a day of service: what, how much, and where it goes."""

    name: str
    """In plain words, such as "rinse water"."""
    kind: Literal["fresh", "waste"]
    """Taken from fresh water, or let down the drain."""
    per_day: float
    """m3."""
    items: tuple[str, ...] = ()
    """Ids of the items it passes through."""
    into: tuple[str, ...] = ()
    """Waste: ids of the tanks and drains it ends in; none: nowhere known."""


@dataclass(frozen=True, slots=True)
class VesselDay:
    """A vessel over the day: when it is empty or full, and how often it is seen to."""

    items: tuple[str, ...]
    kind: VesselKind
    """On board and fed by tubes; filled by hand; takes waste."""
    volume: float
    """m3."""
    per_day: float
    """Taken from it, or let into it, over the day of service [m3]."""
    lasts_s: float
    """Into the service, until it is empty or full; endless where nothing is taken or let in."""
    drinks: float
    """Made until then; endless likewise."""
    visits: int
    """How often it has to be filled up, or emptied, before the day is over."""
