"""Tubes, their ends and fitting losses against handbooks and the fluids library."""

import itertools
import math

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.limits import (
    LimitsError,
    end_fitting,
    fitting_loss,
    loss_coefficient,
    tube_row,
    tubes,
    tubes_between,
    water_connector,
    water_connectors,
)
from cartlayout.limits.end_fittings import change_loss

IN = 0.0254


@pytest.mark.parametrize(
    ("name", "coefficient"),
    # Fluid-mechanics textbook, Table 8.2, loss coefficients for pipe components.
    [
        ("90 degree elbow, threaded", 1.5),
        ("90 degree elbow, flanged", 0.3),
        ("90 degree elbow, long radius, threaded", 0.7),
        ("90 degree elbow, long radius, flanged", 0.2),
        ("45 degree elbow, threaded", 0.4),
        ("tee, straight through, threaded", 0.9),
        ("tee, straight through, flanged", 0.2),
        ("tee, branch, threaded", 2.0),
        ("tee, branch, flanged", 1.0),
        ("union, threaded", 0.08),
        ("globe valve, open", 10),
        ("angle valve, open", 2),
        ("gate valve, open", 0.15),
        ("ball valve, open", 0.05),
        ("ball valve, one third closed", 5.5),
        ("ball valve, two thirds closed", 210),
        ("swing check valve", 2),
        # Engineering licence study sheet of minor losses.
        ("entrance, sharp", 0.5),
        ("exit", 1.0),
    ],
)
def test_fitting_losses(name: str, coefficient: float) -> None:
    assert loss_coefficient(name) == coefficient
    row = fitting_loss(name)
    assert row is not None
    assert row.status == "found"


def test_an_unknown_fitting_is_named() -> None:
    with pytest.raises(LimitsError, match=r"fittings\.json: there is no fitting 'knee'"):
        loss_coefficient("knee")


def test_the_published_ball_valve() -> None:
    """Engineering reference site: ball valve one third closed at 2 m/s loses 1.1 m of head."""
    head_m = fluids.core.head_from_K(K=loss_coefficient("ball valve, one third closed"), V=2.0)
    assert head_m == pytest.approx(1.1, abs=0.05)


@given(st.floats(0.002, 0.05), st.floats(1.5, 8.0))
def test_wide_steps_against_the_fluids_library(narrow_m: float, ratio: float) -> None:
    """Where the step is large, widening is the worse direction."""
    wide_m = narrow_m * ratio
    expected = fluids.fittings.diffuser_sharp(Di1=narrow_m, Di2=wide_m)
    assert change_loss(narrow_m, wide_m, narrow_m) == pytest.approx(expected, rel=1e-6)
    assert change_loss(wide_m, narrow_m, narrow_m) == pytest.approx(expected, rel=1e-6)
    # The same loss said in velocity heads of the wide side: heads go with the fourth power.
    wide_heads = fluids.fittings.change_K_basis(expected, D1=narrow_m, D2=wide_m)
    assert change_loss(narrow_m, wide_m, wide_m) == pytest.approx(wide_heads, rel=1e-6)


@pytest.mark.parametrize(
    ("area_share", "heads"),
    # Engineering licence study sheet: a sudden contraction costs about half of the share of the
    # area that is closed; worked by hand.
    [(0.6, 0.2), (0.8, 0.1), (0.9, 0.05), (1.0, 0.0)],
)
def test_small_steps_cost_what_a_contraction_does(area_share: float, heads: float) -> None:
    narrow_m = 0.01 * math.sqrt(area_share)
    assert change_loss(0.01, narrow_m, narrow_m) == pytest.approx(heads, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "outer_m", "bore_m"),
    [
        # Specification sheet of beverage trunk line: 3/8 in by 1/2 in.
        ("1/2 in tube", 0.5 * IN, 0.375 * IN),
        # Trade article on drinking-water tube, nominal 1/4 in bore.
        ("3/8 in tube", 0.375 * IN, 0.250 * IN),
        # Catalogue value, from memory.
        ("1/4 in tube", 0.250 * IN, 0.170 * IN),
        ("8 mm tube", 0.008, 0.006),
        ("10 mm tube", 0.010, 0.007),
        ("12 mm tube", 0.012, 0.009),
        ("15 mm tube", 0.015, 0.0115),
    ],
)
def test_tube_bores(name: str, outer_m: float, bore_m: float) -> None:
    row = tube_row(name)
    assert row is not None
    assert row.outer.si == pytest.approx(outer_m)
    assert row.bore.si == pytest.approx(bore_m)
    # Engineering roughness table, drawn tubing: 0.000005 ft.
    assert row.roughness.si == pytest.approx(0.000005 * 0.3048, rel=0.02)


