"""What to say where all motors start at once: after an interruption, not in ordinary use."""

from ..power.results import Circuit, Limit
from ..units import Phrase
from .finding import Finding
from .power_words import PowerWords, pair


def of_circuit(words: PowerWords, circuit: Circuit, limit: Limit) -> Finding:
    """A breaker that may trip in the moment when it is put back."""
    return words.finding(
        "care",
        "starts-together",
        Phrase.of(
            "Circuit {letter} is asked for {pair} when everything starts at once",
            letter=circuit.letter,
            pair=pair(limit),
        ),
        Phrase.of(
            "After an interruption {starters} start in the same moment, and a breaker of the "
            "quickest type may trip at once. Switch them off before it is put back and on again "
            "one after another, or ask the venue for the type of the breaker.",
            starters=words.names(limit.items),
        ),
        limit.items,
        limit,
    )


def of_supply(words: PowerWords, key: str, limit: Limit) -> Finding | None:
    """A generator or an inverter that carries each start, but not all of them together."""
    if any(
        other == key and one.name in ("generator", "inverter", "surge") and not one.holds
        for other, one in words.power.limits
    ):
        return None  # it is too small already in ordinary use
    return words.finding(
        "care",
        "starts-together",
        Phrase.of(
            "{item} is asked for {pair} when everything starts at once",
            item=words.name(key),
            pair=pair(limit),
        ),
        Phrase.of(
            "It carries one start at a time. After an interruption {starters} start in the same "
            "moment, and it stalls or shuts down. Switch them off before it comes on again, and "
            "on one after another.",
            starters=words.names(limit.items),
        ),
        (*limit.items, key),
        limit,
    )
