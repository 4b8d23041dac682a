"""The way of every run, with what is taken over from an earlier network.

A way depends on its ends, the cart and what stands where it was searched. If
none of that has changed, a search would give the same way again, and the
earlier one is kept; so the answer is the same with an earlier network and without.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..build import Item, Run, TubeRun
from ..build.geometry import XYZ
from .places import Places
from .results import Node, Route
from .routing.bends import bend_room, climbs, first_climb, length_of
from .routing.bodies import Bodies, Floats, meets
from .routing.ground import Ground, ground_of
from .routing.search import Way, find_way
from .routing.task import Task
from .routing.terms import Term, term
from .routing.waypoints import led_way

TOLERANCE_M = 0.0005
"""Drawn to the half millimetre."""


@dataclass(frozen=True, slots=True)
class Trail:
    """A route with everything its search read."""

    parts: tuple[Run, Item, Item]
    """The run and the items at its ends: while these are the same objects, so is the key."""
    key: tuple[Any, ...]
    looked_at: Floats
    route: Route


@dataclass(frozen=True, slots=True)
class Trails:
    """What the search of all routes leaves to the next one."""

    bodies: Bodies
    by_run: Mapping[str, Trail]

    @property
    def routes(self) -> dict[str, Route]:
        """Run id to its route."""
        return {run_id: trail.route for run_id, trail in self.by_run.items()}


def make_routes(places: Places, runs: Iterable[Run], previous: Trails | None = None) -> Trails:
    """Find the way of every run that has two known ends."""
    bodies = Bodies.of(
        places.cart, places.items.values(), previous.bodies if previous is not None else None
    )
    ground = ground_of(places.cart)
    lent = _still_true(bodies, previous)
    trails: dict[str, Trail] = {}
    for run in runs:
        a, b = places.known(run.a), places.known(run.b)
        if a is None or b is None:
            continue
        parts = run, places.items[a[0]], places.items[b[0]]
        old = lent.get(run.id)
        if old is not None and all(
            one is other for one, other in zip(old.parts, parts, strict=True)
        ):
            trails[run.id] = old
            continue
        ends = _term(places, a), _term(places, b)
        key = _key(run, ends, bodies)
        if old is not None and old.key == key:
            trails[run.id] = replace(old, parts=parts)
        else:
            trails[run.id] = _search(parts, ends, key, bodies, ground)
    return Trails(bodies, trails)


def _term(places: Places, node: Node) -> Term:
    return term(places.cart, places.items[node[0]], places.ports[node], places.positions[node])


def _key(run: Run, ends: tuple[Term, Term], bodies: Bodies) -> tuple[Any, ...]:
    boxes = tuple(bodies.row(end.item) for end in ends)
    return ends, boxes, run.waypoints, _radius_m(run)


def _radius_m(run: Run) -> float:
    if isinstance(run, TubeRun) and run.tube.least_bend_radius is not None:
        return run.tube.least_bend_radius.si
    return 0.0


def _still_true(bodies: Bodies, previous: Trails | None) -> Mapping[str, Trail]:
    """Earlier trails along which nothing has come, gone or changed."""
    if previous is None or previous.bodies.cart is not bodies.cart:
        return {}
    moved = bodies.moved(previous.bodies)
    if moved is None:
        return {}
    if not len(moved) or not previous.by_run:
        return previous.by_run
    trails = previous.by_run
    counts = [len(trail.looked_at) for trail in trails.values()]
    touched = meets(np.concatenate([trail.looked_at for trail in trails.values()]), moved)
    hits = np.add.reduceat(
        np.append(touched.any(axis=1), False), np.cumsum([0, *counts[:-1]]), dtype=np.int64
    )
    return {
        run_id: trail
        for (run_id, trail), hit, count in zip(trails.items(), hits, counts, strict=True)
        if not (hit and count)
    }


def _search(
    parts: tuple[Run, Item, Item],
    ends: tuple[Term, Term],
    key: tuple[Any, ...],
    bodies: Bodies,
    ground: Ground,
) -> Trail:
    run = parts[0]
    task = Task.of(*ends, _radius_m(run), ground, bodies, led=bool(run.waypoints))
    if run.waypoints:
        places = [(point.x.si, point.y.si) for point in run.waypoints]
        heights = [None if one.height is None else one.height.si for one in run.waypoints]
        way = led_way(task, places, heights)
    else:
        way = find_way(task)
    return Trail(parts, key, way.looked_at, _route(task, way))


def _route(task: Task, way: Way) -> Route:
    points: tuple[XYZ, ...] = way.points
    levels = tuple(dict.fromkeys(plane.level for plane in task.planes))
    room_m = bend_room(points)
    return Route(
        points,
        length_of(points),
        bends=len(room_m),
        vertical_m=climbs(points),
        bend_room_m=room_m,
        levels=levels,
        climb=first_climb(points) if len(levels) == 2 else None,
    )


def tight_bends(run: Run, route: Route) -> int:
    """How many bends of a run have less room than it needs, elbows taken off."""
    least_m = _radius_m(run)
    tight = sum(1 for room_m in route.bend_room_m if room_m < least_m - TOLERANCE_M)
    elbows = sum(
        fitting.count
        for fitting in (run.fittings if isinstance(run, TubeRun) else ())
        if "elbow" in fitting.name.lower()
    )
    return max(tight - elbows, 0)
