"""Drags on the plan: each is one object that previews while it lasts and commits once."""

from .band import BandGesture
from .base import NOTHING, Gesture, Measure, Trace
from .bend import BendGesture
from .join import ConnectGesture, JoinGesture, ReplugGesture
from .leg import LegGesture
from .move import MoveGesture
from .pan import PanGesture
from .tube_end import TubeEndGesture
from .turn import TurnGesture

__all__ = [
    "NOTHING",
    "BandGesture",
    "BendGesture",
    "ConnectGesture",
    "Gesture",
    "JoinGesture",
    "LegGesture",
    "Measure",
    "MoveGesture",
    "PanGesture",
    "ReplugGesture",
    "Trace",
    "TubeEndGesture",
    "TurnGesture",
]
