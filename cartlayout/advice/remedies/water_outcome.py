"""The number that a finding of water is about, read from any analysis: what a remedy brings.

A finding that has gone says nothing any more; the tap, the pump or the tank is still there.
"""

import math
from collections.abc import Callable

from ...analysis import Analysis
from ...build import Filter, Pump, Regulator
from ...findings import Finding
from ...units import Phrase, Value
from ...water.pump_results import PumpDuty, Suction
from ...water.results import ALL_SHUT, Tap, TapState, alone
from .model import Probe
from .water_kit import place, tap_of

_Reading = Callable[[Analysis, Finding], Value | None]


def measured(analysis: Analysis, finding: Finding) -> Value | None:
    """What a finding measured, in this analysis; None where there is nothing to measure.

    Args:
        analysis: of any build that has what the finding is about.
        finding: of water, from whatever analysis.
    """
    reading = _READINGS.get(finding.code)
    return reading(analysis, finding) if reading is not None else None


def reader(before: Analysis, finding: Finding) -> Probe | None:
    """What reads a finding's number from any analysis of the cart.

    A number that a remedy leaves as it is tells nothing: then words are told instead.
    """
    old = measured(before, finding)
    if old is None:
        return None

    def probe(analysis: Analysis) -> Value | None:
        if analysis is before:
            return old
        now = measured(analysis, finding)
        return None if now is None or now.si == old.si else now

    return probe


def told(finding: Finding) -> Callable[[Analysis], Phrase]:
    """What comes of a remedy where there is no number to tell."""
    words = Phrase(_WORDS.get(finding.code, "It is not so any more"))
    return lambda _: words


# --- taps --------------------------------------------------------------------------------------


def _states(analysis: Analysis, tap: Tap) -> list[TapState]:
    """Alone, and in the person's own cases."""
    names = (alone(tap.name), *place(analysis).own_cases)
    found = (tap.states.get(name) for name in names)
    return [one for one in found if one is not None and one.open]


def _tap_flow(analysis: Analysis, finding: Finding) -> Value | None:
    tap = tap_of(analysis, finding)
    states = _states(analysis, tap) if tap is not None else []
    return Value(min(one.flow for one in states), "flow") if states else None


def _tap_pressure(analysis: Analysis, finding: Finding) -> Value | None:
    tap = tap_of(analysis, finding)
    states = _states(analysis, tap) if tap is not None else []
    return Value(min(one.lowest_pa for one in states), "pressure") if states else None


def _tap_static(analysis: Analysis, finding: Finding) -> Value | None:
    tap = tap_of(analysis, finding)
    return Value(tap.static_pa, "pressure") if tap is not None else None


def _tap_together(analysis: Analysis, finding: Finding) -> Value | None:
    """While any others are open as well; of flow or of pressure, as the finding told."""
    tap = tap_of(analysis, finding)
    if tap is None or finding.value is None:
        return None
    robbed = analysis.water.robbed(tap.item, tap.port)
    if not robbed:
        return None
    if finding.value.dimension == "flow":
        return Value(min(one.flow for one in robbed), "flow")
    return Value(min(one.pressure_pa for one in robbed), "pressure")


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


def _gauge_static(analysis: Analysis, finding: Finding) -> Value | None:
    static = analysis.water.cases.get(ALL_SHUT)
    found = [
        each_pa
        for node, each_pa in (static.pressures_pa.items() if static is not None else ())
        if node[0] in finding.items[:1]
    ]
    return Value(max(found), "pressure") if found else None


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


def _heater_point(analysis: Analysis, finding: Finding) -> Value | None:
    """The least it has of what it is short of."""
    one = next((one for one in analysis.water.heaters if one.item == finding.items[0]), None)
    if one is None or finding.value is None or not one.points:
        return None
    if finding.value.dimension == "pressure":
        return Value(min(point.pressure_pa for point in one.points), "pressure")
    return Value(min(point.flow for point in one.points), "flow")


def _heater_reaches(analysis: Analysis, finding: Finding) -> Value | None:
    one = next((one for one in analysis.water.heaters if one.item == finding.items[0]), None)
    found = [point.reaches_k for point in one.points] if one is not None else []
    known = [each for each in found if each is not None]
    return Value(min(known), "temperature") if known else None


# --- pumps -------------------------------------------------------------------------------------


def _duty(analysis: Analysis, finding: Finding) -> PumpDuty | None:
    return next((one for one in analysis.water.duties if one.item in finding.items), None)


