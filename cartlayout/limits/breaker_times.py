"""How long a breaker must hold an overload, and when it must have tripped: the standards."""

from functools import cache
from typing import Literal

from .rows import LimitsError, Row, Sourced
from .tables import read_table

_FILE = "breaker_times.json"

BreakerType = Literal["B", "C", "D"]


class TripTest(Sourced, frozen=True):
    """One test of a standard: at so many times its rating a breaker holds, or trips."""

    multiple: float
    rule: str
    holds_s: float | None = 0.0
    """Does not trip before; None: never trips at this."""
    trips_s: float | None = None
    """Has tripped by then; None: the test does not say."""
    above_a: float = 0.0
    up_to_a: float = 1e9
    """Ratings that the test is for."""

    def is_for(self, rating_a: float) -> bool:
        """Whether the test is for breakers of a rating."""
        return self.above_a < rating_a <= self.up_to_a


class InstantRange(Sourced, frozen=True):
    """Where the magnetic trip of a type acts."""

    type: BreakerType
    holds: float
    """Times the rating that it does not act at."""
    trips: float
    """Times the rating that it acts at for certain."""
    time_s: float
    rule: str


class BreakerStandard(Sourced, frozen=True):
    """The tests of one standard, in the order of their multiples."""

    key: str
    name: str
    regions: tuple[str, ...]
    tests: tuple[TripTest, ...]
    instant: tuple[InstantRange, ...] = ()


class _Table(Row, frozen=True):
    standards: tuple[BreakerStandard, ...]


@cache
def breaker_standards() -> tuple[BreakerStandard, ...]:
    """Every standard, in the order of the table."""
    return read_table(_FILE, _Table).standards


def breaker_standard(region: str) -> BreakerStandard:
    """The standard that breakers of a region are made to.

    Raises:
        LimitsError: no standard names the region.
    """
    for standard in breaker_standards():
        if region in standard.regions:
            return standard
    raise LimitsError(f"{_FILE}: no standard of breakers for the region '{region}'")
