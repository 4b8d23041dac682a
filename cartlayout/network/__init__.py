"""networkx graphs made from a Build: power, supply water, drain; routes and lengths."""

from .connect import (
    best_tube,
    connect,
    free_receptacles,
    plug_end,
    replug,
    tube_from,
    tube_named,
)
from .fit import Fit, Fitter, fits, fitting_ends, is_plug
from .inserting import insert_inline
from .make import make_network
from .replace import Replacement, RunChange, replace_with
from .results import Network, Node, Problem, Route
from .routes import tight_bends
from .routing.terms import beneath

__all__ = [
    "Fit",
    "Fitter",
    "Network",
    "Node",
    "Problem",
    "Replacement",
    "Route",
    "RunChange",
    "beneath",
    "best_tube",
    "connect",
    "fits",
    "fitting_ends",
    "free_receptacles",
    "insert_inline",
    "is_plug",
    "make_network",
    "plug_end",
    "replace_with",
    "replug",
    "tight_bends",
    "tube_from",
    "tube_named",
]
