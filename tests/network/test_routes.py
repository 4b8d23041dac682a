"""Ways of wires and tubes: square, round bodies, on their levels, past boards where they can.

Reference: networkx (shortest paths, connectedness) and shapely (what runs through what).
"""

import itertools
import math
import sys
from pathlib import Path

import building as b
import networkx as nx
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import LineString, box

from cartlayout.build import Build, CartLeg, Item, Point, Port, RearPanel, WayPoint, Zone, edits
from cartlayout.build.file import load
from cartlayout.build.geometry import bounds, underside_m
from cartlayout.data import sample_builds
from cartlayout.network import make_network
from cartlayout.network.results import Network, Route
from cartlayout.units import Length

sys.path.append(str(Path(__file__).parents[1] / "analysis"))
from random_builds import builds

INCH = 0.0254
relaxed = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def m(metres: float) -> Length:
    return Length(f"{metres:.4f} m")


def side_port(port_id: str, side: str, size_m: float = 0.2, z_m: float = 0.05) -> Port:
    """A water port in the middle of one side of a square body."""
    half = size_m / 2
    x, y = {
        "left": (0.0, half),
        "right": (size_m, half),
        "rear": (half, 0.0),
        "front": (half, size_m),
    }[side]
    return Port(id=port_id, medium="water", direction="through", connector="3/8 push-fit",
                x=m(x), y=m(y), z=m(z_m))  # fmt: skip


def block(item_id: str, x_m: float, y_m: float, side: str = "front", **more: object) -> Item:
    """A cube of 0.2 m with one port, on the base unless said otherwise."""
    more.setdefault("level", "base")
    made = b.item(item_id, size=("0.2 m", "0.2 m", "0.2 m"), ports=(side_port("p", side),), **more)
    return replace(made, x=m(x_m), y=m(y_m))


def joined(*items: Item, cart: object = None, **tube: object) -> Build:
    """The first two joined by a tube whose length is that of its way."""
    run = b.tube(f"{items[0].id}.p", f"{items[1].id}.p", None, run_id="run", **tube)
    return b.build(*items, run, cart=cart or b.cart("2 m", "1.2 m"))


def with_way_points(build: Build, *places: tuple[float, float]) -> Build:
    points = tuple(WayPoint(x=m(x), y=m(y)) for x, y in places)
    return edits.replace_run(build, replace(build.runs[0], waypoints=points))


def way(build: Build, run_id: str = "run") -> Route:
    return make_network(build).routes[run_id]


def check_square(route: Route) -> None:
    for p, q in itertools.pairwise(route.points):
        differs = [abs(i - j) > 1e-9 for i, j in zip(p, q, strict=True)]
        assert sum(differs) <= 1, "one axis at a time"
    steps = itertools.pairwise(route.points)
    total = sum(abs(i - j) for p, q in steps for i, j in zip(p, q, strict=True))
    assert route.length_m == pytest.approx(total)
    first, last = route.points[0], route.points[-1]
    straight = sum(abs(i - j) for i, j in zip(first, last, strict=True))
    assert route.length_m >= straight - 1e-9
    rise = sum(abs(q[2] - p[2]) for p, q in itertools.pairwise(route.points))
    assert route.vertical_m == pytest.approx(rise)


def hidden_m(build: Build, route: Route, own: tuple[str, ...] = ()) -> float:
    """Metres of the level parts inside bodies that reach into their height, by shapely.

    What leads out of a body of its own from a port that lies within does not count.
    """
    total = 0.0
    legs = list(itertools.pairwise(route.points))
    for item in build.items:
        low = underside_m(build.cart, item)
        high = low + item.specification.size.height.si
        body = box(*bounds(item)).buffer(-0.002)
        for p, q in legs[1:-1] if item.id in own else legs:
            if p[2] == q[2] and low < p[2] < high:
                total += LineString([p[:2], q[:2]]).intersection(body).length
    return total


# --- every way ----------------------------------------------------------------------------------


def unlike_tees() -> Build:
    """One with ports at half an inch, one with ports at 12 mm, joined on the floor."""
    tees = [
        b.item("inch", ports=(side_port("p", "left", 0.1, 0.0127),), level="venue"),
        b.item("mm", ports=(side_port("p", "left", 0.1, 0.012),), level="venue"),
    ]
    return b.build(*tees, b.tube("inch.p", "mm.p", None, run_id="run"))


