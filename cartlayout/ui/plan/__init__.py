"""The interactive plan."""

from .view import PlanView

__all__ = ["PlanView"]
