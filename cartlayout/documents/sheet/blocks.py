"""The tables beside the plan: circuits, taps, findings. Each is a heading and rows of elements."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Build
from ...findings.finding import SEVERITIES, Finding
from ...power.results import EVERYTHING_ON, Circuit
from ...units import UnitSystem, show_plain
from ...units.display import unit_label
from ...water.results import ALL_OPEN, Tap
from ..lettering import Face, elided, wrapped
from ..plan.notes import circuit_state, tap_verdict
from ..plan.picture import Box
from .elements import (
    BODY,
    SMALL,
    STRONG,
    BoxItem,
    Element,
    LineItem,
    MarkItem,
    SampleItem,
    TextItem,
)

CONTINUOUS_SHARE = 0.8
"""Where the bar's first mark stands: 80 % of the rating, the reciprocal of 125 %."""
_FACE = Face(SMALL)
_STRONG = Face(SMALL, 600)


@dataclass(frozen=True, slots=True)
class Row:
    """A row: how high it is, and what is in it, from its own upper left corner."""

    height: float
    elements: tuple[Element, ...]
    may_go: bool = False
    """Can be left out where there is no room; the row that counts them then says so."""


@dataclass(frozen=True, slots=True)
class Block:
    """A table."""

    title: str
    side: str
    """Small text at the right of the heading."""
    rows: tuple[Row, ...]

    @property
    def height(self) -> float:
        """With its heading."""
        return HEADING + sum(row.height for row in self.rows)


HEADING = 6.4


def heading(title: str, side: str, width: float) -> Row:
    """The heading of a block."""
    return Row(
        HEADING,
        (
            TextItem(0.0, 3.4, title, STRONG, 700),
            TextItem(width, 3.4, elided(side, _FACE, width - 30.0), SMALL, 400, "ink_muted", 1.0),
            LineItem(0.0, 4.7, width, 4.7, 0.6, "line_strong"),
        ),
    )


def blocks(
    build: Build, analysis: Analysis, overlays: frozenset[str], system: UnitSystem, width: float
) -> tuple[Block, ...]:
    """The tables that go with the overlays asked for, laid out for a column's width."""
    made = []
    if "power" in overlays:
        made.append(circuit_block(build, analysis, width))
    if "water" in overlays:
        made.append(tap_block(analysis, system, width))
    made.append(finding_block(analysis.findings, system, width))
    return tuple(made)


# --- circuits ---------------------------------------------------------------------------------


def circuit_block(build: Build, analysis: Analysis, width: float) -> Block:
    """Every circuit: letter, dash, amperes against rating, a bar, and what is on it."""
    names = {item.id: item.name for item in build.items}
    rows = [_circuit_row(circuit, names, width) for circuit in analysis.power.circuits]
    if not rows:
        rows = [_plain("No circuit: nothing supplies power.", width)]
    return Block("Circuits", "everything on · 80 % and 100 % marked", tuple(rows))


def _circuit_row(circuit: Circuit, names: dict[str, str], width: float) -> Row:
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    bad = circuit_state(circuit) == "stop"
    assumed = " (assumed)" if circuit.rating_assumed else ""
    numbers = f"{amps:.1f} / {circuit.rating_a:g} A{assumed}"
    face = Face(BODY, 600, True)
    room = width - face.width(numbers) - 17.0 - (4.0 if bad else 0.0)
    elements: list[Element] = [
        SampleItem(0.0, 1.9, 14.0, "power", circuit.letter),
        TextItem(15.6, 2.9, elided(circuit.name, Face(BODY), room), BODY),
        TextItem(width, 2.9, numbers, BODY, 600, "stop" if bad else "ink", 1.0, True),
    ]
    if bad:
        elements.append(MarkItem(width - face.width(numbers) - 2.4, 1.95, 2.9, "stop"))
    elements += _bar(circuit, amps, bad, width)
    y = 7.9
    loads = " · ".join(
        f"{names.get(load.item, load.item)} {load.amps:.1f}" for load in circuit.loads
    )
    for line in wrapped(loads, _FACE, width, 3):
        elements.append(TextItem(0.0, y + 1.8, line, SMALL, 400, "ink_muted"))
        y += _FACE.line
    return Row(y + 1.9, tuple(elements))


def _bar(circuit: Circuit, amps: float, bad: bool, width: float) -> list[Element]:
    """The rating takes five sixths of the width, so that an overload is seen to run over."""
    full = width / 1.2
    top, height = 4.6, 2.3
    parts: list[Element] = [
        BoxItem(Box(0.0, top, width, height), "track", "", 0.6),
    ]
    x = 0.0
    per_amp = full / circuit.rating_a if circuit.rating_a else 0.0
    known = sum(load.amps for load in circuit.loads)
    scale = amps / known if known > 0 else 0.0
    shares = [load.amps * scale for load in circuit.loads] if known > 0 else [amps]
    for share in shares:
        piece = min(share * per_amp, width - x)
        if piece > 0.25:
            parts.append(
                BoxItem(
                    Box(x + 0.12, top, piece - 0.24, height),
                    "stop" if bad else f"circuit {circuit.letter}",
                    "",
                    0.4,
                )
            )
        x += max(piece, 0.0)
    for share in (CONTINUOUS_SHARE, 1.0):
        at = full * share
        parts.append(LineItem(at, top - 0.5, at, top + height + 0.5, 0.8, "ink"))
    return parts


