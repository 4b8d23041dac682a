"""What hides what: of every thing and every run the lines in sight, and those that are not."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import networkx as nx
import shapely
from shapely.geometry import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from .things import Thing
from .view import UZ

Line = tuple[UZ, ...]
XYA = tuple[float, float, float]
"""Metres to the right, above the floor, and away."""
TOUCH_M = 0.0001
"""Edges that lie on one another by less are both in sight."""
LEAST_M = 0.001
"""Shorter pieces of line are left out."""
_SAME_AREA = 1e-8


@dataclass(frozen=True, slots=True)
class Sight:
    """What is seen of a thing."""

    thing: Thing
    area: BaseGeometry
    """In sight."""
    through: BaseGeometry
    """In sight if the upright panel were of glass."""
    seen: tuple[Line, ...]
    unseen: tuple[Line, ...]


class Scene:
    """Things in the order in which the eye meets them."""

    def __init__(self, things: Sequence[Thing]) -> None:
        self.things = _nearest_first(things)
        shapes = [one.shape for one in self.things]
        self._tree = shapely.STRtree(shapes)
        # Shrunk a little, so that what lies along an edge is not behind it.
        self._cores = shapely.buffer(shapes, -TOUCH_M, join_style="mitre") if shapes else []

    def sights(self) -> list[Sight]:
        """What is in sight of everything, nearest first."""
        return [self._sight(at, thing) for at, thing in enumerate(self.things)]

    def _sight(self, at: int, thing: Thing) -> Sight:
        before = [
            int(other)
            for other in sorted(self._tree.query(thing.shape))
            if other < at and self.things[other].hides
        ]
        cover = self._union(before)
        glass = [other for other in before if self.things[other].kind == "panel"]
        solid = self._union([one for one in before if one not in glass]) if glass else cover
        lines = shapely.union_all([thing.shape.boundary, *thing.inner_edges()])
        core = self._core(before)
        seen, unseen = _lines([lines.difference(core)]), _lines([lines.intersection(core)])
        return Sight(
            thing, thing.shape.difference(cover), thing.shape.difference(solid), seen, unseen
        )

    def run(self, points: Sequence[XYA]) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
        """Of a run through places: the parts in sight, and those behind something."""
        seen: list[BaseGeometry] = []
        unseen: list[BaseGeometry] = []
        for a, b in pairwise(points):
            if max(abs(a[0] - b[0]), abs(a[1] - b[1])) < TOUCH_M:
                continue
            piece = LineString([a[:2], b[:2]])
            core = self._core(self._before(piece, a, b))
            seen.append(piece.difference(core))
            unseen.append(piece.intersection(core))
        return _lines(seen), _lines(unseen)

    def _before(self, piece: LineString, a: XYA, b: XYA) -> list[int]:
        middle, away = (a[0] + b[0]) / 2, (a[2] + b[2]) / 2
        found = []
        for other in self._tree.query(piece):
            thing = self.things[other]
            inside = min(max(middle, thing.left_m), thing.right_m)
            if thing.hides and thing.near_at(inside) < away - TOUCH_M:
                found.append(int(other))
        return found

    def is_seen(self, at: XYA) -> bool:
        """Whether a place is in sight."""
        point = shapely.Point(at[:2])
        return not any(
            self.things[other].hides
            and self.things[other].near_at(at[0]) < at[2] - TOUCH_M
            and self._cores[other].contains(point)
            for other in self._tree.query(point)
        )

    def _core(self, places: Sequence[int]) -> BaseGeometry:
        """What is behind some things, without what lies along the edge of them all together."""
        if len(places) == 1:
            return self._cores[places[0]]
        return self._union(places).buffer(-TOUCH_M, join_style="mitre")

    def _union(self, places: Sequence[int]) -> BaseGeometry:
        return shapely.union_all([self.things[at].shape for at in places])


def _nearest_first(things: Sequence[Thing]) -> list[Thing]:
    """Ordered so that whatever is drawn later is behind what was drawn before it.

    Two bodies that are seen on one another are compared where both are, which is right for
    bodies that stand askew as well; where that ends in a circle, because bodies stand in one
    another, the nearest point decides.
    """
    ranked = sorted(things, key=lambda one: (one.near_m, one.key))
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(range(len(ranked)))
    shapes = [one.shape for one in ranked]
    tree = shapely.STRtree(shapes)
    for at, thing in enumerate(ranked):
        for other in tree.query(thing.shape):
            if other <= at or shapes[at].intersection(shapes[other]).area <= _SAME_AREA:
                continue
            if _is_before(ranked[int(other)], thing):
                graph.add_edge(int(other), at)
            else:
                graph.add_edge(at, int(other))
    try:
        order = list(nx.lexicographical_topological_sort(graph))
    except nx.NetworkXUnfeasible:
        order = list(range(len(ranked)))
    return [ranked[at] for at in order]


def _is_before(one: Thing, other: Thing) -> bool:
    middle = (max(one.left_m, other.left_m) + min(one.right_m, other.right_m)) / 2
    return one.near_at(middle) < other.near_at(middle) - TOUCH_M


def _lines(parts: Iterable[BaseGeometry]) -> tuple[Line, ...]:
    """Pieces of line, joined where they meet."""
    pieces = [
        piece
        for part in parts
        for piece in shapely.get_parts(part)
        if isinstance(piece, LineString) and piece.length > 0.0
    ]
    if not pieces:
        return ()
    joined = shapely.line_merge(MultiLineString(pieces))
    return tuple(
        tuple((float(u), float(z)) for u, z in piece.coords)
        for piece in shapely.get_parts(joined)
        if piece.length >= LEAST_M
    )
