"""Where cords and tubes go through a board: what a builder has to bore, notch or leave open."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ...build import Build, End, Item, Level, Port, Run, TubeRun, Zone
from ...build.geometry import port_position
from ...network import Network, Route, beneath
from ...network.routing.ground import GAP_M, NEAR_M, SAME_HEIGHT_M, Gap, Ground, ground_of


@dataclass(frozen=True, slots=True)
class Passage:
    """One run through one board."""

    level: Level
    run: Run
    x_m: float
    """Of the middle, as on the plan."""
    y_m: float
    how: str
    """Through what: "hole under Pitcher rinser", "gap along the rear edge"."""
    is_bored: bool = False
    """A hole of its own, under what is fed from below."""

    @property
    def thick_m(self) -> float | None:
        """Outside of a tube; of a cord its plug decides, which nobody has measured."""
        return self.run.tube.outer.si if isinstance(self.run, TubeRun) else None


def passages(build: Build, network: Network) -> list[Passage]:
    """Board by board from the top, from the left to the right.

    Args:
        build: whose boards.
        network: with the ways of its runs; of a run without one only its holes are known.
    """
    found = [one for run in build.runs for one in _of(build, run, network.routes.get(run.id))]
    return sorted(found, key=lambda one: (-one.level.height.si, one.x_m, one.y_m))


def _of(build: Build, run: Run, route: Route | None) -> Iterator[Passage]:
    for end in (run.a, run.b):
        yield from _own_hole(build, run, end)
    points = route.points if route is not None else ()
    for (x, y, z), (u, v, w) in pairwise(points):
        if (x, y) != (u, v):
            continue
        low, high = sorted((z, w))
        for level in build.cart.levels:
            if low + SAME_HEIGHT_M < level.height.si < high - SAME_HEIGHT_M:
                yield Passage(level, run, x, y, _way(build, level, x, y))


def _own_hole(build: Build, run: Run, end: End | None) -> Iterator[Passage]:
    """What stands on a board and is fed from below has a hole for each tube."""
    item, port = _port(build, end)
    if item is None or port is None or not beneath(build.cart, item, port):
        return
    level = build.cart.level(item.level)
    if level is not None:
        x, y, _ = port_position(build.cart, item, port)
        yield Passage(level, run, x, y, f"hole under {item.name}", True)


def _port(build: Build, end: End | None) -> tuple[Item | None, Port | None]:
    item = build.item(end.item) if end is not None else None
    return item, item.specification.port(end.port) if item is not None and end is not None else None


def _way(build: Build, level: Level, x: float, y: float) -> str:
    hole = next((zone for zone in build.cart.zones if _holds(zone, level, x, y)), None)
    if hole is not None:
        return hole.name
    ground = ground_of(build.cart)
    panel = build.cart.rear_panel
    if panel is not None and abs((x, y)[1 - ground.trunk_axis] - ground.trunk_m) <= NEAR_M:
        return f"gap at the panel, {panel.side} edge"
    for gap in ground.edges:
        along, across = (x, y) if gap.axis == 0 else (y, x)
        on_it = gap.low_m <= along <= gap.high_m
        if on_it and abs(across - gap.place_m) <= NEAR_M:
            return f"gap along {_edge(ground, gap)}"
    inside = ground.inside(np.array([x]), np.array([y]))[0]
    return "no hole is drawn here" if inside else "past the edge, outside"


def _edge(ground: Ground, gap: Gap) -> str:
    x0, y0, x1, y1 = ground.box
    low, high = (y0, y1) if gap.axis == 0 else (x0, x1)
    names = ("rear", "front") if gap.axis == 0 else ("left", "right")
    if gap.place_m - low <= GAP_M + NEAR_M:
        return f"the {names[0]} edge"
    return f"the {names[1]} edge" if high - gap.place_m <= GAP_M + NEAR_M else "an inner edge"


def _holds(zone: Zone, level: Level, x: float, y: float) -> bool:
    return (
        zone.kind == "opening"
        and zone.level == level.name
        and zone.x.si <= x <= zone.x.si + zone.width.si
        and zone.y.si <= y <= zone.y.si + zone.depth.si
    )
