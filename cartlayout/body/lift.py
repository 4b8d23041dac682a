"""What has to be lifted in one piece, and how heavy it is."""

from collections.abc import Iterable

from ..build import Tank
from ..limits import body_practice
from .results import Lift
from .solids import Solid


def lifts(bodies: Iterable[Solid]) -> tuple[Lift, ...]:
    """Every lift over the limit, and the heaviest below it; the heaviest first.

    A group is lifted whole. A jug is lifted full; a tank too large to be
    carried is filled and emptied where it stands, and weighs what it does empty.
    """
    groups: dict[str, list[Solid]] = {}
    found = []
    for body in bodies:
        if body.item.group is not None:
            groups.setdefault(body.item.group, []).append(body)
        else:
            found.append(_single(body))
    for name, members in groups.items():
        found.append(
            Lift(
                name=name,
                items=tuple(body.item.id for body in members),
                mass_kg=sum(_carried_kg(body)[0] for body in members),
                often=True,
                full=any(_carried_kg(body)[1] for body in members),
            )
        )
    found.sort(key=lambda one: -one.mass_kg)
    limit_kg = body_practice().lift_kg.value
    heavy = [one for one in found if one.mass_kg > limit_kg]
    return (*heavy, *found[len(heavy) : len(heavy) + 1])


def _single(body: Solid) -> Lift:
    mass_kg, full = _carried_kg(body)
    item = body.item
    return Lift(item.name, (item.id,), mass_kg, full or not item.travels, full)


def _carried_kg(body: Solid) -> tuple[float, bool]:
    """What a body weighs when it is carried, and whether it is carried full."""
    spec = body.item.specification
    water = spec.water
    if water is None and spec.electrical is None:  # a crate, a box of tools
        return body.load.full_kg, False
    if isinstance(water, Tank) and water.volume.si <= body_practice().carried_full_up_to_m3.value:
        return body.load.full_kg, True
    return body.load.empty_kg, False
