"""Where a run begins and ends, and the height it keeps to there."""

from dataclasses import dataclass
from functools import lru_cache

from ...build import VENUE, Cart, Item, Port
from ...build.geometry import XY, XYZ, turned
from .ground import GAP_M, NEAR_M, SAME_HEIGHT_M, Ground

CLEAR_M = GAP_M
"""Distance that runs keep from bodies; a run leaves its port by so much before it turns."""
TUBE_M = 0.01
"""Height that a run itself takes."""
HANGS_M = 0.03
"""Height below a board that a run takes which hangs under it."""


@dataclass(frozen=True, slots=True)
class Plane:
    """A height that a run keeps to, and the band in which a body is in its way."""

    z_m: float
    low_m: float
    high_m: float
    level: str
    venue: bool = False


@dataclass(frozen=True, slots=True)
class Term:
    """One end of a run."""

    item: str
    at: XYZ
    out: XY
    """Direction straight out of the body; (0, 0) where it may leave any way."""
    plane: Plane

    @property
    def place(self) -> XY:
        """On the plan."""
        return self.at[:2]


def term(cart: Cart, item: Item, port: Port, at: XYZ) -> Term:
    """What a run meets at a port."""
    plane = _plane(cart, item, port, at[2])
    upright = _beneath(cart, item, port) or _on_top(item, port)
    return Term(item.id, at, (0.0, 0.0) if upright else outward(item, port), plane)


def _plane(cart: Cart, item: Item, port: Port, z_m: float) -> Plane:
    """A run lies on the board of its level, so whatever stands there is in its way.

    A port in the underside is reached from below the board, through a hole of its own, one
    on the top from above. Runs of hanging things hang as well, and what stands low is not in
    their way.
    """
    if _beneath(cart, item, port):
        return Plane(z_m, z_m - HANGS_M, z_m, item.level)
    if _on_top(item, port):
        return Plane(z_m, z_m, z_m + TUBE_M, item.level, venue=item.level == VENUE)
    level = cart.level(item.level)
    if level is None or item.level == VENUE:
        return Plane(z_m, z_m - TUBE_M, z_m + TUBE_M, item.level, venue=True)
    if item.mount != "standing" or item.raised.si > 0:
        return Plane(z_m, z_m - HANGS_M, z_m + TUBE_M, item.level)
    return Plane(z_m, min(level.height.si, z_m), z_m + TUBE_M, item.level)


def _beneath(cart: Cart, item: Item, port: Port) -> bool:
    """Whether a port looks down through the board of its level into the room below."""
    level = cart.level(item.level)
    if level is None or item.mount != "standing" or item.raised.si > 0:
        return False
    lowest = min(one.height.si for one in cart.levels)
    return port.medium != "power" and port.z.si < SAME_HEIGHT_M and level.height.si > lowest


def _on_top(item: Item, port: Port) -> bool:
    """Whether a port looks up: in the top of a body, such as a receptacle of a strip."""
    return port.z.si > item.specification.size.height.si - SAME_HEIGHT_M


@lru_cache(maxsize=8192)
def _side(x: float, y: float, width: float, depth: float) -> XY:
    sides = ((x, (-1.0, 0.0)), (width - x, (1.0, 0.0)), (y, (0.0, -1.0)), (depth - y, (0.0, 1.0)))
    distance, direction = min(sides, key=lambda one: one[0])
    return (0.0, 0.0) if distance > 0.3 * min(width, depth) else direction


def outward(item: Item, port: Port) -> XY:
    """Direction out of the side the port is nearest to; none for one well inside.

    Of a body that stands askew, the direction of the plan that is nearest.
    """
    size = item.specification.size
    dx, dy = turned(item, *_side(port.x.si, port.y.si, size.width.si, size.depth.si))
    if abs(dx) >= abs(dy):
        return (0.0, 0.0) if dx == 0 else (1.0 if dx > 0 else -1.0, 0.0)
    return 0.0, 1.0 if dy > 0 else -1.0


def stubs(a: Term, b: Term, ground: Ground) -> tuple[XY, XY]:
    """Where the two ends of a run may turn for the first time."""
    if a.out == (-b.out[0], -b.out[1]) and a.out != (0.0, 0.0):
        axis = 0 if a.out[0] else 1
        gap = (b.at[axis] - a.at[axis]) * a.out[axis]
        if 0 < gap < 2 * CLEAR_M:  # they face each other: each goes half the way
            return _ahead(a.place, a.out, gap / 2), _ahead(b.place, b.out, gap / 2)
    return _stub(a, ground), _stub(b, ground)


def _stub(end: Term, ground: Ground) -> XY:
    x, y = _ahead(end.place, end.out, CLEAR_M)
    across = 1 - ground.trunk_axis  # the coordinate that stays the same along the trunk
    here = (x, y)[across]
    if end.out[across] and abs(here - ground.trunk_m) < NEAR_M:
        return (x, ground.trunk_m) if across == 1 else (ground.trunk_m, y)
    return x, y


def _ahead(at: XY, out: XY, by: float) -> XY:
    return at[0] + out[0] * by, at[1] + out[1] * by
