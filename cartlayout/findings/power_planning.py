"""What to say about circuits that hold on paper: too full to plan with, too large, not known."""

from collections.abc import Iterator

from ..build import Battery, Generator, Outlet
from ..limits import power_connector
from ..power.results import EVERYTHING_ON, Circuit
from ..units import Phrase
from .finding import Finding, Severity
from .power_words import PRACTICE, PowerWords, amps_text, breaker_text, circuit_title, pair

_ADVISED_SHARE = 0.8
"""Of a breaker's rating, as people who run carts plan; common practice, no source."""
_SMALL_SHARE = 0.4
"""Of a supply's rating, below which the next smaller usual supply would do as well."""


def rules(words: PowerWords, circuit: Circuit) -> Iterator[Finding]:
    """Everything there is to say about one circuit beside its limits."""
    yield from _two_circuits(words, circuit)
    yield from _unused(words, circuit)
    yield from _taken_for_granted(words, circuit)


# --- more than one circuit needed though it fits on paper -------------------------------------


def _two_circuits(words: PowerWords, circuit: Circuit) -> Iterator[Finding]:
    total = next((one for one in circuit.limits if one.name == "total"), None)
    if total is None or not total.holds or len(circuit.loads) < 2 or circuit.key in words.parents:
        return
    if _is_own_supply(words, circuit):
        return
    continuous = next((one for one in circuit.limits if one.name == "continuous"), None)
    too_long = continuous is not None and not continuous.holds
    if not too_long and total.value <= _ADVISED_SHARE * total.limit:
        return
    alone = next(
        (load for load in circuit.loads if _asks_for_its_own(words, load.item)), circuit.loads[0]
    )
    rest = sum(load.amps for load in circuit.loads if load.item != alone.item)
    enough, asked = _breakers(words, alone.amps)
    severity: Severity = "care" if words.profile.continuous_factor is not None else "note"
    yield words.finding(
        severity,
        "two-circuits",
        circuit_title(circuit, "needs to be two: {pair} fits only on paper", pair=pair(total)),
        Phrase.of(
            "Nothing is left for a start or for one thing more, and a breaker that is nearly "
            "full for hours may trip. Put {alone} alone on one circuit ({enough} is enough for "
            "it" + ("" if asked == enough else ", ask for {asked}") + ") and the other {rest} "
            "on a second.",
            alone=words.with_amps(circuit, alone.item),
            enough=breaker_text(enough),
            asked=breaker_text(asked),
            rest=amps_text(rest),
        ),
        words.loads_of(circuit),
        total,
        source=PRACTICE,
    )


def _unused(words: PowerWords, circuit: Circuit) -> Iterator[Finding]:
    """A supply for a box that is far more than the cart asks of it."""
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    if circuit.key not in words.parents or not 0 < amps <= _SMALL_SHARE * circuit.rating_a:
        return
    yield words.finding(
        "note",
        "unused-capacity",
        circuit_title(
            circuit,
            "is more than the cart needs: {amps} of {rating}",
            amps=amps_text(amps),
            rating=breaker_text(circuit.rating_a),
        ),
        Phrase.of(
            "{name} suits bigger machines. {smaller} of the same sort would do, which more "
            "venues have.",
            name=circuit.name,
            smaller=breaker_text(_breakers(words, amps)[1]),
        ),
        circuit.items,
        source=PRACTICE,
    )


def _asks_for_its_own(words: PowerWords, item_id: str) -> bool:
    role = words.role(item_id)
    return role is not None and role.needs_own_circuit


def _is_own_supply(words: PowerWords, circuit: Circuit) -> bool:
    item = words.items.get(circuit.items[0]) if circuit.items else None
    return item is not None and isinstance(item.specification.electrical, (Generator, Battery))


def _breakers(words: PowerWords, amps: float) -> tuple[float, float]:
    """Smallest breaker that carries a load, and the one to ask for so that it is 80 % full."""
    least = min((row.circuit_a for row in words.profile.receptacles_for_circuits), default=0.0)
    sizes = [size for size in words.profile.breaker_sizes_a.value if size >= least]
    enough = next((size for size in sizes if size >= amps), sizes[-1])
    asked = next((size for size in sizes if _ADVISED_SHARE * size >= amps), sizes[-1])
    return enough, asked


