"""What two builds differ in, as text for a terminal and as JSON.

JSON, top level: `format` ("cartlayout compare"), `version` (1), `before` and `after` (names of the
builds), `changes`, `findings`, `figures`, `caution`.

changes: `kind` ("added", "removed", "moved", "changed"), `about`, `id`, `name`, `lines` (text).

findings: `way` ("come", "gone", "worse", "better", "other number"), `before` and `after` (each
`severity`, `title`, `value`, or null), `code`, `items`, `runs`.

figures: `subject`, `of`, `name`, `what`, `before`, `after` (SI number and dimension, or null),
`held_before`, `held_after` (null where nothing is held against it).
"""

from collections.abc import Iterator
from typing import Any

from ..analysis import Analysis
from ..comparing import Change, Figure, Turn, Verdicts, changes, verdicts
from ..findings import Finding
from ..units import UnitSystem, Value
from .caution import CAUTION

ARROW = " → "
_WAYS = {
    "come": "New",
    "worse": "Worse",
    "gone": "Gone",
    "better": "Better",
    "other number": "Still there, with another number",
}
_KINDS = {"moved": "Moved", "changed": "Changed", "added": "Added", "removed": "Removed"}


def comparison_text(before: Analysis, after: Analysis, system: UnitSystem) -> str:
    """Write what `cartlayout compare` prints."""
    return "\n".join(_lines(before, after, system)) + "\n"


def _lines(before: Analysis, after: Analysis, system: UnitSystem) -> Iterator[str]:
    found = changes(before.build, after.build)
    told = verdicts(before, after)
    if not found:
        yield "The two builds are the same."
        return
    yield counts_line(told)
    yield ""
    for way, title in _WAYS.items():
        turned = told.of(way)  # type: ignore[arg-type]
        if turned:
            yield title
            yield from (f"  {line}" for one in turned for line in turn_lines(one, system))
    if told.figures:
        yield "Numbers"
        yield from (f"  {figure_line(one, system)}" for one in told.figures)
    yield ""
    for kind, title in _KINDS.items():
        of_kind = [one for one in found if one.kind == kind]
        if of_kind:
            yield title
            yield from (f"  {change_line(one, system)}" for one in of_kind)
    yield ""
    yield CAUTION


def counts_line(told: Verdicts) -> str:
    """How many findings there were and are, as in "stops 3 → 0, cares 2 → 2, notes 1 → 1"."""
    return ", ".join(
        f"{severity}s {before}{ARROW}{after}" for severity, before, after in told.counts
    )


def turn_lines(turn: Turn, system: UnitSystem) -> Iterator[str]:
    """A finding as it is; below it, as it was, where both say something."""
    now, was = turn.after, turn.before
    if now is not None:
        yield f"[{now.severity}] {now.title.shown(system)}"
    if was is not None:
        before = f"[{was.severity}] {was.title.shown(system)}"
        yield before if now is None else f"       before: {before}"


def figure_line(figure: Figure, system: UnitSystem) -> str:
    """A number before and after, with what became of its verdict."""
    was, now = _shown(figure.before, system), _shown(figure.after, system)
    line = f"{figure.name}, {figure.what}: {was}{ARROW}{now}"
    if figure.turned:
        line += " (holds now)" if figure.held_after else " (holds no longer)"
    return line


def _shown(value: Value | None, system: UnitSystem) -> str:
    return "none" if value is None else value.shown(system)


def change_line(change: Change, system: UnitSystem) -> str:
    """What became of one thing."""
    lines = "; ".join(line.shown(system) for line in change.lines)
    return f"{change.name}: {lines}" if lines else change.name


def comparison_json(before: Analysis, after: Analysis, system: UnitSystem) -> dict[str, Any]:
    """Return what `cartlayout compare --json` prints, ready for json.dumps."""
    told = verdicts(before, after)
    return {
        "format": "cartlayout compare",
        "version": 1,
        "before": before.build.name,
        "after": after.build.name,
        "changes": [
            {
                "kind": one.kind,
                "about": one.about,
                "id": one.id,
                "name": one.name,
                "lines": [line.shown(system) for line in one.lines],
            }
            for one in changes(before.build, after.build)
        ],
        "findings": [_turn(one, system) for one in told.turns],
        "figures": [_figure(one) for one in told.figures],
        "caution": CAUTION,
    }


def _turn(turn: Turn, system: UnitSystem) -> dict[str, Any]:
    some = turn.after or turn.before
    assert some is not None
    return {
        "way": turn.way,
        "code": some.code,
        "items": list(some.items),
        "runs": list(some.runs),
        "before": _finding(turn.before, system),
        "after": _finding(turn.after, system),
    }


def _finding(finding: Finding | None, system: UnitSystem) -> dict[str, Any] | None:
    if finding is None:
        return None
    return {
        "severity": finding.severity,
        "title": finding.title.shown(system),
        "value": _value(finding.value),
    }


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "subject": figure.subject,
        "of": figure.of,
        "name": figure.name,
        "what": figure.what,
        "before": _value(figure.before),
        "after": _value(figure.after),
        "held_before": figure.held_before,
        "held_after": figure.held_after,
    }


def _value(value: Value | None) -> dict[str, Any] | None:
    return None if value is None else {"si": value.si, "dimension": value.dimension}
