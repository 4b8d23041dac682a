"""Remedies of findings: looked for in another thread, seen on the plan, taken as one step."""

from .coordinator import Remedies
from .mend_panel import MendPanel, open_mending
from .panel import RemediesPanel

__all__ = ["MendPanel", "Remedies", "RemediesPanel", "open_mending"]
