"""What can be taken hold of besides bodies: ports, plugs and bends. Plain values, no Qt."""

import itertools
import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from ...build import VENUE, Build, End, Item, Port
from ...build.geometry import port_position
from ...documents.plan import PlanPicture
from ...network.fit import is_plug

XY = tuple[float, float]

SPREAD_PX = 15.0
"""Distance of handles that would lie on one spot."""
SAME_PX = 7.0
"""Handles nearer than this to each other count as on one spot."""
HANDLE_PX = 9.0
"""Reach of the mouse to a handle on a body large enough for it."""
LEAST_PX = 4.0
SHARE_OF_BODY = 0.22
"""Part of a body's narrower side that a port may claim; the rest moves the body."""


@dataclass(frozen=True, slots=True)
class Handle:
    """One thing to take hold of, in metres on the plan."""

    kind: Literal["port", "plug", "bend", "turn"]
    at: XY
    item: str = ""
    port: str = ""
    run: str = ""
    index: int = -1
    medium: str = ""
    taken: bool = False
    letter: str = ""
    """Of the circuit that a plug is on."""
    reach_px: float = HANDLE_PX
    stem: XY | None = None
    """Where the line to a knob starts."""

    @property
    def end(self) -> End:
        """The port of a port handle."""
        return End(item=self.item, port=self.port)


def port_handles(
    build: Build, item_ids: Collection[str], pixels_per_m: float
) -> tuple[Handle, ...]:
    """The ports of some items, apart where several lie on one spot."""
    taken = {(end.item, end.port) for run in build.runs for end in (run.a, run.b) if end}
    made: list[Handle] = []
    for item in build.items:
        if item.id not in item_ids:
            continue
        size = item.specification.size
        reach = SHARE_OF_BODY * min(size.width.si, size.depth.si) * pixels_per_m
        own = [
            Handle(
                kind="port",
                at=port_position(build.cart, item, port)[:2],
                item=item.id,
                port=port.id,
                medium=port.medium,
                taken=(item.id, port.id) in taken,
                reach_px=max(min(HANDLE_PX, reach), LEAST_PX),
            )
            for port in item.specification.ports
        ]
        made.extend(apart(own, pixels_per_m))
    return tuple(made)


def plug_handles(
    build: Build,
    letters: Mapping[str, str],
    level: str,
    near: Collection[str],
    pixels_per_m: float,
) -> tuple[Handle, ...]:
    """The plugs of wires, where they are in their receptacles.

    Args:
        build: what is drawn.
        letters: id of every wire that is drawn to the letter of its circuit.
        level: the shown level; plugs in what is ghosted would lie on what stands over it.
        near: wires whose plugs are shown on any level: the selected and the hovered.
        pixels_per_m: of the view.
    """
    items = {item.id: item for item in build.items}
    made: list[Handle] = []
    for run in build.wires:
        if run.id not in letters:
            continue
        for end in (run.a, run.b):
            port = _port(items, end)
            if end is None or port is None or is_plug(port):
                continue
            if run.id not in near and not solid(items[end.item], level):
                continue
            place = port_position(build.cart, items[end.item], port)[:2]
            made.append(
                Handle(
                    kind="plug",
                    at=place,
                    item=end.item,
                    port=end.port,
                    run=run.id,
                    medium="power",
                    taken=True,
                    letter=letters[run.id],
                )
            )
    return tuple(apart(made, pixels_per_m))


def bend_handles(build: Build, run_ids: Collection[str]) -> tuple[Handle, ...]:
    """The way-points of some runs."""
    return tuple(
        Handle(kind="bend", at=(point.x.si, point.y.si), run=run.id, index=index, reach_px=8.0)
        for run in build.runs
        if run.id in run_ids
        for index, point in enumerate(run.waypoints)
    )


def _port(items: dict[str, Item], end: End | None) -> Port | None:
    item = items.get(end.item) if end is not None else None
    return item.specification.port(end.port) if item is not None and end is not None else None


