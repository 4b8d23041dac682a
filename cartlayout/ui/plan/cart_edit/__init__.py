"""Editing the cart itself on the plan: outline, zones, casters, legs, leaves, panel, handle."""

from .mode import CartEdit

__all__ = ["CartEdit"]
