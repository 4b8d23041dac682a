"""What is told of a pump: its duty, its suction side, and the knock of valves that shut."""

import math
from dataclasses import dataclass

_S_PER_HOUR = 3600.0
_CHATTERS_BELOW_S = 0.5
"""A whole cycle: what a hand feels as a rattle. Common practice, no source."""


def starts_per_hour(on_s: float, off_s: float) -> float:
    """Starts an hour of a pump that runs and rests for so long; 0 where it never does."""
    cycle_s = on_s + off_s
    return _S_PER_HOUR / cycle_s if 0.0 < cycle_s < math.inf else 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """What the service plan draws."""

    hourly: float = 0.0
    """[m3] in an hour."""
    drink: float = 0.0
    """[m3] for one drink, where a tap does not say."""
    rinse: float = 0.0
    """[m3] after it."""


@dataclass(frozen=True, slots=True)
class DutyPoint:
    """A pump in one case. Where it cycles, `ends` are cut-in and cut-out."""

    case: str
    demand: float
    """Drawn through it [m3/s], at the top of its range."""
    cycles: bool
    ends: tuple[tuple[float, float], ...]
    """(flow [m3/s], pressure added [Pa]) while it runs: two ends where it cycles, else one."""
    current_a: float | None
    """Greatest on the way, by the maker's table, at the pump's own voltage; None: not stated."""
    on_s: float = math.inf
    off_s: float = 0.0
    bare_on_s: float = math.inf
    bare_off_s: float = 0.0
    """The same without its vessel: only the tubes give."""

    @property
    def starts_per_hour(self) -> float:
        """Starts while the draw goes on; 0 where it never stops."""
        return starts_per_hour(self.on_s, self.off_s)

    @property
    def bare_starts_per_hour(self) -> float:
        """Starts without its vessel."""
        return starts_per_hour(self.bare_on_s, self.bare_off_s)

    @property
    def chatters(self) -> bool:
        """Whether it would go on and off faster than a switch can follow."""
        return self.cycles and self.on_s + self.off_s < _CHATTERS_BELOW_S

    @property
    def bare_chatters(self) -> bool:
        """The same without its vessel."""
        return self.cycles and self.bare_on_s + self.bare_off_s < _CHATTERS_BELOW_S

    @property
    def share_on(self) -> float:
        """Share of the time it runs."""
        whole_s = self.on_s + self.off_s
        return self.on_s / whole_s if self.cycles and 0.0 < whole_s < math.inf else 1.0


@dataclass(frozen=True, slots=True)
class Swing:
    """How far the pressure at a tap goes up and down while the pump cycles, this tap alone open."""

    item: str
    port: str
    name: str
    high_pa: float
    low_pa: float
    fall_s: float
    """From the top to the bottom of it, with the vessel."""
    bare_fall_s: float
    """The same without a vessel."""
    drink: float = 0.0
    """Water it takes for one drink [m3]."""
    drink_low_pa: float = 0.0
    """Lowest while one drink is drawn, begun with the line full."""
    bare_drink_low_pa: float = 0.0
    """The same without a vessel."""


@dataclass(frozen=True, slots=True)
class PumpDuty:
    """A demand pump over all cases."""

    item: str
    accumulator: str | None
    """The nearest."""
    pre_charge_pa: float
    """Of that one."""
    cut_in_pa: float
    cut_out_pa: float
    useful_volume: float
    """Of its vessels, between cut-in and cut-out [m3]."""
    stretch: float
    """What the tubes give between the two [m3]."""
    reaches_cut_out: bool
    """False: it cannot push as high as its switch, and would never stop."""
    points: tuple[DutyPoint, ...] = ()
    worst_case: str = ""
    """In which it starts most often."""
    shortest_run_s: float = math.inf
    """To fill the line while nobody draws."""
    most_starts_per_hour: float = 0.0
    """At the worst draw there could be: about half of what it gives."""
    service_starts_per_hour: float = 0.0
    """At most, by the service plan's water."""
    vessels: tuple[str, ...] = ()
    """Ids of all accumulators that work with it, the nearest first."""
    swings: tuple[Swing, ...] = ()

    def point(self, case: str) -> DutyPoint | None:
        """What it does in a case, or None where nothing is drawn through it."""
        return next((one for one in self.points if one.case == case), None)

    @property
    def worst(self) -> DutyPoint | None:
        """The case in which it starts most often."""
        return self.point(self.worst_case)

    @property
    def current_a(self) -> float | None:
        """The greatest current in any case."""
        known = [one.current_a for one in self.points if one.current_a is not None]
        return max(known, default=None)


@dataclass(frozen=True, slots=True)
class Suction:
    """The way from a vented tank up to a pump."""

    pump: str
    tank: str
    lift_m: float
    """From the water's surface as it stands up to the pump's inlet; below zero: it runs in."""
    last_lift_m: float
    """From the last water that can be drawn."""
    greatest_lift_m: float
    """What the pump's maker allows."""
    lift_here_m: float
    """The same under the thinner air, or over the warmer water, of this place."""
    loss_pa: float
    """Along the suction line at the greatest flow."""
    flow: float
    """That flow [m3/s]."""
    available_m: float
    """Net positive suction head at that flow, drawing the last water."""
    required_m: float | None
    """As its maker states; None: not stated."""
    air_m: float
    vapour_m: float
    """The air's pressure and the water's own, as heads."""
    density_kg_m3: float
    foot_valve: bool
    """Or a check valve on the way: it keeps the line full."""
    primed: bool
    """False: the pick-up is above the water, or air can get in while it stands."""
    left_behind: float
    """Water below the pick-up that stays in the tank [m3]."""
    crest_m: float = 0.0
    """How far the line is led up above both of its ends: air gathers there."""
    tubes: tuple[str, ...] = ()
    """Ids of the tubes on the way, from the tank on."""
    lasts_s: float = math.inf
    """Time of service, by its plan, until the water stands at the pick-up and air comes in."""


@dataclass(frozen=True, slots=True)
class Surge:
    """The knock of one valve that shuts."""

    item: str
    port: str
    name: str
    run: str
    """The tube on the line to it that is most over its rating; the one at the valve if none is."""
    velocity_m_s: float
    """Of the water that is stopped in this tube."""
    wave_m_s: float
    """In this tube."""
    length_m: float
    """Of the line that the wave runs along, back to the nearest vessel, tank or main."""
    closing_s: float
    assumed: bool
    """The closing time is typical, not stated."""
    bound_pa: float
    """Most that it can add (Joukowsky), however quick the valve."""
    rise_pa: float
    """What it adds at its closing time."""
    static_pa: float
    """That the line stands at."""
    rating_pa: float | None
    """Of the tube, at its temperature."""
    back_s: float = 0.0
    """After which the wave is back at the valve; one that shuts faster makes it whole."""
    slow_pa_s: float = 0.0
    """What a valve that shuts within a second would add; one of half a second adds twice that."""
    tubes: tuple[str, ...] = ()
    """All tubes of that line, from the valve back."""
    waves_m_s: tuple[float, ...] = ()
    """In each of them."""

    @property
    def peak_pa(self) -> float:
        """The highest the tube sees."""
        return self.static_pa + self.rise_pa

    @property
    def slow_enough_s(self) -> float:
        """Closing time that the tube stands; infinite where it is over its rating at rest."""
        left_pa = (self.rating_pa or math.inf) - self.static_pa
        return self.slow_pa_s / left_pa if left_pa > 0.0 else math.inf
