"""Placing labels so that none lies on another. Knows neither Qt nor carts, only boxes and lines."""

from .candidates import NEAR_OWN_GAPS
from .model import Field, Label, Obstacle, PlacedLabel
from .placing import place

__all__ = ["NEAR_OWN_GAPS", "Field", "Label", "Obstacle", "PlacedLabel", "place"]
