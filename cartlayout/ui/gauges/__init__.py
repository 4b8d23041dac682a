"""Gauges in the details: what they should show, what was read off, and what explains it."""

from .view import GaugesView

__all__ = ["GaugesView"]
