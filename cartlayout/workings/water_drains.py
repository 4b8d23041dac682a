"""Workings of drains: fall, what a tube carries, what a drain pump moves, air gaps."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import DrainPump, TubeRun
from ..limits import drain_practice, profile
from ..units import Phrase, Value
from ..water.drain_results import AirGap, DrainPumpState, DrainState
from .model import Held, Number, Step, Working
from .water_parts import cited, origin, step, symbol, typical_phrase
from .water_tubes import tube_name


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Slope and capacity of drain tubes, drain pumps, air gaps."""
    for drain in analysis.water.drains:
        if math.isfinite(drain.slope) and drain.flattest is not None and drain.flattest.flat_m:
            yield Number("drain", drain.run, "slope")
        if drain.half_full > 0.0:
            yield Number("drain", drain.run, "half full")
    for pump in analysis.water.drain_pumps:
        if math.isfinite(pump.fills_s):
            yield Number("drain pump", pump.item, "fills")
        if pump.starts_per_hour > 0.0:
            yield Number("drain pump", pump.item, "starts")
    for gap in analysis.water.air_gaps:
        yield Number("air gap", gap.item, "needed")


def working(analysis: Analysis, number: Number) -> Working | None:
    """One number of a drain."""
    water = analysis.water
    if number.subject == "drain":
        drain = next((one for one in water.drains if one.run == number.of), None)
        run = analysis.build.run(number.of)
        if drain is None or not isinstance(run, TubeRun):
            return None
        if number.what == "slope":
            return _slope(analysis, run, drain, number)
        return _carries(analysis, run, drain, number) if number.what == "half full" else None
    if number.subject == "drain pump":
        pump = next((one for one in water.drain_pumps if one.item == number.of), None)
        return _pump(analysis, pump, number) if pump is not None else None
    gap = next((one for one in water.air_gaps if one.item == number.of), None)
    return _gap(analysis, gap, number) if gap is not None else None


def _slope(analysis: Analysis, run: TubeRun, drain: DrainState, number: Number) -> Working | None:
    flattest = drain.flattest
    if flattest is None or not flattest.flat_m or not math.isfinite(flattest.slope):
        return None
    made = step(
        "the flattest of its stretches",
        "S",
        "z/L_p",
        (
            symbol("z", "it falls", flattest.fall_m, "height"),
            symbol("L_p", "along the plan", flattest.flat_m, "height"),
        ),
        flattest.slope,
        "percent",
    )
    rule = profile(analysis.build.region).drain_slope(drain.bore_m)
    return Working(
        number,
        Phrase.of("Fall of {tube}", tube=tube_name(analysis, run)),
        made.result,
        (made,),
        (
            Held(
                Value(drain.asked_slope, "percent"),
                "least fall for each length along the plan, for this bore",
                rule.citation,
                flattest.slope >= drain.asked_slope,
                is_least=True,
            ),
        ),
        notes=(
            Phrase.of(
                "A hose is laid to the same ends and bends; its fall is spread over the whole of "
                "each stretch."
            ),
        ),
    )


