"""The number that a finding of water is about, read from any analysis: what a remedy brings.

A finding that has gone says nothing any more; the tap, the pump or the tank is still there. Where
it is told of one case, the number is read from the same case.
"""

import math
from collections.abc import Callable

from ...analysis import Analysis
from ...build import Filter, Gauge, Regulator
from ...findings import Finding
from ...units import Value
from ...water.element_results import HeaterPoint, HeaterState
from ...water.pump_results import PumpDuty, Suction
from ...water.results import Tap, alone
from .model import Probe, Reader
from .water_kit import place, tap_of

_SEEN = 0.005
"""A number that changes by a smaller share is the same one."""
_SLACK_PA = 20.0
"""As in the rules of taps."""
_Reading = Callable[[Analysis, Finding], Value | None]


def reader(before: Analysis, finding: Finding) -> Probe | None:
    """What reads a finding's number from any analysis of the cart, as the board tells it.

    A number that a remedy leaves as it is tells nothing: then words are told instead.
    """
    made = _PROBES.get(finding.code)
    reading = made(before, finding) if made is not None else None
    if reading is None and finding.code in _READINGS:
        reading = _bound(_READINGS[finding.code], finding)
    old = reading(before) if reading is not None else None
    if reading is None or old is None:
        return None

    def probe(analysis: Analysis) -> Value | None:
        if analysis is before:
            return old
        now = reading(analysis)
        return now if now is not None and _is_better(finding, old, now) else None

    return probe


def _is_better(finding: Finding, old: Value, now: Value) -> bool:
    """Whether a number moved the way that it had to: a limit may have moved instead."""
    if abs(now.si - old.si) <= _SEEN * abs(old.si):
        return False
    value, limit = finding.value, finding.limit
    if value is None or limit is None or value.dimension != old.dimension or value.si != old.si:
        return True
    return (now.si < old.si) is (value.si > limit.si)


def _bound(reading: _Reading, finding: Finding) -> Probe:
    return lambda analysis: reading(analysis, finding)


# --- taps --------------------------------------------------------------------------------------


def _falls_short(before: Analysis, tap: Tap) -> str | None:
    """The case that is told of: the first of its own in which it has too little."""
    for name in (alone(tap.name), *place(before).own_cases):
        state = tap.states.get(name)
        if state is None or not state.open or not before.water.cases[name].converged:
            continue
        if not state.flow_ok or state.lowest_pa < tap.least_pa - _SLACK_PA:
            return name
    return None


def _in_case(before: Analysis, finding: Finding) -> Probe | None:
    """Flow or pressure of a tap in the case that is told of."""
    tap = tap_of(before, finding)
    case = _falls_short(before, tap) if tap is not None else None
    if case is None or finding.value is None:
        return None
    flows = finding.value.dimension == "flow"

    def probe(analysis: Analysis) -> Value | None:
        now = tap_of(analysis, finding)
        state = now.states.get(case) if now is not None and now.fed else None
        if state is None:
            return None
        return Value(state.flow, "flow") if flows else Value(state.lowest_pa, "pressure")

    return probe


def _together(before: Analysis, finding: Finding) -> Probe | None:
    """The same while the others are open that it is told of."""
    tap = tap_of(before, finding)
    failing = before.water.starved(tap) if tap is not None else ()
    if not failing or finding.value is None:
        return None
    case, flows = failing[0].case, finding.value.dimension == "flow"

    def probe(analysis: Analysis) -> Value | None:
        now = tap_of(analysis, finding)
        robbed = analysis.water.robbed(now.item, now.port) if now is not None else ()
        told = next((one for one in robbed if one.case == case), None)
        if told is None:
            return None
        return Value(told.flow, "flow") if flows else Value(told.pressure_pa, "pressure")

    return probe


def _tap_static(analysis: Analysis, finding: Finding) -> Value | None:
    tap = tap_of(analysis, finding)
    return Value(tap.static_pa, "pressure") if tap is not None else None


def _tap_spare(analysis: Analysis, finding: Finding) -> Value | None:
    """What a tap has over what it needs, in the case in which that is least."""
    tap = tap_of(analysis, finding)
    states = [one for one in tap.states.values() if one.open] if tap is not None else []
    if tap is None or not states:
        return None
    return Value(min(one.pressure_pa for one in states) - tap.least_pa, "pressure")


def _tap_temperature(analysis: Analysis, finding: Finding) -> Value | None:
    tap = tap_of(analysis, finding)
    return Value(tap.temperature_k, "temperature") if tap is not None else None


# --- the line ----------------------------------------------------------------------------------


def _velocity(analysis: Analysis, finding: Finding) -> Value | None:
    fastest = analysis.water.fastest.values()
    return Value(max(fastest), "velocity") if fastest else None


