"""The tables beside the plan: circuits, taps, body, findings; a heading and rows of elements."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Build
from ...findings.finding import SEVERITIES, Finding, Severity
from ...power.results import EVERYTHING_ON, Circuit
from ...units import UnitSystem, show_plain
from ...units.display import unit_label
from ...water.results import Tap
from ...water.supply_results import SupplyWindow
from ..body_lines import body_lines
from ..lettering import Face, elided, wrapped
from ..plan.notes import circuit_state, open_state, tap_verdict
from ..plan.picture import Box, Overlay
from ..water_lines import supply_words
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
BODY_LABEL = 24.0
"""Room for what a number of the body is."""
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
    room = width - Face(STRONG, 700).width(title) - 3.0
    return Row(
        HEADING,
        (
            TextItem(0.0, 3.4, title, STRONG, 700),
            TextItem(width, 3.4, elided(side, _FACE, room), SMALL, 400, "ink_muted", 1.0),
            LineItem(0.0, 4.7, width, 4.7, 0.6, "line_strong"),
        ),
    )


def blocks(
    build: Build,
    analysis: Analysis,
    overlays: frozenset[Overlay],
    system: UnitSystem,
    width: float,
    explained: frozenset[Severity] = frozenset(),
) -> tuple[Block, ...]:
    """The tables that go with the overlays asked for, laid out for a column's width.

    Of the findings of the severities in `explained` the sentences are written too.
    """
    made = []
    if "power" in overlays:
        made.append(circuit_block(build, analysis, width))
    if "water" in overlays:
        made.append(tap_block(analysis, system, width))
    if overlays & {"clearance", "weight"}:
        made.append(body_block(analysis, system, width))
    made.append(finding_block(analysis.findings, system, width, explained))
    return tuple(made)


# --- circuits ---------------------------------------------------------------------------------


def circuit_block(build: Build, analysis: Analysis, width: float) -> Block:
    """Every circuit: letter, dash, amperes against rating, a bar, and what is on it."""
    names = {item.id: item.name for item in build.items}
    circuits = analysis.power.circuits
    rows = [_circuit_row(one, _what_is_on(one, circuits, names), width) for one in circuits]
    if not rows:
        rows = [plain("No circuit: nothing supplies power.", width)]
    return Block("Circuits", "everything on; marks at 80 and 100 %", tuple(rows))


def _what_is_on(circuit: Circuit, circuits: Sequence[Circuit], names: dict[str, str]) -> str:
    """The circuits it feeds by letter, and its own loads with their amperes."""
    children = [one for one in circuits if one.parent == circuit.key]
    passed_on = {load.item for one in children for load in one.loads}
    parts = [f"feeds {', '.join(one.letter for one in children)}"] if children else []
    parts += [
        f"{names.get(load.item, load.item)} {load.amps:.1f}"
        for load in circuit.loads
        if load.item not in passed_on
    ]
    return " · ".join(parts)


def _circuit_row(circuit: Circuit, what: str, width: float) -> Row:
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    bad = circuit_state(circuit) == "stop"
    assumed = " (assumed)" if circuit.rating_assumed else ""
    numbers = f"{amps:.1f} / {circuit.rating_a:g} A{assumed}"
    face = Face(BODY, 600)
    room = width - face.width(numbers) - 17.0 - (4.0 if bad else 0.0)
    elements: list[Element] = [
        SampleItem(0.0, 1.9, 14.0, "power", circuit.letter),
        TextItem(15.6, 2.9, elided(circuit.name, Face(BODY), room), BODY),
        TextItem(width, 2.9, numbers, BODY, 600, "stop" if bad else "ink", 1.0),
    ]
    if bad:
        elements.append(MarkItem(width - face.width(numbers) - 2.4, 1.95, 2.9, "stop"))
    if not circuit.loads and amps < 0.05:
        return Row(4.8, tuple(elements))
    elements += _bar(circuit, amps, bad, width)
    lines = wrapped(what, _FACE, width, 3)
    for at, line in enumerate(lines):
        elements.append(TextItem(0.0, 9.1 + at * _FACE.line, line, SMALL, 400, "ink_muted"))
    return Row(8.2 + len(lines) * _FACE.line, tuple(elements))


def _bar(circuit: Circuit, amps: float, bad: bool, width: float) -> list[Element]:
    """The rating takes five sixths of the width, so that an overload is seen to run over."""
    full = width / 1.2
    top, height = 4.4, 2.0
    parts: list[Element] = [BoxItem(Box(0.0, top, width, height), "track", "", 0.6)]
    per_amp = full / circuit.rating_a if circuit.rating_a else 0.0
    known = sum(load.amps for load in circuit.loads)
    # Loads are drawn as shares of what the heaviest conductor carries: added up
    # one by one they can be more, where they sit on different legs.
    scale = amps / known if known > 0 else 0.0
    shares = [load.amps * scale for load in circuit.loads] if known > 0 else [amps]
    fill = "stop" if bad else f"circuit {circuit.letter}"
    x = 0.0
    for share in shares:
        piece = min(share * per_amp, width - x)
        if piece > 0.25:
            parts.append(BoxItem(Box(x + 0.12, top, piece - 0.24, height), fill, "", 0.4))
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
        return Block("Taps", "", (plain("No water inlet on this cart.", width),))
    columns = _TapColumns.of(width)
    head = [
        TextItem(x, 1.9, text, SMALL, 400, "ink_muted", 1.0)
        for text, x in (
            ("shut", columns.shut),
            ("all open", columns.opened),
            ("flow / need", columns.flow),
        )
    ]
    head.append(TextItem(columns.allowed, 1.9, "allowed", SMALL, 400, "ink_muted"))
    rows = [Row(3.6, tuple(head)), *(_tap_row(tap, system, columns) for tap in taps)]
    rows += [_supply_row(one, system, width) for one in analysis.water.windows]
    return Block("Taps", f"{pressure}, {flow}", tuple(rows))


def _supply_row(window: SupplyWindow, system: UnitSystem, width: float) -> Row:
    """What a pump or a mains tap gives, and what does for all of its taps."""
    texts = wrapped(supply_words(window, system), _FACE, width - 5.0, 3)
    elements: list[Element] = [
        TextItem(0.0, 2.6 + at * _FACE.line, text, SMALL, 400, "ink_muted")
        for at, text in enumerate(texts)
    ]
    verdict = "ok" if window.is_hit else "care" if window.is_open else "stop"
    elements.append(MarkItem(width - 1.5, 1.7, 2.6, verdict))
    return Row(1.6 + max(1, len(texts)) * _FACE.line, tuple(elements))


@dataclass(frozen=True, slots=True)
class _TapColumns:
    """Where the columns stand. In a narrow table the name has a line of its own."""

    width: float
    own_line: bool
    allowed: float
    """Left edge; the others are right edges."""
    shut: float
    opened: float
    flow: float

    @classmethod
    def of(cls, width: float) -> "_TapColumns":
        own_line = width < 92.0
        flow = width - 4.0
        opened = flow - 18.5
        shut = opened - 12.5
        return cls(width, own_line, 0.0 if own_line else shut - 26.0, shut, opened, flow)


def _tap_row(tap: Tap, system: UnitSystem, columns: _TapColumns) -> Row:
    room = columns.width - 5.0 if columns.own_line else columns.allowed - 1.5
    baseline = 2.6
    elements: list[Element] = [TextItem(0.0, baseline, elided(tap.name, _STRONG, room), SMALL, 600)]
    mark_y = baseline - 0.9
    if columns.own_line:
        baseline += _FACE.line
    window = (
        f"{show_plain(tap.least_pa, 'pressure', system)}–"
        f"{show_plain(tap.greatest_pa, 'pressure', system)}"
    )
    elements.append(TextItem(columns.allowed, baseline, window, SMALL, 400, "ink"))
    cells, verdict = _tap_cells(tap, system)
    for (text, good), x in zip(cells, (columns.shut, columns.opened, columns.flow), strict=True):
        colour, weight = ("ink", 400) if good else ("stop", 600)
        elements.append(TextItem(x, baseline, text, SMALL, weight, colour, 1.0))
    elements.append(MarkItem(columns.width - 1.5, mark_y, 2.6, verdict))
    height = baseline + 1.5
    elements.append(LineItem(0.0, height - 0.2, columns.width, height - 0.2, 0.35, "line"))
    return Row(height, tuple(elements))


def _tap_cells(tap: Tap, system: UnitSystem) -> tuple[list[tuple[str, bool]], str]:
    """Texts of shut, open and flow, each with whether it holds; and the verdict on the tap."""
    need = show_plain(tap.required_flow, "flow", system)
    if not tap.fed:
        return [("–", False), ("no water", False), (f"– / {need}", False)], "stop"
    state = open_state(tap)
    shut_ok = tap.static_pa <= tap.greatest_pa
    cells = [(show_plain(tap.static_pa, "pressure", system), shut_ok)]
    if state is None:
        return [*cells, ("–", True), (f"– / {need}", True)], "ok" if shut_ok else "stop"
    flow = show_plain(state.flow, "flow", system)
    cells.append((show_plain(state.pressure_pa, "pressure", system), state.pressure_ok))
    cells.append((f"{flow} / {need}", state.flow_ok))
    holds = shut_ok and tap_verdict(tap, state)[1] == "ok"
    return cells, "ok" if holds else "stop"


# --- body -------------------------------------------------------------------------------------


def body_block(analysis: Analysis, system: UnitSystem, width: float) -> Block:
    """Mass, tilt, casters, push, the way in, the heaviest lift, what is free, the counter."""
    rows = []
    for line in body_lines(analysis, system):
        room = width - BODY_LABEL - (4.0 if line.state else 0.0)
        elements: list[Element] = [
            TextItem(0.0, 2.4, elided(line.label, _FACE, BODY_LABEL - 1.0), SMALL, 400, "ink_muted")
        ]
        words = wrapped(line.value, _STRONG, room, 2)
        for at, text in enumerate(words):
            baseline = 2.4 + at * _FACE.line
            elements.append(TextItem(BODY_LABEL, baseline, text, SMALL, 600))
        if line.state:
            elements.append(MarkItem(width - 1.5, 1.5, 2.6, line.state))
        rows.append(Row(0.9 + max(1, len(words)) * _FACE.line, tuple(elements)))
    return Block("Body", "", tuple(rows))


# --- findings ---------------------------------------------------------------------------------


def finding_block(
    findings: Sequence[Finding],
    system: UnitSystem,
    width: float,
    explained: frozenset[Severity] = frozenset(),
) -> Block:
    """How many of each sort, and the titles, stops first; titles of the others may be left out."""
    counts = {
        severity: sum(one.severity == severity for one in findings) for severity in SEVERITIES
    }
    side = " · ".join(f"{count} {severity}" for severity, count in counts.items())
    rows = [
        _finding_row(finding, system, width, finding.severity in explained)
        for finding in sorted(findings, key=lambda one: one.sort_key())
        if finding.severity != "note" or "note" in explained
    ]
    if not counts["stop"]:
        rows.insert(0, plain("Nothing to stop for.", width))
    return Block("Findings", side, tuple(rows))


def _finding_row(finding: Finding, system: UnitSystem, width: float, explained: bool) -> Row:
    room = width - 4.4
    face = _STRONG if explained else _FACE
    elements: list[Element] = [MarkItem(1.5, 1.5, 2.8, finding.severity)]
    baseline = 2.4
    for line in wrapped(finding.title.shown(system), face, room, 3):
        elements.append(TextItem(4.2, baseline, line, SMALL, face.weight))
        baseline += _FACE.line
    if explained:
        for line in wrapped(finding.detail.shown(system), _FACE, room):
            elements.append(TextItem(4.2, baseline, line, SMALL, 400, "ink_muted"))
            baseline += _FACE.line
    height = baseline - 2.4 + (1.5 if explained else 0.9)
    return Row(height, tuple(elements), finding.severity != "stop")


def left_out(count: int, width: float) -> Row:
    """The row that stands for those that found no room."""
    return plain(f"and {count} more: the program lists them all", width)


def plain(text: str, width: float) -> Row:
    """A row of words."""
    lines = wrapped(text, _FACE, width)
    return Row(
        1.0 + len(lines) * _FACE.line,
        tuple(
            TextItem(0.0, 2.2 + at * _FACE.line, line, SMALL, 400, "ink_muted")
            for at, line in enumerate(lines)
        ),
    )
