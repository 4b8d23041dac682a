"""What goes along in a move, and the rectangle it takes up."""

from collections.abc import Collection, Iterable

from ...build import Build, Item
from ...build.edits import with_groups
from ...build.geometry import bounds
from .snapping import Box


def movable(build: Build, ids: Iterable[str], *, alone: bool = False) -> frozenset[str]:
    """The items, and everything grouped with one of them, without the locked ones.

    Alone: the items were picked out of their group and leave the rest behind.
    """
    wanted = set(ids) if alone else set(with_groups(build, ids))
    return frozenset(item.id for item in build.items if item.id in wanted and not item.locked)


def box_of(item: Item) -> Box:
    """The upright rectangle of a body as it stands turned."""
    return Box(*bounds(item))


def boxes_of(build: Build, ids: Iterable[str]) -> Box | None:
    """The upright rectangle of several bodies; None for none."""
    wanted = set(ids)
    boxes = [box_of(item) for item in build.items if item.id in wanted]
    if not boxes:
        return None
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return whole


def zone_boxes(build: Build, levels: Collection[str]) -> list[Box]:
    """Holes and places kept free on some levels: drags line up with them too."""
    return [
        Box(zone.x.si, zone.y.si, zone.x.si + zone.width.si, zone.y.si + zone.depth.si)
        for zone in build.cart.zones
        if zone.level in levels
    ]