@pytest.mark.parametrize(
    ("name", "psi"),
    # Fittings brochure at 33 to 68 degF: small sizes 230 psi (16 bar), larger 150 psi (10 bar).
    [("1/4 in tube", 230), ("3/8 in tube", 150), ("8 mm tube", 232), ("10 mm tube", 145)],
)
def test_push_fit_ratings(name: str, psi: float) -> None:
    row = tube_row(name)
    assert row is not None
    assert row.rating is not None
    assert row.rating_at is not None
    assert row.rating.si == pytest.approx(psi * 6894.757, rel=0.01)
    assert row.rating_at.si == pytest.approx(293.15, abs=0.01)
    assert "fittings" in row.rating_source


@pytest.mark.parametrize(
    ("name", "degf", "psi"),
    [
        # Fittings brochure: 230 psi at 33 to 68 degF and 150 psi at 150 degF for small sizes,
        # 150 and 100 psi for larger; halfway lies halfway.
        ("1/4 in tube", 40, 230),
        ("1/4 in tube", 68, 230),
        ("1/4 in tube", 109, 190),
        ("1/4 in tube", 150, 150),
        ("3/8 in tube", 150, 100),
        ("8 mm tube", 149, 145),
        ("10 mm tube", 149, 101.5),
    ],
)
def test_warm_water_lowers_the_rating(name: str, degf: float, psi: float) -> None:
    row = tube_row(name)
    assert row is not None
    rated_pa = row.rated_pa((degf - 32) / 1.8 + 273.15)
    assert rated_pa is not None
    assert rated_pa / 6894.757 == pytest.approx(psi, rel=5e-3)


def test_water_hotter_than_any_rating_has_none() -> None:
    for row in tubes():
        assert row.rated_pa(273.15 + 110) is None
        assert (row.rated_pa(293.15) is None) == (row.rating is None)


def test_every_tube_bears_the_water_of_a_summers_day() -> None:
    """Installation table of an ice machine: the water that comes may have 0.6 to 32 degC."""
    for row in tubes():
        if "water" in row.media:
            assert row.rating is not None
            rated_pa = row.rated_pa(273.15 + 32)
            assert rated_pa is not None
            assert 0.5 * row.rating.si < rated_pa <= row.rating.si


@pytest.mark.parametrize(
    ("bore_in", "losses_psi"),
    # A pump manual's rubber-hose table: psi lost in 100 ft at 0.5, 1, 2 and 3 gal/min.
    [(0.25, (16, 54, 180, 380)), (0.3125, (5, 20, 60, 120)), (0.375, (2, 7, 25, 50))],
)
def test_rubber_lined_hose_is_rougher_than_plastic_tube(
    bore_in: float, losses_psi: tuple[float, ...]
) -> None:
    """The roughness is chosen for that table; the friction here is the fluids library's."""
    rubber = tube_row("3/8 BSP braided hose, 8 mm bore")
    assert rubber is not None
    bore_m = bore_in * IN
    for gal_per_min, psi in zip((0.5, 1, 2, 3), losses_psi, strict=True):
        speed = gal_per_min * 6.30902e-5 / (math.pi / 4 * bore_m**2)
        reynolds = fluids.core.Reynolds(V=speed, D=bore_m, nu=1.0034e-6)
        friction = fluids.friction.friction_factor(Re=reynolds, eD=rubber.roughness.si / bore_m)
        loss_pa = friction * 30.48 / bore_m * 998.2 * speed**2 / 2
        assert loss_pa / 6894.757 == pytest.approx(psi, rel=0.2)


def test_drinking_water_and_drain_do_not_mix() -> None:
    for row in tubes():
        assert row.potable == ("water" in row.media)
        assert ("drain hose" in row.name) == (row.media == ("drain",))


def test_tubes_bend_and_are_hollow() -> None:
    for row in tubes():
        assert 0 < row.bore.si < row.outer.si
        assert row.least_bend_radius is not None
        assert row.least_bend_radius.si > row.outer.si


