"""What panels share that try something in the place of an item and show it on the plan."""

from .panel import TryingPanel
from .report import Line, TrialReport
from .rows import KEY, VERDICT, WORDS, Index, TrialList, TrialRows, write

__all__ = [
    "KEY",
    "VERDICT",
    "WORDS",
    "Index",
    "Line",
    "TrialList",
    "TrialReport",
    "TrialRows",
    "TryingPanel",
    "write",
]
