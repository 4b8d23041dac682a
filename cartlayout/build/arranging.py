"""Putting several items in order: in line, evenly spaced, turned as one, grouped.

Items of one group count as one body. A locked body stays where it is.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple

from msgspec.structs import replace

from ..units import Length
from .document import Build
from .edits import EditError, free_name, move, replace_item, with_, with_groups
from .geometry import XY, bounds
from .item import VENUE, Item
from .runs import Run

Line = Literal["left", "right", "rear", "front", "middle across", "middle along"]
"""What comes into line: an edge, the middles from left to right, the middles from rear to front."""
Axis = Literal["across", "along"]
"""Across: from left to right. Along: from rear to front."""
Spacing = Literal["gaps", "centres"]
_SAME_M = 5e-6
"""Written lengths are rounded to less than that."""


class _Span(NamedTuple):
    """How far a body reaches in one direction, metres."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class _Body:
    """An item alone, or everything of one group."""

    items: tuple[Item, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(item.id for item in self.items)

    @property
    def locked(self) -> bool:
        return any(item.locked for item in self.items)

    @property
    def name(self) -> str:
        return self.items[0].name

    def span(self, axis: Axis) -> _Span:
        first = 0 if axis == "across" else 1
        boxes = [bounds(item) for item in self.items]
        return _Span(min(box[first] for box in boxes), max(box[first + 2] for box in boxes))

    @property
    def middle(self) -> XY:
        return self.span("across").middle, self.span("along").middle


def _bodies(build: Build, ids: Iterable[str], *, alone: bool = False) -> list[_Body]:
    """The chosen items as bodies, in the build's order."""
    chosen = tuple(ids)
    wanted = set(chosen if alone else with_groups(build, chosen))
    by_key: dict[tuple[str, str], list[Item]] = {}
    for item in build.items:
        if item.id in wanted:
            key = ("group", item.group) if item.group and not alone else ("item", item.id)
            by_key.setdefault(key, []).append(item)
    return [_Body(tuple(items)) for items in by_key.values()]


def align(build: Build, ids: Iterable[str], line: Line) -> Build:
    """Bring bodies into line with the outermost of them, or with the one that is locked.

    Middles come to the middle of all that is chosen.

    Raises:
        EditError: fewer than two bodies, all locked, or locked ones that differ.
    """
    bodies = _bodies(build, ids)
    if len(bodies) < 2:
        raise EditError("to bring things into line, select two or more")
    axis: Axis = "across" if line in ("left", "right", "middle across") else "along"
    fixed = [body for body in bodies if body.locked]
    if len(fixed) == len(bodies):
        raise EditError("what is selected is locked")
    at = _line_of([body.span(axis) for body in fixed or bodies], line)
    for body in fixed:
        if abs(_place(body.span(axis), line) - at) > 2 * _SAME_M:
            raise EditError(f"{fixed[0].name} and {body.name} are locked apart from each other")
    for body in bodies:
        if not body.locked:
            build = _moved(build, body, axis, at - _place(body.span(axis), line))
    return build


def _place(span: _Span, line: Line) -> float:
    if line in ("left", "rear"):
        return span.low
    return span.high if line in ("right", "front") else span.middle


def _line_of(spans: list[_Span], line: Line) -> float:
    low, high = min(span.low for span in spans), max(span.high for span in spans)
    return _place(_Span(low, high), line)


def distribute(build: Build, ids: Iterable[str], axis: Axis, spacing: Spacing) -> Build:
    """Space bodies evenly between the two outermost, which stay.

    Raises:
        EditError: fewer than three bodies, a locked one between, or no room for gaps.
    """
    bodies = _bodies(build, ids)
    if len(bodies) < 3:
        raise EditError("to space things evenly, select three or more")
    order = sorted(bodies, key=lambda body: (body.span(axis).middle, body.ids))
    for body in order[1:-1]:
        if body.locked:
            raise EditError(f"{body.name} is locked")
    spans = [body.span(axis) for body in order]
    if spacing == "centres":
        first, last = spans[0].middle, spans[-1].middle
        step = (last - first) / (len(order) - 1)
        shifts = [first + number * step - span.middle for number, span in enumerate(spans)]
    else:
        shifts = _even_gaps(spans)
    for body, shift in zip(order[1:-1], shifts[1:-1], strict=True):
        build = _moved(build, body, axis, shift)
    return build


def _even_gaps(spans: list[_Span]) -> list[float]:
    room = spans[-1].low - spans[0].high
    taken = sum(span.high - span.low for span in spans[1:-1])
    gap = (room - taken) / (len(spans) - 1)
    if gap < -_SAME_M:
        raise EditError("there is no room between the outer two for equal gaps")
    shifts, at = [0.0], spans[0].high + gap
    for span in spans[1:-1]:
        shifts.append(at - span.low)
        at += span.high - span.low + gap
    return [*shifts, 0.0]


def _moved(build: Build, body: _Body, axis: Axis, shift_m: float) -> Build:
    if abs(shift_m) < _SAME_M:
        return build
    return move(build, body.ids, *((shift_m, 0.0) if axis == "across" else (0.0, shift_m)))


def turn(build: Build, ids: Iterable[str], degrees: float, *, alone: bool = False) -> Build:
    """Turn every body clockwise about its own middle; a group turns as one.

    Args:
        build: what is drawn.
        ids: of items; whatever is grouped with one of them turns along.
        degrees: clockwise as seen on the plan.
        alone: leave the groups out of it.
    """
    for body in _bodies(build, ids, alone=alone):
        if not body.locked:
            build = turn_about(build, body.ids, degrees, body.middle)
    return build


def turn_to(build: Build, ids: Iterable[str], degrees: float, *, alone: bool = False) -> Build:
    """Turn every body so that its first item stands at an angle, clockwise from un-turned."""
    for body in _bodies(build, ids, alone=alone):
        if not body.locked:
            by = degrees - body.items[0].rotation
            build = turn_about(build, body.ids, by, body.middle)
    return build


def turn_about(build: Build, ids: Iterable[str], degrees: float, pivot: XY) -> Build:
    """Turn items clockwise about one place, with the bends of the runs between them."""
    chosen = {one for one in ids if (item := build.item(one)) is not None and not item.locked}
    if not chosen or degrees % 360.0 == 0.0:
        return build
    for item in build.items:
        if item.id in chosen:
            x, y = _about(pivot, (item.x.si, item.y.si), degrees)
            angle = round((item.rotation + degrees) % 360.0, 3) % 360.0
            build = replace_item(
                build, replace(item, x=_at(item.x, x), y=_at(item.y, y), rotation=angle)
            )
    runs = tuple(_bends_turned(run, chosen, degrees, pivot) for run in build.runs)
    same = all(new is old for new, old in zip(runs, build.runs, strict=True))
    return build if same else with_(build, runs=runs)


def _bends_turned(run: Run, chosen: set[str], degrees: float, pivot: XY) -> Run:
    if not run.waypoints or run.b is None or not {run.a.item, run.b.item} <= chosen:
        return run
    bends = []
    for bend in run.waypoints:
        x, y = _about(pivot, (bend.x.si, bend.y.si), degrees)
        bends.append(replace(bend, x=_at(bend.x, x), y=_at(bend.y, y)))
    return replace(run, waypoints=tuple(bends))


def _about(pivot: XY, at: XY, degrees: float) -> XY:
    dx, dy = at[0] - pivot[0], at[1] - pivot[1]
    quarter, rest = divmod(degrees % 360.0, 90.0)
    if rest == 0.0:  # exact, so that four quarter turns are none
        for _ in range(int(quarter)):
            dx, dy = -dy, dx
    else:
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        dx, dy = dx * c - dy * s, dx * s + dy * c
    return pivot[0] + dx, pivot[1] + dy


def _at(old: Length, si_m: float) -> Length:
    return old if abs(si_m - old.si) < _SAME_M else Length.from_si(si_m, old.unit)


def group(build: Build, ids: Iterable[str]) -> tuple[Build, str]:
    """Let items move and turn as one from now on. Returns the build and the group's name.

    Raises:
        EditError: fewer than two, a group already, or things of the cart and of the venue.
    """
    chosen = with_groups(build, ids)
    items = [item for item in build.items if item.id in set(chosen)]
    if len(items) < 2:
        raise EditError("to make a group, select two or more")
    if len({item.level == VENUE for item in items}) > 1:
        raise EditError("what belongs to the venue cannot be grouped with what is on the cart")
    if items[0].group and len({item.group for item in items}) == 1:
        raise EditError("these are a group already")
    name = free_name("group", {item.group for item in build.items if item.group})
    for item in items:
        build = replace_item(build, replace(item, group=name))
    return build, name


def ungroup(build: Build, ids: Iterable[str]) -> Build:
    """Let the items of every group among the chosen go their own ways.

    Raises:
        EditError: none of them is in a group.
    """
    chosen = set(with_groups(build, ids))
    grouped = [item for item in build.items if item.id in chosen and item.group]
    if not grouped:
        raise EditError("none of these is in a group")
    for item in grouped:
        build = replace_item(build, replace(item, group=None))
    return build
