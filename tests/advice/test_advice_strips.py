"""What still goes on a circuit, behind strips, on one leg, and where nothing is on yet."""

import pytest
from building import box, branch, build, extension, load, outlet, strip, wire

from cartlayout.advice.additions import additions, room_behind, room_on
from cartlayout.analysis import analyse


def on_strip(amps, rating=15.0, **more):
    """One load on a strip in the only receptacle of a 20 A circuit."""
    return analyse(
        build(
            outlet("hall", ways=1),
            strip("strip", rating, **more),
            load("kettle", amps=amps),
            wire("strip", "hall.1"),
            wire("kettle", "strip.1"),
        )
    )


def test_a_strip_gives_no_more_than_it_has_left():
    """A relocatable tap is rated for all of its receptacles together (its UL category): 3 A are
    left of 15, whatever the 20 A breaker still has."""
    analysis = on_strip(12)
    (circuit,) = analysis.power.circuits
    assert room_behind(analysis, circuit, "strip") == pytest.approx(3.0)
    assert room_behind(analysis, circuit, "hall") == float("inf")
    offered = additions(analysis, circuit)
    assert offered
    assert max(one.amps for one in offered) <= 3.0 * 1.005
    assert {one.receptacle[0] for one in offered} == {"strip"}


def test_a_full_strip_takes_nothing():
    analysis = on_strip(15)
    (circuit,) = analysis.power.circuits
    assert additions(analysis, circuit) == ()


def test_a_thin_extension_counts_before_the_strip_behind_it():
    """13 A is what a 16 AWG two-conductor cord carries (NEC table 400.5(A)(1), column B)."""
    analysis = analyse(
        build(
            outlet("hall", ways=1),
            extension("lead", "16 AWG", "10 ft", 13),
            strip("strip", 15),
            load("kettle", amps=10),
            wire("lead", "hall.1"),
            wire("strip", "lead.1"),
            wire("kettle", "strip.1"),
        )
    )
    (circuit,) = analysis.power.circuits
    assert room_behind(analysis, circuit, "strip") == pytest.approx(3.0)


def test_a_circuit_with_nothing_on_it_takes_what_its_receptacles_allow():
    """NEC 2023 table 210.21(B)(2): 16 A is the most of one appliance on a 20 A receptacle of a
    20 A circuit; 16 A also is 20 A / 1.25 (210.20(A))."""
    analysis = analyse(build(outlet("hall", ways=2)))
    (circuit,) = analysis.power.circuits
    left = room_on(analysis, circuit)
    assert left.left.amps == pytest.approx(16.0)
    assert dict(left.by_limit) == pytest.approx({"total": 20.0, "continuous": 16.0})
    assert left.free == (("hall", "1"), ("hall", "2"))
    offered = additions(analysis, circuit)
    assert max(one.amps for one in offered) <= 16.0 * 1.005
    assert max(one.amps for one in offered) > 12.0


def test_a_box_on_a_leg_counts_its_own_leg():
    """30 A a leg, 28 A of them used on the first: 2 A there, 30 A on the second."""
    analysis = analyse(
        build(
            outlet("feed", 240, 30, receptacle="L14-30R", electrical={"system": "split-phase"}),
            box(
                "box",
                [branch("1", 30, "L1", "1", "3"), branch("2", 20, "L2", "2")],
                30,
                plug="L14-30P",
                receptacles={"1": "L5-30R"},
            ),
            load("machine", amps=28, plug="L5-30P"),
            wire("box", "feed.1"),
            wire("machine", "box.1"),
        )
    )
    on = {one.key: one for one in analysis.power.circuits}
    first, second = (additions(analysis, on[key]) for key in ("box/1", "box/2"))
    assert max((one.amps for one in first), default=0.0) <= 2.0 * 1.005
    assert max(one.amps for one in second) > 12.0


def test_room_between_legs_is_that_of_the_fuller_leg():
    """40 A and 10 A of 50 A on the legs: 10 A and 40 A for 120 V, 10 A between the legs. For
    hours 125 % counts (NEC 2023 210.20(A)): 8 A."""
    analysis = analyse(
        build(
            outlet("feed", 240, 50, receptacle="14-50R", electrical={"system": "split-phase"}),
            box("box", [branch("1", 50, "L1", "1"), branch("2", 20, "L2", "2")], 50),
            load("machine", amps=40, plug="5-20P"),
            load("kettle", amps=10),
            wire("box", "feed.1"),
            wire("machine", "box.1"),
            wire("kettle", "box.2"),
        )
    )
    feed = analysis.power.circuit("venue/feed")
    left = dict(room_on(analysis, feed).by_limit)
    assert left["total"] == pytest.approx(10.0)
    assert left["continuous"] == pytest.approx(8.0)
    assert left["neutral"] == pytest.approx(20.0)
