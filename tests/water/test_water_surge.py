"""Valves that shut: wave speeds and surges against a printed table, and what is advised."""

import msgspec
import pytest
from building import (
    accumulator,
    build,
    drawn,
    fill,
    mains,
    opening,
    pump,
    shut_off,
    tank,
    tap,
    tee,
    tube,
)

from cartlayout.build import Inlet, Tube
from cartlayout.findings.water_surge import surge_rules
from cartlayout.findings.water_words import Place
from cartlayout.limits.materials import material, materials
from cartlayout.network import make_network
from cartlayout.units import Duration, Length, Pressure, UnitSystem
from cartlayout.water import solve_water
from cartlayout.water.stretch import taken_in_m3_pa, wave_speed_m_s
from cartlayout.water.surge import closing_s, joukowsky_pa, rise_pa

PSI = 6894.757
FOOT = 0.3048
GPM = 6.30902e-5


def cross_linked(ratio: float, modulus: str) -> Tube:
    """A tube of an inch whose wall is so many times thinner than it is wide."""
    wall_in = 1.0 / ratio
    return Tube(
        name="tube",
        outer=Length("1 in"),
        bore=Length(f"{1.0 - 2.0 * wall_in} in"),
        material="cross-linked polyethylene",
        elastic_modulus=Pressure(modulus),
    )


COLD, WARM = "67425 psi", "33060 psi"


@pytest.mark.parametrize(
    ("ratio", "modulus", "speed", "psi"),
    # Technical page of a cross-linked polyethylene tube, surge pressures, table 24: modulus at 20
    # and 40 degC, wave speed in m/s, surge in psi for each m/s that is stopped.
    [
        (17, COLD, 172, 25),
        (13.5, COLD, 196, 29),
        (11, COLD, 221, 33),
        (9, COLD, 250, 37),
        (7.3, COLD, 286, 42),
        (11, WARM, 156, 23),
        (9, WARM, 176, 26),
        (7.3, WARM, 202, 30),
    ],
)
def test_published_surges(ratio, modulus, speed, psi):
    density = 998.2 if modulus == COLD else 992.2
    found = wave_speed_m_s(cross_linked(ratio, modulus), density)
    assert found == pytest.approx(speed, rel=0.03)
    assert joukowsky_pa(density, found, 1.0) / PSI == pytest.approx(psi, rel=0.03)


def test_published_worked_surge():
    """The same page: dimension ratio 9 at 40 degC, 2.7 m/s stopped: 26 x 2.7 = 70 psi."""
    speed = wave_speed_m_s(cross_linked(9, WARM), 992.2)
    assert joukowsky_pa(992.2, speed, 2.7) / PSI == pytest.approx(70, rel=0.02)


def test_steel_is_nearly_as_stiff_as_open_water():
    """Text-book value for water in steel pipe: 1,200 to 1,400 m/s."""
    pipe = Tube(
        name="pipe", outer=Length("21.3 mm"), bore=Length("16.1 mm"), material="stainless steel"
    )
    assert 1200 < wave_speed_m_s(pipe, 998.2) < 1440


def test_a_slow_valve_adds_less():
    """Handbook estimate 0.070 v L / t (psi; ft/s, ft, s): 8 ft/s, 50 ft in 1 s: 28 psi."""
    slow = 0.070 * 8 * 50 * PSI
    assert rise_pa(1e7, 0.01, slow, 1.0) / PSI == pytest.approx(28.0)
    assert rise_pa(1e7, 0.01, slow, 2.0) / PSI == pytest.approx(14.0)
    assert rise_pa(1e5, 0.01, slow, 1.0) == 1e5  # never more than at once
    assert rise_pa(1e7, 1.5, slow, 1.0) == 1e7  # within the wave's time it is all of it


def test_every_material_of_the_table_says_where_it_comes_from():
    for row in materials():
        assert row.source
        assert row.elastic_modulus.si > 0.0
    assert material("no such thing") == material("polyethylene")


