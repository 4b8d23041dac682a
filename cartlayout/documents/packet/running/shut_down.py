"""Steps of shutting down, in order: heat off, pressure off, power out, water out.

Plugs come out before anything that holds water is opened over or beside them.
"""

from collections.abc import Iterator

from ....build import (
    Accumulator,
    Appliance,
    Box,
    DrainPump,
    Generator,
    Heater,
    Item,
    Load,
    Mains,
    Pump,
    Strip,
    Tank,
)
from ..content import Job
from .set_up import Line, joined


def _names(items: list[Item]) -> str:
    return joined([item.name for item in items])


def _of(job: Job, kind: type) -> list[Item]:
    return [item for item in job.build.items if isinstance(item.specification.water, kind)]


def shut_down(job: Job) -> Iterator[Line]:
    """From service to a cart that can stand or travel."""
    hot = [
        item
        for item in job.build.items
        if isinstance(item.specification.electrical, Load)
        and (
            isinstance(item.specification.water, Appliance | Heater)
            or item.specification.kind in ("kettle", "coffee urn", "warmer")
        )
    ]
    if hot:
        yield f"Switch off and let cool down, cleaned as their makers say: {_names(hot)}."
    mains = _of(job, Mains)
    if mains:
        yield f"Shut {_names(mains)} and the valve behind it."
    pumps = _of(job, Pump)
    if pumps:
        yield f"Switch off {_names(pumps)}."
    if job.build.tubes:
        yield "Open every tap until nothing comes: the pressure is off. Leave the taps open."
    if _of(job, Accumulator):
        yield "The accumulator has pushed its water out; its own gauge shows its pre-charge."
    sumps = _of(job, DrainPump)
    if sumps:
        yield f"Let {_names(sumps)} run until nothing comes any more; after that it has no power."
    yield from _power(job)
    if mains:
        yield "Take the hose off the venue's tap, empty it, and cap both of its ends."
    fresh = [item for item in _of(job, Tank) if _contents(item) == "fresh"]
    waste = [item for item in _of(job, Tank) if _contents(item) == "waste"]
    if fresh:
        yield f"Empty and rinse {_names(fresh)}; leave the cover open to dry."
    if job.build.tubes:
        yield "Drain down by the lists below, the lowest place first; tick each."
    if waste:
        yield (
            f"Empty {_names(waste)} where waste water may go, never into a street drain; rinse, "
            "and wash hands."
        )
    if job.build.cart.casters:
        yield "Nothing loose on the cart, leaves down, cords and hoses coiled; unblock the wheels."


def _contents(item: Item) -> str:
    role = item.specification.water
    return role.contents if isinstance(role, Tank) else ""


def _power(job: Job) -> Iterator[Line]:
    staying = [
        item
        for item in job.build.items
        if isinstance(role := item.specification.electrical, Load) and role.overnight
    ]
    if staying:
        yield (
            f"Stays on if the cart stays here over night: {_names(staying)}. Is its outlet still "
            "live when the venue closes? If the cart leaves, empty it first."
        )
    boxes = [
        item for item in job.build.items if isinstance(item.specification.electrical, Box | Strip)
    ]
    if boxes:
        yield f"Everything is switched off at itself first, then {_names(boxes)}."
    yield "Pull the plugs by their bodies, those in the venue's outlets last."
    for item in job.build.items:
        if isinstance(item.specification.electrical, Generator):
            yield f"{item.name}: let it run without load for a minute, stop it, fuel valve shut."
