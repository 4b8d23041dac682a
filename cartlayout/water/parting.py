"""How the supply side falls into parts that no tube joins, and what each of them depends on."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..build import Build, Heater, Item, TubeRun
from ..network.results import Network
from . import parts


@dataclass(frozen=True, slots=True)
class Part:
    """Items joined by supply tubes, and these tubes, in the order of the build."""

    items: tuple[Item, ...]
    tubes: tuple[TubeRun, ...]


def split(build: Build, network: Network) -> Iterator[Part]:
    """The islands of a build, in the order of their first items."""
    supply = network.supply
    watery = {
        item.id: item
        for item in build.items
        if item.specification.water is not None
        or any(port.medium == "water" for port in item.specification.ports)
    }
    group = {item_id: item_id for item_id in watery}

    def root(item_id: str) -> str:
        while group[item_id] != item_id:
            group[item_id] = group[group[item_id]]
            item_id = group[item_id]
        return item_id

    tubes = [
        run
        for run in build.tubes
        if run.b is not None
        and supply.has_edge((run.a.item, run.a.port), (run.b.item, run.b.port), run.id)
    ]
    for run in tubes:
        if run.b is not None:
            group[root(run.b.item)] = root(run.a.item)
    items: dict[str, list[Item]] = {}
    for item_id, item in watery.items():
        items.setdefault(root(item_id), []).append(item)
    runs: dict[str, list[TubeRun]] = {}
    for run in tubes:
        runs.setdefault(root(run.a.item), []).append(run)
    for key, members in items.items():
        yield Part(tuple(members), tuple(runs.get(key, ())))


def reads(build: Build, network: Network, part: Part) -> tuple[Any, ...]:
    """Everything that an island depends on, in an order that can be compared.

    An appliance that no tube touches can be dragged about without changing any of it.
    """
    supply, heights, routes = network.supply, network.heights_m, network.routes
    read: list[Any] = [build.venue]
    for item in part.items:
        read += (item.id, _of_water(item), item.fill, item.name)
        for port in item.specification.ports:
            if port.medium == "water":
                node = (item.id, port.id)
                read.append(heights.get(node) if supply.degree(node) else None)
    for run in part.tubes:
        read += (run, parts.length_m(run, routes.get(run.id)))
    return tuple(read)


def _of_water(item: Item) -> tuple[Any, ...]:
    """What the water side reads of a specification; watts only where they warm the water.

    So another mass, or other watts, leave the line solved as it is.
    """
    spec = item.specification
    watts = spec.electrical if isinstance(spec.water, Heater) else None
    return spec.name, spec.size, spec.ports, spec.water, watts


def at_a_glance(build: Build, network: Network, part: Part) -> tuple[object, ...]:
    """Enough to know that an island is as it was; mostly these are the same objects."""
    routes = network.routes
    lengths = tuple(
        route.length_m for run in part.tubes if (route := routes.get(run.id)) is not None
    )
    return build.venue, build.cart, part.items, part.tubes, lengths


def same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    """Whether two lists of what was read are alike."""
    return len(old) == len(new) and all(a is b or a == b for a, b in zip(old, new, strict=True))
