"""The DXF opened with ezdxf and measured: real size, right layers, nothing the format forbids.

Measures are held against what was authored, in inches or millimetres, never against our own
drawing code. Header variables and units: DXF reference, $INSUNITS 1 is inches and 4 millimetres.
"""

import datetime
import io
import math
from itertools import pairwise

import building as b
import ezdxf
import pytest
from analysis.random_builds import builds
from ezdxf import bbox
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build.cart import Handle, Zone
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.dxf import Wanted, dxf_bytes, everything
from cartlayout.documents.dxf.plan import parts_of
from cartlayout.documents.packet.content import Job
from cartlayout.network import Route
from cartlayout.units import Length, UnitSystem

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
DATE = datetime.date(2026, 3, 1)
INCHES, MILLIMETRES = 1, 4
METRE = {UnitSystem.US: 1 / 0.0254, UnitSystem.METRIC: 1000.0}
pytestmark = pytest.mark.usefixtures("qapp")


def make_job(build, system=UnitSystem.US):
    return Job(build, analyse(build), system, "letter", DATE, "x.cart")


def sample(name, system):
    return make_job(load(sample_builds() / f"{name}.cart"), system)


def opened(job, wanted=None, denominator=None):
    return ezdxf.read(io.StringIO(dxf_bytes(job, wanted, denominator).decode("utf-8")))


def group(doc, name):
    return next(one for key, one in doc.groups if key == name)


def size(entities):
    box = bbox.extents(entities)
    return box.size.x, box.size.y


def on_layer(entities, layer):
    return [one for one in entities if one.dxf.layer == layer]


def inserts(entities):
    return {
        attribs["ID"]: (one, attribs)
        for one in entities
        if one.dxftype() == "INSERT"
        for attribs in [{attrib.dxf.tag: attrib.dxf.text for attrib in one.attribs}]
    }


def outline(insert):
    """Corners of the first closed polyline of a block, as it is inserted."""
    rings = [one for one in insert.virtual_entities() if one.dxftype() == "LWPOLYLINE"]
    return [(x, y) for x, y, *_ in next(one for one in rings if one.closed).get_points()]


def run_lengths(entities):
    """Run id to the length of its polylines."""
    found: dict[str, float] = {}
    for one in entities:
        if one.dxftype() == "LWPOLYLINE" and one.has_xdata("CARTLAYOUT"):
            run = one.get_xdata("CARTLAYOUT")[0].value
            points = [(x, y) for x, y, *_ in one.get_points()]
            found[run] = found.get(run, 0.0) + sum(math.dist(p, q) for p, q in pairwise(points))
    return found


CASES = [(name, UnitSystem.US) for name in SAMPLES] + [
    ("station_kiosk_230v", UnitSystem.METRIC),
    ("folding_cart_modules", UnitSystem.METRIC),
]


@pytest.fixture(scope="module", params=CASES, ids=lambda one: f"{one[0]}-{one[1].value}")
def drawn(request, qapp):
    name, system = request.param
    job = sample(name, system)
    return job, opened(job)


def test_the_file_is_sound_and_says_its_units(drawn):
    job, doc = drawn
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    is_us = job.system is UnitSystem.US
    assert doc.header["$INSUNITS"] == (INCHES if is_us else MILLIMETRES)
    assert doc.header["$MEASUREMENT"] == (0 if is_us else 1)
    assert doc.dxfversion >= "AC1024"  # R2010


def test_there_is_a_group_for_every_level_and_side(drawn):
    job, doc = drawn
    names = {key for key, _ in doc.groups}
    wanted = {f"PLAN-{level.name.upper()}" for level in job.build.cart.levels}
    wanted |= {f"ELEVATION-{side}" for side in ("FRONT", "REAR", "LEFT", "RIGHT")}
    assert names == {*wanted, "NOTES"}


def test_the_cart_is_as_large_as_authored(drawn):
    job, doc = drawn
    per_m, cart = METRE[job.system], job.build.cart
    for level in cart.levels:
        layer = on_layer(group(doc, f"PLAN-{level.name.upper()}"), "CART")
        wanted = (cart.width.si * per_m, cart.depth.si * per_m)
        assert size(layer) == pytest.approx(wanted, abs=1e-6 * per_m)
    counter = max(level.height.si for level in cart.levels)
    lowest = min(level.height.si for level in cart.levels)
    for side, width in (("FRONT", cart.width), ("REAR", cart.width), ("LEFT", cart.depth),
                        ("RIGHT", cart.depth)):  # fmt: skip
        layer = on_layer(group(doc, f"ELEVATION-{side}"), "CART")
        wanted = (width.si * per_m, (counter - lowest) * per_m)
        assert size(layer) == pytest.approx(wanted, abs=1e-6 * per_m)


