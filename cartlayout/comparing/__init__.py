"""Two builds held against each other: what moved, what changed, how each verdict changed."""

from .builds import About, Change, Kind, changes, run_name
from .verdicts import Figure, FindingKey, Turn, Verdicts, Way, finding_key, turns, verdicts

__all__ = [
    "About",
    "Change",
    "Figure",
    "FindingKey",
    "Kind",
    "Turn",
    "Verdicts",
    "Way",
    "changes",
    "finding_key",
    "run_name",
    "turns",
    "verdicts",
]
