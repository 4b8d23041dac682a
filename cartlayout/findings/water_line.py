"""What to say about the line itself: sources, tubes, gauges."""

from collections.abc import Iterator

from ..build import Gauge
from ..limits import tube_row
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.results import ALL_SHUT, Trouble
from .finding import Finding, Severity
from .water_words import Place, bar

# code of a trouble -> (severity, title, what to do)
_TROUBLES: dict[str, tuple[Severity, str, str]] = {
    "empty": (
        "stop",
        "{a} cannot be drawn from",
        "In {a} {detail}. Fill it, or lower its pick-up.",
    ),
    "no bore": (
        "stop",
        "A tube at {a} lets nothing through",
        "Of this tube {detail}. Choose another.",
    ),
    "no curve": ("stop", "{a} gives no water", "{detail}. Enter its curve from the maker's sheet."),
    "starved": (
        "stop",
        "{a} is starved on its suction side",
        "To give more, its inlet would have to go below the pressure at which water boils. Take a "
        "wider or shorter suction tube, or set it lower.",
    ),
    "not converged": (
        "care",
        "The water could not be solved",
        "No steady state was found for: {detail}. Look for valves or regulators that work against "
        "each other; no pressures are shown for it.",
    ),
}


def line_rules(place: Place) -> Iterator[Finding]:
    """Judge everything between source and taps."""
    for trouble in place.water.troubles:
        if trouble.code in _TROUBLES:
            yield _trouble(place, trouble)
    yield from _velocity(place)
    yield from _tubes(place)
    yield from _gauges(place)


def _trouble(place: Place, trouble: Trouble) -> Finding:
    severity, title, detail = _TROUBLES[trouble.code]
    words = {
        "a": place.name(trouble.items[0]) if trouble.items else "the line",
        "detail": trouble.detail,
    }
    return Finding(
        severity,
        f"water.{trouble.code.replace(' ', '-')}",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        trouble.items,
        trouble.runs,
    )


# --- tubes, gauges -----------------------------------------------------------------------------


def _velocity(place: Place) -> Iterator[Finding]:
    limit = water_practice().greatest_velocity_m_s
    worst = {
        run_id: velocity
        for run_id, velocity in place.water.fastest.items()
        if velocity > limit.value
    }
    if not worst:
        return
    runs = sorted(worst, key=lambda run_id: -worst[run_id])
    top = worst[runs[0]]
    several = f" and in {len(runs) - 1} more" if len(runs) > 1 else ""
    yield Finding(
        "care",
        "water.velocity",
        Phrase.of(
            "Water runs at {top} in a tube{several}",
            top=Value(top, "velocity"),
            several=several,
        ),
        Phrase.of(
            "Above {limit} it is loud, wears fittings and hammers when a valve shuts. Fastest in "
            "the {tube}: take a wider tube.",
            limit=Value(limit.value, "velocity"),
            tube=place.tube_name(runs[0]),
        ),
        (),
        tuple(runs),
        value=Value(top, "velocity"),
        limit=Value(limit.value, "velocity"),
        source=limit.citation,
    )


def _tubes(place: Place) -> Iterator[Finding]:
    static = place.water.cases.get(ALL_SHUT)
    pressures = static.pressures_pa if static is not None else {}
    for _, _, data in place.network.supply.edges(data=True):
        run = data.get("run")
        if run is None:
            continue
        name = place.tube_name(run.id)
        ends = tuple((end.item, end.port) for end in (run.a, run.b) if end is not None)
        items = tuple(end[0] for end in ends)
        if not run.tube.potable:
            yield Finding(
                "stop",
                "water.not-potable",
                Phrase.of("{tube} is not for drinking water", tube=name),
                Phrase.of("It is in the supply line. Take a tube sold for drinking water."),
                items,
                (run.id,),
                source=_tube_source(run.tube.name),
            )
        rating = run.tube.rating
        highest_pa = max((pressures.get(end, 0.0) for end in ends), default=0.0)
        if rating is not None and highest_pa > rating.si + 20.0:
            yield Finding(
                "stop",
                "water.tube-rating",
                Phrase.of(
                    "{tube} sees {static}, rated {rating}",
                    tube=name,
                    static=bar(highest_pa),
                    rating=bar(rating.si),
                ),
                Phrase.of("With every tap shut it may burst. Take a stronger tube."),
                items,
                (run.id,),
                value=bar(highest_pa),
                limit=bar(rating.si),
                source=_tube_source(run.tube.name),
            )


def _tube_source(name: str) -> str:
    row = tube_row(name)
    return (row.rating_source or row.citation) if row is not None else "the tube as entered"


def _gauges(place: Place) -> Iterator[Finding]:
    static = place.water.cases.get(ALL_SHUT)
    if static is None:
        return
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Gauge):
            continue
        highest_pa = max(
            (static.pressures_pa.get((item.id, port.id), 0.0) for port in item.specification.ports),
            default=0.0,
        )
        if highest_pa > role.full_scale.si:
            yield Finding(
                "care",
                "water.gauge-scale",
                Phrase.of(
                    "{gauge} ends at {scale}, the line stands at {static}",
                    gauge=item.name,
                    scale=bar(role.full_scale.si),
                    static=bar(highest_pa),
                ),
                Phrase.of("It will be bent or broken. Take one with a longer scale."),
                (item.id,),
                value=bar(highest_pa),
                limit=bar(role.full_scale.si),
                source=place.source_of(item.id),
            )
