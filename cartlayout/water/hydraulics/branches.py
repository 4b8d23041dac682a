"""Which of its branches a limiter is on: it holds, it gives all it can, or it is pushed through."""

import math
from dataclasses import dataclass

from .characteristic import STEEP
from .limiter import Limiter
from .state import Conditions, Mode
from .system import System

Branch = tuple[Mode, float, float]
"""With the loss [Pa] in the form given pressure - pressure behind = loss, and its slope."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A limiter in its place, as the conditions have it."""

    at: int
    """Its number among all that carries flow: after the chains."""
    tail: int
    head: int
    limiter: Limiter
    set_pa: float
    """With the pressure of its outlet's height."""
    most: float
    """m3/s"""

    def branch(self, mode: Mode, flow: float) -> Branch:
        """One branch at a flow."""
        limiter = self.limiter
        if mode == "holding":
            loss, slope = limiter.fall(flow)
            loss -= self.set_pa
        elif mode == "passing" and limiter.passing is not None:
            loss, slope = limiter.passing.loss(flow)
        else:
            loss, slope = limiter.wide_open.loss(flow)
        if flow > self.most:
            return mode, loss + STEEP * (flow - self.most), slope + STEEP
        return mode, loss, slope

    def governing(self, flow: float, before_pa: float) -> Branch:
        """The branch that governs at a flow and a pressure before."""
        held = self.branch("holding", flow)
        given = self.branch("wide open", flow)
        behind_pa = min(-held[1], before_pa - given[1])
        if self.limiter.passing is not None:
            pushed = self.branch("passing", flow)
            if before_pa - pushed[1] > behind_pa:
                return pushed
        return held if -held[1] <= before_pa - given[1] else given


def standing(system: System, conditions: Conditions) -> list[Standing]:
    """The limiters of a system under some conditions."""
    sketch, count = system.sketch, len(system.chains)
    return [
        Standing(
            at,
            valve.tail,
            valve.head,
            valve.limiter,
            conditions.set_pa.get(valve.key, valve.limiter.set_pa)
            + system.fluid.head_pa(sketch.heights_m[valve.outlet]),
            conditions.most_flow.get(valve.key, math.inf),
        )
        for at, valve in enumerate(system.valves, count)
    ]
