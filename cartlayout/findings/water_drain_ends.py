"""What to say about where drains end: drain pumps, the venue's drain, waste tanks, air gaps."""

from collections.abc import Iterator

from ..build import Drain, Tank
from ..limits import profile, water_connector
from ..units import Phrase, Value
from ..water.drain_results import AirGap, DrainPumpState
from .finding import Finding
from .water_words import Place, rate

_SAME_SHARE = 1.03
"""Inch and metric sizes that are sold for each other differ by less."""
_SLACK = 1.001


def drain_end_rules(place: Place) -> Iterator[Finding]:
    """Judge every drain pump, the venue's drains, outlets of waste tanks, and air gaps."""
    for pump in place.water.drain_pumps:
        yield from _pump(place, pump)
    yield from _venue(place)
    yield from _waste_outlets(place)
    yield from _air_gaps(place)


def _length(metres: float) -> Value:
    return Value(metres, "length")


def _pump(place: Place, pump: DrainPumpState) -> Iterator[Finding]:
    if not pump.run:
        return
    name = place.name(pump.item)
    case, flow = pump.greatest
    if pump.lift_m >= pump.greatest_lift_m:
        yield Finding(
            "stop",
            "water.drain-pump-lift",
            Phrase.of(
                "{pump} has to lift {lift}, it can {most}",
                pump=name,
                lift=Value(pump.lift_m, "distance"),
                most=Value(pump.greatest_lift_m, "distance"),
            ),
            Phrase.of(
                "Nothing leaves its sump, which runs over. Lead its tube less high, or take a "
                "stronger one."
            ),
            (pump.item,),
            (pump.run,),
            value=Value(pump.lift_m, "distance"),
            limit=Value(pump.greatest_lift_m, "distance"),
            source=place.source_of(pump.item),
        )
    elif flow > pump.flow * _SLACK:
        yield Finding(
            "stop",
            "water.drain-pump-flow",
            Phrase.of(
                "{pump} moves {moves}, {comes} comes",
                pump=name,
                moves=rate(pump.flow),
                comes=rate(flow),
            ),
            Phrase.of(
                '"{case}" fills its sump of {sump} in {fills} while it stands, and over while it '
                "runs. Take a stronger pump, or a wider tube behind it.",
                case=case,
                sump=Value(pump.sump, "volume"),
                fills=Value(pump.fills_s, "seconds"),
            ),
            (pump.item,),
            (pump.run,),
            value=rate(flow),
            limit=rate(pump.flow),
            source=place.source_of(pump.item),
            working=(
                Phrase.of(
                    "Lifts {lift} of {most}; what is left pushes {moves} through its tube",
                    lift=Value(pump.lift_m, "distance"),
                    most=Value(pump.greatest_lift_m, "distance"),
                    moves=rate(pump.flow),
                ),
            ),
        )


def _venue(place: Place) -> Iterator[Finding]:
    """More than the venue's drain takes."""
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Drain) or role.capacity is None:
            continue
        runs = [one for one in place.water.drains if one.end[0] == item.id]
        comes: dict[str, float] = {}
        for one in runs:
            for case, flow in one.arriving.items():
                comes[case] = comes.get(case, 0.0) + flow
        case, flow = max(comes.items(), key=lambda one: one[1], default=("", 0.0))
        if flow <= role.capacity.si * _SLACK:
            continue
        yield Finding(
            "stop",
            "water.drain-capacity",
            Phrase.of(
                "{drain} takes {takes}, {comes} comes",
                drain=item.name,
                takes=rate(role.capacity.si),
                comes=rate(flow),
            ),
            Phrase.of(
                '"{case}" lets in more than it takes, and it runs over. Open fewer taps together, '
                "or lead part of it elsewhere.",
                case=case,
            ),
            (item.id,),
            tuple(one.run for one in runs),
            value=rate(flow),
            limit=rate(role.capacity.si),
            source=place.source_of(item.id),
        )


def _waste_outlets(place: Place) -> Iterator[Finding]:
    """A waste tank that drains by an outlet of its own needs a wide one."""
    rule = profile(place.build.region).waste_drain_bore_m
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Tank) or role.contents != "waste":
            continue
        for port in item.specification.ports:
            row = water_connector(port.connector)
            if port.medium != "drain" or port.direction != "out" or row is None:
                continue
            if row.bore_m is None or row.bore_m * _SAME_SHARE >= rule.value:
                continue
            yield Finding(
                "care",
                "water.waste-outlet",
                Phrase.of(
                    "{tank} empties through {bore}, asked are {least}",
                    tank=item.name,
                    bore=_length(row.bore_m),
                    least=_length(rule.value),
                ),
                Phrase.of(
                    "What settles in a waste tank blocks a thin outlet. Take a tank with a wider "
                    "one and a shut-off valve; the local authority decides."
                ),
                (item.id,),
                value=_length(row.bore_m),
                limit=_length(rule.value),
                source=rule.citation,
            )


def _air_gaps(place: Place) -> Iterator[Finding]:
    unknown: list[AirGap] = []
    for gap in place.water.air_gaps:
        if gap.given_m is None:
            unknown.append(gap)
        elif gap.given_m * _SLACK < gap.needed_m:
            yield _too_small(place, gap, gap.given_m)
    if unknown:
        most = max(unknown, key=lambda one: one.needed_m)
        yield Finding(
            "note",
            "water.air-gap-unknown",
            Phrase.of(
                "Air gap not stated: {names}",
                names=", ".join(place.name(one.item) for one in unknown),
            ),
            Phrase.of(
                "Between an outlet and the rim below it there must be open air, up to {needed} "
                "here, or waste can be sucked back. Measure it and enter it in Details.",
                needed=_length(most.needed_m),
            ),
            tuple(one.item for one in unknown),
            limit=_length(most.needed_m),
            source=most.source,
        )


def _too_small(place: Place, gap: AirGap, given_m: float) -> Finding:
    return Finding(
        "stop",
        "water.air-gap",
        Phrase.of(
            "Air gap of {item} is {given}, must be {needed}",
            item=place.name(gap.item),
            given=_length(given_m),
            needed=_length(gap.needed_m),
        ),
        Phrase.of(
            "When pressure fails, waste can be sucked up over a gap so small. Raise the outlet, or "
            "lower the rim below it; the local authority decides."
        ),
        (gap.item,),
        (gap.run,) if gap.run else (),
        value=_length(given_m),
        limit=_length(gap.needed_m),
        source=gap.source,
        working=(
            Phrase.of(
                "The larger of {times} x {bore} and {least}",
                times=Value(profile(place.build.region).air_gap_bores.value, "count"),
                bore=_length(gap.bore_m),
                least=_length(profile(place.build.region).least_air_gap_m.value),
            ),
        ),
    )
