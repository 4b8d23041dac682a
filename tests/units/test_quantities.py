"""Quantities: what people write, what it is in SI, and what comes back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.units import (
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
    UnitSystem,
    Voltage,
    Volume,
    show,
    show_pair,
)
from cartlayout.units.display import unit_for

KINDS = (Length, Mass, Pressure, Flow, Volume, Current, Voltage, Power, Energy, Duration)

# Conversion factors of NIST Special Publication 811, appendix B.8 (exact where
# NIST says so), applied by hand to the number in the text.
NIST = [
    (Length, "14.5 in", 14.5 * 0.0254),
    (Length, "14 1/2 in", 14.5 * 0.0254),
    (Length, "14-1/2 in", 14.5 * 0.0254),
    (Length, "1/2 in", 0.5 * 0.0254),
    (Length, '3/8"', 0.375 * 0.0254),
    (Length, "5 ft 4 in", 64 * 0.0254),
    (Length, "5' 4\"", 64 * 0.0254),
    (Length, "-3 in", -3 * 0.0254),
    (Length, "37 cm", 0.37),
    (Mass, "40 lb", 40 * 0.45359237),
    (Pressure, "60 psi", 60 * 6894.757),
    (Pressure, "2.8 bar", 2.8e5),
    (Flow, "1.2 gal/min", 1.2 * 6.309020e-5),
    (Flow, "1.2 gpm", 1.2 * 6.309020e-5),
    (Flow, "6 L/min", 1e-4),
    (Volume, "5 gal", 5 * 3.785412e-3),
    (Volume, "20 L", 0.02),
    (Energy, "1.2 kWh", 1.2 * 3.6e6),
    (Temperature, "68 °F", (68 + 459.67) / 1.8),
    (Temperature, "20 degC", 293.15),
    (Power, "1,650 W", 1650.0),
    (Duration, "90 min", 5400.0),
    (Current, "5 mA", 0.005),
    (Voltage, "0.4 kV", 400.0),
]


@pytest.mark.parametrize(("kind", "text", "si"), NIST)
def test_texts_are_read_in_si(kind: type[Quantity], text: str, si: float) -> None:
    assert kind(text).si == pytest.approx(si, rel=1e-6)
    assert kind(text).text == text


# Circular mils of NEC 2023 chapter 9 table 8; a circular mil is the area of a
# circle of 0.001 in (same table, note). The table rounds to four digits.
@pytest.mark.parametrize(
    ("gauge", "circular_mils"),
    [(18, 1620), (16, 2580), (14, 4110), (12, 6530), (10, 10380), (8, 16510), (6, 26240)],
)
def test_wire_gauges_have_the_tabled_area(gauge: int, circular_mils: int) -> None:
    area = circular_mils * math.pi / 4 * 0.0000254**2
    assert ConductorSize(f"{gauge} AWG").si == pytest.approx(area, rel=0.003)
    assert ConductorSize(f"{gauge} AWG").awg == gauge


def test_square_millimetres_are_no_gauge() -> None:
    assert ConductorSize("1.5 mm2").si == pytest.approx(1.5e-6)
    assert ConductorSize("1.5 mm2").awg is None


@pytest.mark.parametrize(
    "text",
    ["12 inn", "12", "", "in", "12 psi", "12 in in", "1/0 in", "nan m", "inf m", "1e400 m",
     "1,5 m", "5 (", "5 in+", "12 __import__('os')", "twelve in", "1 2 3 in", "\x00", "🛒 in"],
)  # fmt: skip
def test_nonsense_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(QuantityError, match="length; try '12 in'"):
        Length(text)


def test_a_list_of_pressures_is_no_pressure() -> None:
    with pytest.raises(QuantityError, match=r"try '2\.8 bar'"):
        Pressure("2 bar 3 bar")


def test_a_bare_number_is_refused_with_words() -> None:
    with pytest.raises(QuantityError, match="write it as text with its unit"):
        Flow(6)  # type: ignore[arg-type]


def read(kind: type[Quantity], text: str) -> Quantity | str:
    """The quantity, or the words with which it is refused."""
    try:
        return kind(text)
    except QuantityError as error:
        return str(error)


@given(st.text(max_size=20), st.sampled_from(KINDS))
def test_any_text_is_a_finite_quantity_or_an_error(text: str, kind: type[Quantity]) -> None:
    made = read(kind, text)
    if isinstance(made, str):
        assert kind.example in made
    else:
        assert math.isfinite(made.si)
        assert made.text == text


@given(st.floats(-1e4, 1e4), st.sampled_from(KINDS), st.sampled_from(list(UnitSystem)))
def test_numbers_written_in_a_unit_read_back_the_same(
    number: float, kind: type[Quantity], system: UnitSystem
) -> None:
    unit = unit_for(kind.name, system)
    made = kind.from_si(kind(f"{number:.6f} {unit}").si, unit)
    again = kind(made.text)
    assert again == made
    assert again.si == made.si
    assert made.si == pytest.approx(kind(f"{number:.6f} {unit}").si, abs=kind(f"0.0001 {unit}").si)


def test_quantities_are_values() -> None:
    assert Length("1 in") == Length("1 in")
    assert Length("1 in") != Length("25.4 mm"), "they would be written differently"
    assert Length("1 m") != Mass("1 kg")
    assert len({Length("1 in"), Length("1 in")}) == 1
    with pytest.raises(AttributeError):
        Length("1 in").si = 3.0  # type: ignore[misc]


@pytest.mark.parametrize(
    ("si", "dimension", "system", "text"),
    [
        (0.3683, "length", UnitSystem.US, "14.5 in"),
        (0.3683, "length", UnitSystem.METRIC, "368 mm"),
        (293.15, "temperature", UnitSystem.US, "68 °F"),
        (2.8e5, "pressure", UnitSystem.METRIC, "2.80 bar"),
        (0.98, "share", UnitSystem.US, "98 %"),
        (19.2, "angle", UnitSystem.US, "19°"),
        (-1e-9, "current", UnitSystem.US, "0.0 A"),
    ],
)
def test_numbers_are_shown_in_the_persons_units(
    si: float, dimension: str, system: UnitSystem, text: str
) -> None:
    assert show(si, dimension, system) == text


def test_two_numbers_share_a_unit() -> None:
    assert show_pair(13.8, 20.0, "current", UnitSystem.US) == "13.8 of 20.0 A"


@pytest.mark.parametrize(("degrees", "ppm"), [(4, 71), (10, 178), (20, 356)])
def test_german_degrees_of_hardness(degrees, ppm):
    """Capacity tables of a filter manual: 4 degrees are 71 ppm, 10 are 178, 20 are 356."""
    for unit in ("dH", "°dH", "dKH"):
        assert Concentration(f"{degrees} {unit}").si * 1e3 == pytest.approx(ppm, abs=1.0)
    # Handbooks of water treatment: a grain in a US gallon is 17.1 ppm.
    assert Concentration(f"{degrees} gr/gal").si * 1e3 == pytest.approx(17.1 * degrees, rel=2e-3)
