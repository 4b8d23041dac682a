"""What to say about gauges: readings that are not as drawn."""

from collections.abc import Iterator

from ..limits.water_practice import water_practice
from ..units import Phrase
from ..water.gauge_results import GaugeReading, GaugeState
from .finding import Finding
from .water_words import Place, bar


def gauge_rules(place: Place) -> Iterator[Finding]:
    """What gauges show beside what they should."""
    for state in place.water.gauges:
        worst = state.worst
        if worst is not None and state.is_off(worst):
            yield _off(state, worst)


def _off(state: GaugeState, worst: GaugeReading) -> Finding:
    beyond_pa, read_pa = worst.beyond_pa or 0.0, worst.read_pa or 0.0
    should_pa = worst.high_pa if beyond_pa > 0.0 else worst.low_pa
    practice = water_practice().gauge_error_share
    return Finding(
        severity="care",
        code="water.gauge",
        title=Phrase.of(
            "{gauge} shows {read}, {should} is expected ({case})",
            gauge=state.name,
            read=bar(read_pa),
            should=bar(should_pa),
            case=worst.case,
        ),
        detail=Phrase.of(
            "It is {much} {way} what the drawing gives, and a good gauge of its range is off by "
            "{error} at most. Select it and ask what explains it.",
            much=bar(abs(beyond_pa)),
            way="above" if beyond_pa > 0.0 else "below",
            error=bar(state.error_pa),
        ),
        items=(state.item,),
        value=bar(read_pa),
        limit=bar(should_pa),
        source=f"{practice.source} ({practice.status})",
        working=tuple(_line(state, one) for one in state.readings if one.read_pa is not None),
    )


def _line(state: GaugeState, one: GaugeReading) -> Phrase:
    verdict = "not as drawn" if state.is_off(one) else "within its error"
    return Phrase.of(
        "{case}: shows {read}, should show {low} to {high}: {verdict}",
        case=one.case,
        read=bar(one.read_pa or 0.0),
        low=bar(one.low_pa),
        high=bar(one.high_pa),
        verdict=verdict,
    )
