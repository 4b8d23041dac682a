"""How far in from the operator's edge hands have to go."""

from collections.abc import Iterable, Mapping

from ..build.geometry import turned
from .frame import Frame
from .results import XY, Reach
from .solids import Solid


def reaches(
    frame: Frame, bodies: Iterable[Solid], lent: Mapping[str, tuple[Solid, Reach]]
) -> dict[str, tuple[Solid, Reach]]:
    """One for each thing that is operated, with what it was worked out from.

    A reach lent by an earlier answer to the same frame is taken over where its
    body is the same.
    """
    found = {}
    for body in bodies:
        if body.item.specification.operated:
            old = lent.get(body.item.id)
            kept = old is not None and old[0] is body
            found[body.item.id] = old if old and kept else (body, _reach(frame, body))
    return found


def hand_place(body: Solid) -> XY:
    """Where hands go: into it from above where it asks for room to work there, else to its front.

    The front is that of the un-turned body, so a body turned its back to the
    operator is reached around.
    """
    item = body.item
    over = any(space.purpose == "work" and space.side == "top" for space in body.spaces)
    dx, dy = turned(item, 0.0, 0.0 if over else item.specification.size.depth.si / 2)
    return item.x.si + dx, item.y.si + dy


def _reach(frame: Frame, body: Solid) -> Reach:
    x, y = hand_place(body)
    edge = operator_edge(frame, x, y)
    depth_m = abs(edge[0] - x) + abs(edge[1] - y)
    beyond = {
        "front": y > edge[1],
        "rear": y < edge[1],
        "left": x < edge[0],
        "right": x > edge[0],
    }[frame.cart.operator_side]
    return Reach(body.item.id, 0.0 if beyond else depth_m, (x, y), edge)


def operator_edge(frame: Frame, x_m: float, y_m: float) -> XY:
    """Straight from a place to the edge that the operator stands at, raised leaves included."""
    side = frame.cart.operator_side
    level = side in ("front", "rear")
    across = x_m if level else y_m
    found = _farthest(frame.edges, level, across, side in ("front", "right"))
    if found is None:
        x1, y1, x2, y2 = frame.overall
        found = {"front": y2, "rear": y1, "left": x1, "right": x2}[side]
    return (x_m, found) if level else (found, y_m)


def _farthest(
    edges: tuple[tuple[XY, XY], ...], level: bool, across: float, greatest: bool
) -> float | None:
    """Where a line across the surface leaves it last; None where it misses it."""
    hits: list[float] = []
    for (ax, ay), (bx, by) in edges:
        a, b, c, d = (ax, bx, ay, by) if level else (ay, by, ax, bx)
        if min(a, b) <= across <= max(a, b):
            hits += [c, d] if a == b else [c + (d - c) * (across - a) / (b - a)]
    if not hits:
        return None
    return max(hits) if greatest else min(hits)
