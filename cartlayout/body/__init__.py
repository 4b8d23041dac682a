"""Bodies in their places: overlap, overhang, reach, mass, balance, and the way in."""

from .results import Balance, BodyResult, Clash
from .solve import solve_body

__all__ = ["Balance", "BodyResult", "Clash", "solve_body"]
