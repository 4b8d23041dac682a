"""Where a larger or smaller body goes when it takes another's place."""

from msgspec.structs import replace
from shapely import Polygon

from ..build import VENUE, Build, Item
from ..build.geometry import bounds, corners, outline, underside_m
from ..units import Length

_SLACK_M2 = 1e-6
"""Less area than this is rounding."""
_STEP_M = 0.02
_RINGS = 12
"""Free spots are looked for in so many steps to every side."""

# Which edges of the old body the new one keeps: across, then front to rear; 0 is the middle.
_ANCHORS: tuple[tuple[int, int, str], ...] = (
    (0, 0, ""),
    (0, -1, "rear"),
    (0, 1, "front"),
    (-1, 0, "left"),
    (1, 0, "right"),
    (-1, -1, "rear and left"),
    (1, -1, "rear and right"),
    (-1, 1, "front and left"),
    (1, 1, "front and right"),
)


def find_room(others: Build, old: Item, new: Item) -> tuple[Item, tuple[str, ...]]:
    """Put the new body where the old one stood: by its middle, or by an edge if that is better.

    Better is first what does not hang over the cart's edge, then what does not stand in
    another body of the level. Where nothing helps the middle is kept.

    Args:
        others: the build without the item.
        old: the item as it was.
        new: the same with the other specification, its middle where the old one's was.

    Returns:
        The item in its place, and what to say about it.
    """
    ground = Polygon(outline(others.cart))
    neighbours = _neighbours(others, new)
    tried = []
    for at, (across, along, edges) in enumerate(_ANCHORS):
        placed = _anchored(old, new, across, along)
        body = Polygon(corners(placed))
        over = body.difference(ground).area
        within = sum(body.intersection(one).area for one in neighbours)
        tried.append((over > _SLACK_M2, within > _SLACK_M2, at, placed, edges))
    best = min(tried, key=lambda one: one[:3])
    hung, met = tried[0][:2]
    if best[2] == 0 or (best[0], best[1]) == (hung, met):
        return new, ()
    why = "hang over the edge of the cart" if hung else "stand in what is beside it"
    remark = f"Its {best[4]} edge is kept: about the same middle it would {why}."
    return best[3], (remark,)


def _anchored(old: Item, new: Item, across: int, along: int) -> Item:
    left, rear, right, front = bounds(old)
    new_left, new_rear, new_right, new_front = bounds(new)
    dx_m = (left - new_left, 0.0, right - new_right)[across + 1]
    dy_m = (rear - new_rear, 0.0, front - new_front)[along + 1]
    if not dx_m and not dy_m:
        return new
    return replace(new, x=_shifted(new.x, dx_m), y=_shifted(new.y, dy_m))


def _shifted(length: Length, by_m: float) -> Length:
    return Length.from_si(length.si + by_m, length.unit) if by_m else length


def _neighbours(others: Build, new: Item) -> list[Polygon]:
    """Outlines of the bodies of the same level whose heights overlap with the new one's."""
    low = underside_m(others.cart, new)
    high = low + new.specification.size.height.si
    found = []
    for one in others.items:
        if one.level != new.level:
            continue
        bottom = underside_m(others.cart, one)
        if bottom < high and bottom + one.specification.size.height.si > low:
            found.append(Polygon(corners(one)))
    return found


def nearest_free(others: Build, item: Item) -> Item:
    """The item at the nearest spot where it stands in nothing and on the cart; else as it is.

    Args:
        others: the build without it.
        item: where it would best stand.
    """
    if item.level == VENUE:
        return item
    ground = Polygon(outline(others.cart))
    neighbours = _neighbours(others, item)
    reach = range(-_RINGS, _RINGS + 1)
    spots = sorted(
        ((dx * _STEP_M, dy * _STEP_M) for dx in reach for dy in reach),
        key=lambda spot: (spot[0] ** 2 + spot[1] ** 2, spot),
    )
    for dx_m, dy_m in spots:
        moved = replace(item, x=_shifted(item.x, dx_m), y=_shifted(item.y, dy_m))
        body = Polygon(corners(moved))
        if body.difference(ground).area <= _SLACK_M2 and all(
            body.intersection(one).area <= _SLACK_M2 for one in neighbours
        ):
            return moved
    return item
