"""Remedies of what does not join up. Logic of our own: no source outside."""

import building as b
import pytest
from msgspec.structs import replace
from remedies_asking import kinds, of_kind, offered, words

from cartlayout.analysis import analyse
from cartlayout.build import Build, End, Item, TubeRun, Wire
from cartlayout.build.edits import with_
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.limits import end_fitting
from cartlayout.limits.tubes import tubes
from cartlayout.network import connect
from cartlayout.network.connect import tube_from
from cartlayout.stock import stock
from cartlayout.stock.catalogue import entry
from cartlayout.stock.placing import placed

INCH = 0.0254


def stocked(*keys: tuple[str, str, float, float]) -> tuple[Build, list[str]]:
    """Stock on the usual cart: (key, level, x and y in inches); the ids in that order."""
    made, ids = b.build(), []
    for key, level, x_in, y_in in keys:
        made, new = placed(made, entry(key), level, x_in * INCH, y_in * INCH)
        ids.append(new[0])
    return made, ids


def plugged(*things: Item | Wire) -> Build:
    return b.build(
        b.outlet("wall", ways=2, electrical={"gfci": True}),
        b.outlet("other", ways=2, electrical={"gfci": True}, at=("48 in", "-18 in")),
        *things,
    )


def test_two_plugs_in_one_receptacle() -> None:
    made = plugged(
        b.load("till", 60, at=("20 in", "15 in")), b.load("lamp", 40, at=("50 in", "15 in")),
        b.wire("till", "wall.1"), b.wire("lamp", "wall.1"),
    )  # fmt: skip
    found = offered(made, "network.power.receptacle-shared")
    assert found[0].kind == "move load"
    assert found[0].items[0] in ("till", "lamp")


def test_a_plug_in_two_places() -> None:
    made = plugged(
        b.load("till", 60), b.wire("till", "wall.1"), b.wire("till", "wall.2", run_id="again")
    )
    found = offered(made, "network.power.plug-twice")
    assert kinds(found) == {"take away"}
    assert len(found[0].build.wires) == 1


def test_supplies_that_feed_into_each_other_are_parted() -> None:
    strip = b.strip("strip", ways=2)
    made = plugged(
        strip, b.load("till", 60), b.wire("till", "strip.1"), b.wire("strip", "wall.1"),
        Wire(id="back", a=End("strip", "plug"), b=End("other", "1")),
    )  # fmt: skip
    found = offered(made, "network.power.two-supplies")
    assert found
    assert all(one.kind == "take away" for one in found)
    assert all(len(one.build.wires) == 2 for one in found)


def test_a_strip_in_itself_is_pulled_out() -> None:
    made = plugged(b.strip("strip", ways=2), b.wire("strip", "strip.1"))
    found = offered(made, "network.same-item")
    assert {"take away", "lead elsewhere"} <= kinds(found)
    led = of_kind(found, "lead elsewhere")
    assert {end.item for end in (led.build.wires[0].a, led.build.wires[0].b)} != {"strip"}


def test_a_free_end_is_led_on_or_taken_away() -> None:
    made, (jug, pump) = stocked(*_PAIR)
    made, run = connect(made, End(jug, _out(made, jug)), End(pump, _in(made, pump)))
    made = with_(made, runs=tuple(replace(one, b=None) for one in made.runs))
    found = offered(made, "network.free-end")
    assert kinds(found) == {"lead elsewhere", "take away"}
    led = of_kind(found, "lead elsewhere").build.run(run)
    assert isinstance(led, TubeRun)
    assert led.b is not None


def _first(key: str) -> str:
    return next(one.key for one in stock() if one.key.startswith(key) and not one.is_module)


_PAIR = ((_first("jug"), "base", 15.0, 15.0), (_first("pump"), "base", 40.0, 15.0))


def _port(made: Build, item_id: str, way: str) -> str:
    item = made.item(item_id)
    assert item is not None
    return next(
        p.id for p in item.specification.ports if p.medium == "water" and p.direction == way
    )


def _out(made: Build, item_id: str) -> str:
    return _port(made, item_id, "out")


def _in(made: Build, item_id: str) -> str:
    return _port(made, item_id, "in")


def test_a_tube_that_does_not_fit_gives_way_to_one_that_does() -> None:
    made, (jug, pump) = stocked(*_PAIR)
    made, run_id = connect(made, End(jug, _out(made, jug)), End(pump, _in(made, pump)))
    run = made.run(run_id)
    assert isinstance(run, TubeRun)
    wrong = replace(run, tube=_unfit(made, run))
    made = with_(made, runs=(wrong,))
    found = offered(made, "network.water.thread")
    best = of_kind(found, "tube kind")
    assert best.build.run(run_id).tube != wrong.tube
    assert "fit" in words(best)


def _unfit(made: Build, run: TubeRun):
    """A tube of the tables that has no end for one of the ports."""
    ports = [
        made.item(end.item).specification.port(end.port)
        for end in (run.a, run.b)
        if end is not None
    ]
    return next(
        tube_from(row)
        for row in tubes()
        if any(end_fitting(row.name, port.connector) is None for port in ports)
    )


def test_two_tubes_on_one_port_get_a_branch() -> None:
    made, ids = stocked(*_PAIR, (_first("accumulator"), "base", 60.0, 15.0))
    jug, pump, vessel = ids
    made, _ = connect(made, End(jug, _out(made, jug)), End(pump, _in(made, pump)))
    item = made.item(vessel)
    assert item is not None
    port = next(p.id for p in item.specification.ports if p.medium == "water")
    second = replace(made.tubes[0], id="second", b=End(vessel, port))
    made = with_(made, runs=(*made.runs, second))
    found = offered(made, "network.water.port-shared")
    branch = [one for one in found if one.kind == "add branch"]
    assert branch, [words(one) for one in found]
    assert len(branch[0].build.tubes) == 3


def test_bends_that_are_too_tight_get_elbows() -> None:
    made = load(sample_builds() / "market_cart_first_try.cart")
    found = offered(made, "network.tight-bends")
    assert found[0].kind == "elbows"
    elbows = sum(
        fitting.count
        for tube in found[0].build.tubes
        for fitting in tube.fittings
        if "elbow" in fitting.name
    )
    assert f"Fit {elbows} elbows" in words(found[0])
    before, after = analyse(made).water.taps, found[0].analysis.water.taps
    assert [one.item for one in before] == [one.item for one in after]


@pytest.mark.parametrize("kind", ["quick-connect", "mount module"])
def test_a_tube_that_leaves_a_module(kind: str) -> None:
    made = load(sample_builds() / "folding_cart_modules.cart")
    runs = tuple(
        replace(run, fittings=()) if isinstance(run, TubeRun) else run for run in made.runs
    )
    found = offered(with_(made, runs=runs), "module.joint")
    assert kind in kinds(found)
