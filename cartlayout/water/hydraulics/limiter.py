"""What holds the pressure behind it down: a regulator, or a pump with its switch."""

from dataclasses import dataclass
from typing import Protocol

from .characteristic import STEEP, Characteristic

_LEAST_DROOP = 1e3
"""Pa*s/m3 of a regulator without droop: half a pascal at 30 L/min."""
_CREEP_ENDS = 1e-6
"""m3/s (60 mL/min) at which a regulator's seat has left its creep behind."""


class Curve(Protocol):
    """Anything with a loss that grows with flow."""

    def loss(self, flow: float) -> tuple[float, float]:
        """Pressure lost [Pa] at a flow [m^3/s], and its slope [Pa*s/m^3]."""


@dataclass(frozen=True, slots=True)
class Limiter:
    """Lets through what `wide_open` gives, but never more than its set pressure behind it.

    Behind it stands min(set - droop * flow, what comes through wide open). For a
    pump `wide_open` is its curve and the set pressure that of its switch; where
    something pushes harder than the switch allows, `passing` tells the loss
    through the standing pump, and no switch can hold that down.
    """

    wide_open: Curve
    set_pa: float
    """Gauge, at its outlet."""
    droop: float = 0.0
    """Pa*s/m3"""
    creep_pa: float = 0.0
    """Above the set point with nothing flowing."""
    passing: Characteristic | None = None

    def fall(self, flow: float) -> tuple[float, float]:
        """How far below the set point [Pa] at a flow [m^3/s], and the slope [Pa*s/m^3]."""
        slope = self.droop + _LEAST_DROOP
        if flow < 0.0:
            return STEEP * flow - self.creep_pa, STEEP
        fall = slope * flow
        if self.creep_pa and flow < _CREEP_ENDS:
            steep = self.creep_pa / _CREEP_ENDS
            return fall - self.creep_pa + steep * flow, slope + steep
        return fall, slope
