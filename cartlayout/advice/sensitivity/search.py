"""Re-solves a build over the range of each figure, one at a time, and finds where verdicts turn.

A verdict is a finding that stops or asks for care. Each figure is tried at both ends of its range;
where a verdict is another than now, the place is found by halving the interval between the last
value with today's verdict and the first with another, until both read alike. So a little beyond
what is told the verdict is really other, and a little before it is not. What turns within the range
and turns back before its end is not found; no such figure is known.
"""

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence

from ...analysis import Analysis, analyse
from ...build import Build
from ...findings import Finding
from ...units import UnitSystem
from ...units.display import dimension_factor, show_plain
from .figures import unknowns
from .model import Found, Progress, Side, Threshold, Unknown

About = tuple[str, str]
"""Code and culprit of a finding; its numbers, and who else is named with it, may change."""
Verdicts = dict[About, Finding]

_HALVINGS = 40
_RANK = {"stop": 2, "care": 1}


def verdicts(analysis: Analysis) -> Verdicts:
    """What stops or asks for care, by what it is about; the worst of each."""
    found: Verdicts = {}
    for finding in analysis.findings:  # stops come first
        if finding.severity == "note":
            continue
        about = finding.items[0] if finding.items else ""
        found.setdefault((finding.code, about), finding)
    return found


class Search:
    """The search over all unknown figures of one build.

    Iterating it tries one value after the other, so that a thread can stop between two; what is
    yielded is `Progress`, and `Found` for each figure that is done.
    """

    def __init__(self, analysis: Analysis, chosen: Sequence[Unknown] | None = None) -> None:
        """Take a build.

        Args:
            analysis: of the build as it is.
            chosen: the figures to try; None: all of them.
        """
        self.analysis = analysis
        self.unknowns = tuple(chosen) if chosen is not None else unknowns(analysis.build)
        self._now = verdicts(analysis)
        self.solved = 0
        """How many builds have been analysed."""

    def __iter__(self) -> Iterator[Progress | Found]:
        whole = len(self.unknowns)
        for done, unknown in enumerate(self.unknowns):
            yield Progress(done, whole)
            found: list[Threshold] = []
            for one in self._of(unknown):
                if isinstance(one, Threshold):
                    found.append(one)
                else:
                    yield Progress(done, whole)
            yield Found(unknown, tuple(found), done + 1, whole)

    def _solve(self, build: Build) -> Verdicts:
        self.solved += 1
        return verdicts(analyse(build, self.analysis))

    def _of(self, unknown: Unknown) -> Iterator[Threshold | None]:
        """Thresholds of one figure; None between two solutions."""
        if unknown.choices:
            yield from self._choices(unknown)
            return
        tried = _Tried(unknown)
        if unknown.taken is not None:
            tried.verdicts[unknown.taken] = self._now
        for si in _places(unknown):
            tried.verdicts[si] = self._solve(unknown.put(si))
            yield None
        yield from self._side(tried, "below")
        yield from self._side(tried, "above")

    # --- answers that are no number ------------------------------------------------------------

    def _choices(self, unknown: Unknown) -> Iterator[Threshold | None]:
        for choice in unknown.choices:
            then = self._solve(choice.put())
            yield None
            come, gone = _turned(self._now, then)
            if come or gone:
                yield Threshold(
                    unknown, "above", None, None, come, gone, 0.5 if come else 0.6, choice
                )

    # --- numbers -------------------------------------------------------------------------------

    def _side(self, tried: "_Tried", side: Side) -> Iterator[Threshold | None]:
        """The places on one side of what is taken at which something turns, from there outwards.

        What turns at one place is not looked at any more beyond it. Anything else that turns on
        the way counts as well as what is other at the end: a tap that has too little pressure
        first, and then too little flow, fails from the first of the two on.
        """
        unknown = tried.unknown
        seen: set[About] = set()
        for near, far in itertools.pairwise(tried.outward(side)):
            if self._other(tried.verdicts[near], seen):
                return  # nothing is taken, and this end is not as it is now either
            lo = near
            while self._other(tried.verdicts[far], seen):
                hi = far
                for _ in range(_HALVINGS):
                    if _read_alike(unknown, lo, hi):
                        break
                    middle = 0.5 * (lo + hi)
                    tried.verdicts[middle] = then = self._solve(unknown.put(middle))
                    yield None
                    lo, hi = (lo, middle) if self._other(then, seen) else (middle, hi)
                turned = self._other(tried.verdicts[hi], seen)
                come, gone = _turned(self._now, tried.verdicts[hi], turned)
                yield Threshold(unknown, side, lo, hi, come, gone, tried.nearness(hi, side))
                seen |= turned
                lo = hi

    def _other(self, then: Verdicts, seen: set[About]) -> set[About]:
        """What is said otherwise than now, without what has been told."""
        return {
            key
            for key in {*self._now, *then}
            if key not in seen and _severity(self._now, key) != _severity(then, key)
        }


