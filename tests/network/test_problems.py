"""Every way of joining things that cannot be right is found, with the ids of both ends."""

import building as b
from msgspec.structs import replace

from cartlayout.build import Build, DrainPump, End, Item, Wire
from cartlayout.limits import tubes
from cartlayout.network import Problem, make_network
from cartlayout.units import Flow, Length, Volume


def problems(build: Build) -> list[Problem]:
    return list(make_network(build).problems)


def only(build: Build) -> Problem:
    (problem,) = problems(build)
    return problem


def test_nothing_joined_is_nothing_wrong() -> None:
    assert problems(b.build()) == []
    assert problems(b.build(b.load("kettle", 1500), b.tank("jug"))) == []


def test_a_free_end() -> None:
    wire = b.wire("kettle", None)
    problem = only(b.build(b.load("kettle", 1500), wire))
    assert (problem.code, problem.runs, problem.ends) == (
        "free-end",
        (wire.id,),
        (("kettle", "plug"),),
    )


def test_an_end_at_something_that_is_gone() -> None:
    problem = only(b.build(b.load("kettle", 1500), b.wire("kettle", "gone.1")))
    assert problem.code == "end-missing"
    assert "'gone'" in problem.detail


def test_two_plugs_in_one_receptacle() -> None:
    wires = b.wire("kettle", "wall.1"), b.wire("urn", "wall.1")
    problem = only(b.build(b.outlet("wall"), b.load("kettle", 900), b.load("urn", 600), *wires))
    assert problem.code == "power.receptacle-shared"
    assert set(problem.runs) == {wire.id for wire in wires}
    assert set(problem.ends) == {("wall", "1"), ("kettle", "plug"), ("urn", "plug")}


def test_one_plug_in_two_receptacles() -> None:
    found = problems(
        b.build(
            b.outlet("wall"),
            b.load("kettle", 900),
            b.wire("kettle", "wall.1"),
            b.wire("kettle", "wall.2", run_id="again"),
        )
    )
    assert {"power.plug-twice", "power.loop"} == {problem.code for problem in found}


def test_a_plug_that_does_not_go_in() -> None:
    problem = only(
        b.build(
            b.outlet("wall", receptacle="5-15R"),
            b.load("oven", 1800, plug="5-20P"),
            b.wire("oven", "wall.1"),
        )
    )
    assert problem.code == "power.misfit"
    assert problem.ends == (("oven", "plug"), ("wall", "1"))
    assert problem.detail


def test_strips_in_a_ring() -> None:
    found = problems(
        b.build(
            b.strip("one"),
            b.strip("two"),
            b.wire("one", "two.1"),
            b.wire("two", "one.1"),
        )
    )
    loop = next(problem for problem in found if problem.code == "power.loop")
    assert loop.items == ("one", "two")
    assert len(loop.runs) == 2


def test_a_strip_plugged_into_itself() -> None:
    found = problems(b.build(b.strip("one"), b.wire("one", "one.1")))
    assert {"same-item", "power.loop"} == {problem.code for problem in found}


def test_two_supplies_that_feed_into_each_other() -> None:
    double = Wire(id="double", a=End(item="wall", port="1"), b=End(item="battery", port="1"))
    found = problems(b.build(b.outlet("wall"), b.battery("battery"), double))
    by_code = {problem.code: problem for problem in found}
    assert set(by_code) == {"power.ends-alike", "power.two-supplies"}
    assert by_code["power.two-supplies"].items == ("battery", "wall")


def test_media_are_not_mixed() -> None:
    to_drain = b.tube("jug", "waste")
    found = only(b.build(b.tank("jug"), b.tank("waste", contents="waste"), to_drain))
    assert found.code == "mixed-media"
    assert found.ends == (("jug", "outlet"), ("waste", "inlet"))
    wire_to_water = Wire(
        id="w", a=End(item="kettle", port="plug"), b=End(item="jug", port="outlet")
    )
    found = only(b.build(b.load("kettle", 900), b.tank("jug"), wire_to_water))
    assert found.code == "mixed-media"


def test_two_inlets_joined() -> None:
    problem = only(b.build(b.pump("p1"), b.pump("p2"), b.tube("p1.inlet", "p2.inlet")))
    assert problem.code == "water.ends-alike"


def test_two_tubes_on_one_port() -> None:
    build = b.build(
        b.tank("jug"),
        b.pump("p1"),
        b.pump("p2"),
        b.tube("jug", "p1", run_id="t1"),
        b.tube("jug", "p2", run_id="t2"),
    )
    problem = only(build)
    assert (problem.code, problem.runs) == ("water.port-shared", ("t1", "t2"))


# Parallel pipe threads to ISO 228 and taper threads to ASME B1.20.1 have other
# flank angles (55 and 60 degrees): a hose with nuts of one does not seal on the other.
def test_a_hose_of_the_wrong_thread() -> None:
    hoses = [row.name for row in tubes() if "BSP" in row.name]
    assert hoses, "the tables hold at least one hose with parallel threads"
    build = b.build(
        b.mains("mains", connector="1/2 NPT"),
        b.tap("boiler", connector="3/8 BSP"),
        b.tube("mains", "boiler"),
    )
    run = build.tubes[0]
    build = replace(build, runs=(replace(run, tube=replace(run.tube, name=hoses[0])),))
    problem = only(build)
    assert problem.code == "water.thread"
    assert "1/2 NPT" in problem.detail


def test_drains_in_a_ring() -> None:
    def lifter(name: str) -> Item:
        return b.item(
            name,
            ports=(
                b.port("inlet", "drain", "in", "drain 1 in"),
                b.port("outlet", "drain", "out", "drain 1 in"),
            ),
            water=DrainPump(sump=Volume("2 L"), flow=Flow("5 L/min"), lift=Length("3 m")),
        )

    build = b.build(
        lifter("one"),
        lifter("two"),
        b.tube("one.outlet", "two.inlet"),
        b.tube("two.outlet", "one.inlet"),
    )
    assert [problem.code for problem in problems(build)] == ["drain.loop"]


def test_an_unchanged_network_is_not_made_again() -> None:
    build = b.build(b.tank("jug"), b.pump("pump"), b.tube("jug", "pump"))
    first = make_network(build)
    assert make_network(replace(build, name="Other"), first) is first
    assert make_network(replace(build, items=build.items[:1]), first) is not first
