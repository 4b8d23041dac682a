"""Quantities as values: an SI number and the text its author wrote.

A quantity is always made from a text, so that what is shown, what is in the
file and what is computed can never drift apart: `Length("14.5 in")` is
0.3683 m and goes back to the file as "14.5 in".
"""

import math
import re
from functools import lru_cache
from typing import Any, ClassVar, Self

from .registry import UnknownUnitError, conversion

_PART = re.compile(
    r"\s*(?P<number>"
    r"[+-]?\d+[\s-]+\d+\s*/\s*\d+"  # 14 1/2, 14-1/2
    r"|[+-]?\d+\s*/\s*\d+"  # 1/2
    r"|[+-]?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?(?:[eE][+-]?\d+)?"  # 1,650 or 3.5
    r"|[+-]?\.\d+(?:[eE][+-]?\d+)?"  # .5
    r")\s*(?P<unit>[\'\"”″’′]{1,2}|fl oz|°?[^\W\d][^\s\'\"]*(?:\s*/\s*[^\W\d]\w*)?)?\s*"
)
_LARGEST = 1e15


class QuantityError(ValueError):
    """A text that is no quantity of the kind asked for; the message says what to try."""


class Quantity:
    """A number with a unit, kept as SI and as the text it was written in.

    Subclasses fix the dimension. Equal means the same kind and the same text,
    because two builds that would be written differently are different builds.
    """

    __slots__ = ("si", "text")
    name: ClassVar[str] = "quantity"
    si_unit: ClassVar[str] = "dimensionless"
    default_unit: ClassVar[str] = ""
    example: ClassVar[str] = ""
    compound: ClassVar[bool] = False

    si: float
    text: str

    def __init__(self, text: str) -> None:
        object.__setattr__(self, "text", text)
        # mypy takes a class with its own __hash__ for unhashable as an argument.
        object.__setattr__(self, "si", _parse(type(self), text))  # type: ignore[arg-type]

    def __setattr__(self, key: str, value: object) -> None:
        raise AttributeError("quantities are values and cannot be changed")

    @classmethod
    def from_si(cls, si: float, unit: str | None = None, digits: int = 4) -> Self:
        """Write an SI number in a unit, rounded to so many decimals of that unit.

        The result's `si` is that of the rounded text, so it survives a file.
        """
        unit = unit or cls.default_unit
        factor, offset = conversion(unit, cls.si_unit)
        number = f"{round((si - offset) / factor, digits):.{digits}f}"
        number = number.rstrip("0").rstrip(".") if "." in number else number
        return cls(f"{'0' if number in ('-0', '') else number} {unit}")

    @property
    def unit(self) -> str:
        """The unit text as authored (the last one of '5 ft 4 in')."""
        units = [found["unit"] for found in _PART.finditer(self.text) if found["unit"]]
        return units[-1].strip() if units else self.default_unit

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other.text == self.text

    def __hash__(self) -> int:
        return hash((type(self), self.text))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.text!r})"

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (self.text,))

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: object) -> Self:
        return self


class Length(Quantity):
    """Metres."""

    __slots__ = ()
    name, si_unit, default_unit, example = "length", "meter", "mm", "12 in"
    compound = True


class Mass(Quantity):
    """Kilograms."""

    __slots__ = ()
    name, si_unit, default_unit, example = "mass", "kilogram", "kg", "18 kg"


class Pressure(Quantity):
    """Pascals, gauge."""

    __slots__ = ()
    name, si_unit, default_unit, example = "pressure", "pascal", "bar", "2.8 bar"


class Flow(Quantity):
    """Cubic metres a second."""

    __slots__ = ()
    name, si_unit, default_unit, example = "flow", "meter**3/second", "L/min", "1.2 gal/min"


class Volume(Quantity):
    """Cubic metres."""

    __slots__ = ()
    name, si_unit, default_unit, example = "volume", "meter**3", "L", "5 gal"


class Current(Quantity):
    """Amperes."""

    __slots__ = ()
    name, si_unit, default_unit, example = "current", "ampere", "A", "13.8 A"