def test_a_length_of_tube_takes_in_what_its_speed_says():
    """a^2 rho is the stiffness of a full tube; both follow from the same wall (any text)."""
    made = cross_linked(9, COLD)
    speed = 250.0  # as printed
    area = 0.25 * 3.141592653589793 * made.bore.si**2
    assert taken_in_m3_pa(made, 1.0) == pytest.approx(area / (998.2 * speed**2), rel=0.06)


# --- whole lines -------------------------------------------------------------------------------


def told(*things, **more):
    made = build(*things, **more)
    network = make_network(made)
    result = solve_water(made, network)
    place = Place(made, network, result)
    return result.surges, list(surge_rules(place))


def machine(behaviour, closing: str | None = None):
    made = tap("machine", behaviour, least="0 psi")
    role = made.specification.water
    inlet: Inlet = msgspec.structs.replace(
        role.inlets[0], closing_time=None if closing is None else Duration(closing)
    )
    role = msgspec.structs.replace(role, inlets=(inlet,))
    return msgspec.structs.replace(
        made, specification=msgspec.structs.replace(made.specification, water=role)
    )


def plain(closing: str | None = None, rating: str | None = "150 psi", length: str = "3 m"):
    """A main at 60 psi, a tube of 1/4 in and a machine that fills with 1 gal/min."""
    return (
        mains("main", "60 psi", connector="3/8 push-fit"),
        machine(fill("1 gal/min", "30 psi"), closing),
        rated(tube("main", "machine", length, "0.17 in", outer="0.25 in"), rating),
    )


def rated(run, rating: str | None):
    """A tube of polyethylene with a pressure rating."""
    made = msgspec.structs.replace(run.tube, rating=Pressure(rating) if rating else None)
    return msgspec.structs.replace(run, tube=made)


def test_typical_closing_times_are_marked_as_such():
    surges, _ = told(*plain())
    assert surges[0].assumed
    assert surges[0].closing_s == pytest.approx(0.03)
    surges, _ = told(*plain("80 ms"))
    assert not surges[0].assumed
    assert surges[0].closing_s == pytest.approx(0.08)
    assert closing_s(machine(drawn("1 gal/min")).specification.water.inlets[0])[0] > 0.1


def test_the_knock_of_a_fill_valve():
    """rho a v by hand: polyethylene of 300 MPa, 4.3 mm bore in 6.35 mm: 262 m/s, so that each ft/s
    adds 11.6 psi (worked by hand from the formula, modulus from memory)."""
    surges, found = told(*plain(rating="300 psi"))
    (surge,) = surges
    assert surge.wave_m_s == pytest.approx(262, rel=0.01)
    assert surge.bound_pa / PSI == pytest.approx(11.6 * surge.velocity_m_s / FOOT, rel=0.01)
    assert surge.back_s == pytest.approx(2 * 3.0 / 262, rel=0.01)
    # 30 ms are longer than 23 ms, but so little that the estimate is above the bound.
    assert surge.rise_pa == surge.bound_pa
    assert surge.peak_pa == pytest.approx(surge.static_pa + surge.bound_pa)
    assert surge.peak_pa < 300 * PSI
    assert found == []


def test_a_tube_that_cannot_stand_it():
    surges, (finding,) = told(*plain(rating="90 psi"))
    assert surges[0].static_pa < 90 * PSI < surges[0].peak_pa
    assert finding.code == "water.hammer"
    assert finding.severity == "care"
    assert finding.runs == (surges[0].run,)
    assert len(finding.working) == 3
    # It says how slowly the valve would have to shut; one that does is not told of.
    slow = surges[0].slow_enough_s
    assert told(*plain(f"{slow * 1.01} s", "90 psi"))[1] == []
    assert len(told(*plain(f"{slow * 0.9} s", "90 psi"))[1]) == 1


