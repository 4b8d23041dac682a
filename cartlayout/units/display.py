"""SI numbers shown in the person's units, with as many decimals as are worth reading."""

import enum
import math
from functools import cache

from .registry import conversion, registry


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
    "leakage": ("ampere", ("milliampere", "mA", 1), ("milliampere", "mA", 1)),
    "voltage": ("volt", ("V", "V", 1), ("V", "V", 1)),
    "power": ("watt", ("W", "W", 0), ("W", "W", 0)),
    "energy": ("joule", ("Wh", "Wh", 0), ("Wh", "Wh", 0)),
    "temperature": ("kelvin", ("degF", "°F", 0), ("degC", "°C", 0)),
    "duration": ("second", ("hour", "h", 1), ("hour", "h", 1)),
    "concentration": ("kilogram/meter**3", ("mg/L", "mg/L", 0), ("mg/L", "mg/L", 0)),
    "small volume": ("meter**3", ("milliliter", "mL", 1), ("milliliter", "mL", 1)),
    "seconds": ("second", ("second", "s", 1), ("second", "s", 1)),
    "short time": ("second", ("ms", "ms", 0), ("ms", "ms", 0)),
    "minutes": ("second", ("minute", "min", 1), ("minute", "min", 1)),
    "velocity": ("meter/second", ("ft/s", "ft/s", 1), ("m/s", "m/s", 2)),
    "conductor size": ("meter**2", ("mm2", "mm²", 2), ("mm2", "mm²", 2)),
    "angle": ("degree", ("degree", "°", 0), ("degree", "°", 0)),
    "share": ("dimensionless", ("percent", "%", 0), ("percent", "%", 0)),
    "percent": ("dimensionless", ("percent", "%", 1), ("percent", "%", 1)),
    "number": ("dimensionless", ("dimensionless", "", 2), ("dimensionless", "", 2)),
    "count": ("dimensionless", ("dimensionless", "", 0), ("dimensionless", "", 0)),
    "resistance": ("ohm", ("ohm", "ohm", 3), ("ohm", "ohm", 3)),
    "resistance by length": (
        "ohm/meter",
        ("ohm/foot", "ohm/ft", 5),
        ("ohm/meter", "ohm/m", 5),
    ),
    "by metre": ("1/meter", ("1/foot", "1/ft", 7), ("1/meter", "1/m", 6)),
    "by kelvin": ("1/kelvin", ("1/delta_degF", "1/°F", 4), ("1/kelvin", "1/K", 4)),
    "burn": ("meter**3/second", ("gal/hour", "gal/h", 2), ("L/hour", "L/h", 2)),
    "conductance": ("siemens", ("siemens", "S", 4), ("siemens", "S", 4)),
    "moment of mass": (
        "kilogram*meter",
        ("pound*inch", "lb·in", 0),
        ("kilogram*meter", "kg·m", 1),
    ),
    "factor": ("dimensionless", ("dimensionless", "", 4), ("dimensionless", "", 4)),
    "manning": (
        "second*meter**-0.3333333333333333",
        ("second*meter**-0.3333333333333333", "s/m^⅓", 3),
        ("second*meter**-0.3333333333333333", "s/m^⅓", 3),
    ),
    "density": ("kilogram/meter**3", ("lb/ft**3", "lb/ft³", 2), ("kg/m**3", "kg/m³", 1)),
    "viscosity": ("pascal*second", ("mPa*s", "mPa·s", 3), ("mPa*s", "mPa·s", 3)),
    "gravity": ("meter/second**2", ("ft/s**2", "ft/s²", 2), ("m/s**2", "m/s²", 2)),
    "roughness": ("meter", ("thou", "mil", 3), ("micrometer", "µm", 2)),
    "bore": ("meter", ("in", "in", 3), ("mm", "mm", 2)),
    "tape": ("meter", ("in", "in", 4), ("mm", "mm", 0)),
    "height": ("meter", ("in", "in", 2), ("mm", "mm", 0)),
    "bore area": ("meter**2", ("in**2", "in²", 4), ("mm**2", "mm²", 2)),
    "slope of loss": (
        "pascal*second/meter**3",
        ("psi/(gal/min)", "psi/(gal/min)", 3),
        ("bar/(L/min)", "bar/(L/min)", 4),
    ),
    "square of loss": (
        "pascal*second**2/meter**6",
        ("psi*min**2/gal**2", "psi/(gal/min)²", 3),
        ("bar*min**2/liter**2", "bar/(L/min)²", 5),
    ),
    "opening": (
        "meter**3/second/pascal**0.5",
        ("gal/min/psi**0.5", "gal/min/√psi", 3),
        ("L/min/bar**0.5", "L/min/√bar", 3),
    ),
    "pressure gradient": ("pascal/meter", ("psi/ft", "psi/ft", 3), ("bar/m", "bar/m", 4)),
    "modulus": ("pascal", ("ksi", "ksi", 1), ("MPa", "MPa", 0)),
    "give": ("meter**3/pascal", ("fluid_ounce/psi", "fl oz/psi", 4), ("mL/bar", "mL/bar", 3)),
    "pressure for a time": ("pascal*second", ("psi*s", "psi·s", 3), ("bar*s", "bar·s", 4)),
    "length over area": ("1/meter", ("1/inch", "1/in", 0), ("1/mm", "1/mm", 1)),
    "starts an hour": ("1/second", ("1/hour", "an hour", 0), ("1/hour", "an hour", 0)),
    "specific heat": (
        "joule/kilogram/kelvin",
        ("J/kg/K", "J/(kg·K)", 0),
        ("J/kg/K", "J/(kg·K)", 0),
    ),
    "warming": ("kelvin", ("delta_degF", "°F", 1), ("delta_degC", "°C", 1)),
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