class _Tried:
    """The values of one figure that have been tried."""

    def __init__(self, unknown: Unknown) -> None:
        self.unknown = unknown
        self.verdicts: dict[float, Verdicts] = {}

    def outward(self, side: Side) -> list[float]:
        """Tried values from what is taken outwards; where nothing is, from the other end on."""
        values = sorted(self.verdicts, reverse=side == "below")
        taken = self.unknown.taken
        if taken is None:
            return values
        return values[values.index(taken) :]

    def nearness(self, si: float, side: Side) -> float:
        """0 at what is taken, 1 at the end of the range."""
        unknown = self.unknown
        end = unknown.greatest if side == "above" else unknown.least
        start = unknown.taken
        if start is None:
            start = unknown.least if side == "above" else unknown.greatest
        return abs(si - start) / abs(end - start) if end != start else 1.0


def _places(unknown: Unknown) -> list[float]:
    """Both ends of the range, where they are not what is taken."""
    return [one for one in (unknown.least, unknown.greatest) if one != unknown.taken]


def _severity(said: Verdicts, key: About) -> int:
    finding = said.get(key)
    return _RANK[finding.severity] if finding is not None else 0


def _turned(
    now: Verdicts, then: Verdicts, only: Iterable[About] | None = None
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """What comes or gets worse, and what goes or gets milder; stops first."""
    keys = {*now, *then} if only is None else set(only)
    come = [then[key] for key in keys if _severity(then, key) > _severity(now, key)]
    gone = [now[key] for key in keys if _severity(then, key) < _severity(now, key)]
    return tuple(sorted(come, key=Finding.sort_key)), tuple(sorted(gone, key=Finding.sort_key))


def _read_alike(unknown: Unknown, a: float, b: float) -> bool:
    """Whether two values read alike to the digit shown, with a fifth of that to spare."""
    for system in UnitSystem:
        factor = dimension_factor(unknown.dimension, system)[0]
        plain = show_plain(a, unknown.dimension, system)
        digit = 10.0 ** -len(plain.partition(".")[2])
        if abs(a - b) / factor > 0.2 * digit:
            return False
    return True


_last: tuple[Analysis, tuple[Found, ...]] | None = None


def all_found(analysis: Analysis, between: Callable[[], None] | None = None) -> tuple[Found, ...]:
    """The whole search at once; the last answer is kept for whoever asks for the same again.

    Args:
        analysis: of a committed build.
        between: called between two trials; what it raises ends the search.
    """
    global _last
    kept = _last
    if kept is not None and kept[0] is analysis:
        return kept[1]
    found = []
    for one in Search(analysis):
        if between is not None:
            between()
        if isinstance(one, Found):
            found.append(one)
    _last = analysis, tuple(found)
    return _last[1]


def keep(analysis: Analysis, found: Iterable[Found]) -> None:
    """Keep what a window found, for the sheets."""
    global _last
    _last = analysis, tuple(found)


def ranked(found: Iterable[Found]) -> tuple[Threshold, ...]:
    """All thresholds: those nearest to what is taken now first, of these the worst first."""
    every = [one for each in found for one in each.thresholds]
    return tuple(
        sorted(
            every,
            key=lambda one: (
                round(one.nearness, 3),
                one.severity != "stop",
                not one.come,
                one.unknown.key,
            ),
        )
    )
