"""What is set by a screw or by air: regulators, switches of pumps, bypasses, vessels."""

from collections.abc import Iterator
from functools import partial

from ...analysis import Analysis
from ...build import (
    Accumulator,
    Build,
    Item,
    Pump,
    Regulator,
)
from ...findings import Finding
from ...units import Phrase, Value
from ...water import pump_curve
from ..cushions import pre_charge_pa
from .model import Candidate
from .water_kit import (
    items_on_way,
    pressure,
    taps_of,
    with_role,
)

_ABOVE_NEED_PA = 20e3
"""A set point that only just does is none: a needle's width more, common practice, no source."""
_LOWEST_STOP_PA = 70e3
"""No pressure switch of a demand pump is set lower: common practice, no source."""
_CAN_BE_SET = "Only where its maker lets it be set: see the pump's sheet."
_APART_PA = 70e3
"""Between two regulators in a row (see the rule)."""


def set_regulator(analysis: Analysis, item: Item, set_pa: float) -> Candidate:
    """A regulator there is, set anew."""
    build = analysis.build
    point = pressure(build, set_pa)
    return Candidate(
        "set regulator",
        Phrase.of("Set {regulator} to {set}", regulator=item.name, set=Value(point.si, "pressure")),
        0,
        partial(with_role, build, item.id, set_point=point),
        (item.id,),
    )


