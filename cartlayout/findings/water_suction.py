"""What to say about a pump's suction side: how high it lifts, and whether it keeps its prime."""

import math
from collections.abc import Iterator

from ..units import Phrase, Value
from ..water.pump_results import Suction
from .finding import Finding
from .number import Number
from .water_words import PRACTICE, Place, head, rate

_AIR_GATHERS_M = 0.02
"""About the width of a tube."""


def suction_rules(place: Place) -> Iterator[Finding]:
    """Judge the way from each tank up to its pump."""
    for suction in place.water.suctions:
        yield from _suction(place, suction)


def _suction(place: Place, suction: Suction) -> Iterator[Finding]:
    pump, tank = place.name(suction.pump), place.name(suction.tank)
    source = place.source_of(suction.pump)
    thin = " Set it lower."
    if suction.lift_here_m < 0.98 * suction.greatest_lift_m:
        thin = " Its maker states {stated}; thin air and warm water leave that. Set it lower."
    if suction.last_lift_m > suction.lift_here_m:
        yield Finding(
            "stop",
            "water.lift",
            Phrase.of(
                "{pump} must lift {lift}, it can {limit}",
                pump=pump,
                lift=Value(suction.last_lift_m, "length"),
                limit=Value(suction.lift_here_m, "length"),
            ),
            Phrase.of(
                "So high above the last of the water in {tank} it will not prime." + thin,
                tank=tank,
                stated=Value(suction.greatest_lift_m, "length"),
            ),
            (suction.pump, suction.tank),
            value=Value(suction.last_lift_m, "length"),
            limit=Value(suction.lift_here_m, "length"),
            number=Number("suction", suction.pump, "lift"),
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
                available=head(suction.available_m),
                required=head(required),
            ),
            Phrase.of(
                "Water would boil in its inlet at {flow}: it rattles and wears. Set it lower, or "
                "take a wider or shorter suction tube.",
                flow=rate(suction.flow),
            ),
            (suction.pump, suction.tank),
            value=head(suction.available_m),
            limit=head(required),
            number=Number("suction", suction.pump, "head"),
            source=source,
            working=suction_working(suction),
        )
    yield from _air_comes_in(place, suction)
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
    if suction.crest_m > _AIR_GATHERS_M:
        yield Finding(
            "note",
            "water.suction-crest",
            Phrase.of(
                "The suction line of {pump} is led {crest} above both of its ends",
                pump=pump,
                crest=Value(suction.crest_m, "length"),
            ),
            Phrase.of(
                "Air gathers at the top of it and the pump loses its prime. Lead it so that it "
                "climbs all the way."
            ),
            (suction.pump, suction.tank),
            suction.tubes,
            value=Value(suction.crest_m, "length"),
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


def _air_comes_in(place: Place, suction: Suction) -> Iterator[Finding]:
    """A tank that would last, but for the water below its pick-up."""
    hours_s = place.build.service.hours.si
    left_s = suction.lasts_s
    balance = place.water.balance
    enough = balance is not None and balance.fresh_per_day <= balance.fresh
    if not enough or not 0.0 < left_s < hours_s:
        return
    yield Finding(
        "care",
        "water.prime-lost",
        Phrase.of(
            "{pump} draws air after {time} of service",
            pump=place.name(suction.pump),
            time=Value(left_s, "minutes", 0),
        ),
        Phrase.of(
            "{tank} is not empty then, but its water stands at the pick-up; {left} stays in it. "
            "Refill it before, or lower the pick-up: a pump that drew air has to prime anew.",
            tank=place.name(suction.tank),
            left=Value(suction.left_behind, "volume"),
        ),
        (suction.pump, suction.tank),
        value=Value(left_s, "minutes", 0),
        limit=Value(hours_s, "minutes", 0),
        source=PRACTICE,
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
            air=head(suction.air_m),
            vapour=head(suction.vapour_m),
            lift=head(suction.last_lift_m),
            loss=head(suction.loss_pa / weight),
            available=head(suction.available_m),
            flow=rate(suction.flow),
        ),
    )
