"""Supplies as sets of conductors with the voltage of each, so that a new system is a new row."""

import cmath
import math
from dataclasses import dataclass

from ..build.electrical import System

NEUTRAL = "N"
_TWO_LEGS_OF_A_WYE_V = (199.0, 218.0)
"""Two legs of a 120/208 V wye; a centre-tapped 240 V supply with 5 % less is still 228 V."""


@dataclass(frozen=True, slots=True)
class ConductorSet:
    """Conductors of a supply and their no-load voltages to neutral, in volts.

    The neutral is the last conductor and stands at zero.
    """

    names: tuple[str, ...]
    volts: tuple[complex, ...]

    @property
    def neutral(self) -> int:
        """Index of the neutral."""
        return len(self.names) - 1

    @property
    def legs(self) -> tuple[int, ...]:
        """Indices of the live conductors."""
        return tuple(range(self.neutral))

    def between(self, p: int, q: int) -> complex:
        """No-load voltage from conductor p to conductor q."""
        return self.volts[p] - self.volts[q]

    def name_of(self, legs: tuple[int, ...]) -> tuple[str, ...]:
        """Names of legs."""
        return tuple(self.names[leg] for leg in legs)


def _set(*legs: tuple[str, float, float]) -> ConductorSet:
    names = (*(name for name, _, _ in legs), NEUTRAL)
    volts = (*(cmath.rect(v, math.radians(angle)) for _, v, angle in legs), 0j)
    return ConductorSet(names, volts)


def conductor_set(system: System, voltage_v: float) -> ConductorSet:
    """The conductors of a supply.

    Split phase is centre-tapped: two legs of half the voltage in opposition,
    so that what both use alike cancels in the neutral. At about 208 V the two
    legs come from a 120/208 V wye instead, a third of a turn apart; there the
    neutral carries as much as the legs when they are loaded alike.

    Args:
        system: as in the build.
        voltage_v: line to neutral for single-phase, leg to leg for the others.
    """
    if system == "single-phase":
        return _set(("L", voltage_v, 0.0))
    if system == "three-phase":
        return three_phase_wye(voltage_v)
    if _TWO_LEGS_OF_A_WYE_V[0] <= voltage_v <= _TWO_LEGS_OF_A_WYE_V[1]:
        leg_v = voltage_v / math.sqrt(3)
        return _set(("L1", leg_v, 0.0), ("L2", leg_v, -120.0))
    return _set(("L1", voltage_v / 2, 0.0), ("L2", voltage_v / 2, 180.0))


def three_phase_wye(line_to_line_v: float) -> ConductorSet:
    """Three legs a third of a turn apart, with their neutral."""
    leg_v = line_to_line_v / math.sqrt(3)
    return _set(("L1", leg_v, 0.0), ("L2", leg_v, -120.0), ("L3", leg_v, 120.0))
