"""How long an earth-leakage device may take to trip."""

from functools import cache

from .rows import LimitsError, Row, Sourced
from .tables import read_table

_FILE = "leakage_times.json"


class LeakageTimes(Sourced, frozen=True):
    """The longest times of the usual device of some regions: a formula, or steps."""

    regions: tuple[str, ...]
    rule: str
    steps: tuple[tuple[float, float], ...]
    """(from so many amperes on, seconds), rising."""
    reference_a: float = 0.0
    exponent: float = 0.0
    most_a: float = 0.0
    """Up to where the formula goes; beyond, the time stays."""

    def longest_s(self, leak_a: float) -> float | None:
        """Seconds within which it trips on a leak [A]; None where it need not trip at all.

        Whether it trips at all at so small a leak is the device's own rating, and not asked here.
        """
        if self.steps:
            reached = [seconds for amps, seconds in self.steps if leak_a >= amps * (1.0 - 1e-9)]
            return reached[-1] if reached else None
        if leak_a <= 0.0:
            return None
        return float((self.reference_a / min(leak_a, self.most_a)) ** self.exponent)


class _Table(Row, frozen=True):
    devices: tuple[LeakageTimes, ...]


@cache
def leakage_devices() -> tuple[LeakageTimes, ...]:
    """Every sort of device."""
    return read_table(_FILE, _Table).devices


def leakage_times(region: str) -> LeakageTimes:
    """The usual device of a region.

    Raises:
        LimitsError: no device names the region.
    """
    for device in leakage_devices():
        if region in device.regions:
            return device
    raise LimitsError(f"{_FILE}: no device for the region '{region}'")
