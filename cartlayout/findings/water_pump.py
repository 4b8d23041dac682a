"""What to say about pumps, their vessels, their suction side, and valves that knock."""

import math
from collections.abc import Iterator

from ..build import Accumulator, Pump
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.pump_results import DutyPoint, PumpDuty, Suction, Surge
from .finding import Finding
from .water_words import PRACTICE, Place, bar, rate


def pump_rules(place: Place) -> Iterator[Finding]:
    """Judge pumps and what they do to the line."""
    for duty in place.water.duties:
        yield from _never_stops(place, duty)
        yield from _vessel(place, duty)
        yield from _starts(place, duty)
    for suction in place.water.suctions:
        yield from _suction(place, suction)
    yield from _surges(place)


def _seconds(value_s: float) -> Value:
    return Value(value_s, "short time") if value_s < 1.0 else Value(value_s, "seconds")


def _head(value_m: float) -> Value:
    return Value(value_m, "distance")


# --- the switch and the vessel -------------------------------------------------------------------


def _never_stops(place: Place, duty: PumpDuty) -> Iterator[Finding]:
    if duty.reaches_cut_out:
        return
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
        often = " In the case '{case}' only the tubes give, and it starts {often} times a minute."
        values |= {"case": worst.case, "often": Value(worst.starts_per_hour / 60.0, "count")}
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


def _charged_too_high(place: Place, duty: PumpDuty) -> Finding:
    advice = water_practice().pre_charge_below_cut_in_pa
    assert duty.accumulator is not None
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
            "It runs empty before {pump} starts, with a bang each time. Let air out until it holds "
            "{right}.",
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
                run=_seconds(duty.shortest_run_s),
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
            source=place.source_of(duty.item),
            working=cycle_working(place, duty, worst),
        )


