"""Water from the tap to the boil: density, viscosity, vapour pressure; and the air above it.

Formulations of the International Association for the Properties of Water and Steam:
viscosity after SR6-08(2011) eq. 7 (liquid at 0.1 MPa), vapour pressure after SR1-86(1992)
eq. 1. Density after Kell, J. Chem. Eng. Data 20 (1975) 97, which stays within 0.001 % of
IAPWS-95 at 0.1 MPa. The air follows the standard atmosphere (ISO 2533).
"""

import math
from dataclasses import dataclass
from functools import lru_cache

STANDARD_GRAVITY = 9.80665
"""m/s2"""
STANDARD_PRESSURE_PA = 101_325.0
"""Absolute, at sea level."""

_COLDEST_K = 273.15
_HOTTEST_K = 373.15
_CRITICAL_K = 647.096
_CRITICAL_PA = 22.064e6


def density_kg_m3(temperature_k: float) -> float:
    """Density of water [kg/m^3] at 0.1 MPa; outside 0 to 100 degC that of the nearer end."""
    t = _liquid(temperature_k) - 273.15
    over = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return over / (1.0 + 16.879850e-3 * t)


def viscosity_pa_s(temperature_k: float) -> float:
    """Dynamic viscosity of water [Pa*s] at 0.1 MPa; outside 0 to 100 degC that of the nearer end.

    Examples:
        >>> round(viscosity_pa_s(293.15) * 1e3, 4)
        1.0016
    """
    t = _liquid(temperature_k) / 300.0
    micro = 280.68 * t**-1.9 + 511.45 * t**-7.7 + 61.131 * t**-19.6 + 0.45903 * t**-40.0
    return float(1e-6 * micro)


def vapour_pressure_pa(temperature_k: float) -> float:
    """Pressure [Pa, absolute] at which water boils; outside 0 to 100 degC that of the nearer end.

    Examples:
        >>> round(vapour_pressure_pa(373.15))
        101418
    """
    kelvin = _liquid(temperature_k)
    x = 1.0 - kelvin / _CRITICAL_K
    series = (
        -7.85951783 * x
        + 1.84408259 * x**1.5
        - 11.7866497 * x**3
        + 22.6807411 * x**3.5
        - 15.9618719 * x**4
        + 1.80122502 * x**7.5
    )
    return _CRITICAL_PA * math.exp(_CRITICAL_K / kelvin * series)


def air_pressure_pa(altitude_m: float) -> float:
    """Pressure of the air [Pa, absolute]; standard atmosphere up to 11 km."""
    share = 1.0 - 0.0065 * min(altitude_m, 11_000.0) / 288.15
    return float(STANDARD_PRESSURE_PA * share**5.25588)


def _liquid(temperature_k: float) -> float:
    return min(max(temperature_k, _COLDEST_K), _HOTTEST_K)


@dataclass(frozen=True, slots=True)
class Fluid:
    """Water at one temperature under one sky."""

    density_kg_m3: float
    viscosity_pa_s: float
    """Dynamic."""
    vapour_pa: float
    """Absolute."""
    air_pa: float
    """Absolute."""

    @property
    def lowest_gauge_pa(self) -> float:
        """Gauge pressure at which it boils: no line can be below that."""
        return self.vapour_pa - self.air_pa

    def head_pa(self, height_m: float) -> float:
        """Pressure of so high a column."""
        return self.density_kg_m3 * STANDARD_GRAVITY * height_m


@lru_cache(maxsize=64)
def water(temperature_k: float = 293.15, altitude_m: float = 0.0) -> Fluid:
    """Water at a temperature [K], at an altitude [m]."""
    return Fluid(
        density_kg_m3(temperature_k),
        viscosity_pa_s(temperature_k),
        vapour_pressure_pa(temperature_k),
        air_pressure_pa(altitude_m),
    )
