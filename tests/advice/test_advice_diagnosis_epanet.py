"""The needles of EPANET: another program's line has the fault, ours has to find it."""

import runpy
from pathlib import Path

import pytest
from building import build, gauge, mains, opening, tap, tee, tube
from msgspec.structs import replace

from cartlayout.advice.diagnosis import diagnose
from cartlayout.analysis import analyse
from cartlayout.build import Reading
from cartlayout.build.edits import replace_item
from cartlayout.units import Pressure
from cartlayout.water import ALL_SHUT, alone
from cartlayout.water.parts import end_loss
from cartlayout.water.properties import water

pytest.importorskip("epanet", reason="owa-epanet has wheels for Linux and Python below 3.13 only")

Epanet = runpy.run_path(str(Path(__file__).parents[1] / "water" / "epanet_reference.py"))["Epanet"]

FLUID = water(293.15)
BORE_M = 0.00635
TUBES = (("one", "S", "a", 1.5), ("two", "a", "b", 2.0), ("three", "b", "c", 1.0))


def drawn_line():
    return build(
        mains("mains", "4 bar", connector="3/8 push-fit", level="base", height="2 in"),
        tee("tee one"),
        gauge("front", "6 bar"),
        tee("tee two"),
        gauge("rear", "6 bar"),
        tap(
            "sink",
            opening("6 L/min", "1 bar"),
            required_flow="2 L/min",
            least="0.2 bar",
            level="base",
        ),
        tube("mains", "tee one.a", "1.5 m", run_id="one"),
        tube("tee one.b", "tee two.a", "2 m", run_id="two"),
        tube("tee two.b", "sink", "1 m", run_id="three"),
        tube("tee one.c", "front.a", "0.1 m"),
        tube("tee two.c", "rear.a", "0.1 m"),
    )


def epanet_shows(cart, source_pa=4e5, pinched=None, heads=0.0):
    """Pressures at the two gauges with the sink open [Pa]."""
    sink = cart.item("sink")
    ends = {
        run.id: end_loss(run, cart.item(run.a.item).specification.port(run.a.port))
        + end_loss(run, cart.item(run.b.item).specification.port(run.b.port))
        for run in cart.tubes
    }
    rated = sink.specification.water.inlets[0].behaviour.rated
    with Epanet(FLUID) as other:
        other.fix("S", 0.0, source_pa)
        for name in "abc":
            other.node(name, 0.0)
        for name, a, b, length_m in TUBES:
            more = heads if name == pinched else 0.0
            other.pipe(name, a, b, length_m, BORE_M, 1.5e-6, ends[name] + more)
        other.emitter("c", rated.flow.si, rated.pressure.si)
        pressures, _ = other.solve()
    return {"front": pressures["a"], "rear": pressures["b"]}


def read_off(cart, shown, rest_pa):
    for gauge_id, pressure_pa in shown.items():
        item = cart.item(gauge_id)
        readings = (
            Reading(ALL_SHUT, Pressure.from_si(rest_pa, "bar", 2)),
            Reading(alone("sink"), Pressure.from_si(pressure_pa, "bar", 2)),
        )
        cart = replace_item(cart, replace(item, readings=readings))
    return cart


def test_without_a_fault_the_needles_are_as_drawn():
    cart = drawn_line()
    found = diagnose(analyse(read_off(cart, epanet_shows(cart), 4e5)))
    assert found.off == 0


@pytest.mark.parametrize("heads", [25.0, 80.0, 300.0])
def test_the_pinched_tube_is_the_one_between_the_gauges(heads):
    cart = drawn_line()
    found = diagnose(analyse(read_off(cart, epanet_shows(cart, 4e5, "two", heads), 4e5)))
    best = found.causes[0]
    assert found.tellable
    assert (best.kind, best.runs) == ("tube pinched", ("two",))
    loss = best.build.run("two").fittings[0].loss_coefficient
    # One hundredth of a bar on the dial, EPANET's friction formula against Colebrook's.
    assert loss == pytest.approx(heads, rel=0.08)


def test_the_pinched_tube_before_both_gauges_is_found():
    cart = drawn_line()
    found = diagnose(analyse(read_off(cart, epanet_shows(cart, 4e5, "one", 60.0), 4e5)))
    assert found.tellable
    assert found.causes[0].runs == ("one",)


def test_lower_mains_are_found():
    cart = drawn_line()
    found = diagnose(analyse(read_off(cart, epanet_shows(cart, 2.8e5), 2.8e5)))
    assert found.tellable
    assert found.causes[0].kind == "mains different"
    assert found.causes[0].value == pytest.approx(2.8e5, abs=0.02e5)
