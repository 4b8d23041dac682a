"""Tubes and hoses that can be bought."""

from functools import cache

from ..units import Length, Pressure, Temperature
from .rows import LimitsError, Row, Sourced
from .tables import by_key, read_table
from .water_connectors import WaterMedium

_FILE = "tubes.json"


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
    rating_source: str = ""
    least_bend_radius: Length | None = None
    """Of the middle line."""
    potable: bool
    """Sold for drinking water."""
    media: tuple[WaterMedium, ...]
    ends: str = ""
    """Connector that is fixed to both ends of a hose set; empty for tube from the roll."""


class _Table(Row, frozen=True):
    tubes: tuple[TubeRow, ...]


@cache
def _tubes() -> dict[str, TubeRow]:
    rows = read_table(_FILE, _Table).tubes
    for place, row in enumerate(rows):
        if row.bore.si >= row.outer.si:
            raise LimitsError(f"{_FILE}: tubes[{place}]: the bore is no less than the outside")
    return by_key(f"{_FILE}: tubes", [(row.name, row) for row in rows])


def tubes() -> tuple[TubeRow, ...]:
    """Every tube, in the order of the table."""
    return tuple(_tubes().values())


def tube_row(name: str) -> TubeRow | None:
    """The tube of that name, or None."""
    return _tubes().get(name)
