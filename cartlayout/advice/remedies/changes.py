"""Which findings of one build are still there in another, in whatever words, and which are new."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ...findings import SEVERITIES, Finding
from .model import Key

_SAME_WORRY = {
    "power.leakage-protection-unknown": "power.no-leakage-protection",
    "power.leakage-unknown": "power.leakage",
    "body.tilt-heated": "body.tilt",
}
"""Codes that are one worry, more or less sure: the one does not go by turning into the other."""
_WORSE = 1.005
"""A number that grows by less than its rounding is no worse."""


_NAMED = ("letter", "name", "tap", "leaf", "where")
"""Words of a title that say which one is meant: two breakers may feed the same loads."""


def key_of(finding: Finding) -> Key:
    """What a finding is about."""
    return finding.code, finding.items, finding.runs, _named(finding)


def _named(finding: Finding) -> str:
    return "; ".join(
        value for key, value in finding.title.values if key in _NAMED and isinstance(value, str)
    )


@dataclass(frozen=True, slots=True)
class Changes:
    """Findings of one build held against those of a copy of it."""

    gone: tuple[Finding, ...]
    """Said before and no more."""
    come: tuple[Finding, ...]
    """Said now and not before; also what was said before, less gravely."""
    stayed: tuple[tuple[Finding, Finding], ...]
    """As it was said before, and as it is said now."""
    worse: tuple[Finding, ...]
    """Of what stayed, as it is now: what is further beyond its limit than it was."""

    def after(self, finding: Finding) -> Finding | None:
        """What has become of a finding of before; None: it is gone."""
        return next((new for old, new in self.stayed if old is finding), None)


def changes(before: Iterable[Finding], after: Iterable[Finding]) -> Changes:
    """Hold the findings of a copy against those of the build.

    What is said of the same items and runs is the same finding. Of the rest, what has the same
    code and an item or run in common is still the same one: a circuit that is over with one load
    fewer has not been helped.
    """
    old, new = list(before), list(after)
    stayed = _paired(old, new, lambda a, b: key_of(a) == key_of(b))
    stayed += _paired(old, new, _akin)
    graver = [b for a, b in stayed if _rank(b) < _rank(a)]
    worse = [b for a, b in stayed if _is_worse(a, b)]
    return Changes(tuple(old), (*new, *graver), tuple(stayed), tuple(worse))


def _paired(
    old: list[Finding], new: list[Finding], alike: Callable[[Finding, Finding], bool]
) -> list[tuple[Finding, Finding]]:
    """Take what is alike out of both lists."""
    pairs = []
    for a in list(old):
        b = next((one for one in new if alike(a, one)), None)
        if b is not None:
            pairs.append((a, b))
            _drop(old, a)
            _drop(new, b)
    return pairs


def _drop(findings: list[Finding], one: Finding) -> None:
    at = next(at for at, other in enumerate(findings) if other is one)
    del findings[at]


def _worry(code: str) -> str:
    return _SAME_WORRY.get(code, code)


def _akin(a: Finding, b: Finding) -> bool:
    if _worry(a.code) != _worry(b.code) or (_named(a) and _named(b) and _named(a) != _named(b)):
        return False
    if not (a.items or a.runs) or not (b.items or b.runs):
        return True  # of the whole cart, or of whatever it is that has no name
    return bool({*a.items, *a.runs} & {*b.items, *b.runs})


def _rank(finding: Finding) -> int:
    return SEVERITIES.index(finding.severity)


def _is_worse(a: Finding, b: Finding) -> bool:
    """Whether it is further beyond its limit, or beyond one of another sort.

    A door that was too narrow and is too low now is no better.
    """
    if not (_measured(a) and _measured(b)):
        return False
    return _dimension(a) != _dimension(b) or _beyond(b) > _WORSE * _beyond(a)


def _dimension(finding: Finding) -> str:
    return finding.value.dimension if finding.value is not None else ""


def _measured(finding: Finding) -> bool:
    value, limit = finding.value, finding.limit
    return value is not None and limit is not None and value.si > 0.0 and limit.si > 0.0


def _beyond(finding: Finding) -> float:
    """How far a number is beyond its limit, whichever way: 1 at the limit."""
    value, limit = finding.value, finding.limit
    if value is None or limit is None:
        return 1.0
    return max(value.si / limit.si, limit.si / value.si)
