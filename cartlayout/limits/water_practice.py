"""What good practice asks of a supply line, whatever the region."""

from functools import cache

from .profiles import Setting
from .rows import Row
from .tables import read_table

_FILE = "water_practice.json"


class WaterPractice(Row, frozen=True):
    """Advice for supply lines, each with its source."""

    greatest_velocity_m_s: Setting[float]
    pre_charge_below_cut_in_pa: Setting[float]
    least_pre_charge_share: Setting[float]
    """Of the cut-in."""
    adapter_efficiency: Setting[float]
    """Of a mains adapter before a pump of low voltage."""
    shortest_run_s: Setting[float]
    """Of a demand pump, at each start."""
    closing_fill_s: Setting[float]
    closing_drawn_s: Setting[float]
    closing_opening_s: Setting[float]
    """How long valves take to shut, by what they are for."""
    foot_valve_bores: Setting[float]
    """Length of tube that costs as much as a foot valve, in bores."""
    filter_days_ahead: Setting[float]
    """Days of service left in a cartridge at which the next one is ordered."""
    least_dissolved_for_probe_kg_m3: Setting[float]
    """That a level probe needs to feel the water."""
    heater_expansion: Setting[bool]
    """Whether a storage heater whose line is closed needs room for what swells."""
    carbonator_backflow: Setting[bool]
    """Whether a carbonator needs a vented double check before it, and no copper between."""
    mains_least_pa: Setting[float]
    mains_greatest_pa: Setting[float]
    """What a main stands at that nobody measured."""
    gauge_error_share: Setting[float]
    """Of its full scale that a gauge may be off by."""
    regulator_creep_pa: Setting[float]
    regulator_droop_pa_s_m3: Setting[float]
    regulator_open_pa_s2_m6: Setting[float]
    """Of a small regulator that is not chosen yet."""


@cache
def water_practice() -> WaterPractice:
    """Return the advice for supply lines."""
    return read_table(_FILE, WaterPractice)
