"""The cart's outline under edits, held against shapely: areas, validity, rounding."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import affinity
from shapely.geometry import Polygon, box

from cartlayout.build import (
    Build,
    Cart,
    CartLeg,
    Caster,
    End,
    Handle,
    Item,
    Leaf,
    Level,
    Point,
    RearPanel,
    Size,
    Specification,
    WayPoint,
    Wire,
    Zone,
)
from cartlayout.build.cart_edits import (
    insert_corner,
    move_corner,
    move_edge,
    remove_corner,
    resized,
    settled,
    shape_of,
    shaped_cart,
    with_cart,
    with_radius,
)
from cartlayout.build.cart_geometry import (
    area_m2,
    extent,
    handle_ring,
    leaf_ring,
    panel_ring,
    surface,
    zone_ring,
)
from cartlayout.build.cart_outline import CORNERS
from cartlayout.build.cart_shape import notch_of
from cartlayout.build.edits import EditError
from cartlayout.build.geometry import outline
from cartlayout.units import Length, Mass


def length(inches: float) -> Length:
    return Length.from_si(inches * 0.0254, "in")


def plain_cart(width: float = 72.0, depth: float = 30.0, **more) -> Cart:
    return Cart(
        width=length(width),
        depth=length(depth),
        levels=(Level(name="counter", height=length(36), clear_height=length(40)),),
        **more,
    )


sizes = st.floats(20, 120).map(lambda inches: round(inches, 1))
shares = st.floats(0.1, 0.9)
offsets = st.floats(-30, 30).map(lambda inches: round(inches, 2) * 0.0254)


@st.composite
def carts(draw) -> Cart:
    """Rectangles, rounded ones, Ls, and outlines that were pulled at."""
    cart = plain_cart(draw(sizes), draw(sizes))
    shape = draw(st.sampled_from(["rectangle", "rounded", "L"]))
    corner = draw(st.sampled_from(CORNERS))
    notch = (
        length(cart.width.si / 0.0254 * draw(shares)),
        length(cart.depth.si / 0.0254 * draw(shares)),
    )
    cart = shaped_cart(cart, shape, corner=corner, notch=notch)
    for _ in range(draw(st.integers(0, 2))):
        try:
            edge = draw(st.integers(0, len(outline(cart)) - 1))
            cart = insert_corner(cart, edge, draw(offsets) + 0.5, draw(offsets) + 0.5)
            cart = move_corner(cart, edge + 1, draw(offsets), draw(offsets), square=False)
        except EditError:
            break
    return cart


@given(carts())
@settings(max_examples=150, deadline=None)
def test_every_outline_that_edits_make_is_valid(cart: Cart):
    """Source: shapely's is_valid (OGC simple features) and area."""
    shape = Polygon(outline(cart))
    assert shape.is_valid
    assert area_m2(outline(cart)) == pytest.approx(shape.area)
    whole = extent(cart)
    assert (cart.width.si, cart.depth.si) == pytest.approx((whole.width, whole.depth), abs=2e-6)


@given(carts(), st.integers(0, 7), offsets, offsets)
@settings(max_examples=150, deadline=None)
def test_an_edge_moved_and_moved_back_is_where_it_was(cart, index, dx, dy):
    try:
        there = move_edge(cart, index, dx, dy)
        back = move_edge(there, index, -dx, -dy)
    except EditError:
        return
    for now, before in zip(outline(back), outline(cart), strict=True):
        assert now == pytest.approx(before, abs=2e-6)


@given(carts(), st.integers(0, 7), offsets, offsets, st.booleans())
@settings(max_examples=150, deadline=None)
def test_a_moved_corner_leaves_a_valid_outline_or_says_why_not(cart, index, dx, dy, square):
    try:
        made = move_corner(cart, index, dx, dy, square)
    except EditError:
        return
    shape = Polygon(outline(made))
    assert shape.is_valid
    assert shape.area > 0


@given(carts(), st.floats(0.5, 14))
@settings(max_examples=100, deadline=None)
def test_rounded_corners_against_shapely(cart, inches):
    """Source: shapely buffers; opening of convex and closing of reflex corners by the radius."""
    points = outline(cart)
    edges = [math.dist(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True)]
    assume(shape_of(cart) in ("rectangle", "rounded", "L"))
    radius = inches * 0.0254
    assume(2 * radius < min(edges) * 0.99)
    made = with_radius(cart, length(inches))
    # Wide arcs need many pieces in shapely as well.
    shape = Polygon(points)
    opened = shape.buffer(-radius).buffer(radius, quad_segs=64)
    wanted = opened.buffer(radius, quad_segs=64).buffer(-radius)
    assert area_m2(surface(made)) == pytest.approx(wanted.area, rel=4e-3)


