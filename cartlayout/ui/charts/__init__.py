"""Charts as plain values, and the one place where they are drawn."""

from .values import Chart, Curve, Level, Spot

__all__ = ["Chart", "Curve", "Level", "Spot"]
