"""How an appliance is fed: from its own reservoir, by its own pump, or by the line's pressure."""

from msgspec.structs import replace

from .document import Build
from .edits import EditError, replace_item
from .item import Item
from .runs import Run, TubeRun
from .water import Appliance, Feed, FeedMode

FEED_WORDS: dict[FeedMode, str] = {
    "own reservoir": "from its own reservoir, filled by hand",
    "internal pump": "plumbed, its own pump draws",
    "line pressure": "plumbed, the line's pressure does the work",
}
"""What to call each way."""


def feed_modes(item: Item) -> tuple[FeedMode, ...]:
    """The ways an item can be fed, that of now first; none where it takes no water."""
    role = item.specification.water
    if not isinstance(role, Appliance):
        return ()
    return (role.feed, *(one.mode for one in role.other_feeds if one.mode != role.feed))


def feed_by(build: Build, item_id: str, mode: FeedMode) -> Build:
    """Feed an appliance another way.

    The item keeps its place, its plug and its tubes: a tube to an inlet that is not used this
    way stays where it is, and a finding says so.

    Raises:
        EditError: there is no such item, it takes no water, or it cannot be fed that way.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return replace_item(build, fed_by(item, mode))


def fed_by(item: Item, mode: FeedMode) -> Item:
    """The same for an item by itself.

    Raises:
        EditError: it takes no water, or it cannot be fed that way.
    """
    role = item.specification.water
    if not isinstance(role, Appliance):
        raise EditError(f"{item.name} takes no water.")
    if mode == role.feed:
        return item
    wanted = next((one for one in role.other_feeds if one.mode == mode), None)
    if wanted is None:
        raise EditError(f"{item.name} cannot be fed {FEED_WORDS[mode]}.")
    now = Feed(mode=role.feed, inlets=role.inlets, reservoir=role.reservoir)
    changed = replace(
        role,
        feed=wanted.mode,
        inlets=wanted.inlets,
        reservoir=wanted.reservoir,
        # What is left stands where the new way stood, so that going there and back changes
        # nothing.
        other_feeds=tuple(now if one is wanted else one for one in role.other_feeds),
    )
    return replace(item, specification=replace(item.specification, water=changed))


def unused_tubes(build: Build, item: Item) -> tuple[TubeRun, ...]:
    """Tubes to water ports of an appliance that take nothing the way it is fed now."""
    role = item.specification.water
    if not isinstance(role, Appliance):
        return ()
    used = {inlet.port for inlet in role.inlets}
    idle = {
        port.id
        for port in item.specification.ports
        if port.medium == "water" and port.direction == "in" and port.id not in used
    }
    return tuple(
        run for run in build.runs if isinstance(run, TubeRun) and _ends_at(run, item, idle)
    )


def _ends_at(run: Run, item: Item, ports: set[str]) -> bool:
    return any(
        end is not None and end.item == item.id and end.port in ports for end in (run.a, run.b)
    )
