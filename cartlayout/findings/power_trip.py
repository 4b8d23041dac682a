"""How long an overload lasts, in words."""

import math

from ..power.trip import TripBound
from ..units import Phrase, Value


def span(seconds: float) -> Value:
    """A time as short or as long as it is."""
    if seconds < 1.0:
        return Value(seconds, "short time")
    if seconds < 60.0:
        return Value(seconds, "seconds", 0)
    if seconds < 3600.0:
        return Value(seconds, "minutes", 0)
    return Value(seconds, "duration", 0)


def trip_sentence(bound: TripBound | None) -> tuple[str, dict[str, Value | str]]:
    """What the standard promises at this current, as a template and its values."""
    if bound is None or bound.never_sooner_s == math.inf:
        return "", {}
    holds, must = bound.never_sooner_s, bound.at_latest_s
    if holds > 0.0 and must < math.inf:
        return "It trips between {sooner} and {latest}.", {
            "sooner": span(holds),
            "latest": span(must),
        }
    if must < math.inf:
        return "It may trip at once and must within {latest}.", {"latest": span(must)}
    if holds > 0.0:
        return "It holds for {sooner} at least; nothing says when it must trip.", {
            "sooner": span(holds)
        }
    return "It may trip at any time, and nothing says that it must: the wires stay too warm.", {}


def trip_working(bound: TripBound | None) -> tuple[Phrase, ...]:
    """The tests of the standard that stand behind it."""
    if bound is None or bound.never_sooner_s == math.inf:
        return ()
    lines = [Phrase.of("Times its rating: {multiple}", multiple=Value(bound.multiple, "number"))]
    for what, (rule, source) in (("Not before", bound.holds), ("By then", bound.trips)):
        if rule:
            lines.append(
                Phrase.of("{what}: {rule} ({source})", what=what, rule=rule, source=source)
            )
    return tuple(lines)
