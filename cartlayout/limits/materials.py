"""What tubes are made of: how much their walls give."""

from functools import cache

from ..units import Pressure
from .rows import Row, Sourced
from .tables import by_key, read_table

_FILE = "materials.json"
_UNKNOWN = "polyethylene"
"""Taken where no table knows a material: most tubes of a cart are of it."""


class MaterialRow(Sourced, frozen=True):
    """A material of tube walls."""

    name: str
    elastic_modulus: Pressure
    """At 20 degC; warm plastic gives more."""
    cold_only: bool = False
    """Sold for cold water: warmth shortens its life."""
    cold_only_source: str = ""


class _Table(Row, frozen=True):
    materials: tuple[MaterialRow, ...]


@cache
def _materials() -> dict[str, MaterialRow]:
    rows = read_table(_FILE, _Table).materials
    return by_key(f"{_FILE}: materials", [(row.name, row) for row in rows])


def material(name: str) -> MaterialRow:
    """The material of that name, or the usual one where the table does not know it."""
    return _materials().get(name) or _materials()[_UNKNOWN]


def materials() -> tuple[MaterialRow, ...]:
    """Every material, in the order of the table."""
    return tuple(_materials().values())
