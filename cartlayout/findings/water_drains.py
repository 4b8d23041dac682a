"""What to say about drain tubes: do they fall, what do they carry, do they narrow."""

import math
from collections.abc import Iterator

from ..limits import drain_practice, profile
from ..units import Phrase, Value, capitalised
from ..water.drain_results import DrainState, LowPoint
from .finding import Finding, Severity
from .number import Number
from .water_words import PRACTICE, Place, rate

_SAME_SHARE = 1.03
"""Inch and metric sizes that are sold for each other differ by less."""
_SLACK = 1.001
_LEVEL_M = 1e-3


def drain_rules(place: Place) -> Iterator[Finding]:
    """Judge every drain tube."""
    for drain in place.water.drains:
        if not drain.pumped:
            yield from _way_down(place, drain)
            yield from _carries(place, drain)
        yield from _narrows(place, drain)
        yield from _backs_up(place, drain)


def _length(metres: float) -> Value:
    return Value(metres, "length")


def _ends(drain: DrainState) -> tuple[str, ...]:
    return (drain.start[0], drain.end[0])


# --- the way down ------------------------------------------------------------------------------


def _way_down(place: Place, drain: DrainState) -> Iterator[Finding]:
    if drain.low_points:
        yield _rises(place, drain)
        return
    flattest = drain.flattest
    if flattest is None or math.isinf(flattest.slope):
        return
    if flattest.flat_m <= drain_practice().short_stretch_m.value:
        return
    start, end = place.name(drain.start[0]), place.name(drain.end[0])
    rule = profile(place.build.region).drain_slope(drain.bore_m)
    working = (
        *_stretch_lines(drain),
        Phrase.of(
            "Asked: {slope} of fall along {flat} = {fall}",
            slope=Value(rule.slope, "percent"),
            flat=_length(flattest.flat_m),
            fall=_length(rule.slope * flattest.flat_m),
        ),
    )
    if flattest.fall_m <= _LEVEL_M:
        yield Finding(
            "stop",
            "water.drain-no-fall",
            Phrase.of("The drain from {start} has no fall", start=start),
            Phrase.of(
                "It lies level for {flat}: water stays in it, and backs up into {start}. Lead it "
                "down to {end} by {fall} at least, or take a drain pump.",
                flat=_length(flattest.flat_m),
                start=start,
                end=end,
                fall=_length(rule.slope * flattest.flat_m),
            ),
            _ends(drain),
            (drain.run,),
            value=_length(flattest.fall_m),
            limit=_length(rule.slope * flattest.flat_m),
            number=Number("drain", drain.run, "slope"),
            source=rule.citation,
            working=working,
        )
    elif flattest.slope * _SLACK < rule.slope:
        yield Finding(
            "care",
            "water.drain-slope",
            Phrase.of(
                "The drain from {start} falls {fall} over {flat}",
                start=start,
                fall=_length(flattest.fall_m),
                flat=_length(flattest.flat_m),
            ),
            Phrase.of(
                "That is {slope}, asked are {asked}: it runs slowly and leaves behind what the "
                "water carries. Stand {end} lower or nearer, or {start} higher.",
                slope=Value(flattest.slope, "percent"),
                asked=Value(rule.slope, "percent"),
                start=start,
                end=end,
            ),
            _ends(drain),
            (drain.run,),
            value=Value(flattest.slope, "percent"),
            limit=Value(rule.slope, "percent"),
            number=Number("drain", drain.run, "slope"),
            source=rule.citation,
            working=working,
        )


def _rises(place: Place, drain: DrainState) -> Finding:
    """It goes up again on its way: water stands, air is shut in, or nothing flows at all."""
    worst = max(drain.low_points, key=lambda one: (one.blocked, one.sealed, one.rise_m))
    start, end = place.name(drain.start[0]), place.name(drain.end[0])
    stretch = next(iter(drain.stretches), None)
    came_m = stretch.start[2] if stretch is not None else worst.at[2]
    level = worst.along_m > _LEVEL_M and came_m - worst.at[2] <= _LEVEL_M
    words: dict[str, Value | str] = {
        "start": start,
        "end": end,
        "rise": _length(worst.rise_m),
        "along": _length(worst.along_m),
        "leaves": "It leaves level and has no fall. " if level else "",
    }
    if worst.blocked:
        title = "The drain from {start} climbs {rise} and is blocked"
        detail = (
            "{leaves}{along} from {start} it turns up again, to no lower than the water comes in: "
            "water stands there, air is locked in, and nothing flows by itself. Lead it down all "
            "the way to {end}, or take a drain pump."
        )
    elif worst.sealed:
        title = "The drain from {start} climbs {rise}: air lock"
        detail = (
            "{along} from {start} it turns up again. Water stands there and shuts in the air "
            "behind it, so it runs by fits or not at all, and what stands goes bad. Lead it down "
            "all the way to {end}."
        )
    else:
        title = "Water stands in the drain from {start}"
        detail = (
            "{along} from {start} it turns up again by {rise}, less than its bore: water stays "
            "there and goes bad. Lead it down all the way to {end}."
        )
    return Finding(
        "stop" if worst.blocked else "care",
        "water.drain-rise",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        _ends(drain),
        (drain.run,),
        value=_length(worst.rise_m),
        source=PRACTICE,
        working=(*_climb_lines(came_m, drain.low_points), *_stretch_lines(drain)),
    )


