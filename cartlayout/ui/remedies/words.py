"""What is said of remedies, prepared as plain values: no widgets."""

from collections.abc import Sequence

from ...advice.remedies import Mended, Remedy, Tried, key_of
from ...findings import Finding
from ...units import UnitSystem, counted

LOOKING = "Looking for remedies …"
_EFFORT = (
    ("by hand", "A setting is changed, or a plug is moved by hand."),
    ("move", "Something is turned, raised, or put elsewhere."),
    ("tube or cord", "A tube or a cord is exchanged."),
    ("small part", "A small part is added."),
    ("equipment", "A piece of equipment is exchanged or added."),
    ("others act", "Somebody else has to act: the venue, an electrician, a plumber."),
)


def effort_word(effort: int) -> str:
    """How much work it is, in a word or two."""
    return _EFFORT[max(0, min(effort, len(_EFFORT) - 1))][0]


def effort_tip(effort: int) -> str:
    """The same in a sentence."""
    return _EFFORT[max(0, min(effort, len(_EFFORT) - 1))][1]


def verdict(remedy: Remedy) -> str:
    """Name of the mark of a remedy: care where it only helps, or brings something to check."""
    brings = any(one.severity == "care" for one in remedy.come)
    return "care" if remedy.partly or brings else "ok"


def also_gone(remedy: Remedy) -> tuple[Finding, ...]:
    """What goes with it besides the finding it is for."""
    return tuple(one for one in remedy.gone if key_of(one) != remedy.finding)


def remedies_counted(count: int) -> str:
    """A number of remedies in words."""
    return "1 remedy" if count == 1 else f"{count} remedies"


def trying_words(tried: Tried) -> str:
    """How far the search for a whole set of steps is: nobody knows how many there will be."""
    return f"{counted(tried.done, 'change')} tried …" if tried.done else LOOKING


def mended_words(found: Mended) -> str:
    """What a set of steps comes to, in one line."""
    stops = found.before.count("stop")
    if not stops:
        return "Nothing to mend"
    left = len(found.remaining)
    if not found.steps:
        return f"No remedy found for {counted(stops, 'stop')}"
    done = f"{counted(len(found.steps), 'step')} clear"
    done = done if len(found.steps) != 1 else f"{done}s"
    if not left:
        return f"{done} {'the stop' if stops == 1 else f'all {stops} stops'}"
    verb = "remains" if left == 1 else "remain"
    return f"{done} {stops - left} of {counted(stops, 'stop')}; {left} {verb}"


def progress_words(tried: Tried, found: int) -> str:
    """How far the search is."""
    if not tried.whole:
        return LOOKING
    now = min(tried.done + 1, tried.whole)
    words = f"Trying {now} of {tried.whole} …"
    return f"{words} {found} so far" if found else words


def card_words(remedies: Sequence[Remedy], why_none: str, system: UnitSystem) -> str:
    """The line in the card of a finding: how many there are, and the number of the best.

    Args:
        remedies: what has been found, the best first.
        why_none: said where there is none; empty while candidates are still being tried.
        system: the person's units.
    """
    if not remedies:
        return f"No remedy: {why_none[:1].lower()}{why_none[1:]}" if why_none else LOOKING
    many = remedies_counted(len(remedies))
    best = remedies[0].outcome.shown(system)
    return f"{many}: {best} …" if best else f"{many} …"