def test_every_body_is_a_block_of_its_size_at_its_place(drawn):
    job, doc = drawn
    per_m, cart = METRE[job.system], job.build.cart
    for level in cart.levels:
        entities = list(group(doc, f"PLAN-{level.name.upper()}"))
        corner = bbox.extents(on_layer(entities, "CART")).extmin
        blocks = inserts(entities)
        there = {item.id: item for item in job.build.items if item.level in (level.name, "venue")}
        assert set(blocks) == set(there)
        for item_id, (insert, said) in blocks.items():
            item, spec = there[item_id], there[item_id].specification
            assert said["LABEL"] == item.name
            points = outline(insert)
            middle = [sum(axis) / len(points) for axis in zip(*points, strict=True)]
            # y runs from the rear to the front on the plan; in the drawing up is to the rear.
            assert middle[0] - corner.x == pytest.approx(item.x.si * per_m, abs=1e-4 * per_m)
            up = (cart.depth.si - item.y.si) * per_m
            assert middle[1] - corner.y == pytest.approx(up, abs=1e-4 * per_m)
            sides = sorted(math.dist(p, q) for p, q in pairwise(points))
            wanted = sorted((spec.size.width.si * per_m, spec.size.depth.si * per_m))
            assert (sides[0], sides[-1]) == pytest.approx(tuple(wanted), abs=1e-6 * per_m)


def test_every_body_of_an_elevation_is_as_wide_and_high_as_it_is(drawn):
    job, doc = drawn
    per_m = METRE[job.system]
    for side, across in (("FRONT", "width"), ("LEFT", "depth")):
        for item_id, (insert, _) in inserts(group(doc, f"ELEVATION-{side}")).items():
            item = job.build.item(item_id)
            measures = item.specification.size
            quarter = item.rotation % 180 == 90
            other = {"width": "depth", "depth": "width"}[across]
            wide = getattr(measures, other if quarter else across).si
            lines = [one for one in insert.virtual_entities() if one.dxftype() == "LWPOLYLINE"]
            # At corners where another body begins a hair of 0.1 mm may be missing.
            wanted = (wide * per_m, measures.height.si * per_m)
            assert size(lines) == pytest.approx(wanted, abs=3e-4 * per_m), item_id


def test_a_run_is_as_long_as_its_route_from_above(drawn):
    job, doc = drawn
    per_m = METRE[job.system]
    seen = set()
    for level in job.build.cart.levels:
        for run, length in run_lengths(group(doc, f"PLAN-{level.name.upper()}")).items():
            route = job.analysis.network.routes[run]
            flat = [(x, y) for x, y, _ in route.points]
            wanted = sum(math.dist(p, q) for p, q in pairwise(flat))
            assert length == pytest.approx(wanted * per_m, rel=1e-6), run
            # Beside that, what was reckoned by the network: its length without what is upright.
            assert wanted == pytest.approx(route.length_m - route.vertical_m, abs=1e-6)
            seen.add(run)
    assert seen == set(job.analysis.network.routes)


def test_dimensions_measure_what_was_authored(drawn):
    job, doc = drawn
    per_m, cart = METRE[job.system], job.build.cart
    for level in cart.levels:
        entities = group(doc, f"PLAN-{level.name.upper()}")
        found = sorted(one.get_measurement() for one in entities if one.dxftype() == "DIMENSION")
        wanted = sorted((cart.width.si * per_m, cart.depth.si * per_m))
        assert found == pytest.approx(wanted)
    front = [one for one in group(doc, "ELEVATION-FRONT") if one.dxftype() == "DIMENSION"]
    heights = [one for one in front if one.dimtype == 6]  # ordinate
    measured = {}
    for one in heights:
        name = one.dxf.text.removeprefix("<> ")
        measured[name] = one.get_measurement().y
    for level in cart.levels:
        name = next(key for key in measured if key.split(",")[0] == level.name)
        assert measured[name] == pytest.approx(level.height.si * per_m)