def _climb_lines(came_m: float, points: tuple[LowPoint, ...]) -> Iterator[Phrase]:
    yield Phrase.of("Water comes in {z} above the floor", z=_length(came_m))
    for one in points:
        yield Phrase.of(
            "Low point: {x} from the left, {y} from the rear, {z} above the floor",
            x=_length(one.at[0]),
            y=_length(one.at[1]),
            z=_length(one.at[2]),
        )
        yield Phrase.of(
            "Top behind it: {x} from the left, {y} from the rear, {z} above the floor",
            x=_length(one.crest[0]),
            y=_length(one.crest[1]),
            z=_length(one.crest[2]),
        )


def _stretch_lines(drain: DrainState) -> Iterator[Phrase]:
    for one in drain.stretches:
        yield Phrase.of(
            "From {a} to {b} above the floor: {fall} of fall along {flat}",
            a=_length(one.start[2]),
            b=_length(one.end[2]),
            fall=_length(one.fall_m),
            flat=_length(one.flat_m),
        )


# --- what it carries ---------------------------------------------------------------------------


def _carries(place: Place, drain: DrainState) -> Iterator[Finding]:
    case, flow = drain.greatest
    if drain.full <= 0.0 or flow <= drain.half_full * _SLACK:
        return
    start = place.name(drain.start[0])
    practice = drain_practice()
    over = flow > drain.full * _SLACK
    severity: Severity = ("care" if drain.advisory else "stop") if over else "note"
    limit = drain.full if over else drain.half_full
    words: dict[str, Value | str] = {
        "start": start,
        "flow": rate(flow),
        "limit": rate(limit),
        "case": case,
        "advisory": (
            " Manning's formula is a rough figure for water so slow in a tube so thin."
            if drain.advisory
            else ""
        ),
    }
    title = "The drain from {start} gets {flow}, runs full at {limit}"
    detail = (
        '"{case}" lets more into it than it can carry by its fall: water backs up. Take a wider '
        "tube, or give it more fall.{advisory}"
    )
    if not over:
        title = "The drain from {start} runs more than half full"
        detail = (
            '"{case}" lets {flow} into it, at half its depth it carries {limit}. Where no air gets '
            "by it gurgles and sucks; a wider tube is quieter.{advisory}"
        )
    flattest = drain.flattest
    gradient = flattest.gradient if flattest is not None else 0.0
    yield Finding(
        severity,
        "water.drain-full",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        (*_ends(drain), *(one for one in drain.serves if one != drain.start[0])),
        (drain.run,),
        value=rate(flow),
        limit=rate(limit),
        number=Number("drain", drain.run, "half full"),
        source=f"Manning's formula; {practice.manning_n.citation}",
        working=(
            Phrase.of(
                "Speed = (bore / 4)^(2/3) x gradient^(1/2) / n, with bore {bore}, gradient "
                "{gradient}, n {n}",
                bore=_length(drain.bore_m),
                gradient=Value(gradient, "percent"),
                n=f"{practice.manning_n.value:.3f}",
            ),
            Phrase.of(
                "Full {full}, half full {half}", full=rate(drain.full), half=rate(drain.half_full)
            ),
            Phrase.of(
                "Reynolds number {number}, valid from {least}",
                number=Value(drain.reynolds, "count"),
                least=Value(practice.least_reynolds.value, "count"),
            ),
        ),
    )


def _narrows(place: Place, drain: DrainState) -> Iterator[Finding]:
    """A bore smaller than what leads into it, or than what it ends in."""
    before = (
        place.tube_name(drain.before)
        if drain.before in place.runs
        else (f"the outlet of {place.name(drain.before)}")
    )
    after = f"the inlet of {place.name(drain.end[0])}"
    steps = (
        (drain.before_m, drain.bore_m, before, "this tube"),
        (drain.bore_m, drain.after_m, "this tube", after),
    )
    for wide_m, narrow_m, wide, narrow in steps:
        if narrow_m <= 0.0 or wide_m <= narrow_m * _SAME_SHARE:
            continue
        yield Finding(
            "care",
            "water.drain-narrows",
            Phrase.of(
                "The drain from {start} narrows from {wide} to {narrow}",
                start=place.name(drain.start[0]),
                wide=_length(wide_m),
                narrow=_length(narrow_m),
            ),
            Phrase.of(
                "{which} is wider than {then}. What comes through the wide part catches in the "
                "narrow one. Keep the bore, or let it grow, on the way down.",
                which=capitalised(wide),
                then=narrow,
            ),
            _ends(drain),
            tuple(
                dict.fromkeys((drain.run, *((drain.before,) if drain.before in place.runs else ())))
            ),
            value=_length(narrow_m),
            limit=_length(wide_m),
            source=drain_practice().no_reduction.citation,
        )


def _backs_up(place: Place, drain: DrainState) -> Iterator[Finding]:
    if drain.backs_up_m is None:
        return
    item, tank = place.name(drain.backs_up_to), place.name(drain.end[0])
    yield Finding(
        "care",
        "water.drain-backs-up",
        Phrase.of("A full {tank} backs up into {item}", tank=tank, item=item),
        Phrase.of(
            "When it is full, its water stands {over} above the outlet of {item}, and waste runs "
            "back. Stand {tank} lower, or empty it before it is full.",
            over=_length(drain.backs_up_m),
            item=item,
            tank=tank,
        ),
        (drain.backs_up_to, drain.end[0]),
        (drain.run,),
        value=_length(drain.backs_up_m),
        source=PRACTICE,
    )