@pytest.mark.parametrize(
    ("a", "b", "first"),
    [
        ("3/8 push-fit", "3/8 push-fit", "3/8 in tube"),
        ("1/4 push-fit", "1/4 push-fit", "1/4 in tube"),
        ("8 mm push-fit", "8 mm push-fit", "8 mm tube"),
        ("10 mm push-fit", "3/8 BSP", "10 mm tube"),
        ("3/8 push-fit", "3/8 NPT", "3/8 in tube"),
        ("1/4 push-fit", "1/2 NPT", "1/4 in tube"),
        ("3/8 BSP", "3/8 BSP", "3/8 BSP braided hose, 10 mm bore"),
        ("3/8 compression", "3/8 compression", "3/8 in tube"),
        ("1/2 barb", "1/2 barb", "1/2 in hose"),
        ("1/2 barb", "1/2 NPT", "1/2 in hose"),
        ("3/4 GHT", "3/4 GHT", "3/4 GHT drinking-water hose, 5/8 in bore"),
        ("spout", "3/8 push-fit", "3/8 in tube"),
    ],
)
def test_what_a_fitter_would_take(a: str, b: str, first: str) -> None:
    assert tubes_between(a, b)[0].name == first
    assert tubes_between(b, a)[0].name == first


@pytest.mark.parametrize(
    ("a", "b", "first"),
    [
        ("drain 1 in", "drain 1 in", "1 in drain hose"),
        ("drain 25 mm", "drain 25 mm", "25 mm drain hose"),
        ("drain 1/2 in", "drain 1 in", "1/2 in drain hose"),
        ("drain 3/4 in", "open drain", "3/4 in drain hose"),
        ("1/2 barb", "drain 1 in", "1/2 in drain hose"),
    ],
)
def test_what_goes_down_the_drain(a: str, b: str, first: str) -> None:
    assert tubes_between(a, b, "drain")[0].name == first


def test_a_drain_hose_is_never_wider_than_its_ends() -> None:
    for one, other in itertools.product(water_connectors(), repeat=2):
        if one.family != "drain" or other.family != "drain":
            continue
        assert one.bore_m is not None
        assert other.bore_m is not None
        for row in tubes_between(one.key, other.key, "drain"):
            # 20 mm hose on a 3/4 in spigot: sold for each other, 5 % apart.
            assert row.bore.si <= min(one.bore_m, other.bore_m) * 1.06


def test_media_are_kept_apart() -> None:
    assert tubes_between("3/8 push-fit", "drain 1 in") == ()
    assert tubes_between("3/8 push-fit", "drain 1 in", "drain") == ()
    assert tubes_between("drain 1 in", "drain 1 in", "water") == ()
    assert tubes_between("3/8 push-fit", "no such", "water") == ()


@pytest.mark.parametrize("size", ["1/4", "3/8", "1/2", "3/4"])
def test_threads_of_two_standards_never_share_a_hose_set(size: str) -> None:
    """ISO 228 and ASME B1.20.1 differ in pitch and angle: a hose nut of one spoils the other."""
    for row in tubes():
        if row.ends.endswith("BSP"):
            assert end_fitting(row.name, f"{size} NPT") is None
        if row.ends.endswith("NPT"):
            assert end_fitting(row.name, f"{size} BSP") is None
        if row.ends == "3/4 GHT":
            assert end_fitting(row.name, "3/4 BSP") is None


def test_hose_sets_fit_their_own_thread() -> None:
    sets = [row for row in tubes() if row.ends]
    assert len(sets) >= 6
    for row in sets:
        end = end_fitting(row.name, row.ends)
        assert end is not None
        assert end.making == "direct"


def test_a_plain_tube_bridges_two_threads_with_an_adapter_at_each_end() -> None:
    assert tubes_between("3/8 BSP", "3/8 NPT")
    one = end_fitting("3/8 in tube", "3/8 BSP")
    other = end_fitting("3/8 in tube", "3/8 NPT")
    assert one is not None
    assert other is not None
    assert (one.name, other.name) == (
        "3/8 in tube x 3/8 BSP adapter",
        "3/8 in tube x 3/8 NPT adapter",
    )


