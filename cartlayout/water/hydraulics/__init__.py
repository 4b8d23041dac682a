"""Steady flow in small pressure networks. Knows tubes, pumps and taps, but nothing of a cart."""

from .characteristic import Characteristic, LossParts
from .elements import (
    PumpCurve,
    at_point,
    check_valve,
    drawn,
    fill,
    line_and_square,
    opening,
    pipe,
)
from .friction import TubeLoss, Tubing, colebrook, friction_factor
from .limiter import Limiter
from .sketch import Key, Sketch
from .solver import solve
from .state import Conditions, Mode, Start, State, laid_together
from .system import System

__all__ = [
    "Characteristic",
    "Conditions",
    "Key",
    "Limiter",
    "LossParts",
    "Mode",
    "PumpCurve",
    "Sketch",
    "Start",
    "State",
    "System",
    "TubeLoss",
    "Tubing",
    "at_point",
    "check_valve",
    "colebrook",
    "drawn",
    "fill",
    "friction_factor",
    "laid_together",
    "line_and_square",
    "opening",
    "pipe",
    "solve",
]
