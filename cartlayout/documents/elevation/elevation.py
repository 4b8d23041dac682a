"""An elevation as plain values in metres: what is seen of a cart from one of its sides."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from ...analysis import Analysis
from ...build import VENUE, Build, End, Tank
from ...build.geometry import end_position
from ...network import Route
from ..plan.picture import Medium
from ..plan.runs import run_medium
from .hiding import XYA, Line, Scene, Sight
from .things import Kind, Thing, things
from .view import UZ, Facing, View, elevation_title

Ring = tuple[UZ, ...]
Area = tuple[Ring, ...]
"""Its outline, then its holes: what stands before it and within its outline."""
MM = 1000.0
SEEN_SHARE = 0.06
"""A body of which less is in sight has no name on the elevation."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the cart or a body."""

    key: str
    name: str
    kind: Kind
    level: str
    outline: Ring
    """Closed: the last corner joins the first."""
    areas: tuple[Area, ...]
    """What is in sight of it; behind the upright panel, what would be without that."""
    seen: tuple[Line, ...]
    unseen: tuple[Line, ...]
    bottom_m: float
    top_m: float
    seen_share: float
    """Of its area, in sight."""
    is_behind_panel: bool = False
    """Only the upright panel hides it."""

    @property
    def left_m(self) -> float:
        """Of its leftmost point."""
        return min(u for u, _ in self.outline)

    @property
    def right_m(self) -> float:
        """Of its rightmost point."""
        return max(u for u, _ in self.outline)


@dataclass(frozen=True, slots=True)
class RunPiece:
    """A wire or tube."""

    key: str
    medium: Medium
    letter: str
    points: Line
    """Of its whole way, as seen."""
    seen: tuple[Line, ...]
    unseen: tuple[Line, ...]
    ends: tuple[tuple[UZ, bool], ...]
    """Where its ports are, and whether they are in sight."""


@dataclass(frozen=True, slots=True)
class Height:
    """A height that is worth measuring."""

    name: str
    height_m: float
    at_m: float
    """Where it is, to the right."""
    side: Literal["left", "right"]
    """On which side of the drawing it is written."""
    kind: Literal["level", "venue", "tank", "top", "handle"]


