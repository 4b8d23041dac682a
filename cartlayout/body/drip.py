"""Water over what others plug into: the way a drip would take."""

from collections.abc import Iterable, Iterator

import shapely
from shapely import STRtree
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from ..limits import body_practice
from .frame import TOLERANCE_M, Frame
from .results import Drip
from .solids import Bounds, Solid

FEW_PAIRS = 400
"""Up to so many it is quicker to look at each pair than to grow a tree of them."""


def drips(frame: Frame, bodies: Iterable[Solid]) -> tuple[Drip, ...]:
    """Every pair of a wet body and one with receptacles that it would drip on."""
    bodies = list(bodies)
    live = [body for body in bodies if body.live]
    if not live:
        return ()
    wet = [body for body in bodies if body.wet_m is not None]
    margin_m = body_practice().drip_margin_m.value
    found = []
    for below, above in _near(live, wet, margin_m):
        wet_m = above.wet_m
        if above is below or wet_m is None or wet_m <= below.bottom_m + TOLERANCE_M:
            continue
        one = _drip(frame, above, below, margin_m)
        if one is not None:
            found.append(one)
    return tuple(found)


def _near(live: list[Solid], wet: list[Solid], margin_m: float) -> Iterator[tuple[Solid, Solid]]:
    """Pairs whose bounds come within the margin, in order."""
    nears = [_grown(body.bounds, margin_m) for body in live]
    if len(live) * len(wet) <= FEW_PAIRS:
        for below, near in zip(live, nears, strict=True):
            for above in wet:
                if _meet(above.bounds, near):
                    yield below, above
        return
    first, second = STRtree([body.shape for body in wet]).query(
        shapely.box(*zip(*nears, strict=True))
    )
    for at, other_at in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        yield live[at], wet[other_at]


def _drip(frame: Frame, above: Solid, below: Solid, margin_m: float) -> Drip | None:
    falls = _on(above, below, margin_m)
    if falls is None:
        return None
    return Drip(
        wet=above.item.id,
        live=below.item.id,
        drop_m=max(0.0, above.bottom_m - below.top_m),
        shield=_shield(frame, above, below, falls, margin_m),
        places=tuple((x, y) for x, y in falls.exterior.coords[:-1])
        if isinstance(falls, Polygon)
        else (),
    )


def _on(above: Solid, below: Solid, margin_m: float) -> BaseGeometry | None:
    """Where on the lower body it may fall."""
    if above.upright and below.upright:
        x1, y1, x2, y2 = _grown(above.bounds, margin_m)
        a1, b1, a2, b2 = below.bounds
        left, rear, right, front = max(x1, a1), max(y1, b1), min(x2, a2), min(y2, b2)
        return box(left, rear, right, front) if left < right and rear < front else None
    falls = above.shape.buffer(margin_m, join_style="mitre").intersection(below.shape)
    return None if falls.is_empty or falls.area <= 0 else falls


def _shield(frame: Frame, above: Solid, below: Solid, falls: BaseGeometry, margin_m: float) -> str:
    """The level whose board lies between and has no hole where water would find it."""
    near = falls.buffer(margin_m, join_style="mitre")
    for level in frame.cart.levels:
        height_m = level.height.si
        if not (below.top_m <= height_m + TOLERANCE_M and above.bottom_m >= height_m - TOLERANCE_M):
            continue
        board = frame.reached.get(level.name)
        if board is None or not board.covers(falls):
            continue
        if not any(hole.intersects(near) for hole in frame.openings(level.name)):
            return level.name
    return ""


def _grown(bounds: Bounds, by_m: float) -> Bounds:
    x1, y1, x2, y2 = bounds
    return x1 - by_m, y1 - by_m, x2 + by_m, y2 + by_m


def _meet(a: Bounds, b: Bounds) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
