"""What gauges should show, and what they did, as plain text and as JSON."""

from collections.abc import Iterator
from typing import Any

from ..units import UnitSystem, show, show_plain
from ..water.gauge_results import GaugeReading
from ..water.results import WaterResult


def gauge_lines(water: WaterResult, system: UnitSystem) -> Iterator[str]:
    """A line for each gauge and case."""
    for gauge in water.gauges:
        if not gauge.fed:
            yield f"  {gauge.name}: not fed"
            continue
        yield f"  {gauge.name}"
        for one in gauge.readings:
            read = ""
            if one.read_pa is not None:
                off = "  <- not what it should" if gauge.is_off(one) else ""
                read = f", reads {show(one.read_pa, 'pressure', system)}{off}"
            yield f"       {one.case}: should show {_range(one, system)}{read}"
        for case in gauge.unknown:
            yield f"       {case}: read, but there is no such case any more"


def _range(one: GaugeReading, system: UnitSystem) -> str:
    low = show_plain(one.low_pa, "pressure", system)
    high = show_plain(one.high_pa, "pressure", system)
    shown = show(one.high_pa, "pressure", system)
    return shown if low == high else f"{low} to {shown}"


def gauges_json(water: WaterResult) -> list[dict[str, Any]]:
    """Every gauge in every case."""
    return [
        {
            "item": gauge.item,
            "fed": gauge.fed,
            "error_pa": gauge.error_pa,
            "readings": [
                {
                    "case": one.case,
                    "low_pa": one.low_pa,
                    "high_pa": one.high_pa,
                    "read_pa": one.read_pa,
                    "off": gauge.is_off(one),
                }
                for one in gauge.readings
            ],
        }
        for gauge in water.gauges
    ]
