"""Water roles of the document as hydraulic characteristics: texts become SI floats here, once."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..build import (
    Bypass,
    CheckValve,
    Drawn,
    Fill,
    Filter,
    FlowPoint,
    Heater,
    Inlet,
    Mains,
    Port,
    Pump,
    Regulator,
    ShutOff,
    TubeRun,
)
from ..limits import end_fitting, loss_coefficient, water_connector
from ..limits.water_practice import water_practice
from ..network.results import Route
from .hydraulics import (
    Characteristic,
    Limiter,
    PumpCurve,
    at_point,
    check_valve,
    drawn,
    fill,
    line_and_square,
    opening,
    pipe,
)
from .properties import Fluid
from .valve import ball_valve

LEAST_BORE_M = 1e-4
"""A narrower bore counts as no passage at all."""
_LEAST_LENGTH_M = 1e-3
_PLAIN_END = "union, threaded"
"""What is taken for the end of a tube that no table knows."""
_USUAL_PASSAGE_M = 6.35e-3
"""Of a valve whose connectors no table knows: 1/4 in, as of 3/8 in tube."""
_STANDING_PUMP_LOSS_PA = 30e3
"""Of water pushed through a pump that stands, at its open flow: common practice, no source."""


def laid_length_m(run: TubeRun, route_m: float) -> float:
    """Length of tube that the water runs through: as entered, or the route's with its spare."""
    if run.length is not None:
        return run.length.si
    return route_m + run.spare.si


def tube(
    fluid: Fluid,
    run: TubeRun,
    length_m: float,
    ends: tuple[Port | None, ...],
    foot_valve: int = 0,
) -> Characteristic | None:
    """A tube with the fittings along it and at its ends; None where its bore lets nothing by.

    Args:
        fluid: What runs in it.
        run: The tube with its fittings.
        length_m: Its length [m].
        ends: The ports it ends at.
        foot_valve: 1 with a foot valve where it begins, -1 where it ends: it costs as much as
            so many bores of tube more, and lets water through one way.
    """
    bore_m = run.tube.bore.si
    if bore_m < LEAST_BORE_M:
        return None
    if foot_valve:
        length_m += water_practice().foot_valve_bores.value * bore_m
    loss = sum(one.loss_coefficient * one.count for one in run.fittings)
    loss += sum(end_loss(run, port) for port in ends)
    roughness_m = min(max(run.tube.roughness.si, 0.0), 0.05 * bore_m)
    made = pipe(fluid, max(length_m, _LEAST_LENGTH_M), bore_m, roughness_m, max(loss, 0.0))
    if foot_valve > 0:
        return replace(made, least=0.0)
    return replace(made, greatest=0.0) if foot_valve < 0 else made


def length_m(run: TubeRun, route: Route | None) -> float:
    """Length of a tube [m]: as entered, or along its route with what is to spare."""
    if run.length is not None:
        return run.length.si
    return (route.length_m if route is not None else 0.0) + run.spare.si


def end_loss(run: TubeRun, port: Port | None) -> float:
    """Velocity heads of the fitting between a tube and a port."""
    fitting = end_fitting(run.tube.name, port.connector) if port is not None else None
    return fitting.loss_coefficient if fitting is not None else loss_coefficient(_PLAIN_END)


@dataclass(frozen=True, slots=True)
class TapPart:
    """An inlet: how it lets water out, and what was taken for granted."""

    characteristic: Characteristic
    outlet_pa: float
    """Gauge pressure that the water flows out against, or is drawn down to."""
    assumed: str


def tap(inlet: Inlet) -> TapPart:
    """What an open inlet does to the line."""
    behaviour = inlet.behaviour
    if isinstance(behaviour, Drawn):
        flow = max(behaviour.flow.si, 0.0)
        # An internal pump that may draw from below is allowed the suction its maker states.
        return TapPart(drawn(flow), min(0.0, inlet.least_pressure.si), "")
    assumed = ""
    if behaviour.assumed:
        assumed = "the opening is assumed to need its least pressure for its required flow"
    flow, pressure_pa = behaviour.rated.flow.si, behaviour.rated.pressure.si
    if flow <= 0.0 or pressure_pa <= 0.0:
        flow, pressure_pa = inlet.required_flow.si, inlet.least_pressure.si
        assumed = "its rating says nothing; the least pressure is assumed to give the required flow"
    if flow <= 0.0 or pressure_pa <= 0.0:
        return TapPart(drawn(max(flow, 0.0)), 0.0, "it is taken to draw its required flow")
    if isinstance(behaviour, Fill):
        back_pa = max(behaviour.back_pressure.si, 0.0)
        return TapPart(fill(flow, pressure_pa, back_pa), 0.0, assumed)
    cap = behaviour.cap.si if behaviour.cap is not None and behaviour.cap.si > 0.0 else None
    return TapPart(opening(flow, pressure_pa, cap), 0.0, assumed)