@relaxed
@given(builds())
@example(unlike_tees())
@example(with_way_points(unlike_tees(), (0.2, 0.4)))
def test_every_way_is_square_and_joins_its_ports(build: Build) -> None:
    network = make_network(build)
    for run in build.runs:
        ends = [(end.item, end.port) for end in (run.a, run.b) if end is not None]
        known = len(ends) == 2 and all(end in network.heights_m for end in ends)
        assert (run.id in network.routes) == known
        if known:
            route = network.routes[run.id]
            places = network.places
            assert places is not None
            assert route.points[0] == pytest.approx(places.positions[ends[0]])
            assert route.points[-1] == pytest.approx(places.positions[ends[1]])
            check_square(route)


@relaxed
@given(builds(), st.data())
def test_ways_are_the_same_with_an_earlier_network_and_without(
    build: Build, data: st.DataObject
) -> None:
    before: Network | None = None
    for _ in range(3):
        network = make_network(build, before)
        fresh = make_network(build)
        assert network.routes == fresh.routes
        assert network.heights_m == fresh.heights_m
        assert network.problems == fresh.problems
        for lent, made in (
            (network.power, fresh.power),
            (network.supply, fresh.supply),
            (network.drain, fresh.drain),
        ):
            assert set(lent.edges(keys=True)) == set(made.edges(keys=True))
        before = network
        if not build.items:
            return
        some = data.draw(st.sampled_from([item.id for item in build.items]))
        change = data.draw(st.sampled_from(["move", "turn", "level", "remove"]))
        if change == "move":
            dx, dy = data.draw(st.tuples(st.floats(-0.5, 0.5), st.floats(-0.3, 0.3)))
            build = edits.move(build, [some], dx, dy)
        elif change == "turn":
            build = edits.rotate(build, [some], 90.0)
        elif change == "level":
            build = edits.set_level(build, [some], data.draw(st.sampled_from(["base", "shelf"])))
        else:
            build = edits.remove(build, [some])


@pytest.mark.parametrize("path", sorted(sample_builds().glob("*.cart")), ids=lambda path: path.stem)
def test_ways_of_a_sample_go_through_nothing(path: Path) -> None:
    build = load(path)
    for run_id, route in make_network(build).routes.items():
        check_square(route)
        run = build.run(run_id)
        assert run is not None
        assert run.b is not None
        own = (run.a.item, run.b.item)
        assert hidden_m(build, route, own) == pytest.approx(0.0, abs=1e-6), run_id


# --- round bodies -------------------------------------------------------------------------------

CELLS = [(column, row) for column in range(6) for row in range(4)]


@st.composite
def crowds(draw: st.DrawFn) -> Build:
    """Cubes of 0.2 m on a 0.3 m raster of a 2 m x 1.4 m base, two of them joined."""
    cells = draw(st.lists(st.sampled_from(CELLS), min_size=2, max_size=14, unique=True))
    sides = draw(st.tuples(*[st.sampled_from(["left", "right", "rear", "front"])] * 2))
    items = [
        block(f"i{at}", 0.25 + 0.3 * column, 0.25 + 0.3 * row, sides[at] if at < 2 else "front")
        for at, (column, row) in enumerate(cells)
    ]
    return joined(*items, cart=b.cart("2 m", "1.4 m"))


@relaxed
@given(crowds())
def test_a_way_is_free_of_bodies_wherever_one_is(build: Build) -> None:
    """In this raster every aisle is 0.1 m wide, so there is always a free way."""
    route = way(build)
    assert hidden_m(build, route) == pytest.approx(0.0, abs=1e-6)


@relaxed
@given(crowds())
def test_a_way_is_hardly_longer_than_the_shortest_of_a_reference(build: Build) -> None:
    """networkx finds the shortest way on a 5 cm raster; ours may be longer to save bends."""
    route = way(build)
    bodies = [box(*bounds(item)).buffer(0.02, join_style="mitre") for item in build.items]
    step = 0.05
    graph = nx.grid_2d_graph(41, 29)
    for body in bodies:
        x0, y0, x1, y1 = body.bounds
        for column, row in itertools.product(
            range(math.ceil(x0 / step - 1e-6), math.floor(x1 / step + 1e-6) + 1),
            range(math.ceil(y0 / step - 1e-6), math.floor(y1 / step + 1e-6) + 1),
        ):
            if x0 < column * step < x1 and y0 < row * step < y1:
                graph.remove_nodes_from([(column, row)])
    start, stop = route.points[0], route.points[-1]
    ends = []
    for x, y, _ in (start, stop):  # the raster's free point straight out of the port
        near = sorted(graph, key=lambda node: math.dist((node[0] * step, node[1] * step), (x, y)))
        ends.append(near[0])
    assert nx.has_path(graph, *ends)
    shortest = nx.shortest_path_length(graph, *ends) * step
    bends_saved = 12
    slack = 4 * step + 0.05 * bends_saved
    assert route.length_m <= shortest / 0.85 + slack