@pytest.mark.parametrize("corner", CORNERS)
def test_an_l_is_the_rectangle_without_its_corner(corner):
    """Source: shapely's difference of two boxes."""
    cart = shaped_cart(plain_cart(), "L", corner=corner, notch=(length(24), length(10)))
    wide, deep = 72 * 0.0254, 30 * 0.0254
    x = 0.0 if "left" in corner else wide - 24 * 0.0254
    y = 0.0 if "rear" in corner else deep - 10 * 0.0254
    wanted = box(0, 0, wide, deep).difference(box(x, y, x + 24 * 0.0254, y + 10 * 0.0254))
    assert Polygon(outline(cart)).symmetric_difference(wanted).area == pytest.approx(0, abs=1e-9)
    assert shape_of(cart) == "L"
    found, w, d = notch_of(cart)
    assert (found, w, d) == (corner, pytest.approx(24 * 0.0254), pytest.approx(10 * 0.0254))


def test_an_l_without_room_for_its_corner_is_refused():
    with pytest.raises(EditError, match="smaller than the cart"):
        shaped_cart(plain_cart(), "L", notch=(length(72), length(10)))


def test_an_l_that_is_made_a_rectangle_again_is_the_first_cart():
    cart = plain_cart()
    again = shaped_cart(shaped_cart(cart, "L"), "rectangle")
    assert again == cart
    assert again.outline == ()


def test_resizing_keeps_notches_and_carries_wheels_with_their_corner():
    cart = plain_cart(
        casters=(
            Caster(x=length(3), y=length(3), rating=Mass("150 lb")),
            Caster(x=length(69), y=length(27), rating=Mass("150 lb")),
        ),
        legs=(CartLeg(x=length(69), y=length(3), width=length(2)),),
    )
    cart = shaped_cart(cart, "L", corner="front right", notch=(length(12), length(8)))
    wider = resized(cart, length(84), length(36))
    assert notch_of(wider)[1:] == pytest.approx((12 * 0.0254, 8 * 0.0254))
    assert [one.x.text for one in wider.casters] == ["3 in", "81 in"]
    assert [one.y.text for one in wider.casters] == ["3 in", "33 in"]
    assert wider.legs[0].x.text == "81 in"
    stays = resized(cart, length(84), length(36), carry=False)
    assert stays.casters == cart.casters


def test_a_cart_keeps_the_texts_in_which_its_sizes_were_written():
    cart = plain_cart()
    assert resized(cart, Length("6 ft 8 in"), cart.depth).width.text == "6 ft 8 in"


def test_edges_cannot_go_past_each_other():
    cart = plain_cart()
    with pytest.raises(EditError):
        move_edge(cart, 1, -80 * 0.0254, 0.0)
    with pytest.raises(EditError, match="narrower"):
        move_edge(cart, 1, -71 * 0.0254, 0.0)


def test_an_outline_that_crosses_itself_is_refused():
    cart = shaped_cart(plain_cart(), "L", corner="front right", notch=(length(12), length(8)))
    inner = next(
        at
        for at, one in enumerate(outline(cart))
        if one == pytest.approx((60 * 0.0254, 22 * 0.0254))
    )
    with pytest.raises(EditError):
        move_corner(cart, inner, -2.0, -2.0, square=False)


def test_three_corners_are_the_least():
    cart = remove_corner(plain_cart(), 2)
    assert len(outline(cart)) == 3
    with pytest.raises(EditError, match="three"):
        remove_corner(cart, 0)


def test_a_radius_larger_than_half_the_side_is_refused():
    with pytest.raises(EditError, match="half"):
        with_radius(plain_cart(), length(16))


def _on(item_x: float, item_y: float) -> Item:
    size = Size(width=length(10), depth=length(10), height=length(10))
    spec = Specification(name="Box", kind="box", size=size, mass=Mass("1 kg"))
    return Item(id="box", specification=spec, level="counter", x=length(item_x), y=length(item_y))


