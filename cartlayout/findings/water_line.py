"""What to say about the line itself: sources, tubes, gauges."""

from collections.abc import Iterator

from ..build import Gauge, Tube, TubeRun
from ..limits import tube_row
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.results import ALL_SHUT, Trouble
from ..water.supply_results import TubeStatic
from .finding import Finding, Severity
from .number import Number
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
    yield from _ratings(place)
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
    # Tubes in a row carry the same: which is first must not hang on the last digit of a solution.
    runs = sorted(worst, key=lambda run_id: (-round(worst[run_id], 4), run_id))
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
        number=Number("tube", runs[0], "velocity", _fastest_in(place, runs[0], top)),
        limit=Value(limit.value, "velocity"),
        source=limit.citation,
    )


def _fastest_in(place: Place, run_id: str, velocity_m_s: float) -> str:
    """The case in which its water runs so fast."""
    for name, case in place.water.cases.items():
        state = case.runs.get(run_id)
        if state is not None and state.velocity_m_s >= velocity_m_s * (1.0 - 1e-9):
            return name
    return ""


def _tubes(place: Place) -> Iterator[Finding]:
    for _, _, data in place.network.supply.edges(data=True):
        run = data.get("run")
        if run is None or run.tube.potable:
            continue
        yield Finding(
            "stop",
            "water.not-potable",
            Phrase.of("{tube} is not for drinking water", tube=place.tube_name(run.id)),
            Phrase.of("It is in the supply line. Take a tube sold for drinking water."),
            tuple(end.item for end in (run.a, run.b) if end is not None),
            (run.id,),
            source=_tube_source(run.tube.name),
        )


def _ratings(place: Place) -> Iterator[Finding]:
    """What every tube sees with everything shut, against what it may at its temperature."""
    for static in place.water.statics:
        run = place.runs.get(static.run)
        if run is None or run.b is None:
            continue
        if static.too_hot:
            yield _too_hot(place, run, static)
        elif static.rating_pa is not None and static.highest_pa > static.rating_pa + 20.0:
            yield _over_rating(place, run, static, static.rating_pa)


def _too_hot(place: Place, run: TubeRun, static: TubeStatic) -> Finding:
    stated = [one for one in (run.tube.rating_at, run.tube.warm_rating_at) if one is not None]
    hottest_k = max((one.si for one in stated), default=0.0)
    now = Value(static.temperature_k, "temperature")
    limit = Value(hottest_k, "temperature")
    return Finding(
        "stop",
        "water.tube-too-hot",
        Phrase.of(
            "{tube} carries water of {now}, rated up to {limit}",
            tube=place.tube_name(run.id),
            now=now,
            limit=limit,
        ),
        Phrase.of(
            "No pressure is stated for it when it is so hot; it stands at {static} with every tap "
            "shut. Take a tube for hot water.",
            static=bar(static.highest_pa),
        ),
        _ends(run),
        (run.id,),
        value=now,
        limit=limit,
        source=_tube_source(run.tube.name),
    )


def _over_rating(place: Place, run: TubeRun, static: TubeStatic, rating_pa: float) -> Finding:
    cold = run.tube.rating_at
    warm = cold is not None and rating_pa < (run.tube.rating.si if run.tube.rating else 0.0)
    return Finding(
        "stop",
        "water.tube-rating",
        Phrase.of(
            "{tube} sees {static}, rated {rating}",
            tube=place.tube_name(run.id),
            static=bar(static.highest_pa),
            rating=bar(rating_pa),
        ),
        Phrase.of("With every tap shut it may burst. Take a stronger tube."),
        _ends(run),
        (run.id,),
        value=bar(static.highest_pa),
        limit=bar(rating_pa),
        number=Number("tube", run.id, "static"),
        source=_tube_source(run.tube.name),
        working=(_by_temperature(run.tube, static),) if warm else (),
    )


def _by_temperature(tube: Tube, static: TubeStatic) -> Phrase:
    """How a rating falls between the two temperatures that it is stated at."""
    return Phrase.of(
        "Rated {cold} at {cold_at} and {warm} at {warm_at}; on the line between them {rating} at "
        "{now}",
        cold=bar(tube.rating.si if tube.rating else 0.0),
        cold_at=Value(tube.rating_at.si if tube.rating_at else 0.0, "temperature"),
        warm=bar(tube.warm_rating.si if tube.warm_rating else 0.0),
        warm_at=Value(tube.warm_rating_at.si if tube.warm_rating_at else 0.0, "temperature"),
        rating=bar(static.rating_pa or 0.0),
        now=Value(static.temperature_k, "temperature"),
    )


def _ends(run: TubeRun) -> tuple[str, ...]:
    return tuple(end.item for end in (run.a, run.b) if end is not None)


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
