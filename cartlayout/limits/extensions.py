"""Rules of thumb for extension cords and power strips, beside what the cord itself may carry."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from ..units import ConductorSize, Length, Power
from .rows import LimitsError, Row, Sourced
from .tables import read_table

_FILE = "extensions.json"
_SAME = 1e-6

CordSizes = Literal["AWG", "metric"]


class ExtensionRating(Sourced, frozen=True):
    """What an extension cord of a size is usually rated for."""

    size: ConductorSize
    amps: float
    rule: str = ""


class LengthAdvice(Sourced, frozen=True):
    """The thinnest cord that is advised for so many amps over so far."""

    sizes: CordSizes
    up_to_a: float
    up_to_length: Length
    size: ConductorSize


class ReelRule(Sourced, frozen=True):
    """What a cord on a reel may carry, wound up and fully unwound: an example of a label."""

    wound: Power
    unwound: Power


class StripRule(Sourced, frozen=True):
    """A rule for power strips (relocatable power taps)."""

    key: Literal["greatest rating", "usual rating", "usual length", "chain", "place"]
    rule: str
    amps: float | None = None
    length: Length | None = None


class _Table(Row, frozen=True):
    ratings: tuple[ExtensionRating, ...]
    advice: tuple[LengthAdvice, ...]
    reels: tuple[ReelRule, ...]
    strips: tuple[StripRule, ...]


@dataclass(frozen=True, slots=True)
class _Parts:
    table: _Table
    strips: dict[str, StripRule]


@cache
def _parts() -> _Parts:
    table = read_table(_FILE, _Table)
    for place, row in enumerate(table.advice):
        if (row.size.awg is None) != (row.sizes == "metric"):
            raise LimitsError(f"{_FILE}: advice[{place}]: {row.size.text} is not {row.sizes}")
    return _Parts(table, {row.key: row for row in table.strips})


def extension_rating(size: ConductorSize) -> ExtensionRating | None:
    """The usual rating of an extension cord; that of the next smaller size, or None."""
    awg = size.awg is not None
    rows = [
        row
        for row in _parts().table.ratings
        if (row.size.awg is not None) == awg and row.size.si <= size.si * (1 + _SAME)
    ]
    return max(rows, key=lambda row: row.size.si, default=None)


def advised_cord(amps: float, length_m: float, sizes: CordSizes = "AWG") -> LengthAdvice | None:
    """The thinnest cord advised for so many amps over so far, or None beyond the table."""
    rows = [
        row
        for row in _parts().table.advice
        if row.sizes == sizes
        and amps <= row.up_to_a + 1e-9
        and length_m <= row.up_to_length.si + 1e-9
    ]
    return min(rows, key=lambda row: row.size.si, default=None)


def reel_rules() -> tuple[ReelRule, ...]:
    """What cords on reels are labelled for."""
    return _parts().table.reels


def strip_rule(key: str) -> StripRule:
    """The rule for power strips of that key.

    Raises:
        LimitsError: there is none.
    """
    found = _parts().strips.get(key)
    if found is None:
        raise LimitsError(f"{_FILE}: there is no rule '{key}' for power strips")
    return found
