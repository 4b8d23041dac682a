"""What to say about plugs in nothing, cords that do not reach, strips in strips, nameplates."""

from collections.abc import Iterator

from ..build import Battery, Box, Extension, Generator, Item, Load, Outlet, Strip, Wire
from ..network.results import Network
from ..power.loads import amps_by_watts, nameplate_amps
from ..units import Phrase, Value
from .body_numbers import run_number
from .finding import Finding
from .power_words import PRACTICE, PowerWords, amps_text

_SUPPLIES = (Outlet, Generator, Battery)
_TAKES_POWER = (Load, Strip, Extension, Box)
_TAPS = "UL category for relocatable power taps: never in series with another tap or a cord set"
_DIFFERENT = 0.03
"""Share by which amps and watts of a nameplate must differ to be worth a word."""
_SLACK = 1.01
_MANY = 3


def rules(words: PowerWords, network: Network) -> Iterator[Finding]:
    """Everything there is to say about how things are plugged in."""
    yield from _not_plugged_in(words)
    yield from _charging(words)
    yield from _chained(words)
    yield from _too_short(words, network)
    yield from _nameplates(words)


def _plug_of(item: Item) -> str | None:
    for port in item.specification.ports:
        if port.medium == "power" and port.direction == "in":
            return port.id
    return None


def _not_plugged_in(words: PowerWords) -> Iterator[Finding]:
    takers = [
        item
        for item in words.build.items
        if isinstance(item.specification.electrical, _TAKES_POWER) and _plug_of(item) is not None
    ]
    if not takers:
        return
    supplied = any(
        isinstance(item.specification.electrical, _SUPPLIES) for item in words.build.items
    )
    if not supplied:
        yield words.finding(
            "note",
            "no-supply",
            Phrase("There is no supply of power yet"),
            Phrase.of(
                "Place the venue's outlets, a generator or a battery, and plug in {loads}.",
                loads=words.names(item.id for item in takers),
            ),
            (item.id for item in takers),
        )
        return
    ends = {
        (end.item, end.port)
        for wire in words.build.wires
        for end in (wire.a, wire.b)
        if end is not None and wire.b is not None
    }
    loose = []
    for item in takers:
        if item.id in words.power.item_circuit:
            yield from _no_volts(words, item)
        elif (item.id, _plug_of(item)) not in ends:
            loose.append(item)
    yield from _loose(words, loose)


def _loose(words: PowerWords, items: list[Item]) -> Iterator[Finding]:
    """Plugs in nothing: one by one, or all at once where there are many."""
    if len(items) > _MANY:
        yield words.finding(
            "note",
            "not-plugged-in",
            Phrase.of("{count} things are not plugged in", count=str(len(items))),
            Phrase.of(
                "{items}. Drag from each plug to a receptacle. Until then they are counted "
                "nowhere.",
                items=words.names(item.id for item in items),
            ),
            (item.id for item in items),
        )
        return
    for item in items:
        yield words.finding(
            "note",
            "not-plugged-in",
            Phrase.of("{item} is not plugged in", item=item.name),
            Phrase("Drag from its plug to a receptacle. Until then it is counted nowhere."),
            (item.id,),
        )


def _no_volts(words: PowerWords, item: Item) -> Iterator[Finding]:
    states = words.power.appliances.get(item.id)
    if not isinstance(item.specification.electrical, Load) or not states:
        return
    if all(not state.fed for state in states.values()):
        yield words.finding(
            "stop",
            "no-voltage",
            Phrase.of("{item} is plugged in but gets no voltage", item=item.name),
            Phrase(
                "Both of its contacts are on the same leg, as in a two-leg box that is fed from "
                "one leg. It needs a supply with two legs."
            ),
            (item.id,),
            source=PRACTICE,
        )


def _charging(words: PowerWords) -> Iterator[Finding]:
    """Batteries on a charging lead, whose draw no nameplate gives."""
    for wire in words.build.wires:
        state = words.power.wires.get(wire.id)
        circuit = words.power.circuit(state.circuit) if state and state.circuit else None
        for end in (wire.a, wire.b):
            item = words.items.get(end.item) if end is not None else None
            if circuit is None or item is None or end is None or _plug_of(item) != end.port:
                continue
            if isinstance(item.specification.electrical, Battery):
                yield words.finding(
                    "note",
                    "charging",
                    Phrase.of(
                        "{item} charges from circuit {letter}",
                        item=item.name,
                        letter=circuit.letter,
                    ),
                    Phrase(
                        "What its charger draws is not counted. Charge it when nothing else is "
                        "on, or leave room for what its manual says."
                    ),
                    (item.id,),
                    runs=(wire.id,),
                    source=PRACTICE,
                )


