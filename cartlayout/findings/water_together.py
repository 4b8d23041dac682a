"""What to say about taps that have enough alone and too little while others draw."""

from collections.abc import Iterator

from ..build import Filter
from ..units import Phrase
from ..water.results import LadderStep, Tap, alone
from ..water.supply_results import Robbed
from .finding import Finding
from .number import Number
from .water_words import Place, bar, rate

_MOST_NAMES = 3


def together_rules(place: Place) -> Iterator[Finding]:
    """One finding for each tap that fails only together with others, naming the fewest.

    Where it fails in a case of the person's, that is said of this case (see `tap_rules`).
    """
    own = set(place.own_cases)
    for tap in place.water.taps:
        failing = place.water.starved(tap)
        if failing and not any(one.case in own for one in failing):
            yield _robbed(place, tap, failing[0])


def _robbed(place: Place, tap: Tap, told: Robbed) -> Finding:
    names = robbers(told)
    verb = "is" if len(told.by) == 1 else "are"
    eater, advice = _shared(place, tap, told)
    short = not told.flow_ok
    if short:
        title = Phrase.of(
            "{tap} gets {flow} of {needed} while {robbers} {verb} open",
            tap=tap.name,
            flow=rate(told.flow),
            needed=rate(tap.required_flow),
            robbers=names,
            verb=verb,
        )
    else:
        title = Phrase.of(
            "{tap} falls to {pressure} while {robbers} {verb} open, needs {least}",
            tap=tap.name,
            pressure=bar(told.pressure_pa),
            robbers=names,
            verb=verb,
            least=bar(tap.least_pa),
        )
    return Finding(
        "care",
        "water.together",
        title,
        Phrase.of(
            "Alone it has {alone} at {alone_flow}; with {robbers} open as well it falls to "
            "{pressure} at {flow}. " + advice,
            alone=bar(told.alone_pa),
            alone_flow=rate(told.alone_flow),
            robbers=names,
            pressure=bar(told.pressure_pa),
            flow=rate(told.flow),
            eater=eater.name if eater is not None else "",
        ),
        (tap.item, *dict.fromkeys(one.item for one in told.by), *_item(place, eater)),
        (eater.id,) if eater is not None and eater.id in place.runs else (),
        value=rate(told.flow) if short else bar(told.pressure_pa),
        limit=rate(tap.required_flow) if short else bar(tap.least_pa),
        number=Number("tap", f"{tap.item}.{tap.port}", "flow" if short else "pressure", told.case),
        source=place.source_of(tap.item),
        working=_working(place, tap, told),
    )


def robbers(told: Robbed) -> str:
    """Names of those that are open as well, the hungriest first."""
    names = [one.name for one in told.by]
    if len(names) > _MOST_NAMES:
        return f"{', '.join(names[: _MOST_NAMES - 1])} and {len(names) - _MOST_NAMES + 1} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _growth(place: Place, tap: Tap, told: Robbed) -> list[tuple[float, LadderStep]]:
    """Every step on the way to a tap with what it takes more than while the tap is alone."""
    before = {one.id: one.loss_pa for one in place.water.ladder(tap, alone(tap.name))}
    after = place.water.ladder(tap, told.case)
    return [(step.loss_pa - before.get(step.id, 0.0), step) for step in after]


def _shared(place: Place, tap: Tap, told: Robbed) -> tuple[LadderStep | None, str]:
    """The step that the others load most, and what to do about it."""
    grown = [one for one in _growth(place, tap, told) if one[1].id not in _pumps(place, tap)]
    more_pa, step = max(grown, key=lambda one: one[0], default=(0.0, None))
    if step is None or more_pa < 0.3 * told.fall_pa:
        return None, "The supply itself gives way: it takes one that gives more at this pressure."
    if step.id in place.runs:
        return step, (
            "Most of it is lost in {eater}, which they share: take a wider tube there, or let each "
            "have its own."
        )
    if isinstance(place.role(step.id), Filter):
        return step, "Most of it is lost in {eater}: take one of a higher rated flow."
    return step, "Most of it is lost in {eater}."


def _pumps(place: Place, tap: Tap) -> set[str]:
    pump = place.pump_on_way(tap)
    return {pump[0]} if pump is not None else set()


def _item(place: Place, eater: LadderStep | None) -> tuple[str, ...]:
    return (eater.id,) if eater is not None and eater.id in place.items else ()


def _working(place: Place, tap: Tap, told: Robbed) -> tuple[Phrase, ...]:
    """Step by step, what each takes alone and together."""
    lines = []
    for more_pa, step in _growth(place, tap, told):
        if abs(more_pa) < 1.0:
            continue
        lines.append(
            Phrase.of(
                "{name}: takes {before} alone, {after} together",
                name=step.name,
                before=bar(step.loss_pa - more_pa),
                after=bar(step.loss_pa),
            )
        )
    return tuple(lines)