def regulator_higher(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Set the regulator on the way to a tap or a heater higher, in two steps."""
    for tap in taps_of(analysis, finding):
        for item in items_on_way(analysis, tap, Regulator)[:1]:
            role = item.specification.water
            assert isinstance(role, Regulator)
            now_pa = role.set_point.si
            creep_pa = max(role.creep.si, 0.0)
            low_pa = max(now_pa, tap.least_pa) + _ABOVE_NEED_PA
            top_pa = tap.greatest_pa - creep_pa
            if top_pa <= now_pa:
                continue
            points = (low_pa, 0.5 * (now_pa + top_pa), top_pa - _ABOVE_NEED_PA)
            for set_pa in sorted({round(one, -3) for one in points if now_pa < one <= top_pa}):
                yield set_regulator(analysis, item, set_pa)
        return


def regulator_lower(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Set the regulator on the way to something that sees too much so that it does not."""
    limit_pa = _allowed_pa(finding)
    for tap in taps_of(analysis, finding):
        for item in items_on_way(analysis, tap, Regulator)[:1]:
            role = item.specification.water
            assert isinstance(role, Regulator)
            top_pa = min(limit_pa, tap.greatest_pa) - max(role.creep.si, 0.0)
            for set_pa in (0.5 * (tap.least_pa + top_pa), top_pa - _ABOVE_NEED_PA):
                if 0.0 < set_pa < role.set_point.si:
                    yield set_regulator(analysis, item, set_pa)
        return


def _allowed_pa(finding: Finding) -> float:
    """The most that a finding allows."""
    return finding.limit.si if finding.limit is not None else 0.0


def regulators_apart(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Of two in a row, the second lower than the first by what keeps them from hunting."""
    build = analysis.build
    first, second = (build.item(one) for one in finding.items[:2])
    if first is None or second is None:
        return
    one, other = first.specification.water, second.specification.water
    if not isinstance(one, Regulator) or not isinstance(other, Regulator):
        return
    low_pa = one.set_point.si - _APART_PA - _ABOVE_NEED_PA
    if low_pa > 0.0:
        yield set_regulator(analysis, second, low_pa)
    yield set_regulator(analysis, first, other.set_point.si + _APART_PA + _ABOVE_NEED_PA)


def regulators_alike(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A regulator that another holds shut: set both alike."""
    build = analysis.build
    own = build.item(finding.items[0])
    state = next(
        (one for one in analysis.water.regulators if own is not None and one.item == own.id), None
    )
    if own is None or state is None:
        return
    for other_id in finding.items[1:]:
        other = build.item(other_id)
        role = other.specification.water if other is not None else None
        if other is not None and isinstance(role, Regulator):
            yield set_regulator(analysis, other, state.set_pa)
        elif other is not None and isinstance(role, Pump) and state.set_pa >= _LOWEST_STOP_PA:
            yield set_switch(analysis, build, other, role, state.set_pa)
    if state.shut_pa > state.set_pa:
        yield set_regulator(analysis, own, state.shut_pa)


# --- pumps and vessels -------------------------------------------------------------------------


def pre_charge(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Air in a vessel, a little below the cut-in of its pump."""
    build = analysis.build
    for duty in analysis.water.duties:
        if duty.item not in finding.items or duty.accumulator is None:
            continue
        vessel, pump = build.item(duty.accumulator), build.item(duty.item)
        if vessel is None or pump is None or not isinstance(pump.specification.water, Pump):
            continue
        charge = pressure(build, pre_charge_pa(pump.specification.water))
        yield Candidate(
            "pre-charge",
            Phrase.of(
                "Charge {vessel} to {charge}, with no water in it",
                vessel=vessel.name,
                charge=Value(charge.si, "pressure"),
            ),
            0,
            partial(with_role, build, vessel.id, pre_charge=charge),
            (vessel.id,),
        )


def charged_for(build: Build, pump_id: str, vessel_id: str) -> Build:
    """A vessel charged for a pump."""
    pump, vessel = build.item(pump_id), build.item(vessel_id)
    role = pump.specification.water if pump is not None else None
    if vessel is None or not isinstance(role, Pump):
        return build
    if not isinstance(vessel.specification.water, Accumulator):
        return build
    return with_role(build, vessel_id, pre_charge=pressure(build, pre_charge_pa(role)))


def switch_lower(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The switch of a pump set lower: so that it is reached, or so that nothing sees too much."""
    build = analysis.build
    for item in _pumps(analysis, finding):
        role = item.specification.water
        assert isinstance(role, Pump)
        for stop_pa in _stops_pa(finding, role):
            if stop_pa >= _LOWEST_STOP_PA:
                yield set_switch(analysis, build, item, role, stop_pa)


def set_switch(
    analysis: Analysis, build: Build, item: Item, role: Pump, stop_pa: float
) -> Candidate:
    """A pump's switch with another cut-out; the gap to the cut-in stays, its vessel goes along."""
    stop = pressure(build, stop_pa)
    gap_pa = max(role.cut_out.si - role.cut_in.si, 0.0)
    start = pressure(build, max(stop.si - gap_pa, 0.3 * stop.si))
    duty = next((one for one in analysis.water.duties if one.item == item.id), None)
    vessel = duty.accumulator if duty is not None else None

    def make() -> Build:
        after = with_role(build, item.id, cut_in=start, cut_out=stop)
        return charged_for(after, item.id, vessel) if vessel is not None else after

    words = "Set the switch of {pump} to {start} on and {stop} off"
    if vessel is not None:
        words += ", and charge its vessel to suit"
    return Candidate(
        "pump switch",
        Phrase.of(
            words,
            pump=item.name,
            start=Value(start.si, "pressure"),
            stop=Value(stop.si, "pressure"),
        ),
        0,
        make,
        (item.id, *((vessel,) if vessel is not None else ())),
        (_CAN_BE_SET,),
    )


def _pumps(analysis: Analysis, finding: Finding) -> list[Item]:
    found = [
        item
        for one in finding.items
        if (item := analysis.build.item(one)) is not None
        and isinstance(item.specification.water, Pump)
    ]
    if found:
        return found
    for tap in taps_of(analysis, finding):
        found.extend(items_on_way(analysis, tap, Pump)[:1])
    return list({one.id: one for one in found}.values())[:1]


def _stops_pa(finding: Finding, role: Pump) -> Iterator[float]:
    """Cut-outs worth a trial, highest first."""
    if finding.code == "water.bypass" and role.bypass is not None:
        yield role.bypass.full.si - _ABOVE_NEED_PA
        return
    if finding.code == "water.never-stops":
        curve = pump_curve(role)
        reached_pa = finding.value.si if finding.value is not None else 0.0
        reached_pa = max(reached_pa, curve.pressure_pa(0.0) if curve is not None else 0.0)
        for share in (0.9, 0.75):
            yield share * reached_pa
        return
    over_pa = _over_pa(finding)
    for more_pa in (_ABOVE_NEED_PA, 3.0 * _ABOVE_NEED_PA):
        yield role.cut_out.si - over_pa - more_pa


def _over_pa(finding: Finding) -> float:
    if finding.value is None or finding.limit is None:
        return 0.0
    return max(finding.value.si - finding.limit.si, 0.0)


def wider_gap(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A lower cut-in, so that a pump runs longer at each start."""
    build = analysis.build
    for item in _pumps(analysis, finding)[:1]:
        role = item.specification.water
        assert isinstance(role, Pump)
        duty = next((one for one in analysis.water.duties if one.item == item.id), None)
        vessel = duty.accumulator if duty is not None else None
        for share in (0.8, 0.65):
            start = pressure(build, share * role.cut_in.si)
            words = "Set the switch of {pump} to start at {start} only"
            if vessel is not None:
                words += ", and charge its vessel to suit"
            yield Candidate(
                "pump switch",
                Phrase.of(words, pump=item.name, start=Value(start.si, "pressure")),
                0,
                partial(_started_at, build, item.id, start.si, vessel),
                (item.id,),
                (_CAN_BE_SET,),
            )


def _started_at(build: Build, pump_id: str, start_pa: float, vessel: str | None) -> Build:
    after = with_role(build, pump_id, cut_in=pressure(build, start_pa))
    return charged_for(after, pump_id, vessel) if vessel is not None else after


def bypass_tighter(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The bypass screwed in until it is full only above the cut-out."""
    build = analysis.build
    for item in _pumps(analysis, finding):
        role = item.specification.water
        assert isinstance(role, Pump)
        if role.bypass is None:
            continue
        full = pressure(build, role.cut_out.si + 35e3)
        more_pa = full.si - role.bypass.full.si
        opens = pressure(build, role.bypass.opens.si + more_pa)
        bypass = type(role.bypass)(opens=opens, full=full)
        yield Candidate(
            "bypass",
            Phrase.of(
                "Screw the bypass of {pump} in until it is full at {full}",
                pump=item.name,
                full=Value(full.si, "pressure"),
            ),
            0,
            partial(with_role, build, item.id, bypass=bypass),
            (item.id,),
            (_CAN_BE_SET,),
        )
