"""Pressure against flow of everything that water passes, in one closed form.

Tubes, fittings, filters, valves, openings and demands differ only in the parts
they use, so parts in series add up to one `Characteristic` of the same form,
and a chain of them costs the solver one link.
"""

import math
from dataclasses import dataclass, field, replace

from .friction import TubeLoss, Tubing

STEEP = 1e15
"""Slope [Pa*s/m^3] of a wall: ten bar push 1e-9 m3/s through it."""
LEAST_SLOPE = 1e4
"""Slope [Pa*s/m^3] of what loses nothing: one pascal at 6 L/min."""
_LEAST_AT_REST = 1e2
"""Slope [Pa*s/m^3] at rest that everything has. A drum for a tube has less by its measures, but
beside that a wall would be lost in rounding, and what only walls hold would hang on nothing."""
_SMALL_FLOW = 1e-7
"""m3/s below which a square loss turns straight, so that its slope never vanishes."""


@dataclass(frozen=True, slots=True)
class LossParts:
    """What a `Characteristic` loses at one flow, part by part; signed as the flow is."""

    flow: float
    tubes: tuple[TubeLoss, ...]
    linear: float
    """Pa*s/m3"""
    square: float
    """Pa*s2/m6"""
    cracking_pa: float
    loss_pa: float
    """Of everything together, as the solver has it; walls are left out."""


@dataclass(frozen=True, slots=True)
class Characteristic:
    """Pressure lost as a function of flow: monotone, with a positive slope everywhere.

    loss(q) = tubes + linear * q + square * q * |q|, plus a cracking pressure, between
    the least and the greatest flow; beyond either a wall.
    """

    tubes: tuple[Tubing, ...] = ()
    linear: float = 0.0
    """Pa*s/m3"""
    square: float = 0.0
    """Pa*s2/m6"""
    least: float = -math.inf
    """m3/s; 0 for what lets nothing back."""
    greatest: float = math.inf
    """m3/s"""
    cracking_pa: float = 0.0
    """Needed before anything flows forward."""
    cracking_back_pa: float = 0.0
    _line: float = field(init=False, repr=False, compare=False)
    """What grows in a line with the flow, with what is missing to the least slope."""

    def __post_init__(self) -> None:
        """See to it that the slope at rest, where it is least, is no less than the least."""
        at_rest = self.linear + self.square * _SMALL_FLOW
        at_rest += sum(tube.slope_at_rest for tube in self.tubes)
        least = _LEAST_AT_REST if at_rest else LEAST_SLOPE
        object.__setattr__(self, "_line", self.linear + max(least - at_rest, 0.0))

    def loss(self, flow: float) -> tuple[float, float]:
        """Pressure lost [Pa] from start to end at a flow [m^3/s], and its slope [Pa*s/m^3]."""
        q = flow if flow >= 0.0 else -flow
        slope = self._line
        loss = slope * q
        if self.square:
            root = math.sqrt(q * q + _SMALL_FLOW * _SMALL_FLOW)
            loss += self.square * q * root
            slope += self.square * (root + q * q / root)
        for tube in self.tubes:
            more, steeper = tube.loss(q)
            loss += more
            slope += steeper
        if flow < 0.0:
            loss = -loss
        if self.cracking_pa or self.cracking_back_pa:
            step = STEEP * flow
            if step >= self.cracking_pa:
                loss += self.cracking_pa
            elif step <= -self.cracking_back_pa:
                loss -= self.cracking_back_pa
            else:
                loss += step
                slope += STEEP
        if flow < self.least:
            loss += STEEP * (flow - self.least)
            slope += STEEP
        elif flow > self.greatest:
            loss += STEEP * (flow - self.greatest)
            slope += STEEP
        return loss, slope

    def parts(self, flow: float) -> LossParts:
        """The loss at a flow [m^3/s], part by part, for somebody who checks it by hand."""
        held = min(max(flow, self.least), self.greatest)
        cracking_pa = (self.cracking_back_pa if held < 0.0 else self.cracking_pa) if held else 0.0
        return LossParts(
            flow,
            tuple(tube.told(flow) for tube in self.tubes),
            self.linear,
            self.square,
            cracking_pa,
            self.loss(held)[0],
        )

    def reversed(self) -> "Characteristic":
        """The same thing seen from its other end."""
        if self.least == -self.greatest and self.cracking_pa == self.cracking_back_pa:
            return self
        return replace(
            self,
            least=-self.greatest,
            greatest=-self.least,
            cracking_pa=self.cracking_back_pa,
            cracking_back_pa=self.cracking_pa,
        )

    @property
    def lets_forward(self) -> bool:
        """Whether anything can flow from start to end."""
        return self.greatest > 0.0

    @property
    def lets_back(self) -> bool:
        """Whether anything can flow from end to start."""
        return self.least < 0.0


def in_series(parts: tuple[Characteristic, ...]) -> Characteristic:
    """One characteristic for parts that all carry the same flow in the same direction."""
    if len(parts) == 1:
        return parts[0]
    tubes: list[Tubing] = []
    linear = square = cracking_pa = cracking_back_pa = 0.0
    least, greatest = -math.inf, math.inf
    for part in parts:
        tubes += part.tubes
        linear += part.linear
        square += part.square
        least, greatest = max(least, part.least), min(greatest, part.greatest)
        cracking_pa += part.cracking_pa
        cracking_back_pa += part.cracking_back_pa
    return Characteristic(
        tuple(tubes), linear, square, least, greatest, cracking_pa, cracking_back_pa
    )
