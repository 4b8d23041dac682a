"""Steady water: what every tap sees and gets, in every case, and where the pressure goes."""

from .hydraulics import PumpCurve
from .parts import pump_curve
from .properties import Fluid, water
from .results import (
    ALL_OPEN,
    ALL_SHUT,
    CaseState,
    LadderStep,
    PumpState,
    RunState,
    Tap,
    TapState,
    Trouble,
    WaterBalance,
    WaterResult,
    alone,
)
from .solve import solve_water

__all__ = [
    "ALL_OPEN",
    "ALL_SHUT",
    "CaseState",
    "Fluid",
    "LadderStep",
    "PumpCurve",
    "PumpState",
    "RunState",
    "Tap",
    "TapState",
    "Trouble",
    "WaterBalance",
    "WaterResult",
    "alone",
    "pump_curve",
    "solve_water",
    "water",
]
