"""Where a code lets a feeder be planned for less than everything at once."""

from functools import cache

from .rows import Row, Sourced
from .tables import read_table

_FILE = "demand.json"


class DemandRule(Sourced, frozen=True):
    """Demand factors by the number of units."""

    regions: tuple[str, ...]
    sort: str
    shares: tuple[float, ...]
    """For one unit, two, ...; the last for all more. With `by_rank`: of the largest, ..."""
    least_w: float
    """Smaller units do not count."""
    fastened_only: bool
    never_below_two_largest: bool
    rule: str
    by_rank: bool = False
    """Each unit has a share by its size; else all have the share of their number."""
    thermostats_in_full: bool = False
    """Heaters with a thermostat do not count: they heat water, or may."""

    def counts(self, watts: float, *, fastened: bool, heats: bool) -> bool:
        """Whether a unit is one that the factors are for.

        Args:
            watts: of the unit [W].
            fastened: it stands fastened in place.
            heats: it is a heater with a thermostat.
        """
        if heats and self.thermostats_in_full:
            return False
        return watts >= self.least_w and (fastened or not self.fastened_only)

    def demand_w(self, watts: list[float]) -> float:
        """Watts to plan for, of units of so many watts [W]."""
        if not watts:
            return 0.0
        if self.by_rank:
            rest = self.shares[-1]
            shares = (*self.shares, *(rest,) * len(watts))
            largest = sorted(watts, reverse=True)
            return sum(share * one for share, one in zip(shares, largest, strict=False))
        share = self.shares[min(len(watts), len(self.shares)) - 1]
        demand = share * sum(watts)
        if self.never_below_two_largest:
            demand = max(demand, sum(sorted(watts)[-2:]))
        return demand


class _Table(Row, frozen=True):
    rules: tuple[DemandRule, ...]


@cache
def demand_rules() -> tuple[DemandRule, ...]:
    """Every rule."""
    return read_table(_FILE, _Table).rules


def demand_rule(region: str) -> DemandRule | None:
    """The rule of a region, or None where there is none."""
    return next((rule for rule in demand_rules() if region in rule.regions), None)
