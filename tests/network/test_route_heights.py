"""Bends with a height of their own: the run goes up or down to them.

Reference: lengths of legs added up by hand, and shapely for what passes where.
"""

import itertools

import building as b
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, WayPoint, edits
from cartlayout.network import make_network
from cartlayout.network.results import Route
from cartlayout.units import Length

relaxed = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def m(metres: float) -> Length:
    return Length(f"{metres:.4f} m")


def two_cubes(above: str = "base") -> Build:
    """Cubes of 0.2 m on a cart without shelf, joined by a tube from right side to left side."""

    def cube(item_id: str, x_m: float, side: str, level: str) -> object:
        port = replace(
            b.port("p", "water", "through", "3/8 push-fit", "0.05 m"),
            x=m(0.2 if side == "right" else 0.0),
            y=m(0.1),
        )
        made = b.item(item_id, size=("0.2 m", "0.2 m", "0.2 m"), ports=(port,), level=level)
        return replace(made, x=m(x_m), y=m(0.6))

    cart = b.cart("2 m", "1.2 m")
    cart = replace(cart, levels=(cart.levels[0], cart.levels[2]))
    run = b.tube("a.p", "z.p", None, run_id="run")
    return b.build(cube("a", 0.3, "right", "base"), cube("z", 1.7, "left", above), run, cart=cart)


def led(build: Build, *points: tuple[float, float, float | None]) -> Build:
    bends = tuple(
        WayPoint(x=m(x), y=m(y), height=None if z is None else m(z)) for x, y, z in points
    )
    return edits.replace_run(build, replace(build.runs[0], waypoints=bends))


def way(build: Build) -> Route:
    return make_network(build).routes["run"]


def floor_m(build: Build) -> float:
    return build.cart.levels[-1].height.si


def test_a_tube_climbs_over_a_rail_and_comes_down_again() -> None:
    build = two_cubes()
    port_m = floor_m(build) + 0.05
    top_m = port_m + 0.15
    route = way(led(build, (0.8, 0.6, top_m), (1.0, 0.6, port_m)))
    # 1.2 m along, 0.15 m up and 0.15 m down again.
    assert route.length_m == pytest.approx(1.2 + 0.3)
    assert route.vertical_m == pytest.approx(0.3)
    assert route.bends == 4
    assert (0.8, 0.6, pytest.approx(top_m)) in [(x, y, z) for x, y, z in route.points]
    assert (1.0, 0.6, pytest.approx(port_m)) in [(x, y, z) for x, y, z in route.points]


def test_a_height_is_kept_until_the_next_one_given() -> None:
    build = two_cubes()
    low_m = floor_m(build) + 0.01
    route = way(led(build, (0.8, 0.6, low_m), (1.2, 0.9, None)))
    heights = {round(z, 6) for x, y, z in route.points if 0.81 < x < 1.5 or y > 0.61}
    assert heights == {round(low_m, 6)}


def test_without_heights_nothing_changes() -> None:
    build = led(two_cubes("counter"), (0.8, 0.4, None))
    plain = way(build)
    same = led(two_cubes("counter"), (0.8, 0.4, floor_m(build) + 0.05))
    # The height it has there anyway, told or not.
    told = way(same)
    assert len(told.points) == len(plain.points)
    for p, q in zip(told.points, plain.points, strict=True):
        assert p == pytest.approx(q)


def test_a_board_is_passed_where_it_can_be() -> None:
    build = two_cubes("counter")
    counter_m = build.cart.levels[0].height.si
    # Up before the way-point in the middle of the board: at the edge, never through it.
    route = way(led(build, (1.0, 0.025, None), (1.0, 0.6, counter_m + 0.05)))
    crossing = [
        p
        for p, q in itertools.pairwise(route.points)
        if min(p[2], q[2]) < counter_m < max(p[2], q[2])
    ]
    _, y, _ = crossing[0]
    assert y <= 0.04
    assert any(
        (px, py, pz) == (pytest.approx(1.0), pytest.approx(0.6), pytest.approx(counter_m + 0.05))
        for px, py, pz in route.points
    )


@relaxed
@given(
    st.lists(
        st.tuples(st.integers(0, 20), st.integers(0, 12), st.one_of(st.none(), st.integers(0, 15))),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from(["base", "counter"]),
)
def test_every_height_given_is_reached_at_its_place_in_order(
    places: list[tuple[int, int, int | None]], level: str
) -> None:
    build = led(
        two_cubes(level),
        *((x / 10, y / 10, None if z is None else z / 10) for x, y, z in places),
    )
    network = make_network(build)
    route = network.routes["run"]
    steps = list(itertools.pairwise(route.points))
    for p, q in steps:
        assert sum(abs(i - j) > 1e-9 for i, j in zip(p, q, strict=True)) <= 1, "one axis at a time"
    total = sum(abs(i - j) for p, q in steps for i, j in zip(p, q, strict=True))
    assert route.length_m == pytest.approx(total)
    at = 0
    for x, y, z in places:
        if z is None:
            continue
        found = [
            n for n, (p, q) in enumerate(steps) if n >= at and _on(p, q, (x / 10, y / 10, z / 10))
        ]
        assert found, f"nothing of the way is at {x / 10}, {y / 10}, {z / 10}"
        at = found[0]
    assert make_network(build, network).routes["run"] == route


def _on(p: tuple[float, ...], q: tuple[float, ...], place: tuple[float, ...]) -> bool:
    return all(
        min(i, j) - 2e-3 <= k <= max(i, j) + 2e-3 for i, j, k in zip(p, q, place, strict=True)
    )
