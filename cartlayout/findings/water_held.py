"""Who holds a line below what something in it needs, even at rest, and what to do about it."""

from collections.abc import Iterable

from ..build import Mains, Pump, Regulator
from ..units import Phrase
from .water_words import Place, bar


def held_down(
    place: Place, ids: Iterable[str], *, works: str, what: str
) -> tuple[tuple[str, ...], Phrase]:
    """The nearest that sets the line's pressure, empty for none, and a sentence on it.

    Args:
        place: the build with its results.
        ids: what stands before the thing, from the source on.
        works: what the thing cannot do, such as "work".
        what: what else one might take, such as "an appliance".
    """
    for one in reversed(list(ids)):
        role, name = place.role(one), place.name(one)
        if isinstance(role, Regulator):
            return (one,), Phrase.of(
                "{name} is set to {held}, so it cannot {works} at any flow. Set the regulator "
                "higher, or take the tube off before it.",
                name=name,
                held=bar(role.set_point.si),
                works=works,
            )
        if isinstance(role, Pump):
            return (one,), Phrase.of(
                "{name} shuts off at {held}, so it cannot {works} at any flow. It takes a pump "
                "with a higher cut-out, or {what} that needs less.",
                name=name,
                held=bar(role.cut_out.si),
                works=works,
                what=what,
            )
        if isinstance(role, Mains):
            return (one,), Phrase.of(
                "{name} gives no more than that even with every tap shut. It takes a pump.",
                name=name,
            )
    return (), Phrase.of(
        "Even with every tap shut the line stands lower than it needs, so it cannot {works} at any "
        "flow. It takes a pump, or a higher tank.",
        works=works,
    )
