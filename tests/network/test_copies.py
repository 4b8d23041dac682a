"""Copies that are joined to what their originals are joined to."""

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.build import End
from cartlayout.network import connect
from cartlayout.network.copies import duplicate_joined


def joined(build, a, c):
    ends = [End(item=one.split(".")[0], port=one.split(".")[1]) for one in (a, c)]
    return connect(build, *ends)


def ends_of(build, item_id):
    """What an item's runs go to, as "item.port"."""
    found = []
    for run in build.runs:
        for near, far in ((run.a, run.b), (run.b, run.a)):
            if near is not None and far is not None and near.item == item_id:
                found.append(f"{far.item}.{far.port}")
    return sorted(found)


def cart():
    """A kettle in the first way of an outlet with two."""
    outlet = b.outlet("wall", at=("10 in", "-16 in"), ways=2)
    kettle = b.load("kettle", None, 8.0, at=("10 in", "10 in"))
    build = b.build(outlet, kettle)
    ports = [port.id for port in outlet.specification.ports]
    plug = kettle.specification.ports[0].id
    build, _ = joined(build, f"kettle.{plug}", f"wall.{ports[0]}")
    return build, ports


def test_a_copy_is_plugged_into_the_next_free_way_of_the_same_outlet():
    build, ports = cart()
    made, new, missed = duplicate_joined(build, ("kettle",), 0.3, 0.0)
    assert missed == ()
    assert ends_of(made, new[0]) == [f"wall.{ports[1]}"]
    assert ends_of(made, "kettle") == [f"wall.{ports[0]}"]
    assert made.item(new[0]).x.si - build.item("kettle").x.si == pytest.approx(0.3, abs=1e-5)


def test_without_a_free_way_the_copy_hangs_free_and_the_source_is_named():
    build, _ = cart()
    build, _, _ = duplicate_joined(build, ("kettle",), 0.3, 0.0)
    made, new, missed = duplicate_joined(build, ("kettle",), 0.6, 0.0)
    assert missed == (build.item("wall").name,)
    assert ends_of(made, new[0]) == []


def test_what_is_joined_within_the_copied_is_joined_within_the_copies_once():
    jug = b.tank("jug", at=("10 in", "24 in"))
    pump = b.pump("pump", at=("28 in", "24 in"))
    build, _ = joined(b.build(jug, pump), "jug.outlet", "pump.inlet")
    made, new, missed = duplicate_joined(build, ("jug", "pump"), 0.0, 0.2)
    assert missed == ()
    assert len(made.runs) == 2
    assert ends_of(made, new[0]) == [f"{new[1]}.inlet"]


def test_a_tube_keeps_its_sort_and_spare():
    tee = b.tee("tee", at=("20 in", "10 in"))
    tap = b.tap("tap", at=("40 in", "10 in"))
    build = b.build(tee, tap)
    outlets = [port.id for port in tee.specification.ports]
    build, run_id = joined(build, f"tee.{outlets[0]}", f"tap.{tap.specification.ports[0].id}")
    run = build.run(run_id)
    longer = replace(run, spare=type(run.spare)("9 in"))
    build = replace(build, runs=(longer,))
    made, new, missed = duplicate_joined(build, ("tap",), 0.0, 0.2)
    assert missed == ()
    copy = next(one for one in made.runs if one.id != run_id)
    assert copy.tube == longer.tube
    assert copy.spare.text == "9 in"
    assert {copy.a.item, copy.b.item} == {"tee", new[0]}
    assert {copy.a.port, copy.b.port} & set(outlets) != {outlets[0]}
