"""Moves of whole groups: items, what is grouped with them, and the bends of runs between them."""

from collections.abc import Iterable

from msgspec.structs import replace

from ...build import Build, Item, Point, Run
from ...build.edits import move, with_
from ...build.geometry import bounds
from .snapping import Box


def with_groups(build: Build, ids: Iterable[str]) -> frozenset[str]:
    """The items, and everything grouped with one of them: modules move as one."""
    wanted = set(ids)
    groups = {item.group for item in build.items if item.id in wanted and item.group}
    return frozenset(
        item.id
        for item in build.items
        if item.id in wanted or (item.group and item.group in groups)
    )


def movable(build: Build, ids: Iterable[str]) -> frozenset[str]:
    """The items of a move without the locked ones."""
    wanted = with_groups(build, ids)
    return frozenset(item.id for item in build.items if item.id in wanted and not item.locked)


def move_whole(build: Build, ids: Iterable[str], dx_m: float, dy_m: float) -> Build:
    """Move items, and the bends of every run whose two ends move with them."""
    ids = frozenset(ids)
    moved = move(build, ids, dx_m, dy_m)
    if moved is build:
        return build
    runs = tuple(_carried(run, ids, dx_m, dy_m) for run in build.runs)
    if all(new is old for new, old in zip(runs, build.runs, strict=True)):
        return moved
    return with_(moved, runs=runs)


def _carried(run: Run, ids: frozenset[str], dx_m: float, dy_m: float) -> Run:
    if not run.waypoints or run.b is None or not {run.a.item, run.b.item} <= ids:
        return run
    return replace(
        run,
        waypoints=tuple(
            Point(
                x=type(point.x).from_si(point.x.si + dx_m, point.x.unit),
                y=type(point.y).from_si(point.y.si + dy_m, point.y.unit),
            )
            for point in run.waypoints
        ),
    )


def box_of(item: Item) -> Box:
    """The upright rectangle of a body as it stands turned."""
    return Box(*bounds(item))


def boxes_of(build: Build, ids: Iterable[str]) -> Box | None:
    """The upright rectangle of several bodies; None for none."""
    wanted = set(ids)
    boxes = [box_of(item) for item in build.items if item.id in wanted]
    if not boxes:
        return None
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return whole
