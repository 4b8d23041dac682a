"""Remedies and mending as text and as JSON.

JSON of one remedy: `kind`, `title`, `outcome`, `effort` (0 a plug or a setting, to 5 somebody
else has to act), `partly`, `items`, `cautions`, `value` and `before` (SI number and dimension, or
null), `gone` and `come` (`severity`, `code`, `title` of other findings).
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from ..advice.remedies import Key, Mended, Remedy, key_of, why_none
from ..analysis import Analysis
from ..findings import Finding
from ..units import UnitSystem, Value
from .caution import CAUTION

_EFFORT = (
    "a setting or a plug",
    "something moved by hand",
    "a tube or a cord",
    "a small part",
    "other equipment",
    "somebody else has to act",
)
"""What an effort stands for, by its number."""

Found = Mapping[Key, tuple[Remedy, ...]]


def remedy_lines(finding: Finding, found: Iterable[Remedy], system: UnitSystem) -> Iterator[str]:
    """What helps against one finding, for a terminal; why nothing does where nothing does."""
    remedies = tuple(found)
    if not remedies:
        yield f"         No remedy: {why_none(finding)}"
    for one in remedies:
        yield f"         - {one.title.shown(system)}: {_told(one, system)}"
        yield from _with(one, system)


def _told(remedy: Remedy, system: UnitSystem) -> str:
    outcome = remedy.outcome.shown(system)
    return f"{outcome[:1].lower()}{outcome[1:]} ({_EFFORT[remedy.effort]})"


def _with(remedy: Remedy, system: UnitSystem) -> Iterator[str]:
    """What it brings, and who has to see to it."""
    for one in remedy.come:
        yield f"           It brings: [{one.severity}] {one.title.shown(system)}"
    for caution in remedy.cautions:
        yield f"           {caution}"


def mended_lines(mended: Mended, system: UnitSystem) -> Iterator[str]:
    """What mending did and what remains, for a terminal."""
    name = mended.before.build.name
    yield name
    yield "=" * len(name)
    yield ""
    before, after = mended.before.count("stop"), mended.after.count("stop")
    yield f"Stops: {before} before, {after} after"
    yield ""
    if mended.steps:
        yield "Done, in this order:"
    for number, one in enumerate(mended.steps, start=1):
        yield f"  {number}. {one.title.shown(system)}: {_told(one, system)}"
        for caution in one.cautions:
            yield f"     {caution}"
    if not mended.steps:
        yield "Nothing was changed."
    if mended.remaining:
        yield ""
        yield "Stops that remain:"
    for left in mended.remaining:
        yield f"  [stop] {left.finding.title.shown(system)}"
        yield f"         {left.reason}"
    if mended.come:
        yield ""
        yield "New, and no stop:"
    for come in mended.come:
        yield f"  [{come.severity}] {come.title.shown(system)}"
    yield ""
    yield CAUTION


def remedies_json(analysis: Analysis, found: Found, system: UnitSystem) -> list[dict[str, Any]]:
    """For each finding, in its order, `remedies`, and `none` where there are none: why."""
    rows = []
    for finding in analysis.findings:
        remedies = found.get(key_of(finding), ())
        rows.append(
            {
                "remedies": [_remedy(one, system) for one in remedies],
                "none": None if remedies else why_none(finding),
            }
        )
    return rows


def mended_json(mended: Mended, system: UnitSystem) -> dict[str, Any]:
    """Steps as remedies, stops before and after, `remaining` (`title`, `reason`), `come`."""
    return {
        "format": "cartlayout mend",
        "version": 1,
        "build": mended.before.build.name,
        "stops_before": mended.before.count("stop"),
        "stops_after": mended.after.count("stop"),
        "steps": [_remedy(one, system) for one in mended.steps],
        "remaining": [
            {"title": one.finding.title.shown(system), "reason": one.reason}
            for one in mended.remaining
        ],
        "come": [_brief(one, system) for one in mended.come],
        "caution": CAUTION,
    }


def _remedy(remedy: Remedy, system: UnitSystem) -> dict[str, Any]:
    others = [one for one in remedy.gone if key_of(one) != remedy.finding]
    return {
        "kind": remedy.kind,
        "title": remedy.title.shown(system),
        "outcome": remedy.outcome.shown(system),
        "effort": remedy.effort,
        "partly": remedy.partly,
        "items": list(remedy.items),
        "cautions": list(remedy.cautions),
        "value": _value(remedy.value),
        "before": _value(remedy.before),
        "gone": [_brief(one, system) for one in others],
        "come": [_brief(one, system) for one in remedy.come],
    }


def _brief(finding: Finding, system: UnitSystem) -> dict[str, str]:
    return {
        "severity": finding.severity,
        "code": finding.code,
        "title": finding.title.shown(system),
    }


def _value(value: Value | None) -> dict[str, Any] | None:
    return None if value is None else {"si": value.si, "dimension": value.dimension}
