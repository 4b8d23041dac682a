"""Remedies for what is found: candidates tried one after another until enough of them help."""

import math
from collections.abc import Iterable, Iterator

from ...analysis import Analysis
from ...findings import Finding
from .changes import key_of
from .model import Candidate, Key, Remedy, Tried
from .sources import candidates
from .trial import Trials

MOST_GOOD = 4
"""So many are enough to choose from."""
MOST_TRIALS = 14
"""So many candidates are tried for one finding; what has not helped by then is not promising."""
_OF_NOTES = 2
"""Things worth knowing are given so many times less."""

Step = Remedy | Tried


def remedies(
    analysis: Analysis,
    finding: Finding,
    most: int = MOST_GOOD,
    trials: Trials | None = None,
) -> Iterator[Step]:
    """Try what may help against one finding, and yield what does.

    Between two candidates a `Tried` is yielded, so that whoever asks can stop there. What makes
    a stop only a care comes last, and only where nothing takes it away.

    Args:
        analysis: of the build as it is.
        finding: one of it.
        most: after so many remedies it ends; after half as many for what is only worth knowing.
        trials: of the same analysis, where copies tried for another finding are kept.
    """
    most_trials = MOST_TRIALS
    if finding.severity == "note":
        most, most_trials = math.ceil(most / _OF_NOTES), MOST_TRIALS // _OF_NOTES
    trying = trials if trials is not None else Trials(analysis)
    good, partly = list[Remedy](), list[Remedy]()
    done = 0
    source = candidates(trying.before, finding)
    while len(good) < most and done < most_trials:
        candidate = next(source, None)
        if candidate is None:
            break
        found = trying.attempt(finding, candidate)
        done += 1
        if found is not None and found.partly:
            partly.append(found)
        elif found is not None and not any(_is_more_of(one, found) for one in good):
            good.append(found)
            yield found
        yield Tried(done, most_trials)
    if not good:
        yield from partly[:most]
    yield Tried(done, done)


def all_remedies(analysis: Analysis, most: int = MOST_GOOD) -> Iterator[Step]:
    """Remedies for everything that is found, stops first; `Remedy.finding` says what each is for.

    Args:
        analysis: of the build as it is.
        most: so many for each finding.
    """
    trials = Trials(analysis)
    whole = len(trials.before.findings) * MOST_TRIALS
    for at, finding in enumerate(trials.before.findings):
        for step in remedies(trials.before, finding, most, trials):
            if isinstance(step, Tried):
                yield Tried(at * MOST_TRIALS + min(step.done, MOST_TRIALS), whole)
            else:
                yield step
    yield Tried(whole, whole)


def by_finding(steps: Iterable[Step]) -> dict[Key, tuple[Remedy, ...]]:
    """Remedies by what they are for, the best first."""
    found: dict[Key, list[Remedy]] = {}
    for step in steps:
        if isinstance(step, Remedy):
            found.setdefault(step.finding, []).append(step)
    return {key: best_first(each) for key, each in found.items()}


def best_first(found: Iterable[Remedy]) -> tuple[Remedy, ...]:
    """Remedies in the order in which a person would want them; of equals the one tried first."""
    return tuple(sorted(found, key=lambda one: (one.partly, worth(one))))


def _is_more_of(one: Remedy, other: Remedy) -> bool:
    """Whether the other does the same to more things than the one has to, or the other way round.

    One turn of a body is as good as another.
    """
    if one.kind != other.kind:
        return False
    return set(one.items) < set(other.items) or (one.kind == "turn" and one.items == other.items)


_OF_OTHER = {"stop": 1.5, "care": 0.6, "note": 0.1}
_OF_COMER = {"stop": 99.0, "care": 2.0, "note": 0.3}


def worth(remedy: Remedy) -> float:
    """What a remedy costs, in steps of effort: less is better.

    Other findings that go with it are worth something, those that come with it cost something.
    The weights are our own: common practice, no source.
    """
    others = sum(_OF_OTHER[one.severity] for one in remedy.gone if key_of(one) != remedy.finding)
    comers = sum(_OF_COMER[one.severity] for one in remedy.come)
    return remedy.effort - others + comers


__all__ = [
    "MOST_GOOD",
    "MOST_TRIALS",
    "Candidate",
    "Remedy",
    "Step",
    "Tried",
    "all_remedies",
    "best_first",
    "by_finding",
    "remedies",
    "worth",
]
