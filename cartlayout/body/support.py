"""What the cart stands on: feet, the edges it would go over, and how they share a load."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..build import Cart
from .results import XY


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of the support, with the direction inwards."""

    name: str
    a: XY
    b: XY
    inwards: XY

    def distance_m(self, x_m: float, y_m: float) -> float:
        """Of a place from the edge; negative outside of it."""
        return (x_m - self.a[0]) * self.inwards[0] + (y_m - self.a[1]) * self.inwards[1]


@dataclass(frozen=True, slots=True)
class Support:
    """Feet of a cart. Fewer than three, or all in one line, carry nothing that stands."""

    feet: tuple[XY, ...]
    ratings_kg: tuple[float | None, ...]
    casters: bool
    edges: tuple[Edge, ...]
    planes: tuple[tuple[float, float, float], ...]
    """For each foot a, b, c: of a mass at x, y it bears the share a + b x + c y."""


def make_support(cart: Cart) -> Support:
    """Feet of a cart: its casters, and where it has fewer than three the legs that carry too."""
    feet = [(one.x.si, one.y.si) for one in cart.casters]
    ratings: list[float | None] = [one.rating.si for one in cart.casters]
    if len(feet) < 3:
        legs = [(leg.x.si, leg.y.si) for leg in cart.legs if leg.carries]
        feet += legs
        ratings += [None] * len(legs)
    edges = _edges(_hull(feet))
    return Support(
        feet=tuple(feet),
        ratings_kg=tuple(ratings),
        casters=bool(cart.casters),
        edges=edges,
        planes=_planes(feet) if edges else (),
    )


def _hull(points: list[XY]) -> list[XY]:
    """Corners of the convex hull, monotone chain; points on a straight edge are left out."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return []
    halves = []
    for way in (ordered, ordered[::-1]):
        half: list[XY] = []
        for point in way:
            while len(half) >= 2 and _turn(half[-2], half[-1], point) <= 1e-12:
                half.pop()
            half.append(point)
        halves.append(half[:-1])
    hull = halves[0] + halves[1]
    return hull if len(hull) >= 3 else []


def _turn(a: XY, b: XY, c: XY) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _edges(hull: list[XY]) -> tuple[Edge, ...]:
    found = []
    for a, b in zip(hull, [*hull[1:], *hull[:1]], strict=True):
        dx, dy = b[0] - a[0], b[1] - a[1]
        length = math.hypot(dx, dy)
        inwards = (-dy / length, dx / length)  # the chain leaves the inside on its left
        found.append(Edge(_named(-inwards[0], -inwards[1]), a, b, inwards))
    return tuple(found)


def _named(dx: float, dy: float) -> str:
    if abs(dx) >= abs(dy):
        return "right" if dx > 0 else "left"
    return "front" if dy > 0 else "rear"


def _planes(feet: list[XY]) -> tuple[tuple[float, float, float], ...]:
    """Three feet have one answer; more give alike, so the pressure lies on a plane."""
    apart = spread(feet)
    mean_x, mean_y, sxx, syy, sxy = apart.x_m, apart.y_m, apart.xx_m2, apart.yy_m2, apart.xy_m2
    det = sxx * syy - sxy * sxy
    if det <= 1e-9:
        return ()
    found = []
    for x, y in feet:
        along_x = (syy * (x - mean_x) - sxy * (y - mean_y)) / det
        along_y = (sxx * (y - mean_y) - sxy * (x - mean_x)) / det
        found.append((1 / len(feet) - along_x * mean_x - along_y * mean_y, along_x, along_y))
    return tuple(found)


class Spread(NamedTuple):
    """The middle of some feet [m], and how far they stand apart [m2]."""

    x_m: float
    y_m: float
    xx_m2: float
    yy_m2: float
    xy_m2: float


def spread(feet: Sequence[XY]) -> Spread:
    """How some feet stand apart: squares and products of their distances from their middle."""
    mean_x = sum(x for x, _ in feet) / len(feet)
    mean_y = sum(y for _, y in feet) / len(feet)
    return Spread(
        mean_x,
        mean_y,
        sum((x - mean_x) ** 2 for x, _ in feet),
        sum((y - mean_y) ** 2 for _, y in feet),
        sum((x - mean_x) * (y - mean_y) for x, y in feet),
    )


def shrunk(edges: tuple[Edge, ...], by_m: float) -> tuple[XY, ...]:
    """Corners of what is farther than so much inside every edge; none where nothing is."""
    corners = [edge.a for edge in edges]
    for edge in edges:
        kept: list[XY] = []
        for before, here in zip([*corners[-1:], *corners[:-1]], corners, strict=True):
            was, now = edge.distance_m(*before) - by_m, edge.distance_m(*here) - by_m
            if (was < 0) != (now < 0):
                share = was / (was - now)
                kept.append(
                    (
                        before[0] + share * (here[0] - before[0]),
                        before[1] + share * (here[1] - before[1]),
                    )
                )
            if now >= 0:
                kept.append(here)
        corners = kept
    return tuple(corners) if len(corners) >= 3 else ()
