"""Which figures that nobody has checked would change a verdict, and from where on."""

from .checked import can_be_checked, checked
from .figures import unknowns
from .model import Cause, Choice, Found, Progress, Threshold, Unknown
from .search import Search, all_found, keep, ranked

__all__ = [
    "Cause",
    "Choice",
    "Found",
    "Progress",
    "Search",
    "Threshold",
    "Unknown",
    "all_found",
    "can_be_checked",
    "checked",
    "keep",
    "ranked",
    "unknowns",
]
