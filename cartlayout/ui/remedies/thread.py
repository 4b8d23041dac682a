"""Moved to `ui/steps.py`."""

from ..steps import Steps

__all__ = ["Steps"]
