"""Lines of working: how a number came about, for somebody who checks it by hand."""

from collections.abc import Iterable

from ..units import Phrase, Value
from .loads import nameplate_amps
from .placed import PlacedLoad


def amps(value: float) -> Value:
    """Amperes for a phrase."""
    return Value(value, "current")


def load_line(placed: PlacedLoad, counted_a: float) -> Phrase:
    """How one load's amps came about."""
    load, volts = placed.load, abs(placed.volts)
    name = placed.item.name
    if load.current is None and load.power is None:
        return Phrase.of("{name}: no watts or amps are given, counted as 0", name=name)
    if load.current is not None:
        given = Phrase.of("{name}: nameplate {amps}", name=name, amps=amps(load.current.si))
    else:
        assert load.power is not None
        given = Phrase.of(
            "{name}: {watts} / {volts} = {amps}",
            name=name,
            watts=Value(load.power.si, "power"),
            volts=Value(load.voltage.si, "voltage", 0),
            amps=amps(nameplate_amps(load)),
        )
    if abs(counted_a - nameplate_amps(load)) < 0.05:  # the same as printed
        return given
    return Phrase(
        given.template + "; {counted} on {supply}",
        (*given.values, ("counted", amps(counted_a)), ("supply", Value(volts, "voltage", 0))),
    )


def sum_line(total: float, limit: float) -> Phrase:
    """The sum against its limit."""
    return Phrase.of("together {total}, limit {limit}", total=amps(total), limit=amps(limit))


def total_lines(
    loads: Iterable[tuple[PlacedLoad, float]], total: float, limit: float
) -> tuple[Phrase, ...]:
    """Loads one by one and their sum."""
    return (*(load_line(placed, counted) for placed, counted in loads), sum_line(total, limit))
