"""What each appliance takes for a drink of the service plan.

One that states what it takes for a drink takes that; what those for drinks state together is
never more than the plan's water for a drink, and what those that rinse state never more than its
water for rinsing. What is left over is shared by those that state nothing.
"""

from collections.abc import Sequence

from ..build import Appliance, Build, Item

Taking = list[tuple[Item, Appliance]]


def appliances(build: Build) -> tuple[Taking, Taking]:
    """Those that take water for drinks, and those that rinse: all of it goes down their drain."""
    taking = [
        (item, item.specification.water)
        for item in build.items
        if isinstance(item.specification.water, Appliance)
    ]
    makers = [one for one in taking if one[1].drained_share < 1.0]
    rinsers = [one for one in taking if one[1].drained_share >= 1.0]
    return makers, rinsers


def per_drink(build: Build) -> dict[str, float]:
    """Item id to the water [m^3] that it takes for a drink."""
    plan = build.service
    makers, rinsers = appliances(build)
    return _shared(makers, max(plan.water_per_drink.si, 0.0)) | _shared(
        rinsers, max(plan.rinse_per_drink.si, 0.0)
    )


def _shared(taking: Sequence[tuple[Item, Appliance]], available: float) -> dict[str, float]:
    """What each takes of so much water, and no more than there is."""
    stated = {
        item.id: max(role.per_drink.si, 0.0) for item, role in taking if role.per_drink is not None
    }
    total = sum(stated.values())
    if total > available:
        stated = {item_id: use * available / total for item_id, use in stated.items()}
    others = [item.id for item, role in taking if role.per_drink is None]
    rest = max(available - total, 0.0)
    return stated | {item_id: rest / len(others) for item_id in others}