def apart(handles: list[Handle], pixels_per_m: float) -> list[Handle]:
    """Lay handles that are on one spot side by side, in their order."""
    groups: list[list[Handle]] = []
    for handle in handles:
        for group in groups:
            if math.dist(group[0].at, handle.at) * pixels_per_m < SAME_PX:
                group.append(handle)
                break
        else:
            groups.append([handle])
    made = []
    for group in groups:
        for number, handle in enumerate(group):
            shift_m = (number - (len(group) - 1) / 2) * SPREAD_PX / pixels_per_m
            made.append(
                handle if len(group) == 1 else _moved(handle, handle.at[0] + shift_m, handle.at[1])
            )
    return made


def _moved(handle: Handle, x: float, y: float) -> Handle:
    return replace(handle, at=(x, y), reach_px=min(handle.reach_px, SPREAD_PX / 2))


@dataclass(frozen=True, slots=True)
class Hit:
    """What is under the mouse."""

    kind: Literal["handle", "body", "run", "ghost", "nothing"]
    item: str = ""
    run: str = ""
    handle: Handle | None = None


NO_HIT = Hit("nothing")
RUN_REACH_PX = 6.0
_ORDER = {"bend": 0, "plug": 1, "port": 2, "turn": 3}


def hit(
    picture: PlanPicture,
    lines: dict[str, tuple[XY, ...]],
    handles: Iterable[Handle],
    at: XY,
    pixels_per_m: float,
) -> Hit:
    """Find what is at a place: handles, then bodies, then runs, then what is ghosted.

    Args:
        picture: what is drawn.
        lines: run id to its way as straight pieces, metres.
        handles: what can be taken hold of now.
        at: the place, metres.
        pixels_per_m: of the view.
    """
    handle = _nearest_handle(handles, at, pixels_per_m)
    if handle is not None:
        return Hit("handle", item=handle.item, run=handle.run, handle=handle)
    solid = _body(picture, at, ghosted=False)
    if solid is not None:
        return Hit("body", item=solid)
    run = _run(lines, at, pixels_per_m)
    if run is not None:
        return Hit("run", run=run)
    ghost = _body(picture, at, ghosted=True)
    return Hit("ghost", item=ghost) if ghost is not None else NO_HIT


def _nearest_handle(handles: Iterable[Handle], at: XY, pixels_per_m: float) -> Handle | None:
    found = [
        (_ORDER[handle.kind], away, number, handle)
        for number, handle in enumerate(handles)
        if (away := math.dist(handle.at, at) * pixels_per_m) <= handle.reach_px
    ]
    return min(found)[3] if found else None


def _body(picture: PlanPicture, at: XY, *, ghosted: bool) -> str | None:
    """The smallest body there: a small one on a large one must stay within reach."""
    place = (at[0] * 1000.0, at[1] * 1000.0)
    found = [
        (body.width * body.depth, -number, body.id)
        for number, body in enumerate(picture.bodies)
        if body.ghosted == ghosted and inside(place, body.corners)
    ]
    return min(found)[2] if found else None


def inside(at: XY, polygon: tuple[XY, ...], slack: float = 0.0) -> bool:
    """Whether a place is in a rectangle that stands turned, or within slack of it."""
    for (x1, y1), (x2, y2) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        length = math.dist((x1, y1), (x2, y2)) or 1.0
        if ((x2 - x1) * (at[1] - y1) - (y2 - y1) * (at[0] - x1)) / length < -slack:
            return False
    return True


def _run(lines: dict[str, tuple[XY, ...]], at: XY, pixels_per_m: float) -> str | None:
    best: tuple[float, str] | None = None
    for run_id, points in lines.items():
        away = way_to(points, at) * pixels_per_m
        if away <= RUN_REACH_PX and (best is None or away < best[0]):
            best = (away, run_id)
    return best[1] if best else None


def way_to(points: tuple[XY, ...], at: XY) -> float:
    """Distance from a place to a polyline."""
    best = math.inf
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        dx, dy = x2 - x1, y2 - y1
        square = dx * dx + dy * dy
        t = 0.0 if square == 0 else ((at[0] - x1) * dx + (at[1] - y1) * dy) / square
        t = min(max(t, 0.0), 1.0)
        best = min(best, math.dist((x1 + t * dx, y1 + t * dy), at))
    return best


def solid(item: Item, level: str) -> bool:
    """Whether an item is drawn solid: it stands on the shown level, or is of the venue's."""
    return item.level in (level, VENUE)
