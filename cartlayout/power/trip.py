"""How long an overload lasts: never sooner than, and at the latest, by the standard's own tests.

A breaker's curve is its maker's; what a standard fixes is a few points that every curve must
pass on the right side of. More current never takes longer, so a test that holds at some current
holds for all below it, and one that trips at some current trips for all above it. Between the
points nothing is promised, and nothing is made up here.
"""

import math
from dataclasses import dataclass

from ..limits.breaker_times import BreakerStandard, BreakerType, TripTest


@dataclass(frozen=True, slots=True)
class TripBound:
    """When a breaker trips on a steady current."""

    multiple: float
    """Current against rating."""
    never_sooner_s: float
    """0 where nothing is promised; infinite where it never trips."""
    at_latest_s: float
    """Infinite where no test says that it must trip."""
    holds: tuple[str, str] = ("", "")
    """Rule and source of the lower bound."""
    trips: tuple[str, str] = ("", "")
    """Rule and source of the upper bound."""


def trip_bound(
    amps: float,
    rating_a: float,
    standard: BreakerStandard,
    breaker_type: BreakerType | None = None,
) -> TripBound:
    """Bounds for a steady current, from cold.

    Args:
        amps: through the breaker [A].
        rating_a: of the breaker [A].
        standard: whose tests hold.
        breaker_type: of its magnetic trip where the standard has types; None: not known, so it
            may act as early as any of them and need not act before the slowest.
    """
    if rating_a <= 0.0:
        return TripBound(math.inf, 0.0, math.inf)
    multiple = amps / rating_a
    holds, trips = _by_heat(multiple, rating_a, standard.tests)
    sooner, latest = holds[0], trips[0]
    holds_by, trips_by = holds[1:], trips[1:]
    ranges = [one for one in standard.instant if breaker_type in (None, one.type)]
    if ranges:
        first = min(ranges, key=lambda one: one.holds)
        last = max(ranges, key=lambda one: one.trips)
        if multiple > first.holds:
            sooner, holds_by = 0.0, ("", "")
        if multiple <= first.holds and sooner < first.time_s:
            sooner, holds_by = first.time_s, (first.rule, first.citation)
        if multiple >= last.trips and latest > last.time_s:
            latest, trips_by = last.time_s, (last.rule, last.citation)
    return TripBound(multiple, sooner, latest, holds_by, trips_by)


def _by_heat(
    multiple: float, rating_a: float, tests: tuple[TripTest, ...]
) -> tuple[tuple[float, str, str], tuple[float, str, str]]:
    holds, trips = (0.0, "", ""), (math.inf, "", "")
    for test in tests:
        if not test.is_for(rating_a):
            continue
        held_s = math.inf if test.holds_s is None else test.holds_s
        if multiple <= test.multiple * (1.0 + 1e-9) and held_s > holds[0]:
            holds = held_s, test.rule, test.citation
        if (
            test.trips_s is not None
            and multiple >= test.multiple * (1.0 - 1e-9)
            and test.trips_s < trips[0]
        ):
            trips = test.trips_s, test.rule, test.citation
    return holds, trips
