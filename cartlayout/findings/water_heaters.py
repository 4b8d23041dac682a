"""What to say about heaters, and about what their warm water does to tubes and taps."""

from collections.abc import Iterator

from ..build import (
    Accumulator,
    Appliance,
    CheckValve,
    Heater,
    Load,
    Mains,
    Pump,
    Regulator,
    Tank,
)
from ..limits import material
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.element_results import HeaterPoint, HeaterState
from ..water.rating import is_too_hot
from ..water.results import ALL_OPEN, Tap
from .finding import Finding, Severity
from .number import Number
from .water_held import held_down
from .water_words import Place, bar, ladder_working, rate

_LETS_NONE_BACK = (Pump, CheckValve, Regulator)
_LUKEWARM_K = 3.0
"""Cooler than it is set to by more than this is worth a word."""


def heater_rules(place: Place) -> Iterator[Finding]:
    """Judge heaters and what is behind them."""
    for heater in place.water.heaters:
        yield from _heater(place, heater)
    yield from _warm_tubes(place)
    for tap in place.water.taps:
        yield from _too_warm(place, tap)


def _heater(place: Place, heater: HeaterState) -> Iterator[Finding]:
    if not heater.fed:
        return
    greatest, least = heater.greatest_pa, heater.least_pa
    if greatest is not None and heater.static_pa > greatest + 20.0:
        yield Finding(
            "stop",
            "water.heater-pressure",
            Phrase.of(
                "{heater} can see {static}, at most {greatest} is allowed",
                heater=place.name(heater.item),
                static=bar(heater.static_pa),
                greatest=bar(greatest),
            ),
            Phrase.of(
                "With every tap shut its line stands that high, and water that is heated in it "
                "pushes higher still. Put a regulator before it, and keep its relief valve free."
            ),
            (heater.item,),
            value=bar(heater.static_pa),
            limit=bar(greatest),
            source=place.source_of(heater.item),
        )
    if least is not None and heater.static_pa < least - 20.0:
        yield _never_switches_on(place, heater, least)
        return
    yield from _closed_in(place, heater)
    off = next((point for point in heater.points if not point.switches_on), None)
    if off is not None:
        yield _stays_cold(place, heater, off)
    else:
        yield from _lukewarm(place, heater)


def _closed_in(place: Place, heater: HeaterState) -> Iterator[Finding]:
    """A tank of water that swells as it warms, with nowhere to swell to."""
    role = place.role(heater.item)
    if not isinstance(role, Heater) or role.least_flow is not None:
        return  # warms what runs through, and that can go on
    culprit = _what_closes(place, heater)
    if culprit is None:
        return
    rule = water_practice().heater_expansion
    yield Finding(
        "care",
        "water.heater-closed",
        Phrase.of(
            "Water that warms in {heater} has nowhere to swell",
            heater=place.name(heater.item),
        ),
        Phrase.of(
            "{valve} lets nothing back, so with every tap shut its pressure rises until its relief "
            "valve drips or something gives. Put an accumulator between the two, and keep the "
            "relief valve free, with a drain.",
            valve=place.name(culprit),
        ),
        (heater.item, culprit),
        source=rule.citation,
    )


def _what_closes(place: Place, heater: HeaterState) -> str | None:
    """Id of the nearest thing that lets no water back; None where there is a cushion or a way out.

    A tank, a mains tap and an air cushion take what swells.
    """
    supply = place.network.supply
    queue = [
        (heater.item, port.id)
        for port in place.items[heater.item].specification.ports
        if port.medium == "water"
    ]
    seen, closing = set(queue), ""
    while queue:
        node = queue.pop(0)
        if isinstance(place.role(node[0]), (Accumulator, Mains, Tank)):
            return None
        if node not in supply:
            continue
        for _, other, data in supply.edges(node, data=True):
            inside = data.get("item")
            lets = inside is None or not isinstance(inside.specification.water, _LETS_NONE_BACK)
            if not lets and place.outlet(inside.id) == node:
                closing = closing or inside.id
            elif other not in seen:
                seen.add(other)
                queue.append(other)
    return closing or None


def _never_switches_on(place: Place, heater: HeaterState, least_pa: float) -> Finding:
    holder, why = held_down(place, _before(place, heater), works="light", what="a heater")
    return Finding(
        "stop",
        "water.heater-never",
        Phrase.of(
            "{heater} needs {least} to switch on, its line never reaches more than {static}",
            heater=place.name(heater.item),
            least=bar(least_pa),
            static=bar(heater.static_pa),
        ),
        why,
        (heater.item, *holder, *dict.fromkeys(node[0] for node in heater.taps)),
        value=bar(heater.static_pa),
        limit=bar(least_pa),
        source=place.source_of(heater.item),
        working=_way(place, heater),
    )


def _tap_behind(place: Place, heater: HeaterState) -> Tap | None:
    taps = (place.water.tap(*node) for node in heater.taps)
    return next((tap for tap in taps if tap is not None and tap.ladder), None)


def _before(place: Place, heater: HeaterState) -> list[str]:
    """Ids of what stands before a heater, from the source on."""
    tap = _tap_behind(place, heater)
    ids = [step.id for step in tap.ladder] if tap is not None else []
    return ids[: ids.index(heater.item)] if heater.item in ids else ids


def _way(place: Place, heater: HeaterState) -> tuple[Phrase, ...]:
    tap = _tap_behind(place, heater)
    return ladder_working(tap) if tap is not None else ()