@dataclass(frozen=True)
class Elevation:
    """What is seen from one side.

    In metres: to the right from the cart's left edge, up from the floor.
    """

    view: View
    title: str
    width_m: float
    """Of the cart, without what stands out from it."""
    counter_m: float
    pieces: tuple[Piece, ...]
    """Nearest first."""
    runs: tuple[RunPiece, ...]
    heights: tuple[Height, ...]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest to the right, least and greatest height."""
        places = [place for piece in self.pieces for place in piece.outline]
        places += [place for run in self.runs for place in run.points]
        places += [(0.0, 0.0), (self.width_m, self.counter_m)]
        us, zs = zip(*places, strict=True)
        return min(us), max(us), min(*zs, 0.0), max(zs)


def elevation(build: Build, analysis: Analysis, view: View) -> Elevation:
    """Look at a build from one side.

    Args:
        build: any build that loads.
        analysis: of that build: its routes are drawn.
        view: the side the eye is on.
    """
    facing = Facing.of(build.cart, view)
    present = things(build, facing)
    scene = Scene(present)
    there = {one.key for one in present}
    return Elevation(
        view=view,
        title=elevation_title(view, build.cart.operator_side),
        width_m=facing.width_m(build.cart),
        counter_m=max((level.height.si for level in build.cart.levels), default=0.0),
        pieces=tuple(_piece(sight) for sight in scene.sights()),
        runs=_runs(build, analysis, facing, scene, there),
        heights=_heights(build, present),
    )


def _piece(sight: Sight) -> Piece:
    thing = sight.thing
    whole = max(thing.shape.area, 1e-12)
    share, through = sight.area.area / whole, sight.through.area / whole
    behind = share < SEEN_SHARE <= through
    return Piece(
        key=thing.key,
        name=thing.name,
        kind=thing.kind,
        level=thing.level,
        outline=_ring(thing.shape),
        areas=tuple(
            _area(part)
            for part in shapely.get_parts(sight.through if behind else sight.area)
            if part.area > 0.0
        ),
        seen=sight.seen,
        unseen=sight.unseen,
        bottom_m=thing.bottom_m,
        top_m=thing.top_m,
        seen_share=share,
        is_behind_panel=behind,
    )


def _area(shape: BaseGeometry) -> Area:
    holes = (tuple((float(u), float(z)) for u, z in hole.coords[:-1]) for hole in shape.interiors)
    return (_ring(shape), *holes)


def _ring(shape: BaseGeometry) -> Ring:
    return tuple((float(u), float(z)) for u, z in shape.exterior.coords[:-1])


def _runs(
    build: Build, analysis: Analysis, facing: Facing, scene: Scene, there: set[str]
) -> tuple[RunPiece, ...]:
    """Every run with a way; what goes to a thing that is not drawn is not drawn either."""
    letters = {circuit.key: circuit.letter for circuit in analysis.power.circuits}
    found = []
    for run in build.runs:
        route = analysis.network.routes.get(run.id)
        if route is None or not all(end is None or end.item in there for end in (run.a, run.b)):
            continue
        points = _as_seen(route, facing)
        seen, unseen = scene.run(points)
        state = analysis.power.wires.get(run.id)
        letter = letters.get(state.circuit, "") if state is not None and state.circuit else ""
        ends = [
            place for place in (_end(build, run.a, facing), _end(build, run.b, facing)) if place
        ]
        found.append(
            RunPiece(
                key=run.id,
                medium=run_medium(build, run),
                letter=letter,
                points=tuple(place[:2] for place in points),
                seen=seen,
                unseen=unseen,
                ends=tuple((place[:2], scene.is_seen(place)) for place in ends),
            )
        )
    return tuple(found)


def _as_seen(route: Route, facing: Facing) -> list[XYA]:
    found = []
    for x, y, z in route.points:
        u, away = facing.seen(x, y)
        found.append((u, z, away))
    return found


def _end(build: Build, end: End | None, facing: Facing) -> XYA | None:
    at = end_position(build, end) if end is not None else None
    if at is None:
        return None
    u, away = facing.seen(at[0], at[1])
    return u, at[2], away


def _heights(build: Build, present: list[Thing]) -> tuple[Height, ...]:
    """Levels at the left; what the venue has, tanks and the highest point at the right."""
    by_key = {one.key: one for one in present}
    counter = max((level.height.si for level in build.cart.levels), default=0.0)
    found = []
    for level in build.cart.levels:
        what = "working height" if level.height.si == counter else level.name
        at = by_key[f"level:{level.name}"].left_m
        name = level.name if what == level.name else f"{level.name}, {what}"
        found.append(Height(name, level.height.si, at, "left", "level"))
    for item in build.items:
        thing = by_key.get(item.id)
        if thing is None:
            continue
        if item.level == VENUE:
            # A tap of the wall beside the cart is measured where it is seen.
            side: Literal["left", "right"] = "left" if thing.right_m <= 0.0 else "right"
            at = thing.left_m if side == "left" else thing.right_m
            middle = (thing.bottom_m + thing.top_m) / 2
            found.append(Height(item.name, middle, at, side, "venue"))
        elif isinstance(item.specification.water, Tank):
            found.append(Height(item.name, thing.top_m, thing.right_m, "right", "tank"))
    if (handle := build.cart.handle) is not None:
        thing = by_key["handle"]
        side = "left" if thing.right_m <= 0.0 else "right"
        at = thing.left_m if side == "left" else thing.right_m
        found.append(Height("handle", handle.height.si, at, side, "handle"))
    highest = max(present, key=lambda one: one.top_m, default=None)
    if highest is not None:
        found.append(Height(highest.name, highest.top_m, highest.right_m, "right", "top"))
    return tuple(_together(found))


_WORDS = {
    "venue": "middle of {}",
    "tank": "top of {}",
    "top": "top of {}",
    "level": "{}",
    "handle": "{}",
}
"""What a height is the height of. Receptacles are commonly measured to their middle."""


def _together(heights: list[Height]) -> Iterator[Height]:
    """One for things of a kind that are equally high, the name of each in it."""
    groups: dict[tuple[str, str, int], list[Height]] = {}
    for one in heights:
        groups.setdefault((one.side, one.kind, round(one.height_m * MM)), []).append(one)
    tops = {round(one.height_m * MM): one.name for one in heights if one.kind == "tank"}
    for group in groups.values():
        first = group[0]
        if first.kind == "top" and tops.get(round(first.height_m * MM)) == first.name:
            continue
        names = ", ".join(one.name for one in group)
        at = max if first.side == "right" else min
        yield replace(
            first,
            name=_WORDS[first.kind].format(names),
            at_m=at(one.at_m for one in group),
        )
