"""Conductor resistance against published tables and worked examples."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.limits import conductor_resistance, resistance_ohm_per_m
from cartlayout.units import ConductorSize

M_PER_FT = 0.3048


def _per_kft(gauge: int, temperature_c: float | None = None, wiring: str = "fixed") -> float:
    ohm_per_m = resistance_ohm_per_m(ConductorSize(f"{gauge} AWG"), temperature_c, wiring)
    return ohm_per_m * 1000 * M_PER_FT


@pytest.mark.parametrize(
    ("gauge", "ohm_per_kft"),
    # NFPA 70 (NEC) Chapter 9 Table 8, stranded uncoated copper, 75 degC. Several pages print the
    # solid column (3.07, 1.93, 1.21, 0.764) as stranded.
    [
        (18, 7.95),
        (16, 4.99),
        (14, 3.14),
        (12, 1.98),
        (10, 1.24),
        (8, 0.778),
        (6, 0.491),
        (4, 0.308),
        (3, 0.245),
        (2, 0.194),
    ],
)
def test_fixed_wires_as_in_the_nec(gauge: int, ohm_per_kft: float) -> None:
    assert _per_kft(gauge) == pytest.approx(ohm_per_kft, rel=1e-6)
    assert conductor_resistance(ConductorSize(f"{gauge} AWG"), None, "fixed").temperature_c == 75


@pytest.mark.parametrize(
    ("gauge", "ohm_per_kft"),
    # Published wire resistance table at 20 degC: 12 AWG 1.588. The others of it from memory.
    [(12, 1.588), (18, 6.385), (16, 4.016), (14, 2.525), (10, 0.9989)],
)
def test_cords_as_in_the_wire_table_at_20_degrees(gauge: int, ohm_per_kft: float) -> None:
    found = conductor_resistance(ConductorSize(f"{gauge} AWG"))
    assert found.ohm_per_m * 1000 * M_PER_FT == pytest.approx(ohm_per_kft, rel=1e-3)
    assert found.temperature_c == 20


@pytest.mark.parametrize(
    ("gauge", "solid_ohm_per_kft"),
    # NEC Chapter 9 Table 8, solid uncoated copper at 75 degC: the same metal, warmed.
    [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93), (10, 1.21), (8, 0.764)],
)
def test_a_warm_cord_agrees_with_the_nec_s_solid_column(
    gauge: int, solid_ohm_per_kft: float
) -> None:
    assert _per_kft(gauge, 75, "cord") == pytest.approx(solid_ohm_per_kft, rel=5e-3)


@pytest.mark.parametrize(
    ("size", "ohm_per_km"),
    # IEC 60228 class 5, plain copper, largest at 20 degC.
    [
        ("0.75 mm2", 26.0),
        ("1 mm2", 19.5),
        ("1.5 mm2", 13.3),
        ("2.5 mm2", 7.98),
        ("4 mm2", 4.95),
        ("6 mm2", 3.30),
        ("10 mm2", 1.91),
    ],
)
def test_metric_cords(size: str, ohm_per_km: float) -> None:
    assert resistance_ohm_per_m(ConductorSize(size)) * 1000 == pytest.approx(ohm_per_km)


@pytest.mark.parametrize(
    ("size", "ohm_per_km"),
    # IEC 60228 class 1 and 2, plain copper, largest at 20 degC.
    [("1 mm2", 18.1), ("1.5 mm2", 12.1), ("2.5 mm2", 7.41), ("4 mm2", 4.61), ("6 mm2", 3.08)],
)
def test_metric_fixed_wires(size: str, ohm_per_km: float) -> None:
    cold = conductor_resistance(ConductorSize(size), 20, "fixed")
    assert cold.ohm_per_m * 1000 == pytest.approx(ohm_per_km)


@pytest.mark.parametrize(
    ("temperature_c", "factor"),
    # IEC 60228 temperature factors, R20 = R(T) Kt.
    [(30, 0.962), (60, 0.862), (70, 0.833), (75, 0.820)],
)
def test_metric_temperature_factors(temperature_c: float, factor: float) -> None:
    size = ConductorSize("1.5 mm2")
    warm = resistance_ohm_per_m(size, temperature_c)
    assert resistance_ohm_per_m(size) / warm == pytest.approx(factor, abs=5e-4)


def test_the_nec_s_temperature_correction() -> None:
    """Copper from 75 to 20 degC: (234.5 + 20) / (234.5 + 75), the inferred-zero form."""
    assert _per_kft(12, 20) / _per_kft(12) == pytest.approx(254.5 / 309.5, rel=2e-3)


def test_the_thin_extension_cord_of_the_heater() -> None:
    """A 1000 W, 120 V heater on 100 ft of 16 AWG: 0.80 ohm out and back, 113.7 V, 897 W, 5.3 %."""
    cord_ohm = 200 * M_PER_FT * resistance_ohm_per_m(ConductorSize("16 AWG"))
    assert cord_ohm == pytest.approx(0.80, abs=0.005)
    heater_ohm = 14.4  # 120 V squared over 1000 W
    amps = 120 / (heater_ohm + cord_ohm)
    assert amps * heater_ohm == pytest.approx(113.7, abs=0.1)
    assert amps**2 * heater_ohm == pytest.approx(897, abs=1)
    assert amps * cord_ohm / 120 == pytest.approx(0.053, abs=5e-4)


@pytest.mark.parametrize(
    ("gauge", "amps", "one_way_ft", "volts", "drop_v", "drop_percent"),
    [
        # Electronics lecture page: 16 AWG, 4 A over 100 ft at 24 V: 4.0 V, 16.7 %.
        (16, 4, 100, 24, 4.0, 16.7),
        # Voltage-drop article with Table 8: 12 AWG, 20 A over 100 ft at 120 V: 7.92 V, 6.6 %.
        (12, 20, 100, 120, 7.92, 6.6),
        # Trade-licence course, K = 12.9: the same 7.9 V; 8 AWG 3.1 V, 2.6 %.
        (12, 20, 100, 120, 7.9, 6.6),
        (8, 20, 100, 120, 3.1, 2.6),
        # Forum answer with R = 2.0: 12 AWG, 16 A over 100 ft at 120 V: 5.33 %.
        (12, 16, 100, 120, 6.4, 5.33),
    ],
)
def test_published_drops_in_fixed_wires(
    gauge: int, amps: float, one_way_ft: float, volts: float, drop_v: float, drop_percent: float
) -> None:
    found_v = amps * 2 * one_way_ft * _per_kft(gauge) / 1000
    assert found_v == pytest.approx(drop_v, rel=0.012)
    assert 100 * found_v / volts == pytest.approx(drop_percent, rel=0.012)


def test_voltage_drop_pages_that_are_wrong() -> None:
    """One page gives "6 %+" for 16 A, 100 ft, 12 AWG at 120 V; Table 8 gives 5.28 %."""
    assert 16 * 2 * 100 * _per_kft(12) / 1000 / 120 == pytest.approx(0.0528, abs=5e-5)


@pytest.mark.parametrize(
    ("size", "drop_v"),
    # Worked by hand from IEC 60228 class 5: 13 A through 10 m at 20 degC.
    [("1 mm2", 5.07), ("1.5 mm2", 3.46), ("2.5 mm2", 2.07)],
)
def test_metric_cord_drop(size: str, drop_v: float) -> None:
    assert 13 * 20 * resistance_ohm_per_m(ConductorSize(size)) == pytest.approx(drop_v, abs=6e-3)


def test_k_of_copper() -> None:
    """Trade handbooks use K = 12.9 ohm circular mil per foot for warm stranded copper."""
    for gauge, circular_mils in ((14, 4110), (12, 6530), (10, 10380)):
        assert _per_kft(gauge) / 1000 * circular_mils == pytest.approx(12.9, abs=0.05)


def test_a_size_between_rows_is_scaled_and_says_so() -> None:
    found = conductor_resistance(ConductorSize("1.25 mm2"))
    assert 13.3e-3 < found.ohm_per_m < 19.5e-3
    assert "scaled by area to 1.25 mm2" in found.working
    # A gauge in between lies in between.
    assert 3.14 < _per_kft(15) < 4.99


def test_the_working_names_table_and_temperature() -> None:
    found = conductor_resistance(ConductorSize("12 AWG"), 60, "fixed")
    assert "Table 8" in found.source
    assert "from 75 to 60 degC" in found.working
    assert found.status == "from memory"


@given(
    st.integers(0, 30),
    st.integers(0, 30),
    st.floats(-20, 90),
    st.floats(-20, 90),
    st.sampled_from(["cord", "fixed"]),
)
def test_thicker_and_colder_is_never_worse(
    one: int, other: int, t_one: float, t_other: float, wiring: str
) -> None:
    thick, thin = sorted((one, other))
    cold, hot = sorted((t_one, t_other))
    least = _per_kft(thick, cold, wiring)
    most = _per_kft(thin, hot, wiring)
    assert math.isfinite(most)
    assert 0 < least <= most * (1 + 1e-12)
