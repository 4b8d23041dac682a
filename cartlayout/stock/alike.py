"""What could stand in for something: stock in the order in which a person would try it."""

from ..build import VENUE, Item, Region
from .catalogue import stock
from .entries import StockEntry

_SAME_KIND, _SAME_CATEGORY, _OTHER = range(3)


def alternatives(item: Item, region: Region) -> tuple[StockEntry, ...]:
    """Single entries that could take an item's place, the likeliest first.

    The same kind comes before the same category and that before the rest; what
    fits the region's supply before what does not; then what has the same
    ports; then what is nearest in size. Things of the venue are exchanged for
    things of the venue only. The entry it was placed from is left out.
    """
    own = item.specification
    category = _category(item)
    ranked = []
    for at, one in enumerate(stock()):
        other = one.specification
        if other is None or one.key == own.stock or (one.stands == "venue") != _venue(item):
            continue
        if other.kind == own.kind:
            nearness = _SAME_KIND
        else:
            nearness = _SAME_CATEGORY if one.category == category else _OTHER
        foreign = bool(one.regions) and region not in one.regions
        ranked.append(((nearness, foreign, _unlike(item, one), at), one))
    return tuple(one for _, one in sorted(ranked, key=lambda each: each[0]))


def is_near(item: Item, one: StockEntry) -> bool:
    """Tell whether an entry is of the item's own kind."""
    return one.specification is not None and one.specification.kind == item.specification.kind


def _venue(item: Item) -> bool:
    return item.level == VENUE


def _category(item: Item) -> str:
    """Of the entry it was placed from; of the first entry of its kind where it was not."""
    own = item.specification
    for one in stock():
        if one.key == own.stock:
            return one.category
    for one in stock():
        if is_near(item, one):
            return one.category
    return ""


def _unlike(item: Item, one: StockEntry) -> float:
    """Ports that one has and the other has not, and by how much the footprints differ."""
    own, other = item.specification, one.specification
    if other is None:
        return 0.0
    mine = sorted((port.medium, port.direction) for port in own.ports)
    theirs = sorted((port.medium, port.direction) for port in other.ports)
    odd = sum(abs(mine.count(port) - theirs.count(port)) for port in {*mine, *theirs})
    ours, its = (size.width.si * size.depth.si * size.height.si for size in (own.size, other.size))
    larger = max(ours, its)
    return odd + (abs(ours - its) / larger if larger > 0 else 0.0)