def test_over_its_rating_at_rest_a_slower_valve_is_no_help():
    surges, (finding,) = told(*plain(rating="40 psi"))
    assert surges[0].slow_enough_s == float("inf")
    assert "at rest" in finding.detail.shown(UnitSystem.US)


def test_nothing_is_said_of_a_tube_without_a_rating():
    surges, found = told(*plain(rating=None))
    assert surges[0].rating_pa is None
    assert found == []


def test_a_vessel_on_the_way_sends_the_wave_back():
    def line(vessel: bool):
        things = [
            tank("jug"),
            pump("pump", [("0 psi", "3 gal/min"), ("60 psi", "2 gal/min")], "30 psi", "45 psi"),
            machine(opening("1 gal/min", "20 psi")),
            tube("jug", "pump", "0.5 m", "9 mm"),
        ]
        if vessel:
            things += [accumulator("vessel"), tube("pump", "vessel.a", "4 m")]
            things.append(tube("vessel.b", "machine", "1 m"))
        else:
            things.append(tube("pump", "machine", "5 m"))
        return told(*things)[0][0]

    # Two ends of the jug's line: 0.5 m and 5 m without a vessel, 1 m with one.
    assert line(True).length_m == pytest.approx(1.0)
    assert line(False).length_m == pytest.approx(5.5)
    assert line(True).tubes == ("tube vessel.b machine",)
    assert line(False).rise_pa > line(True).rise_pa


@pytest.mark.parametrize("main_first", [True, False])
@pytest.mark.parametrize(
    "ends", [("main.outlet", "machine.inlet"), ("machine.inlet", "main.outlet")]
)
def test_a_tube_knocks_alike_from_whichever_end_it_is_told(main_first, ends):
    """From the floor up to the counter: its lower end stands at what the main gives, 60 psi."""
    low = mains("main", "60 psi", connector="3/8 push-fit", level="base")
    both = [low, machine(fill("1 gal/min", "30 psi"))]
    (surge,), _ = told(
        *(both if main_first else both[::-1]),
        tube(*ends, "3 m", "0.17 in", outer="0.25 in"),
    )
    assert surge.static_pa == pytest.approx(60 * PSI, abs=1.0)


def test_what_gives_way_first_is_told_by_length_not_by_the_number_of_tubes():
    """The wave comes back first from what is nearest: 1.5 m in two tubes before 9 m in one."""
    surges, _ = told(
        tank("jug"),
        pump("pump", [("0 psi", "3 gal/min"), ("60 psi", "2 gal/min")], "30 psi", "45 psi"),
        tee("tee"),
        shut_off("valve"),
        accumulator("near"),
        accumulator("far"),
        machine(opening("1 gal/min", "20 psi")),
        tube("jug", "pump", "0.5 m", "9 mm"),
        tube("pump", "far.a", "1 m"),
        tube("far.b", "tee.a", "9 m"),
        tube("tee.b", "valve.a", "0.25 m"),
        tube("valve.b", "near.a", "0.25 m"),
        tube("tee.c", "machine", "1 m"),
    )
    assert surges[0].length_m == pytest.approx(1.5)
    assert surges[0].tubes[-1] == "tube valve.b near.a"


def test_the_weaker_tube_of_a_line_tells():
    """A garden hose between the main and the machine's own tube, rated less than it sees."""
    surges, (finding,) = told(
        mains("main", "60 psi", connector="3/8 push-fit"),
        machine(fill("2 gal/min", "30 psi")),
        shut_off("joint"),
        rated(tube("main", "joint.a", "3 m", "0.2 in", outer="0.25 in"), "80 psi"),
        rated(tube("joint.b", "machine", "1 m", "0.25 in", outer="0.375 in"), "500 psi"),
    )
    assert surges[0].run == "tube main joint.a"
    assert finding.runs == ("tube main joint.a",)
    assert surges[0].tubes == ("tube joint.b machine", "tube main joint.a")