def dimension_factor(dimension: str, system: UnitSystem) -> tuple[float, float]:
    """(factor, offset) of the person's unit: si = number * factor + offset."""
    return _shown(dimension, system)[:2]


@cache
def si_label(dimension: str) -> str:
    """The SI unit that numbers of a dimension are in, as printed: 'm³/s', 'Pa'."""
    unit = _SHOWN[dimension][0]
    return "°" if unit == "degree" else f"{registry().Unit(unit):~P}"


def number_shown(si: float, dimension: str, system: UnitSystem) -> float:
    """The number in the unit it is shown in, unrounded: for files of numbers."""
    factor, offset, _, _ = _shown(dimension, system)
    return (si - offset) / factor


def show_plain(
    si: float,
    dimension: str,
    system: UnitSystem,
    decimals: int | None = None,
    beside: float | None = None,
) -> str:
    """Number without its unit, such as '13.8'.

    Args:
        si: the number in SI.
        dimension: a key of the display table.
        system: whose units.
        decimals: None: as many as are usual for the dimension.
        beside: another number in SI that is read against this one. Where the two would
            read alike and are not, decimals are added until they differ.
    """
    if is_tape(dimension, system) and decimals is None:
        return _on_tape(si)
    factor, offset, _, usual = _shown(dimension, system)
    places = usual if decimals is None else decimals
    number = (si - offset) / factor
    if beside is not None and beside != si:
        places = _places_apart(number, (beside - offset) / factor, places)
    return _text(number, places)


TAPE_INCH = 16
"""Parts of an inch that a tape measure is read to in a shop (common practice, no source)."""


def is_tape(dimension: str, system: UnitSystem) -> bool:
    """Whether a length is shown as it is read on a tape in inches: "12 1/4"."""
    return dimension == "tape" and system is UnitSystem.US


def tape_inches(si: float) -> float:
    """Metres to inches, to the nearest mark of the tape; halves go up."""
    return math.floor(si / _INCH_M * TAPE_INCH + 0.5 + 1e-9) / TAPE_INCH


_INCH_M = 0.0254
"""International yard and pound agreement of 1959."""


def _on_tape(si: float) -> str:
    if not math.isfinite(si):
        return _text(si / _INCH_M, 0)
    inches = tape_inches(abs(si))
    whole, part = divmod(inches, 1.0)
    sign = "-" if si < 0.0 and inches else ""
    if not part:
        return f"{sign}{whole:,.0f}"
    over, under = part.as_integer_ratio()
    return f"{sign}{whole:,.0f} {over}/{under}" if whole else f"{sign}{over}/{under}"


def _text(number: float, places: int) -> str:
    text = f"{number:,.{places}f}"
    return text[1:] if text.startswith("-") and float(text.replace(",", "")) == 0 else text


_MOST_ADDED = 3


def _places_apart(number: float, other: float, usual: int) -> int:
    """Decimals at which a number reads unlike another; a round one keeps the usual ones.

    Two that are alike to three decimals more than usual differ by how they were
    computed only.
    """
    for places in range(usual, usual + _MOST_ADDED + 1):
        text = _text(number, places)
        if text != _text(other, places):
            shown = _text(number, usual).replace(",", "")
            return usual if float(shown) == float(text.replace(",", "")) else places
    return usual


def show(
    si: float,
    dimension: str,
    system: UnitSystem,
    decimals: int | None = None,
    beside: float | None = None,
) -> str:
    """Number with its unit, such as '13.8 A' or '19°'. Arguments: as of `show_plain`."""
    label = _shown(dimension, system)[2]
    gap = "" if label in ("°", "") else " "
    return f"{show_plain(si, dimension, system, decimals, beside)}{gap}{label}"


def show_pair(
    si: float, limit: float, dimension: str, system: UnitSystem, apart: bool = True
) -> str:
    """Two numbers that share a unit, such as '13.8 of 20.0 A'.

    Unlike ones read unlike, unless `apart` is off: of what holds, a hair more says nothing.
    """
    number = show_plain(si, dimension, system, beside=limit if apart else None)
    return f"{number} of {show(limit, dimension, system, beside=si if apart else None)}"


def capitalised(text: str) -> str:
    """The same with a capital at the beginning; what follows stays as it is."""
    return f"{text[:1].upper()}{text[1:]}"


def counted(count: int, word: str) -> str:
    """A number of things, such as '1 circuit' or '3 circuits'."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
