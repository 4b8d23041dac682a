"""Which ports go together, what joining them makes, and what cannot be right."""

import building as b
import pytest

from cartlayout.build import Build, End, TubeRun, Wire
from cartlayout.build.edits import EditError
from cartlayout.network import (
    connect,
    fits,
    fitting_ends,
    free_receptacles,
    make_network,
    replug,
)
from cartlayout.units import Temperature


def end(text: str) -> End:
    item, _, port = text.partition(".")
    return End(item=item, port=port)


def codes(build: Build) -> set[str]:
    return {problem.code for problem in make_network(build).problems}


def two_outlets() -> Build:
    return b.build(
        b.outlet("wall"),
        b.outlet("far", at=("60 in", "-18 in")),
        b.load("kettle", 1500),
        b.wire("kettle", "wall.1"),
        b.load("grinder", 400),
    )


# Which plug goes into which receptacle: ANSI/NEMA WD 6 as retold in open
# encyclopaedias; a 20 A plug has a turned blade that a 15 A receptacle lacks.
@pytest.mark.parametrize(
    ("plug", "receptacle", "ok"),
    [("5-15P", "5-20R", True), ("5-20P", "5-15R", False), ("6-20P", "5-20R", False)],
)
def test_plugs_fit_as_the_standard_has_it(plug: str, receptacle: str, ok: bool) -> None:
    build = b.build(b.outlet("wall", receptacle=receptacle), b.load("kettle", 1500, plug=plug))
    assert fits(build, end("kettle.plug"), end("wall.1")).ok is ok
    assert fits(build, end("wall.1"), end("kettle.plug")).ok is ok


@pytest.mark.parametrize(
    ("a", "b_", "reason"),
    [
        ("kettle.plug", "grinder.plug", "two plugs"),
        ("wall.1", "wall.2", "same item"),
        ("grinder.plug", "wall.1", "a plug in it already"),
        ("grinder.plug", "ghost.1", "not there"),
    ],
)
def test_what_does_not_fit_says_why(a: str, b_: str, reason: str) -> None:
    fit = fits(two_outlets(), end(a), end(b_))
    assert not fit.ok
    assert reason in fit.reason


def test_only_fitting_ports_are_offered() -> None:
    found = fitting_ends(two_outlets(), end("grinder.plug"))
    assert set(found) == {end("wall.2"), end("far.1"), end("far.2")}


def test_a_strip_cannot_be_plugged_into_itself() -> None:
    build = b.build(b.outlet("wall"), b.strip("strip"), b.strip("second"))
    build, _ = connect(build, end("strip.plug"), end("second.1"))
    assert not fits(build, end("second.plug"), end("strip.1")).ok
    with pytest.raises(EditError, match="feed itself"):
        connect(build, end("second.plug"), end("strip.1"))


def test_connecting_a_plugged_plug_moves_it() -> None:
    before = two_outlets()
    after, run_id = connect(before, end("far.1"), end("kettle.plug"))
    assert len(after.runs) == len(before.runs)
    wire = after.run(run_id)
    assert isinstance(wire, Wire)
    assert (wire.a, wire.b) == (end("kettle.plug"), end("far.1"))
    assert codes(after) == set()


def test_replugging_keeps_the_wire() -> None:
    before = two_outlets()
    wire = before.wires[0]
    after = replug(before, wire.id, end("far.2"))
    moved = after.run(wire.id)
    assert isinstance(moved, Wire)
    assert moved.b == end("far.2")
    with pytest.raises(EditError, match="two plugs"):
        replug(before, wire.id, end("grinder.plug"))


def test_free_receptacles_come_nearest_first() -> None:
    found = free_receptacles(two_outlets(), end("grinder.plug"))
    assert found[0] == end("wall.2")


def test_a_tube_of_a_fitting_sort_is_chosen() -> None:
    build = b.build(b.tank("jug"), b.pump("pump"))
    build, run_id = connect(build, end("pump.inlet"), end("jug.outlet"))
    tube = build.run(run_id)
    assert isinstance(tube, TubeRun)
    assert (tube.a, tube.b) == (end("jug.outlet"), end("pump.inlet")), "from the source on"
    assert tube.tube.potable
    assert tube.tube.name.startswith("3/8 in")
    assert codes(build) == set()


def test_two_outlets_of_water_are_not_joined() -> None:
    fit = fits(b.build(b.tank("jug"), b.tank("jug2")), end("jug.outlet"), end("jug2.outlet"))
    assert (fit.ok, fit.reason) == (False, "two outlets")


def test_supply_is_never_joined_to_a_drain() -> None:
    build = b.build(b.tank("jug"), b.tank("waste", contents="waste"))
    fit = fits(build, end("jug.outlet"), end("waste.inlet"))
    assert (fit.ok, fit.reason) == (False, "supply water does not join a drain")


@pytest.mark.parametrize(
    ("outlet", "connector"),
    [
        ("60 degC", "3/8 compression"),
        ("60 degC", "3/8 push-fit"),
        ("60 degC", "1/2 NPT"),
        ("41 degC", "15 mm push-fit"),
        ("60 degC", "1/2 BSP"),
    ],
)
def test_tube_for_hot_water_is_taken_behind_a_heater(outlet, connector):
    """A push-fit tube brochure: soft polyethylene is for cold water only."""
    items = (
        b.mains("mains", "40 psi", connector=connector, level="base"),
        b.heater("heater", outlet, connector=connector),
        b.tap("sink", connector=connector, level="base"),
    )
    made, cold = connect(b.build(*items), end("mains.outlet"), end("heater.inlet"))
    made, hot = connect(made, end("sink.inlet"), end("heater.outlet"))
    warm = made.run(hot).tube
    assert warm.material != "polyethylene"
    assert "PVC" not in warm.material
    assert warm.potable
    assert made.run(cold).tube.potable
    assert warm.rating_at.si >= Temperature(outlet).si or (
        warm.warm_rating_at.si >= Temperature(outlet).si
    )
