"""The things of a water line as characteristics, from the numbers that makers state."""

import math
from collections.abc import Sequence
from itertools import pairwise

from ..properties import Fluid
from .characteristic import LEAST_SLOPE, STEEP, Characteristic
from .friction import Tubing

_STEEPEST = 1e12
"""Steepest line of a pump's curve [Pa*s/m^3]."""


def pipe(
    fluid: Fluid,
    length_m: float,
    bore_m: float,
    roughness_m: float = 1.5e-6,
    loss_coefficient: float = 0.0,
) -> Characteristic:
    """A round tube with its fittings.

    Args:
        fluid: What runs in it.
        length_m: Length [m].
        bore_m: Inside diameter [m].
        roughness_m: Sand roughness [m]; 0.0015 mm is the usual figure for drawn tube.
        loss_coefficient: Of all fittings together, velocity heads in the bore [-].
    """
    tubing = Tubing(length_m, bore_m, roughness_m, fluid.density_kg_m3, fluid.viscosity_pa_s)
    square = loss_coefficient * 8.0 * fluid.density_kg_m3 / (math.pi**2 * bore_m**4)
    return Characteristic(tubes=(tubing,), square=square)


def at_point(flow: float, loss_pa: float) -> Characteristic:
    """A loss with the square of the flow through one point: a valve, a nozzle [m^3/s, Pa]."""
    return Characteristic(square=_square(flow, loss_pa))


def line_and_square(points: Sequence[tuple[float, float]], used: float = 0.0) -> Characteristic:
    """A filter: a line plus a square through one or two points (flow [m^3/s], loss [Pa]).

    One point gives a line, as through a bed of fine grain (Darcy's law). Where two
    points ask for a negative part, that part is left out and the better-known
    greater flow is kept. The loss grows with the used share of life as 1/(1 - used/2).
    """
    given = sorted({(q, p) for q, p in points if q > 0.0 and p > 0.0})
    if not given:
        return Characteristic()
    q2, p2 = given[-1]
    linear, square = p2 / q2, 0.0
    if len(given) > 1 and given[0][0] < q2:
        q1, p1 = given[0]
        square = (p2 / q2 - p1 / q1) / (q2 - q1)
        linear = p1 / q1 - square * q1
        if square < 0.0:
            linear, square = p2 / q2, 0.0
        elif linear < 0.0:
            linear, square = 0.0, p2 / (q2 * q2)
    grown = 1.0 / (1.0 - min(max(used, 0.0), 1.0) / 2.0)
    return Characteristic(linear=linear * grown, square=square * grown)


def check_valve(flow: float, loss_pa: float, cracking_pa: float = 0.0) -> Characteristic:
    """A valve that lets nothing back; loss [Pa] at a flow [m^3/s] wide open."""
    return Characteristic(
        square=_square(flow, max(loss_pa - cracking_pa, 0.0)), least=0.0, cracking_pa=cracking_pa
    )


def opening(flow: float, pressure_pa: float, cap: float | None = None) -> Characteristic:
    """Water leaving to the open: rated flow [m^3/s] at a pressure [Pa], perhaps capped [m^3/s]."""
    return Characteristic(
        square=_square(flow, pressure_pa), least=0.0, greatest=math.inf if cap is None else cap
    )


def drawn(flow: float) -> Characteristic:
    """An internal pump that takes a flow [m^3/s], or as much as comes at no pressure at all."""
    return Characteristic(least=0.0, greatest=flow)


def fill(flow: float, pressure_pa: float, back_pressure_pa: float = 0.0) -> Characteristic:
    """A valve that fills a vessel: flow [m^3/s] at an inlet pressure [Pa], back pressure included.

    Where the pressure is not above the back pressure it can only be meant as the
    difference between the two, and is taken so.
    """
    over = pressure_pa - back_pressure_pa
    return Characteristic(
        square=_square(flow, over if over > 0.0 else pressure_pa),
        least=0.0,
        cracking_pa=back_pressure_pa,
    )


def _square(flow: float, loss_pa: float) -> float:
    return loss_pa / (flow * flow) if flow > 0.0 and loss_pa > 0.0 else 0.0


class PumpCurve:
    """What a pump adds: straight lines through the rows of its table.

    Args:
        rows: Pairs of pressure [Pa] and flow [m^3/s] in any order. Where a row
            claims more flow at more pressure than another, the smaller flow counts.
    """

    __slots__ = ("_flows", "_pressures", "_slopes")

    def __init__(self, rows: Sequence[tuple[float, float]]) -> None:
        kept: list[tuple[float, float]] = []
        for pressure, flow in sorted(rows):
            flow = min(flow, kept[-1][1]) if kept else flow
            if kept and pressure <= kept[-1][0]:
                continue
            kept.append((pressure, flow))
        if len(kept) < 2:
            raise ValueError("a pump's curve needs two rows of different pressure")
        kept.reverse()
        self._pressures = [pressure for pressure, _ in kept]
        self._flows = [kept[0][1]]
        self._slopes = []
        for (p0, _), (p1, q1) in pairwise(kept):
            # A step of the table becomes very steep instead, 6 mL/min a bar.
            q0 = self._flows[-1]
            least = q0 + max((p0 - p1) / _STEEPEST, 1e-9 * q0, 1e-12)
            self._flows.append(max(q1, least))
            self._slopes.append(max((p0 - p1) / (self._flows[-1] - q0), LEAST_SLOPE))

    def loss(self, flow: float) -> tuple[float, float]:
        """Pressure added, as a negative loss [Pa], and its slope [Pa*s/m^3]. Nothing runs back."""
        wall = STEEP * flow if flow < 0.0 else 0.0
        steep = STEEP if flow < 0.0 else 0.0
        last = len(self._slopes) - 1
        at = 0
        while at < last and flow > self._flows[at + 1]:
            at += 1
        slope = self._slopes[at]
        return wall - self._pressures[at] + slope * (flow - self._flows[at]), slope + steep

    def pressure_pa(self, flow: float) -> float:
        """Pressure added [Pa] at a flow [m^3/s]."""
        return -self.loss(max(flow, 0.0))[0]

    def flow_at(self, pressure_pa: float) -> float:
        """Flow [m^3/s] at an added pressure [Pa]; 0 where it cannot reach that."""
        for at, slope in enumerate(self._slopes):
            flow = self._flows[at] + (self._pressures[at] - pressure_pa) / slope
            if at == len(self._slopes) - 1 or flow <= self._flows[at + 1]:
                return max(flow, 0.0)
        raise AssertionError("a curve has at least one line")

    def line_at(self, flow: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """The two rows (flow [m^3/s], pressure [Pa]) whose line holds at a flow [m^3/s]."""
        last = len(self._slopes) - 1
        at = 0
        while at < last and flow > self._flows[at + 1]:
            at += 1
        lower = (self._flows[at], self._pressures[at])
        return lower, (self._flows[at + 1], self._pressures[at + 1])

    @property
    def open_flow(self) -> float:
        """Flow [m^3/s] with nothing to push against."""
        return self.flow_at(0.0)
