"""What a gauge should show, and what a person read off it. Pascals, gauge."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GaugeReading:
    """A gauge in one case."""

    case: str
    low_pa: float
    """Where the sources push least: pumps at cut-in, mains at their least."""
    high_pa: float
    """Where they push hardest."""
    read_pa: float | None = None
    """What was read off; None: nothing was."""

    @property
    def beyond_pa(self) -> float | None:
        """How far the needle stood above (or, negative, below) all that it should show."""
        if self.read_pa is None:
            return None
        return beyond(self.read_pa, self.low_pa, self.high_pa)


@dataclass(frozen=True, slots=True)
class GaugeState:
    """A gauge in every case that concerns its line, and how far it can be trusted."""

    item: str
    name: str
    fed: bool
    full_scale_pa: float
    error_pa: float
    """It may be off by so much either way and still be as good as its class."""
    readings: tuple[GaugeReading, ...] = ()
    unknown: tuple[str, ...] = ()
    """Cases that something was read in and that the build does not have any more."""

    def reading(self, case: str) -> GaugeReading | None:
        """What it shows in a case."""
        return next((one for one in self.readings if one.case == case), None)

    def is_off(self, reading: GaugeReading) -> bool:
        """Whether what was read off cannot be put down to the gauge itself."""
        beyond_pa = reading.beyond_pa
        return beyond_pa is not None and abs(beyond_pa) > self.error_pa

    @property
    def worst(self) -> GaugeReading | None:
        """The reading that is furthest from what it should be; None where nothing was read."""
        read = [one for one in self.readings if one.beyond_pa is not None]
        return max(read, key=lambda one: abs(one.beyond_pa or 0.0), default=None)


def beyond(read_pa: float, low_pa: float, high_pa: float) -> float:
    """How far a reading is above a range, or, negative, below it."""
    return max(read_pa - high_pa, 0.0) + min(read_pa - low_pa, 0.0)
