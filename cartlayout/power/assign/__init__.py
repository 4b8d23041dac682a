"""Loads to outlets, best first: what goes where, and what is missing where nothing goes."""

from .apply import assigned, moved
from .missing import MOST_MORE, Missing, More, goes, missing
from .optimum import Answer, best, rated
from .problem import REACH, Place, Placeable, Problem, barred, make_problem

__all__ = [
    "MOST_MORE",
    "REACH",
    "Answer",
    "Missing",
    "More",
    "Place",
    "Placeable",
    "Problem",
    "assigned",
    "barred",
    "best",
    "goes",
    "make_problem",
    "missing",
    "moved",
    "rated",
]
