"""What is told of a supply: who robs whom, how high its tubes go, and the window it must hit.

SI throughout: pascals (gauge), cubic metres a second, kelvins.
"""

import math
from dataclasses import dataclass
from typing import Literal

from ..network.results import Node

_NEAR_PA = 200.0
"""As near as edges are found: less than a gauge shows."""


def pair(tap_name: str, other_name: str) -> str:
    """Name of the automatic case in which two taps of one line are open."""
    return f"{tap_name} with {other_name}"


@dataclass(frozen=True, slots=True)
class Robber:
    """A tap that is open as well."""

    item: str
    port: str
    name: str


@dataclass(frozen=True, slots=True)
class Robbed:
    """A tap that gets less while others are open as well."""

    item: str
    port: str
    name: str
    by: tuple[Robber, ...]
    """Open as well, on the same line; those that draw most come first."""
    case: str
    """In `WaterResult.pairs` or `WaterResult.cases`."""
    alone_pa: float
    """At its inlet with only this tap open, where the sources push least."""
    pressure_pa: float
    """The same with the others open."""
    alone_flow: float
    flow: float
    fails: bool
    """It suffices alone and falls short now, in pressure or in flow."""
    pressure_ok: bool = True
    flow_ok: bool = True

    @property
    def fall_pa(self) -> float:
        """What the others take from it."""
        return self.alone_pa - self.pressure_pa


@dataclass(frozen=True, slots=True)
class TubeStatic:
    """The highest a supply tube sees with everything shut, against what it may."""

    run: str
    a_pa: float
    """At its end a."""
    b_pa: float
    temperature_k: float
    """Of its water where that is hottest."""
    rating_pa: float | None
    """At that temperature; None: nothing is stated for it."""
    too_hot: bool
    """A rating is stated, but for no temperature as high as this."""

    @property
    def highest_pa(self) -> float:
        """At the worse of its ends."""
        return max(self.a_pa, self.b_pa)


@dataclass(frozen=True, slots=True)
class WindowEdge:
    """One end of the window, and what sets it."""

    pressure_pa: float
    """At the supply's outlet: with water flowing for the lower edge, at rest for the upper."""
    name: str
    """Of the tap or of the tube."""
    item: str = ""
    port: str = ""
    """Of the tap; empty where a tube sets the edge."""
    run: str = ""
    """Of the tube; empty where a tap sets the edge."""
    case: str = ""
    """In which the lower edge is set."""


@dataclass(frozen=True, slots=True)
class Need:
    """What one case asks of the supply."""

    case: str
    taps: tuple[Node, ...]
    least_pa: float
    """At the supply's outlet so that every open tap has its pressure and its flow; infinite where
    no pressure does it, because a regulator on the way is set too low or a line lets no more by."""
    flow: float
    """Through the supply at that pressure."""
    item: str = ""
    port: str = ""
    name: str = ""
    """The tap that is the last to have enough."""
    counts: bool = True
    """Sets the window. Cases that the person did not name and that may never happen do not."""
    at_rest_pa: float = math.inf
    """That a mains tap must stand at to leave this; the same as `least_pa` for a pump."""
    given_pa: float = 0.0
    """At the outlet in this case as the line is now, where the supply gives least."""


@dataclass(frozen=True, slots=True)
class SetPoint:
    """A regulator before one tap, tried by solving the line with it."""

    item: str
    port: str
    name: str
    set_point_pa: float
    least_pa: float
    """Of set points that still feed the tap."""
    greatest_pa: float
    """Of set points that spare it, creep taken off."""
    regulator: str = ""
    """Id of the one that is there and is to be set anew; empty: one has to be put in."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a gauge shows in one case."""

    case: str
    least_pa: float
    """That it must show if every tap of the case is to have enough."""
    usual_pa: float
    """That it shows at the mains' usual pressure."""
    flow: float
    """At that usual pressure, past the gauge."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """Where to hold a gauge at a mains tap on arrival, and what it may show there."""

    node: Node
    behind: str
    """Name of the filter before the gauge, or of the mains tap where there is no filter."""
    item: str
    """Id of it."""
    filtered: bool
    greatest_pa: float
    """It may show this much with everything shut; infinite where nothing limits it."""
    usual_pa: float
    """With everything shut, at the mains' usual pressure."""
    open: tuple[Expected, ...] = ()


@dataclass(frozen=True, slots=True)
class SupplyWindow:
    """What one pump or mains tap has to give."""

    item: str
    name: str
    kind: Literal["pump", "mains"]
    outlet: Node
    flow: float
    """The hungriest flow that has to be given at once."""
    flow_case: str
    flow_taps: tuple[str, ...]
    """Names of the taps that ask for it."""
    least: WindowEdge | None
    """None where nothing on it needs pressure."""
    greatest: WindowEdge | None
    """None where nothing behind it can suffer, whatever it pushes."""
    needs: tuple[Need, ...]
    """Each tap alone, the person's cases, and everything open; the most demanding first."""
    low_pa: float
    """What it now gives at the least: a pump's cut-in, a mains tap's least."""
    high_pa: float
    """A pump's cut-out, a mains tap's greatest."""
    known: bool = True
    """False for a mains tap whose least or greatest nobody entered: what mains have is taken."""
    set_points: tuple[SetPoint, ...] = ()
    """Where the window is empty: regulators that open it, all of them together."""
    opened_least: WindowEdge | None = None
    """The window with these regulators."""
    opened_greatest: WindowEdge | None = None
    arrival: Arrival | None = None
    """Of a mains tap."""

    @property
    def least_pa(self) -> float:
        """At the outlet with water flowing; 0 where nothing needs pressure."""
        return self.least.pressure_pa if self.least is not None else 0.0

    @property
    def greatest_pa(self) -> float:
        """At the outlet at rest; infinite where nothing can suffer."""
        return self.greatest.pressure_pa if self.greatest is not None else math.inf

    @property
    def is_open(self) -> bool:
        """Whether one pressure can do for all."""
        return self.least_pa <= self.greatest_pa and not self.unreachable

    @property
    def unreachable(self) -> tuple[Need, ...]:
        """Cases that count and that no pressure at all feeds."""
        return tuple(one for one in self.needs if one.counts and one.least_pa == math.inf)

    @property
    def is_hit(self) -> bool:
        """Whether the supply hits it.

        All that count are fed where it gives least, and nothing suffers where it gives most. A
        mains tap has to do so over the whole range it may have.
        """
        counting = [one for one in self.needs if one.counts]
        if self.kind == "mains":
            fed = all(one.at_rest_pa <= self.low_pa + _NEAR_PA for one in counting)
        else:
            fed = all(one.least_pa <= one.given_pa + _NEAR_PA for one in counting)
        return fed and self.high_pa <= self.greatest_pa + _NEAR_PA
