"""Exchanging an item for another of the stock: what would change is seen before it is done."""

from .menu import ReplaceMenu
from .panel import ReplacePanel, open_replace

__all__ = ["ReplaceMenu", "ReplacePanel", "open_replace"]
