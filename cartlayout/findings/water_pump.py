"""What to say about demand pumps: their switches, their vessels, how often they start."""

import math
from collections.abc import Iterator

from ..build import Accumulator, Pump
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.accumulator import useful_volume_m3
from ..water.properties import air_pressure_pa
from ..water.pump_results import DutyPoint, PumpDuty, Swing
from .finding import Finding
from .number import Number
from .water_words import PRACTICE, Place, bar, rate, seconds

_READABLE_PA = 1000.0
"""A step of the last digit in which pressures are shown, 0.01 bar."""


def pump_rules(place: Place) -> Iterator[Finding]:
    """Judge demand pumps and their vessels."""
    for duty in place.water.duties:
        yield from _never_stops(place, duty)
        yield from _vessel(place, duty)
        yield from _starts(place, duty)


# --- the switch and the vessel -------------------------------------------------------------------


def _never_stops(place: Place, duty: PumpDuty) -> Iterator[Finding]:
    role = place.role(duty.item)
    if duty.reaches_cut_out or not isinstance(role, Pump):
        return
    if role.bypass is not None and role.bypass.full.si <= role.cut_out.si:
        return  # its bypass is told of
    static = place.water.cases.get("All shut")
    outlet = next(
        (
            (duty.item, port.id)
            for port in place.items[duty.item].specification.ports
            if port.medium == "water" and port.direction == "out"
        ),
        None,
    )
    reached = static.pressures_pa.get(outlet, 0.0) if static is not None and outlet else 0.0
    yield Finding(
        "stop",
        "water.never-stops",
        Phrase.of(
            "{pump} would never stop: it gets to {reached}, its switch waits for {cut_out}",
            pump=place.name(duty.item),
            reached=bar(reached),
            cut_out=bar(duty.cut_out_pa),
        ),
        Phrase.of(
            "With every tap shut it pushes against the line until it is too hot. Set its switch "
            "lower, or take a pump that pushes higher."
        ),
        (duty.item,),
        value=bar(reached),
        limit=bar(duty.cut_out_pa),
        source=place.source_of(duty.item),
    )


def _vessel(place: Place, duty: PumpDuty) -> Iterator[Finding]:
    if duty.accumulator is None:
        yield _no_vessel(place, duty)
        return
    if duty.pre_charge_pa > duty.cut_in_pa:
        yield _charged_too_high(place, duty)
        return
    share = water_practice().least_pre_charge_share
    if duty.pre_charge_pa < share.value * duty.cut_in_pa:
        advice = water_practice().pre_charge_below_cut_in_pa
        yield Finding(
            "care",
            "water.pre-charge-low",
            Phrase.of(
                "{vessel} is charged to {charge} only, for a cut-in at {low}",
                vessel=place.name(duty.accumulator),
                charge=bar(duty.pre_charge_pa),
                low=bar(duty.cut_in_pa),
            ),
            Phrase.of(
                "It is nearly full of water before {pump} starts and gives back only {useful}. "
                "Pump it up to {right}, with no water in it.",
                pump=place.name(duty.item),
                useful=Value(duty.useful_volume, "small volume", 0),
                right=bar(max(duty.cut_in_pa - advice.value, 0.0)),
            ),
            (duty.accumulator, duty.item),
            value=bar(duty.pre_charge_pa),
            limit=bar(duty.cut_in_pa),
            source=share.citation,
        )


def _no_vessel(place: Place, duty: PumpDuty) -> Finding:
    worst = duty.worst
    name = place.name(duty.item)
    often = ""
    values: dict[str, Value | str] = {"low": bar(duty.cut_in_pa), "high": bar(duty.cut_out_pa)}
    if worst is not None and worst.starts_per_hour > 0.0:
        often = " In the case '{case}' only the tubes give, {stretch}: it starts every {cycle}."
        values |= {"case": worst.case, "stretch": Value(duty.stretch, "small volume", 2)}
        if worst.chatters:
            often = " In the case '{case}' only the tubes give, {stretch}: its switch chatters."
        else:
            values["cycle"] = seconds(worst.on_s + worst.off_s)
    swing = _widest(duty)
    if swing is not None:
        often += " {tap} then sees between {bottom} and {top}."
        values |= {"tap": swing.name, "bottom": bar(swing.low_pa), "top": bar(swing.high_pa)}
    return Finding(
        "care",
        "water.no-accumulator",
        Phrase.of("{pump} works without an accumulator", pump=name),
        Phrase.of(
            "It will start at every small draw and the pressure will jump between {low} and "
            "{high}." + often + " Put an accumulator behind it, unless its maker advises against "
            "one.",
            **values,
        ),
        (duty.item,),
        source=PRACTICE,
        working=cycle_working(place, duty, worst) if worst is not None else (),
    )


def _widest(duty: PumpDuty) -> Swing | None:
    """The tap whose pressure goes to and fro most; None where none does by what can be read."""
    moved = [one for one in duty.swings if one.high_pa - one.low_pa >= _READABLE_PA]
    return max(moved, key=lambda one: round(one.high_pa - one.low_pa), default=None)


def _charged_too_high(place: Place, duty: PumpDuty) -> Finding:
    advice = water_practice().pre_charge_below_cut_in_pa
    assert duty.accumulator is not None
    what = "It runs empty before {pump} starts, with a bang each time."
    if duty.pre_charge_pa >= duty.cut_out_pa:
        what = "{pump} never pushes so high: no water gets in, and it is as if it were not there."
    return Finding(
        "care",
        "water.pre-charge",
        Phrase.of(
            "{vessel} is charged to {charge}, above the cut-in at {low}",
            vessel=place.name(duty.accumulator),
            charge=bar(duty.pre_charge_pa),
            low=bar(duty.cut_in_pa),
        ),
        Phrase.of(
            what + " Let air out until it holds {right}.",
            pump=place.name(duty.item),
            right=bar(max(duty.cut_in_pa - advice.value, 0.0)),
        ),
        (duty.accumulator, duty.item),
        value=bar(duty.pre_charge_pa),
        limit=bar(duty.cut_in_pa),
        source=advice.citation,
    )


