"""Cords: what protects them, and what heat leaves of them, in whole builds."""

import pytest
from building import box, branch, build, cord, extension, load, outlet, wire
from msgspec.structs import replace

from cartlayout.findings import power_rules
from cartlayout.network import make_network
from cartlayout.power import solve_power
from cartlayout.units import Temperature, UnitSystem


def solved(*things, ambient=None, **more):
    made = build(*things, **more)
    if ambient is not None:
        made = replace(made, venue=replace(made.venue, ambient=Temperature(ambient)))
    network = make_network(made)
    power = solve_power(made, network)
    return power, {one.code: one for one in power_rules.rules(made, network, power)}


def protection(power):
    return next(one for _, one in power.limits if one.name == "cord protection")


@pytest.mark.parametrize(
    ("size", "breaker", "protected"),
    [
        # NEC 2023 240.5(B): extension cords of 16 AWG and larger on circuits of 20 A
        ("16 AWG", 20, True),
        ("12 AWG", 20, True),
        ("18 AWG", 20, False),
        # 240.5(A) with table 400.5(A)(1), column B: 12 AWG 25 A, 10 AWG 30 A
        ("12 AWG", 30, False),
        ("10 AWG", 30, True),
    ],
)
def test_an_extension_cord_behind_a_breaker(size, breaker, protected):
    power, found = solved(
        outlet("wall", breaker=breaker, ways=1), extension("cord", size), wire("cord", "wall.1")
    )
    limit = protection(power)
    assert limit.holds is protected
    assert "240.5" in limit.source
    assert ("power.cord-protection" in found) is not protected
    if not protected:
        assert found["power.cord-protection"].severity == "note"
        assert found["power.cord-protection"].runs == ("wire cord",)


@pytest.mark.parametrize(
    ("size", "protected"),
    # NEC 2023 table 400.5(A)(1), column B: 8 AWG 40 A, 6 AWG 55 A, on 50 A
    [("8 AWG", False), ("6 AWG", True)],
)
def test_the_cord_of_a_box(size, protected):
    power, found = solved(
        outlet("feed", 240, 50, receptacle="14-50R", ways=1, electrical={"system": "split-phase"}),
        box("box", [branch("1", 20, "L1", "1")], cord=cord(size, "25 ft")),
        wire("box", "feed.1"),
    )
    assert protection(power).holds is protected
    assert ("power.cord-protection" in found) is not protected
    if not protected:
        assert found["power.cord-protection"].severity == "care"
        assert "50 A" in found["power.cord-protection"].title.shown(UnitSystem.US)


def test_the_fuse_in_a_british_plug_protects_its_cord():
    # BS 1363: fuse of at most 13 A in the plug; 1.5 mm2 flex carries more (BS 7671 4F3A, memory)
    power, found = solved(
        outlet("wall", 230, 32, receptacle="BS 1363 R", ways=1),
        extension("cord", "1.5 mm2", "5 m", 13, plug="BS 1363 P", receptacle="BS 1363 R"),
        wire("cord", "wall.1"),
        region="UK",
    )
    assert protection(power).value == 13
    assert "power.cord-protection" not in found


def test_an_appliance_s_own_cord_counts_as_protected():
    # NEC 2023 240.5(B): a listed appliance's cord is protected by the branch circuit's breaker
    power, _ = solved(
        outlet("wall"), load("till", 60, cord=cord("18 AWG", "6 ft")), wire("till", "wall.1")
    )
    assert not [one for _, one in power.limits if one.name == "cord protection"]


@pytest.mark.parametrize(
    ("ambient", "ampacity_a", "holds"),
    # NEC 2023 table 310.15(B)(1)(1), 60 degC column: 0.91 at 31-35, 0.82 at 36-40, 0.71 at 41-45;
    # table 400.5(A)(1) column B: 16 AWG 13 A at 30 degC
    [("30 degC", 13.0, True), ("35 degC", 11.83, True), ("40 degC", 10.66, True),
     ("45 degC", 9.23, False)],
)  # fmt: skip
def test_a_cord_in_the_heat(ambient, ampacity_a, holds):
    power, found = solved(
        outlet("wall"),
        load("urn", amps=10, cord=cord("16 AWG", "6 ft")),
        wire("urn", "wall.1"),
        ambient=ambient,
    )
    assert power.wires["wire urn"].ampacity_a == pytest.approx(ampacity_a, abs=0.005)
    assert ("power.cord" in found) is not holds


@pytest.mark.parametrize(
    ("breaker", "told"),
    # a motoring magazine on power budgets: site hook-ups of 16 A are often behind 10 A or 6 A
    [(6, True), (10, True), (16, False)],
)
def test_a_hook_up_whose_breaker_is_smaller_than_its_socket(breaker, told):
    blue = "IEC 60309 16 A blue"
    power, found = solved(
        outlet("hook", 230, breaker, receptacle=f"{blue} R", ways=1),
        load("urn", 2000, volts=230, plug=f"{blue} P", cord=cord("2.5 mm2", "10 m")),
        wire("urn", "hook.1"),
        region="EU",
    )
    assert ("power.breaker-smaller" in found) is told
    # 2000 W at 230 V are 8.7 A: the breaker governs, not the socket
    assert ("power.total" in found) is (breaker == 6)
    assert power.circuits[0].rating_a == breaker
