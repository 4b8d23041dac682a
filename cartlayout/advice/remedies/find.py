"""Remedies for what is found: candidates tried one after another until enough of them help."""

import math
from collections.abc import Iterable, Iterator

from ...analysis import Analysis
from ...findings import Finding
from .changes import key_of
from .joining import joined
from .model import Candidate, Key, Remedy, Tried
from .sources import candidates
from .trial import Harm, Trials

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
    alone: bool = False,
) -> Iterator[Step]:
    """Try what may help against one finding, and yield what does.

    Between two candidates a `Tried` is yielded, so that whoever asks can stop there. What makes
    a stop only a care comes last, and only where nothing takes it away.

    Args:
        analysis: of the build as it is.
        finding: one of it.
        most: after so many remedies it ends; after half as many for what is only worth knowing.
        trials: of the same analysis, where copies tried for another finding are kept.
        alone: only single changes. Otherwise, where no single one helps, a change that would bring
            a stop is tried together with what takes that away.
    """
    most_trials = MOST_TRIALS
    if finding.severity == "note":
        most, most_trials = math.ceil(most / _OF_NOTES), MOST_TRIALS // _OF_NOTES
    trying = trials if trials is not None else Trials(analysis)
    good, partly, harmful = list[Remedy](), list[Remedy](), list[Harm]()
    done = 0
    source = candidates(trying.before, finding)
    while len(good) < most and done < most_trials:
        candidate = next(source, None)
        if candidate is None:
            break
        found = trying.attempt(finding, candidate)
        done += 1
        if trying.harmful is not None:
            harmful.append(trying.harmful)
        if found is not None and found.partly:
            partly.append(found)
        elif found is not None and not any(_is_more_of(one, found) for one in good):
            good.append(found)
            yield found
        yield Tried(done, most_trials)
    if not good and not alone and finding.severity != "note":
        for step in with_a_second(trying, finding, harmful):
            if isinstance(step, Tried):
                yield Tried(done + step.done, done + step.whole)
            else:
                good.append(step)
                yield step
    if not good:
        yield from partly[:most]
    yield Tried(done, done)


_HARMFUL = 2
"""So many changes are looked at that help and harm, the least harmful first."""
_SECONDS = 2
"""So many stops that come may each be taken away by one more change."""
_SECOND_TRIALS = 8


def with_a_second(trying: Trials, finding: Finding, harmful: list[Harm]) -> Iterator[Step]:
    """Changes that help but bring a stop, together with what takes that away.

    Args:
        trying: of the build as it is.
        finding: what is to be helped.
        harmful: what helps by itself and brings stops.
    """
    done = 0
    whole = _HARMFUL * _SECONDS * _SECOND_TRIALS
    for harm in sorted(harmful, key=lambda one: len(one.stops))[:_HARMFUL]:
        steps: list[Remedy] = []
        now = harm.after
        for stop in harm.stops if len(harm.stops) <= _SECONDS else ():
            there = next((one for one in now.findings if key_of(one) == key_of(stop)), None)
            second = None
            for step in remedies(now, there, 1, alone=True) if there is not None else ():
                done += 1
                yield Tried(min(done, whole), whole)
                if isinstance(step, Remedy) and not step.partly:
                    second = step
                if second is not None or done % _SECOND_TRIALS == 0:
                    break
            if second is not None:
                steps.append(second)
                now = second.analysis
        if steps:
            found = trying.attempt(finding, _several(harm.candidate, steps))
            if found is not None and not found.partly:
                yield found


def _several(first: Candidate, steps: list[Remedy]) -> Candidate:
    """One change and those that have to go with it."""
    build = steps[-1].build
    return Candidate(
        "several",
        joined([first.title, *(one.title for one in steps)]),
        max(first.effort, *(one.effort for one in steps)),
        lambda: build,
        tuple(dict.fromkeys((*first.items, *(item for one in steps for item in one.items)))),
        tuple(dict.fromkeys((*first.cautions, *(c for one in steps for c in one.cautions)))),
        first.told,
    )


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
