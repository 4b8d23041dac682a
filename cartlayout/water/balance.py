"""Waste against fresh: what the rule asks, and what the day will bring."""

from typing import Any

from ..build import Appliance, Basin, Build, Drain, Tank
from ..limits import profile
from ..network.results import Network
from .day import day_of, ends_of
from .results import WaterBalance


def water_balance(
    build: Build, network: Network, previous: WaterBalance | None = None
) -> WaterBalance | None:
    """Vessels of a build against each other; None where there is no water in it at all.

    Args:
        build: any build.
        network: made from it.
        previous: an earlier balance, handed back where nothing it read has changed.
    """
    if not any(item.specification.water is not None for item in build.items):
        return None
    reads = (
        network.drain,
        network.supply,
        build.service,
        build.region,
        tuple(item.name for item in build.items if item.specification.water is not None),
    )
    if previous is not None and _same(previous.reads, reads):
        return previous
    fresh = _volume(build, "fresh")
    waste = _volume(build, "waste")
    ratio = profile(build.region).waste_ratio
    day = day_of(build, network)
    made = WaterBalance(
        fresh=fresh,
        waste=waste,
        waste_needed=fresh * ratio.value,
        ratio=ratio.value,
        source=ratio.citation,
        fresh_per_day=day.fresh_per_day,
        to_drain=_leaves(build, network),
        waste_per_day=day.waste_per_day,
        shares=day.shares,
        vessels=day.vessels,
        reads=reads,
    )
    if made != previous:
        return made
    object.__setattr__(previous, "reads", reads)  # what it follows from now, not part of its value
    return previous


def _same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    """Graphs are the same objects while no item, run or height changes."""
    return len(old) == len(new) and old[0] is new[0] and old[1] is new[1] and old[2:] == new[2:]


def _volume(build: Build, contents: str) -> float:
    return sum(
        item.specification.water.volume.si
        for item in build.items
        if isinstance(item.specification.water, Tank)
        and item.specification.water.contents == contents
    )


def _leaves(build: Build, network: Network) -> bool:
    """Whether everything that is let down a drain tube ends in the venue's drain."""
    items = {item.id: item for item in build.items}
    ends = {
        end
        for item in build.items
        if isinstance(item.specification.water, (Appliance, Basin))
        for end in ends_of(network, items, item)
    }
    return bool(ends) and all(isinstance(items[end].specification.water, Drain) for end in ends)
