"""SI numbers shown in the person's units, with as many decimals as are worth reading."""

import enum
from functools import cache

from .registry import conversion


class UnitSystem(enum.Enum):
    """Which units a person reads."""

    US = "US"
    METRIC = "metric"


# dimension -> (SI unit for pint, US unit, decimals, metric unit, decimals)
_SHOWN: dict[str, tuple[str, tuple[str, str, int], tuple[str, str, int]]] = {
    "length": ("meter", ("in", "in", 1), ("mm", "mm", 0)),
    "area": ("meter**2", ("in**2", "in²", 0), ("cm**2", "cm²", 0)),
    "distance": ("meter", ("ft", "ft", 1), ("m", "m", 1)),
    "mass": ("kilogram", ("lb", "lb", 0), ("kg", "kg", 0)),
    "force": ("newton", ("lbf", "lbf", 0), ("N", "N", 0)),
    "pressure": ("pascal", ("psi", "psi", 1), ("bar", "bar", 2)),
    "flow": ("meter**3/second", ("gal/min", "gal/min", 2), ("L/min", "L/min", 1)),
    "volume": ("meter**3", ("gal", "gal", 1), ("L", "L", 1)),
    "current": ("ampere", ("A", "A", 1), ("A", "A", 1)),
    "voltage": ("volt", ("V", "V", 1), ("V", "V", 1)),
    "power": ("watt", ("W", "W", 0), ("W", "W", 0)),
    "energy": ("joule", ("Wh", "Wh", 0), ("Wh", "Wh", 0)),
    "temperature": ("kelvin", ("degF", "°F", 0), ("degC", "°C", 0)),
    "duration": ("second", ("hour", "h", 1), ("hour", "h", 1)),
    "velocity": ("meter/second", ("ft/s", "ft/s", 1), ("m/s", "m/s", 2)),
    "conductor size": ("meter**2", ("mm2", "mm²", 2), ("mm2", "mm²", 2)),
    "angle": ("degree", ("degree", "°", 0), ("degree", "°", 0)),
    "share": ("dimensionless", ("percent", "%", 0), ("percent", "%", 0)),
    "percent": ("dimensionless", ("percent", "%", 1), ("percent", "%", 1)),
    "number": ("dimensionless", ("dimensionless", "", 2), ("dimensionless", "", 2)),
    "count": ("dimensionless", ("dimensionless", "", 0), ("dimensionless", "", 0)),
    "resistance": ("ohm", ("ohm", "ohm", 3), ("ohm", "ohm", 3)),
}


@cache
def _shown(dimension: str, system: UnitSystem) -> tuple[float, float, str, int]:
    si_unit, us, metric = _SHOWN[dimension]
    unit, label, decimals = us if system is UnitSystem.US else metric
    factor, offset = conversion(unit, si_unit)
    return factor, offset, label, decimals


def unit_for(dimension: str, system: UnitSystem) -> str:
    """Unit text that a field of this dimension writes, parseable again."""
    _, us, metric = _SHOWN[dimension]
    return (us if system is UnitSystem.US else metric)[0]


def unit_label(dimension: str, system: UnitSystem) -> str:
    """Unit as printed beside a number, such as '°C'."""
    return _shown(dimension, system)[2]


def show_plain(si: float, dimension: str, system: UnitSystem, decimals: int | None = None) -> str:
    """Number without its unit, such as '13.8'."""
    factor, offset, _, usual = _shown(dimension, system)
    number = f"{(si - offset) / factor:,.{usual if decimals is None else decimals}f}"
    return number[1:] if number.startswith("-") and float(number.replace(",", "")) == 0 else number


def show(si: float, dimension: str, system: UnitSystem, decimals: int | None = None) -> str:
    """Number with its unit, such as '13.8 A' or '19°'."""
    label = _shown(dimension, system)[2]
    gap = "" if label in ("°", "") else " "
    return f"{show_plain(si, dimension, system, decimals)}{gap}{label}"


def show_pair(si: float, limit: float, dimension: str, system: UnitSystem) -> str:
    """Two numbers that share a unit, such as '13.8 of 20.0 A'."""
    return f"{show_plain(si, dimension, system)} of {show(limit, dimension, system)}"


def counted(count: int, word: str) -> str:
    """A number of things, such as '1 circuit' or '3 circuits'."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