def cycle_working(place: Place, duty: PumpDuty, point: DutyPoint) -> tuple[Phrase, ...]:
    """How the starts an hour of a case come about, to be followed by hand."""
    if not point.cycles:
        return ()
    lines = []
    vessel = place.role(duty.accumulator) if duty.accumulator is not None else None
    if isinstance(vessel, Accumulator):
        lines.append(
            Phrase.of(
                "Useful volume (Boyle, absolute pressures) = {volume} x (p0 / p_in - p0 / p_out) "
                "= {useful}, with p0 = {charge}, p_in = {low} and p_out = {high}, each plus the "
                "air's pressure",
                volume=Value(vessel.volume.si, "volume", 2),
                useful=Value(duty.useful_volume, "small volume", 0),
                charge=bar(vessel.pre_charge.si),
                low=bar(duty.cut_in_pa),
                high=bar(duty.cut_out_pa),
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
    lines.append(
        Phrase.of(
            "Time on = volume / (given - drawn) = {on}, time off = volume / drawn = {off} (taken "
            "along the curves): {starts} starts an hour",
            on=_seconds(point.on_s),
            off=_seconds(point.off_s),
            starts=Value(point.starts_per_hour, "count"),
        )
    )
    return tuple(lines)


# --- suction ---------------------------------------------------------------------------------


def _suction(place: Place, suction: Suction) -> Iterator[Finding]:
    pump, tank = place.name(suction.pump), place.name(suction.tank)
    source = place.source_of(suction.pump)
    if suction.last_lift_m > suction.greatest_lift_m:
        yield Finding(
            "stop",
            "water.lift",
            Phrase.of(
                "{pump} must lift {lift}, it can {limit}",
                pump=pump,
                lift=Value(suction.last_lift_m, "length"),
                limit=Value(suction.greatest_lift_m, "length"),
            ),
            Phrase.of(
                "So high above the last of the water in {tank} it will not prime. Set it lower.",
                tank=tank,
            ),
            (suction.pump, suction.tank),
            value=Value(suction.last_lift_m, "length"),
            limit=Value(suction.greatest_lift_m, "length"),
            source=source,
            working=suction_working(suction),
        )
    required = suction.required_m
    if required is not None and suction.flow > 0.0 and suction.available_m < required:
        yield Finding(
            "stop",
            "water.suction-head",
            Phrase.of(
                "{pump} has {available} of suction head, needs {required}",
                pump=pump,
                available=_head(suction.available_m),
                required=_head(required),
            ),
            Phrase.of(
                "Water would boil in its inlet at {flow}: it rattles and wears. Set it lower, or "
                "take a wider or shorter suction tube.",
                flow=rate(suction.flow),
            ),
            (suction.pump, suction.tank),
            value=_head(suction.available_m),
            limit=_head(required),
            source=source,
            working=suction_working(suction),
        )
    if suction.last_lift_m > 0.0 and suction.lift_m > 0.0 and not suction.foot_valve:
        yield Finding(
            "note",
            "water.prime",
            Phrase.of("{pump} stands above the water in {tank}", pump=pump, tank=tank),
            Phrase.of(
                "Its suction line can run empty while it rests; then it draws air first at each "
                "start. A foot valve at the pick-up keeps it full."
            ),
            (suction.pump, suction.tank),
            source=PRACTICE,
        )
    if suction.left_behind > 0.1 * _volume_m3(place, suction.tank):
        yield Finding(
            "note",
            "water.left-behind",
            Phrase.of(
                "{left} in {tank} cannot be drawn",
                left=Value(suction.left_behind, "volume"),
                tank=tank,
            ),
            Phrase.of("It stands below the pick-up. Lower the pick-up, or count on less water."),
            (suction.tank,),
            value=Value(suction.left_behind, "volume"),
        )


def _volume_m3(place: Place, item_id: str) -> float:
    volume = getattr(place.role(item_id), "volume", None)
    return float(volume.si) if volume is not None else math.inf


def suction_working(suction: Suction) -> tuple[Phrase, ...]:
    """Net positive suction head, term by term."""
    weight = suction.density_kg_m3 * 9.80665
    return (
        Phrase.of(
            "NPSH available = air {air} - vapour {vapour} - lift {lift} - losses {loss} = "
            "{available}, drawing the last of the water at {flow}",
            air=_head(suction.air_m),
            vapour=_head(suction.vapour_m),
            lift=_head(suction.last_lift_m),
            loss=_head(suction.loss_pa / weight),
            available=_head(suction.available_m),
            flow=rate(suction.flow),
        ),
    )


# --- knocks ----------------------------------------------------------------------------------


def _surges(place: Place) -> Iterator[Finding]:
    """Knocks that a tube is not rated for; the hardest tells for all on the same tube."""
    for surge in place.water.surges:
        if surge.rating_pa is None or surge.peak_pa <= surge.rating_pa:
            continue
        yield Finding(
            "care",
            "water.hammer",
            Phrase.of(
                "When {tap} shuts, its tube may see {peak}, rated {rating}",
                tap=surge.name,
                peak=bar(surge.peak_pa),
                rating=bar(surge.rating_pa),
            ),
            Phrase.of(
                "Stopping {speed} within {time}{typical} knocks with {rise} on top of {static}. "
                "Take a wider tube before it, a valve that shuts more slowly, or an arrestor "
                "beside it.",
                speed=Value(surge.velocity_m_s, "velocity"),
                time=_seconds(surge.closing_s),
                typical=" (typical)" if surge.assumed else "",
                rise=bar(surge.rise_pa),
                static=bar(surge.static_pa),
            ),
            (surge.item,),
            (surge.run,),
            value=bar(surge.peak_pa),
            limit=bar(surge.rating_pa),
            source="Joukowsky's formula, wave speed by the tube's own wall; rating of the tube",
            working=surge_working(surge),
        )


def surge_working(surge: Surge) -> tuple[Phrase, ...]:
    """The bound and the estimate, with the numbers put in."""
    return (
        Phrase.of(
            "At most: density x wave speed {wave} x velocity {speed} = {bound}",
            wave=Value(surge.wave_m_s, "velocity", 0),
            speed=Value(surge.velocity_m_s, "velocity"),
            bound=bar(surge.bound_pa),
        ),
        Phrase.of(
            "The wave is back after 2 x {length} / {wave} = {back}; the valve takes {time}: {rise}",
            length=Value(surge.length_m, "distance"),
            wave=Value(surge.wave_m_s, "velocity", 0),
            back=Value(2.0 * surge.length_m / surge.wave_m_s, "short time"),
            time=Value(surge.closing_s, "short time"),
            rise=bar(surge.rise_pa),
        ),
    )
