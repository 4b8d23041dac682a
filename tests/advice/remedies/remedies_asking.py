"""Short ways to ask for remedies in a test."""

from cartlayout.advice.remedies import Remedy, by_finding, key_of, remedies
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build
from cartlayout.findings import Finding
from cartlayout.units import UnitSystem


def said(build: Build, code: str) -> tuple[Analysis, Finding]:
    """The analysis of a build and the first thing it says of a code."""
    analysis = analyse(build)
    found = [one for one in analysis.findings if one.code == code]
    assert found, [one.code for one in analysis.findings]
    return analysis, found[0]


def offered(build: Build, code: str) -> tuple[Remedy, ...]:
    """What is offered against the first finding of a code, the best first."""
    analysis, finding = said(build, code)
    return by_finding(remedies(analysis, finding)).get(key_of(finding), ())


def kinds(found: tuple[Remedy, ...]) -> set[str]:
    """The kinds of some remedies."""
    return {one.kind for one in found}


def of_kind(found: tuple[Remedy, ...], kind: str) -> Remedy:
    """The first of a kind."""
    return next(one for one in found if one.kind == kind)


def words(remedy: Remedy) -> str:
    """Title and outcome as they are read in the US."""
    return f"{remedy.title.shown(UnitSystem.US)}: {remedy.outcome.shown(UnitSystem.US)}"
