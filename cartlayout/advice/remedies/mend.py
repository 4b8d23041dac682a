"""Mend what can be mended: a few remedies, one after another, that clear every stop they can."""

from collections.abc import Collection, Generator, Iterator
from dataclasses import dataclass

from ...analysis import Analysis
from ...findings import Finding
from ...units import Phrase
from .changes import changes, key_of
from .find import MOST_TRIALS, remedies, worth
from .model import Remedy, Tried
from .sources import candidates, why_none
from .trial import Trials

_EACH = 3
"""So many remedies of each stop are compared."""
_LEFT_OUT = "What would help was left out."
_REPLAYED = 3 * MOST_TRIALS
"""So many candidates are looked through for the one that is wanted again."""


@dataclass(frozen=True, slots=True)
class Remaining:
    """A stop that nothing was found against."""

    finding: Finding
    reason: str
    """One plain sentence."""


@dataclass(frozen=True, slots=True)
class Mended:
    """What was done, what came of it, and what remains."""

    before: Analysis
    after: Analysis
    """Its build is taken over whole, as one edit; the one of before where nothing helps."""
    steps: tuple[Remedy, ...]
    """In the order in which they were done; each holds the build as it was after it."""
    remaining: tuple[Remaining, ...]
    come: tuple[Finding, ...]
    """Findings that are there now and were not: none of them is a stop."""

    @property
    def cleared(self) -> int:
        """How many stops there are fewer."""
        return self.before.count("stop") - self.after.count("stop")


def mend(analysis: Analysis, without: Collection[Phrase] = ()) -> Iterator[Tried | Mended]:
    """Clear as many stops as can be cleared, with few and easy changes.

    The remedy that takes most stops away for its effort is taken, the copy is analysed, and so
    on until no stop is left that anything helps against. Then every step is tried to be left out:
    a later one may have made it needless.

    Args:
        analysis: of the build as it is.
        without: titles of remedies that are not wanted.

    Yields:
        `Tried` between two candidates, so that it can be stopped there, and `Mended` at the end.
    """
    yield from _Mending(analysis, without).run()


class _Mending:
    def __init__(self, analysis: Analysis, without: Collection[Phrase]) -> None:
        self.start = Trials(analysis).before
        self.without = frozenset(without)
        self.done = 0
        self.left_out: set[object] = set()
        """Keys of stops against which only an unwanted remedy helps."""

    def run(self) -> Iterator[Tried | Mended]:
        steps: list[Remedy] = []
        now = self.start
        while True:
            best = yield from self._best(now)
            if best is None:
                break
            steps.append(best)
            now = best.analysis
        steps = yield from self._fewer(steps)
        yield Tried(self.done, self.done)
        yield self._told(steps)

    def _told(self, steps: list[Remedy]) -> Mended:
        after = steps[-1].analysis if steps else self.start
        remaining = tuple(
            Remaining(one, _LEFT_OUT if key_of(one) in self.left_out else why_none(one))
            for one in after.findings
            if one.severity == "stop"
        )
        come = changes(self.start.findings, after.findings).come
        return Mended(self.start, after, tuple(steps), remaining, come)

    # --- forward -----------------------------------------------------------------------------

    def _best(self, now: Analysis) -> Generator[Tried, None, Remedy | None]:
        """The remedy of all stops that takes most of them away for what it costs."""
        stops = [one for one in now.findings if one.severity == "stop"]
        trials = Trials(now)
        best: Remedy | None = None
        for at, finding in enumerate(stops):
            unwanted = False
            for step in remedies(now, finding, _EACH + len(self.without), trials):
                if isinstance(step, Tried):
                    self.done += 1
                    yield Tried(self.done, self.done + (len(stops) - at) * MOST_TRIALS)
                elif step.title in self.without:
                    unwanted = True
                else:
                    unwanted = False
                    if best is None or _price(step) < _price(best):
                        best = step
            if unwanted:
                self.left_out.add(key_of(finding))
        return best

    # --- looking back ------------------------------------------------------------------------

    def _fewer(self, steps: list[Remedy]) -> Generator[Tried, None, list[Remedy]]:
        """Without the steps that turn out to be needless once the later ones are done."""
        least = len(_stops(steps[-1].analysis)) if steps else 0
        at = 0
        while len(steps) > 1 and at < len(steps) - 1:
            others = [*steps[:at], *steps[at + 1 :]]
            again = yield from self._replayed(others)
            if again is not None and again and len(_stops(again[-1].analysis)) <= least:
                steps = again
            else:
                at += 1
        return steps

    def _replayed(self, steps: list[Remedy]) -> Generator[Tried, None, list[Remedy] | None]:
        """The same steps from the start; None where one of them cannot be done or helps no more."""
        now, again = self.start, list[Remedy]()
        for step in steps:
            finding = next((one for one in now.findings if key_of(one) == step.finding), None)
            if finding is None:
                continue
            found = yield from self._again(now, finding, step)
            if found is None:
                return None
            again.append(found)
            now = found.analysis
        return again

    def _again(
        self, now: Analysis, finding: Finding, step: Remedy
    ) -> Generator[Tried, None, Remedy | None]:
        trials = Trials(now)
        for at, candidate in enumerate(candidates(now, finding)):
            if at >= _REPLAYED:
                return None
            if candidate.kind == step.kind and candidate.title == step.title:
                self.done += 1
                yield Tried(self.done, self.done + MOST_TRIALS)
                return trials.attempt(finding, candidate)
        return None


def _stops(analysis: Analysis) -> list[Finding]:
    return [one for one in analysis.findings if one.severity == "stop"]


def _price(remedy: Remedy) -> float:
    """What a remedy costs for each stop that it takes away."""
    gone = sum(1 for one in remedy.gone if one.severity == "stop") + remedy.partly
    return (1.0 + max(worth(remedy) + 1.5 * (gone - 1), 0.0)) / max(gone, 1)


def mended(analysis: Analysis, without: Collection[Phrase] = ()) -> Mended:
    """The same in one go, for whoever has the time."""
    result = None
    for step in mend(analysis, without):
        if isinstance(step, Mended):
            result = step
    assert result is not None
    return result
