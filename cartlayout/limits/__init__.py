"""Limits and tables of the trade, each row with its source: data, read once, never literals.

Tables are read at first use and kept. A table that cannot be used raises
`LimitsError` with the file and the place in it.
"""

from .conductors import ConductorResistance, conductor_resistance, resistance_ohm_per_m
from .cords import CordRating, ampacity
from .end_fittings import EndFitting, end_fitting, tubes_between
from .fittings import FittingLoss, fitting_loss, fittings, loss_coefficient
from .power_connectors import (
    PowerConnector,
    plug_fit_reason,
    plug_fits,
    power_connector,
    power_connectors,
)
from .profiles import DefaultConnector, Profile, ReceptacleLoad, Setting, profile, profiles
from .rows import LimitsError, Sourced, Status
from .tubes import TubeRow, tube_row, tubes
from .water_connectors import WaterConnector, water_connector, water_connectors

__all__ = [
    "ConductorResistance",
    "CordRating",
    "DefaultConnector",
    "EndFitting",
    "FittingLoss",
    "LimitsError",
    "PowerConnector",
    "Profile",
    "ReceptacleLoad",
    "Setting",
    "Sourced",
    "Status",
    "TubeRow",
    "WaterConnector",
    "ampacity",
    "conductor_resistance",
    "end_fitting",
    "fitting_loss",
    "fittings",
    "loss_coefficient",
    "plug_fit_reason",
    "plug_fits",
    "power_connector",
    "power_connectors",
    "profile",
    "profiles",
    "resistance_ohm_per_m",
    "tube_row",
    "tubes",
    "tubes_between",
    "water_connector",
    "water_connectors",
]
