"""A mounted pump set becomes a lift-out module and goes back.

What belongs to a pump's line, and that a module that is carried needs joints that part by hand,
is common practice, no source.
"""

import pytest
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, End
from cartlayout.build.edits import EditError, replace_item
from cartlayout.build.file import load
from cartlayout.build.geometry import bounds, underside_m
from cartlayout.build.groups import lift_outs, pump_set
from cartlayout.data import sample_builds
from cartlayout.limits import fitting_loss
from cartlayout.network import connect
from cartlayout.stock import entry, placed
from cartlayout.stock.modules import lift_out, mount
from cartlayout.stock.trays import is_tray
from cartlayout.units import Length


@pytest.fixture
def market() -> Build:
    return load(sample_builds() / "market_cart.cart")


SET = ("pump", "accumulator", "filter")


@pytest.mark.parametrize("start", SET)
def test_the_set_is_found_from_any_of_its_parts(market: Build, start: str) -> None:
    # The jug is carried by itself to be filled; the tee parts the line to the taps.
    assert pump_set(market, start) == SET


@pytest.mark.parametrize("start", ["jug", "tee", "espresso", "outlet-1", "nothing"])
def test_what_is_no_part_of_the_line_makes_no_set(market: Build, start: str) -> None:
    assert pump_set(market, start) == ()


def _module(build: Build) -> tuple:
    (items,) = lift_outs(build).values()
    return items


def test_a_module_stands_on_a_tray_and_is_carried(market: Build) -> None:
    after, group = lift_out(market, ["pump"])
    items = _module(after)
    assert {item.group for item in items} == {group}
    (tray,) = (item for item in items if is_tray(item))
    assert {item.id for item in items} == {*SET, tray.id}
    assert not any(item.travels for item in items)
    left, rear, right, front = bounds(tray)
    for item in items:
        if item is tray:
            continue
        box = bounds(item)
        assert left < box[0] < box[2] < right
        assert rear < box[1] < box[3] < front
        assert underside_m(after.cart, item) == pytest.approx(
            underside_m(after.cart, tray) + tray.specification.size.height.si
        )
    # Bodies that stand on the tray do not stand in it.
    clashes = analyse(after).body.clashes
    assert not [one for one in clashes if one.code == "overlap" and tray.id in one.items]


def test_every_tube_that_leaves_parts_by_hand_and_costs_pressure(market: Build) -> None:
    after, _ = lift_out(market, ["pump"])
    joint = fitting_loss("quick-connect, valved")
    for run_id in ("suction", "filtered-line"):
        *_, fitting = after.run(run_id).fittings
        assert (fitting.name, fitting.loss_coefficient) == (joint.name, joint.loss_coefficient)
    for run_id in ("pump-line", "filter-line"):  # inside
        assert after.run(run_id).fittings == market.run(run_id).fittings
    before = analyse(market).water.tap("espresso")
    now = analyse(after).water.tap("espresso")
    case = "Everything open"
    assert now.states[case].pressure_pa < before.states[case].pressure_pa
    assert not [one for one in analyse(after).findings if one.code == "module.joint"]


def test_a_quick_connect_loses_what_its_flow_coefficient_says() -> None:
    # The definition of Cv: gal/min of water at a loss of 1 psi; 0.65 for a valved coupling on
    # 3/8 in tube of 1/4 in bore (from memory). 1 psi = 6894.757 Pa, 1 gal = 3.785412 L.
    flow = 0.65 * 3.785412e-3 / 60
    velocity = flow / (3.14159265 / 4 * (0.25 * 0.0254) ** 2)
    heads = 6894.757 / (0.5 * 999.0 * velocity**2)
    assert fitting_loss("quick-connect, valved").loss_coefficient == pytest.approx(heads, rel=0.02)


def test_there_and_back_is_the_equal_build(market: Build) -> None:
    after, _ = lift_out(market, ["filter"])
    assert mount(after, ["pump"]) == market


def test_what_hung_on_a_wall_stands_on_the_tray(market: Build) -> None:
    pump = replace(market.item("pump"), mount="wall", raised=Length("10 in"))
    after, _ = lift_out(replace_item(market, pump), ["pump"])
    assert after.item("pump").mount == "standing"
    assert after.item("pump").raised == Length("0.5 in")


def test_a_group_of_the_persons_own_keeps_its_name(market: Build) -> None:
    build = market
    for one in SET:
        build = replace_item(build, replace(build.item(one), group="wet side"))
    after, group = lift_out(build, ["accumulator"])
    assert group == "wet side"
    assert mount(after, ["filter"]) == build


def test_a_module_from_stock_stands_on_a_tray_and_is_carried(market: Build) -> None:
    build, ids = placed(market, entry("module-pump-120"), "base", 0.9, 0.6)
    items = [build.item(one) for one in ids]
    assert not any(item.travels for item in items)
    assert is_tray(items[-1])
    assert underside_m(build.cart, items[0]) == pytest.approx(
        underside_m(build.cart, items[-1]) + items[-1].specification.size.height.si
    )


def test_a_module_from_stock_gets_the_joints_it_lacks(market: Build) -> None:
    build, ids = placed(market, entry("module-pump-120"), "base", 0.9, 0.6)
    shut_off = next(one for one in ids if build.item(one).specification.kind == "shut-off")
    rinser, _ = placed(build, entry("rinser"), "counter", 0.9, 0.6)
    new = next(item.id for item in rinser.items if build.item(item.id) is None)
    joined, run = connect(rinser, End(item=shut_off, port="b"), End(item=new, port="inlet"))
    assert [one.runs for one in analyse(joined).findings if one.code == "module.joint"] == [(run,)]
    after, _ = lift_out(joined, ids[:1])
    assert not [one for one in analyse(after).findings if one.code == "module.joint"]
    with pytest.raises(EditError, match="already"):
        lift_out(after, ids[:1])


@pytest.mark.parametrize(
    ("ids", "why"),
    [
        (("espresso",), "several parts"),
        (("outlet-1", "outlet-2"), "venue"),
        (("pump", "espresso"), "different levels"),
        ((), "several parts"),
    ],
)
def test_what_makes_no_module_is_refused(market: Build, ids: tuple[str, ...], why: str) -> None:
    with pytest.raises(EditError, match=why):
        lift_out(market, ids)


def test_what_is_locked_is_refused(market: Build) -> None:
    build = replace_item(market, replace(market.item("filter"), locked=True))
    with pytest.raises(EditError, match="locked"):
        lift_out(build, ["pump"])


def test_only_a_module_can_be_mounted(market: Build) -> None:
    with pytest.raises(EditError, match="no part"):
        mount(market, ["pump"])


def test_a_tube_without_a_joint_and_a_wired_pump_are_said(market: Build) -> None:
    build = market
    for one in SET:
        build = replace_item(build, replace(build.item(one), group="wet", travels=False))
    pump = build.item("pump")
    wired = replace(pump.specification.electrical, hardwired=True)
    build = replace_item(
        build, replace(pump, specification=replace(pump.specification, electrical=wired))
    )
    found = [one for one in analyse(build).findings if one.code.startswith("module.")]
    assert {one.severity for one in found} == {"care"}
    runs = sorted(one.runs[0] for one in found if one.code == "module.joint")
    assert runs == ["filtered-line", "suction"]
    assert [one.items for one in found if one.code == "module.wired-in"] == [("pump",)]