def pump_curve(role: Pump) -> PumpCurve | None:
    """A pump's curve; None where its table is empty.

    A table of one row is the open flow of a label; its other end is where the
    switch stops it. A bypass inside takes back a share of the flow that grows
    from nothing where it opens to everything where it is full.
    """
    rows = [(row.pressure.si, max(row.flow.si, 0.0)) for row in role.curve]
    if not rows:
        return None
    highest = max(pressure for pressure, _ in rows)
    if len({pressure for pressure, _ in rows}) < 2:
        rows.append((max(role.cut_out.si, highest + 1e3), 0.0))
    curve = PumpCurve(rows)
    return curve if role.bypass is None else _bypassed(curve, rows, role.bypass)


def _bypassed(curve: PumpCurve, rows: list[tuple[float, float]], bypass: Bypass) -> PumpCurve:
    """A curve less what its bypass lets back."""
    opens = max(bypass.opens.si, 0.0)
    full = max(bypass.full.si, opens + 1.0)
    between = [opens + share * (full - opens) for share in (0.0, 0.25, 0.5, 0.75)]
    kept = [row for row in rows if row[0] < opens]
    kept += [
        (pressure, max(curve.flow_at(pressure), 0.0) * (full - pressure) / (full - opens))
        for pressure in between
    ]
    return PumpCurve([*kept, (full, 0.0)])


def pump(role: Pump) -> Limiter | None:
    """A demand pump held down by its switch at cut-out; None where its table says nothing."""
    curve = pump_curve(role)
    if curve is None or curve.open_flow <= 0.0:
        return None
    standing = check_valve(curve.open_flow, _STANDING_PUMP_LOSS_PA)
    return Limiter(curve, role.cut_out.si, passing=standing)


def regulator(role: Regulator) -> Limiter:
    """A regulator with droop, creep and its loss wide open."""
    droop = 0.0
    if role.droop is not None and role.droop.flow.si > 0.0:
        droop = max(role.droop.pressure.si, 0.0) / role.droop.flow.si
    wide_open = check_valve(*_point(role.wide_open))
    return Limiter(wide_open, role.set_point.si, droop, max(role.creep.si, 0.0))


def water_filter(role: Filter) -> Characteristic:
    """A filter as used as it is."""
    points = [(point.flow.si, point.pressure.si) for point in role.loss]
    return line_and_square(points, role.used)


def one_way(role: CheckValve) -> Characteristic:
    """A check valve; one that is stuck open loses as much both ways."""
    cracking_pa = max(role.cracking.si, 0.0)
    made = check_valve(*_point(role.wide_open), cracking_pa)
    return replace(made, least=-math.inf, cracking_pa=0.0) if role.stuck_open else made


def hand_valve(role: ShutOff, bore_m: float, fluid: Fluid) -> Characteristic | None:
    """A valve turned by hand, with a passage so wide [m]; None while it is shut."""
    if not role.is_open:
        return None
    wide_open = at_point(*_point(role.wide_open))
    return ball_valve(wide_open, role.closed_share, bore_m, fluid.density_kg_m3)


def passage_m(ports: Iterable[Port]) -> float:
    """Bore [m] of a valve, as narrow as its narrowest connector."""
    connectors = [water_connector(port.connector) for port in ports]
    bores = [one.bore_m for one in connectors if one is not None and one.bore_m is not None]
    return min(bores, default=_USUAL_PASSAGE_M)


def heater(role: Heater) -> Characteristic:
    """A heater that water runs through."""
    return at_point(*_point(role.wide_open))


def port_loss(point: FlowPoint) -> Characteristic:
    """Loss between a fitting's port and its middle."""
    return at_point(*_point(point))


def mains(role: Mains) -> Characteristic | None:
    """The service pipe behind a mains tap: it falls with the square of the flow.

    None where no flow was measured. Nothing is let back into the mains.
    """
    residual = role.residual
    if residual is None or residual.flow.si <= 0.0:
        return None
    return check_valve(residual.flow.si, max(role.usual.si - residual.pressure.si, 0.0))


def _point(point: FlowPoint) -> tuple[float, float]:
    return max(point.flow.si, 0.0), max(point.pressure.si, 0.0)
