"""Properties of water against the iapws package (IAPWS-95, IAPWS-IF97) and printed tables."""

import pytest
from iapws import IAPWS95, IAPWS97

from cartlayout.water.properties import (
    air_pressure_pa,
    density_kg_m3,
    vapour_pressure_pa,
    viscosity_pa_s,
    water,
)

CELSIUS = (1, 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 95)


@pytest.mark.parametrize("celsius", CELSIUS)
def test_density_and_viscosity_agree_with_iapws_95(celsius):
    reference = IAPWS95(T=celsius + 273.15, P=0.101325)
    assert density_kg_m3(celsius + 273.15) == pytest.approx(reference.rho, rel=3e-5)
    # SR6-08 is a fit to the full viscosity formulation, stated to stay within its uncertainty.
    assert viscosity_pa_s(celsius + 273.15) == pytest.approx(reference.mu, rel=5e-4)


@pytest.mark.parametrize("celsius", [*CELSIUS, 99.9])
def test_vapour_pressure_agrees_with_iapws_if97(celsius):
    reference = IAPWS97(T=celsius + 273.15, x=0)
    assert vapour_pressure_pa(celsius + 273.15) == pytest.approx(reference.P * 1e6, rel=3e-4)


def test_outside_the_liquid_range_the_nearer_end_counts():
    assert density_kg_m3(200.0) == density_kg_m3(273.15)
    assert viscosity_pa_s(500.0) == viscosity_pa_s(373.15)
    assert vapour_pressure_pa(500.0) == vapour_pressure_pa(373.15)


@pytest.mark.parametrize(
    ("altitude_m", "kpa"),
    # Altitude table of a water and wastewater engineering handbook, p. 3-23.
    [(0, 101.3), (500, 95.46), (1000, 89.88), (1500, 84.56), (2000, 79.50), (3000, 70.12)],
)
def test_air_grows_thin_as_tabled(altitude_m, kpa):
    assert air_pressure_pa(altitude_m) == pytest.approx(kpa * 1e3, rel=5e-4)


def test_a_metre_of_water_is_a_tenth_of_a_bar():
    # 1 m of water at 4 degC is 9806.38 Pa (conventional, ISO 80000-4 note on mmH2O: 9.80665 Pa).
    assert water(277.13).head_pa(1.0) == pytest.approx(9806.4, rel=1e-4)
