"""The water side as plain text: taps, what the supply has to give, pumps, drains, the day."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..units import UnitSystem, counted, show, show_plain
from ..units.display import unit_label
from ..water.results import ALL_OPEN, Tap, WaterResult, alone
from ..water.supply_results import Robbed, SetPoint, SupplyWindow
from .gauge_lines import gauge_lines
from .water_waste_lines import waste_lines

SEE = "  <- see findings"
_MOST_ROBBED = 3
"""Of who robs a tap, the worst so many."""


def water_lines(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    """Everything the water side says, section by section."""
    water = analysis.water
    yield f"Taps ({unit_label('pressure', system)}, {unit_label('flow', system)})"
    if not water.taps:
        yield "  none: nothing on the plan takes water"
    for tap in water.taps:
        yield from _tap(tap, water, system)
    for heading, lines in (
        ("What the supply has to give", _windows(water, system)),
        ("Pumps", _pumps(analysis, system)),
        ("Heaters, filters, regulators", _elements(analysis, system)),
        ("Gauges", gauge_lines(water, system)),
        ("Valves that shut", _surges(water, system)),
        *waste_lines(analysis, system),
    ):
        found = list(lines)
        if found:
            yield ""
            yield heading
            yield from found


def robbed_words(one: Robbed, system: UnitSystem) -> str:
    """Such as "Pitcher rinser open: 41.1 to 37.5 psi, 0.40 gal/min"."""
    names = ", ".join(robber.name for robber in one.by)
    falls = show_plain(one.alone_pa, "pressure", system, beside=one.pressure_pa)
    to = show(one.pressure_pa, "pressure", system, beside=one.alone_pa)
    return f"{names} open: {falls} to {to}, {show(one.flow, 'flow', system)}"


def _tap(tap: Tap, water: WaterResult, system: UnitSystem) -> Iterator[str]:
    window = (
        f"allowed {show_plain(tap.least_pa, 'pressure', system)} to "
        f"{show(tap.greatest_pa, 'pressure', system)}, "
        f"needs {show(tap.required_flow, 'flow', system)}"
    )
    yield f"  {tap.name}: {window}"
    if not tap.fed:
        yield "       not fed"
        return
    mark = "" if tap.static_pa <= tap.greatest_pa else SEE
    yield f"       all shut         {show(tap.static_pa, 'pressure', system)}{mark}"
    for label, case in (("alone", alone(tap.name)), ("everything open", ALL_OPEN)):
        state = tap.states.get(case)
        if state is None:
            continue
        mark = "" if state.pressure_ok and state.flow_ok else SEE
        yield (
            f"       {label:<16} {show(state.pressure_pa, 'pressure', system)}, "
            f"{show(state.flow, 'flow', system)}{mark}"
        )
    pairs = [one for one in water.robbed(tap.item, tap.port) if one.case != ALL_OPEN]
    for one in pairs[:_MOST_ROBBED]:
        yield f"       {robbed_words(one, system)}{SEE if one.fails else ''}"


def _windows(water: WaterResult, system: UnitSystem) -> Iterator[str]:
    for window in water.windows:
        taps = ", ".join(window.flow_taps)
        yield f"  {window.name}: {show(window.flow, 'flow', system)} at once ({taps})"
        for line in edge_lines(window, system):
            yield f"       {line}"
        gives = (
            f"{show_plain(window.low_pa, 'pressure', system)} to "
            f"{show(window.high_pa, 'pressure', system)}"
        )
        of_whom = "" if window.known else ", assumed"
        verdict = "inside" if window.is_hit else f"not inside{SEE}"
        yield f"       it gives         {gives}{of_whom}: {verdict}"
        for point in window.set_points:
            yield f"       {set_point_words(point, system)}"
        yield from _arrival(window, system)


def edge_lines(window: SupplyWindow, system: UnitSystem) -> Iterator[str]:
    """Both edges of a window, and what sets each."""
    least, greatest = window.least, window.greatest
    for case in window.unreachable:
        yield f"no pressure feeds {case.name or case.case}"
    if least is None:
        yield "at least         nothing on it asks for pressure"
    elif math.isfinite(least.pressure_pa):
        yield f"at least         {show(least.pressure_pa, 'pressure', system)} for {least.name}"
    if greatest is None or not math.isfinite(greatest.pressure_pa):
        yield "at most          nothing behind it suffers"
    else:
        most = show(greatest.pressure_pa, "pressure", system)
        yield f"at most          {most} at rest, because of {greatest.name}"


def set_point_words(point: SetPoint, system: UnitSystem) -> str:
    """What a regulator before a tap would have to be set to."""
    at = show(point.set_point_pa, "pressure", system)
    if point.regulator:
        return f"set the regulator before {point.name} to {at}"
    return f"put a regulator before {point.name}, set to {at}"


def _arrival(window: SupplyWindow, system: UnitSystem) -> Iterator[str]:
    arrival = window.arrival
    if arrival is None:
        return
    where = f"after {arrival.behind}" if arrival.filtered else f"at {arrival.behind}"
    if math.isfinite(arrival.greatest_pa):
        most = show(arrival.greatest_pa, "pressure", system)
        yield f"       on arrival, gauge {where}: all shut at most {most}"
    else:
        yield f"       on arrival, gauge {where}"
    for one in arrival.open:
        if math.isfinite(one.least_pa):
            least = show(one.least_pa, "pressure", system)
            yield f"         {one.case}: at least {least}"


def _pumps(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    water = analysis.water
    for duty in water.duties:
        yield (
            f"  {_name(analysis, duty.item)}: {show_plain(duty.cut_in_pa, 'pressure', system)} to "
            f"{show(duty.cut_out_pa, 'pressure', system)}"
        )
        if duty.accumulator is not None:
            useful = show(duty.useful_volume, "small volume", system, 0)
            vessel = f"{_name(analysis, duty.accumulator)}, {useful} useful"
        else:
            vessel = "none"
        yield f"       accumulator      {vessel}"
        if duty.most_starts_per_hour > 0.0:
            yield (
                f"       starts an hour   {duty.most_starts_per_hour:.0f} at the worst draw, "
                f"{duty.service_starts_per_hour:.0f} in service"
            )
        if math.isfinite(duty.shortest_run_s):
            yield f"       shortest run     {show(duty.shortest_run_s, 'seconds', system)}"
        for point in duty.points:
            drawn = show(point.demand, "flow", system)
            how = f"runs {point.share_on:.0%} of the time" if point.cycles else "runs all the time"
            amps = (
                f", {show(point.current_a, 'current', system)}"
                if point.current_a is not None
                else ""
            )
            yield f"       {point.case}: {drawn}, {how}{amps}"
    for one in water.suctions:
        starved = one.required_m is not None and one.available_m < one.required_m
        spare = "" if one.primed and not starved else SEE
        needs = (
            f", needs {show(one.required_m, 'distance', system)}"
            if one.required_m is not None
            else ""
        )
        yield (
            f"  {_name(analysis, one.pump)} draws from {_name(analysis, one.tank)}: lift "
            f"{show(one.last_lift_m, 'distance', system)} at the last water, net positive suction "
            f"head {show(one.available_m, 'distance', system)}{needs}{spare}"
        )
        if one.left_behind > 0.0:
            yield f"       stays in the tank {show(one.left_behind, 'volume', system)}"


def _elements(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    water = analysis.water
    for heater in water.heaters:
        on = all(point.switches_on for point in heater.points)
        outlet = show(heater.outlet_k, "temperature", system)
        yield f"  {_name(analysis, heater.item)}: {outlet} behind it{'' if on else SEE}"
    for one in water.filters:
        most = show_plain(one.flow, "flow", system)
        rated = show(one.rated_flow, "flow", system)
        loss = show(one.loss_pa, "pressure", system)
        last = (
            f", {counted(int(one.days_left), 'day')} left"
            if one.days_left is not None and math.isfinite(one.days_left)
            else ""
        )
        yield f"  {_name(analysis, one.item)}: {most} of {rated}, takes {loss}{last}"
    for part in water.regulators:
        yield (
            f"  {_name(analysis, part.item)}: set to {show(part.set_pa, 'pressure', system)}, "
            f"{show(part.outlet_pa, 'pressure', system)} at {show(part.flow, 'flow', system)}, "
            f"{show(part.shut_pa, 'pressure', system)} with everything shut"
        )


def _surges(water: WaterResult, system: UnitSystem) -> Iterator[str]:
    for one in water.surges:
        over = one.rating_pa is not None and one.peak_pa > one.rating_pa
        rating = (
            f", its tube bears {show(one.rating_pa, 'pressure', system)}"
            if one.rating_pa is not None
            else ""
        )
        closes = show(one.closing_s, "short time", system)
        assumed = " (assumed)" if one.assumed else ""
        yield (
            f"  {one.name}: up to {show(one.peak_pa, 'pressure', system)} when it shuts in "
            f"{closes}{assumed}{rating}{SEE if over else ''}"
        )


def _name(analysis: Analysis, item_id: str) -> str:
    item = analysis.build.item(item_id)
    return item.name if item is not None else item_id
