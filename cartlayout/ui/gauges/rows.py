"""The table of a gauge as plain values: a row for every case of its line."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Gauge, Item
from ...units import Pressure, UnitSystem, show
from ...units.display import show_plain
from ...water.gauge_results import GaugeReading, GaugeState

_NEAR_PA = 500.0
"""Ends of a range nearer than this read as one number."""


@dataclass(frozen=True, slots=True)
class GaugeRow:
    """One case of one gauge."""

    gauge: str
    case: str
    should: str
    """What it should show, such as "2.4 to 3.6 bar"."""
    read: Pressure | None
    state: str
    """"ok", "care", or empty where nothing was read."""
    word: str
    """What the difference is, in words."""


@dataclass(frozen=True, slots=True)
class GaugeTable:
    """One gauge with its rows."""

    gauge: str
    name: str
    remark: str
    """How far it can be trusted, or why it shows nothing."""
    rows: tuple[GaugeRow, ...]
    forgotten: tuple[str, ...]
    """Cases it was read in that the build does not have any more."""


def gauge_tables(
    analysis: Analysis, items: Iterable[Item], system: UnitSystem
) -> tuple[GaugeTable, ...]:
    """The tables of some items, those that are gauges.

    Args:
        analysis: says what they should show.
        items: as they are now; what was read off is taken from them.
        system: whose units.
    """
    states = {one.item: one for one in analysis.water.gauges}
    return tuple(
        _table(item, states.get(item.id), system)
        for item in items
        if isinstance(item.specification.water, Gauge)
    )


def _table(item: Item, state: GaugeState | None, system: UnitSystem) -> GaugeTable:
    if state is None or not state.fed:
        read = tuple(one.case for one in item.readings)
        return GaugeTable(item.id, item.name, "No water stands at it.", (), read)
    error = show(state.error_pa, "pressure", system)
    return GaugeTable(
        item.id,
        item.name,
        f"It may be off by {error} either way and still be good.",
        tuple(_rows(item, state, system)),
        state.unknown,
    )


def _rows(item: Item, state: GaugeState, system: UnitSystem) -> Iterator[GaugeRow]:
    read = {one.case: one.pressure for one in item.readings}
    for one in state.readings:
        pressure = read.get(one.case)
        verdict, word = "", ""
        if pressure is not None:
            verdict, word = _verdict(state, one, pressure, system)
        yield GaugeRow(item.id, one.case, should_read(one, system), pressure, verdict, word)


def should_read(reading: GaugeReading, system: UnitSystem) -> str:
    """What a gauge should show in a case: one number, or the two its needle goes between."""
    low = show_plain(reading.low_pa, "pressure", system)
    high = show_plain(reading.high_pa, "pressure", system)
    if low == high or reading.high_pa - reading.low_pa < _NEAR_PA:
        return show(reading.low_pa, "pressure", system)
    return f"{low} to {show(reading.high_pa, 'pressure', system)}"


def _verdict(
    state: GaugeState, reading: GaugeReading, pressure: Pressure, system: UnitSystem
) -> tuple[str, str]:
    typed = GaugeReading(reading.case, reading.low_pa, reading.high_pa, pressure.si)
    beyond_pa = typed.beyond_pa or 0.0
    if not state.is_off(typed):
        return "ok", "as it should be"
    much = show(abs(beyond_pa), "pressure", system)
    return "care", f"{much} {'more' if beyond_pa > 0 else 'less'} than it should"
