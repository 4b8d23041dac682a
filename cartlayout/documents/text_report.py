"""Circuits, taps, the body and findings as plain text, for a terminal."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..findings import SEVERITIES, Finding
from ..power.results import EVERYTHING_ON, Circuit
from ..units import UnitSystem, show, show_pair
from .body_lines import body_lines
from .caution import CAUTION
from .water_lines import water_lines


def text_report(analysis: Analysis, system: UnitSystem) -> str:
    """Write what `cartlayout check` prints."""
    return "\n".join(_lines(analysis, system)) + "\n"


def _lines(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    build = analysis.build
    yield build.name
    yield "=" * len(build.name)
    yield ""
    yield f"Circuits ({EVERYTHING_ON.lower()})"
    if not analysis.power.circuits:
        yield "  none: no outlet, generator or battery is on the plan"
    for circuit in analysis.power.circuits:
        yield from _circuit(analysis, circuit, system)
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
    yield ""
    yield CAUTION


def _circuit(analysis: Analysis, circuit: Circuit, system: UnitSystem) -> Iterator[str]:
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    assumed = " (rating assumed)" if circuit.rating_assumed else ""
    holds = "" if all(limit.holds for limit in circuit.limits) else "  <- see findings"
    of_rating = show_pair(amps, circuit.rating_a, "current", system)
    share = show(circuit.share, "share", system)
    yield f"  {circuit.letter}  {circuit.name}: {of_rating}, {share}{assumed}{holds}"
    for load in circuit.loads:
        item = analysis.build.item(load.item)
        name = item.name if item is not None else load.item
        yield f"       {show(load.amps, 'current', system):>8}  {name}"


def _headline(analysis: Analysis) -> str:
    counts = [f"{analysis.count(severity)} {severity}" for severity in SEVERITIES]
    return f"Findings: {', '.join(counts)}"


def _finding(finding: Finding, system: UnitSystem) -> Iterator[str]:
    yield f"  [{finding.severity}] {finding.title.shown(system)}"
    yield f"         {finding.detail.shown(system)}"
    if finding.source:
        yield f"         Source of the limit: {finding.source}"
