"""Between what a figure may lie that nobody has checked, for the re-solving of sensitivity."""

from functools import cache

from .profiles import Setting
from .rows import Row
from .tables import read_table

_FILE = "unknown_ranges.json"


class Span(Row, frozen=True, array_like=True):
    """Both ends of a range: times what is taken, or in the unit that the name says.

    In the table a pair: the least, then the greatest.
    """

    least: float
    greatest: float


class UnknownRanges(Row, frozen=True):
    """Stated ranges, each with where it is from; factors where the name says no unit."""

    watts: Setting[Span]
    start_multiple: Setting[Span]
    longest_run_s: Setting[Span]
    run_length_m: Setting[Span]
    """Of a venue's own wire, one way."""
    mass: Setting[Span]
    inlet_flow: Setting[Span]
    least_pressure: Setting[Span]
    greatest_pressure: Setting[Span]
    pump_flow: Setting[Span]
    switch: Setting[Span]
    """Cut-in and cut-out of a pump, together."""
    pre_charge: Setting[Span]
    filter_loss: Setting[Span]
    droop: Setting[Span]
    """And creep, of a regulator."""
    closing_time: Setting[Span]
    tube_length: Setting[Span]
    drinks: Setting[Span]
    per_drink: Setting[Span]
    rinse: Setting[Span]
    hardness_kg_m3: Setting[Span]
    battery_share: Setting[Span]


@cache
def unknown_ranges() -> UnknownRanges:
    """Return the stated ranges."""
    return read_table(_FILE, UnknownRanges)
