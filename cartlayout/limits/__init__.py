"""Limits and tables of the trade, each row with its source: data, read once, never literals.

Tables are read at first use and kept. A table that cannot be used raises
`LimitsError` with the file and the place in it.
"""

from .body_practice import BodyPractice, CasterRule, body_practice
from .conductors import ConductorResistance, conductor_resistance, resistance_ohm_per_m
from .cords import CordRating, ampacity
from .drain_practice import DrainPractice, drain_practice
from .end_fittings import EndFitting, end_fitting, tubes_between
from .extensions import (
    ExtensionRating,
    LengthAdvice,
    ReelRule,
    StripRule,
    advised_cord,
    extension_rating,
    reel_rules,
    strip_rule,
)
from .fittings import FittingLoss, fitting_loss, fittings, loss_coefficient
from .materials import MaterialRow, material, materials
from .power_connectors import (
    PowerConnector,
    plug_fit_reason,
    plug_fits,
    power_connector,
    power_connectors,
)
from .profiles import (
    BranchConductor,
    DefaultConnector,
    DrainSlope,
    Profile,
    ReceptacleForCircuit,
    ReceptacleLoad,
    Setting,
    UnknownBreaker,
    profile,
    profiles,
)
from .rows import LimitsError, Sourced, Status
from .tubes import TubeRow, tube_row, tubes
from .water_connectors import WaterConnector, water_connector, water_connectors

__all__ = [
    "BodyPractice",
    "BranchConductor",
    "CasterRule",
    "ConductorResistance",
    "CordRating",
    "DefaultConnector",
    "DrainPractice",
    "DrainSlope",
    "EndFitting",
    "ExtensionRating",
    "FittingLoss",
    "LengthAdvice",
    "LimitsError",
    "MaterialRow",
    "PowerConnector",
    "Profile",
    "ReceptacleForCircuit",
    "ReceptacleLoad",
    "ReelRule",
    "Setting",
    "Sourced",
    "Status",
    "StripRule",
    "TubeRow",
    "UnknownBreaker",
    "WaterConnector",
    "advised_cord",
    "ampacity",
    "body_practice",
    "conductor_resistance",
    "drain_practice",
    "end_fitting",
    "extension_rating",
    "fitting_loss",
    "fittings",
    "loss_coefficient",
    "material",
    "materials",
    "plug_fit_reason",
    "plug_fits",
    "power_connector",
    "power_connectors",
    "profile",
    "profiles",
    "reel_rules",
    "resistance_ohm_per_m",
    "strip_rule",
    "tube_row",
    "tubes",
    "tubes_between",
    "water_connector",
    "water_connectors",
]
