"""Placing labels so that none lies on another. Knows neither Qt nor carts, only boxes and lines."""

from .model import Field, Label, Obstacle, PlacedLabel
from .placing import place

__all__ = ["Field", "Label", "Obstacle", "PlacedLabel", "place"]
