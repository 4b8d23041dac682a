"""What is said of unknowns and thresholds, alike in the window, on paper and in a terminal."""

from collections.abc import Iterable

from ...units import Phrase, UnitSystem, capitalised
from .model import Cause, Found, Threshold, Unknown

ONE_AT_A_TIME = (
    "One figure at a time, everything else as it is: two that are off together are not tried."
)
_CAUSES: dict[Cause, str] = {
    "typical": "typical of its kind, not read off this one",
    "handbook": "a handbook's figure, not read off this one",
    "assumed": "assumed from other figures",
    "not known": "not known",
    "planned": "by the service plan",
}
_SHORT: dict[Cause, str] = {
    "typical": "typical",
    "handbook": "handbook",
    "assumed": "assumed",
    "not known": "not known",
    "planned": "planned",
}


def cause_words(unknown: Unknown) -> str:
    """What its figure rests on, in a few words."""
    return _CAUSES[unknown.cause]


def cause_word(unknown: Unknown) -> str:
    """The same in one word or two, for a column."""
    return _SHORT[unknown.cause]


def taken_words(unknown: Unknown, system: UnitSystem) -> str:
    """What is taken now: "0.42 gal/min, typical of its kind, not read off this one"."""
    if unknown.taken is None:
        return cause_words(unknown)
    return f"{unknown.value(unknown.taken).shown(system)}, {cause_words(unknown)}"


def range_words(unknown: Unknown, system: UnitSystem) -> str:
    """Between what it was tried: "0.30 to 0.63 gal/min"; the answers where it is no number."""
    if unknown.choices:
        return f"{len(unknown.choices)} answers" if len(unknown.choices) > 1 else "one other answer"
    least, greatest = unknown.value(unknown.least), unknown.value(unknown.greatest)
    return f"{least.shown(system)} to {greatest.shown(system)}"


def sentence(threshold: Threshold, system: UnitSystem) -> str:
    """The whole of it: "If the flow that Rinser needs is more than 5.6 L/min: Rinser gets ..."."""
    then = threshold.consequence.shown(system)
    return f"{threshold.condition.shown(system)}: {then}"


def verdict(threshold: Threshold) -> str:
    """Its mark: "stop", "care", or "ok" where something goes and nothing comes."""
    return threshold.severity if threshold.come else "ok"


def quiet(found: Iterable[Found]) -> tuple[Unknown, ...]:
    """Figures that turn no verdict within their range."""
    return tuple(one.unknown for one in found if not one.thresholds)


def name_of(unknown: Unknown) -> str:
    """With a capital, and without what only its sentence needs."""
    return capitalised(unknown.name.rstrip(","))


def summary(found: Iterable[Found]) -> Phrase:
    """How many there are, and how many matter."""
    every = tuple(found)
    deciding = sum(1 for one in every if one.thresholds)
    return Phrase.of(
        "{deciding} of {whole} figures that nobody has checked would change a verdict within "
        "their range",
        deciding=str(deciding),
        whole=str(len(every)),
    )