def test_a_step_of_less_than_a_millimetre_is_no_bend() -> None:
    raised = replace(block("z", 1.7, 0.6, "left"), raised=m(0.0007))
    straight = way(joined(block("a", 0.3, 0.6, "right"), raised))
    check_square(straight)
    assert straight.bends == 0
    assert straight.vertical_m == pytest.approx(0.0007)


def test_a_way_goes_round_what_stands_between() -> None:
    free = way(joined(block("a", 0.3, 0.6, "right"), block("z", 1.7, 0.6, "left")))
    assert free.bends == 0
    assert free.length_m == pytest.approx(1.2)
    wall = joined(
        block("a", 0.3, 0.6, "right"), block("z", 1.7, 0.6, "left"), block("wall", 1.0, 0.6)
    )
    around = way(wall)
    assert hidden_m(wall, around) == 0.0
    assert around.bends == 4
    # Past a cube of 0.2 m one has to go at least its half width aside, twice.
    assert 1.2 + 2 * 0.1 <= around.length_m <= 1.2 + 2 * 0.15


def test_a_way_passes_beneath_what_is_raised() -> None:
    raised = replace(block("shelf-thing", 1.0, 0.6), raised=m(0.3))
    build = joined(block("a", 0.3, 0.6, "right"), block("z", 1.7, 0.6, "left"), raised)
    assert way(build).bends == 0


def test_a_way_goes_round_a_leg_of_the_cart() -> None:
    leg = CartLeg(x=m(1.0), y=m(0.6), width=m(0.1))
    build = joined(
        block("a", 0.3, 0.6, "right"),
        block("z", 1.7, 0.6, "left"),
        cart=b.cart("2 m", "1.2 m", legs=(leg,)),
    )
    assert way(build).bends == 4


def test_where_there_is_no_way_it_goes_through() -> None:
    """A port walled in on all sides still has a way; what is drawn is never refused."""
    ring = [
        block(f"w{n}", 1.0 + 0.2 * dx, 0.6 + 0.2 * dy)
        for n, (dx, dy) in enumerate(itertools.product((-1, 0, 1), repeat=2))
        if (dx, dy) != (0, 0)
    ]
    build = joined(block("a", 1.0, 0.6), block("z", 0.2, 0.2), *ring)
    assert hidden_m(build, way(build)) <= 0.25


# --- levels and boards --------------------------------------------------------------------------


def uprights(route: Route) -> list[tuple[float, float]]:
    return [p[:2] for p, q in itertools.pairwise(route.points) if p[2] != q[2]]


def two_levels(**cart: object) -> Build:
    return joined(
        block("below", 0.5, 0.6),
        block("above", 1.5, 0.6, "rear", level="counter"),
        cart=b.cart("2 m", "1.2 m", **cart),
    )


def test_a_way_to_another_level_goes_up_at_the_rear_edge() -> None:
    route = way(two_levels())
    assert {round(z, 6) for _, _, z in route.points} == {
        round(6 * INCH + 0.05, 6),  # the port's height above the base at 6 in
        round(36 * INCH + 0.05, 6),
    }
    ((_, y),) = uprights(route)
    assert 0 <= y <= 0.04, "in the gap at the rear, inside the cart"
    assert route.vertical_m == pytest.approx(30 * INCH)


@pytest.mark.parametrize(
    ("side", "axis", "near"),
    [("rear", 1, 0.0), ("front", 1, 1.2), ("left", 0, 0.0), ("right", 0, 2.0)],
)
def test_the_rear_panel_carries_what_goes_up(side: str, axis: int, near: float) -> None:
    panel = RearPanel(side=side, bottom=m(0.15), top=m(1.2))
    (place,) = uprights(way(two_levels(rear_panel=panel)))
    assert abs(place[axis] - near) <= 0.05


def test_a_hole_in_the_counter_is_used() -> None:
    hole = Zone(name="hole", kind="opening", level="counter", x=m(0.95), y=m(0.8),
                width=m(0.06), depth=m(0.06))  # fmt: skip
    shelf = replace(hole, level="shelf")
    (place,) = uprights(way(two_levels(zones=(hole, shelf))))
    assert 0.95 <= place[0] <= 1.01
    assert 0.8 <= place[1] <= 0.86
    # A hole in the counter alone leaves the shelf below in the way.
    (edge,) = uprights(way(two_levels(zones=(hole,))))
    assert edge[1] <= 0.04