# --- taps -------------------------------------------------------------------------------------


def tap_block(analysis: Analysis, system: UnitSystem, width: float) -> Block:
    """Every tap: the window it allows, what it sees shut and open, its flow against the need."""
    pressure, flow = unit_label("pressure", system), unit_label("flow", system)
    taps = analysis.water.taps
    if not taps:
        return Block("Taps", "", (_plain("No water inlet on this cart.", width),))
    columns = _tap_columns(width)
    head: list[Element] = []
    for text, x, align in zip(
        ("Tap", "allowed", "shut", "open", "flow / need"), columns, (0, 1, 1, 1, 1), strict=True
    ):
        head.append(TextItem(x, 1.9, text, SMALL, 400, "ink_muted", align))
    rows = [Row(3.6, tuple(head))]
    rows += [_tap_row(tap, system, columns) for tap in taps]
    return Block("Taps", f"{pressure}, {flow} · open: everything open", tuple(rows))


def _tap_columns(width: float) -> tuple[float, ...]:
    mark = 4.0
    flow = width - mark
    opened = flow - 17.5
    shut = opened - 10.5
    allowed = shut - 10.5
    return 0.0, allowed, shut, opened, flow


def _tap_row(tap: Tap, system: UnitSystem, columns: Sequence[float]) -> Row:
    name_x, allowed_x, shut_x, open_x, flow_x = columns
    face = Face(SMALL, 400, True)
    window = (
        f"{show_plain(tap.least_pa, 'pressure', system)}–"
        f"{show_plain(tap.greatest_pa, 'pressure', system)}"
    )
    room = allowed_x - face.width(window) - 1.5
    lines = wrapped(tap.name, _STRONG, room, 2)
    elements: list[Element] = [
        TextItem(name_x, 2.4 + at * _FACE.line, line, SMALL, 600) for at, line in enumerate(lines)
    ]
    elements.append(TextItem(allowed_x, 2.4, window, SMALL, 400, "ink", 1.0, True))
    need = show_plain(tap.required_flow, "flow", system)
    state = tap.states.get(ALL_OPEN)
    if not tap.fed:
        texts = ("–", "–", f"– / {need}")
        colours = ("stop", "stop", "stop")
        verdict = "stop"
    else:
        opened = show_plain(state.pressure_pa, "pressure", system) if state else "–"
        flow = show_plain(state.flow, "flow", system) if state else "–"
        shut_ok = tap.static_pa <= tap.greatest_pa
        ok = state is None or tap_verdict(tap, state)[1] == "ok"
        texts = (show_plain(tap.static_pa, "pressure", system), opened, f"{flow} / {need}")
        colours = (
            "ink" if shut_ok else "stop",
            "ink" if state is None or state.pressure_ok else "stop",
            "ink" if state is None or state.flow_ok else "stop",
        )
        verdict = "ok" if ok and shut_ok else "stop"
    for text, x, colour in zip(texts, (shut_x, open_x, flow_x), colours, strict=True):
        weight = 400 if colour == "ink" else 600
        elements.append(TextItem(x, 2.4, text, SMALL, weight, colour, 1.0, True))
    elements.append(MarkItem(flow_x + 2.5, 1.5, 2.6, verdict))
    height = 1.5 + max(1, len(lines)) * _FACE.line
    elements.append(LineItem(0.0, height - 0.25, flow_x + 4.0, height - 0.25, 0.35, "line"))
    return Row(height, tuple(elements))


# --- findings ---------------------------------------------------------------------------------


def finding_block(findings: Sequence[Finding], system: UnitSystem, width: float) -> Block:
    """How many of each sort, and the titles, stops first; titles of the others may be left out."""
    counts = {
        severity: sum(one.severity == severity for one in findings) for severity in SEVERITIES
    }
    side = " · ".join(f"{count} {severity}" for severity, count in counts.items())
    rows = []
    for finding in sorted(findings, key=lambda one: one.sort_key()):
        if finding.severity == "note":
            continue
        lines = wrapped(finding.title.shown(system), _FACE, width - 4.4, 3)
        elements: list[Element] = [MarkItem(1.5, 1.5, 2.8, finding.severity)]
        elements += [
            TextItem(4.2, 2.4 + at * _FACE.line, line, SMALL) for at, line in enumerate(lines)
        ]
        rows.append(Row(0.9 + len(lines) * _FACE.line, tuple(elements), finding.severity != "stop"))
    if not counts["stop"]:
        rows.insert(0, _plain("Nothing to stop for.", width))
    return Block("Findings", side, tuple(rows))


def left_out(count: int, width: float) -> Row:
    """The row that stands for those that found no room."""
    noun = "finding" if count == 1 else "findings"
    return _plain(f"and {count} more {noun}; see the program", width)


def _plain(text: str, width: float) -> Row:
    lines = wrapped(text, _FACE, width)
    return Row(
        1.0 + len(lines) * _FACE.line,
        tuple(
            TextItem(0.0, 2.2 + at * _FACE.line, line, SMALL, 400, "ink_muted")
            for at, line in enumerate(lines)
        ),
    )
