"""What the tool tip says of what is under the mouse: what it is, what a number means, its limit."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPointF
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QToolTip

from ...analysis import Analysis
from ...build import Item
from ...documents.plan import Note
from ...findings.finding import Finding
from ...power.results import EVERYTHING_ON, Circuit, Limit
from ...units import UnitSystem, show, show_pair, show_plain
from ..boards.tap_rows import tap_rows
from .handles import Hit

if TYPE_CHECKING:
    from .view import PlanView

MOST_FINDINGS = 2
"""More of them are told by their number: the board has them all."""


def note_tip(note: Note, analysis: Analysis, system: UnitSystem) -> str:
    """Of a pill or a letter on the plan."""
    if note.kind == "circuit":
        circuit = analysis.power.circuit(note.key.removeprefix("circuit "))
        return circuit_tip(circuit, system) if circuit is not None else note.text
    if note.kind == "tap":
        for row in tap_rows(analysis, "", system):
            if note.key == f"tap {row.key[0]} {row.key[1]}":
                return row.tip
    if note.kind == "water":
        return f"{note.text}\n{run_tip(note.run, analysis, system)}"
    if note.kind == "tag":
        return f"Circuit {note.letter}\n{run_tip(note.run, analysis, system)}"
    return note.text


def circuit_tip(circuit: Circuit, system: UnitSystem) -> str:
    """The heaviest conductor against the breaker, and every limit with where it is from."""
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    lines = [
        f"Circuit {circuit.letter}, {circuit.name}",
        f"Everything on, every thermostat calling: {show_plain(amps, 'current', system)} of "
        f"{show(circuit.rating_a, 'current', system, 0)} that its breaker carries"
        + (" (assumed)." if circuit.rating_assumed else "."),
    ]
    lines += [_limit(one, system) for one in circuit.limits]
    return "\n".join(lines)


def _limit(limit: Limit, system: UnitSystem) -> str:
    pair = show_pair(limit.value, limit.limit, limit.dimension, system)
    return f"{'Holds' if limit.holds else 'Over'}: {limit.name} {pair}. {limit.source}"


def body_tip(item: Item, kind: str, analysis: Analysis, system: UnitSystem) -> str:
    """Which equipment it is, where its numbers are from, and what is said about it."""
    where = f", on {item.level}; double-click to go there" if kind == "ghost" else ""
    lines = [f"{item.name}{where}"]
    specification = item.specification
    if specification.name != item.name:
        lines.append(specification.name)
    lines += _limits(item.id, analysis, system)
    bases = dict.fromkeys(origin.basis for origin in specification.origins)
    if bases:
        lines.append(f"Its numbers: {', '.join(bases)}")
    about = [one for one in analysis.findings if item.id in one.items[:1]]
    lines += [_said(one, system) for one in about[:MOST_FINDINGS]]
    if len(about) > MOST_FINDINGS:
        lines.append(f"and {len(about) - MOST_FINDINGS} more among Findings")
    return "\n".join(lines)


def _limits(item_id: str, analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    for owner, limit in analysis.power.limits:
        if owner == item_id:
            yield _limit(limit, system)


def _said(finding: Finding, system: UnitSystem) -> str:
    return f"{finding.severity}: {finding.title.shown(system)}"


def run_tip(run_id: str, analysis: Analysis, system: UnitSystem) -> str:
    """What flows in a wire or tube, how long it is, and the limit it is held against."""
    route = analysis.network.routes.get(run_id)
    length = f"{show(route.length_m, 'distance', system)} by its route" if route else ""
    wire = analysis.power.wires.get(run_id)
    if wire is not None:
        return "\n".join(_wire(run_id, length, analysis, system))
    run = analysis.build.run(run_id)
    if run is None or not hasattr(run, "tube"):
        return f"Wire, {length}" if length else "Wire"
    name = f"{run.tube.name}, {length}" if length else str(run.tube.name)
    return "\n".join((name, *_tube(run_id, analysis, system)))


def _tube(run_id: str, analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    """How fast water gets in a supply tube, how high it goes, and how a drain falls."""
    water = analysis.water
    velocity_m_s = water.fastest.get(run_id)
    if velocity_m_s is not None:
        yield f"Water moves at up to {show(velocity_m_s, 'velocity', system)}"
    static = next((one for one in water.statics if one.run == run_id), None)
    if static is not None:
        highest = show(static.highest_pa, "pressure", system)
        bears = (
            f"; it bears {show(static.rating_pa, 'pressure', system)}"
            if static.rating_pa is not None
            else ""
        )
        yield f"Sees up to {highest} with everything shut{bears}"
    if run_id in water.temperatures_k:
        yield f"Carries water of {show(water.temperatures_k[run_id], 'temperature', system)}"
    drain = next((one for one in water.drains if one.run == run_id), None)
    if drain is not None and not drain.pumped and math.isfinite(drain.slope):
        yield f"Falls {drain.slope:.1%} at the least, {drain.asked_slope:.1%} is asked"


def _wire(run_id: str, length: str, analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    wire = analysis.power.wires[run_id]
    circuit = analysis.power.circuit(wire.circuit) if wire.circuit else None
    on = f"Circuit {circuit.letter}" if circuit else "On no circuit"
    amps, drop = show(wire.amps, "current", system), show(wire.drop_v, "voltage", system)
    yield f"{on}: {amps}, loses {drop} out and back" + (f"; {length}" if length else "")
    held = list(_limits(run_id, analysis, system))
    yield from held
    if not held and wire.ampacity_a:
        yield f"The cord may carry {show(wire.ampacity_a, 'current', system)}"


def port_tip(item: Item | None, found: Hit) -> str:
    """Of a plug, a receptacle, an inlet or an outlet."""
    port = item.specification.port(found.handle.port) if item and found.handle else None
    if port is None or found.handle is None:
        return ""
    state = "in use" if found.handle.taken else "free: drag to what it is to be joined to"
    return f"{port.connector}, {state}"


class Tips(QObject):
    """Answers when the mouse rests on the plan: nothing is worded before somebody asks."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self._view = view
        view.viewport().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.ToolTip or not isinstance(event, QHelpEvent):
            return False
        viewport = self._view.viewport()
        QToolTip.showText(event.globalPos(), self.at(QPointF(event.pos())), viewport)
        return True

    def at(self, place: QPointF) -> str:
        """The tip for a place in the viewport."""
        view = self._view
        if view.cart_edit.on:
            return view.viewport().toolTip()
        analysis, system = view.session.analysis, view.session.system
        x, y = (one * 1000.0 for one in view.camera.to_metres(place))
        for placed in view.plan.arranged.notes:
            box = placed.box
            if box.x <= x <= box.right and box.y <= y <= box.bottom:
                return note_tip(placed.note, analysis, system)
        return hit_tip(view.mouse.hit(place), analysis, system)


def hit_tip(found: Hit, analysis: Analysis, system: UnitSystem) -> str:
    """Of a handle, a body or a run."""
    item = analysis.build.item(found.item) if found.item else None
    if found.handle is not None and found.handle.kind == "port":
        return port_tip(item, found)
    if found.handle is not None and found.handle.kind == "plug":
        return "Drag the plug to another outlet"
    if found.handle is not None:
        return "Drag the bend; Delete removes it"
    if item is not None and found.kind in ("body", "ghost"):
        return body_tip(item, found.kind, analysis, system)
    return run_tip(found.run, analysis, system) if found.run else ""
