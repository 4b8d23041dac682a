"""The diagrams of samples and of any build: everything is on them, and nothing on anything else."""

import building as b
import pytest
from analysis.random_builds import builds
from documents.one_line.drawn import overlaps
from hypothesis import given, settings
from msgspec.structs import replace

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.one_line.cutting import Room, pieces
from cartlayout.documents.one_line.feeds import feeds
from cartlayout.documents.one_line.model import Diagram
from cartlayout.documents.one_line.power import power_asides, power_diagram
from cartlayout.documents.one_line.water import drain_diagram, supply_diagram, water_asides
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem, show
from cartlayout.water.results import ALL_OPEN

SAMPLES = sorted(sample_builds().glob("*.cart"))
LETTER, A4 = Room(259.0, 138.0), Room(277.0, 132.0)


def check_all_is_there(analysis: Analysis, system: UnitSystem) -> None:
    power = power_diagram(analysis, system)
    keys = {part.key for part in power.parts}
    for item_id, states in analysis.power.appliances.items():
        if states[EVERYTHING_ON].fed:
            assert item_id in keys
    cords = {link.key for link in power.links if link.key.startswith("wire ")}
    assert cords == {f"wire {one.wire.id}" for one in feeds(analysis).values()}
    for circuit in analysis.power.circuits:
        if not circuit.key.endswith("/inverter") and circuit.parent is not None:
            assert f"breaker {circuit.key}" in keys
    tubes = [link.key for one in (supply_diagram, drain_diagram)
             for link in one(analysis, system).links]  # fmt: skip
    assert len(tubes) == len(set(tubes))
    told = " ".join(water_asides(analysis))
    for run in analysis.build.tubes:
        assert run.id in tubes or run.tube.name in told


def check_drawing(diagram: Diagram, room: Room) -> None:
    for piece in pieces(diagram, room):
        assert overlaps(piece.elements) == []


@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_a_sample_is_all_there_and_fits_its_pages(path, system: UnitSystem):
    analysis = analyse(load(path))
    check_all_is_there(analysis, system)
    for make in (power_diagram, supply_diagram, drain_diagram):
        for room in (LETTER, A4):
            found = pieces(make(analysis, system), room)
            assert all(room.holds(one) for one in found)
            for one in found:
                assert overlaps(one.elements) == []


@settings(max_examples=60, deadline=None)
@given(build=builds(most_items=12, most_runs=18))
def test_any_build_is_all_there(build: Build):
    analysis = analyse(build)
    check_all_is_there(analysis, UnitSystem.US)
    for make in (power_diagram, supply_diagram, drain_diagram):
        check_drawing(make(analysis, UnitSystem.US), LETTER)


def texts(diagram: Diagram) -> list[str]:
    found = [words.text for part in diagram.parts for words in part.words]
    return found + [words.text for link in diagram.links for words in (*link.above, *link.below)]


def test_numbers_are_those_of_the_analysis():
    analysis = analyse(load(sample_builds() / "market_cart.cart"))
    words = texts(power_diagram(analysis, UnitSystem.US))
    state = analysis.power.appliances["kettle"][EVERYTHING_ON]
    assert f"10.0 A · 1,200 W · {show(state.volts, 'voltage', UnitSystem.US)}" in words
    assert "A · 20 A · 120 V" in words
    assert "15.5 of 20.0 A" in words
    water = " ".join(texts(supply_diagram(analysis, UnitSystem.US)))
    for tap in analysis.water.taps:
        assert f"at rest {show(tap.static_pa, 'pressure', UnitSystem.US)}" in water
        for state in tap.states.values():
            if state.open:
                assert show(state.pressure_pa, "pressure", UnitSystem.US) in water


def test_a_battery_that_is_charged_is_fed_and_feeds():
    """Two supplies: the outlet charges the battery, whose inverter feeds the till."""
    plain = b.battery("battery")
    plug = b.port("charge", "power", "in", "5-15P", cord=b.cord())
    own = plain.specification
    charged = replace(plain, specification=replace(own, ports=(*own.ports, plug)))
    build = b.build(
        b.outlet("outlet"),
        charged,
        b.load("till", watts=60),
        b.wire("battery.charge", "outlet.1", run_id="charging"),
        b.wire("till", "battery.1"),
    )
    analysis = analyse(build)
    diagram = power_diagram(analysis, UnitSystem.US)
    ends = {(link.a, link.b) for link in diagram.links}
    assert ("outlet", "battery") in ends
    assert ("battery", "battery/out") in ends
    assert ("battery/out", "till") in ends
    check_drawing(diagram, LETTER)


def test_a_second_cord_and_a_free_one_are_told_beside_the_diagram():
    build = b.build(
        b.outlet("one"),
        b.outlet("two"),
        b.strip("strip"),
        b.load("fridge", watts=100),
        b.load("lamp", watts=40),
        b.wire("strip", "one.1"),
        b.wire("strip", "two.1", run_id="again"),
        b.wire("fridge", "strip.1"),
        b.wire("lamp", None),
    )
    analysis = analyse(build)
    said = power_asides(analysis)
    assert any("strip" in line and "two" in line for line in said)
    assert any("lamp" in line and "hangs free" in line for line in said)
    assert any(line.startswith("lamp: no supply") for line in said)


def test_a_ring_of_tubes_is_drawn_with_every_tube():
    build = b.build(
        b.mains("mains"),
        b.tee("left"),
        b.tee("right"),
        b.tap("tap", b.opening("1 gal/min", "20 psi")),
        b.tube("mains", "left.a"),
        b.tube("left.b", "right.a", run_id="one way"),
        b.tube("left.c", "right.b", run_id="other way", length="3 m"),
        b.tube("right.c", "tap"),
    )
    analysis = analyse(build)
    diagram = supply_diagram(analysis, UnitSystem.METRIC)
    assert {link.key for link in diagram.links} == {run.id for run in build.tubes}
    assert all((link.a, link.b) == ("left", "right")
               for link in diagram.links if link.key.endswith("way"))  # fmt: skip
    check_drawing(diagram, A4)


def test_a_tube_that_is_drawn_backwards_is_shown_the_way_the_water_runs():
    build = b.build(
        b.mains("mains"),
        b.tap("tap", b.opening("1 gal/min", "20 psi")),
        b.tube("tap.inlet", "mains.outlet", run_id="t"),
    )
    (link,) = supply_diagram(analyse(build), UnitSystem.US).links
    assert (link.a, link.b, link.flow) == ("mains", "tap.inlet", 1)


@pytest.mark.parametrize("turned", [False, True])
def test_with_all_open_every_tube_leads_from_the_main_to_a_tap(turned: bool):
    """Water runs down from a main to what is open, from whichever end a tube was laid."""
    ways = [("mains.outlet", "tee.a"), ("tee.b", "left.inlet"), ("tee.c", "right.inlet")]
    tubes = [
        b.tube(*(reversed(way) if turned else way), run_id=f"t{at}") for at, way in enumerate(ways)
    ]
    taps = [b.tap(name, b.opening("1 gal/min", "20 psi")) for name in ("left", "right")]
    build = b.build(b.mains("mains"), b.tee("tee"), *taps, *tubes)
    analysis = analyse(build)
    assert any(abs(one.flow) > 0.0 for one in analysis.water.cases[ALL_OPEN].runs.values())
    links = {one.key: one for one in supply_diagram(analysis, UnitSystem.US).links}
    assert [(one.a, one.b) for one in (links["t0"], links["t1"], links["t2"])] == [
        ("mains", "tee"), ("tee", "left.inlet"), ("tee", "right.inlet"),
    ]  # fmt: skip
