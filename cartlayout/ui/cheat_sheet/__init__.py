"""Every key and every movement of the mouse on one page."""

from .sheet import CheatSheet

__all__ = ["CheatSheet"]
