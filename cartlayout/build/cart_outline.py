"""Outlines as rings of points: what they are called, and whether they enclose anything."""

import math
from typing import Literal

from .cart_geometry import SAME_M, Ring, area_m2, extent_of
from .edits import EditError
from .geometry import XY

Corner = Literal["rear left", "rear right", "front right", "front left"]
CORNERS: tuple[Corner, ...] = ("rear left", "rear right", "front right", "front left")
"""In the order in which an outline goes round, clockwise on the plan from the origin."""
LEAST_M = 0.1
GREATEST_M = 20.0
LEAST_NOTCH_M = 0.01


def is_square_cornered(points: Ring) -> bool:
    """Whether every edge runs along the plan's directions, and the directions alternate."""
    ways = []
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        level, upright = abs(y1 - y2) < 1e-5, abs(x1 - x2) < 1e-5
        if level == upright:
            return False
        ways.append(level)
    return all(way != ways[at - 1] for at, way in enumerate(ways))


def notch_in(points: Ring) -> tuple[Corner, float, float] | None:
    """Of an L: the corner that is cut out, and the width and depth of what is missing, metres."""
    if len(points) != 6 or not is_square_cornered(points):
        return None
    whole = extent_of(points)
    inner = [one for one in points if _strictly_inside(one, whole)]
    if len(inner) != 1:
        return None
    x, y = inner[0]
    for corner, place in zip(CORNERS, corners_of(whole), strict=True):
        if not any(math.dist(place, one) < 1e-5 for one in points):
            return corner, abs(place[0] - x), abs(place[1] - y)
    return None


def _strictly_inside(at: XY, whole: tuple[float, float, float, float]) -> bool:
    left, rear, right, front = whole
    return left + SAME_M < at[0] < right - SAME_M and rear + SAME_M < at[1] < front - SAME_M


def corners_of(whole: tuple[float, float, float, float]) -> tuple[XY, XY, XY, XY]:
    """The corners of an upright rectangle, in the order of CORNERS."""
    left, rear, right, front = whole
    return (left, rear), (right, rear), (right, front), (left, front)


def l_outline(width_m: float, depth_m: float, corner: Corner, notch: tuple[float, float]) -> Ring:
    """An L from the origin: a rectangle without one corner.

    Raises:
        EditError: the notch leaves nothing of a side.
    """
    wide, deep = notch
    if not (LEAST_NOTCH_M <= wide < width_m and LEAST_NOTCH_M <= deep < depth_m):
        raise EditError(
            "the corner that is cut out has to be smaller than the cart in both directions"
        )
    at = CORNERS.index(corner)
    points = corners_of((0.0, 0.0, width_m, depth_m))
    x, y = points[at]
    into_x = x + wide if x == 0.0 else x - wide
    into_y = y + deep if y == 0.0 else y - deep
    # Round the corner in the order of the outline: at even corners it comes in along x = const.
    steps = (
        ((x, into_y), (into_x, into_y), (into_x, y))
        if at % 2 == 0
        else ((into_x, y), (into_x, into_y), (x, into_y))
    )
    return (*points[:at], *steps, *points[at + 1 :])


def check_outline(points: Ring) -> None:
    """Say what is wrong with an outline.

    Raises:
        EditError: it encloses no proper area.
    """
    if len(points) < 3:
        raise EditError("an outline needs at least three corners")
    whole = extent_of(points)
    if not all(map(math.isfinite, whole)):
        raise EditError("a corner of the outline is nowhere")
    if min(whole.width, whole.depth) < LEAST_M:
        raise EditError("the cart would be narrower than 4 in (100 mm)")
    if max(whole.width, whole.depth) > GREATEST_M:
        raise EditError("the cart would be longer than 65 ft (20 m)")
    edges = tuple(zip(points, (*points[1:], points[0]), strict=True))
    if any(math.dist(a, b) < 1e-3 for a, b in edges):
        raise EditError("two corners of the outline would lie on each other")
    count = len(edges)
    for at in range(count):
        for other in range(at + 2, count):
            if (other + 1) % count != at and _cross(*edges[at], *edges[other]):
                raise EditError("the outline would cross itself")
    if area_m2(points) < LEAST_M * LEAST_M / 2:
        raise EditError("the outline would enclose next to nothing")


def _cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    """Whether two edges meet, touching included."""

    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    one, two, three, four = side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
    if one * two < 0 and three * four < 0:
        return True
    return any(
        abs(value) < 1e-12 and _within(p, q, r)
        for value, p, q, r in ((one, a, b, c), (two, a, b, d), (three, c, d, a), (four, c, d, b))
    )


def _within(p: XY, q: XY, r: XY) -> bool:
    return (
        min(p[0], q[0]) - 1e-9 <= r[0] <= max(p[0], q[0]) + 1e-9
        and min(p[1], q[1]) - 1e-9 <= r[1] <= max(p[1], q[1]) + 1e-9
    )


def side_of_edge(points: Ring, index: int) -> str:
    """Which outermost side of the cart an edge is: "rear", "right", ...; empty for inner ones."""
    whole = extent_of(points)
    a, b = points[index], points[(index + 1) % len(points)]
    for side, across, at in (
        ("left", 0, whole.left),
        ("right", 0, whole.right),
        ("rear", 1, whole.rear),
        ("front", 1, whole.front),
    ):
        if abs(a[across] - at) < SAME_M and abs(b[across] - at) < SAME_M:
            return side
    return ""
