"""What the search for deciding figures is told, and what it answers."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from ...build import Build
from ...findings import Finding
from ...units import Phrase, Value

Cause = Literal["typical", "handbook", "assumed", "not known", "planned"]
"""typical: usual for its kind, not read off this one. handbook: the same, as a handbook has it.
assumed: put together from other figures.
not known: nobody entered it. planned: by the service plan."""
Side = Literal["above", "below"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to a question that has no number: "on circuits of their own"."""

    words: str
    """After "If": "Left outlet and Right outlet are on circuits of their own"."""
    put: Callable[[], Build] = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Unknown:
    """A figure of the build that nobody has checked, with the range it may lie in."""

    key: str
    """Stable while a build is edited: "rinser/inlet flow"."""
    name: str
    """What it is, to be read after "If": "what Pitcher rinser needs"."""
    cause: Cause
    dimension: str
    taken: float | None
    """SI; None: nothing is taken, because nobody knows."""
    least: float
    greatest: float
    """SI; between these it may lie."""
    rule: str
    """Of the range, in plain words."""
    source: str
    """Of the range."""
    put: Callable[[float], Build] = field(compare=False, repr=False)
    """A copy of the build with this value."""
    item: str = ""
    run: str = ""
    """Whose figure it is; neither: the whole build's."""
    path: tuple[str, ...] = ()
    """Names of the fields in Details that lead to it."""
    choices: tuple[Choice, ...] = ()
    """Instead of a range, where the answer is no number."""
    basis: str = ""
    """What its figure rests on, as its specification says it."""
    of: str = ""
    """Which numbers of its item it is, as an `Origin` says it; empty: nothing there says so."""

    def value(self, si: float) -> Value:
        """A number of it, as it is shown."""
        return Value(si, self.dimension)


@dataclass(frozen=True, slots=True)
class Threshold:
    """Where one figure changes verdicts, everything else as it is."""

    unknown: Unknown
    side: Side
    """Beyond the threshold, seen from what is taken now."""
    holds: float | None
    """The last value tried at which all is as it is now; None for a choice."""
    turns: float | None
    """The first at which it is not; both read alike to the digit shown."""
    come: tuple[Finding, ...]
    """Said from there on: new, or worse than now."""
    gone: tuple[Finding, ...]
    """Said now and not from there on, or milder then."""
    nearness: float
    """0 where it is taken now, 1 at the end of its range."""
    choice: Choice | None = None

    @property
    def severity(self) -> str:
        """Of the worst that comes; of what goes where nothing comes."""
        found = self.come or self.gone
        return "stop" if any(one.severity == "stop" for one in found) else "care"

    @property
    def condition(self) -> Phrase:
        """Such as "If what Pitcher rinser needs is more than 5.6 L/min"."""
        unknown = self.unknown
        if self.choice is not None:
            return Phrase.of("If {words}", words=self.choice.words)
        word = "more than" if self.side == "above" else "less than"
        told = self.turns if self.turns is not None else 0.0
        return Phrase.of(
            "If {name} is {word} {value}", name=unknown.name, word=word, value=unknown.value(told)
        )

    @property
    def consequence(self) -> Phrase:
        """What is said then: the first that comes, or goes, and how many more."""
        found = self.come or self.gone
        verb = "" if self.come else "this is no longer so: "
        more = len(found) - 1
        title = found[0].title
        tail = f" (and {more} more)" if more else ""
        return Phrase(f"{verb}{title.template}{{more_}}", (*title.values, ("more_", tail)))


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a search is."""

    done: int
    whole: int


@dataclass(frozen=True, slots=True)
class Found:
    """What came of one unknown."""

    unknown: Unknown
    thresholds: tuple[Threshold, ...]
    """None: in its whole range no verdict changes."""
    done: int
    whole: int
