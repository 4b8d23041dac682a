"""Leakage to earth: sums behind devices, and places that must have one."""

import pytest
from building import basin, box, branch, build, load, outlet, strip, wire
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, Venue
from cartlayout.units import Current, Mass, UnitSystem


def leaky(item_id: str, milliamps: float | None, watts: float = 500, **electrical):
    leakage = None if milliamps is None else Current(f"{milliamps} mA")
    return load(item_id, watts=watts, electrical={"leakage": leakage, **electrical})


def cart_of(*leaks: float | None, gfci: bool | None = True, region: str = "US", **more) -> Build:
    items = [leaky(f"l{n}", leak) for n, leak in enumerate(leaks)]
    host = strip("strip", ways=6)
    wall = outlet("wall", breaker=20, electrical={"gfci": gfci})
    wires = [wire(f"l{n}.plug", f"strip.{n + 1}") for n in range(len(leaks))]
    made = build(*items, host, wall, wire("strip.plug", "wall.1"), *wires)
    return replace(made, region=region, **more)


def codes(made: Build) -> dict[str, str]:
    return {one.code: one.severity for one in analyse(made).findings if "leakage" in one.code}


# Class A GFCI: does not trip below 4 mA, trips at 6 mA (NEC Article 100, 2023).
@pytest.mark.parametrize(
    ("leaks", "told"),
    [
        ((3.3,), {}),
        ((2.0, 1.9), {}),
        ((2.0, 2.2), {"power.leakage": "care"}),
        ((3.3, 3.3), {"power.leakage": "stop"}),
    ],
)
def test_what_a_gfci_stands(leaks, told):
    assert codes(cart_of(*leaks)) == told


# BS 7671 531.3.2 (2018): 30 % of 30 mA, which is 9 mA: two of 3.3 mA go, three (9.9 mA) do not.
def test_the_budget_of_a_residual_current_device():
    assert codes(cart_of(3.3, 3.3, region="EU")) == {}
    assert codes(cart_of(3.3, 3.3, 3.3, region="EU")) == {"power.leakage": "care"}


def test_unknown_leakage_counts_with_what_its_standard_allows():
    """IEC 60335-1 13.2: 0.75 mA plugged in, 0.75 mA a kilowatt for a stationary heater."""
    analysis = analyse(cart_of(None, 1.0))
    (state,) = analysis.power.leakages
    assert state.known_a == pytest.approx(1.0e-3)
    assert state.most_a == pytest.approx(1.75e-3)
    for stationary in ("fastened", "hardwired"):
        heater = leaky("heater", None, watts=4400, **{stationary: True})
        wall = outlet("wall", electrical={"gfci": True})
        (state,) = analyse(build(heater, wall, wire("heater.plug", "wall.1"))).power.leakages
        assert state.most_a == pytest.approx(3.3e-3)


def test_many_unknown_are_a_note():
    assert codes(cart_of(*[None] * 6)) == {"power.leakage-unknown": "note"}


def test_a_leakage_trip_is_no_overload():
    analysis = analyse(cart_of(3.3, 3.3))
    text = next(one for one in analysis.findings if one.code == "power.leakage").detail
    assert "no overload" in text.template


def test_each_branch_of_a_box_has_its_own_device_in_the_us():
    feed = outlet("feed", volts=240, breaker=50, receptacle="14-50R", ways=1)
    feed = replace(
        feed,
        specification=replace(
            feed.specification,
            electrical=replace(feed.specification.electrical, system="split-phase"),
        ),
    )
    hub = box("hub", [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2")])
    role = replace(hub.specification.electrical, gfci=True)
    hub = replace(hub, specification=replace(hub.specification, electrical=role))
    made = build(
        leaky("a", 3.0),
        leaky("b", 3.0),
        hub,
        feed,
        wire("hub.plug", "feed.1"),
        wire("a.plug", "hub.1"),
        wire("b.plug", "hub.2"),
    )
    states = [one for one in analyse(made).power.leakages if one.key == "hub"]
    assert [round(one.known_a * 1e3, 3) for one in states] == [3.0, 3.0]


# NEC 210.8(B)(6) and 525.23(A): outdoors.
def test_outdoors_an_outlet_needs_a_device():
    outdoors = Venue(outdoors=True)
    assert codes(cart_of(0.5, gfci=True, venue=outdoors)) == {}
    assert codes(cart_of(0.5, gfci=False, venue=outdoors)) == {
        "power.no-leakage-protection": "stop"
    }
    assert codes(cart_of(0.5, gfci=None, venue=outdoors)) == {
        "power.leakage-protection-unknown": "care"
    }
    assert codes(cart_of(0.5, gfci=False)) == {}


# IEC 60364-4-41 411.3.3: socket-outlets up to 32 A (from memory, as the table says).
def test_in_europe_every_ordinary_socket_needs_a_device():
    made = cart_of(0.5, gfci=False, region="EU")
    assert codes(made) == {"power.no-leakage-protection": "stop"}


def beside_a_sink(mass: str, gap_in: float, outlet_gfci: bool | None = False, **electrical):
    """A machine on a strip, its outlet 5 m away, and a hand sink so far from the machine."""
    machine = load(
        "machine",
        1500,
        electrical=electrical,
        size=("12 in", "12 in", "15 in"),
        at=("10 in", "10 in"),
    )
    machine = replace(machine, specification=replace(machine.specification, mass=Mass(mass)))
    sink = basin("sink", at=(f"{10 + 6 + gap_in + 6:g} in", "10 in"))
    sink = replace(sink, specification=replace(sink.specification, kind="hand sink"))
    wall = outlet("wall", ways=1, at=("10 in", "-200 in"), electrical={"gfci": outlet_gfci})
    made = build(machine, sink, strip("strip"), wall, wire("strip", "wall.1"),
                 wire("machine", "strip.1"))  # fmt: skip
    return codes(made)


# NEC 210.8(B)(7), 2023: plug-in fixed or stationary appliances within 6 ft of a sink count, not
# only receptacles; stationary is heavier than 18 kg (IEC 60335-1, from memory).
@pytest.mark.parametrize(
    ("mass", "gap_in", "fastened", "told"),
    [
        ("40 kg", 24, False, True),
        ("40 kg", 96, False, False),
        ("5 kg", 24, False, False),
        ("5 kg", 24, True, True),
    ],
)
def test_a_heavy_appliance_beside_a_sink(mass, gap_in, fastened, told):
    found = beside_a_sink(mass, gap_in, fastened=fastened)
    assert ("power.no-leakage-protection" in found) is told


def test_a_protected_outlet_serves_a_machine_beside_a_sink():
    assert beside_a_sink("40 kg", 24, outlet_gfci=True) == {}
    assert "power.leakage-protection-unknown" in beside_a_sink("40 kg", 24, outlet_gfci=None)


# UL 943: (20 / 9.9) to the power 1.43 is 2.7 s; "25 ms", as an article has it, is only for 264 mA.
def test_how_soon_a_leak_trips_is_in_the_working():
    found = next(
        one for one in analyse(cart_of(3.3, 3.3, 3.3)).findings if one.code == "power.leakage"
    )
    assert any("within 3 s" in line.shown(UnitSystem.US) for line in found.working)
