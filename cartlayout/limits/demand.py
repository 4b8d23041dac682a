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
    """For one unit, two, ...; the last for all more."""
    least_w: float
    """Smaller units do not count."""
    fastened_only: bool
    never_below_two_largest: bool
    rule: str

    def demand_w(self, watts: list[float]) -> float:
        """Watts to plan for, of units of so many watts [W]."""
        if not watts:
            return 0.0
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
