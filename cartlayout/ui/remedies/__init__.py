"""Remedies of findings: looked for in another thread, seen on the plan, taken as one step."""

from .coordinator import Remedies
from .panel import RemediesPanel

__all__ = ["Remedies", "RemediesPanel"]
