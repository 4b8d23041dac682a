"""What has to be lifted in one piece, and how heavy it is."""

from collections.abc import Iterable

from ..limits import body_practice
from .results import Lift
from .solids import Solid


def lifts(bodies: Iterable[Solid]) -> tuple[Lift, ...]:
    """Every lift over the limit, and the heaviest below it; the heaviest first.

    A module, a group that does not travel on the cart, is lifted whole; other
    groups only stand in order on the plan. A jug is lifted full; a tank too large to be
    carried is filled and emptied where it stands, and weighs what it does empty.
    """
    groups: dict[str, list[Solid]] = {}
    singles = []
    for body in bodies:
        if body.item.group is not None and not body.item.travels:
            groups.setdefault(body.item.group, []).append(body)
        else:
            singles.append(body)
    limit_kg = body_practice().lift_kg.value
    heavy = [body for body in singles if body.carried_kg > limit_kg]
    light = [body for body in singles if body.carried_kg <= limit_kg]
    heaviest = max(light, key=lambda body: body.carried_kg, default=None)
    found = [_single(body) for body in (*heavy, *((heaviest,) if heaviest is not None else ()))]
    found += [_group(name, members) for name, members in groups.items()]
    found.sort(key=lambda one: -one.mass_kg)
    over = sum(one.mass_kg > limit_kg for one in found)
    return tuple(found[: over + 1])


def _single(body: Solid) -> Lift:
    item, full = body.item, body.carried_full
    return Lift(item.name, (item.id,), body.carried_kg, full or not item.travels, full)


def _group(name: str, members: list[Solid]) -> Lift:
    return Lift(
        name=name,
        items=tuple(body.item.id for body in members),
        mass_kg=sum(body.carried_kg for body in members),
        often=True,
        full=any(body.carried_full for body in members),
    )