def _carries(analysis: Analysis, run: TubeRun, drain: DrainState, number: Number) -> Working | None:
    short_m = drain_practice().short_stretch_m.value
    judged = [one for one in drain.stretches if one.flat_m > short_m] or list(drain.stretches)
    flattest = min(judged, key=lambda one: one.gradient, default=None)
    if flattest is None or drain.half_full <= 0.0:
        return None
    practice = drain_practice().manning_n
    gradient = min(flattest.gradient, 1.0)
    steps = (
        step(
            "fall for each length of tube",
            "S",
            "min(z/L, 1)",
            (
                symbol("z", "it falls", flattest.fall_m, "height"),
                symbol("L", "length of tube", flattest.length_m, "height"),
            ),
            gradient,
            "factor",
        ),
        step(
            "full, by gravity (Manning, in SI)",
            "Q_f",
            "pi*D**2/4*(D/4)**(2/3)*sqrt(S)/n",
            (
                symbol("D", "bore", drain.bore_m, "bore", "of the tube"),
                symbol("S", "fall", gradient, "factor"),
                symbol(
                    "n", "roughness of smooth plastic", practice.value, "manning", practice.citation
                ),
            ),
            drain.full,
            "flow",
        ),
        step(
            "half full it carries half",
            "Q",
            "Q_f/2",
            (symbol("Q_f", "full", drain.full, "flow"),),
            drain.half_full,
            "flow",
        ),
    )
    case, most = drain.greatest
    held: tuple[Held, ...] = ()
    if case:
        held = (
            Held(
                Value(most, "flow"),
                f"what comes to it at the most ({case})",
                "as the line is solved",
                drain.half_full >= most,
                is_least=True,
            ),
        )
    notes = (
        (
            Phrase.of(
                "Water so slow in a tube so thin (Re {reynolds}) is not what Manning measured: a "
                "rough figure.",
                reynolds=Value(drain.reynolds, "count"),
            ),
        )
        if drain.advisory
        else ()
    )
    return Working(
        number,
        Phrase.of("What {tube} carries half full", tube=tube_name(analysis, run)),
        steps[-1].result,
        steps,
        held,
        notes=notes,
    )


def _pump(analysis: Analysis, pump: DrainPumpState, number: Number) -> Working | None:
    item = analysis.build.item(pump.item)
    role = item.specification.water if item is not None else None
    case, most = pump.greatest
    if item is None or not isinstance(role, DrainPump) or most <= 0.0:
        return None
    sump = symbol("V", "its sump", pump.sump, "volume", origin(item, "flow", "sump")[0])
    came = symbol("q", f"what comes at the most ({case})", most, "flow")
    moved = symbol("Q", "what it moves so high", pump.flow, "flow")
    assumed = typical_phrase("flow and lift", item, "flow", "lift")
    fills = step("its sump is full after", "t", "V/q", (sump, came), pump.fills_s, "seconds")
    if number.what == "fills":
        title = Phrase.of("How soon the sump of {pump} is full", pump=item.name)
        return Working(number, title, fills.result, (fills,), assumptions=assumed)
    if number.what != "starts" or pump.starts_per_hour <= 0.0:
        return None
    empties_s = pump.sump / (pump.flow - most)
    steps: tuple[Step, ...] = (
        fills,
        step(
            "and empty again after", "t_on", "V/(Q - q)", (sump, moved, came), empties_s, "seconds"
        ),
        step(
            "starts",
            "N",
            "1/(t + t_on)",
            (
                symbol("t", "full after", pump.fills_s, "seconds"),
                symbol("t_on", "empty after", empties_s, "seconds"),
            ),
            pump.starts_per_hour / 3600.0,
            "starts an hour",
        ),
    )
    title = Phrase.of("Starts of {pump} while that keeps coming", pump=item.name)
    return Working(number, title, steps[-1].result, steps, assumptions=assumed)


def _gap(analysis: Analysis, gap: AirGap, number: Number) -> Working | None:
    if number.what != "needed":
        return None
    rules = profile(analysis.build.region)
    item = analysis.build.item(gap.item)
    made = step(
        "open air that is asked for",
        "h",
        "max(k*D, h_0)",
        (
            symbol("k", "bores", rules.air_gap_bores.value, "count", rules.air_gap_bores.citation),
            symbol("D", "bore that pours", gap.bore_m, "bore"),
            symbol(
                "h_0",
                "and no less than",
                rules.least_air_gap_m.value,
                "length",
                rules.least_air_gap_m.citation,
            ),
        ),
        gap.needed_m,
        "length",
    )
    held: tuple[Held, ...] = ()
    if gap.given_m is not None:
        held = (
            Held(
                Value(gap.given_m, "length"),
                "the gap there is has to be at least as much",
                cited(item, "air gap"),
                gap.given_m >= gap.needed_m - 1e-9,
            ),
        )
    name = item.name if item is not None else gap.item
    title = Phrase.of("Air gap at {item}", item=name)
    return Working(number, title, made.result, (made,), held)
