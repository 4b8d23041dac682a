"""What should be checked first, as text and as JSON.

JSON of `unknowns`: `note`, `thresholds` (nearest to what is taken now first: `item`, `run`,
`path`, `what`, `cause`, `taken_si`, `dimension`, `least_si`, `greatest_si`, `range_rule`,
`range_source`, `side` ("above", "below" or "choice"), `holds_si`, `turns_si`, `severity`,
`sentence`, `come` and `gone` (`severity`, `code`, `title`), `nearness` (0 where it is taken now,
1 at the end of its range)), `quiet` (`item`, `run`, `what`, `cause`, `taken_si`, `dimension`,
`least_si`, `greatest_si`): figures that turn no verdict within their range.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ..advice.sensitivity import Found, Threshold, Unknown, ranked
from ..advice.sensitivity.words import (
    ONE_AT_A_TIME,
    name_of,
    quiet,
    range_words,
    sentence,
    summary,
    taken_words,
    verdict,
)
from ..findings import Finding
from ..units import UnitSystem


def unknown_lines(found: Sequence[Found], system: UnitSystem) -> Iterator[str]:
    """What to check first, for a terminal."""
    yield "To be checked first"
    yield f"  {summary(found).shown(system)}."
    yield f"  {ONE_AT_A_TIME}"
    for one in ranked(found):
        mark = {"ok": "mends"}.get(verdict(one), verdict(one))
        yield f"  [{mark}] {sentence(one, system)}"
        unknown = one.unknown
        yield f"         Now: {taken_words(unknown, system)}. {_range(unknown, system)}"
    rest = quiet(found)
    if rest:
        yield "  Nothing turns within the range of:"
        for unknown in rest:
            yield f"    {name_of(unknown)}: {range_words(unknown, system)}"


def _range(unknown: Unknown, system: UnitSystem) -> str:
    source = f", {unknown.source}" if unknown.source else ""
    return f"Range: {range_words(unknown, system)} ({unknown.rule}{source})."


def unknowns_json(found: Sequence[Found], system: UnitSystem) -> dict[str, Any]:
    """The same for a program."""
    return {
        "note": ONE_AT_A_TIME,
        "thresholds": [_threshold(one, system) for one in ranked(found)],
        "quiet": [_unknown(one) for one in quiet(found)],
    }


def _unknown(unknown: Unknown) -> dict[str, Any]:
    return {
        "item": unknown.item,
        "run": unknown.run,
        "path": list(unknown.path),
        "what": name_of(unknown),
        "cause": unknown.cause,
        "taken_si": unknown.taken,
        "dimension": unknown.dimension,
        "least_si": unknown.least,
        "greatest_si": unknown.greatest,
    }


def _threshold(one: Threshold, system: UnitSystem) -> dict[str, Any]:
    return {
        **_unknown(one.unknown),
        "range_rule": one.unknown.rule,
        "range_source": one.unknown.source,
        "side": "choice" if one.choice is not None else one.side,
        "holds_si": one.holds,
        "turns_si": one.turns,
        "severity": one.severity,
        "sentence": sentence(one, system),
        "come": _findings(one.come, system),
        "gone": _findings(one.gone, system),
        "nearness": round(one.nearness, 4),
    }


def _findings(found: Iterable[Finding], system: UnitSystem) -> list[dict[str, str]]:
    return [
        {"severity": one.severity, "code": one.code, "title": one.title.shown(system)}
        for one in found
    ]
