"""What panels share that try something in the place of an item and show it on the plan."""

from .counts import CountsLine
from .panel import TryingPanel, leave_trials
from .report import Line, TrialReport
from .rows import KEY, VERDICT, WORDS, Index, TrialList, TrialRows, write
from .sight import SightedPanel
from .tall_rows import TallList, TallRows
from .ticked_rows import TickedList, TickedRows

__all__ = [
    "KEY",
    "VERDICT",
    "WORDS",
    "CountsLine",
    "Index",
    "Line",
    "SightedPanel",
    "TallList",
    "TallRows",
    "TickedList",
    "TickedRows",
    "TrialList",
    "TrialReport",
    "TrialRows",
    "TryingPanel",
    "leave_trials",
    "write",
]