def test_layers_go_by_medium_circuit_and_level(drawn):
    job, doc = drawn
    names = {layer.dxf.name for layer in doc.layers}
    for level in job.build.cart.levels:
        assert f"EQUIPMENT-{level.name.upper()}" in names
    for circuit in job.analysis.power.circuits:
        assert f"POWER-{circuit.letter}" in names
    assert {"CART", "WATER", "DRAIN", "DIMENSIONS", "TEXT", "ZONES", "VENUE", "HIDDEN"} <= names
    used = {one.dxf.layer for one in doc.modelspace()}
    assert used <= names
    assert doc.layers.get("DRAIN").dxf.linetype == "CARTLAYOUT-DASHED"
    assert doc.layers.get("WATER").dxf.linetype.upper() == "CONTINUOUS"
    for wire in job.build.wires:
        state = job.analysis.power.wires.get(wire.id)
        if state is None or wire.id not in job.analysis.network.routes:
            continue
        letter = next(c.letter for c in job.analysis.power.circuits if c.key == state.circuit)
        layers = {
            one.dxf.layer
            for one in doc.modelspace().query("LWPOLYLINE")
            if one.has_xdata("CARTLAYOUT") and one.get_xdata("CARTLAYOUT")[0].value == wire.id
        }
        assert layers <= {f"POWER-{letter}", f"POWER-{letter}-OTHER-LEVEL"}


def test_the_caution_and_the_date_are_in_it(drawn):
    _, doc = drawn
    texts = " ".join(one.dxf.text for one in doc.modelspace().query("TEXT"))
    assert "licensed electrician" in texts
    assert "not an approval" in texts
    assert "2026-03-01" in texts


def test_no_drawing_lies_on_another(drawn):
    _, doc = drawn
    boxes = [bbox.extents(list(one), fast=True) for _, one in doc.groups]
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            wide = min(one.extmax.x, other.extmax.x) - max(one.extmin.x, other.extmin.x)
            high = min(one.extmax.y, other.extmax.y) - max(one.extmin.y, other.extmin.y)
            assert min(wide, high) <= 0.0


# --- single ones --------------------------------------------------------------------------------


def test_turned_bodies_are_turned_the_way_they_are_on_the_plan():
    item = b.item("box", size=("20 in", "10 in", "5 in"), rotation=30.0, at=("36 in", "15 in"))
    doc = opened(make_job(b.build(item)), Wanted(("counter",), ()))
    (insert, _) = inserts(doc.modelspace())["box"]
    # Clockwise on the plan. Its front left corner, (-10, 5) from the middle with y to the front,
    # goes to (-10 cos - 5 sin, -10 sin + 5 cos); in the drawing y is turned over, and the middle
    # is at (36, 30 - 15).
    t = math.radians(30)
    wanted = (36 - 10 * math.cos(t) - 5 * math.sin(t), 15 + 10 * math.sin(t) - 5 * math.cos(t))
    nearest = min(math.dist(wanted, corner) for corner in outline(insert))
    assert nearest < 1e-6


def test_what_stands_out_is_measured_too():
    cart = b.cart(handle=Handle(side="right", height=Length("36 in"), reach=Length("4 in")))
    doc = opened(make_job(b.build(cart=cart)), Wanted((), ("front",)))
    linear = [one.get_measurement() for one in doc.modelspace().query("DIMENSION")
              if one.dimtype == 0]  # fmt: skip
    assert sorted(linear) == pytest.approx([72.0, 76.0])


def test_hot_water_has_a_layer_of_its_own():
    build = b.build(
        b.mains("mains", at=("10 in", "-12 in")),
        b.heater("heater", level="base", at=("20 in", "15 in")),
        b.tap("tap", at=("50 in", "15 in")),
        b.tube("mains", "heater", None, run_id="cold"),
        b.tube("heater", "tap", None, run_id="warm"),
    )
    job = make_job(build)
    doc = opened(job)
    layers: dict[str, set[str]] = {}
    for one in doc.modelspace().query("LWPOLYLINE"):
        if one.has_xdata("CARTLAYOUT"):
            run = one.get_xdata("CARTLAYOUT")[0].value
            layers.setdefault(run, set()).add(one.dxf.layer.removesuffix("-OTHER-LEVEL"))
    assert layers == {"cold": {"WATER"}, "warm": {"WATER-HOT"}}