@given(carts(), offsets, offsets)
@settings(max_examples=80, deadline=None)
def test_a_cart_brought_back_to_the_origin_has_all_as_it_was_to_each_other(cart, dx, dy):
    """Source: shapely's translate; what stands on the cart keeps its place on it."""
    zone = Zone(
        name="Jugs", kind="reserved", level="counter",
        x=length(2), y=length(2), width=length(4), depth=length(4),
    )  # fmt: skip
    build = Build(name="b", cart=replace(cart, zones=(zone,)), items=(_on(10, 10),))
    try:
        edges = range(len(outline(cart)))
        pulled = build.cart
        for edge in edges:
            pulled = move_edge(pulled, edge, dx, dy)
    except EditError:
        return
    pulled_build = with_cart(build, pulled)
    made, by = settled(pulled_build)
    whole = extent(made.cart)
    assert (whole.left, whole.rear) == pytest.approx((0, 0), abs=2e-6)
    moved = affinity.translate(Polygon(outline(pulled)), *by)
    assert moved.symmetric_difference(Polygon(outline(made.cart))).area < 1e-4
    assert made.items[0].x.si - build.items[0].x.si == pytest.approx(by[0], abs=3e-6)
    assert made.cart.zones[0].y.si - zone.y.si == pytest.approx(by[1], abs=3e-6)


def test_bends_of_runs_come_along_when_the_left_edge_is_pulled():
    bend = WayPoint(x=length(20), y=length(10))
    wire = Wire(id="w", a=End(item="box", port="plug"), waypoints=(bend,))
    build = Build(name="b", cart=plain_cart(), items=(_on(10, 10),), runs=(wire,))
    left = next(at for at, one in enumerate(outline(build.cart)) if one[0] == 0.0 and one[1] > 0)
    made, by = settled(with_cart(build, move_edge(build.cart, left, -0.0508, 0.0)))
    assert by == pytest.approx((0.0508, 0.0))
    assert made.runs[0].waypoints[0].x.text == "22 in"
    assert made.items[0].x.text == "12 in"
    assert made.cart.width.text == "74 in"


def test_a_leaf_stays_where_it_is_when_the_edge_beside_it_is_pulled():
    leaf = Leaf(name="Shelf", side="rear", start=length(10), length=length(20), depth=length(8))
    cart = plain_cart(leaves=(leaf,))
    before = Polygon(leaf_ring(cart, leaf))
    left = next(at for at, one in enumerate(outline(cart)) if one == (0.0, cart.depth.si))
    pulled = move_edge(cart, left, -0.1016, 0.0)
    after = Polygon(leaf_ring(pulled, pulled.leaves[0]))
    assert after.symmetric_difference(before).area == pytest.approx(0, abs=1e-9)


def test_a_leaf_gives_way_when_its_side_gets_shorter():
    leaf = Leaf(name="Shelf", side="front", start=length(40), length=length(30), depth=length(8))
    narrow = resized(plain_cart(leaves=(leaf,)), length(50), length(30))
    assert narrow.leaves[0].start.text == "20 in"
    assert narrow.leaves[0].length.text == "30 in"


def test_what_stands_out_from_the_cart_touches_it_and_does_not_lie_on_it():
    """Source: shapely; a leaf shares an edge with the cart and no area."""
    for side in ("rear", "front", "left", "right"):
        leaf = Leaf(name="x", side=side, start=length(4), length=length(20), depth=length(9))
        cart = plain_cart(
            leaves=(leaf,),
            handle=Handle(side=side, height=length(36), reach=length(4)),
            rear_panel=RearPanel(bottom=length(6), top=length(36), side=side),
            corner_radius=length(2),
        )
        surface_shape = Polygon(surface(cart))
        for ring, out in ((leaf_ring(cart, leaf), 9), (handle_ring(cart), 4)):
            shape = Polygon(ring)
            assert shape.touches(surface_shape)
            assert shape.intersection(surface_shape).length > 0
            assert min(shape.bounds[2] - shape.bounds[0], shape.bounds[3] - shape.bounds[1]) == (
                pytest.approx(out * 0.0254)
            )
        assert surface_shape.buffer(1e-6).covers(Polygon(panel_ring(cart, cart.rear_panel)))


def test_a_round_zone_is_an_ellipse():
    """Source: area of an ellipse, pi a b (any handbook of geometry)."""
    zone = Zone(
        name="Hole", kind="opening", level="counter", round=True,
        x=length(1), y=length(1), width=length(6), depth=length(4),
    )  # fmt: skip
    wanted = math.pi * 3 * 2 * 0.0254**2
    assert Polygon(zone_ring(zone)).area == pytest.approx(wanted, rel=5e-3)


def test_corners_of_a_file_may_run_either_way_round():
    points = ((0, 0), (0, 30), (72, 30), (72, 0))
    cart = plain_cart(outline=tuple(Point(x=length(x), y=length(y)) for x, y in points))
    made = move_edge(cart, 2, 0.1, 0.0)
    assert Polygon(outline(made)).area == pytest.approx((72 * 0.0254 + 0.1) * 30 * 0.0254, rel=1e-4)