def _highest(analysis: Analysis, finding: Finding) -> Value | None:
    """That a tube sees at rest."""
    found = (one.highest_pa for one in analysis.water.statics if one.run in finding.runs)
    highest_pa = max(found, default=None)
    return Value(highest_pa, "pressure") if highest_pa is not None else None


def _peak(analysis: Analysis, finding: Finding) -> Value | None:
    found = (one.peak_pa for one in analysis.water.surges if one.item in finding.items[:1])
    peak_pa = max(found, default=None)
    return Value(peak_pa, "pressure") if peak_pa is not None else None


def _full_scale(analysis: Analysis, finding: Finding) -> Value | None:
    role = place(analysis).role(finding.items[0])
    return Value(role.full_scale.si, "pressure") if isinstance(role, Gauge) else None


def _filter_flow(analysis: Analysis, finding: Finding) -> Value | None:
    """As a share of what it is rated for: both the flow and the cartridge may change."""
    one = next((one for one in analysis.water.filters if one.item == finding.items[0]), None)
    if one is None or one.rated_flow <= 0.0:
        return None
    return Value(one.flow / one.rated_flow, "share")


def _filter_used(analysis: Analysis, finding: Finding) -> Value | None:
    role = place(analysis).role(finding.items[0])
    return Value(role.used, "share") if isinstance(role, Filter) else None


def _filter_left(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.filters if one.item == finding.items[0]), None)
    return Value(one.left, "volume") if one is not None and one.left is not None else None


def _regulator_flow(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.regulators if one.item == finding.items[0]), None)
    return Value(one.flow, "flow") if one is not None else None


def _regulator_shut(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.regulators if one.item == finding.items[0]), None)
    return Value(one.shut_pa, "pressure") if one is not None else None


def _second_set(analysis: Analysis, finding: Finding) -> Value | None:
    role = place(analysis).role(finding.items[1])
    return Value(role.set_point.si, "pressure") if isinstance(role, Regulator) else None


def _heater_static(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.heaters if one.item == finding.items[0]), None)
    return Value(one.static_pa, "pressure") if one is not None else None


def _heater_point(before: Analysis, finding: Finding) -> Probe | None:
    """What a heater is short of, in the case that is told of."""
    state = _heater(before, finding)
    off = next((one for one in state.points if not one.switches_on), None) if state else None
    if off is None or finding.value is None:
        return None
    flows = finding.value.dimension == "flow"

    def probe(analysis: Analysis) -> Value | None:
        point = _point_of(analysis, finding, off.case)
        if point is None:
            return None
        return Value(point.flow, "flow") if flows else Value(point.pressure_pa, "pressure")

    return probe


def _heater_reaches(before: Analysis, finding: Finding) -> Probe | None:
    state = _heater(before, finding)
    reached = finding.value.si if finding.value is not None else None
    point = next((one for one in state.points if one.reaches_k == reached), None) if state else None
    if point is None:
        return None

    def probe(analysis: Analysis) -> Value | None:
        now = _point_of(analysis, finding, point.case)
        if now is None or now.reaches_k is None:
            return None
        return Value(now.reaches_k, "temperature")

    return probe


def _heater(analysis: Analysis, finding: Finding) -> HeaterState | None:
    return next((one for one in analysis.water.heaters if one.item == finding.items[0]), None)


def _point_of(analysis: Analysis, finding: Finding, case: str) -> HeaterPoint | None:
    state = _heater(analysis, finding)
    points = state.points if state is not None else ()
    return next((one for one in points if one.case == case), None)


# --- pumps -------------------------------------------------------------------------------------


def _duty(analysis: Analysis, finding: Finding) -> PumpDuty | None:
    return next((one for one in analysis.water.duties if one.item in finding.items), None)


def _cut_out(analysis: Analysis, finding: Finding) -> Value | None:
    duty = _duty(analysis, finding)
    return Value(duty.cut_out_pa, "pressure") if duty is not None else None


def _pre_charge(analysis: Analysis, finding: Finding) -> Value | None:
    duty = _duty(analysis, finding)
    return Value(duty.pre_charge_pa, "pressure") if duty is not None else None


def _run_time(analysis: Analysis, finding: Finding) -> Value | None:
    duty = _duty(analysis, finding)
    return Value(duty.shortest_run_s, "seconds") if duty is not None else None


def _starts(analysis: Analysis, finding: Finding) -> Value | None:
    duty = _duty(analysis, finding)
    if duty is None or duty.worst is None:
        return None
    return Value(duty.worst.starts_per_hour, "count")


def _suction(analysis: Analysis, finding: Finding) -> Suction | None:
    suctions = analysis.water.suctions
    ids = set(finding.items)
    exact = (one for one in suctions if {one.pump, one.tank} <= ids)
    return next(exact, None) or next((one for one in suctions if one.pump in ids), None)


def _lift(analysis: Analysis, finding: Finding) -> Value | None:
    suction = _suction(analysis, finding)
    return Value(suction.last_lift_m, "length") if suction is not None else None


