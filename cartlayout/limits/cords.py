"""What a flexible cord may carry."""

from dataclasses import dataclass
from functools import cache, lru_cache

from ..units import ConductorSize
from .rows import LimitsError, Row, Sourced, Status, weakest
from .tables import read_table

_FILE = "cords.json"
_SAME = 1e-6
"""Sizes closer than this share are the same size written in another way."""


class _CordRow(Sourced, frozen=True):
    size: ConductorSize
    two_loaded_a: float
    three_loaded_a: float
    sold: bool = True
    """False: a size that is rarely on a shelf (common practice, no source)."""


class _ManyFactor(Sourced, frozen=True):
    up_to_conductors: int
    factor: float


class _AmbientFactor(Sourced, frozen=True):
    up_to_c: float
    factor: float


class _Table(Row, frozen=True):
    awg: tuple[_CordRow, ...]
    metric: tuple[_CordRow, ...]
    more_than_three: tuple[_ManyFactor, ...]
    ambient: tuple[_AmbientFactor, ...]


@dataclass(frozen=True, slots=True)
class CordRating:
    """The most that a cord may carry without a break."""

    amps: float
    source: str
    status: Status
    working: str
    """How the number came about, in words: "25 A for 12 AWG, times 0.91 at 31 to 35 degC"."""


@cache
def _table() -> _Table:
    table = read_table(_FILE, _Table)
    for name, rows in (("awg", table.awg), ("metric", table.metric)):
        areas = [row.size.si for row in rows]
        if areas != sorted(areas) or not areas:
            raise LimitsError(f"{_FILE}: {name}: the rows must run from thin to thick")
    return table


@lru_cache(maxsize=4096)
def ampacity(size: ConductorSize, loaded_conductors: int, ambient_c: float = 30.0) -> CordRating:
    """Return what a flexible cord may carry.

    Args:
        size: of each conductor; written in AWG it is looked up among the AWG sizes,
            otherwise among the metric ones. A size between two rows is rated as the
            next smaller one.
        loaded_conductors: conductors that carry current; the earth never counts, and a
            neutral only where it carries more than what the legs leave over.
        ambient_c: air around the cord. Cooler air than the table's 30 degC earns nothing.

    Returns:
        The rating; 0 A where the table has nothing so thin or no factor for air so hot.
    """
    table = _table()
    rows = table.awg if size.awg is not None else table.metric
    row = next((row for row in reversed(rows) if row.size.si <= size.si * (1 + _SAME)), None)
    if row is None:
        return CordRating(
            0.0,
            rows[0].citation,
            rows[0].status,
            f"{size.text} is thinner than the thinnest cord of the table, {rows[0].size.text}",
        )
    amps = row.two_loaded_a if loaded_conductors <= 2 else row.three_loaded_a
    words = [f"{amps:g} A for {row.size.text} with {_count(loaded_conductors)}"]
    if row.size.si < size.si * (1 - _SAME):
        words.append(f"{size.text} is not in the table, so the next smaller size governs")
    used: list[Sourced] = [row]
    if loaded_conductors > 3:
        many = _many(table, loaded_conductors)
        amps *= many.factor
        words.append(f"times {many.factor:g} for {loaded_conductors} conductors")
        used.append(many)
    if ambient_c > table.ambient[0].up_to_c:
        hot = next((one for one in table.ambient if ambient_c <= one.up_to_c), None)
        used.append(hot or table.ambient[-1])
        amps *= hot.factor if hot else 0.0
        words.append(
            f"times {hot.factor:g} at {ambient_c:g} degC"
            if hot
            else f"no rating in air of {ambient_c:g} degC"
        )
    return CordRating(
        amps,
        "; ".join(dict.fromkeys(one.citation for one in used)),
        weakest(*(one.status for one in used)),
        ", ".join(words),
    )


def cord_sizes(awg: bool, up_to_a: float) -> tuple[ConductorSize, ...]:
    """Sizes of flexible cord that are sold, the thinnest first.

    Args:
        awg: the AWG sizes; otherwise the metric ones.
        up_to_a: the last one is the first that carries so much on two conductors, at 30 degC.
    """
    found = []
    for row in _table().awg if awg else _table().metric:
        if row.sold:
            found.append(row.size)
            if row.two_loaded_a >= up_to_a:
                break
    return tuple(found)


def _count(loaded_conductors: int) -> str:
    return "two loaded conductors" if loaded_conductors <= 2 else "three loaded conductors"


def _many(table: _Table, loaded_conductors: int) -> _ManyFactor:
    for row in table.more_than_three:
        if loaded_conductors <= row.up_to_conductors:
            return row
    return table.more_than_three[-1]
