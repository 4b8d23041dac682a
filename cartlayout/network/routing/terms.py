"""Where a run begins and ends, and the height it keeps to there."""

from dataclasses import dataclass
from functools import lru_cache

from ...build import VENUE, Cart, Item, Port
from ...build.geometry import XY, XYZ, turned
from .bodies import SHRUNK_M, Floats
from .ground import GAP_M, NEAR_M, SAME_HEIGHT_M, Ground

CLEAR_M = GAP_M
"""Distance that runs keep from bodies; a run leaves its port by so much before it turns."""
TUBE_M = 0.01
"""Height that a run itself takes."""
WELL_INSIDE = 0.3
"""A port so far in, as a share of the narrower side, looks out of no side."""
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
    inset_m: float
    """How far the port is in from the side it looks out of."""
    plane: Plane

    @property
    def place(self) -> XY:
        """On the plan."""
        return self.at[:2]


def term(cart: Cart, item: Item, port: Port, at: XYZ) -> Term:
    """What a run meets at a port."""
    plane = _plane(cart, item, port, at[2])
    if beneath(cart, item, port) or _on_top(item, port):
        return Term(item.id, at, (0.0, 0.0), 0.0, plane)
    out, inset_m = outward(item, port)
    return Term(item.id, at, out, inset_m, plane)


def _plane(cart: Cart, item: Item, port: Port, z_m: float) -> Plane:
    """A run lies on the board of its level, so whatever stands there is in its way.

    A port in the underside is reached from below the board, through a hole of its own, one
    on the top from above. Runs of hanging things hang as well, and what stands low is not in
    their way.
    """
    if beneath(cart, item, port):
        return Plane(z_m, z_m - HANGS_M, z_m, _level_below(cart, z_m))
    if _on_top(item, port):
        return Plane(z_m, z_m, z_m + TUBE_M, item.level, venue=item.level == VENUE)
    level = cart.level(item.level)
    if level is None or item.level == VENUE:
        return Plane(z_m, z_m - TUBE_M, z_m + TUBE_M, item.level, venue=True)
    if item.mount != "standing" or item.raised.si > 0:
        return Plane(z_m, z_m - HANGS_M, z_m + TUBE_M, item.level)
    return Plane(z_m, min(level.height.si, z_m), z_m + TUBE_M, item.level)


def beneath(cart: Cart, item: Item, port: Port) -> bool:
    """Whether a port looks down through the board of its level into the room below.

    A hole of its own is there for its tube.
    """
    level = cart.level(item.level)
    if level is None or item.mount != "standing" or item.raised.si > 0:
        return False
    lowest = min(one.height.si for one in cart.levels)
    return port.medium != "power" and port.z.si < SAME_HEIGHT_M and level.height.si > lowest


def _level_below(cart: Cart, z_m: float) -> str:
    """The level whose room lies under a board at some height."""
    lower = [one for one in cart.levels if one.height.si < z_m - SAME_HEIGHT_M]
    return max(lower, key=lambda one: one.height.si).name if lower else ""


def _on_top(item: Item, port: Port) -> bool:
    """Whether a port looks up: in the top of a body, such as a receptacle of a strip."""
    return port.z.si > item.specification.size.height.si - SAME_HEIGHT_M


@lru_cache(maxsize=8192)
def _side(x: float, y: float, width: float, depth: float) -> tuple[XY, float]:
    """Direction to the side that a place in a rectangle is nearest to, and how far that is."""
    sides = ((x, (-1.0, 0.0)), (width - x, (1.0, 0.0)), (y, (0.0, -1.0)), (depth - y, (0.0, 1.0)))
    distance, direction = min(sides, key=lambda one: one[0])
    if distance > WELL_INSIDE * min(width, depth):
        return (0.0, 0.0), 0.0
    return direction, max(distance, 0.0)


def outward(item: Item, port: Port) -> tuple[XY, float]:
    """Direction out of the side the port is nearest to, and how far in it is.

    No direction for a port well inside. Of a body that stands askew, the direction of
    the plan that is nearest.
    """
    size = item.specification.size
    side, inset_m = _side(port.x.si, port.y.si, size.width.si, size.depth.si)
    dx, dy = turned(item, *side)
    if abs(dx) >= abs(dy):
        return (0.0, 0.0) if dx == 0 else (1.0 if dx > 0 else -1.0, 0.0), inset_m
    return (0.0, 1.0 if dy > 0 else -1.0), inset_m


Piece = tuple[float, float, float, float, float, float]
"""A piece of a way as a box on the plan with its height band: a row like those of bodies."""


def probe(end: Term, plane: Plane) -> Piece | None:
    """The ground straight before a port on which a run wants to turn."""
    if end.out == (0.0, 0.0):
        return None
    (x, y), (u, v) = (_ahead(end.place, end.out, end.inset_m + by) for by in (0.0, 2 * CLEAR_M))
    return min(x, u), min(y, v), max(x, u), max(y, v), plane.low_m, plane.high_m


def stub(end: Term, ground: Ground, ahead: Floats) -> XY:
    """Where a run may turn for the first time: clear of its body, or half way to the next.

    Args:
        end: where it starts.
        ground: the cart; what is as good as on the trunk is put on it.
        ahead: boxes of the bodies that stand in the probe.
    """
    if end.out == (0.0, 0.0):
        return end.place
    axis = 0 if end.out[0] else 1
    side = end.at[axis] + end.out[axis] * end.inset_m
    near = ahead[:, axis] if end.out[axis] > 0 else ahead[:, axis + 2]
    gaps = (near - side) * end.out[axis]
    gaps = gaps[gaps > SHRUNK_M]
    if len(gaps):
        return _ahead(end.place, end.out, end.inset_m + min(CLEAR_M, float(gaps.min()) / 2))
    x, y = _ahead(end.place, end.out, end.inset_m + CLEAR_M)
    across = 1 - ground.trunk_axis  # the coordinate that stays the same along the trunk
    if axis == across and abs((x, y)[across] - ground.trunk_m) < NEAR_M:
        return (x, ground.trunk_m) if across == 1 else (ground.trunk_m, y)
    return x, y


def _ahead(at: XY, out: XY, by: float) -> XY:
    return at[0] + out[0] * by, at[1] + out[1] * by
