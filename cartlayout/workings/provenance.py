"""Where the numbers of a piece of equipment come from, in a word, and whether anybody checked."""

from typing import NamedTuple

from ..build import Item
from ..build.specification import Origin


class Provenance(NamedTuple):
    """What stands beside a number that was put in."""

    source: str
    is_typical: bool


_WORDS = {
    "typical": "typical figure",
    "handbook": "handbook figure",
    "standard": "standard figure",
}


def provenance(item: Item | None, *of: str) -> Provenance:
    """Where some numbers of an item come from.

    Args:
        item: as it stands in the build.
        of: words for the numbers, the closest first, as `Origin.of` has them: "start",
            "electrical".

    Returns:
        "as entered" where the item does not say.
    """
    origin = origin_of(item, *of)
    if origin is None:
        return Provenance("as entered", False)
    return Provenance(_WORDS.get(origin.basis, origin.basis), origin.basis == "typical")


def origin_of(item: Item | None, *of: str) -> Origin | None:
    """The origin that speaks of some numbers, or None."""
    if item is None:
        return None
    for word in of:
        for origin in item.specification.origins:
            if word in (part.strip() for part in origin.of.split(",")):
                return origin
    return None
