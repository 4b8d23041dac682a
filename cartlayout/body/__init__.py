"""Bodies in their places: overlap, overhang, mass, balance."""

from .results import Balance, BodyResult, Clash
from .solve import solve_body

__all__ = ["Balance", "BodyResult", "Clash", "solve_body"]