def _starts(place: Place, duty: PumpDuty) -> Iterator[Finding]:
    """Runs that are too short, and more starts than the maker allows."""
    if duty.accumulator is None or duty.pre_charge_pa > duty.cut_in_pa:
        return  # said already, and mended by the same hand
    if duty.pre_charge_pa < water_practice().least_pre_charge_share.value * duty.cut_in_pa:
        return  # the same
    shortest = water_practice().shortest_run_s
    worst = duty.worst
    role = place.role(duty.item)
    allowed = role.starts_per_hour if isinstance(role, Pump) else None
    if worst is not None and duty.shortest_run_s < shortest.value:
        vessel = place.role(duty.accumulator)
        larger = shortest.value / duty.shortest_run_s if duty.shortest_run_s > 0.0 else math.inf
        now = vessel.volume.si if isinstance(vessel, Accumulator) else 0.0
        mend = " About {larger} would do." if 0.0 < now * larger < 1.0 else ""
        values = {"larger": Value(now * larger, "volume")} if mend else {}
        yield Finding(
            "care",
            "water.vessel-small",
            Phrase.of(
                "{vessel} is too small: {pump} fills it in {run}",
                vessel=place.name(duty.accumulator),
                pump=place.name(duty.item),
                run=seconds(duty.shortest_run_s),
            ),
            Phrase.of(
                "It gives back {useful} between cut-in and cut-out, so the pump runs in short "
                "bursts and its switch wears." + mend,
                useful=Value(duty.useful_volume, "small volume", 0),
                **values,
            ),
            (duty.accumulator, duty.item),
            value=Value(duty.shortest_run_s, "seconds"),
            limit=Value(shortest.value, "seconds"),
            number=Number("pump", duty.item, "shortest run"),
            source=shortest.citation,
            working=cycle_working(place, duty, worst),
        )
    if worst is not None and allowed is not None and worst.starts_per_hour > allowed:
        yield Finding(
            "care",
            "water.starts",
            Phrase.of(
                "{pump} starts {often} times an hour, allowed are {allowed}",
                pump=place.name(duty.item),
                often=Value(worst.starts_per_hour, "count"),
                allowed=Value(allowed, "count"),
            ),
            Phrase.of(
                "That is while the case '{case}' lasts. Take a larger accumulator, or a wider gap "
                "between cut-in and cut-out.",
                case=worst.case,
            ),
            (duty.item, duty.accumulator),
            value=Value(worst.starts_per_hour, "count"),
            limit=Value(allowed, "count"),
            number=Number("pump", duty.item, "starts", worst.case),
            source=place.source_of(duty.item),
            working=cycle_working(place, duty, worst),
        )


def cycle_working(place: Place, duty: PumpDuty, point: DutyPoint) -> tuple[Phrase, ...]:
    """How the starts an hour of a case come about, to be followed by hand."""
    if not point.cycles:
        return ()
    air_pa = air_pressure_pa(place.build.venue.altitude_m)
    lines = []
    for vessel_id in duty.vessels:
        vessel = place.role(vessel_id)
        if not isinstance(vessel, Accumulator):
            continue
        volume, charge = vessel.volume.si, vessel.pre_charge.si
        useful = useful_volume_m3(volume, charge, duty.cut_in_pa, duty.cut_out_pa, air_pa)
        lines.append(
            Phrase.of(
                "{name} gives back (Boyle, absolute pressures) {volume} x (p0 / p_in - p0 / p_out) "
                "= {useful}, with p0 = {charge}, p_in = {low} and p_out = {high}, each plus {air} "
                "of air",
                name=place.name(vessel_id),
                volume=Value(volume, "volume", 2),
                useful=Value(useful, "small volume", 0),
                charge=bar(charge),
                low=bar(max(duty.cut_in_pa, charge)),
                high=bar(duty.cut_out_pa),
                air=bar(air_pa),
            )
        )
    lines.append(
        Phrase.of(
            "Stretch of the tubes between cut-in and cut-out = {stretch}",
            stretch=Value(duty.stretch, "small volume", 2),
        )
    )
    lines.append(
        Phrase.of(
            "'{case}': the pump gives {low_flow} at cut-in and {high_flow} at cut-out, {draw} is "
            "drawn at cut-out",
            case=point.case,
            low_flow=rate(point.ends[0][0]),
            high_flow=rate(point.ends[-1][0]),
            draw=rate(point.demand),
        )
    )
    if point.chatters:
        lines.append(
            Phrase.of(
                "Filled and emptied again within {time} (given and drawn taken along the curves): "
                "faster than its switch can follow",
                time=Value(point.on_s + point.off_s, "short time"),
            )
        )
        return tuple(lines)
    lines.append(
        Phrase.of(
            "Time on = volume / (given - drawn) = {on}, time off = volume / drawn = {off} (taken "
            "along the curves): {starts} starts an hour",
            on=seconds(point.on_s),
            off=seconds(point.off_s),
            starts=Value(point.starts_per_hour, "count"),
        )
    )
    lines.append(
        Phrase.of(
            "At the worst draw there could be, about half of what it gives: {most} starts an hour",
            most=Value(duty.most_starts_per_hour, "count"),
        )
    )
    return tuple(lines)
