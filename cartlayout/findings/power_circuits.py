"""What to say about circuits: the limits of a breaker, each by its own name."""

from collections.abc import Callable, Iterator

from ..build import Outlet, Port
from ..limits import power_connector
from ..limits.demand import demand_rule
from ..power.loads import load_model, nameplate_amps
from ..power.results import Circuit, Limit
from ..power.sets import smallest_overloads, smallest_removals
from ..units import Phrase
from . import power_planning, power_starts
from .finding import Finding
from .power_legs import better_leg
from .power_trip import trip_sentence, trip_working
from .power_words import PowerWords, amps_text, breaker_text, circuit_title, pair


def rules(words: PowerWords) -> Iterator[Finding]:
    """Everything there is to say about circuits, in their order."""
    for circuit in words.power.circuits:
        for limit in circuit.limits:
            if not limit.holds and not _said_already(circuit, limit):
                yield _SAID[limit.name](words, circuit, limit)
        yield from power_planning.rules(words, circuit)


def _said_already(circuit: Circuit, limit: Limit) -> bool:
    """A circuit over its rating needs no second sentence that it is over in another way too."""
    over = any(one.name == "total" and not one.holds for one in circuit.limits)
    return over and limit.name in ("continuous", "neutral", "starts together")


def _total(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    loads = [(load.item, load.amps) for load in circuit.loads if load.item in limit.items]
    cures = smallest_removals(loads, limit.limit)
    trips = smallest_overloads(loads, limit.limit)
    sentences = ["{name}: {over} too much with everything on, so its breaker may trip."]
    told, times = trip_sentence(circuit.trip)
    if told:
        sentences.append(told)
    if circuit.key.startswith("unknown"):
        sentences.append("Nobody knows its outlets' circuits, so they are taken to share one.")
    if cures and len(cures[0]) < len(loads):
        sentences.append(
            "Moving any one of them cures it: {cures}."
            if len(cures[0]) == 1 and len(cures) == len(loads) > 1
            else "Move to another circuit: {cures}."
        )
    else:
        sentences.append("Even alone its load is too much: it needs a larger circuit.")
    larger = _larger_breaker(words, circuit, limit.value)
    if larger:
        sentences.append(
            "{larger} would carry it: the venue's electrician must say whether its wires allow one."
        )
    allowed = _demand(words, circuit, limit)
    if allowed is not None:
        sentences.append(
            "By the demand factors of {rule} a feeder may be planned for {demand} of it; for this "
            "only the venue's electrician may use them."
        )
        times = times | {"rule": allowed[1], "demand": amps_text(allowed[0])}
    if trips and len(trips[0]) > 1:
        sentences.append("Too much together: {trips}.")
    hint = better_leg(words, circuit) if len(circuit.legs) > 1 else ""
    if hint:
        sentences.append("{hint}")
    return words.finding(
        "stop",
        "total",
        circuit_title(circuit, "carries {pair}", pair=pair(limit)),
        Phrase.of(
            " ".join(sentences),
            name=circuit.name,
            over=amps_text(limit.value - limit.limit),
            **times,
            cures=words.sets(circuit, cures),
            trips=words.sets(circuit, trips),
            hint=hint,
            larger=larger,
        ),
        limit.items,
        limit,
        more=trip_working(circuit.trip),
    )


def _demand(words: PowerWords, circuit: Circuit, limit: Limit) -> tuple[float, str] | None:
    """Amps that a feeder may be planned for by the region's demand factors, and their rule.

    Only for what feeds boxes, never for a circuit that appliances are plugged into.
    """
    rule = demand_rule(words.profile.region)
    if rule is None or circuit.key not in words.parents or limit.value <= 0.0:
        return None
    units = []
    for load in circuit.loads:
        role = words.role(load.item)
        watts = load_model(role).rated_w if role is not None else 0.0
        heats = role is not None and role.thermostat and role.resistive_share > 0.5
        if role is not None and rule.counts(watts, fastened=role.fastened, heats=heats):
            units.append(watts)
    relief = sum(units) - rule.demand_w(units)
    if relief <= 0.0 or circuit.voltage_v <= 0.0:
        return None
    return limit.value - relief / circuit.voltage_v, rule.citation


def _larger_breaker(words: PowerWords, circuit: Circuit, amps: float) -> str:
    """The breaker that would do, if the receptacles are made for it; else nothing."""
    size = words.profile.next_breaker_a(amps)
    connectors = [
        power_connector(port.connector)
        for item_id in circuit.items
        if isinstance(words.items[item_id].specification.electrical, Outlet)
        for port in words.items[item_id].specification.ports
        if port.medium == "power"
    ]
    rated = [one.amps for one in connectors if one is not None and one.amps is not None]
    if size is None or not rated or size > min(rated):
        return ""
    return f"A {breaker_text(size)} breaker"


def _neutral(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "neutral",
        circuit_title(circuit, "carries {pair} on its neutral", pair=pair(limit)),
        Phrase(
            "The neutral has no breaker of its own. Move a load so that the legs even out, or "
            "feed it from a circuit of its own."
        ),
        words.loads_of(circuit),
        limit,
    )


def _continuous(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    loads = [load for load in circuit.loads if load.item in limit.items]
    assumed = [load.item for load in loads if load.assumed_continuous]
    detail = (
        "{name} feeds {loads} for three hours or more. Such loads count {factor} times, so the "
        "breaker gets warm and may trip late in the service."
    )
    if assumed:
        detail += (
            " How long {assumed} runs without a break is not known, so it counts as continuous; "
            "enter its longest run if it is shorter."
        )
    factor = words.profile.continuous_factor
    return words.finding(
        "stop",
        "continuous",
        circuit_title(circuit, "counts {pair} over a long service", pair=pair(limit)),
        Phrase.of(
            detail,
            name=circuit.name,
            loads=words.names(load.item for load in loads),
            factor=f"{factor.value:g}" if factor is not None else "",
            assumed=words.names(assumed),
        ),
        words.loads_of(circuit),
        limit,
    )


def _one_appliance(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "one-appliance",
        Phrase.of(
            "{item} takes {pair} that one appliance may",
            item=words.names(limit.items),
            pair=pair(limit),
        ),
        Phrase.of(
            "Circuit {letter} ({name}) has several receptacles, so one plug-in appliance may "
            "not fill it. Give {item} a circuit with a single receptacle, or a larger one.",
            letter=circuit.letter,
            name=circuit.name,
            item=words.names(limit.items),
        ),
        limit.items,
        limit,
    )


def _fastened(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "fastened",
        circuit_title(circuit, "has {pair} fastened in place", pair=pair(limit)),
        Phrase.of(
            "{loads} fastened in place may take half of a circuit that also feeds plug-in loads. "
            "Give the fastened equipment a circuit of its own.",
            loads=words.names(limit.items),
        ),
        limit.items,
        limit,
    )


def _own_circuit(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    others = [load.item for load in circuit.loads if load.item not in limit.items]
    shares_with = others or list(limit.items[1:])
    return words.finding(
        "care",
        "own-circuit",
        Phrase.of("{item} wants a circuit of its own", item=words.names(limit.items)),
        Phrase.of(
            "Its maker asks for that, and on circuit {letter} it shares with {others}. Move "
            "them to another circuit.",
            letter=circuit.letter,
            others=words.names(shares_with),
        ),
        (*limit.items, *others),
        limit,
    )


def _venue_limit(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    outlet, *loads = limit.items or ("",)
    share = limit.value / limit.limit if limit.limit > 0 else 0.0
    orders = [_order(words, one, outlet) for one in loads]
    return words.finding(
        "stop",
        "venue-limit",
        Phrase.of("{outlet} gives {pair}", outlet=words.name(outlet), pair=pair(limit)),
        Phrase.of(
            "That is {share} of what the venue allows there. Order from the venue: {orders}.",
            share=f"{share * 100:.0f} %",
            orders="; ".join(orders),
        ),
        (*loads, outlet),
        limit,
    )


def _order(words: PowerWords, item_id: str, outlet_id: str) -> str:
    """What to ask the venue for, for one load: item, V, A, W, plug, place."""
    role, item = words.role(item_id), words.items.get(item_id)
    if role is None or item is None:
        return words.name(item_id)
    parts = [
        role.voltage.text,
        amps_text(nameplate_amps(role)),
        f"{load_model(role).rated_w:,.0f} W",
        *(f"{port.connector} plug" for port in item.specification.ports if _is_plug(port)),
        f"at {words.name(outlet_id)}",
        "needed overnight as well" if role.overnight else "not needed overnight",
    ]
    return f"{item.name}: {', '.join(parts)}"


def _is_plug(port: Port) -> bool:
    return port.medium == "power" and port.direction == "in"


def _receptacle_for_circuit(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    return words.finding(
        "care",
        "receptacle-for-circuit",
        circuit_title(
            circuit,
            "has a {receptacle} receptacle on a {breaker} breaker",
            receptacle=breaker_text(limit.value),
            breaker=breaker_text(limit.limit),
        ),
        Phrase.of(
            "{name}: the code does not allow this pair: {rule}. Check the breaker and the "
            "receptacle with the venue.",
            name=circuit.name,
            rule=limit.rule,
        ),
        limit.items,
        limit,
    )


_SAID: dict[str, Callable[[PowerWords, Circuit, Limit], Finding]] = {
    "total": _total,
    "neutral": _neutral,
    "continuous": _continuous,
    "one appliance": _one_appliance,
    "fastened": _fastened,
    "own circuit": _own_circuit,
    "venue limit": _venue_limit,
    "receptacle for circuit": _receptacle_for_circuit,
    "starts together": power_starts.of_circuit,
}
