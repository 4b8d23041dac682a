"""Loads rebalanced by the optimiser, and what to ask a venue for."""

from .command import ask_venue, rebalance

__all__ = ["ask_venue", "rebalance"]
