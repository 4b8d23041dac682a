"""Friction in round tubes: laminar, turbulent after Colebrook, and a smooth way between.

Darcy-Weisbach throughout. Up to Reynolds 2000 f = 64/Re (Hagen-Poiseuille);
from 4000 on Colebrook (Colebrook 1939; form as in Moody 1944). Between them the
flow is undecided and no formula is right; the loss itself is laid through both
ends with both slopes by a cubic, which is monotone for every roughness, so that
a solver never sees a step or a fold.
"""

import math
from dataclasses import dataclass
from typing import Literal

LAMINAR_RE = 2000.0
TURBULENT_RE = 4000.0

_C = 2.0 / math.log(10.0)


def colebrook(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow [-].

    One step of Halley's method from Haaland's explicit formula: within 1e-7 of
    the root for Re >= 4000.

    Args:
        reynolds: Reynolds number [-], at least 4000.
        relative_roughness: Roughness over bore [-], 0 to 0.05.
    """
    a = relative_roughness / 3.7
    return _inverse_root(reynolds, a, a**1.11)[0] ** -2


def _inverse_root(reynolds: float, a: float, haaland: float) -> tuple[float, float]:
    """1/sqrt(f), and how much of the loss's slope the change of f takes away."""
    b = 2.51 / reynolds
    x = -0.9 * _C * math.log(haaland + 6.9 / reynolds)
    u = a + b * x
    short = x + _C * math.log(u)
    w = _C * b / u
    slope = 1.0 + w
    x -= short * slope / (slope * slope + 0.5 * short * w * b / u)
    return x, w


def friction_factor(reynolds: float, relative_roughness: float = 0.0) -> float:
    """Darcy friction factor [-] at any Reynolds number above zero.

    Args:
        reynolds: Reynolds number [-].
        relative_roughness: Roughness over bore [-].

    Examples:
        >>> friction_factor(1000.0)
        0.064
    """
    # A tube one metre wide of water of unit density and viscosity has Re = 4 Q / pi.
    tubing = Tubing(1.0, 1.0, relative_roughness, 1.0, 1.0)
    flow = reynolds * math.pi / 4.0
    return tubing.loss(flow)[0] * math.pi**2 / (8.0 * flow * flow)


Regime = Literal["laminar", "between", "turbulent"]


@dataclass(frozen=True, slots=True)
class TubeLoss:
    """What a tube takes at one flow, with what it was made from."""

    tubing: "Tubing"
    flow: float
    """m3/s, not below zero."""
    regime: Regime
    reynolds: float
    loss_pa: float
    factor: float
    """Darcy's, that gives this loss; 0 where nothing flows."""


@dataclass(frozen=True, slots=True)
class Between:
    """Both ends of the undecided flow, through which the loss is laid by a cubic."""

    laminar_flow: float
    """m3/s at Reynolds 2000."""
    turbulent_flow: float
    """m3/s at Reynolds 4000."""
    laminar_pa: float
    turbulent_pa: float
    laminar_slope: float
    """Pa*s/m3"""
    turbulent_slope: float
    factor: float
    """Colebrook's, at Reynolds 4000."""


class Tubing:
    """A length of round tube full of one fluid: loss and its slope against flow.

    Args:
        length_m: Length [m].
        bore_m: Inside diameter [m].
        roughness_m: Sand roughness [m].
        density_kg_m3: Of the fluid [kg/m^3].
        viscosity_pa_s: Dynamic, of the fluid [Pa*s].
    """

    __slots__ = (
        "_a",
        "_cubic",
        "_haaland",
        "_laminar",
        "_laminar_end",
        "_per_re",
        "_square",
        "_turbulent_start",
        "bore_m",
        "density_kg_m3",
        "length_m",
        "roughness_m",
        "viscosity_pa_s",
    )

    def __init__(
        self,
        length_m: float,
        bore_m: float,
        roughness_m: float,
        density_kg_m3: float,
        viscosity_pa_s: float,
    ) -> None:
        self.length_m, self.bore_m, self.roughness_m = length_m, bore_m, roughness_m
        self.density_kg_m3, self.viscosity_pa_s = density_kg_m3, viscosity_pa_s
        self._a = a = roughness_m / bore_m / 3.7
        self._haaland = haaland = a**1.11
        self._per_re = per_re = math.pi * bore_m * viscosity_pa_s / (4.0 * density_kg_m3)
        self._laminar = laminar = 128.0 * viscosity_pa_s * length_m / (math.pi * bore_m**4)
        self._square = 8.0 * density_kg_m3 * length_m / (math.pi**2 * bore_m**5)
        self._laminar_end = q1 = LAMINAR_RE * per_re
        self._turbulent_start = q2 = TURBULENT_RE * per_re
        x, w = _inverse_root(TURBULENT_RE, a, haaland)
        p1 = laminar * q1
        p2 = self._square * q2 * q2 / (x * x)
        s2 = 2.0 * p2 / (q2 * (1.0 + w))
        span = q2 - q1
        chord = (p2 - p1) / span
        second = (3.0 * chord - 2.0 * laminar - s2) / span
        third = (laminar + s2 - 2.0 * chord) / (span * span)
        self._cubic = (p1, laminar, second, third)

    @property
    def slope_at_rest(self) -> float:
        """Slope of the loss [Pa*s/m^3] up to the end of laminar flow."""
        return self._laminar

    def loss(self, flow: float) -> tuple[float, float]:
        """Pressure lost [Pa] at a flow [m^3/s] not below zero, and its slope [Pa*s/m^3]."""
        if flow <= self._laminar_end:
            return self._laminar * flow, self._laminar
        if flow < self._turbulent_start:
            p1, s1, second, third = self._cubic
            t = flow - self._laminar_end
            return (
                p1 + t * (s1 + t * (second + t * third)),
                s1 + t * (2.0 * second + t * 3.0 * third),
            )
        x, w = _inverse_root(flow / self._per_re, self._a, self._haaland)
        loss = self._square * flow * flow / (x * x)
        return loss, 2.0 * loss / (flow * (1.0 + w))

    def told(self, flow: float) -> TubeLoss:
        """The loss at a flow [m^3/s], with its regime, for somebody who checks it by hand."""
        flow = abs(flow)
        loss_pa = self.loss(flow)[0]
        regime: Regime = "turbulent"
        if flow < self._turbulent_start:
            regime = "laminar" if flow <= self._laminar_end else "between"
        square = self._square * flow * flow
        factor = loss_pa / square if square > 0.0 else 0.0
        return TubeLoss(self, flow, regime, flow / self._per_re, loss_pa, factor)

    @property
    def between(self) -> Between:
        """What the cubic of the undecided flow is laid through."""
        q1, q2 = self._laminar_end, self._turbulent_start
        p2, s2 = self.loss(q2)
        factor = p2 / (self._square * q2 * q2)
        return Between(q1, q2, self._laminar * q1, p2, self._laminar, s2, factor)
