"""Circuits, taps, the body and findings as plain text, for a terminal."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..analysis import Analysis
from ..findings import SEVERITIES, Finding
from ..units import UnitSystem
from .body_lines import body_lines
from .caution import CAUTION
from .power_lines import power_lines
from .water_lines import water_lines
from .working_lines import working_lines

if TYPE_CHECKING:
    from .remedy_lines import Found


def text_report(
    analysis: Analysis,
    system: UnitSystem,
    found: "Found | None" = None,
    with_workings: bool = False,
) -> str:
    """Write what `cartlayout check` prints.

    Args:
        analysis: of the build.
        system: units to print.
        found: remedies by finding, where they are asked for.
        with_workings: say with every finding how its number came about.
    """
    return "\n".join(_lines(analysis, system, found, with_workings)) + "\n"


def _lines(
    analysis: Analysis, system: UnitSystem, found: "Found | None", with_workings: bool
) -> Iterator[str]:
    build = analysis.build
    yield build.name
    yield "=" * len(build.name)
    yield ""
    yield from power_lines(analysis, system)
    yield ""
    yield from water_lines(analysis, system)
    yield ""
    yield "Body"
    for line in body_lines(analysis, system):
        mark = "  <- see findings" if line.state in ("care", "stop") else ""
        yield f"  {line.label:<16} {line.value}{mark}"
    yield ""
    yield _headline(analysis)
    for finding in analysis.findings:
        yield from _finding(finding, system)
        if with_workings:
            yield from working_lines(analysis, finding, system)
        if found is not None:
            # Late: a check that asks for no remedies need not wait for them to be imported.
            from ..advice.remedies import key_of
            from .remedy_lines import remedy_lines

            yield from remedy_lines(finding, found.get(key_of(finding), ()), system)
    yield ""
    yield CAUTION


def _headline(analysis: Analysis) -> str:
    counts = [f"{analysis.count(severity)} {severity}" for severity in SEVERITIES]
    return f"Findings: {', '.join(counts)}"


def _finding(finding: Finding, system: UnitSystem) -> Iterator[str]:
    yield f"  [{finding.severity}] {finding.title.shown(system)}"
    yield f"         {finding.detail.shown(system)}"
    if finding.source:
        yield f"         Source of the limit: {finding.source}"
