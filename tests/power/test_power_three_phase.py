"""Three-phase supplies and loads, against textbook relations and phasors by hand."""

import cmath
import math

import pytest
from building import box, branch, build, load, outlet, wire
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Item
from cartlayout.network import make_network
from cartlayout.power.assign import make_problem, missing
from cartlayout.power.assign.request import request
from cartlayout.power.loads import line_amps, load_model

ON = "Everything on"


def with_role(item: Item, **more) -> Item:
    role = replace(item.specification.electrical, **more)
    return replace(item, specification=replace(item.specification, electrical=role))


def wye(volts: float = 400, breaker: float = 16, receptacle: str = "IEC 60309 16 A red R") -> Item:
    made = outlet("mains", volts=volts, breaker=breaker, receptacle=receptacle, ways=1)
    return with_role(made, system="three-phase")


def three(item_id: str, watts: float, volts: float = 400, **more) -> Item:
    made = load(item_id, watts=watts, volts=volts, plug="IEC 60309 16 A red P", **more)
    return with_role(made, phases=3)


def region(made):
    return replace(made, region="EU")


# P = sqrt(3) U I: 9 kW at 400 V are 12.99 A on each leg; 11.09 kW are 16 A (supply limits of 16 A
# three-phase sockets). Any text-book on alternating current.
@pytest.mark.parametrize(
    ("watts", "volts", "amps"), [(9000, 400, 12.99), (11085, 400, 16.0), (4500, 400, 6.495)]
)
def test_a_balanced_heater(watts, volts, amps):
    made = build(three("heater", watts, volts), wye(volts), wire("heater.plug", "mains.1"))
    power = analyse(region(made)).power
    (circuit,) = power.circuits
    legs = circuit.leg_amps[ON]
    assert [legs[leg] for leg in ("L1", "L2", "L3")] == pytest.approx([amps] * 3, abs=0.005)
    assert legs["N"] == pytest.approx(0.0, abs=1e-6)
    assert circuit.loads[0].amps == pytest.approx(amps, abs=0.005)
    state = power.appliances["heater"][ON]
    assert state.watts == pytest.approx(watts, rel=0.02)
    assert state.volts == pytest.approx(volts, rel=0.01)


# 9 kW draw 12.99 A from each leg, as above: 81 % of 16 A, so it goes on one circuit of 16 A, two
# of them on two.
@pytest.mark.parametrize("count", [1, 2])
def test_a_three_phase_circuit_is_asked_for_by_the_amps_of_a_leg(count):
    heaters = [three(f"heater{n}", 9000) for n in range(count)]
    asked = request(region(build(*heaters)))
    assert asked.left_out == ()
    assert [(one.volts, one.amps) for one in asked.circuits] == [(400.0, 16.0)] * count
    assert [one.drawn_a for one in asked.circuits] == pytest.approx([12.99] * count, abs=0.005)
    made = region(build(*heaters))
    found = missing(made, make_problem(made, make_network(made)))
    assert [(one.volts, one.amps, one.count) for one in found.more] == [(400.0, 16.0, count)]


@pytest.mark.parametrize(("watts", "amps"), [(2000, 2.887), (9000, 12.99), (11085, 16.0)])
def test_amps_of_a_leg_on_a_supply(watts, amps):
    """P = sqrt(3) U I at 400 V."""
    role = three("heater", watts).specification.electrical
    assert line_amps(role, load_model(role), 400.0) == pytest.approx(amps, abs=0.005)


def test_more_than_the_breaker_is_over():
    made = build(three("heater", 12000), wye(), wire("heater.plug", "mains.1"))
    analysis = analyse(region(made))
    assert "power.total" in {one.code for one in analysis.findings}
    assert analysis.power.circuits[0].share == pytest.approx(17.32 / 16, abs=0.01)


# On 380 V a heater made for 400 V gives (380 / 400) squared of its watts.
def test_a_heater_on_another_voltage():
    made = build(three("heater", 9000), wye(380), wire("heater.plug", "mains.1"))
    state = analyse(region(made)).power.appliances["heater"][ON]
    assert state.watts == pytest.approx(9000 * 0.9025, rel=0.02)


def phase_box() -> Item:
    return box(
        "hub",
        [branch("1", 16, "L1", "1"), branch("2", 16, "L2", "2"), branch("3", 16, "L3", "3")],
        main=16,
        system="three-phase",
        plug="IEC 60309 16 A red P",
        receptacles=dict.fromkeys("123", "CEE 7/3 R"),
    )


def single(item_id: str, amps: float) -> Item:
    return load(item_id, amps=amps, volts=230, plug="CEE 7/7 P")


def neutral_of(*amps: float) -> tuple[float, dict[str, float]]:
    items = [single(f"l{n}", one) for n, one in enumerate(amps) if one]
    wires = [wire(f"l{n}.plug", f"hub.{n + 1}") for n, one in enumerate(amps) if one]
    feed = wye(230 * math.sqrt(3))
    made = build(*items, phase_box(), feed, wire("hub.plug", "mains.1"), *wires)
    power = analyse(region(made)).power
    circuit = next(one for one in power.circuits if one.key.startswith("venue"))
    legs = circuit.leg_amps[ON]
    return legs["N"], legs


# Neutral of a wye at unity power factor: 5, 8, 0 -> 7 A; 10, 15, 20 -> 8.66 A; 10, 10, 5 -> 5 A;
# 10, 10, 10 -> 0 (electricians' forums and tutorials; the last by symmetry).
@pytest.mark.parametrize(
    ("amps", "neutral"),
    [((5, 8, 0), 7.0), ((10, 10, 5), 5.0), ((10, 10, 10), 0.0), ((10, 10, 0), 10.0)],
)
def test_the_neutral_of_a_wye(amps, neutral):
    found, legs = neutral_of(*amps)
    assert found == pytest.approx(neutral, abs=0.02)
    assert [legs[leg] for leg in ("L1", "L2", "L3")] == pytest.approx(amps, abs=0.02)


@given(st.tuples(*[st.integers(0, 15)] * 3))
def test_kirchhoff_at_the_star_point(amps):
    found, _ = neutral_of(*amps)
    turns = (0.0, -2 * math.pi / 3, 2 * math.pi / 3)
    whole = sum(one * cmath.exp(1j * turn) for one, turn in zip(amps, turns, strict=True))
    assert found == pytest.approx(abs(whole), abs=0.05)


def test_a_three_phase_load_beside_single_ones():
    made = build(
        three("heater", 4500),
        single("kettle", 5),
        box(
            "hub",
            [branch("1", 16, "L1", "1"), branch("all", 16, "L1 L2 L3", "2")],
            main=16,
            system="three-phase",
            plug="IEC 60309 16 A red P",
            receptacles={"1": "CEE 7/3 R", "2": "IEC 60309 16 A red R"},
        ),
        wye(230 * math.sqrt(3)),
        wire("hub.plug", "mains.1"),
        wire("kettle.plug", "hub.1"),
        wire("heater.plug", "hub.2"),
    )
    power = analyse(region(made)).power
    feed = next(one for one in power.circuits if one.key.startswith("venue"))
    legs = feed.leg_amps[ON]
    each = 4500 / (math.sqrt(3) * 400) * (230 * math.sqrt(3) / 400)
    assert legs["L1"] == pytest.approx(each + 5, abs=0.05)
    assert legs["L2"] == pytest.approx(each, abs=0.05)
    assert legs["N"] == pytest.approx(5, abs=0.05)
