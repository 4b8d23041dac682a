"""The most that an appliance may leak to earth by its product standard."""

from functools import cache
from typing import Literal

from .rows import Row, Sourced
from .tables import by_key, read_table

_FILE = "leakage.json"
LeakageSort = Literal["plugged in", "fastened heater", "fastened motor"]


class LeakageCeiling(Sourced, frozen=True):
    """The ceiling for one sort of appliance."""

    sort: LeakageSort
    least_a: float
    per_w: float
    most_a: float
    rule: str

    def amps(self, watts: float) -> float:
        """Most that it may leak [A], by its watts."""
        return min(max(self.least_a, self.per_w * watts), self.most_a)


class _Table(Row, frozen=True):
    ceilings: tuple[LeakageCeiling, ...]


@cache
def leakage_ceilings() -> dict[str, LeakageCeiling]:
    """By sort."""
    rows = read_table(_FILE, _Table).ceilings
    return by_key(f"{_FILE}: ceilings", [(row.sort, row) for row in rows])


def leakage_ceiling(sort: LeakageSort) -> LeakageCeiling:
    """The ceiling of a sort of appliance."""
    return leakage_ceilings()[sort]