def test_a_port_in_the_underside_comes_out_below_the_board() -> None:
    sink = replace(
        block("sink", 1.5, 0.6, level="counter"),
        specification=replace(
            block("sink", 1.5, 0.6).specification,
            ports=(replace(side_port("p", "front"), x=m(0.1), y=m(0.1), z=m(0.0)),),
        ),
    )
    no_shelf = b.cart("2 m", "1.2 m")
    no_shelf = replace(no_shelf, levels=(no_shelf.levels[0], no_shelf.levels[2]))
    route = way(joined(block("below", 0.5, 0.6), sink, cart=no_shelf))
    assert uprights(route) == [pytest.approx((1.5, 0.6))], "straight down from the sink"


def test_runs_side_by_side_share_the_rear() -> None:
    items = [block(f"i{n}", 0.3 + 0.4 * n, 0.4, "rear") for n in range(4)]
    runs = [b.tube(f"i{n}.p", f"i{n + 2}.p", None, run_id=f"r{n}") for n in range(2)]
    network = make_network(b.build(*items, *runs, cart=b.cart("2 m", "1.2 m")))
    rears = [min(y for _, y, _ in network.routes[run.id].points) for run in runs]
    assert rears[0] == pytest.approx(rears[1])


def test_what_is_kept_free_is_gone_round_when_that_is_no_great_detour() -> None:
    ends = (block("a", 0.3, 0.6, "right"), block("z", 1.7, 0.6, "left"))
    zone = Zone(name="jugs", kind="reserved", level="base", x=m(0.6), y=m(0.5),
                width=m(0.8), depth=m(0.2))  # fmt: skip
    build = joined(*ends, cart=b.cart("2 m", "1.2 m", zones=(zone,)))
    # Straight on is 0.8 m over the zone; round it is 0.2 m and four bends more.
    assert way(build).bends == 4


def test_a_way_stays_on_an_l_shaped_cart() -> None:
    corners = [(0, 0), (2, 0), (2, 0.6), (0.6, 0.6), (0.6, 1.4), (0, 1.4)]
    cart = b.cart("2 m", "1.4 m", outline=tuple(Point(x=m(x), y=m(y)) for x, y in corners))
    build = joined(block("a", 1.7, 0.3, "front"), block("z", 0.3, 1.1, "right"), cart=cart)
    legs = LineString([p[:2] for p in way(build).points])
    outline = LineString([*corners, corners[0]])
    outside = legs.difference(outline.convex_hull)
    assert outside.length == 0.0
    missing = box(0.61, 0.61, 2.0, 1.4)
    # Straight across the corner would be some 2 m outside.
    assert legs.intersection(missing).length < 0.2


# --- bends --------------------------------------------------------------------------------------


def test_a_stiffer_tube_leaves_its_port_straight_for_longer() -> None:
    def first_leg(radius: Length | None) -> float:
        build = joined(block("a", 0.4, 0.3, "front"), block("z", 1.6, 0.9, "left"))
        run = build.tubes[0]
        run = replace(run, tube=replace(run.tube, least_bend_radius=radius))
        points = way(edits.replace_run(build, run)).points
        return math.dist(points[0], points[1])

    assert first_leg(Length("120 mm")) >= 0.12 - 1e-9


# --- way-points ---------------------------------------------------------------------------------


@relaxed
@given(
    st.lists(st.tuples(st.integers(0, 20), st.integers(0, 12)), min_size=1, max_size=4),
    st.sampled_from(["base", "counter"]),
)
def test_a_led_way_is_square_and_passes_its_way_points(
    places: list[tuple[int, int]], level: str
) -> None:
    build = joined(block("a", 0.3, 0.3, "front"), block("z", 1.6, 0.8, "left", level=level))
    points = tuple(WayPoint(x=m(x / 10), y=m(y / 10)) for x, y in places)
    build = edits.replace_run(build, replace(build.runs[0], waypoints=points))
    route = way(build)
    check_square(route)
    line = LineString([p[:2] for p in route.points])
    for point in points:
        away = line.distance(LineString([(point.x.si, point.y.si)] * 2))
        assert away <= 1e-6
    assert make_network(build, make_network(build)).routes["run"] == route


def test_a_way_point_in_line_adds_no_bend() -> None:
    build = joined(block("a", 0.3, 0.6, "right"), block("z", 1.7, 0.6, "left"))
    point = WayPoint(x=m(1.0), y=m(0.6))
    build = edits.replace_run(build, replace(build.runs[0], waypoints=(point,)))
    assert way(build).bends == 0


def test_a_led_way_changes_levels_where_it_comes_past_the_edge() -> None:
    build = two_levels()
    point = WayPoint(x=m(0.8), y=m(0.025))
    build = edits.replace_run(build, replace(build.runs[0], waypoints=(point,)))
    assert all(y <= 0.04 for _, y in uprights(way(build)))