def test_inch_and_metric_push_fit_need_an_adapter_except_5_16_and_8_mm() -> None:
    for inch, metric in (("1/4", "6 mm"), ("3/8", "10 mm"), ("1/2", "12 mm")):
        end = end_fitting(f"{inch} in tube", f"{metric} push-fit")
        assert end is not None
        assert end.making == "reducer"
    # 5/16 in is 7.94 mm.
    end = end_fitting("5/16 in tube", "8 mm push-fit")
    assert end is not None
    assert end.making == "direct"


@pytest.mark.parametrize(
    ("tube", "connector", "least", "most"),
    [
        # A straight push-fit costs no more than a handbook's union, 0.04 to 0.08.
        ("3/8 in tube", "3/8 push-fit", 0.03, 0.1),
        # Into a wide thread at most the whole velocity head is lost, plus a union.
        ("1/4 in tube", "3/4 NPT", 0.9, 1.1),
        # An open end loses the velocity head.
        ("1/4 in tube", "spout", 1.0, 1.0),
    ],
)
def test_end_losses_are_within_handbook_bounds(
    tube: str, connector: str, least: float, most: float
) -> None:
    end = end_fitting(tube, connector)
    assert end is not None
    assert least <= end.loss_coefficient <= most
    assert end.source


def test_end_loss_of_a_barbed_hose() -> None:
    """A 1/2 in hose on a barb of 3/8 in passage, worked by hand.

    The passage has 0.5625 of the hose's area; a sudden contraction (engineering licence study
    sheet) costs 0.21875 of the barb's velocity head, which is 3.1605 times the hose's.
    """
    end = end_fitting("1/2 in hose", "1/2 barb")
    barb = water_connector("1/2 barb")
    assert end is not None
    assert barb is not None
    assert barb.bore_m == pytest.approx(0.375 * IN)
    assert end.loss_coefficient == pytest.approx(0.6914, abs=1e-4)


def test_every_end_costs_something_finite() -> None:
    for row, connector in itertools.product(tubes(), water_connectors()):
        end = end_fitting(row.name, connector.key)
        if end is not None:
            assert 0 < end.loss_coefficient < 60
            assert "{" not in end.name


def test_every_tube_and_every_connector_is_of_use() -> None:
    for row in tubes():
        assert any(end_fitting(row.name, one.key) for one in water_connectors()), row.name
    for connector in water_connectors():
        for medium in connector.media:
            between = tubes_between(connector.key, connector.key, medium)
            # Thin threads and tails carry no drain hose.
            if medium == "drain" and connector.key.startswith("1/4"):
                assert between == ()
            else:
                assert between, (connector.key, medium)


def test_threads() -> None:
    # BS 1387 medium tube: 3/8 has a bore of 0.476 in.
    bsp = water_connector("3/8 BSP")
    assert bsp is not None
    assert bsp.bore_m == pytest.approx(0.476 * IN, rel=1e-3)
    # ASME B36.10M schedule 40 inside diameters, from memory.
    for size, bore_in in (("1/4", 0.364), ("3/8", 0.493), ("1/2", 0.622), ("3/4", 0.824)):
        npt = water_connector(f"{size} NPT")
        assert npt is not None
        assert npt.bore_m == pytest.approx(bore_in * IN)


def test_unknown_names_are_none() -> None:
    assert water_connector("3/7 BSP") is None
    assert tube_row("3/7 in tube") is None
    assert end_fitting("3/7 in tube", "3/8 BSP") is None
    assert end_fitting("3/8 in tube", "3/7 BSP") is None


def test_a_barbed_coupling_narrows_and_widens_a_hose() -> None:
    """The fluids library's sudden contraction to three quarters of the bore, and widening again."""
    narrow, wide = 0.75, 1.0
    widening = fluids.fittings.diffuser_sharp(Di1=narrow, Di2=wide)
    # A minor-loss sheet: narrowing costs half of the closed share of the area.
    heads = 0.5 * (1 - narrow**2) + widening
    expected = fluids.fittings.change_K_basis(heads, D1=narrow, D2=wide)
    assert loss_coefficient("coupling, barbed") == pytest.approx(expected, abs=0.01)


def test_hot_water_tube_is_only_taken_where_it_is_asked_for() -> None:
    for a, b in itertools.product(water_connectors(), repeat=2):
        for medium in a.media:
            between = tubes_between(a.key, b.key, medium)
            if any(not row.seldom for row in between):
                assert not between[0].seldom
    assert any(row.seldom for row in tubes_between("1/2 NPT", "1/2 NPT"))
