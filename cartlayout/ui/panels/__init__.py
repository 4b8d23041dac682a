"""The parts of the window around the plan: resized, hidden, brought back, remembered."""

from .arrangement import BOARDS, PANELS, Arrangement

__all__ = ["BOARDS", "PANELS", "Arrangement"]