# --- what was taken for granted ---------------------------------------------------------------


def _taken_for_granted(words: PowerWords, circuit: Circuit) -> Iterator[Finding]:
    if not circuit.loads:
        return
    if circuit.rating_assumed or circuit.key.startswith("unknown"):
        yield words.finding(
            "note",
            "circuit-assumed",
            circuit_title(
                circuit,
                "is taken to be one {breaker} breaker",
                breaker=breaker_text(circuit.rating_a),
            ),
            Phrase.of(
                "{name}: "
                + (
                    "which circuit its outlets are on is not known, so all such outlets share one. "
                    if circuit.key.startswith("unknown")
                    else "its breaker is not known. "
                )
                + "Ask the venue, then enter the circuit and the breaker.",
                name=circuit.name,
            ),
            circuit.items,
            source=PRACTICE,
        )
    roles = [words.items[one].specification.electrical for one in circuit.items]
    outlets = [role for role in roles if isinstance(role, Outlet)]
    if any(role.shared for role in outlets):
        yield words.finding(
            "care",
            "shared",
            circuit_title(circuit, "is shared with somebody else"),
            Phrase.of(
                "{name}: what others draw from it is not counted here. Of {rating} the cart "
                "takes {amps}; ask for a circuit of its own.",
                name=circuit.name,
                rating=breaker_text(circuit.rating_a),
                amps=amps_text(circuit.amps.get(EVERYTHING_ON, 0.0)),
            ),
            (*circuit.items, *words.loads_of(circuit)),
            source=PRACTICE,
        )
    yield from _smaller_than_its_socket(words, circuit)
    if any(role.run_length is not None and role.run_size is None for role in outlets):
        yield words.finding(
            "note",
            "run-size-unknown",
            circuit_title(circuit, "has wires of unknown size in the wall"),
            Phrase.of(
                "{name}: the length to the panel is given, the size of its wires is not, so the "
                "voltage lost in them is left out. Enter the size if you can find out.",
                name=circuit.name,
            ),
            circuit.items,
            source=PRACTICE,
        )
    given = {role.breaker.si for role in outlets if role.breaker is not None}
    if len(given) > 1:
        yield words.finding(
            "care",
            "breakers-disagree",
            circuit_title(circuit, "has outlets that name different breakers"),
            Phrase.of(
                "{name} are one circuit, which has one breaker. The smallest, {rating}, is taken.",
                name=circuit.name,
                rating=breaker_text(circuit.rating_a),
            ),
            circuit.items,
            source=PRACTICE,
        )


def _smaller_than_its_socket(words: PowerWords, circuit: Circuit) -> Iterator[Finding]:
    """A hook-up whose socket promises more than the breaker behind it gives.

    Only sockets that are known to stand behind smaller breakers: an ordinary receptacle of 20 A
    on 15 A is told by the code's own tables.
    """
    known = {row.receptacle: row.amps for row in words.profile.unknown_breakers}
    if circuit.rating_assumed or any(
        one.name == "receptacle for circuit" for one in circuit.limits
    ):
        return
    connectors = [
        connector
        for item_id in circuit.items
        if isinstance(words.items[item_id].specification.electrical, Outlet)
        for port in words.items[item_id].specification.ports
        if port.medium == "power" and (connector := power_connector(port.connector)) is not None
    ]
    rated = [one for one in connectors if one.amps and known.get(one.key, one.amps) < one.amps]
    if not rated:
        return
    socket = min(rated, key=lambda one: one.amps or 0.0)
    if socket.amps is None or circuit.rating_a >= socket.amps:
        return
    yield words.finding(
        "note",
        "breaker-smaller",
        circuit_title(
            circuit,
            "gives {breaker}, not the {socket} of its socket",
            breaker=breaker_text(circuit.rating_a),
            socket=breaker_text(socket.amps),
        ),
        Phrase.of(
            "{name}: what counts is the breaker. Say so to whoever plugs things in, or ask for a "
            "circuit of {socket}.",
            name=circuit.name,
            socket=breaker_text(socket.amps),
        ),
        circuit.items,
        source=PRACTICE,
    )
