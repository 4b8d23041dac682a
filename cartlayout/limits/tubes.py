"""Tubes and hoses that can be bought."""

from functools import cache

from ..units import Length, Pressure, Temperature
from .rows import LimitsError, Row, Sourced
from .tables import by_key, read_table
from .water_connectors import WaterMedium

_FILE = "tubes.json"
_NEAR_K = 0.5
"""Tables in degrees Fahrenheit and Celsius are rounded against each other by about this much."""


class TubeRow(Sourced, frozen=True, kw_only=True):
    """A kind of tube or hose."""

    name: str
    outer: Length
    bore: Length
    material: str
    roughness: Length
    roughness_source: str
    rating: Pressure | None = None
    """Working pressure; None where nobody states one."""
    rating_at: Temperature | None = None
    warm_rating: Pressure | None = None
    """Working pressure at the highest temperature that somebody states one for."""
    warm_rating_at: Temperature | None = None
    rating_source: str = ""
    least_bend_radius: Length | None = None
    """Of the middle line."""
    potable: bool
    """Sold for drinking water."""
    media: tuple[WaterMedium, ...]
    ends: str = ""
    """Connector that is fixed to both ends of a hose set; empty for tube from the roll."""
    seldom: bool = False
    """Taken where somebody asks for it, behind a heater for one; never chosen by itself."""

    def rated_pa(self, temperature_k: float) -> float | None:
        """Working pressure at a temperature, in pascals.

        Between the two stated temperatures it falls along a straight line. None where nothing
        is stated, or the water is hotter than anything that is.
        """
        if self.rating is None or self.rating_at is None:
            return None
        if temperature_k <= self.rating_at.si + _NEAR_K:
            return self.rating.si
        if self.warm_rating is None or self.warm_rating_at is None:
            return None
        span = self.warm_rating_at.si - self.rating_at.si
        share = (temperature_k - self.rating_at.si) / span
        if share > 1 + _NEAR_K / span:
            return None
        return self.rating.si + (self.warm_rating.si - self.rating.si) * min(share, 1.0)


class _Table(Row, frozen=True):
    tubes: tuple[TubeRow, ...]


@cache
def _tubes() -> dict[str, TubeRow]:
    rows = read_table(_FILE, _Table).tubes
    for place, row in enumerate(rows):
        if row.bore.si >= row.outer.si:
            raise LimitsError(f"{_FILE}: tubes[{place}]: the bore is no less than the outside")
        warm, cold = row.warm_rating_at, row.rating_at
        if warm is not None and (cold is None or warm.si <= cold.si):
            raise LimitsError(f"{_FILE}: tubes[{place}]: warm_rating_at must be above rating_at")
    return by_key(f"{_FILE}: tubes", [(row.name, row) for row in rows])


def tubes() -> tuple[TubeRow, ...]:
    """Every tube, in the order of the table."""
    return tuple(_tubes().values())


def tube_row(name: str) -> TubeRow | None:
    """The tube of that name, or None."""
    return _tubes().get(name)
