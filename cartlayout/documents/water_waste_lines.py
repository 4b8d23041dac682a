"""Waste water, and water over the day, as plain text."""

import math
from collections.abc import Iterable, Iterator

from ..analysis import Analysis
from ..units import UnitSystem, show
from ..water.drain_results import DrainState, VesselDay

_SEE = "  <- see findings"


def waste_lines(analysis: Analysis, system: UnitSystem) -> tuple[tuple[str, Iterable[str]], ...]:
    """Sections, each a heading with its lines; those without lines are left out."""
    return (
        ("Drains", _drains(analysis, system)),
        ("Water over a day of service", _day(analysis, system)),
    )


def _drains(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    for one in analysis.water.drains:
        start = _name(analysis, one.start[0])
        end = _name(analysis, one.end[0])
        yield f"  {start} to {end}: {_fall(one, system)}{_carries(one, system)}"
        for low in one.low_points:
            what = "air lock: " if low.sealed else ""
            yield (
                f"       {what}low point {show(low.along_m, 'distance', system)} along, climbs "
                f"{show(low.rise_m, 'length', system)} after it{_SEE if low.blocked else ''}"
            )
        if one.backs_up_m is not None:
            yield (
                f"       a full tank would back up to {_name(analysis, one.backs_up_to)}, "
                f"{show(one.backs_up_m, 'length', system)} over its outlet{_SEE}"
            )
    for pump in analysis.water.drain_pumps:
        yield (
            f"  {_name(analysis, pump.item)}: lifts {show(pump.lift_m, 'distance', system)} of "
            f"{show(pump.greatest_lift_m, 'distance', system)}, moves "
            f"{show(pump.flow, 'flow', system)}, "
            f"{show(pump.greatest[1], 'flow', system)} comes"
        )
    for gap in analysis.water.air_gaps:
        given = "not stated" if gap.given_m is None else show(gap.given_m, "length", system)
        short = gap.given_m is not None and gap.given_m < gap.needed_m
        yield (
            f"  Air gap of {_name(analysis, gap.item)}: {given}, needs "
            f"{show(gap.needed_m, 'length', system)}{_SEE if short else ''}"
        )


def _fall(one: DrainState, system: UnitSystem) -> str:
    if one.pumped:
        return "pumped"
    if math.isinf(one.slope):
        return "straight down" if one.slope > 0 else "straight up" + _SEE
    mark = "" if one.slope >= one.asked_slope else _SEE
    falls = show(one.slope, "percent", system)
    return f"falls {falls}, asked {show(one.asked_slope, 'percent', system)}{mark}"


def _carries(one: DrainState, system: UnitSystem) -> str:
    case, flow = one.greatest
    words = f", carries {show(one.half_full, 'flow', system)} half full"
    if one.advisory:
        words += " (a rough figure: thin and slow)"
    if case:
        words += f", {show(flow, 'flow', system)} comes ({case})"
    return "" if one.pumped else words


def _day(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    balance = analysis.water.balance
    if balance is None:
        return
    for kind, heading in (("fresh", "Fresh water for"), ("waste", "Down the drain")):
        shares = [one for one in balance.shares if one.kind == kind]
        for one in shares:
            yield f"  {heading}: {one.name}, {show(one.per_day, 'volume', system)}"
    for vessel in balance.vessels:
        names = ", ".join(_name(analysis, item) for item in vessel.items)
        yield f"  {names}: {vessel_words(vessel, system)}"


def vessel_words(vessel: VesselDay, system: UnitSystem) -> str:
    """When a vessel is empty or full, and how often it is seen to."""
    if vessel.visits <= 0 or not math.isfinite(vessel.lasts_s):
        return "lasts the day"
    done = "full" if vessel.kind == "waste" else "empty"
    act = "emptied" if vessel.kind == "waste" else "filled"
    times = "once" if vessel.visits == 1 else f"{vessel.visits} times"
    return f"{done} after {show(vessel.lasts_s, 'duration', system)}, has to be {act} {times}"


def _name(analysis: Analysis, item_id: str) -> str:
    item = analysis.build.item(item_id)
    return item.name if item is not None else item_id