def _cut_out(analysis: Analysis, finding: Finding) -> Value | None:
    duty = _duty(analysis, finding)
    return Value(duty.cut_out_pa, "pressure") if duty is not None else None


def _bypass(analysis: Analysis, finding: Finding) -> Value | None:
    role = place(analysis).role(finding.items[0])
    if not isinstance(role, Pump) or role.bypass is None:
        return None
    return Value(role.bypass.full.si - role.cut_out.si, "pressure")


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
    one = next((one for one in analysis.water.drains if one.run in finding.runs), None)
    if one is None or one.pumped or one.full <= 0.0:
        return None
    return Value(one.greatest[1] / one.full, "share")


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


def _waste_share(analysis: Analysis, finding: Finding) -> Value | None:
    """Of the waste over the fresh: either of them may have changed."""
    balance = analysis.water.balance
    if balance is None or balance.fresh <= 0.0:
        return None
    return Value(balance.waste / balance.fresh, "share")


def _lasts(analysis: Analysis, finding: Finding) -> Value | None:
    balance = analysis.water.balance
    vessels = balance.vessels if balance is not None else ()
    vessel = next((one for one in vessels if set(finding.items) & set(one.items)), None)
    if vessel is None:
        return None
    hours_s = analysis.build.service.hours.si
    return Value(min(vessel.lasts_s, hours_s), "duration")


_READINGS: dict[str, _Reading] = {
    "water.flow": _tap_flow,
    "water.pressure": _tap_pressure,
    "water.never": _tap_static,
    "water.static": _tap_static,
    "water.together": _tap_together,
    "water.tees": _tap_pressure,
    "water.temperature": _tap_temperature,
    "water.velocity": _velocity,
    "water.tube-rating": _highest,
    "water.hammer": _peak,
    "water.gauge-scale": _gauge_static,
    "water.filter-flow": _filter_flow,
    "water.filter-used": _filter_used,
    "water.filter-life": _filter_left,
    "water.regulator-flow": _regulator_flow,
    "water.regulator-pushed": _regulator_shut,
    "water.regulators-in-a-row": _second_set,
    "water.heater-pressure": _heater_static,
    "water.heater-never": _heater_static,
    "water.heater-off": _heater_point,
    "water.heater-lukewarm": _heater_reaches,
    "water.never-stops": _cut_out,
    "water.bypass": _bypass,
    "water.pre-charge": _pre_charge,
    "water.pre-charge-low": _pre_charge,
    "water.no-accumulator": _run_time,
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
    "water.waste-ratio": _waste_share,
    "water.waste-elsewhere": _waste_share,
    "water.runs-out": _lasts,
    "water.fills-up": _lasts,
    "water.refill": _lasts,
    "water.prime-lost": _lasts,
}

_WORDS: dict[str, str] = {
    "water.unconnected": "It gets water",
    "water.not-fed": "It gets water",
    "water.never": "It gets what it needs",
    "water.flow": "It gets what it needs",
    "water.pressure": "It gets what it needs",
    "water.together": "It gets what it needs while others draw",
    "water.tees": "Its tees leave enough, however the water parts in them",
    "water.window": "There is a pressure that does for all",
    "water.not-potable": "All of the line is for drinking water",
    "water.tube-too-hot": "It bears water so hot",
    "water.tube-cold-only": "It is made for warm water",
    "water.check-stuck": "It shuts again",
    "water.carbonator": "A vented double check valve stands before it",
    "water.carbonator-copper": "No copper on its side of the vented double check valve",
    "water.sources-joined": "A check valve keeps them apart",
    "water.heater-closed": "What swells has room",
    "water.no-accumulator": "A vessel gives water while the pump rests",
    "water.prime": "The suction line stays full while the pump rests",
    "water.no-drain": "Its waste has somewhere to go",
    "water.drain-ends": "Its waste has somewhere to go",
    "water.waste-into-fresh": "Waste stays away from drinking water",
    "water.drain-no-fall": "It runs off",
    "water.drain-slope": "It runs off",
    "water.drain-rise": "It runs off",
    "water.drain-narrows": "It grows, or stays as wide, all the way down",
    "water.drain-backs-up": "Nothing runs back",
    "water.drain-capacity": "The drain takes what comes",
    "water.waste-outlet": "It empties through a wide outlet",
    "water.empty": "It can be drawn from",
    "water.not-in-use": "No tube is left that nothing runs through",
    "water.starved": "It has enough on its suction side",
    "water.level-probe": "Its probe feels the water",
}

READERS = dict.fromkeys(_READINGS, reader)