class Voltage(Quantity):
    """Volts."""

    __slots__ = ()
    name, si_unit, default_unit, example = "voltage", "volt", "V", "120 V"


class Power(Quantity):
    """Watts."""

    __slots__ = ()
    name, si_unit, default_unit, example = "power", "watt", "W", "1650 W"


class Energy(Quantity):
    """Joules."""

    __slots__ = ()
    name, si_unit, default_unit, example = "energy", "joule", "Wh", "1200 Wh"


class Temperature(Quantity):
    """Kelvin."""

    __slots__ = ()
    name, si_unit, default_unit, example = "temperature", "kelvin", "degC", "20 degC"


class Concentration(Quantity):
    """Kilograms dissolved in a cubic metre; hardness is told as calcium carbonate.

    Grains a gallon and German degrees are units of hardness.
    """

    __slots__ = ()
    name, si_unit, default_unit = "concentration", "kilogram/meter**3", "mg/L"
    example = "120 mg/L"


class Duration(Quantity):
    """Seconds."""

    __slots__ = ()
    name, si_unit, default_unit, example = "duration", "second", "h", "4 h"


class ConductorSize(Quantity):
    """Square metres of copper; written as AWG or mm2.

    AWG follows the geometric definition of ASTM B258: the diameter is
    0.005 in times 92 to the power (36 - n)/39.
    """

    __slots__ = ()
    name, si_unit, default_unit, example = "conductor size", "meter**2", "mm2", "12 AWG"

    @property
    def awg(self) -> int | None:
        """The gauge number if the size was written in AWG."""
        found = _AWG.fullmatch(self.text.strip())
        return int(found["gauge"]) if found else None


_AWG = re.compile(r"(?:#\s*)?(?P<gauge>\d{1,2})\s*(?:AWG|ga|gauge)\.?", re.IGNORECASE)


def _refuse(kind: type[Quantity], text: str) -> QuantityError:
    return QuantityError(f"'{text}' is no {kind.name}; try '{kind.example}'")


@lru_cache(maxsize=4096)
def _parse(kind: type[Quantity], text: str) -> float:
    """Return the SI number of a text."""
    if not isinstance(text, str):
        raise QuantityError(
            f"{text!r} is no {kind.name}; write it as text with its unit, such as '{kind.example}'"
        )
    if kind is ConductorSize and (gauge := _AWG.fullmatch(text.strip())):
        diameter_m = 0.005 * 0.0254 * 92 ** ((36 - int(gauge["gauge"])) / 39)
        return float(math.pi / 4 * diameter_m**2)
    parts = list(_parts(kind, text))
    if len(parts) > 1 and not kind.compound:
        raise _refuse(kind, text)
    total = 0.0
    sign = -1.0 if parts[0][0] < 0 else 1.0
    for number, unit in parts:
        try:
            factor, offset = conversion(unit, kind.si_unit)
        except UnknownUnitError:
            raise _refuse(kind, text) from None
        total += (number if len(parts) == 1 else sign * abs(number)) * factor + offset
    if not math.isfinite(total) or abs(total) > _LARGEST:
        raise QuantityError(f"'{text}' is too large for a {kind.name}; try '{kind.example}'")
    return total


def _parts(kind: type[Quantity], text: str) -> list[tuple[float, str]]:
    parts: list[tuple[float, str]] = []
    at = 0
    stripped = text.strip()
    while at < len(stripped):
        found = _PART.match(stripped, at)
        if found is None or not (found["unit"] or "").strip():
            raise _refuse(kind, text)
        try:
            parts.append((_number(found["number"]), found["unit"].strip()))
        except (ValueError, ZeroDivisionError):
            raise _refuse(kind, text) from None
        at = found.end()
    if not parts:
        raise _refuse(kind, text)
    return parts


def _number(text: str) -> float:
    text = text.strip().replace(",", "")
    if "/" not in text:
        return float(text)
    sign = -1.0 if text.startswith("-") else 1.0
    *whole, fraction = re.split(r"[\s-]+(?=\d+\s*/)", text.lstrip("+-"))
    over, under = fraction.split("/")
    return sign * (float(whole[0] if whole else 0) + float(over) / float(under))
