"""One candidate on a copy: made, analysed anew, and held against what it is for."""

from dataclasses import dataclass

from ...analysis import Analysis, analyse
from ...build import Build
from ...build.edits import EditError
from ...findings import Finding
from ...units import Phrase, UnitSystem, Value, beside
from .changes import Changes, changes, key_of
from .model import Candidate, Probe, Remedy
from .sources import probe_of, words_of

_SHOWN = "{after} instead of {before}"
_PARTLY = "{after} instead of {before}: still to be looked after"


@dataclass(frozen=True, slots=True)
class Harm:
    """A candidate that takes its finding away and brings something worse."""

    candidate: Candidate
    after: Analysis
    stops: tuple[Finding, ...]
    """That were not there, or are worse than they were."""


class Trials:
    """Tries candidates on copies of one build; a copy that comes up again is not analysed again."""

    def __init__(self, before: Analysis) -> None:
        """Prepare.

        Args:
            before: of the build as it is. One that is not whole is made anew.
        """
        self.before = before if before.whole else analyse(before.build)
        self.count = 0
        """Copies analysed."""
        self.harmful: Harm | None = None
        """What the last attempt would have brought, where it helps and harms."""
        self._known: dict[tuple[str, tuple[str, ...]], list[tuple[Build, Analysis, Changes]]] = {}

    def attempt(self, finding: Finding, candidate: Candidate) -> Remedy | None:
        """A remedy, if the candidate is one for the finding; else None.

        It is one if the finding is gone from the copy, or has turned from a stop into a care,
        and the copy has no stop that was not there, and none that is worse than it was. What this
        analysis does not say cannot go.
        """
        self.harmful = None
        own = self.own(finding)
        tried = self._tried(candidate) if own is not None else None
        if own is None or tried is None:
            return None
        finding = own
        after, changed = tried
        left = changed.after(finding)
        harm = _harm(changed)
        if harm:
            if left is None:
                self.harmful = Harm(candidate, after, harm)
            return None
        if left is not None and not (finding.severity == "stop" and left.severity != "stop"):
            return None
        before, now, outcome = self._outcome(finding, candidate, after, left)
        return Remedy(
            finding=key_of(finding),
            kind=candidate.kind,
            title=candidate.title,
            outcome=outcome,
            effort=candidate.effort,
            build=after.build,
            analysis=after,
            value=now,
            before=before,
            partly=left is not None,
            gone=changed.gone,
            come=changed.come,
            items=candidate.items,
            cautions=candidate.cautions,
        )

    def own(self, finding: Finding) -> Finding | None:
        """A finding as this analysis says it; None where it does not."""
        said = self.before.findings
        return next((one for one in said if one is finding), None) or next(
            (one for one in said if key_of(one) == key_of(finding)), None
        )

    def _tried(self, candidate: Candidate) -> tuple[Analysis, Changes] | None:
        try:
            build = candidate.make()
        except EditError:
            return None
        if build is self.before.build or build == self.before.build:
            return None
        known = self._known.setdefault((candidate.kind, candidate.items), [])
        for made, after, changed in known:
            if made == build:
                return after, changed
        self.count += 1
        after = analyse(build, self.before)
        changed = changes(self.before.findings, after.findings)
        known.append((build, after, changed))
        return after, changed

    def _outcome(
        self, finding: Finding, candidate: Candidate, after: Analysis, left: Finding | None
    ) -> tuple[Value | None, Value | None, Phrase]:
        """The number now, the number in the copy, and the two in words."""
        probe = probe_of(self.before, finding)
        before = probe(self.before) if probe is not None else finding.value
        now = _now(probe, after, left)
        comparable = before is not None and now is not None and before.dimension == now.dimension
        differs = comparable and _reads(before) != _reads(now)
        if candidate.told is not None and not differs:
            return before, now, candidate.told(after)
        if before is not None and now is not None and differs:
            return before, now, told_beside(_template(finding, now, left), now, before)
        if left is not None:
            return before, now, Phrase.of("{left}", left="Then only to be looked after")
        return before, now, Phrase("It is no longer said")


def _reads(value: Value | None) -> str:
    return "" if value is None else value.shown(UnitSystem.METRIC)


def _template(finding: Finding, now: Value, left: Finding | None) -> str:
    """How the two numbers are put, by what they are."""
    if left is not None:
        return _PARTLY
    return (words_of(finding.code) if now.si == 0.0 else "") or _SHOWN


def told_beside(template: str, now: Value, before: Value) -> Phrase:
    """A phrase of {after} and {before} in which the two never read alike unless they are."""
    return Phrase.of(template, after=beside(now, now, before), before=beside(before, now, before))


def _now(probe: Probe | None, after: Analysis, left: Finding | None) -> Value | None:
    if probe is not None:
        return probe(after)
    return left.value if left is not None else None


def _harm(changed: Changes) -> tuple[Finding, ...]:
    return tuple(one for one in (*changed.come, *changed.worse) if one.severity == "stop")