def _stays_cold(place: Place, heater: HeaterState, point: HeaterPoint) -> Finding:
    """The first case in which water runs through it cold."""
    off = [one for one in heater.points if not one.switches_on]
    severity: Severity = "care" if point.case == ALL_OPEN else "stop"
    short, needs = _short(heater, point)
    several = f" and in {len(off) - 1} more" if len(off) > 1 else ""
    return Finding(
        severity,
        "water.heater-off",
        Phrase.of(
            "{heater} does not switch on: it has {short}, needs {needs}",
            heater=place.name(heater.item),
            short=short,
            needs=needs,
        ),
        Phrase.of(
            "That is in the case '{case}'{several}: {flow} runs through it at {pressure}, and "
            "what is behind it runs cold. {advice}",
            case=point.case,
            several=several,
            flow=rate(point.flow),
            pressure=bar(point.pressure_pa),
            advice=(
                "Give its line more pressure or a wider tube, or take a heater that needs less."
                if not point.enough_pressure
                else "Open the tap behind it wider, or take a heater that needs less flow."
            ),
        ),
        (heater.item, *dict.fromkeys(node[0] for node in heater.taps)),
        value=short,
        limit=needs,
        source=place.source_of(heater.item),
        working=_way(place, heater),
    )


def _lukewarm(place: Place, heater: HeaterState) -> Iterator[Finding]:
    """More water runs through it than its watts warm; the first such case with a tap alone."""
    point = next(
        (
            one
            for one in heater.points
            if one.reaches_k is not None and one.reaches_k < heater.outlet_k - _LUKEWARM_K
        ),
        None,
    )
    if point is None or point.reaches_k is None:
        return
    reaches = Value(point.reaches_k, "temperature")
    wanted = Value(heater.outlet_k, "temperature")
    load = place.items[heater.item].specification.electrical
    watts = load.power.si if isinstance(load, Load) and load.power is not None else 0.0
    come_k = place.build.venue.water_temperature.si
    yield Finding(
        "care",
        "water.heater-lukewarm",
        Phrase.of(
            "{heater} warms {flow} to {reaches} only, not to {wanted}",
            heater=place.name(heater.item),
            flow=rate(point.flow),
            reaches=reaches,
            wanted=wanted,
        ),
        Phrase.of(
            "In the case '{case}' more water runs than it can warm. Put a flow restrictor at the "
            "tap, or take a heater of more power or one with a tank.",
            case=point.case,
        ),
        (heater.item, *dict.fromkeys(node[0] for node in heater.taps)),
        value=reaches,
        limit=wanted,
        number=Number("heater", heater.item, "reaches", point.case),
        source=place.source_of(heater.item),
        working=(
            Phrase.of(
                "{watts} / (4.18 kJ a kg and K x {flow}) lift water of {comes} to {reaches}",
                watts=Value(watts, "power"),
                flow=rate(point.flow),
                comes=Value(come_k, "temperature"),
                reaches=reaches,
            ),
        ),
    )


def _short(heater: HeaterState, point: HeaterPoint) -> tuple[Value, Value]:
    if not point.enough_pressure:
        return bar(point.pressure_pa), bar(heater.least_pa or 0.0)
    return rate(point.flow), rate(heater.least_flow or 0.0)


def _warm_tubes(place: Place) -> Iterator[Finding]:
    """Tubes for cold water behind a heater; those beyond any rating are told with the ratings."""
    found = [
        run_id
        for run_id, temperature_k in place.water.temperatures_k.items()
        if run_id in place.runs
        and material(place.runs[run_id].tube.material).cold_only
        and not is_too_hot(place.runs[run_id].tube, temperature_k)
    ]
    if not found:
        return
    hottest = max(found, key=lambda run_id: place.water.temperatures_k[run_id])
    several = f" and {len(found) - 1} more" if len(found) > 1 else ""
    now = Value(place.water.temperatures_k[hottest], "temperature")
    yield Finding(
        "care",
        "water.tube-cold-only",
        Phrase.of(
            "{tube}{several} carries water of {now}, and is made for cold",
            tube=place.tube_name(hottest),
            several=several,
            now=now,
        ),
        Phrase.of(
            "Warm water shortens its life, and its joints need inserts. Take a tube for hot water: "
            "cross-linked polyethylene, copper or a stainless hose."
        ),
        (),
        tuple(found),
        value=now,
        number=Number("tube", hottest, "warmth"),
        source=material(place.runs[hottest].tube.material).cold_only_source,
    )


def _too_warm(place: Place, tap: Tap) -> Iterator[Finding]:
    role = place.role(tap.item)
    inlet = next(
        (one for one in role.inlets if one.port == tap.port)
        if isinstance(role, Appliance)
        else iter(())
    )
    limit = inlet.highest_temperature
    if not tap.fed or limit is None or tap.temperature_k <= limit.si + 0.05:
        return
    passed = {step.id for step in tap.ladder}
    heaters = [
        one.item
        for one in place.water.heaters
        if (tap.item, tap.port) in one.taps or one.item in passed
    ]
    if not heaters and tap.temperature_k > place.build.venue.water_temperature.si + 0.05:
        heaters = [one.item for one in place.water.heaters if one.fed]
    yield Finding(
        "stop",
        "water.temperature",
        Phrase.of(
            "{tap} gets water of {now}, at most {limit} is allowed",
            tap=tap.name,
            now=Value(tap.temperature_k, "temperature"),
            limit=Value(limit.si, "temperature"),
        ),
        Phrase.of(
            "{heater} heats it higher than its maker allows at this inlet. Take the tube off "
            "before the heater, or set it lower.",
            heater=place.name(heaters[0]),
        )
        if heaters
        else Phrase.of("The venue's water is warmer than its maker allows at this inlet."),
        (tap.item, *heaters),
        value=Value(tap.temperature_k, "temperature"),
        limit=Value(limit.si, "temperature"),
        source=place.source_of(tap.item),
    )
