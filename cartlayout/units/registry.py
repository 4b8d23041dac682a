"""The one pint registry, and unit texts turned into factors once.

pint costs microseconds an operation, so it is asked once for each unit text;
what solvers and paint code see are plain SI floats.
"""

import re
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

# How people write units, where pint reads the text differently or not at all.
_SPELLINGS = {
    '"': "inch",
    "''": "inch",
    "”": "inch",
    "″": "inch",
    "in.": "inch",
    "'": "foot",
    "’": "foot",
    "′": "foot",
    "ft.": "foot",
    "gpm": "gallon/minute",
    "gph": "gallon/hour",
    "lpm": "liter/minute",
    "lbs": "pound",
    "lb": "pound",
    "fl oz": "fluid_ounce",
    "floz": "fluid_ounce",
    "mm²": "millimeter**2",
    "mm2": "millimeter**2",
    "sqmm": "millimeter**2",
    "m3/h": "meter**3/hour",
    "m³/h": "meter**3/hour",
    "°c": "degC",
    "c": "degC",
    "°f": "degF",
    "f": "degF",
    "w": "watt",
    "kw": "kilowatt",
    "a": "ampere",
    "amp": "ampere",
    "amps": "ampere",
    "v": "volt",
    "wh": "watt_hour",
    "kwh": "kilowatt_hour",
    "va": "watt",
    "hr": "hour",
    "hrs": "hour",
    "h": "hour",
    "min": "minute",
    "mins": "minute",
    "sec": "second",
    "secs": "second",
    "l": "liter",
    "gal": "gallon",
    "kpa": "kilopascal",
    "mbar": "millibar",
    "psi": "psi",
    "psig": "psi",
    "ppm": "milligram/liter",
    "mg/l": "milligram/liter",
    "gpg": "grain/gallon",
    "gr/gal": "grain/gallon",
    "°dh": "german_degree",
    "dh": "german_degree",
    "dkh": "german_degree",
    "°dkh": "german_degree",
    "ms": "millisecond",
}


class UnknownUnitError(ValueError):
    """A unit text that means nothing, or not what is asked for."""


@cache
def registry() -> "pint.UnitRegistry[float]":
    """Return the registry; made at first use because making it takes a while."""
    import pint

    made: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    # 10 mg of calcium oxide in a litre, told as calcium carbonate.
    made.define("german_degree = 17.848 * milligram / liter")
    return made


@cache
def conversion(unit: str, si_unit: str) -> tuple[float, float]:
    """Return (factor, offset) so that si = value * factor + offset.

    Args:
        unit: text as a person writes it, such as "in" or "gal/min".
        si_unit: pint text of the SI unit wanted, such as "meter".

    Raises:
        UnknownUnitError: the text is no unit, or of another dimension.
    """
    ureg = registry()
    text = _normal(unit)
    try:
        at_zero = ureg.Quantity(0.0, text).to(si_unit).magnitude
        at_one = ureg.Quantity(1.0, text).to(si_unit).magnitude
    except Exception as error:
        # pint hands the text to Python's tokenizer and parser, so that anything from a
        # TokenError to an AssertionError comes back for a text that is no unit.
        raise UnknownUnitError(unit) from error
    return float(at_one - at_zero), float(at_zero)


def _normal(unit: str) -> str:
    unit = unit.strip()
    known = _SPELLINGS.get(unit.lower())
    if known is not None:
        return known
    if "/" in unit:
        return "/".join(f"({_normal(part)})" for part in unit.split("/"))
    return re.sub(r"\s+", " ", unit)