def _suction_head(analysis: Analysis, finding: Finding) -> Value | None:
    suction = _suction(analysis, finding)
    return Value(suction.available_m, "distance") if suction is not None else None


def _crest(analysis: Analysis, finding: Finding) -> Value | None:
    suction = _suction(analysis, finding)
    return Value(suction.crest_m, "length") if suction is not None else None


def _left_behind(analysis: Analysis, finding: Finding) -> Value | None:
    found = (one.left_behind for one in analysis.water.suctions if one.tank == finding.items[0])
    left = max(found, default=None)
    return Value(left, "volume") if left is not None else None


# --- drains and vessels ------------------------------------------------------------------------


def _fall(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    flattest = one.flattest if one is not None else None
    if one is None or flattest is None or one.pumped:
        return None
    return Value(flattest.fall_m, "length")


def _slope(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    if one is None or one.pumped or math.isinf(one.slope):
        return None
    return Value(one.slope, "percent")


def _rise(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    if one is None or one.pumped:
        return None
    return Value(max((point.rise_m for point in one.low_points), default=0.0), "length")


def _carries(analysis: Analysis, finding: Finding) -> Value | None:
    """What it runs full at, or half full, as the finding told."""
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    if one is None or one.pumped or one.full <= 0.0:
        return None
    return Value(one.half_full if finding.severity == "note" else one.full, "flow")


def _narrowest(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    if one is None:
        return None
    bores = [each for each in (one.bore_m, one.after_m) if each > 0.0]
    return Value(min(bores), "length") if bores else None


def _drain_pump_lift(analysis: Analysis, finding: Finding) -> Value | None:
    pumps = analysis.water.drain_pumps
    one = next((one for one in pumps if one.item == finding.items[0]), None)
    return Value(one.lift_m, "distance") if one is not None else None


def _drain_pump_flow(analysis: Analysis, finding: Finding) -> Value | None:
    pumps = analysis.water.drain_pumps
    one = next((one for one in pumps if one.item == finding.items[0]), None)
    return Value(one.flow, "flow") if one is not None else None


def _air_gap(analysis: Analysis, finding: Finding) -> Value | None:
    gaps = analysis.water.air_gaps
    one = next((one for one in gaps if one.item == finding.items[0]), None)
    return Value(one.given_m, "length") if one is not None and one.given_m is not None else None


def _waste(analysis: Analysis, finding: Finding) -> Value | None:
    balance = analysis.water.balance
    return Value(balance.waste, "volume") if balance is not None else None


def _lasts(analysis: Analysis, finding: Finding) -> Value | None:
    balance = analysis.water.balance
    vessels = balance.vessels if balance is not None else ()
    vessel = next((one for one in vessels if set(finding.items) & set(one.items)), None)
    if vessel is None:
        return None
    hours_s = analysis.build.service.hours.si
    return Value(min(vessel.lasts_s, hours_s), "duration")


_READINGS: dict[str, _Reading] = {
    "water.never": _tap_static,
    "water.static": _tap_static,
    "water.tees": _tap_spare,
    "water.temperature": _tap_temperature,
    "water.velocity": _velocity,
    "water.tube-rating": _highest,
    "water.hammer": _peak,
    "water.gauge-scale": _full_scale,
    "water.filter-flow": _filter_flow,
    "water.filter-used": _filter_used,
    "water.filter-life": _filter_left,
    "water.regulator-flow": _regulator_flow,
    "water.regulator-pushed": _regulator_shut,
    "water.regulators-in-a-row": _second_set,
    "water.heater-pressure": _heater_static,
    "water.heater-never": _heater_static,
    "water.never-stops": _cut_out,
    "water.pre-charge": _pre_charge,
    "water.pre-charge-low": _pre_charge,
    "water.vessel-small": _run_time,
    "water.starts": _starts,
    "water.lift": _lift,
    "water.suction-head": _suction_head,
    "water.suction-crest": _crest,
    "water.left-behind": _left_behind,
    "water.drain-no-fall": _fall,
    "water.drain-slope": _slope,
    "water.drain-rise": _rise,
    "water.drain-full": _carries,
    "water.drain-narrows": _narrowest,
    "water.drain-pump-lift": _drain_pump_lift,
    "water.drain-pump-flow": _drain_pump_flow,
    "water.air-gap": _air_gap,
    "water.waste-ratio": _waste,
    "water.waste-elsewhere": _waste,
    "water.runs-out": _lasts,
    "water.fills-up": _lasts,
    "water.refill": _lasts,
    "water.prime-lost": _lasts,
}

_PROBES: dict[str, Reader] = {
    "water.flow": _in_case,
    "water.pressure": _in_case,
    "water.together": _together,
    "water.heater-off": _heater_point,
    "water.heater-lukewarm": _heater_reaches,
}

READERS: dict[str, Reader] = dict.fromkeys((*_READINGS, *_PROBES), reader)
"""By the code of the finding."""
