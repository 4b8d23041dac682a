"""Why what hangs on a transformer is not worked out."""

from collections.abc import Iterator

from ..build import Load, Transformer
from ..units import Phrase, Value
from .finding import Finding
from .power_words import PRACTICE, PowerWords


def rules(words: PowerWords) -> Iterator[Finding]:
    """Refuse transformers, and say why."""
    for item in words.build.items:
        role = item.specification.electrical
        if not isinstance(role, Transformer):
            continue
        behind = tuple(
            one.id
            for one in words.build.items
            if isinstance(one.specification.electrical, Load)
            and words.power.fed_from.get(one.id) == item.id
        )
        yield Finding(
            "stop",
            "power.transformer",
            Phrase.of("What hangs on {item} is not worked out", item=item.name),
            Phrase.of(
                "A transformer from {primary} to {secondary} takes a surge when it is switched on, "
                "carries all the watts of a heater for hours, moves the earth and the leakage "
                "protection, and its own losses and wires decide: none of that is on its label. "
                "Take equipment that is made for the venue's voltage, or let a licensed "
                "electrician plan it.",
                primary=Value(role.primary.si, "voltage", 0),
                secondary=Value(role.secondary.si, "voltage", 0),
            ),
            (item.id, *behind),
            source=PRACTICE,
        )
