"""What something weighs in the hands of whoever carries it."""

from ..build import Item, Tank
from ..limits import body_practice
from .weights import Load


def carried(item: Item, load: Load) -> tuple[float, bool]:
    """What an item weighs when it is carried, and whether it is a vessel that is carried full."""
    spec = item.specification
    water = spec.water
    if water is None and spec.electrical is None:  # a crate, a box of tools
        return load.full_kg, False
    if isinstance(water, Tank) and water.volume.si <= body_practice().carried_full_up_to_m3.value:
        return load.full_kg, True
    return load.empty_kg, False
