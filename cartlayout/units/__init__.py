"""Quantities with a unit: read from text, kept in SI, shown in the person's units."""

from .display import UnitSystem, capitalised, counted, show, show_pair, show_plain
from .phrase import Phrase, Value, beside
from .quantities import (
    Concentration,
    ConductorSize,
    Current,
    Duration,
    Energy,
    Flow,
    Length,
    Mass,
    Power,
    Pressure,
    Quantity,
    QuantityError,
    Temperature,
    Voltage,
    Volume,
)

__all__ = [
    "Concentration",
    "ConductorSize",
    "Current",
    "Duration",
    "Energy",
    "Flow",
    "Length",
    "Mass",
    "Phrase",
    "Power",
    "Pressure",
    "Quantity",
    "QuantityError",
    "Temperature",
    "UnitSystem",
    "Value",
    "Voltage",
    "Volume",
    "beside",
    "capitalised",
    "counted",
    "show",
    "show_pair",
    "show_plain",
]
