"""Water roles of the document as hydraulic characteristics: texts become SI floats here, once."""

from dataclasses import dataclass

from ..build import (
    CheckValve,
    Drawn,
    Fill,
    Filter,
    FlowPoint,
    Inlet,
    Mains,
    Port,
    Pump,
    Regulator,
    ShutOff,
    TubeRun,
)
from ..limits import end_fitting, loss_coefficient
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

LEAST_BORE_M = 1e-4
"""A narrower bore counts as no passage at all."""
_LEAST_LENGTH_M = 1e-3
_PLAIN_END = "union, threaded"
"""What is taken for the end of a tube that no table knows."""
_STANDING_PUMP_LOSS_PA = 30e3
"""Of water pushed through a pump that stands, at its open flow: common practice, no source."""


def laid_length_m(run: TubeRun, route_m: float) -> float:
    """Length of tube that the water runs through: as entered, or the route's with its spare."""
    if run.length is not None:
        return run.length.si
    return route_m + run.spare.si


def tube(
    fluid: Fluid, run: TubeRun, length_m: float, ends: tuple[Port | None, ...]
) -> Characteristic | None:
    """A tube with the fittings along it and at its ends; None where its bore lets nothing by."""
    bore_m = run.tube.bore.si
    if bore_m < LEAST_BORE_M:
        return None
    loss = sum(one.loss_coefficient * one.count for one in run.fittings)
    loss += sum(end_loss(run, port) for port in ends)
    roughness_m = min(max(run.tube.roughness.si, 0.0), 0.05 * bore_m)
    return pipe(fluid, max(length_m, _LEAST_LENGTH_M), bore_m, roughness_m, max(loss, 0.0))


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
    switch stops it.
    """
    rows = [(row.pressure.si, max(row.flow.si, 0.0)) for row in role.curve]
    if not rows:
        return None
    highest = max(pressure for pressure, _ in rows)
    if len({pressure for pressure, _ in rows}) < 2:
        rows.append((max(role.cut_out.si, highest + 1e3), 0.0))
    return PumpCurve(rows)


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
    """A check valve."""
    return check_valve(*_point(role.wide_open), max(role.cracking.si, 0.0))


def hand_valve(role: ShutOff) -> Characteristic | None:
    """A valve turned by hand; None while it is shut."""
    return at_point(*_point(role.wide_open)) if role.is_open else None


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
