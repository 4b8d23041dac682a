"""The search in the lattice against networkx on the same lattice."""

import itertools
import math

import building as b
import networkx as nx
import numpy as np
import pytest
from hypothesis import HealthCheck, example, given, settings
from test_routes import block, crowds, joined

from cartlayout.build import Build
from cartlayout.network.places import Places
from cartlayout.network.routing.bodies import Bodies
from cartlayout.network.routing.ground import ground_of
from cartlayout.network.routing.lattice import Lines, Weights, cheapest
from cartlayout.network.routing.search import find_way
from cartlayout.network.routing.task import Task
from cartlayout.network.routing.terms import term
from cartlayout.network.routing.weights import lines_for, weights_for

relaxed = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def task_of(build: Build) -> Task:
    places = Places.of(build)
    (run,) = build.runs
    assert run.b is not None
    ends = [
        term(
            build.cart,
            places.items[end.item],
            places.ports[end.item, end.port],
            places.positions[end.item, end.port],
        )
        for end in (run.a, run.b)
    ]
    bodies = Bodies.of(build.cart, build.items)
    return Task.of(ends[0], ends[1], 0.0, ground_of(build.cart), bodies)


def lattice(lines: Lines, weights: Weights) -> "nx.Graph[tuple[int, int, int, int]]":
    """The same crossings (column, row, height, axis) as a networkx graph, built anew."""
    graph: nx.Graph[tuple[int, int, int, int]] = nx.Graph()
    columns, rows = len(lines.xs), len(lines.ys)
    for height in range(len(weights.turn)):
        for row in range(rows):
            for column in range(columns):
                here = (column, row, height)
                graph.add_edge((*here, 0), (*here, 1), weight=weights.turn[height][row, column])
                if column + 1 < columns:
                    cost = weights.along_x[height][row, column]
                    graph.add_edge((*here, 0), (column + 1, row, height, 0), weight=cost)
                if row + 1 < rows:
                    cost = weights.along_y[height][row, column]
                    graph.add_edge((*here, 1), (column, row + 1, height, 1), weight=cost)
                if height == 0 and weights.climb is not None:
                    for axis in (0, 1):
                        cost = weights.climb[row, column]
                        graph.add_edge((*here, axis), (column, row, 1, axis), weight=cost)
    return graph


@relaxed
@given(crowds())
def test_the_way_found_is_as_cheap_as_networkx_finds(build: Build) -> None:
    task = task_of(build)
    everything = np.ones(len(task.bodies.boxes), dtype=bool)
    blocking = [task.bodies.block(plane.low_m, plane.high_m) for plane in task.planes]
    lines = lines_for(task, everything)
    weights = weights_for(task, lines, everything, blocking)
    start = (*lines.at(*task.first), 0, 1 if task.a.out[1] else 0)
    stop = (*lines.at(*task.last), len(task.planes) - 1, 1 if task.b.out[1] else 0)
    graph = lattice(lines, weights)
    best = nx.dijkstra_path_length(graph, start, stop)
    way = cheapest(lines, weights, start, stop)
    assert way[0] == start[:3]
    assert way[-1] == stop[:3]
    # The way names crossings; between two of them the axis is free: take the cheaper.
    part = graph.subgraph([(*place, axis) for place in set(way) for axis in (0, 1)])
    assert nx.dijkstra_path_length(part, start, stop) == pytest.approx(best, rel=1e-9)


@relaxed
@given(crowds())
@example(  # face to face: most of the way is what leads out of the ports
    joined(
        block("a", 0.55, 0.25, "left"), block("z", 0.25, 0.25, "right"), cart=b.cart("2 m", "1.4 m")
    )
)
def test_looking_only_at_what_is_met_finds_no_dearer_way(build: Build) -> None:
    """Length and bends of the way against the best that networkx finds past every body."""
    task = task_of(build)
    everything = np.ones(len(task.bodies.boxes), dtype=bool)
    blocking = [task.bodies.block(plane.low_m, plane.high_m) for plane in task.planes]
    lines = lines_for(task, everything)
    graph = lattice(lines, weights_for(task, lines, everything, blocking))
    start = (*lines.at(*task.first), 0, 1 if task.a.out[1] else 0)
    stop = (*lines.at(*task.last), len(task.planes) - 1, 1 if task.b.out[1] else 0)
    best = nx.dijkstra_path_length(graph, start, stop)
    points = find_way(task).points
    length = sum(
        sum(abs(i - j) for i, j in zip(p, q, strict=True)) for p, q in itertools.pairwise(points)
    )
    # The lattice begins and ends where the run may turn, straight before its ports.
    straight = math.dist(task.a.place, task.first) + math.dist(task.last, task.b.place)
    # Lines nearer than 12 mm to others are left out: so much may differ at each bend.
    assert 0.85 * length <= best + straight + 0.012 * len(points)
