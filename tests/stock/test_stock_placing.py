"""Stock put on a cart: single bodies, and modules as one group."""

import pytest
from building import build

from cartlayout.build import VENUE, Build, TubeRun
from cartlayout.build.edits import EditError
from cartlayout.build.file import decode, encode
from cartlayout.limits import plug_fits, tube_row
from cartlayout.limits.end_fittings import end_fitting
from cartlayout.stock import entry, placed, stock

SINGLES = [one for one in stock() if one.specification is not None]
MODULES = [one for one in stock() if one.is_module]


@pytest.mark.parametrize("one", [pytest.param(one, id=one.key) for one in stock()])
def test_every_entry_can_be_placed_and_goes_through_a_file(one):
    start = build()
    made, ids = placed(start, one, "counter", 0.9, 0.4)
    assert len(ids) == len(one.items) + one.is_module  # and its tray
    assert decode(encode(made)) == made
    for item_id in ids:
        item = made.item(item_id)
        assert item.level == (VENUE if one.stands == "venue" else "counter")
        assert item.specification.stock in {each.key for each in SINGLES}


def test_placing_a_single_entry():
    made, (item_id,) = placed(build(), entry("kettle-120"), "counter", 0.5, 0.25)
    item = made.item(item_id)
    assert item.x.si == pytest.approx(0.5, abs=1e-4)
    assert item.y.si == pytest.approx(0.25, abs=1e-4)
    assert item.group is None
    assert item.specification.stock == "kettle-120"
    again, (second,) = placed(made, entry("kettle-120"), "counter", 0.5, 0.25)
    assert second != item_id
    assert len(again.items) == 2


def test_placing_a_module_makes_one_group_with_its_runs():
    module = entry("module-pump-120")
    made, ids = placed(build(), module, "base", 0.9, 0.4)
    groups = {made.item(item_id).group for item_id in ids}
    assert len(groups) == 1
    assert groups != {None}
    assert len(made.runs) == len(module.runs)
    assert {end.item for run in made.runs for end in (run.a, run.b)} <= set(ids)
    twice, more = placed(made, module, "base", 0.9, 0.7)
    assert {twice.item(item_id).group for item_id in more}.isdisjoint(groups)
    assert len({run.id for run in twice.runs}) == 2 * len(module.runs)


def test_placing_on_a_level_that_is_not_there():
    with pytest.raises(EditError, match="no level 'roof'"):
        placed(build(), entry("kettle-120"), "roof", 0, 0)
    # The venue's own things do not ask for a level.
    made, (item_id,) = placed(build(), entry("outlet-20-120"), "roof", 0, -0.5)
    assert made.item(item_id).level == VENUE


@pytest.mark.parametrize("module", [pytest.param(one, id=one.key) for one in MODULES])
def test_modules_are_put_together_right(module):
    specs = {one.id: one.specification for one in module.items}
    for run in module.runs:
        a, b = (specs[end.item].port(end.port) for end in (run.a, run.b))
        if isinstance(run, TubeRun):
            row = tube_row(run.tube.name)
            assert (run.tube.outer, run.tube.bore, run.tube.rating) == (
                row.outer,
                row.bore,
                row.rating,
            )
            assert end_fitting(run.tube.name, a.connector) is not None
            assert end_fitting(run.tube.name, b.connector) is not None
        else:
            assert plug_fits(a.connector, b.connector)
    # Its bodies stand beside each other, not in each other.
    boxes = [
        (
            one.dx.si - one.specification.size.width.si / 2,
            one.dx.si + one.specification.size.width.si / 2,
            one.dy.si - one.specification.size.depth.si / 2,
            one.dy.si + one.specification.size.depth.si / 2,
        )
        for one in module.items
    ]
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            apart_x = one[1] <= other[0] + 1e-9 or other[1] <= one[0] + 1e-9
            apart_y = one[3] <= other[2] + 1e-9 or other[3] <= one[2] + 1e-9
            assert apart_x or apart_y
    width, depth, height = module.size_m
    assert 0.2 < width < 0.9
    assert 0.1 < depth < 0.6
    assert 0.1 < height < 0.6


def test_a_build_of_everything_is_still_a_build():
    whole: Build = build()
    for at, one in enumerate(stock()):
        whole, _ = placed(whole, one, "base", 0.1 * at, 0.3)
    assert decode(encode(whole)) == whole


@pytest.mark.parametrize(
    ("key", "region", "plug"),
    # Plugs of the regions: BS 1363 to 13 A, AS/NZS 3112 10 A and 15 A, CEE 7/7 to 16 A.
    [
        ("espresso-1-group-230", "EU", "CEE 7/7 P"),
        ("espresso-1-group-230", "UK", "BS 1363 P"),
        ("espresso-1-group-230", "AU", "AS/NZS 3112 15 A P"),
        ("grinder-on-demand-230", "AU", "AS/NZS 3112 10 A P"),
        ("till-tablet-230", "UK", "BS 1363 P"),
        ("espresso-2-group-230", "UK", "IEC 60309 16 A blue P"),
        ("pump-7-3.5-230", "UK", "BS 1363 P"),
        ("kettle-120", "US", "5-15P"),
        # Carried to another region it keeps the plug it has.
        ("kettle-120", "UK", "5-15P"),
    ],
)
def test_appliances_come_with_the_plug_of_the_region(key, region, plug):
    made, (item_id,) = placed(build(region=region), entry(key), "counter", 0.5, 0.3)
    specification = made.item(item_id).specification
    assert specification.port("plug").connector == plug
    assert specification.port("plug").cord == entry(key).specification.port("plug").cord


@pytest.mark.parametrize("region", ["US", "UK", "EU", "AU"])
def test_every_appliance_of_a_region_goes_into_some_outlet_there(region):
    ours = [one for one in stock() if not one.regions or region in one.regions]
    offered = {
        port.connector
        for one in ours
        for placement in one.items
        for port in placement.specification.ports
        if port.medium == "power" and port.direction == "out"
    }
    for one in ours:
        made, ids = placed(build(region=region), one, "counter", 0.5, 0.3)
        for item_id in ids:
            for port in made.item(item_id).specification.ports:
                if port.medium == "power" and port.direction == "in":
                    fitting = [out for out in offered if plug_fits(port.connector, out)]
                    assert fitting, (one.key, port.connector)


def test_placed_equipment_has_a_short_name_of_its_own():
    machine = entry("espresso-1-group-120")
    made, _ = placed(build(), machine, "counter", 0.5, 0.4)
    made, _ = placed(made, machine, "counter", 1.2, 0.4)
    assert [item.name for item in made.items] == ["Espresso machine", "Espresso machine 2"]
