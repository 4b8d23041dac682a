"""Feeding an appliance another way keeps the item and its runs."""

import pytest
from building import build, drawn, tank, tap, tube

from cartlayout.build import Appliance, Feed, Inlet
from cartlayout.build.edits import EditError
from cartlayout.build.feeding import feed_by, feed_modes, unused_tubes
from cartlayout.stock import entry, stock
from cartlayout.units import Flow, Pressure, Volume


def machine():
    return tap(
        "machine",
        drawn("1.6 L/min"),
        water={
            "feed": "internal pump",
            "other_feeds": (
                Feed(mode="own reservoir", reservoir=Volume("2 L")),
                Feed(
                    mode="line pressure",
                    inlets=(
                        Inlet(
                            port="inlet",
                            behaviour=drawn("1 L/min"),
                            required_flow=Flow("1 L/min"),
                            least_pressure=Pressure("2 bar"),
                            greatest_pressure=Pressure("6 bar"),
                        ),
                    ),
                ),
            ),
        },
    )


def test_the_item_stays_and_its_tube_with_it():
    made = build(tank("jug"), machine(), tube("jug", "machine"))
    by_hand = feed_by(made, "machine", "own reservoir")
    item = by_hand.item("machine")
    role = item.specification.water
    assert isinstance(role, Appliance)
    assert (role.feed, role.inlets) == ("own reservoir", ())
    assert role.reservoir == Volume("2 L")
    assert by_hand.runs == made.runs
    assert [run.id for run in unused_tubes(by_hand, item)] == ["tube jug machine"]
    assert unused_tubes(made, made.item("machine")) == ()
    before = made.item("machine")
    assert (item.x, item.y, item.level, item.specification.ports) == (
        before.x,
        before.y,
        before.level,
        before.specification.ports,
    )
    assert by_hand.item("jug") is made.item("jug")


def test_there_and_back_changes_nothing():
    made = build(tank("jug"), machine(), tube("jug", "machine"))
    there = feed_by(feed_by(made, "machine", "own reservoir"), "machine", "line pressure")
    assert feed_modes(there.item("machine"))[0] == "line pressure"
    assert set(feed_modes(there.item("machine"))) == set(feed_modes(made.item("machine")))
    assert feed_by(feed_by(made, "machine", "own reservoir"), "machine", "internal pump") == made
    assert feed_by(made, "machine", "internal pump").item("machine") is made.item("machine")


def test_what_cannot_be_says_why():
    made = build(tank("jug"), tap("sink"), tube("jug", "sink"))
    with pytest.raises(EditError, match=r"sink cannot be fed from its own reservoir"):
        feed_by(made, "sink", "own reservoir")
    with pytest.raises(EditError, match=r"jug takes no water"):
        feed_by(made, "jug", "own reservoir")
    with pytest.raises(EditError, match="there is no item 'none'"):
        feed_by(made, "none", "own reservoir")
    assert feed_modes(made.item("jug")) == ()
    assert feed_modes(made.item("sink")) == ("line pressure",)


def test_a_machine_of_the_stock_can_be_fed_every_way_it_says():
    """Common practice, no source: machines are sold plumbed, with a tank, or both."""
    several = [
        one
        for one in stock()
        if one.specification is not None
        and isinstance(one.specification.water, Appliance)
        and one.specification.water.other_feeds
    ]
    assert len(several) >= 5
    assert any("espresso" in one.key for one in several)
    for one in several:
        role = one.specification.water
        ports = {port.id for port in one.specification.ports if port.medium == "water"}
        modes = [role.feed, *(feed.mode for feed in role.other_feeds)]
        assert len(set(modes)) == len(modes)
        for feed in (
            Feed(mode=role.feed, inlets=role.inlets, reservoir=role.reservoir),
            *role.other_feeds,
        ):
            assert (feed.mode == "own reservoir") == (not feed.inlets)
            assert (feed.mode == "own reservoir") == (feed.reservoir is not None)
            assert {inlet.port for inlet in feed.inlets} <= ports
            if feed.mode == "internal pump":
                assert {type(inlet.behaviour).__name__ for inlet in feed.inlets} == {"Drawn"}
    assert entry("espresso-1-group-120").specification.water.feed == "internal pump"
