"""What to say about valves that knock when they shut."""

from collections.abc import Iterator

from ..units import Phrase, Value
from ..water.pump_results import Surge
from .finding import Finding
from .number import Number
from .water_words import Place, bar, seconds

_LONGEST_CLOSING_S = 2.0
"""Nobody waits longer for a tap to shut."""


def surge_rules(place: Place) -> Iterator[Finding]:
    """Knocks that a tube is not rated for; the hardest tells for all on the same tube."""
    for surge in place.water.surges:
        if surge.rating_pa is None or surge.peak_pa <= surge.rating_pa:
            continue
        mend, values = _softer(surge)
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
                + mend,
                speed=Value(surge.velocity_m_s, "velocity"),
                time=seconds(surge.closing_s),
                typical=" (typical)" if surge.assumed else "",
                rise=bar(surge.rise_pa),
                static=bar(surge.static_pa),
                **values,
            ),
            (surge.item,),
            (surge.run,),
            value=bar(surge.peak_pa),
            limit=bar(surge.rating_pa),
            number=Number("surge", f"{surge.item}.{surge.port}", "peak"),
            source="Joukowsky's formula, wave speed by the tube's own wall; rating of the tube",
            working=surge_working(surge),
        )


def _softer(surge: Surge) -> tuple[str, dict[str, Value]]:
    """What would bring a knock down, with numbers where there are any."""
    if surge.static_pa >= (surge.rating_pa or 0.0):
        return "The line is over its rating at rest already: lower that first.", {}
    mend = "An arrestor beside the valve takes it up; so does a wider tube before it"
    if surge.slow_enough_s < _LONGEST_CLOSING_S:
        mend += ", or a valve that takes {slow} to shut"
        return mend + ".", {"slow": seconds(max(surge.slow_enough_s, surge.back_s))}
    return mend + ".", {}


def surge_working(surge: Surge) -> tuple[Phrase, ...]:
    """The bound and the estimate, with the numbers put in."""
    slower = ", the whole of it"
    if surge.closing_s > surge.back_s:
        slower = ", by 0.070 x velocity x length / time (psi, ft/s, ft, s) summed along the line"
        if surge.rise_pa >= surge.bound_pa:
            slower += ", and never more than at once"
    return (
        Phrase.of(
            "At most: density x wave speed {wave} x velocity {speed} = {bound}",
            wave=Value(surge.wave_m_s, "velocity", 0),
            speed=Value(surge.velocity_m_s, "velocity"),
            bound=bar(surge.bound_pa),
        ),
        Phrase.of(
            "The wave is back after {back}, over {length} of tube (2 L / a, tube by tube); "
            "the valve takes {time}: {rise}" + slower,
            length=Value(surge.length_m, "distance"),
            back=Value(surge.back_s, "short time"),
            time=Value(surge.closing_s, "short time"),
            rise=bar(surge.rise_pa),
        ),
        Phrase.of(
            "Together with {static} at rest: {peak}",
            static=bar(surge.static_pa),
            peak=bar(surge.peak_pa),
        ),
    )
