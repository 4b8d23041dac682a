"""Items as they are drawn: body, silhouette, name, and the one number that matters."""

from dataclasses import replace
from functools import partial

from ...analysis import Analysis
from ...build import (
    VENUE,
    Accumulator,
    Appliance,
    Battery,
    Box,
    Build,
    DrainPump,
    Extension,
    Filter,
    Generator,
    Item,
    Load,
    Mains,
    Outlet,
    Pump,
    Regulator,
    Strip,
    Tank,
)
from ...build.geometry import corners
from ...findings.finding import Severity
from ...power.loads import amps_by_watts
from ...power.results import EVERYTHING_ON, Limit
from ...units import UnitSystem, show
from .kept import Kept
from .picture import XY, BodyShape, PlanOptions
from .wording import details

_ROUNDING = 0.0005
"""As a share: as the power side forgives it."""


def body_shapes(
    build: Build, analysis: Analysis, options: PlanOptions, level: str, kept: Kept
) -> tuple[BodyShape, ...]:
    """Every item, lowest level first so that upper ones lie over lower ones."""
    severities = worst_by_item(analysis)
    heights = {one.name: one.height.si for one in build.cart.levels}
    shapes = []
    voltages = {key: limit for key, limit in analysis.power.limits if limit.name == "voltage"}
    for item in build.items:
        severity = severities.get(item.id)
        limit = voltages.get(item.id)
        make = partial(_body, item, analysis, options, level, severity, limit)
        shapes.append(kept.get(item.id, (item, analysis.power, severity), make))
    order = {item.id: heights.get(item.level, -1.0) for item in build.items}
    return tuple(sorted(shapes, key=lambda shape: order[shape.id]))


def _body(
    item: Item,
    analysis: Analysis,
    options: PlanOptions,
    level: str,
    severity: Severity | None,
    limit: Limit | None,
) -> BodyShape:
    size = item.specification.size
    sub = key_number(item, analysis, options)
    shows = "power" in options.overlays
    volts = volts_at_plug(item, analysis, options, limit) if shows else ""
    a, b, c, d = ((x * 1000.0, y * 1000.0) for x, y in corners(item))
    centre: XY = (item.x.si * 1000.0, item.y.si * 1000.0)
    return BodyShape(
        id=item.id,
        name=item.name,
        sub=sub,
        symbol=item.specification.symbol,
        level=item.level,
        centre=centre,
        width=size.width.si * 1000.0,
        depth=size.depth.si * 1000.0,
        rotation=item.rotation,
        corners=(a, b, c, d),
        ghosted=item.level not in (level, VENUE),
        venue=item.level == VENUE,
        severity=severity,
        locked=item.locked,
        details=details(item, options.system),
        near_sub=f"{sub} · {volts}" if volts else "",
    )


def worst_by_item(analysis: Analysis) -> dict[str, Severity]:
    """Item id to the worst that is said about it as the culprit; findings come worst first."""
    worst: dict[str, Severity] = {}
    for finding in analysis.findings:
        if finding.severity != "note":
            for item_id in finding.items[:1]:
                worst.setdefault(item_id, finding.severity)
    return worst


def key_number(item: Item, analysis: Analysis, options: PlanOptions) -> str:
    """The number that says most about an item, or nothing."""
    system = options.system
    electrical = item.specification.electrical
    if isinstance(electrical, Load):
        return _load(item, electrical, analysis, options)
    if electrical is not None:
        return _supply(item, analysis, system)
    return _water(item, system)


def _load(item: Item, role: Load, analysis: Analysis, options: PlanOptions) -> str:
    states = analysis.power.appliances.get(item.id, {})
    state = states.get(options.case)
    if state is None and (everything := states.get(EVERYTHING_ON)) is not None:
        # What counts against the breaker, so that body and circuit say the same.
        circuit = analysis.power.circuit_of(item.id)
        loads = circuit.loads if circuit is not None else ()
        counted = next((load.amps for load in loads if load.item == item.id), everything.amps)
        state = replace(everything, amps=counted)
    if state is not None and state.fed:
        return show(state.amps, "current", options.system)
    amps = role.current.si if role.current is not None else amps_by_watts(role)
    rated = show(amps, "current", options.system) if amps is not None else ""
    return f"{rated}, not fed" if rated else "not fed"


def volts_at_plug(
    item: Item, analysis: Analysis, options: PlanOptions, limit: Limit | None = None
) -> str:
    """Volts at an appliance in the case shown, such as "117.2 V"; empty where none come to it.

    Where they are outside its own range the word "low" or "high" follows.

    Args:
        item: any item.
        analysis: what was computed.
        options: of the plan.
        limit: that its voltage is held against.
    """
    role = item.specification.electrical
    states = analysis.power.appliances.get(item.id, {})
    state = states.get(options.case) or states.get(EVERYTHING_ON)
    if not isinstance(role, Load) or state is None or not state.fed:
        return ""
    text = show(state.volts, "voltage", options.system)
    if limit is not None and limit.limit < role.voltage.si:
        return f"{text} low" if state.volts < limit.limit * (1.0 - _ROUNDING) else text
    if limit is not None and state.volts > limit.limit * (1.0 + _ROUNDING):
        return f"{text} high"
    return text


def _supply(item: Item, analysis: Analysis, system: UnitSystem) -> str:
    role = item.specification.electrical
    if isinstance(role, Outlet):
        circuit = next((one for one in analysis.power.circuits if item.id in one.items), None)
        amps = circuit.rating_a if circuit is not None else (role.breaker.si if role.breaker else 0)
        volts = show(role.voltage.si, "voltage", system, 0)
        return f"{show(amps, 'current', system, 0)} {volts}" if amps else volts
    if isinstance(role, Strip | Extension):
        return _of_rating(item, role.rating.si, analysis, system)
    if isinstance(role, Box):
        return show(role.main.si, "current", system, 0) if role.main is not None else ""
    if isinstance(role, Generator | Battery):
        return show(role.running.si, "power", system)
    return ""


def _of_rating(item: Item, rating_a: float, analysis: Analysis, system: UnitSystem) -> str:
    held = [
        limit
        for owner, limit in analysis.power.limits
        if owner == item.id and limit.dimension == "current"
    ]
    if not held:
        return show(rating_a, "current", system, 0)
    worst = max(held, key=lambda limit: limit.value / limit.limit if limit.limit else 0.0)
    return f"{worst.value:.1f} / {show(worst.limit, 'current', system, 0)}"


def _water(item: Item, system: UnitSystem) -> str:
    role = item.specification.water
    text = ""
    if isinstance(role, Tank):
        text = show(role.volume.si, "volume", system)
    elif isinstance(role, Accumulator):
        text = show(role.volume.si, "volume", system, 2 if system is UnitSystem.US else 1)
    elif isinstance(role, Appliance) and role.inlets:
        text = show(role.inlets[0].required_flow.si, "flow", system)
    elif isinstance(role, Pump):
        text = show(role.cut_out.si, "pressure", system, 0 if system is UnitSystem.US else 1)
    elif isinstance(role, Regulator):
        set_to = show(role.set_point.si, "pressure", system, 0 if system is UnitSystem.US else 1)
        text = f"set {set_to}"
    elif isinstance(role, Mains):
        text = show(role.usual.si, "pressure", system, 0 if system is UnitSystem.US else 1)
    elif isinstance(role, Filter):
        text = show(role.rated_flow.si, "flow", system)
    elif isinstance(role, DrainPump):
        text = show(role.flow.si, "flow", system)
    return text