def _chained(words: PowerWords) -> Iterator[Finding]:
    for item_id, host_id in words.power.fed_from.items():
        item, host = words.items.get(item_id), words.items.get(host_id)
        if item is None or host is None:
            continue
        roles = (item.specification.electrical, host.specification.electrical)
        if not all(isinstance(role, (Strip, Extension)) for role in roles):
            continue
        strips = sum(isinstance(role, Strip) for role in roles)
        if strips == 0:
            yield words.finding(
                "care",
                "chained-cords",
                Phrase.of("{item} hangs on {host}", item=item.name, host=host.name),
                Phrase(
                    "One extension cord on another adds up their drops, and the join lies on the "
                    "floor. Use one cord that is long enough."
                ),
                (item_id, host_id),
                source=PRACTICE,
            )
            continue
        yield words.finding(
            "stop" if strips == 2 else "care",
            "chained-strips",
            Phrase.of("{item} is plugged into {host}", item=item.name, host=host.name),
            Phrase(
                "A power strip goes straight into a permanent outlet, and appliances into it: "
                "never one behind another, nor before or behind an extension cord. Plug each "
                "into an outlet of its own."
            ),
            (item_id, host_id),
            source=_TAPS,
        )


def _too_short(words: PowerWords, network: Network) -> Iterator[Finding]:
    for wire in words.build.wires:
        route, found = network.routes.get(wire.id), _cord_of(words, wire)
        if route is None or found is None:
            continue
        item, length_m = found
        if route.length_m <= length_m * _SLACK:
            continue
        yield Finding(
            "stop",
            "power.cord-short",
            Phrase.of(
                "The cord of {item} does not reach: {needed} of {length}",
                item=item.name,
                needed=Value(route.length_m, "distance"),
                length=Value(length_m, "distance"),
            ),
            Phrase.of(
                "Its way is {over} longer than the cord. Move it nearer, or use another "
                "receptacle or a longer cord.",
                over=Value(route.length_m - length_m, "distance"),
            ),
            (item.id,),
            (wire.id,),
            Value(route.length_m, "distance"),
            Value(length_m, "distance"),
            "length of the cord as entered",
            number=run_number(wire.id),
        )


def _cord_of(words: PowerWords, wire: Wire) -> tuple[Item, float] | None:
    """The item whose plug a wire holds, and the length of its cord if it is known."""
    for end in (wire.a, wire.b):
        item = words.items.get(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if item is None or port is None or port.medium != "power" or port.direction != "in":
            continue
        cord = wire.cord or port.cord
        return (item, cord.length.si) if cord is not None else None
    return None


def _nameplates(words: PowerWords) -> Iterator[Finding]:
    for item in words.build.items:
        load = item.specification.electrical
        if not isinstance(load, Load):
            continue
        if load.power is None and load.current is None:
            yield words.finding(
                "note",
                "no-nameplate",
                Phrase.of("{item} has neither watts nor amps", item=item.name),
                Phrase("It is counted as nothing. Enter what its nameplate says."),
                (item.id,),
            )
            continue
        by_watts = amps_by_watts(load)
        given = nameplate_amps(load)
        if load.current is None or by_watts is None or load.power is None:
            continue
        if abs(by_watts - given) <= _DIFFERENT * max(given, 1e-9):
            continue
        yield words.finding(
            "note",
            "nameplate",
            Phrase.of(
                "{item}: nameplate {given}, its watts give {other}",
                item=item.name,
                given=amps_text(given),
                other=amps_text(by_watts),
            ),
            Phrase.of(
                "{watts} at {volts} would be {other}. The amps on the nameplate are what counts.",
                watts=load.power.text,
                volts=load.voltage.text,
                other=amps_text(by_watts),
            ),
            (item.id,),
            source=PRACTICE,
        )
