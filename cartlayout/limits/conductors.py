"""Resistance of copper conductors, at a stated temperature."""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from ..units import ConductorSize
from .rows import LimitsError, Row, Sourced, Status, weakest
from .tables import read_table

_FILE = "conductors.json"
_SAME = 1e-6

Wiring = Literal["cord", "fixed"]
"""cord: a flexible cord that lies in the open. fixed: the wires in a building or a panel."""


class _ResistanceRow(Sourced, frozen=True):
    size: ConductorSize
    ohm_per_km: float


class _Family(Sourced, frozen=True):
    """A column of a standard and the temperature it is stated at.

    The source of the family itself is that of the temperature coefficient.
    """

    wiring: Wiring
    sizes: Literal["AWG", "metric"]
    stated_at_c: float
    used_at_c: float
    """What is taken where the caller names no temperature."""
    coefficient_per_c: float
    """R(T) = R(stated) * (1 + coefficient * (T - stated))."""
    rows: tuple[_ResistanceRow, ...] = ()
    resistivity_ohm_m: float | None = None
    """Instead of rows: of the metal, divided by the conductor's nominal area."""


class _Table(Row, frozen=True):
    families: tuple[_Family, ...]


@dataclass(frozen=True, slots=True)
class ConductorResistance:
    """Of one conductor; out and back is twice as much."""

    ohm_per_m: float
    temperature_c: float
    """Of the copper, for which the resistance holds."""
    source: str
    status: Status
    working: str


@cache
def _families() -> dict[tuple[str, str], _Family]:
    families: dict[tuple[str, str], _Family] = {}
    for place, family in enumerate(read_table(_FILE, _Table).families):
        if (family.resistivity_ohm_m is None) == (not family.rows):
            raise LimitsError(f"{_FILE}: families[{place}]: give either rows or a resistivity")
        areas = [row.size.si for row in family.rows]
        if areas != sorted(areas):
            raise LimitsError(f"{_FILE}: families[{place}].rows: must run from thin to thick")
        families[family.wiring, family.sizes] = family
    missing = {(w, s) for w in ("cord", "fixed") for s in ("AWG", "metric")} - set(families)
    if missing:
        raise LimitsError(f"{_FILE}: families: nothing for {sorted(missing)[0]}")
    return families


@lru_cache(maxsize=4096)
def conductor_resistance(
    size: ConductorSize, temperature_c: float | None = None, wiring: Wiring = "cord"
) -> ConductorResistance:
    """Return the direct-current resistance of one copper conductor.

    Args:
        size: written in AWG it is looked up among the AWG sizes, otherwise among the metric.
            A size between two rows is scaled by area from the next smaller one.
        temperature_c: of the copper; None takes the family's usual one, which the result names.
        wiring: cords are taken at 20 degC of copper, as on the published wire tables, since
            a cord in the open that is loaded within reason stays near the air around it;
            fixed wires as the tables for buildings state them, hot.
    """
    family = _families()[wiring, "AWG" if size.awg is not None else "metric"]
    at_c = family.used_at_c if temperature_c is None else temperature_c
    warm = 1 + family.coefficient_per_c * (at_c - family.stated_at_c)
    if family.resistivity_ohm_m is not None:
        stated = family.resistivity_ohm_m / size.si
        words = f"{family.resistivity_ohm_m:.5g} ohm m over {size.si * 1e6:.4g} mm2"
        used: tuple[Sourced, ...] = (family,)
    else:
        row = _row(family, size)
        stated = row.ohm_per_km / 1000 * row.size.si / size.si
        words = f"{row.ohm_per_km:.4g} ohm/km for {row.size.text}"
        if abs(row.size.si / size.si - 1) > _SAME:
            words += f", scaled by area to {size.text}"
        used = (row,) if at_c == family.stated_at_c else (row, family)
    if at_c != family.stated_at_c:
        words += f", from {family.stated_at_c:g} to {at_c:g} degC"
    return ConductorResistance(
        stated * warm,
        at_c,
        "; ".join(dict.fromkeys(one.citation for one in used)),
        weakest(*(one.status for one in used)),
        words,
    )


def resistance_ohm_per_m(
    size: ConductorSize, temperature_c: float | None = None, wiring: Wiring = "cord"
) -> float:
    """Resistance of one conductor; see `conductor_resistance`."""
    return conductor_resistance(size, temperature_c, wiring).ohm_per_m


def _row(family: _Family, size: ConductorSize) -> _ResistanceRow:
    for row in reversed(family.rows):
        if row.size.si <= size.si * (1 + _SAME):
            return row
    return family.rows[0]