def test_texts_are_read_as_they_stand():
    # "%%d" would be read as a degree sign, "^J" as a line feed, "\\P" as a new paragraph.
    names = ["%%d20", "tea ^J pot", "milk\\Pjug", "Kännchen °C × ½", "<>{a}"]
    items = [
        b.tank(f"i{at}", level="base", at=(f"{10 + 12 * at} in", "10 in"), label=name)
        for at, name in enumerate(names)
    ]
    build = replace(b.build(*items), name="Cart %%u one")
    doc = opened(make_job(build))
    assert not doc.audit().errors
    texts = [one.dxf.text for one in doc.modelspace().query("TEXT")]
    texts += [attrib.dxf.text for one in doc.modelspace().query("INSERT") for attrib in one.attribs]
    assert not any("%%" in text or "\\" in text for text in texts)
    assert any("Kännchen °C × ½" in text for text in texts)
    labels = [one.plain_text() for one in doc.modelspace().query("MTEXT")]
    assert "<>{a}" in labels
    assert "% %d20" in labels
    overrides = [one.dxf.text for one in doc.modelspace().query("DIMENSION")]
    assert all(text.count("<>") == 1 for text in overrides)
    assert not any("{" in text or "\\" in text for text in overrides)


def test_the_size_of_print_follows_the_scale_and_nothing_else_does():
    job = make_job(b.build(b.item("box")))
    ten, twenty = (opened(job, Wanted(("counter",), ()), scale) for scale in (10.0, 20.0))
    heights = [
        next(one.dxf.char_height for one in doc.modelspace().query("MTEXT") if one.text == "box")
        for doc in (ten, twenty)
    ]
    assert heights[1] == pytest.approx(2 * heights[0])
    sizes = [size(on_layer(doc.modelspace(), "CART")) for doc in (ten, twenty)]
    assert sizes[0] == pytest.approx(sizes[1])


def test_a_route_is_parted_where_it_changes_levels():
    route = Route(
        points=((0, 0, 0.2), (1, 0, 0.2), (1, 0, 0.9), (1, 2, 0.9)),
        length_m=3.7,
        levels=("base", "counter"),
        climb=1,
    )
    on_base = parts_of(route, "base")
    assert on_base == [([(0, 0), (1, 0)], True), ([(1, 0), (1, 0), (1, 2)], False)]
    assert [here for _, here in parts_of(route, "counter")] == [False, True]


def test_everything_is_every_level_from_the_top_and_every_side():
    wanted = everything(make_job(b.build()))
    assert wanted == Wanted(("counter", "shelf", "base"), ("front", "rear", "left", "right"))


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds(most_items=6))
def test_any_build_makes_a_sound_file(build):
    doc = opened(make_job(build))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    names = {layer.dxf.name for layer in doc.layers}
    assert {one.dxf.layer for one in doc.modelspace()} <= names


def test_holes_to_cut_and_bore_are_on_a_layer_of_their_own():
    """A rinser with its middle at (30, 10) in has a port there in its underside, fed by a tube of
    3/8 in outside diameter; and an opening of 6 by 4 in is drawn."""
    inlet = replace(b.port("inlet", "water", "in", "3/8 push-fit", "0 in"),
                    x=Length("4 in"), y=Length("4 in"))  # fmt: skip
    made = b.build(
        b.tank("jug", at=("60 in", "20 in")),
        b.item("rinser", size=("8 in", "8 in", "3 in"), at=("30 in", "10 in"), ports=[inlet]),
        b.tube("jug", "rinser.inlet", outer="3/8 in"),
        cart=b.cart(
            zones=(
                Zone(name="sink", kind="opening", level="counter", x=Length("50 in"),
                     y=Length("10 in"), width=Length("6 in"), depth=Length("4 in")),
            )
        ),
    )  # fmt: skip
    doc = opened(make_job(made))
    found = on_layer(group(doc, "PLAN-COUNTER"), "HOLES")
    (bored,) = [one for one in found if one.dxftype() == "CIRCLE"]
    assert bored.dxf.radius == pytest.approx(3 / 16)
    # The cart is 30 in deep: y runs from the rear on the plan, from the front in the drawing.
    assert (bored.dxf.center.x, bored.dxf.center.y) == pytest.approx(place(doc, 30, 30 - 10))
    (cut,) = [one for one in found if one.dxftype() == "LWPOLYLINE"]
    assert size([cut]) == pytest.approx((6, 4))
    assert not on_layer(group(doc, "PLAN-SHELF"), "HOLES")


def place(doc, x, y):
    """A place of the counter's plan in the drawing: from its cart's lower left corner."""
    (edge,) = on_layer(group(doc, "PLAN-COUNTER"), "CART")
    corner = bbox.extents([edge]).extmin
    return corner.x + x, corner.y + y
