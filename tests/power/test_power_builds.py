"""Any build at all: half connected, in rings, back-fed; re-use; moving loads about."""

import pytest
from building import (
    battery,
    box,
    branch,
    build,
    cord,
    extension,
    generator,
    item,
    load,
    outlet,
    port,
    strip,
    wire,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build
from cartlayout.build.edits import EditError, move
from cartlayout.findings import power_rules
from cartlayout.network import make_network
from cartlayout.power import EVERYTHING_ON, move_to_circuit, solve_power
from cartlayout.units import ConductorSize, Length, UnitSystem


def solved(cart: Build, previous=None):
    return solve_power(cart, make_network(cart), previous)


def found(cart: Build):
    network = make_network(cart)
    return {one.code: one for one in power_rules.rules(cart, network, solve_power(cart, network))}


# --- every build is an ordinary build ----------------------------------------------------------

_RECEPTACLES = st.sampled_from(["5-15R", "5-20R", "14-50R", "CEE 7/3 R", "no such"])
_PLUGS = st.sampled_from(["5-15P", "14-30P", "6-20P", "CEE 7/7 P", "no such"])
_VOLTS = st.sampled_from([12, 115, 120, 208, 230, 240])
_KINDS = st.sampled_from(["load", "outlet", "strip", "extension", "box", "generator", "battery"])
_SYSTEMS = st.sampled_from(["single-phase", "split-phase"])


@st.composite
def builds(draw):
    things = []
    for index in range(draw(st.integers(0, 9))):
        name = f"t{index}"
        kind = draw(_KINDS)
        if kind == "load":
            one = load(
                name,
                draw(st.sampled_from([None, 0, 60, 1500, 9000])),
                draw(st.sampled_from([None, 0, 0.5, 12])),
                draw(_VOLTS),
                plug=draw(_PLUGS),
                heater=draw(st.booleans()),
                longest_run=draw(st.sampled_from([None, "3 h"])),
                cord=cord("18 AWG", draw(st.sampled_from(["0 ft", "6 ft", "9999 ft"]))),
            )
        elif kind == "outlet":
            one = outlet(
                name,
                draw(_VOLTS),
                draw(st.sampled_from([None, 0, 10, 20])),
                circuit=draw(st.sampled_from([None, "1", "2"])),
                receptacle=draw(_RECEPTACLES),
                ways=draw(st.integers(0, 3)),
                electrical={"system": draw(_SYSTEMS), "shared": draw(st.booleans())},
            )
        elif kind == "strip":
            one = strip(name, ways=3)
        elif kind == "extension":
            one = extension(name)
        elif kind == "battery":
            one = battery(name, volts=draw(st.sampled_from([0, 120])))
        else:
            branches = [
                branch("x", 20, draw(st.sampled_from(["L", "L1", "L2", "L1 L2"])), "1", "2"),
                branch(draw(st.sampled_from("xy")), 15, "L2", "3"),
            ]
            if kind == "box":
                one = box(name, branches, plug=draw(_PLUGS))
            else:
                one = generator(name, branches, draw(_VOLTS), system=draw(_SYSTEMS))
        things.append(one)
    ends = [f"{one.id}.{p.id}" for one in things for p in one.specification.ports]
    runs = []
    for index in range(draw(st.integers(0, 12)) if ends else 0):
        a = draw(st.sampled_from(ends))
        b = draw(st.sampled_from([*ends, "gone.1", None]))
        runs.append(wire(a, b, run_id=f"w{index}"))
    return build(*things, *runs, region=draw(st.sampled_from(["US", "UK", "EU", "AU"])))


@settings(max_examples=150)
@given(builds())
def test_any_build_is_solved_and_talked_about(cart):
    network = make_network(cart)
    power = solve_power(cart, network)
    for system in UnitSystem:
        for one in power_rules.rules(cart, network, power):
            assert one.title.shown(system)
            assert one.detail.shown(system)
            for line in one.working:
                assert line.shown(system)
            for culprit in one.items:
                assert cart.item(culprit) is not None
    loads = [one.id for one in cart.items if one.id in power.appliances]
    assert len(loads) == len(power.appliances)
    for circuit in power.circuits:
        assert circuit.amps[EVERYTHING_ON] >= 0
        # a load behind a cord may draw more than it is counted with, if it holds its power
        total = sum(
            max(one.amps, power.appliances[one.item][EVERYTHING_ON].amps) for one in circuit.loads
        )
        assert circuit.amps[EVERYTHING_ON] <= total + 1e-9
    for key, states in power.appliances.items():
        assert set(states) == set(power.cases)
        if key not in power.item_circuit:
            assert not states[EVERYTHING_ON].fed


def test_a_ring_counts_each_load_once():
    cart = build(
        outlet("outlet"),
        strip("a"),
        strip("b"),
        load("kettle", 1200, cord=cord("10 AWG", "0.1 ft")),
        wire("a", "outlet.1"),
        wire("b", "a.1"),
        wire("a", "b.1", run_id="back"),
        wire("kettle", "b.2"),
    )
    power = solved(cart)
    assert power.circuits[0].amps[EVERYTHING_ON] == pytest.approx(10.0)


def test_two_leg_box_fed_from_one_leg_gives_no_240_v():
    # both bars are on the one leg: leg to neutral works, leg to leg is nothing
    cart = build(
        outlet("outlet", 120, 30, receptacle="TT-30R", ways=1),
        box(
            "box",
            [branch("1", 20, "L1", "1"), branch("2", 20, "L2", "2"), branch("3", 30, "L1 L2", "3")],
            receptacles={"3": "6-30R"},
            plug="TT-30P",
        ),
        load("kettle", amps=10),
        load("urn", amps=8),
        load("boiler", 4800, volts=240, plug="6-30P"),
        wire("box", "outlet.1"),
        wire("kettle", "box.1"),
        wire("urn", "box.2"),
        wire("boiler", "box.3"),
    )
    power = solved(cart)
    assert power.appliances["urn"][EVERYTHING_ON].volts > 110
    circuit = power.circuit("venue/outlet")
    # both legs' amps come back together in the neutral, and a branch across is one leg to neutral
    assert circuit.leg_amps[EVERYTHING_ON]["N"] == pytest.approx(
        circuit.leg_amps[EVERYTHING_ON]["L"]
    )
    assert power.appliances["boiler"][EVERYTHING_ON].volts < 120
    assert found(cart)["power.wrong-voltage"].items == ("boiler",)


def test_appliance_for_120_v_on_230_v_is_a_stop():
    cart = build(
        outlet("outlet", 230, 16, receptacle="CEE 7/3 R"),
        load("grinder", amps=3, heater=False),
        wire("grinder", "outlet.1"),
        region="EU",
    )
    said = found(cart)["power.wrong-voltage"]
    assert said.severity == "stop"
    assert "burn" in said.detail.shown(UnitSystem.METRIC)


def test_half_connected_things_are_notes():
    said = found(build(load("kettle", 1500), strip("strip")))
    assert {one.severity for one in said.values()} == {"note"}
    assert said["power.no-supply"].items == ("kettle", "strip")
    said = found(
        build(outlet("outlet"), strip("strip"), load("kettle", 1500), wire("kettle", "strip.1"))
    )
    assert list(said) == ["power.not-plugged-in"]
    assert said["power.not-plugged-in"].items == ("strip",)


def test_a_cord_that_does_not_reach_is_a_stop():
    cart = build(
        outlet("outlet", at=("36 in", "-200 in")),
        load("kettle", 1500, cord=cord("14 AWG", "6 ft")),
        wire("kettle", "outlet.1"),
    )
    said = found(cart)["power.cord-short"]
    assert said.severity == "stop"
    assert said.runs == ("wire kettle",)
    # 215 in across alone is nearly 18 ft
    assert said.value.si > 215 * 0.0254


def test_a_battery_that_charges_is_said_to_be_left_out():
    pack = battery("battery")
    plug = port("plug", "power", "in", "5-15P", cord=cord())
    pack = replace(
        pack, specification=replace(pack.specification, ports=(plug, *pack.specification.ports))
    )
    cart = build(
        outlet("outlet"),
        pack,
        load("lights", 100),
        wire("battery", "outlet.1"),
        wire("lights", "battery.1"),
    )
    power = solved(cart)
    assert power.wires["wire battery"].circuit == "venue/outlet"
    assert power.circuit("venue/outlet").loads == ()
    assert power.item_circuit["lights"] == "battery/inverter"
    assert found(cart)["power.charging"].runs == ("wire battery",)


def test_strips_in_strips_and_cords():
    # UL category for relocatable power taps: never in series with another tap or a cord set
    things = [outlet("outlet"), strip("a"), strip("b"), extension("cord"), wire("a", "outlet.1")]
    said = found(build(*things, wire("b", "a.1")))
    assert said["power.chained-strips"].severity == "stop"
    assert said["power.chained-strips"].items == ("b", "a")
    assert found(build(*things, wire("cord", "a.1")))["power.chained-strips"].severity == "care"
    assert "power.chained-strips" not in found(build(*things, wire("b", "outlet.2")))


def test_nameplate_that_disagrees_with_itself():
    cart = build(outlet("outlet"), load("machine", 1500, 14.0), wire("machine", "outlet.1"))
    said = found(cart)["power.nameplate"]
    assert said.severity == "note"
    power = solved(cart)
    assert power.circuits[0].loads[0].amps == pytest.approx(14.0, abs=0.02)


# --- re-use --------------------------------------------------------------------------------------


def test_moving_things_about_solves_nothing_again():
    cart = build(outlet("outlet"), load("kettle", 1500), wire("kettle", "outlet.1"))
    first = solved(cart)
    moved = move(cart, ("kettle",), 0.05, 0.02)
    assert solved(moved, first) is first
    shorter = replace(cart, runs=())
    assert solved(shorter, first) is not first


def test_with_a_previous_result_the_answer_is_the_same():
    cart = build(outlet("outlet"), load("kettle", 1500), wire("kettle", "outlet.1"))
    first = solved(cart)
    kettle = cart.items[1]
    other = replace(
        cart, items=(cart.items[0], replace(kettle, label="Big kettle")), venue=cart.venue
    )
    assert solved(other, first) == solved(other)


def test_a_cordless_plug_is_solved_again_when_its_route_changes():
    inlet = item("box", ports=(port("plug", "power", "in", "5-20P"),))
    role = load("x", 1500).specification.electrical
    bare = replace(inlet, specification=replace(inlet.specification, electrical=role))
    cart = build(outlet("outlet"), bare, wire("box", "outlet.1"))
    first = solved(cart)
    moved = move(cart, ("box",), 0.3, 0.0)
    again = solved(moved, first)
    assert again is not first
    assert again.wires["wire box"].length_m > first.wires["wire box"].length_m


# --- moving a load to another circuit ------------------------------------------------------------


def two_circuits():
    return build(
        outlet("left", at=("10 in", "-18 in")),
        outlet("right", at=("60 in", "-18 in"), receptacle="5-15R"),
        load("kettle", amps=10, plug="5-20P"),
        load("grinder", amps=3),
        wire("kettle", "left.1"),
        wire("grinder", "left.2"),
    )


def test_move_to_a_free_receptacle():
    cart = two_circuits()
    power = solved(cart)
    moved = move_to_circuit(cart, make_network(cart), power, "grinder", "venue/right")
    after = solved(moved)
    assert after.item_circuit["grinder"] == "venue/right"
    assert [one.amps[EVERYTHING_ON] for one in after.circuits] == pytest.approx([10, 3], abs=0.01)
    assert [one.id for one in moved.runs] == [one.id for one in cart.runs]


def test_move_says_why_not():
    cart = two_circuits()
    network, power = make_network(cart), solved(cart)
    with pytest.raises(EditError, match="no free receptacle on circuit B takes its 5-20P plug"):
        move_to_circuit(cart, network, power, "kettle", "venue/right")
    with pytest.raises(EditError, match="on circuit A already"):
        move_to_circuit(cart, network, power, "kettle", "venue/left")
    with pytest.raises(EditError, match="no circuit"):
        move_to_circuit(cart, network, power, "kettle", "venue/nowhere")
    with pytest.raises(EditError, match="no item"):
        move_to_circuit(cart, network, power, "pot", "venue/right")
    with pytest.raises(EditError, match="has no plug"):
        move_to_circuit(cart, network, power, "right", "venue/left")
    full = build(
        *two_circuits().items,
        load("c", amps=1),
        load("d", amps=1),
        *two_circuits().runs,
        wire("c", "right.1"),
        wire("d", "right.2"),
    )
    with pytest.raises(EditError, match="every receptacle on circuit B is taken"):
        move_to_circuit(full, make_network(full), solved(full), "grinder", "venue/right")


def test_an_appliance_that_is_not_plugged_in_is_plugged_in():
    cart = build(outlet("left"), load("grinder", amps=3))
    moved = move_to_circuit(cart, make_network(cart), solved(cart), "grinder", "venue/left")
    assert solved(moved).item_circuit["grinder"] == "venue/left"


def test_an_appliance_behind_a_strip_moves_by_its_own_plug():
    cart = build(
        outlet("left"),
        outlet("right"),
        strip("strip"),
        load("kettle", amps=10),
        load("grinder", amps=3),
        wire("strip", "left.1"),
        wire("kettle", "strip.1"),
        wire("grinder", "strip.2"),
    )
    power = solved(cart)
    moved = move_to_circuit(cart, make_network(cart), power, "kettle", "venue/right")
    after = solved(moved)
    assert after.item_circuit == {
        "strip": "venue/left",
        "grinder": "venue/left",
        "kettle": "venue/right",
    }
    # and the strip itself with all that is on it
    moved = move_to_circuit(cart, make_network(cart), power, "strip", "venue/right")
    assert set(solved(moved).item_circuit.values()) == {"venue/right"}


def test_moving_within_a_box_keeps_to_the_breakers_own_receptacles():
    cart = build(
        outlet("feed", 240, 50, receptacle="14-50R", ways=1, electrical={"system": "split-phase"}),
        box("box", [branch("1", 20, "L1", "1", "2"), branch("2", 20, "L2", "3")]),
        load("kettle", amps=10),
        wire("box", "feed.1"),
        wire("kettle", "box.1"),
    )
    moved = move_to_circuit(cart, make_network(cart), solved(cart), "kettle", "box/2")
    assert moved.wires[1].b.port == "3"
    with pytest.raises(EditError):
        move_to_circuit(cart, make_network(cart), solved(cart), "box", "box/2")


def test_venue_run_of_unknown_gauge_adds_no_made_up_drop():
    run = {"run_length": Length("100 ft")}
    plain = solved(build(outlet("o"), load("k", 1200), wire("k", "o.1")))
    unknown = solved(build(outlet("o", electrical=run), load("k", 1200), wire("k", "o.1")))
    known = solved(
        build(
            outlet("o", electrical={**run, "run_size": ConductorSize("12 AWG")}),
            load("k", 1200),
            wire("k", "o.1"),
        )
    )
    volts = [one.appliances["k"][EVERYTHING_ON].volts for one in (plain, unknown, known)]
    assert volts[0] == volts[1] > volts[2]
