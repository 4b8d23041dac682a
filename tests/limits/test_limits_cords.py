"""Cords against the NEC's table, written out here by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.limits import advised_cord, ampacity, extension_rating, reel_rules, strip_rule
from cartlayout.units import ConductorSize

# NFPA 70 (NEC) 2023 Table 400.5(A)(1), 30 degC: column A three conductors, column B two.
COLUMN_A = "18:7 17:9 16:10 15:12 14:15 13:17 12:20 10:25 8:35 6:45 4:60 3:70 2:80"
COLUMN_B = "18:10 17:12 16:13 15:16 14:18 13:21 12:25 10:30 8:40 6:55 4:70 3:82 2:95"


def _column(text: str) -> list[tuple[str, float]]:
    pairs = (entry.split(":") for entry in text.split())
    return [(f"{gauge} AWG", float(amps)) for gauge, amps in pairs]


@pytest.mark.parametrize(("size", "amps"), _column(COLUMN_A))
def test_three_loaded_conductors(size: str, amps: float) -> None:
    rating = ampacity(ConductorSize(size), 3)
    assert rating.amps == amps
    assert rating.status == "found"
    assert "400.5(A)(1)" in rating.source
    assert "2023" in rating.source


@pytest.mark.parametrize(("size", "amps"), _column(COLUMN_B))
def test_two_loaded_conductors(size: str, amps: float) -> None:
    assert ampacity(ConductorSize(size), 2).amps == amps


@pytest.mark.parametrize(
    ("conductors", "share"),
    # NEC 2023 Table 400.5(A)(3): 4 to 6 80 %, 7 to 9 70 %, 10 to 20 50 %.
    [(4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5)],
)
def test_more_than_three_conductors(conductors: int, share: float) -> None:
    assert ampacity(ConductorSize("12 AWG"), conductors).amps == pytest.approx(20 * share)


@pytest.mark.parametrize(
    ("ambient_c", "share"),
    # NEC 2023, 60 degC column: 31-35 0.91, 36-40 0.82, 41-45 0.71.
    [(30, 1), (30.5, 0.91), (31, 0.91), (35, 0.91), (36, 0.82), (40, 0.82), (45, 0.71)],
)
def test_hot_air(ambient_c: float, share: float) -> None:
    assert ampacity(ConductorSize("12 AWG"), 2, ambient_c).amps == pytest.approx(25 * share)


def test_cool_air_earns_nothing() -> None:
    assert ampacity(ConductorSize("12 AWG"), 2, 5).amps == 25


def test_no_rating_where_the_standard_has_none() -> None:
    hot = ampacity(ConductorSize("12 AWG"), 2, 60)
    assert hot.amps == 0
    assert "no rating in air of 60 degC" in hot.working
    thin = ampacity(ConductorSize("22 AWG"), 2)
    assert thin.amps == 0
    assert "thinner than the thinnest cord" in thin.working


def test_a_size_between_rows_is_rated_as_the_next_smaller() -> None:
    rating = ampacity(ConductorSize("11 AWG"), 2)
    assert rating.amps == 25
    assert "the next smaller size governs" in rating.working
    assert ampacity(ConductorSize("1 AWG"), 2).amps == 95


def test_metric_cords() -> None:
    # UK wiring guides: a plug with 0.75 mm2 flex is rated 6 A.
    assert ampacity(ConductorSize("0.75 mm2"), 2).amps == 6
    # BS 7671 Table 4F3A, from memory.
    for size, two, three in (("1 mm2", 10, 10), ("1.5 mm2", 16, 16), ("2.5 mm2", 25, 20)):
        rating = ampacity(ConductorSize(size), 2)
        assert (rating.amps, ampacity(ConductorSize(size), 3).amps) == (two, three)
        assert rating.status == "from memory"
        assert "from memory" in rating.source


def test_the_same_size_in_another_spelling_is_the_same() -> None:
    assert ampacity(ConductorSize("1.50 mm²"), 2).amps == ampacity(ConductorSize("1.5 mm2"), 2).amps


SIZES = st.one_of(
    st.integers(0, 30).map(lambda gauge: ConductorSize(f"{gauge} AWG")),
    st.floats(0.1, 80).map(lambda area: ConductorSize(f"{area:.3f} mm2")),
)


@given(SIZES, SIZES, st.integers(1, 60), st.floats(-30, 80))
def test_more_copper_never_carries_less(
    one: ConductorSize, other: ConductorSize, conductors: int, ambient_c: float
) -> None:
    if (one.awg is None) != (other.awg is None):
        return
    thin, thick = sorted((one, other), key=lambda size: size.si)
    less = ampacity(thin, conductors, ambient_c).amps
    assert 0 <= less <= ampacity(thick, conductors, ambient_c).amps


@given(SIZES, st.integers(1, 60), st.integers(1, 60), st.floats(-30, 80), st.floats(-30, 80))
def test_company_and_heat_never_help(
    size: ConductorSize, few: int, many: int, cool_c: float, hot_c: float
) -> None:
    few, many = sorted((few, many))
    cool_c, hot_c = sorted((cool_c, hot_c))
    assert ampacity(size, many, hot_c).amps <= ampacity(size, few, cool_c).amps


def test_extension_cords() -> None:
    # Consumer and trade guides: 18 AWG 10 A, 16 AWG 13 A (1560 W at 120 V), 14 AWG 15 A.
    for size, amps in (("18 AWG", 10), ("16 AWG", 13), ("14 AWG", 15)):
        rating = extension_rating(ConductorSize(size))
        assert rating is not None
        assert rating.amps == amps
    assert extension_rating(ConductorSize("20 AWG")) is None


@pytest.mark.parametrize(
    ("amps", "feet", "gauge"),
    # A power-tool manual's table of least cord sizes.
    [
        (2, 100, 18),
        (3.4, 150, 14),
        (5, 75, 16),
        (6, 50, 16),
        (7, 150, 12),
        (10, 50, 14),
        (12, 100, 10),
        (13.8, 25, 14),
        (16, 75, 10),
        (20, 25, 12),
    ],
)
def test_advised_cord_for_length(amps: float, feet: float, gauge: int) -> None:
    advice = advised_cord(amps, feet * 0.3048)
    assert advice is not None
    assert advice.size.awg == gauge


def test_the_manual_s_slip_is_not_copied() -> None:
    """It prints 18 AWG for up to 12 A over 25 ft; NEC column B lets 18 AWG carry 10 A."""
    advice = advised_cord(12, 25 * 0.3048)
    assert advice is not None
    assert ampacity(advice.size, 2).amps >= 12
    assert advice.status == "derived"


def test_beyond_the_table_there_is_no_advice() -> None:
    assert advised_cord(12, 150 * 0.3048) is None
    assert advised_cord(30, 1) is None


def test_metric_advice() -> None:
    # An electricians' forum citing wiring guidance: 13 A on 1.5 mm2 to 15 m, 2.5 mm2 to 25 m.
    for length_m, size in ((15, "1.5 mm2"), (25, "2.5 mm2")):
        advice = advised_cord(13, length_m, "metric")
        assert advice is not None
        assert advice.size == ConductorSize(size)


def test_strips_and_reels() -> None:
    # UL 1363 category guide: up to 20 A, never one in another; a reel label: 500 W wound, 2300 W.
    assert strip_rule("greatest rating").amps == 20
    assert strip_rule("usual rating").amps == 15
    assert "never into another strip" in strip_rule("chain").rule
    assert [(rule.wound.si, rule.unwound.si) for rule in reel_rules()] == [(500, 2300)]
